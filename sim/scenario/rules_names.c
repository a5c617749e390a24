/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules of names: how many filters there are and what they are called, wells and tanks apart, outages of what there is.
 */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/nearest.h"
#include "sim/scenario/rules.h"

/* Filters of a plant, and how many of their names a complaint lists. */
enum { FILTERS_MOST = 1000, NAMES_SHOWN = 12 };

struct names {
    char **items;
    size_t count;
};

static size_t count_filters(const struct wr_filter_groups *groups)
{
    size_t count = 0;

    for (size_t i = 0; i < groups->count; i++)
        count += groups->items[i].filters;
    return count;
}

/* True when there are groups and every group has its name and count. */
static bool are_readable(const struct wr_filter_groups *groups)
{
    for (size_t i = 0; i < groups->count; i++) {
        if (groups->items[i].name == NULL || groups->items[i].filters == 0)
            return false;
    }
    return groups->count > 0;
}

/* How many filters of the groups before a group bear its name. */
static size_t count_namesakes(const struct wr_filter_groups *groups, size_t group)
{
    size_t count = 0;

    for (size_t i = 0; i < group; i++)
        count += strcmp(groups->items[i].name, groups->items[group].name) == 0 ? groups->items[i].filters : 0;
    return count;
}

/* The names of all filters in plant order: group's name and number, numbered on through groups of one name. */
static struct names filter_names(const struct wr_filter_groups *groups)
{
    struct names names = {.items = wr_items_new(count_filters(groups), sizeof(char *))};

    for (size_t i = 0; i < groups->count; i++) {
        size_t before = count_namesakes(groups, i);
        for (size_t k = 0; k < groups->items[i].filters; k++) {
            struct wr_text text = {0};
            wr_text_add(&text, "%s%zu", groups->items[i].name, before + k + 1);
            names.items[names.count++] = wr_text_take(&text);
        }
    }
    return names;
}

static void names_fini(struct names *names)
{
    for (size_t i = 0; i < names->count; i++)
        free(names->items[i]);
    free(names->items);
}

static int compare_names(const void *a, const void *b)
{
    return strcmp(*(char *const *)a, *(char *const *)b);
}

/* The first name that comes twice, NULL when none does. */
static const char *find_twice(const struct names *names)
{
    char **sorted = wr_items_new(names->count, sizeof *sorted);
    const char *twice = NULL;

    if (sorted == NULL)
        return NULL;
    memcpy(sorted, names->items, names->count * sizeof *sorted);
    qsort(sorted, names->count, sizeof *sorted, compare_names);
    for (size_t i = 1; i < names->count && twice == NULL; i++)
        twice = strcmp(sorted[i - 1], sorted[i]) == 0 ? sorted[i] : NULL;
    free(sorted);
    return twice;
}

static void check_apart(struct wr_reader *reader, const struct names *names, const char *pointer, const char *what)
{
    const char *twice = find_twice(names);

    if (twice != NULL)
        wr_complain_at(reader, pointer, "found two %s called \"%s\"; allowed: each name once", what, twice);
}

static void add_names(const struct names *names, struct wr_text *text)
{
    for (size_t i = 0; i < names->count && i < NAMES_SHOWN; i++)
        wr_text_add(text, "%s\"%s\"", i == 0 ? "" : ", ", names->items[i]);
    if (names->count > NAMES_SHOWN)
        wr_text_add(text, " and so on");
}

/* An outage's unit is a filter; else the nearest one is suggested. */
static void check_unit(struct wr_reader *reader, const struct names *names, const char *unit, size_t number)
{
    const char *nearest = NULL;
    size_t least = WR_TOO_FAR;
    char pointer[WR_RULE_POINTER];
    struct wr_text text = {0};

    for (size_t i = 0; i < names->count; i++) {
        size_t distance = wr_word_distance(unit, names->items[i]);
        nearest = distance < least ? names->items[i] : nearest;
        least = distance < least ? distance : least;
        if (strcmp(unit, names->items[i]) == 0)
            return;
    }
    add_names(names, &text);
    if (nearest != NULL)
        wr_text_add(&text, "; did you mean \"%s\"?", nearest);
    char *allowed = wr_text_take(&text);
    wr_complain_at(reader, wr_rule_pointer(pointer, "outages", number, "/unit"),
                   "found \"%s\", which is no filter; allowed: %s", unit, allowed);
    free(allowed);
}

static void check_units(struct wr_reader *reader, const struct names *names)
{
    const struct wr_outages *outages = &reader->reading->definition.outages;

    for (size_t i = 0; i < outages->count; i++) {
        if (outages->items[i].unit != NULL)
            check_unit(reader, names, outages->items[i].unit, i);
    }
}

static void check_dates(struct wr_reader *reader)
{
    const struct wr_outages *outages = &reader->reading->definition.outages;
    char pointer[WR_RULE_POINTER];

    for (size_t i = 0; i < outages->count; i++) {
        if (outages->items[i].until <= outages->items[i].from)
            wr_complain_at(reader, wr_rule_pointer(pointer, "outages", i, "/until"),
                           "found a date no later than from; allowed: a later one, or none");
    }
}

static void check_wells_apart(struct wr_reader *reader)
{
    const struct wr_wells *wells = &reader->reading->definition.wells;
    struct names names = {.items = wr_items_new(wells->count, sizeof(char *))};

    for (; names.count < wells->count; names.count++)
        names.items[names.count] = wells->items[names.count].name;
    check_apart(reader, &names, "/wells", "wells");
    free(names.items);
}

static void check_tanks_apart(struct wr_reader *reader)
{
    const struct wr_spent_tanks *tanks = &reader->reading->definition.spent_wash.tanks;
    struct names names = {.items = wr_items_new(tanks->count, sizeof(char *))};

    for (; names.count < tanks->count; names.count++)
        names.items[names.count] = tanks->items[names.count].name;
    check_apart(reader, &names, "/spent_wash/tanks", "tanks");
    free(names.items);
}

void wr_rules_check_names(struct wr_reader *reader)
{
    const struct wr_filter_groups *groups = &reader->reading->definition.filters;

    check_wells_apart(reader);
    check_tanks_apart(reader);
    check_dates(reader);
    if (count_filters(groups) > FILTERS_MOST) {
        wr_complain_at(reader, "/filters", "found %zu filters in all; allowed: %d", count_filters(groups),
                       FILTERS_MOST);
        return;
    }
    if (!are_readable(groups))
        return;
    struct names names = filter_names(groups);
    check_apart(reader, &names, "/filters", "filters");
    check_units(reader, &names);
    names_fini(&names);
}
