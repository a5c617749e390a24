/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/doubt.h"

#include "sim/engine/timers.h"
#include "sim/plant/head.h"
#include "sim/plant/mean_run.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double DAY = 86400;
static const double STORAGE_LEAST = 2 * 3600.0, STORAGE_MOST = 7 * 86400.0; /* s of the maximum day */
static const double MEDIA_LEAST = 0.3, MEDIA_MOST = 3;                      /* m */
static const double OBSERVED_HIGH = 1.1, OBSERVED_LOW = 0.25;               /* of the approved rate */
static const double LOAD_LEAST = 0.05, LOAD_MOST = 10;                      /* kg/m2 */
static const double RUN_LEAST = 6 * 3600.0;                                 /* s */
static const double BACKWASH_LEAST = 2;                                     /* of the approved rate */
static const double WASH_SHARE_MOST = 0.1;
static const double SLACK = 1 + 1e-9; /* sums that should be equal are */

/* Keys, and where in the scenario to look: %zu is the number of the well or filter group. */
static const struct {
    const char *key, *pointer;
} kinds[WR_DOUBTS] = {
    [WR_DOUBT_DEMAND_OVER_WELLS] = {"demand_over_wells", "/demand/maximum_day"},
    [WR_DOUBT_DEMAND_OVER_FILTERS] = {"demand_over_filters", "/demand/maximum_day"},
    [WR_DOUBT_DEMAND_OVER_FIRM] = {"demand_over_firm", "/demand/maximum_day"},
    [WR_DOUBT_DEMAND_OVER_STEPS] = {"demand_over_steps", "/wells"},
    [WR_DOUBT_WELL_OVER_FILTERS] = {"well_over_filters", "/wells/%zu/flow"},
    [WR_DOUBT_WELL_BELOW_RESERVE] = {"well_below_reserve", "/wells/%zu/on_below"},
    [WR_DOUBT_START_BELOW_RESERVE] = {"start_below_reserve", "/storage/start_level"},
    [WR_DOUBT_STORAGE_SMALL] = {"storage_small", "/storage/volume"},
    [WR_DOUBT_STORAGE_LARGE] = {"storage_large", "/storage/volume"},
    [WR_DOUBT_MEDIA_SHALLOW] = {"media_shallow", "/filters/%zu/media"},
    [WR_DOUBT_MEDIA_DEEP] = {"media_deep", "/filters/%zu/media"},
    [WR_DOUBT_OBSERVED_RATE_HIGH] = {"observed_rate_high", "/filters/%zu/deposit/observed_run"},
    [WR_DOUBT_OBSERVED_RATE_LOW] = {"observed_rate_low", "/filters/%zu/deposit/observed_run"},
    [WR_DOUBT_OBSERVED_LOAD_LOW] = {"observed_load_low", "/filters/%zu/deposit/observed_run"},
    [WR_DOUBT_OBSERVED_LOAD_HIGH] = {"observed_load_high", "/filters/%zu/deposit/observed_run"},
    [WR_DOUBT_CALLS_WHEN_CLEAN] = {"calls_when_clean", "/wash/triggers/differential"},
    [WR_DOUBT_NO_CALL] = {"no_call", "/wash/triggers"},
    [WR_DOUBT_BACKSTOP_FIRST] = {"backstop_first", "/wash/triggers"},
    [WR_DOUBT_RUN_SHORT] = {"run_short", "/filters/%zu/deposit"},
    [WR_DOUBT_BACKWASH_SLOW] = {"backwash_slow", "/wash/backwash_rate"},
    [WR_DOUBT_WASH_SHARE] = {"wash_share", "/wash"},
    [WR_DOUBT_WASHES_OVERLAP] = {"washes_overlap", "/wash/max_simultaneous"},
    [WR_DOUBT_REFILL_SLOW] = {"refill_slow", "/wash_water/tank/refill_rate"},
    [WR_DOUBT_ROOM_SLOW] = {"room_slow", "/spent_wash"},
    [WR_DOUBT_RECYCLE_NEVER] = {"recycle_never", "/recycle"},
};

struct list {
    struct wr_doubt *doubts;
    size_t count;
};

static void doubt_if(bool doubted, struct list *list, struct wr_doubt doubt)
{
    if (doubted && list->count < WR_DOUBTS_MOST)
        list->doubts[list->count++] = doubt;
}

/* Found, where it is more than what it is held against. */
static void doubt_above(struct list *list, enum wr_doubt_kind kind, size_t number, double found, double against)
{
    doubt_if(found > against * SLACK, list, (struct wr_doubt){kind, number, found, against});
}

/* Found, where it is less. */
static void doubt_below(struct list *list, enum wr_doubt_kind kind, size_t number, double found, double against)
{
    doubt_if(found * SLACK < against, list, (struct wr_doubt){kind, number, found, against});
}

static void doubt_demand(const struct wr_plant *plant, const struct wr_outline *o, struct list *list)
{
    doubt_above(list, WR_DOUBT_DEMAND_OVER_WELLS, 0, o->demand, o->wells_flow);
    doubt_above(list, WR_DOUBT_DEMAND_OVER_FILTERS, 0, o->demand, o->approved_flow);
    if (o->demand <= o->approved_flow * SLACK && plant->filter_count > 1)
        doubt_above(list, WR_DOUBT_DEMAND_OVER_FIRM, 0, o->demand, o->approved_flow_left);
    if (o->demand <= o->approved_flow_left * SLACK && o->demand <= o->wells_flow * SLACK)
        doubt_above(list, WR_DOUBT_DEMAND_OVER_STEPS, 0, o->demand, o->wells_fit_left);
}

static void doubt_supply(const struct wr_definition *d, const struct wr_outline *o, struct list *list)
{
    for (size_t w = 0; w < d->wells.count && d->over_approved_rate != WR_OVER_RATE_RISES; w++) {
        const struct wr_well *well = &d->wells.items[w];
        const bool throttled = well->drive == WR_DRIVE_VARIABLE && d->over_approved_rate == WR_OVER_THROTTLE;
        doubt_above(list, WR_DOUBT_WELL_OVER_FILTERS, w, throttled ? well->least_flow : well->flow, o->approved_flow);
    }
    for (size_t w = 0; w < d->wells.count && d->storage.reserve > 0; w++)
        doubt_if(d->wells.items[w].on_below <= d->storage.reserve, list,
                 (struct wr_doubt){WR_DOUBT_WELL_BELOW_RESERVE, w, d->wells.items[w].on_below, d->storage.reserve});
    doubt_below(list, WR_DOUBT_START_BELOW_RESERVE, 0, d->storage.start_level, d->storage.reserve);
    doubt_below(list, WR_DOUBT_STORAGE_SMALL, 0, o->storage_lasts, STORAGE_LEAST);
    if (o->demand > 0)
        doubt_above(list, WR_DOUBT_STORAGE_LARGE, 0, o->storage_lasts, STORAGE_MOST);
}

static void doubt_bed(const struct wr_plant *plant, size_t group, struct list *list)
{
    const struct wr_filter_group *definition = &plant->definition->filters.items[group];
    const struct wr_group *g = &plant->groups[group];
    double depth = 0;
    for (size_t i = 0; i < definition->media.count; i++)
        depth += definition->media.items[i].depth;
    if (definition->media.count > 0) {
        doubt_below(list, WR_DOUBT_MEDIA_SHALLOW, group, depth, MEDIA_LEAST);
        doubt_above(list, WR_DOUBT_MEDIA_DEEP, group, depth, MEDIA_MOST);
    }
    if (!definition->deposit.has_observed_run)
        return;
    const double rate = g->deposit.reference_rate, load = wr_outline_observed_load(plant, group);
    doubt_if(rate > g->approved_rate * OBSERVED_HIGH, list,
             (struct wr_doubt){WR_DOUBT_OBSERVED_RATE_HIGH, group, rate, g->approved_rate});
    doubt_if(rate < g->approved_rate * OBSERVED_LOW, list,
             (struct wr_doubt){WR_DOUBT_OBSERVED_RATE_LOW, group, rate, g->approved_rate});
    doubt_below(list, WR_DOUBT_OBSERVED_LOAD_LOW, group, load, LOAD_LEAST);
    doubt_above(list, WR_DOUBT_OBSERVED_LOAD_HIGH, group, load, LOAD_MOST);
}

/* Which trigger comes first on the maximum day, and when. */
static void doubt_calls(const struct wr_plant *plant, size_t group, struct list *list)
{
    const struct wr_group *g = &plant->groups[group];
    const struct wr_triggers *t = &plant->definition->wash.triggers;
    const double rate = fmin(wr_plant_mean_rate(plant), g->approved_rate), solids = plant->raw[WR_SOLIDS];
    const double time = wr_plant_run_time(plant, g, rate, solids);
    const double load = rate > 0 ? wr_plant_trigger_load(plant, g, rate) : WR_NEVER;
    if (wr_is_given(t->differential)) {
        const double clean = wr_group_head(g, plant->viscosity, 0, g->approved_rate, t->across == WR_ACROSS_BED);
        doubt_if(clean >= t->differential, list,
                 (struct wr_doubt){WR_DOUBT_CALLS_WHEN_CLEAN, group, clean, t->differential});
    }
    doubt_if(!isfinite(time) && rate > 0 && plant->rota_count == 0, list,
             (struct wr_doubt){WR_DOUBT_NO_CALL, group, time, 0});
    if (load <= 0 || !isfinite(load) || solids <= 0)
        return;
    const double called = load / (solids * rate);
    doubt_above(list, WR_DOUBT_BACKSTOP_FIRST, group, called, time);
    doubt_below(list, WR_DOUBT_RUN_SHORT, group, called, RUN_LEAST);
}

static void doubt_washes(const struct wr_plant *plant, const struct wr_outline *o, struct list *list)
{
    const struct wr_definition *d = plant->definition;
    for (size_t i = 0; i < plant->group_count; i++)
        doubt_below(list, WR_DOUBT_BACKWASH_SLOW, i, d->wash.backwash_rate,
                    BACKWASH_LEAST * plant->groups[i].approved_rate);
    if (!isfinite(o->washes)) /* that a clean filter calls is said, and no sum of its washes means a thing */
        return;
    if (o->demand > 0)
        doubt_above(list, WR_DOUBT_WASH_SHARE, 0, o->wash_share, WASH_SHARE_MOST);
    doubt_above(list, WR_DOUBT_WASHES_OVERLAP, 0, o->busy, 1);
    if (wr_is_given(o->refill_time))
        doubt_above(list, WR_DOUBT_REFILL_SLOW, 0, o->wash_water / DAY, d->wash_water.tank.refill_rate);
    if (wr_is_given(o->room_washes))
        doubt_above(list, WR_DOUBT_ROOM_SLOW, 0, o->washes, o->room_washes);
}

static void doubt_recycle(const struct wr_plant *plant, const struct wr_outline *o, struct list *list)
{
    if (wr_is_given(o->recycle_needs) && plant->definition->recycle.control == WR_RECYCLE_FIXED)
        doubt_above(list, WR_DOUBT_RECYCLE_NEVER, 0, o->recycle_needs, o->wells_flow);
}

size_t wr_doubts_of(const struct wr_plant *plant, const struct wr_outline *outline,
                    struct wr_doubt doubts[WR_DOUBTS_MOST])
{
    struct list list = {.doubts = doubts};
    doubt_demand(plant, outline, &list);
    doubt_supply(plant->definition, outline, &list);
    for (size_t i = 0; i < plant->group_count; i++) {
        doubt_bed(plant, i, &list);
        doubt_calls(plant, i, &list);
    }
    doubt_washes(plant, outline, &list);
    doubt_recycle(plant, outline, &list);
    return list.count;
}

const char *wr_doubt_key(enum wr_doubt_kind kind)
{
    return kinds[kind].key;
}

char *wr_doubt_pointer(const struct wr_doubt *doubt, char *pointer, size_t size)
{
    const char *place = strstr(kinds[doubt->kind].pointer, "%zu");
    if (place == NULL)
        snprintf(pointer, size, "%s", kinds[doubt->kind].pointer);
    else
        snprintf(pointer, size, "%.*s%zu%s", (int)(place - kinds[doubt->kind].pointer), kinds[doubt->kind].pointer,
                 doubt->number, place + strlen("%zu"));
    return pointer;
}
