/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/plant/draw.h"

#include "sim/scenario/quantity_kind.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

double draw_between(struct draft *draft, double least, double most)
{
    return least + (most - least) * gsl_rng_uniform(&draft->rng);
}

bool draw_one_in(struct draft *draft, unsigned long n)
{
    return gsl_rng_uniform_int(&draft->rng, n) == 0;
}

size_t draw_pick(struct draft *draft, size_t least, size_t most)
{
    return least + gsl_rng_uniform_int(&draft->rng, (unsigned long)(most - least + 1));
}

double draw_round(struct draft *draft, double least, double most, double step)
{
    return step * floor(draw_between(draft, least, most) / step + 0.5);
}

static const struct wr_parameter *row_of(struct at at, const char *key)
{
    const struct wr_parameter *row = wr_block_find(at.block, key);
    assert(row != NULL);
    return row;
}

/* Quantities ------------------------------------------------------------------------------------------------------ */

/* Twelve digits are nearer than any rule's slack, and leave round figures round. */
static cJSON *quantity_json(const struct draft *draft, const struct wr_parameter *row, double value)
{
    char text[64];
    const bool inside = draft->writing == DRAFT_INSIDE && row->quantity != WR_QUANTITY_SHARE;
    const enum wr_units units = draft->writing == DRAFT_US ? WR_UNITS_US : WR_UNITS_SI;
    const char *unit = wr_quantity_kinds[row->quantity].shown[units];
    if (inside)
        unit = wr_quantity_kinds[row->quantity].si;
    else
        wr_quantity_from_si(row->quantity, unit, &value);
    snprintf(text, sizeof text, "%.12g %s", value, unit);
    return cJSON_CreateString(text);
}

static cJSON *clock_json(double seconds)
{
    char text[32];
    const int minutes = (int)(seconds / minute + 0.5);
    snprintf(text, sizeof text, "%02d:%02d", minutes / 60, minutes % 60);
    return cJSON_CreateString(text);
}

static cJSON *value_json(const struct draft *draft, const struct wr_parameter *row, double value)
{
    char date[32];
    switch (row->kind) {
    case WR_IS_DATE:
        return cJSON_CreateString(wr_date_text(value, date, sizeof date));
    case WR_IS_DATE_IN_RUN:
        return cJSON_CreateString(wr_date_text(draft->start + value, date, sizeof date));
    case WR_IS_CLOCK:
        return clock_json(value);
    default:
        return row->quantity == WR_QUANTITY_NONE ? cJSON_CreateNumber(value) : quantity_json(draft, row, value);
    }
}

double at_put(struct at at, const char *key, double value)
{
    cJSON_AddItemToObject(at.json, key, value_json(at.draft, row_of(at, key), value));
    return value;
}

double at_left_out(struct at at, const char *key)
{
    const struct wr_parameter *row = row_of(at, key);
    double date;
    if (row->default_text == NULL)
        return WR_ABSENT;
    return wr_date_read(row->default_text, &date) ? date : wr_parameter_limit(row, row->default_text);
}

double at_may_put(struct at at, const char *key, double value)
{
    return draw_one_in(at.draft, 3) ? at_left_out(at, key) : at_put(at, key, value);
}

void at_put_numbers(struct at at, const char *key, const double *values, size_t count)
{
    cJSON *list = cJSON_AddArrayToObject(at.json, key);
    for (size_t i = 0; i < count; i++)
        cJSON_AddItemToArray(list, value_json(at.draft, row_of(at, key), values[i]));
}

void at_put_text(struct at at, const char *key, const char *text)
{
    cJSON_AddStringToObject(at.json, key, text);
}

void at_put_flag(struct at at, const char *key, bool flag)
{
    cJSON_AddBoolToObject(at.json, key, flag);
}

/* Choices --------------------------------------------------------------------------------------------------------- */

void at_put_choice(struct at at, const char *key, int choice)
{
    const struct wr_parameter *row = row_of(at, key);
    const char *word = row->choices[choice];
    const bool is_default = row->default_text != NULL && strcmp(word, row->default_text) == 0;
    if (!is_default || draw_one_in(at.draft, 2))
        at_put_text(at, key, word);
}

int at_choose(struct at at, const char *key)
{
    const struct wr_parameter *row = row_of(at, key);
    size_t words = 0;
    while (row->choices[words] != NULL)
        words++;
    const int choice = (int)draw_pick(at.draft, 0, words - 1);
    at_put_choice(at, key, choice);
    return choice;
}

/* Blocks ---------------------------------------------------------------------------------------------------------- */

struct at at_block(struct at at, const char *key)
{
    cJSON *json = cJSON_AddObjectToObject(at.json, key);
    return (struct at){at.draft, json, row_of(at, key)->block};
}

struct at at_item(struct at at, const char *key)
{
    cJSON *list = cJSON_GetObjectItemCaseSensitive(at.json, key);
    if (list == NULL)
        list = cJSON_AddArrayToObject(at.json, key);
    cJSON *json = cJSON_CreateObject();
    cJSON_AddItemToArray(list, json);
    return (struct at){at.draft, json, row_of(at, key)->block};
}

void at_may_put_hours(struct at at, const char *key, unsigned long one_in)
{
    const size_t count = draw_one_in(at.draft, one_in) ? draw_pick(at.draft, 1, 2) : 0;
    for (size_t i = 0; i < count; i++) {
        const struct at hours = at_item(at, key);
        at_choose(hours, "days");
        const double from = at_put(hours, "from", draw_round(at.draft, 0.0, 23.0 * hour, 0.5 * hour));
        const double lasts = draw_round(at.draft, hour, 20.0 * hour, 0.5 * hour), until = from + lasts;
        at_put(hours, "until", until > day ? until - day : until);
    }
}
