/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/largest.h"

#include "sim/engine/timers.h"
#include "sim/plant/units.h"

double wr_filters_flow(const struct wr_plant *plant, size_t without)
{
    double flow = 0;
    for (size_t f = 0; f < plant->filter_count; f++) {
        const struct wr_group *g = &plant->groups[plant->group_of[f]];
        if (without == plant->filter_count || !wr_plant_shares_vessel(plant, without, f))
            flow += g->area * g->approved_rate;
    }
    return flow;
}

double wr_wells_flow(const struct wr_definition *definition)
{
    double flow = 0;
    for (size_t w = 0; w < definition->wells.count; w++)
        flow += definition->wells.items[w].flow;
    return flow;
}

size_t wr_largest_filter(const struct wr_plant *plant)
{
    size_t largest = 0;
    double least_left = WR_NEVER;
    for (size_t f = 0; f < plant->filter_count; f++) {
        const double left = wr_filters_flow(plant, f);
        if (left < least_left) {
            least_left = left;
            largest = f;
        }
    }
    return largest;
}

size_t wr_largest_well(const struct wr_definition *definition)
{
    const struct wr_wells *wells = &definition->wells;
    size_t largest = 0;
    for (size_t w = 1; w < wells->count; w++)
        if (wells->items[w].flow > wells->items[largest].flow)
            largest = w;
    return largest;
}

size_t wr_largest_tank(const struct wr_definition *definition)
{
    const struct wr_spent_tanks *tanks = &definition->spent_wash.tanks;
    size_t largest = 0;
    for (size_t t = 1; t < tanks->count; t++)
        if (tanks->items[t].volume > tanks->items[largest].volume)
            largest = t;
    return largest;
}
