/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/units.h"

#include "sim/plant/build.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Number of a filter among those whose groups share its group's name, from 1. */
static size_t number_in_name(const struct wr_plant *plant, size_t group, size_t filter)
{
    const struct wr_filter_group *groups = plant->definition->filters.items;
    size_t number = filter - plant->groups[group].first + 1;
    for (size_t g = 0; g < group; g++)
        if (strcmp(groups[g].name, groups[group].name) == 0)
            number += plant->groups[g].count;
    return number;
}

enum wr_status wr_build_names(struct wr_plant *plant)
{
    plant->group_of = calloc(plant->filter_count, sizeof *plant->group_of);
    plant->names = calloc(plant->filter_count, sizeof *plant->names);
    if (plant->group_of == NULL || plant->names == NULL)
        return WR_NO_MEMORY;
    for (size_t g = 0; g < plant->group_count; g++)
        for (size_t i = 0; i < plant->groups[g].count; i++) {
            const size_t filter = plant->groups[g].first + i;
            const char *name = plant->definition->filters.items[g].name;
            const size_t size = strlen(name) + 24;
            plant->group_of[filter] = g;
            plant->names[filter] = malloc(size);
            if (plant->names[filter] == NULL)
                return WR_NO_MEMORY;
            snprintf(plant->names[filter], size, "%s%zu", name, number_in_name(plant, g, filter));
        }
    return WR_OK;
}

bool wr_plant_unit(const struct wr_plant *plant, const char *name, struct wr_unit *unit)
{
    static const struct {
        const char *name;
        enum wr_unit_kind kind;
    } single[] = {{"wash pump", WR_UNIT_WASH_PUMP}, {"blower", WR_UNIT_BLOWER}, {"recycle pump", WR_UNIT_RECYCLE_PUMP}};
    for (size_t f = 0; f < plant->filter_count; f++)
        if (strcmp(plant->names[f], name) == 0)
            return *unit = (struct wr_unit){WR_UNIT_FILTER, f}, true;
    for (size_t w = 0; w < plant->well_count; w++)
        if (strcmp(plant->definition->wells.items[w].name, name) == 0)
            return *unit = (struct wr_unit){WR_UNIT_WELL, w}, true;
    for (size_t t = 0; t < plant->tank_count; t++)
        if (strcmp(plant->definition->spent_wash.tanks.items[t].name, name) == 0)
            return *unit = (struct wr_unit){WR_UNIT_TANK, t}, true;
    for (size_t i = 0; i < sizeof single / sizeof *single; i++)
        if (strcmp(single[i].name, name) == 0)
            return *unit = (struct wr_unit){single[i].kind, 0}, true;
    return false;
}

void wr_plant_vessel(const struct wr_plant *plant, size_t filter, size_t *first, size_t *count)
{
    const size_t group = plant->group_of[filter], cells = plant->definition->filters.items[group].cells;
    const struct wr_group *g = &plant->groups[group];
    *first = g->first + (filter - g->first) / cells * cells;
    *count = *first + cells <= g->first + g->count ? cells : g->first + g->count - *first;
}

bool wr_plant_shares_vessel(const struct wr_plant *plant, size_t a, size_t b)
{
    size_t first, count;
    wr_plant_vessel(plant, a, &first, &count);
    return b >= first && b < first + count;
}

bool wr_plant_outage_takes(const struct wr_plant *plant, size_t outage, size_t filter)
{
    const struct wr_unit *unit = &plant->units[outage];
    return unit->kind == WR_UNIT_FILTER && wr_plant_shares_vessel(plant, unit->number, filter);
}

enum wr_status wr_build_units(struct wr_plant *plant)
{
    plant->units = calloc(plant->outage_count + 1, sizeof *plant->units);
    plant->rota_of = calloc(plant->rota_count + 1, sizeof *plant->rota_of);
    if (plant->units == NULL || plant->rota_of == NULL)
        return WR_NO_MEMORY;
    for (size_t o = 0; o < plant->outage_count; o++)
        if (!wr_plant_unit(plant, plant->definition->outages.items[o].unit, &plant->units[o]))
            return WR_UNKNOWN_UNIT;
    for (size_t r = 0; r < plant->rota_count; r++) {
        struct wr_unit unit;
        if (!wr_plant_unit(plant, plant->definition->wash.rota.items[r].filter, &unit) || unit.kind != WR_UNIT_FILTER)
            return WR_UNKNOWN_UNIT;
        plant->rota_of[r] = unit.number;
    }
    return WR_OK;
}
