/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/plant.h"

#include "models/constant_head.h"
#include "models/fittings.h"
#include "models/headloss.h"
#include "models/media.h"
#include "models/solids.h"
#include "models/vessel.h"
#include "models/water.h"
#include "sim/engine/timers.h"
#include "sim/plant/ledger.h"
#include "sim/plant/state.h"

#include <assert.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Value of an optional quantity, or what stands in for it. */
static double given_or(double quantity, double otherwise)
{
    return wr_is_given(quantity) ? quantity : otherwise;
}

/* Water --------------------------------------------------------------------------------------------------------- */

/* Dry solids of a water: as given, or from its iron and manganese. */
static enum wr_status solids_of(const struct wr_raw_water *raw, double iron, double manganese, double suspended,
                                double *solids)
{
    if (wr_is_given(suspended)) {
        *solids = suspended;
        return WR_OK;
    }
    const struct wr_metals metals = {.iron = iron,
                                     .manganese = manganese,
                                     .solids_per_iron = raw->dry_solids_per_iron,
                                     .solids_per_manganese = raw->dry_solids_per_manganese};
    return wr_solids_from_metals(&metals, solids);
}

/* Raw water is the mean of the wells by their flows; a well's iron and manganese are the raw water's unless it says
 * otherwise, and solids follow them unless the raw water's are given. */
static enum wr_status build_water(struct wr_plant *plant)
{
    const struct wr_raw_water *raw = &plant->definition->raw_water;
    double flow = 0;
    plant->well_water = calloc(plant->well_count, sizeof *plant->well_water);
    if (plant->well_water == NULL)
        return WR_NO_MEMORY;
    for (size_t w = 0; w < plant->well_count; w++) {
        const struct wr_well *well = &plant->definition->wells.items[w];
        double *water = plant->well_water[w];
        water[WR_IRON] = given_or(well->iron, raw->iron);
        water[WR_MANGANESE] = given_or(well->manganese, raw->manganese);
        const enum wr_status status =
            solids_of(raw, water[WR_IRON], water[WR_MANGANESE], raw->suspended_solids, &water[WR_SOLIDS]);
        if (status != WR_OK)
            return status;
        flow += well->flow;
        for (int k = 0; k < WR_CONSTITUENTS; k++)
            plant->raw[k] += water[k] * well->flow;
    }
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        plant->raw[k] /= flow;
    return wr_water_viscosity(raw->temperature, &plant->viscosity);
}

/* Hours until a signal next differs from what it is in the given hour; 0 when it never does. */
static int hours_alike(const double *values, int hour)
{
    for (int ahead = 1; ahead < 24; ahead++) {
        const double then = values[(hour + ahead) % 24];
        if (then < values[hour] || then > values[hour])
            return ahead;
    }
    return 0;
}

static void build_demand(struct wr_plant *plant)
{
    const struct wr_demand *demand = &plant->definition->demand;
    double sum = 0;
    for (int hour = 0; hour < 24; hour++)
        sum += demand->hourly_factors[hour];
    for (int hour = 0; hour < 24; hour++)
        plant->demand.values[hour] = demand->maximum_day * (demand->hourly_factors[hour] * 24 / sum);
    for (int hour = 0; hour < 24; hour++)
        plant->demand.lasts[hour] = hours_alike(plant->demand.values, hour);
    plant->demand.phase = fmod(plant->definition->start, 86400);
}

/* Beds ---------------------------------------------------------------------------------------------------------- */

static enum wr_status clean_bed(const struct wr_media *media, double temperature, double *linear, double *quadratic)
{
    struct wr_water water;
    const enum wr_status status = wr_water_at(temperature, &water);
    *linear = *quadratic = 0;
    if (status != WR_OK || media->count == 0)
        return status;
    struct wr_layer *layers = calloc(media->count, sizeof *layers);
    if (layers == NULL)
        return WR_NO_MEMORY;
    for (size_t i = 0; i < media->count; i++) {
        const struct wr_media_layer *layer = &media->items[i];
        const struct wr_medium *known = wr_medium_find(layer->medium);
        layers[i] = (struct wr_layer){
            .depth = layer->depth,
            .grain_size = layer->grain_size,
            .porosity = given_or(layer->porosity, known != NULL ? known->porosity : WR_ABSENT),
            .viscous_constant = given_or(layer->viscous_constant, known != NULL ? known->viscous_constant : WR_ABSENT),
            .inertial_constant =
                given_or(layer->inertial_constant, known != NULL ? known->inertial_constant : WR_ABSENT)};
    }
    const enum wr_status answer = wr_headloss_clean(layers, media->count, water, linear, quadratic);
    free(layers);
    return answer;
}

/* An observed run in SI, with what the author left out taken from the raw water. */
static enum wr_status observed_run(const struct wr_plant *plant, const struct wr_filter_group *group, double area,
                                   struct wr_deposit_run *run)
{
    const struct wr_observed_run *o = &group->deposit.observed_run;
    const struct wr_raw_water *raw = &plant->definition->raw_water;
    run->clean_head = o->clean_differential;
    run->dirty_head = o->dirty_differential;
    run->rate = wr_is_given(o->rate) ? o->rate : o->flow / area;
    run->run_volume = wr_is_given(o->volume) ? o->volume : run->rate * o->hours;
    const bool other_metals = wr_is_given(o->iron) || wr_is_given(o->manganese);
    const enum wr_status status = solids_of(
        raw, given_or(o->iron, raw->iron), given_or(o->manganese, raw->manganese),
        other_metals ? o->suspended_solids : given_or(o->suspended_solids, raw->suspended_solids), &run->solids);
    return status != WR_OK ? status : wr_water_viscosity(given_or(o->temperature, raw->temperature), &run->viscosity);
}

/* The clean differential that was seen tells what pipes and valves add to the bed's own headloss; without media all of
 * it stands for the bed, in proportion to rate and viscosity. */
static enum wr_status fit_clean_head(struct wr_plant *plant, const struct wr_filter_group *group, struct wr_group *g,
                                     const struct wr_deposit_run *run)
{
    const double temperature =
        given_or(group->deposit.observed_run.temperature, plant->definition->raw_water.temperature);
    if (group->media.count == 0) {
        const double rest = run->clean_head - g->fittings_quadratic * run->rate * run->rate;
        g->clean_linear = rest / run->rate * (plant->viscosity / run->viscosity);
        return rest >= 0 ? WR_OK : WR_CLEAN_BELOW_FITTINGS;
    }
    if (wr_is_given(group->fittings_headloss))
        return WR_OK;
    double linear, quadratic;
    const enum wr_status status = clean_bed(&group->media, temperature, &linear, &quadratic);
    const double rest = run->clean_head - (linear + quadratic * run->rate) * run->rate;
    if (status == WR_OK && rest < 0)
        return WR_CLEAN_BELOW_BED;
    return status != WR_OK ? status : wr_fittings_coefficient(rest, run->rate, &g->fittings_quadratic);
}

static enum wr_status fit_observed_run(struct wr_plant *plant, const struct wr_filter_group *group, struct wr_group *g)
{
    struct wr_deposit_run run;
    enum wr_status status = observed_run(plant, group, g->area, &run);
    if (status != WR_OK)
        return status;
    double load;
    status = wr_deposit_run_load(&run, &load);
    if (status != WR_OK)
        return status;
    g->deposit.reference_rate = run.rate;
    g->deposit.reference_viscosity = run.viscosity;
    g->deposit.reference_load = given_or(group->deposit.reference_load, load);
    status = wr_deposit_run_slope(&run, &g->deposit, &g->deposit.slope);
    return status != WR_OK ? status : fit_clean_head(plant, group, g, &run);
}

static enum wr_status build_bed(struct wr_plant *plant, const struct wr_filter_group *group, struct wr_group *g)
{
    g->area = group->area;
    enum wr_status status = WR_OK;
    if (wr_is_given(group->diameter))
        status = wr_vessel_area(group->diameter, &g->area);
    g->approved_rate = group->approved_rate;
    g->available_head = group->available_head;
    if (status == WR_OK)
        status =
            clean_bed(&group->media, plant->definition->raw_water.temperature, &g->clean_linear, &g->clean_quadratic);
    if (status == WR_OK && wr_is_given(group->fittings_headloss))
        status = wr_fittings_coefficient(group->fittings_headloss, g->approved_rate, &g->fittings_quadratic);
    if (status != WR_OK)
        return status;
    g->deposit = (struct wr_deposit){.slope = given_or(group->deposit.slope, 0),
                                     .reference_rate = g->approved_rate,
                                     .reference_viscosity = plant->viscosity,
                                     .exponent = group->deposit.exponent,
                                     .reference_load = given_or(group->deposit.reference_load, 1)};
    if (group->deposit.has_observed_run)
        status = fit_observed_run(plant, group, g);
    return status != WR_OK ? status : wr_deposit_check(&g->deposit);
}

/* Wash ---------------------------------------------------------------------------------------------------------- */

/* Adds a step, unless it has no length. */
static void add_step(struct wr_group *g, const struct wr_step *step)
{
    if (step->duration <= 0)
        return;
    g->steps[g->step_count++] = *step;
    g->wash_volume += step->wash_flow * step->duration;
    g->peak_flow = fmax(g->peak_flow, step->wash_flow);
    if (step->to == WR_TO_SPENT) {
        g->backwash_volume += step->wash_flow * step->duration;
        g->room += step->wash_flow * step->duration;
    }
    g->room += (step->feed_flow + step->drain_flow) * step->duration;
    g->off_line += step->duration;
}

static void add_still(struct wr_group *g, enum wr_step_kind kind, double duration)
{
    add_step(g, &(struct wr_step){.kind = kind, .duration = duration});
}

/* A volume moved in a time; nothing where there is no volume. */
static double flow_of(double volume, double time)
{
    return time > 0 ? volume / time : 0;
}

/* Water above the bed is passed on (gravity filters), then drained or dumped, then air scours. */
static void add_opening(const struct wr_wash *wash, struct wr_group *g)
{
    const double down = flow_of(wash->filter_down_depth * g->area, wash->filter_down_time);
    const double drain = flow_of(wash->drain_depth * g->area, wash->drain_time);
    const bool gravity = wash->sequence == WR_TEMPLATE_GRAVITY;
    if (gravity)
        add_step(g,
                 &(struct wr_step){.kind = WR_STEP_FILTER_DOWN, .duration = wash->filter_down_time, .down_flow = down});
    if (gravity || wash->sequence == WR_TEMPLATE_PRESSURE_AIR) {
        add_step(g, &(struct wr_step){.kind = WR_STEP_DRAIN, .duration = wash->drain_time, .drain_flow = drain});
        add_still(g, WR_STEP_AIR, wash->air_time);
        g->air = wash->air_time > 0;
    }
}

/* What opening took out of a filter comes back as wash water: before the backwash in a pressure filter, after it in a
 * gravity filter. */
static void add_filling(const struct wr_wash *wash, struct wr_group *g, enum wr_step_kind kind)
{
    const bool gravity = wash->sequence == WR_TEMPLATE_GRAVITY;
    const double depth = wash->drain_depth + (gravity ? wash->filter_down_depth : 0);
    const double rate = given_or(wash->fill_rate, wash->backwash_rate / 2);
    add_step(
        g, &(struct wr_step){.kind = kind, .duration = depth / rate, .wash_flow = rate * g->area, .to = WR_TO_FILTER});
}

/* Each ramp runs at half rate, and the two together pass the water of one ramp's time at full rate, which the full-rate
 * step gives up. */
static void add_backwash(const struct wr_wash *wash, struct wr_group *g)
{
    const double flow = wash->backwash_rate * g->area;
    add_step(g, &(struct wr_step){.kind = WR_STEP_SLOW_START, .duration = wash->ramp_time, .wash_flow = flow / 2});
    add_step(g, &(struct wr_step){
                    .kind = WR_STEP_BACKWASH, .duration = wash->backwash_time - wash->ramp_time, .wash_flow = flow});
    add_step(g, &(struct wr_step){.kind = WR_STEP_SLOW_STOP, .duration = wash->ramp_time, .wash_flow = flow / 2});
}

static void build_wash(const struct wr_wash *wash, struct wr_group *g)
{
    const double rinse = given_or(wash->rinse_rate, g->approved_rate) * g->area;
    const double regenerant = flow_of(wash->regenerant_depth * g->area, wash->regenerate_time);
    add_still(g, WR_STEP_SHUT, wash->valve_travel);
    add_opening(wash, g);
    if (wash->sequence == WR_TEMPLATE_PRESSURE_AIR)
        add_filling(wash, g, WR_STEP_FILL);
    add_backwash(wash, g);
    add_still(g, WR_STEP_BED_SETTLE, wash->bed_settle);
    if (wash->sequence == WR_TEMPLATE_BATCH_REGENERATION)
        add_step(g, &(struct wr_step){.kind = WR_STEP_REGENERATE,
                                      .duration = wash->regenerate_time,
                                      .wash_flow = regenerant,
                                      .to = WR_TO_SEWER});
    if (wash->sequence == WR_TEMPLATE_GRAVITY)
        add_filling(wash, g, WR_STEP_REFILL);
    add_still(g, WR_STEP_TURN_VALVES, wash->valve_travel);
    add_step(g, &(struct wr_step){.kind = WR_STEP_RINSE, .duration = wash->rinse_time, .feed_flow = rinse});
    add_still(g, WR_STEP_RETURN, wash->valve_travel);
}

/* Filters ------------------------------------------------------------------------------------------------------- */

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
        const enum wr_status status = build_bed(plant, &groups->items[g], &plant->groups[g]);
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
        build_wash(&plant->definition->wash, &plant->groups[g]);
        plant->largest_room = fmax(plant->largest_room, plant->groups[g].room);
        plant->filter_count += groups->items[g].filters;
    }
    return WR_OK;
}

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

static enum wr_status name_filters(struct wr_plant *plant)
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

/* The units that outages and rota name; the reader has checked the names. */
static enum wr_status find_units(struct wr_plant *plant)
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

/* Timers and layout --------------------------------------------------------------------------------------------- */

static size_t take(size_t *next, size_t count)
{
    const size_t first = *next;
    *next += count;
    return first;
}

static void number_timers(struct wr_plant *plant)
{
    struct wr_timer_map *map = &plant->timers;
    size_t next = 0;
    map->signal = take(&next, 1);
    map->outages = take(&next, plant->outage_count);
    map->tanks = take(&next, plant->tank_count);
    map->steps = take(&next, plant->filter_count);
    map->storage = take(&next, 1);
    map->wash_water = take(&next, 1);
    map->rooms = take(&next, plant->tank_count);
    map->wells = take(&next, plant->well_count);
    map->window = take(&next, 1);
    map->attended = take(&next, 1);
    map->outlets = take(&next, plant->outlet_count);
    map->midnight = take(&next, 1);
    map->gap = take(&next, 1);
    map->mixing = take(&next, 1);
    map->heads = take(&next, plant->group_count);
    map->stretches = take(&next, plant->filter_count);
    map->rota = take(&next, plant->rota_count);
    map->calls = take(&next, plant->group_count);
    map->filter_calls = take(&next, plant->filter_count);
    map->count = next;
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
    plant->approved_capacity = given_or(definition->approved_capacity, WR_NEVER);
    plant->groups = calloc(plant->group_count, sizeof *plant->groups);
    enum wr_status status = plant->groups != NULL ? build_water(plant) : WR_NO_MEMORY;
    if (status == WR_OK)
        status = build_groups(plant);
    if (status == WR_OK)
        status = name_filters(plant);
    if (status == WR_OK)
        status = find_units(plant);
    if (status != WR_OK) {
        wr_plant_fini(plant);
        return status;
    }
    build_demand(plant);
    number_timers(plant);
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
    free(plant->groups);
    *plant = (struct wr_plant){0};
}

/* Heads --------------------------------------------------------------------------------------------------------- */

double wr_group_head(const struct wr_group *group, double viscosity, double load, double rate, bool bed_only)
{
    const double linear = group->clean_linear + wr_deposit_resistance(&group->deposit, fmax(0, load), viscosity);
    const double quadratic = group->clean_quadratic + (bed_only ? 0 : group->fittings_quadratic);
    return (linear + quadratic * rate) * rate;
}

double wr_group_load_at_head(const struct wr_group *group, double viscosity, double head, double rate, bool bed_only)
{
    const double quadratic = group->clean_quadratic + (bed_only ? 0 : group->fittings_quadratic);
    const double resistance = head / rate - quadratic * rate - group->clean_linear;
    if (resistance <= 0)
        return 0;
    return group->deposit.slope > 0 ? wr_deposit_load(&group->deposit, resistance, viscosity) : WR_NEVER;
}

/* Rise in a filter's resistance over which its rate at available head is held. */
static const double STRETCH = 0.01;

double wr_group_stretch(const struct wr_group *group, double viscosity, double load, double *end)
{
    const double linear = group->clean_linear + wr_deposit_resistance(&group->deposit, fmax(0, load), viscosity);
    *end = wr_deposit_load(&group->deposit, linear * (1 + STRETCH) - group->clean_linear, viscosity);
    return wr_constant_head_rate(group->available_head, linear * (1 + STRETCH / 2),
                                 group->clean_quadratic + group->fittings_quadratic);
}

/* Load at which a differential, taken as the plant takes it, stands at a level. */
static double differential_load(const struct wr_plant *plant, const struct wr_group *group, double level, double rate)
{
    const struct wr_triggers *t = &plant->definition->wash.triggers;
    if (!wr_is_given(level) || rate <= 0)
        return WR_NEVER;
    /* Corrected: as measured x approved rate / rate now; so the measured head at which it fires is scaled down. */
    const double head = t->differential_as == WR_AS_CORRECTED ? level * (rate / group->approved_rate) : level;
    return wr_group_load_at_head(group, plant->viscosity, head, rate, t->across == WR_ACROSS_BED);
}

double wr_plant_trigger_load(const struct wr_plant *plant, const struct wr_group *group, double rate)
{
    return differential_load(plant, group, plant->definition->wash.triggers.differential, rate);
}

double wr_plant_urgent_load(const struct wr_plant *plant, const struct wr_group *group, double rate)
{
    return differential_load(plant, group, plant->definition->wash.triggers.urgent_differential, rate);
}

/* Runs ---------------------------------------------------------------------------------------------------------- */

static bool is_out_at_start(const struct wr_plant *plant, size_t filter)
{
    for (size_t o = 0; o < plant->outage_count; o++)
        if (wr_plant_outage_takes(plant, o, filter) && plant->definition->outages.items[o].from <= 0)
            return true;
    return false;
}

double wr_plant_mean_rate(const struct wr_plant *plant)
{
    double area = 0, least = WR_NEVER;
    for (size_t f = 0; f < plant->filter_count; f++) {
        if (is_out_at_start(plant, f))
            continue;
        area += plant->groups[plant->group_of[f]].area;
        least = fmin(least, plant->groups[plant->group_of[f]].approved_rate);
    }
    return area > 0 ? fmin(plant->definition->demand.maximum_day / area, least) : 0;
}

double wr_plant_run_time(const struct wr_plant *plant, const struct wr_group *group, double rate, double solids)
{
    const struct wr_triggers *t = &plant->definition->wash.triggers;
    double time = WR_NEVER;
    if (rate <= 0)
        return time;
    const double load = wr_plant_trigger_load(plant, group, rate);
    if (isfinite(load) && solids > 0)
        time = load / (solids * rate);
    if (wr_is_given(t->run_hours))
        time = fmin(time, t->run_hours);
    if (wr_is_given(t->volume))
        time = fmin(time, t->volume / rate);
    return time;
}

/* Names --------------------------------------------------------------------------------------------------------- */

void wr_plant_timer_name(const struct wr_plant *plant, size_t timer, char *text, size_t size)
{
    const struct wr_timer_map *m = &plant->timers;
    const struct wr_spent_tanks *tanks = &plant->definition->spent_wash.tanks;
    const struct wr_filter_groups *groups = &plant->definition->filters;
    if (timer == m->signal)
        snprintf(text, size, "demand changes");
    else if (timer < m->tanks)
        snprintf(text, size, "outage of %s", plant->definition->outages.items[timer - m->outages].unit);
    else if (timer < m->steps)
        snprintf(text, size, "spent-wash tank %s", tanks->items[timer - m->tanks].name);
    else if (timer < m->storage)
        snprintf(text, size, "wash step of %s", plant->names[timer - m->steps]);
    else if (timer == m->storage)
        snprintf(text, size, "storage level");
    else if (timer == m->wash_water)
        snprintf(text, size, "wash water");
    else if (timer < m->wells)
        snprintf(text, size, "room in spent-wash tank %s", tanks->items[timer - m->rooms].name);
    else if (timer < m->window)
        snprintf(text, size, "least run or rest of %s", plant->definition->wells.items[timer - m->wells].name);
    else if (timer == m->window)
        snprintf(text, size, "wash hours");
    else if (timer == m->attended)
        snprintf(text, size, "attended hours");
    else if (timer < m->midnight)
        snprintf(text, size, "outlet %zu of spent wash", timer - m->outlets + 1);
    else if (timer == m->midnight)
        snprintf(text, size, "midnight");
    else if (timer == m->gap)
        snprintf(text, size, "time between wash starts");
    else if (timer == m->mixing)
        snprintf(text, size, "mix of unsettled spent wash");
    else if (timer < m->stretches)
        snprintf(text, size, "available head of group %s", groups->items[timer - m->heads].name);
    else if (timer < m->rota)
        snprintf(text, size, "available head of %s", plant->names[timer - m->stretches]);
    else if (timer < m->calls)
        snprintf(text, size, "rota of %s", plant->names[plant->rota_of[timer - m->rota]]);
    else if (timer < m->filter_calls)
        snprintf(text, size, "wash trigger of group %s", groups->items[timer - m->calls].name);
    else
        snprintf(text, size, "wash trigger of %s", plant->names[timer - m->filter_calls]);
}
