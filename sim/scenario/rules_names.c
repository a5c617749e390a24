/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules of names: how many filters there are and what they are called, every unit by a name of its own. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/rules.h"

/* Filters of a plant. */
enum { FILTERS_MOST = 1000 };

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
static struct wr_names filter_names(const struct wr_filter_groups *groups)
{
    struct wr_names names = {.items = wr_items_new(count_filters(groups), sizeof(char *))};

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

static void names_fini(struct wr_names *names)
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
static const char *find_twice(const struct wr_names *names)
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

static void check_apart(struct wr_reader *reader, const struct wr_names *names, const char *pointer, const char *what)
{
    const char *twice = find_twice(names);

    if (twice != NULL)
        wr_complain_at(reader, pointer, "found two %s called \"%s\"; allowed: each name once", what, twice);
}

static bool is_among(const char *name, const struct wr_names *names)
{
    for (size_t i = 0; i < names->count; i++) {
        if (strcmp(name, names->items[i]) == 0)
            return true;
    }
    return false;
}

/* An outage names any kind of unit, so no two of different kinds may share a name either. */
static void check_not_borne(struct wr_reader *reader, const char *list, const struct wr_names *names,
                            const struct wr_names *others, const char *bearer)
{
    char pointer[WR_RULE_POINTER];

    for (size_t i = 0; i < names->count; i++) {
        if (is_among(names->items[i], others))
            wr_complain_at(reader, wr_rule_pointer(pointer, list, i, "/name"),
                           "found \"%s\", which %s bears; allowed: a name that no other unit bears", names->items[i],
                           bearer);
    }
}

static void check_wells_and_tanks(struct wr_reader *reader, const struct wr_names *filters)
{
    static char *const words[] = {"wash pump", "blower", "recycle pump"};
    const struct wr_wells *wells = &reader->reading->definition.wells;
    const struct wr_spent_tanks *tanks = &reader->reading->definition.spent_wash.tanks;
    const struct wr_names singles = {(char **)words, sizeof words / sizeof words[0]};
    struct wr_names of_wells = {.items = wr_items_new(wells->count, sizeof(char *))};
    struct wr_names of_tanks = {.items = wr_items_new(tanks->count, sizeof(char *))};

    for (; of_wells.count < wells->count; of_wells.count++)
        of_wells.items[of_wells.count] = wells->items[of_wells.count].name;
    for (; of_tanks.count < tanks->count; of_tanks.count++)
        of_tanks.items[of_tanks.count] = tanks->items[of_tanks.count].name;
    check_apart(reader, &of_wells, "/wells", "wells");
    check_apart(reader, &of_tanks, "/spent_wash/tanks", "tanks");
    check_not_borne(reader, "wells", &of_wells, filters, "a filter");
    check_not_borne(reader, "wells", &of_wells, &singles, "another unit");
    check_not_borne(reader, "spent_wash/tanks", &of_tanks, filters, "a filter");
    check_not_borne(reader, "spent_wash/tanks", &of_tanks, &of_wells, "a well");
    check_not_borne(reader, "spent_wash/tanks", &of_tanks, &singles, "another unit");
    free(of_wells.items);
    free(of_tanks.items);
}

void wr_rules_check_names(struct wr_reader *reader)
{
    const struct wr_filter_groups *groups = &reader->reading->definition.filters;
    bool too_many = count_filters(groups) > FILTERS_MOST;
    bool readable = !too_many && are_readable(groups);
    struct wr_names names = {0};

    if (too_many)
        wr_complain_at(reader, "/filters", "found %zu filters in all; allowed: %d", count_filters(groups),
                       FILTERS_MOST);
    if (readable)
        names = filter_names(groups);
    check_wells_and_tanks(reader, &names);
    if (readable) {
        check_apart(reader, &names, "/filters", "filters");
        wr_rules_check_units(reader, &names);
    }
    names_fini(&names);
}
