/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/plant.h"

#include "models/constant_head.h"
#include "sim/engine/timers.h"
#include "sim/plant/build.h"
#include "sim/plant/head.h"
#include "sim/plant/ledger.h"
#include "sim/plant/state.h"

#include <math.h>
#include <stdlib.h>

/* At available head H a filter's rate v falls as its bed loads, and its differential is H - f v^2, with f the fittings'
 * where the bed alone is measured; corrected it is approved rate over v of that. So it meets its trigger at a rate, and
 * that rate belongs to a load. */
static double load_apart(const struct wr_plant *plant, const struct wr_group *g, double level)
{
    const struct wr_triggers *t = &plant->definition->wash.triggers;
    if (!wr_is_given(level) || level > g->available_head)
        return WR_NEVER;
    const double f = g->fittings_quadratic;
    if (t->across == WR_ACROSS_FILTER || f <= 0)
        return 0;
    const double rate = t->differential_as == WR_AS_CORRECTED
                            ? wr_constant_head_rate(g->available_head * g->approved_rate, level, f * g->approved_rate)
                            : wr_constant_head_rate(g->available_head - level, 0, f);
    return rate > 0 ? wr_group_load_at_head(g, plant->viscosity, g->available_head, rate, false) : WR_NEVER;
}

static enum wr_status build_groups(struct wr_plant *plant)
{
    const struct wr_filter_groups *groups = &plant->definition->filters;
    for (size_t g = 0; g < groups->count; g++) {
        plant->groups[g].first = plant->filter_count;
        plant->groups[g].count = groups->items[g].filters;
        const enum wr_status status = wr_build_bed(plant, &groups->items[g], &plant->groups[g]);
        if (status != WR_OK)
            return status;
        const struct wr_triggers *t = &plant->definition->wash.triggers;
        plant->groups[g].called_load = load_apart(plant, &plant->groups[g], t->differential);
        plant->groups[g].urgent_load = load_apart(plant, &plant->groups[g], t->urgent_differential);
        /* A hair below, so that a filter that has just come to its head at that rate counts as past it. */
        plant->groups[g].full_rate_load =
            groups->items[g].at_available_head == WR_HEAD_FLOW_FALLS
                ? (1 - 1e-6) * wr_group_load_at_head(&plant->groups[g], plant->viscosity,
                                                     plant->groups[g].available_head, plant->groups[g].approved_rate,
                                                     false)
                : WR_NEVER;
        wr_build_wash(&plant->definition->wash, &plant->groups[g]);
        plant->largest_room = fmax(plant->largest_room, plant->groups[g].room);
        plant->filter_count += groups->items[g].filters;
    }
    return WR_OK;
}

static size_t place(size_t *next, size_t bytes)
{
    const size_t first = *next;
    *next += (bytes + 15) / 16 * 16;
    return first;
}

static void lay_out(struct wr_plant *plant)
{
    struct wr_layout *l = &plant->layout;
    size_t next = 0;
    place(&next, sizeof(struct wr_state));
    l->timers = place(&next, wr_timers_size(plant->timers.count));
    l->packs = place(&next, plant->group_count * sizeof(struct wr_pack));
    l->filters = place(&next, plant->filter_count * sizeof(struct wr_filter));
    l->line = place(&next, plant->filter_count * sizeof(uint32_t));
    l->lone = place(&next, plant->filter_count * sizeof(uint32_t));
    l->takers = place(&next, (plant->group_count + plant->filter_count) * WR_TAKER_BYTES);
    l->tanks = place(&next, plant->tank_count * sizeof(struct wr_tank));
    l->wells = place(&next, plant->well_count * sizeof(struct wr_well_state));
    l->outlets = place(&next, plant->outlet_count * sizeof(struct wr_outlet_state));
    l->outages = place(&next, plant->outage_count);
    l->lines = place(&next, wr_ledger_lines(plant) * sizeof(struct wr_entry));
    l->rounding = place(&next, wr_ledger_account_count(plant) * sizeof(double));
    l->size = next;
}

static bool has_outlet(const struct wr_definition *d, int kind)
{
    for (size_t o = 0; o < d->spent_wash.outlets.count; o++)
        if (d->spent_wash.outlets.items[o].kind == kind)
            return true;
    return false;
}

static bool has_well_times(const struct wr_definition *d)
{
    for (size_t w = 0; w < d->wells.count; w++)
        if (d->wells.items[w].minimum_run > 0 || d->wells.items[w].minimum_rest > 0)
            return true;
    return false;
}

static bool has_daily_volumes(const struct wr_definition *definition)
{
    for (size_t o = 0; o < definition->spent_wash.outlets.count; o++)
        if (wr_is_given(definition->spent_wash.outlets.items[o].daily_volume))
            return true;
    return false;
}

/* Hours come round in a week, hauling, drawing of sludge and rotas in their own time. */
static double clocks_round(const struct wr_definition *definition)
{
    const struct wr_wash *wash = &definition->wash;
    const struct wr_sludge_definition *sludge = &definition->spent_wash.sludge;
    double longest = 7 * 86400.0;
    if (definition->spent_wash.has_blanket && sludge->drawn == WR_SLUDGE_BY_CALENDAR)
        longest = fmax(longest, sludge->every);
    if (wr_is_given(wash->holding.emptied_every))
        longest = fmax(longest, wash->holding.emptied_every);
    for (size_t r = 0; r < wash->rota.count; r++)
        if (wr_is_given(wash->rota.items[r].every))
            longest = fmax(longest, wash->rota.items[r].every);
    return longest;
}

static double wash_flow(const struct wr_wash_water *water)
{
    const double flow = wr_is_given(water->max_flow) ? water->max_flow : WR_NEVER;
    return water->source == WR_WATER_FROM_SYSTEM ? fmin(flow, water->draw_limit) : flow;
}

enum wr_status wr_plant_init(struct wr_plant *plant, const struct wr_definition *definition)
{
    *plant = (struct wr_plant){.definition = definition, .train_count = 1};
    plant->group_count = definition->filters.count;
    plant->well_count = definition->wells.count;
    plant->tank_count = definition->spent_wash.tanks.count;
    plant->outlet_count = definition->spent_wash.outlets.count;
    plant->outage_count = definition->outages.count;
    plant->rota_count = definition->wash.rota.count;
    plant->has_settling = definition->spent_wash.settling.law != WR_SETTLING_NONE;
    plant->has_recycle = has_outlet(definition, WR_OUTLET_RECYCLE);
    plant->has_well_times = has_well_times(definition);
    plant->has_daily_volumes = has_daily_volumes(definition);
    plant->flows_may_stand =
        (plant->tank_count == 0 || plant->has_settling) && definition->over_approved_rate != WR_OVER_RATE_RISES;
    plant->clocks_round = clocks_round(definition);
    plant->wash_flow = wash_flow(&definition->wash_water);
    plant->approved_capacity = wr_given_or(definition->approved_capacity, WR_NEVER);
    plant->groups = calloc(plant->group_count, sizeof *plant->groups);
    enum wr_status status = plant->groups != NULL ? wr_build_water(plant) : WR_NO_MEMORY;
    if (status == WR_OK)
        status = build_groups(plant);
    if (status == WR_OK)
        status = wr_build_names(plant);
    if (status == WR_OK)
        status = wr_build_units(plant);
    if (status == WR_OK)
        status = wr_build_spent(plant);
    if (status != WR_OK) {
        wr_plant_fini(plant);
        return status;
    }
    wr_build_demand(plant);
    wr_build_timers(plant);
    lay_out(plant);
    return WR_OK;
}

void wr_plant_fini(struct wr_plant *plant)
{
    for (size_t f = 0; plant->names != NULL && f < plant->filter_count; f++)
        free(plant->names[f]);
    free(plant->names);
    free(plant->group_of);
    free(plant->units);
    free(plant->rota_of);
    free(plant->well_water);
    free((void *)(uintptr_t)plant->particles.classes);
    free(plant->groups);
    *plant = (struct wr_plant){0};
}
