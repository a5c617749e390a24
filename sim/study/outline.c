/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/outline.h"

#include "sim/engine/timers.h"
#include "sim/plant/mean_run.h"
#include "sim/plant/units.h"
#include "sim/study/ability.h"
#include "sim/study/largest.h"

#include <math.h>

static const double DAY = 86400;

static double over(double amount, double by)
{
    return by > 0 ? amount / by : WR_NEVER;
}

static void outline_filters(const struct wr_plant *plant, struct wr_outline *o)
{
    o->filter_out = wr_largest_filter(plant);
    o->approved_flow = wr_filters_flow(plant, plant->filter_count);
    o->approved_flow_left = wr_filters_flow(plant, o->filter_out);
    for (size_t f = 0; f < plant->filter_count; f++) {
        const double area = plant->groups[plant->group_of[f]].area;
        o->area += area;
        o->area_left += wr_plant_shares_vessel(plant, o->filter_out, f) ? 0 : area;
    }
    o->rate = over(o->demand, o->area);
    o->rate_left = over(o->demand, o->area_left);
}

/* Wells come in steps: in their order each runs that still fits into what the filters may pass. One that may be
 * throttled takes up what is left, and where the rate may rise all run. */
static double wells_that_fit(const struct wr_definition *d, double room)
{
    double flow = 0;
    for (size_t w = 0; w < d->wells.count; w++) {
        const struct wr_well *well = &d->wells.items[w];
        const double left = room - flow;
        const bool throttled = well->drive == WR_DRIVE_VARIABLE && d->over_approved_rate == WR_OVER_THROTTLE;
        if (d->over_approved_rate == WR_OVER_RATE_RISES || well->flow <= left * (1 + 1e-9))
            flow += well->flow;
        else if (throttled && well->least_flow <= left)
            flow += left;
    }
    return flow;
}

static void outline_supply(const struct wr_plant *plant, struct wr_outline *o)
{
    const struct wr_definition *d = plant->definition;
    o->well_out = wr_largest_well(d);
    o->wells_flow = wr_wells_flow(d);
    o->wells_flow_left = o->wells_flow - d->wells.items[o->well_out].flow;
    o->wells_fit = wells_that_fit(d, fmin(o->approved_flow, plant->approved_capacity));
    o->wells_fit_left = wells_that_fit(d, fmin(o->approved_flow_left, plant->approved_capacity));
    o->storage_lasts = over(d->storage.volume, o->demand);
    o->above_reserve_lasts = over(d->storage.volume * (1 - d->storage.reserve), o->demand);
}

static void outline_washes(const struct wr_plant *plant, struct wr_outline *o)
{
    double off_line = 0;
    for (size_t i = 0; i < plant->group_count; i++) {
        const struct wr_group *g = &plant->groups[i];
        const double rate = fmin(wr_plant_mean_rate(plant), g->approved_rate);
        const double run = wr_plant_run_time(plant, g, rate, plant->raw[WR_SOLIDS]);
        const double washes = over((double)g->count * DAY, run);
        o->washes += washes;
        o->wash_water += washes * g->wash_volume;
        o->spent_wash += washes * g->room;
        o->solids += (double)g->count * g->area * rate * DAY * plant->raw[WR_SOLIDS];
        off_line += washes * g->off_line;
        o->wash_flow = fmax(o->wash_flow, g->peak_flow);
        if (g->room > plant->groups[o->largest_wash].room)
            o->largest_wash = i;
    }
    o->between_washes = over(DAY, o->washes);
    o->busy = off_line / DAY / (double)plant->definition->wash.max_simultaneous;
    o->wash_share = over(o->spent_wash / DAY, o->demand);
}

static void outline_wash_water(const struct wr_plant *plant, struct wr_outline *o)
{
    const struct wr_wash_water *source = &plant->definition->wash_water;
    double bound = plant->wash_flow;
    if (source->source == WR_WATER_FROM_WELLS)
        bound = fmin(bound, o->wells_flow);
    o->source_flow = isfinite(bound) ? bound : WR_ABSENT;
    if (source->source == WR_WATER_FROM_TANK) {
        const double wash = plant->groups[o->largest_wash].wash_volume;
        o->tank_washes = source->tank.volume / wash;
        o->refill_time = wash / source->tank.refill_rate;
    }
}

static void outline_spent_wash(const struct wr_plant *plant, struct wr_outline *o)
{
    const struct wr_definition *d = plant->definition;
    const double wash = plant->largest_room;
    if (plant->tank_count == 0 || wash <= 0)
        return;
    struct wr_mean_wash mean = {0};
    o->spent_washes = 0;
    for (size_t t = 0; t < plant->tank_count; t++)
        o->spent_washes += floor(d->spent_wash.tanks.items[t].volume / wash * (1 + 1e-9));
    o->tank_share = wash / d->spent_wash.tanks.items[wr_largest_tank(d)].volume;
    o->outlet_flow = wr_outlets_flow(d);
    if (o->washes > 0 && isfinite(o->washes))
        mean = (struct wr_mean_wash){.off_line = o->busy * (double)d->wash.max_simultaneous * DAY / o->washes,
                                     .room = o->spent_wash / o->washes,
                                     .solids = o->solids / o->washes};
    if (mean.room > 0)
        o->room_washes = wr_ability_of_room(plant, &mean);
    const struct wr_mean_wash largest = {.room = wash, .solids = mean.solids};
    const struct wr_clearing clearing = wr_ability_tankful(plant, wr_largest_tank(d), 1, &largest);
    o->settles = plant->has_settling ? clearing.time : 0;
    o->sludge = plant->has_settling ? 1 - clearing.clear / wash : 0;
    o->turn = o->settles + over(plant->has_settling ? clearing.clear : wash, o->outlet_flow);
    if (plant->has_recycle)
        o->recycle_needs = d->recycle.pump / d->recycle.max_fraction;
}

double wr_outline_observed_load(const struct wr_plant *plant, size_t group)
{
    const struct wr_deposit_definition *deposit = &plant->definition->filters.items[group].deposit;
    const struct wr_group *g = &plant->groups[group];
    if (!deposit->has_observed_run)
        return WR_ABSENT;
    const double rise = deposit->observed_run.dirty_differential - deposit->observed_run.clean_differential;
    return wr_deposit_load(&g->deposit, rise / g->deposit.reference_rate, g->deposit.reference_viscosity);
}

struct wr_outline wr_outline_of(const struct wr_plant *plant)
{
    struct wr_outline o = {.demand = plant->definition->demand.maximum_day,
                           .tank_washes = WR_ABSENT,
                           .refill_time = WR_ABSENT,
                           .spent_washes = WR_ABSENT,
                           .tank_share = WR_ABSENT,
                           .outlet_flow = WR_ABSENT,
                           .room_washes = WR_ABSENT,
                           .turn = WR_ABSENT,
                           .recycle_needs = WR_ABSENT};
    outline_filters(plant, &o);
    outline_supply(plant, &o);
    outline_washes(plant, &o);
    outline_wash_water(plant, &o);
    outline_spent_wash(plant, &o);
    return o;
}
