/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures of wash water, spent wash water and recycle. */
#include "sim/review/guidance.h"

#include "sim/plant/mean_run.h"
#include "sim/plant/units.h"

#include <math.h>

static const double DAY = 86400;
static const double WASH_RATE = 0.003785411784 / 60 / 0.09290304; /* m/s in a gal/min/ft2 */
static const char NO_RECYCLE[] = "nothing is recycled";
static const char OTHER_SOURCE[] = "wash water does not come from the filters";

static double largest_area(const struct wr_plant *plant)
{
    double area = 0;
    for (size_t i = 0; i < plant->group_count; i++)
        area = fmax(area, plant->groups[i].area);
    return area;
}

void wr_find_wash_store(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    const struct wr_definition *d = reviewed->plant->definition;
    const double flow = 15 * WASH_RATE * largest_area(reviewed->plant);
    if (d->wash_water.source == WR_WATER_FROM_TANK)
        found->figure = d->wash_water.tank.volume / flow;
    else if (d->wash_water.source == WR_WATER_FROM_STORAGE)
        found->figure = (1 - d->storage.reserve) * d->storage.volume / flow;
    else
        wr_found_nothing(found, "wash water is not stored");
}

void wr_find_wash_from_others(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (reviewed->plant->definition->wash_water.source == WR_WATER_FROM_FILTERS)
        found->figure = (double)reviewed->plant->filter_count;
    else
        wr_found_nothing(found, OTHER_SOURCE);
}

/* Washes a day of the maximum day with the largest filter's vessel out. */
static double washes_one_out(const struct wr_reviewed *reviewed)
{
    const struct wr_plant *plant = reviewed->plant;
    double washes = 0;
    for (size_t f = 0; f < plant->filter_count; f++) {
        const struct wr_group *g = &plant->groups[plant->group_of[f]];
        const double rate = fmin(reviewed->outline->rate_left, g->approved_rate);
        if (!wr_plant_shares_vessel(plant, reviewed->outline->filter_out, f))
            washes += DAY / wr_plant_run_time(plant, g, rate, plant->raw[WR_SOLIDS]);
    }
    return washes;
}

void wr_find_refill(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    const double washes = washes_one_out(reviewed);
    if (!wr_is_given(reviewed->outline->refill_time))
        wr_found_nothing(found, "no tank of its own gives the wash water");
    else if (washes > 0 && isfinite(washes)) {
        found->figure = reviewed->outline->refill_time;
        found->most = DAY / washes;
    } else
        wr_found_untold(found, "with a filter out there are no runs to tell an interval from");
}

void wr_find_spare_wash(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (wr_is_given(reviewed->outline->tank_washes))
        found->figure = reviewed->outline->tank_washes;
    else
        wr_found_nothing(found, "no tank of its own gives the wash water");
}

void wr_find_direct_draw(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (reviewed->plant->definition->wash_water.source != WR_WATER_FROM_FILTERS)
        wr_found_nothing(found, OTHER_SOURCE);
    else if (reviewed->outline->approved_flow_left > 0)
        found->figure = reviewed->outline->wash_flow / reviewed->outline->approved_flow_left;
    else
        wr_found_untold(found, "no other filter is left");
}

void wr_find_inflow(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (reviewed->plant->definition->wash_water.source == WR_WATER_FROM_FILTERS) {
        found->figure = reviewed->outline->wash_flow;
        found->most = reviewed->outline->wells_fit_left;
    } else
        wr_found_nothing(found, OTHER_SOURCE);
}

void wr_find_settling(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (!reviewed->plant->has_recycle)
        wr_found_nothing(found, NO_RECYCLE);
    else if (reviewed->plant->has_settling)
        found->figure = reviewed->outline->settles;
    else
        found->figure = 0;
}

/* The greatest share that the recycle pump ever has of raw water: what is allowed, or all its flow beside the least
 * well. */
void wr_find_recycle_share(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    const struct wr_definition *d = reviewed->plant->definition;
    double least = HUGE_VAL;
    if (!reviewed->plant->has_recycle) {
        wr_found_nothing(found, NO_RECYCLE);
        return;
    }
    for (size_t w = 0; w < d->wells.count; w++)
        least = fmin(least, d->wells.items[w].drive == WR_DRIVE_VARIABLE ? d->wells.items[w].least_flow
                                                                         : d->wells.items[w].flow);
    found->figure = fmin(d->recycle.max_fraction, d->recycle.pump / least);
}

void wr_find_recycle_in_design(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    const struct wr_definition *d = reviewed->plant->definition;
    if (!reviewed->plant->has_recycle) {
        wr_found_nothing(found, NO_RECYCLE);
        return;
    }
    found->figure = reviewed->outline->wells_fit + d->recycle.pump;
    found->most = wr_is_given(d->approved_capacity) ? d->approved_capacity : reviewed->outline->approved_flow;
}

void wr_find_recycle_approved(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (reviewed->plant->has_recycle)
        wr_found_untold(found, "the scenario does not hold what was approved");
    else
        wr_found_nothing(found, NO_RECYCLE);
}

void wr_find_recycle_records(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (reviewed->plant->has_recycle)
        wr_found_untold(found, "records are kept on the plant; run tells flows, durations and runs as simulated");
    else
        wr_found_nothing(found, NO_RECYCLE);
}

void wr_find_other_outlet(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    const struct wr_outlets *outlets = &reviewed->plant->definition->spent_wash.outlets;
    if (!reviewed->plant->has_recycle) {
        wr_found_nothing(found, NO_RECYCLE);
        return;
    }
    found->figure = 0;
    for (size_t i = 0; i < outlets->count; i++)
        found->figure += outlets->items[i].kind != WR_OUTLET_RECYCLE;
}

void wr_find_two_washes_held(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    const struct wr_plant *plant = reviewed->plant;
    if (plant->filter_count != 2 || plant->tank_count == 0) {
        wr_found_nothing(found, plant->tank_count == 0 ? "no spent wash water is held" : "there are not two filters");
        return;
    }
    found->figure = found->least = 0;
    for (size_t f = 0; f < plant->filter_count; f++)
        found->least += 15 * 60 * 20 * WASH_RATE * plant->groups[plant->group_of[f]].area;
    for (size_t t = 0; t < plant->tank_count; t++)
        found->figure += plant->definition->spent_wash.tanks.items[t].volume;
}

void wr_find_drying(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    const struct wr_outlets *outlets = &reviewed->plant->definition->spent_wash.outlets;
    for (size_t i = 0; i < outlets->count; i++)
        if (outlets->items[i].kind == WR_OUTLET_POND) {
            wr_found_untold(found, "the scenario does not hold the room of its pond");
            return;
        }
    wr_found_nothing(found, "no outlet leads to a pond or drying filter");
}
