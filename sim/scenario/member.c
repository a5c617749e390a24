/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading one value by its row of the table. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/block.h"
#include "sim/scenario/whole.h"

/* Complains that a value is not what the row allows. `found` says what it is; NULL: as it is written. */
static void complain_of_value(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value,
                              const char *found)
{
    struct wr_text allowed_text = {0};
    struct wr_text found_text = {0};

    if (wr_has_enough(reader))
        return;
    wr_parameter_allowed(row, &reader->units, &allowed_text);
    if (found == NULL)
        wr_tree_describe(value, &found_text);
    else
        wr_text_add(&found_text, "%s", found);
    char *allowed = wr_text_take(&allowed_text);
    char *words = wr_text_take(&found_text);
    wr_complain(reader, NULL, WR_AT_VALUE, "found %s; allowed: %s", words, allowed);
    free(allowed);
    free(words);
}

/* The quantity, or the limit that it misses by the rounding of its unit alone: 104 degF is 40 degC and a last bit. */
static double settled(const struct wr_parameter *row, double quantity)
{
    const char *const limits[] = {row->least, row->most};

    for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++) {
        const double limit = limits[i] == NULL ? WR_ABSENT : wr_parameter_limit(row, limits[i]);
        if (fabs(quantity - limit) <= 1e-14 * fabs(limit))
            return limit;
    }
    return quantity;
}

/* The value as a quantity; NaN after a complaint. */
static double read_quantity(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value)
{
    char found[256] = "";
    double quantity = 0.0;

    if (cJSON_IsNumber(value)) {
        struct wr_text text = {0};
        wr_text_add(&text, "the bare number ");
        wr_tree_describe(value, &text);
        wr_text_add(&text, " where a unit is needed");
        char *words = wr_text_take(&text);
        complain_of_value(reader, row, value, words);
        free(words);
    } else if (!cJSON_IsString(value)) {
        complain_of_value(reader, row, value, NULL);
    } else if (!wr_quantity_read(row->quantity, value->valuestring, &quantity, found, sizeof found)) {
        complain_of_value(reader, row, value, found);
    } else {
        quantity = settled(row, quantity);
        if (wr_parameter_allows(row, quantity))
            return quantity;
        complain_of_value(reader, row, value, NULL);
    }
    return WR_ABSENT;
}

/* The value as a bare number; NaN after a complaint. */
static double read_number(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value)
{
    bool must_be_whole = row->kind == WR_IS_WHOLE || row->kind == WR_IS_COUNT;

    if (cJSON_IsNumber(value) && wr_parameter_allows(row, value->valuedouble) &&
        !(must_be_whole && floor(value->valuedouble) < value->valuedouble))
        return value->valuedouble;
    complain_of_value(reader, row, value, NULL);
    return WR_ABSENT;
}

static void read_count(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value, size_t *member)
{
    double number = read_number(reader, row, value);

    *member = isnan(number) ? 0 : (size_t)number;
}

/* A choice that could not be read is -1, which no rule knows; a text NULL. */
static void read_choice(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value, int *member)
{
    for (int i = 0; cJSON_IsString(value) && row->choices[i] != NULL; i++) {
        if (strcmp(row->choices[i], value->valuestring) == 0) {
            *member = i;
            return;
        }
    }
    *member = -1;
    complain_of_value(reader, row, value, NULL);
}

static void read_text(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value, char **member)
{
    bool fits = cJSON_IsString(value) && wr_parameter_allows(row, (double)strlen(value->valuestring));

    free(*member);
    *member = fits ? wr_text_copy(value->valuestring) : NULL;
    if (!fits)
        complain_of_value(reader, row, value, NULL);
}

static void read_flag(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value, bool *member)
{
    if (cJSON_IsBool(value))
        *member = cJSON_IsTrue(value);
    else
        complain_of_value(reader, row, value, NULL);
}

static void read_date(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value, double *member)
{
    double origin = row->kind == WR_IS_DATE_IN_RUN ? reader->start : 0.0;

    if (cJSON_IsString(value) && wr_date_read(value->valuestring, member)) {
        *member -= origin;
    } else {
        *member = WR_ABSENT;
        complain_of_value(reader, row, value, NULL);
    }
}

/* The value as seconds of the day; NaN after a complaint. */
static double read_clock(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value)
{
    double seconds = 0.0;

    if (cJSON_IsString(value) && wr_clock_read(value->valuestring, &seconds) && wr_parameter_allows(row, seconds))
        return seconds;
    complain_of_value(reader, row, value, NULL);
    return WR_ABSENT;
}

static void read_format(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value)
{
    if (!cJSON_IsNumber(value) || value->valuedouble < 1.0 || value->valuedouble > 1.0)
        complain_of_value(reader, row, value, NULL);
}

/* The items of a list of numbers, each as a row of its own kind would be read. */
static void read_items(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *list, double *items)
{
    struct wr_parameter item_row = *row;
    const cJSON *item;
    size_t i = 0;

    item_row.kind = row->quantity == WR_QUANTITY_NONE ? WR_IS_NUMBER : WR_IS_QUANTITY;
    cJSON_ArrayForEach(item, list)
    {
        items[i] = WR_ABSENT;
        if (wr_reader_enter(reader, item, i, NULL)) {
            wr_member_read(reader, &item_row, item, &items[i]);
            wr_reader_leave(reader);
        }
        i++;
    }
}

static void read_numbers(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value, double *member)
{
    if (cJSON_IsArray(value) && (size_t)cJSON_GetArraySize(value) == row->length)
        read_items(reader, row, value, member);
    else
        complain_of_value(reader, row, value, NULL);
}

static void read_number_list(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value,
                             struct wr_numbers *member)
{
    if (!cJSON_IsArray(value)) {
        complain_of_value(reader, row, value, NULL);
        return;
    }
    member->count = (size_t)cJSON_GetArraySize(value);
    member->items = wr_items_new(member->count, sizeof *member->items);
    read_items(reader, row, value, member->items);
}

static void complain_unless_block(struct wr_reader *reader, const cJSON *value)
{
    struct wr_text text = {0};

    wr_tree_describe(value, &text);
    char *found = wr_text_take(&text);
    wr_complain(reader, NULL, WR_AT_VALUE, "found %s; allowed: a block { ... }", found);
    free(found);
}

static void read_block(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value, void *member)
{
    if (cJSON_IsObject(value))
        wr_block_read(reader, row->block, value, member);
    else
        complain_unless_block(reader, value);
}

/* An item that is no block holds defaults, so that items and their numbers in the file agree. */
static void read_block_list(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value, void *member)
{
    const cJSON *item;
    size_t i = 0;
    size_t count = cJSON_IsArray(value) ? (size_t)cJSON_GetArraySize(value) : 0;

    if (!cJSON_IsArray(value) || !wr_parameter_allows(row, (double)count)) {
        complain_of_value(reader, row, value, NULL);
        return;
    }
    char *items = wr_items_new(count, row->block->size);
    wr_list_set(member, items, count);
    cJSON_ArrayForEach(item, value)
    {
        if (wr_reader_enter(reader, item, i, row->block)) {
            wr_block_default(row->block, items + i * row->block->size);
            read_block(reader, row, item, items + i * row->block->size);
            wr_reader_leave(reader);
        }
        i++;
    }
}

void wr_member_read(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value, void *member)
{
    switch (row->kind) {
    case WR_IS_FORMAT:
        read_format(reader, row, value);
        break;
    case WR_IS_QUANTITY:
        *(double *)member = read_quantity(reader, row, value);
        break;
    case WR_IS_NUMBER:
    case WR_IS_WHOLE:
        *(double *)member = read_number(reader, row, value);
        break;
    case WR_IS_COUNT:
        read_count(reader, row, value, member);
        break;
    case WR_IS_CHOICE:
        read_choice(reader, row, value, member);
        break;
    case WR_IS_TEXT:
        read_text(reader, row, value, member);
        break;
    case WR_IS_FLAG:
        read_flag(reader, row, value, member);
        break;
    case WR_IS_DATE:
    case WR_IS_DATE_IN_RUN:
        read_date(reader, row, value, member);
        break;
    case WR_IS_CLOCK:
        *(double *)member = read_clock(reader, row, value);
        break;
    case WR_IS_NUMBERS:
        read_numbers(reader, row, value, member);
        break;
    case WR_IS_NUMBER_LIST:
        read_number_list(reader, row, value, member);
        break;
    case WR_IS_BLOCK:
        read_block(reader, row, value, member);
        break;
    case WR_IS_BLOCK_LIST:
        read_block_list(reader, row, value, member);
        break;
    }
}
