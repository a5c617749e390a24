/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/rules.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Areas of round filters. */
static const double pi = 3.14159265358979323846;

const char *wr_rule_pointer(char buffer[WR_RULE_POINTER], const char *list, size_t item, const char *rest)
{
    snprintf(buffer, WR_RULE_POINTER, "/%s/%zu%s", list, item, rest);
    return buffer;
}

bool wr_rule_is_written(const struct wr_reader *reader, const char *pointer)
{
    return wr_tree_find(reader->reading->tree, pointer) != NULL;
}

bool wr_rule_is_read(const struct wr_reader *reader, const char *pointer, size_t count)
{
    const cJSON *list = wr_tree_find(reader->reading->tree, pointer);
    const cJSON *item;
    size_t blocks = 0;

    if (list == NULL)
        return true;
    cJSON_ArrayForEach(item, list)
    {
        blocks += cJSON_IsObject(item) ? 1 : 0;
    }
    return cJSON_IsArray(list) && (size_t)cJSON_GetArraySize(list) == count && blocks == count;
}

void wr_rule_exactly_one(struct wr_reader *reader, const char *pointer, const char *first, const char *second)
{
    char one[WR_RULE_POINTER];
    char other[WR_RULE_POINTER];

    snprintf(one, sizeof one, "%s/%s", pointer, first);
    snprintf(other, sizeof other, "%s/%s", pointer, second);
    bool has_one = wr_rule_is_written(reader, one);
    bool has_other = wr_rule_is_written(reader, other);
    if (has_one && has_other)
        wr_complain_at(reader, other, "found both %s and %s; allowed: one of them", first, second);
    if (!has_one && !has_other)
        wr_complain_at(reader, pointer, "found neither %s nor %s; allowed: one of them", first, second);
}

double wr_rule_area(const struct wr_filter_group *group)
{
    return wr_is_given(group->area) ? group->area : pi / 4.0 * group->diameter * group->diameter;
}

const char *wr_rule_show(const struct wr_reader *reader, enum wr_quantity quantity, double value,
                         char buffer[WR_RULE_TEXT])
{
    return wr_quantity_text(quantity, value, reader->units, buffer, WR_RULE_TEXT);
}

const char *wr_rule_choice(const char *pointer, int choice)
{
    return choice < 0 ? NULL : wr_table_find(pointer)->choices[choice];
}

bool wr_rule_drains(const struct wr_wash *wash)
{
    return wash->sequence == WR_TEMPLATE_PRESSURE_AIR || wash->sequence == WR_TEMPLATE_GRAVITY;
}

void wr_rule_check_hours(struct wr_reader *reader, const char *pointer, const struct wr_hours_list *hours)
{
    char until[WR_RULE_POINTER];

    for (size_t i = 0; i < hours->count; i++) {
        const struct wr_hours *item = &hours->items[i];
        snprintf(until, sizeof until, "%s/%zu/until", pointer, i);
        if (item->from <= item->until && item->from >= item->until)
            wr_complain_at(reader, until,
                           "found the same time as from; allowed: another; a whole day is \"00:00\" to \"24:00\"");
    }
}

static void fill_in_name(char **name, const char *letter, size_t number)
{
    struct wr_text text = {0};

    if (*name != NULL)
        return;
    wr_text_add(&text, "%s%zu", letter, number);
    *name = wr_text_take(&text);
}

void wr_rules_fill_in(struct wr_definition *definition)
{
    if (!wr_is_given(definition->storage.low_mark))
        definition->storage.low_mark = definition->storage.reserve;
    for (size_t i = 0; i < definition->wells.count; i++)
        fill_in_name(&definition->wells.items[i].name, "W", i + 1);
    for (size_t i = 0; i < definition->spent_wash.tanks.count; i++)
        fill_in_name(&definition->spent_wash.tanks.items[i].name, "T", i + 1);
}

static void check_demand(struct wr_reader *reader)
{
    const struct wr_demand *demand = &reader->reading->definition.demand;
    double sum = 0.0;

    for (size_t i = 0; i < sizeof demand->hourly_factors / sizeof demand->hourly_factors[0]; i++)
        sum += demand->hourly_factors[i];
    if (sum <= 0.0)
        wr_complain_at(reader, "/demand/hourly_factors", "found a day of zeros; allowed: a mean above 0");
}

static void check_storage(struct wr_reader *reader)
{
    const struct wr_storage *storage = &reader->reading->definition.storage;
    char low[WR_RULE_TEXT];
    char reserve[WR_RULE_TEXT];

    if (storage->low_mark < storage->reserve)
        wr_complain_at(reader, "/storage/low_mark", "found %s; allowed: at least the reserve, %s",
                       wr_rule_show(reader, WR_QUANTITY_SHARE, storage->low_mark, low),
                       wr_rule_show(reader, WR_QUANTITY_SHARE, storage->reserve, reserve));
}

static void check_outages(struct wr_reader *reader)
{
    const struct wr_outages *outages = &reader->reading->definition.outages;
    char pointer[WR_RULE_POINTER];

    for (size_t i = 0; i < outages->count; i++) {
        if (outages->items[i].until <= outages->items[i].from)
            wr_complain_at(reader, wr_rule_pointer(pointer, "outages", i, "/until"),
                           "found a date no later than from; allowed: a later one, or none");
    }
}

void wr_rules_check(struct wr_reader *reader)
{
    check_demand(reader);
    check_storage(reader);
    check_outages(reader);
    wr_rules_check_wells(reader);
    wr_rules_check_filters(reader);
    wr_rules_check_names(reader);
    wr_rules_check_washes(reader);
    wr_rules_check_steps(reader);
    wr_rules_check_wash_water(reader);
    wr_rules_check_spent_wash(reader);
}
