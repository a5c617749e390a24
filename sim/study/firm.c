/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/firm.h"

#include "sim/plant/mean_run.h"
#include "sim/plant/units.h"
#include "sim/study/ladder.h"
#include "sim/study/largest.h"
#include "sim/study/lift.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

static const double DAY = 86400;

/* The ladder ends this far above what wells and filters could give at most: no plant passes there. */
static const double LADDER_TOP = 1.05;

/* A demand above what wells, and filters without one vessel, could give. */
static double top_of(const struct wr_plant *plant, size_t filter_out)
{
    /* Where the rate may rise the filters bound nothing. */
    const double filters =
        plant->definition->over_approved_rate == WR_OVER_RATE_RISES && wr_filters_flow(plant, filter_out) > 0
            ? WR_NEVER
            : wr_filters_flow(plant, filter_out);
    return LADDER_TOP * fmin(filters, wr_wells_flow(plant->definition));
}

static void add_term(struct wr_firm *firm, const char *key, const char *words, double value, const char *unit)
{
    firm->terms[firm->term_count++] = (struct wr_term){.key = key, .words = words, .value = value, .unit = unit};
}

/* Area left x approved rate, less the water of the washes that such runs call for. */
static void work_out_nameplate(struct wr_firm *firm)
{
    const struct wr_plant *plant = &firm->plant;
    const double gross = wr_filters_flow(plant, firm->unit_out);
    double area = 0, washes = 0, water = 0;
    for (size_t f = 0; f < plant->filter_count; f++) {
        if (wr_plant_shares_vessel(plant, firm->unit_out, f))
            continue;
        const struct wr_group *g = &plant->groups[plant->group_of[f]];
        const double run = wr_plant_run_time(plant, g, g->approved_rate, plant->raw[WR_SOLIDS]);
        area += g->area;
        washes += DAY / run;
        water += g->room / run;
    }
    firm->nameplate = fmax(0, gross - water);
    add_term(firm, "area_left", "filter area left", area, "m2");
    add_term(firm, "approved_rate", "approved rate", area > 0 ? gross / area : 0, "m/s");
    add_term(firm, "gross", "area left x approved rate", gross, "m3/s");
    add_term(firm, "washes_per_day", "washes a day at that rate", washes, "1/d");
    add_term(firm, "water_per_wash", "backwash and rinse water of a wash", washes > 0 ? water * DAY / washes : 0, "m3");
    add_term(firm, "wash_water", "less wash and rinse water", water, "m3/s");
}

static void take_end(struct wr_firm *firm, const struct wr_search *search)
{
    if (firm->end != WR_RUN_WHOLE || search->end == WR_RUN_WHOLE)
        return;
    firm->end = search->end;
    memcpy(firm->message, search->message, sizeof firm->message);
}

/* Units in turn -------------------------------------------------------------------------------------------------- */

static void add_unit(struct wr_firm *firm, const char *name, bool has_another_way)
{
    struct wr_unit_out *unit = &firm->units[firm->unit_count++];
    *unit = (struct wr_unit_out){.has_another_way = has_another_way,
                                 .limit = WR_LIMIT_NONE,
                                 .outlet_limit = WR_LIMIT_NONE,
                                 .lasts = WR_NEVER,
                                 .ends = WR_FINDINGS};
    snprintf(unit->name, sizeof unit->name, "%s", name);
}

/* How long the plant as described lasts on its maximum day without a unit that nothing can stand in for. */
static void try_lasting(struct wr_firm *firm, struct wr_unit_out *unit)
{
    struct wr_trial trial;
    struct wr_run run;
    wr_trial_init(&trial, firm->plant.definition, unit->name);
    trial.definition.storage.start_level = firm->plant.definition->storage.start_level;
    wr_run_make(&run, &trial.definition, &(struct wr_run_options){.stops_on_failure = true});
    if (run.end == WR_RUN_WHOLE && run.record.failed) {
        unit->lasts = run.record.failed_at;
        unit->ends = run.record.failed_kind;
    }
    wr_run_fini(&run);
}

static bool has_outlet_besides_recycle(const struct wr_definition *d)
{
    for (size_t o = 0; o < d->spent_wash.outlets.count; o++)
        if (d->spent_wash.outlets.items[o].kind != WR_OUTLET_RECYCLE)
            return true;
    return false;
}

/* The units to be taken out in turn, the largest filter first. */
static void list_units(struct wr_firm *firm)
{
    const struct wr_definition *d = firm->plant.definition;
    add_unit(firm, firm->unit_name, true);
    add_unit(firm, d->wells.items[wr_largest_well(d)].name, d->wells.count > 1);
    if (d->spent_wash.tanks.count > 0)
        add_unit(firm, d->spent_wash.tanks.items[wr_largest_tank(d)].name, d->spent_wash.tanks.count > 1);
    if (firm->plant.has_recycle)
        add_unit(firm, "recycle pump", has_outlet_besides_recycle(d));
    add_unit(firm, "wash pump", false);
}

/* The same search with the limiting factor lifted. */
static void try_lifted(struct wr_firm *firm, struct wr_search *found)
{
    struct wr_lifted lifted;
    struct wr_plant plant;
    if (firm->one_out.failing.limit == WR_LIMIT_NONE || !wr_lift(&lifted, &firm->plant, firm->one_out.failing.limit))
        return;
    if (wr_plant_init(&plant, &lifted.definition) == WR_OK) {
        wr_search_make(found, &lifted.definition, firm->unit_name, top_of(&plant, firm->unit_out));
        firm->has_lifted = true;
        firm->lifted = (struct wr_if_lifted){firm->one_out.failing.limit, found->firm, found->failing.limit};
        wr_plant_fini(&plant);
    }
    wr_lifted_fini(&lifted);
}

/* Searches that do not lean on each other, each with a place of its own. The first is the longest: that with the
 * largest filter out, and the one with its limit lifted, which follows from it. */
enum { SEARCH_ONE_OUT, SEARCH_ALL_IN, SEARCH_UNITS };

struct searches {
    struct wr_firm *firm;
    struct wr_search lifted, units[WR_UNITS_OUT];
};

static void search_unit(struct wr_firm *firm, struct wr_unit_out *unit, struct wr_search *found)
{
    if (!unit->has_another_way) {
        try_lasting(firm, unit);
        return;
    }
    wr_search_make(found, firm->plant.definition, unit->name, top_of(&firm->plant, firm->plant.filter_count));
    unit->firm = found->firm;
    unit->limit = found->failing.limit;
    if (found->failing.outlet_share > 0.5)
        unit->outlet_limit = found->failing.outlet_limit;
}

static void search_item(void *context, size_t item)
{
    struct searches *searches = context;
    struct wr_firm *firm = searches->firm;
    if (item == SEARCH_ALL_IN)
        wr_search_make(&firm->all_in, firm->plant.definition, NULL, top_of(&firm->plant, firm->plant.filter_count));
    else if (item >= SEARCH_UNITS) {
        const size_t unit = item - SEARCH_UNITS + 1;
        search_unit(firm, &firm->units[unit], &searches->units[unit]);
    } else {
        wr_search_make(&firm->one_out, firm->plant.definition, firm->unit_name, top_of(&firm->plant, firm->unit_out));
        if (firm->one_out.end == WR_RUN_WHOLE)
            try_lifted(firm, &searches->lifted);
    }
}

/* Plant firm capacity: the least over the units that have another way. */
static void take_least(struct wr_firm *firm)
{
    firm->units[0].firm = firm->plant_firm = firm->one_out.firm;
    firm->units[0].limit = firm->one_out.failing.limit;
    for (size_t u = 1; u < firm->unit_count; u++)
        if (firm->units[u].has_another_way && firm->units[u].firm < firm->plant_firm) {
            firm->plant_firm = firm->units[u].firm;
            firm->plant_unit = u;
        }
}

static void search_all(struct wr_firm *firm, struct wr_workers *workers)
{
    struct searches searches = {.firm = firm, .lifted.end = WR_RUN_WHOLE};
    for (size_t u = 0; u < WR_UNITS_OUT; u++)
        searches.units[u].end = WR_RUN_WHOLE;
    list_units(firm);
    const size_t items = SEARCH_UNITS + firm->unit_count - 1;
    if (workers != NULL)
        workers->expected = items;
    if (wr_workers_each(workers, items, search_item, &searches) < items) {
        firm->end = WR_RUN_STOPPED;
        snprintf(firm->message, sizeof firm->message, "the search was interrupted");
        return;
    }
    assert(firm->unit_count <= WR_UNITS_OUT);
    take_end(firm, &firm->one_out);
    take_end(firm, &firm->all_in);
    for (size_t u = 1; u < firm->unit_count; u++)
        take_end(firm, &searches.units[u]);
    take_end(firm, &searches.lifted);
    take_least(firm);
}

/* The maximum day of today: it may fall among the low-flow failures below the firm capacity. */
static void try_today(struct wr_firm *firm)
{
    struct wr_search once = {.end = WR_RUN_WHOLE};
    struct wr_trial trial;
    if (firm->end != WR_RUN_WHOLE || firm->one_out.firm <= 0)
        return;
    wr_trial_init(&trial, firm->plant.definition, firm->unit_name);
    firm->today = wr_search_try(&once, &trial, firm->maximum_day);
    take_end(firm, &once);
}

void wr_firm_make(struct wr_firm *firm, const struct wr_definition *definition, struct wr_workers *workers)
{
    *firm = (struct wr_firm){
        .end = WR_RUN_WHOLE, .approved = definition->approved_capacity, .maximum_day = definition->demand.maximum_day};
    const enum wr_status status = wr_plant_init(&firm->plant, definition);
    if (status != WR_OK) {
        firm->end = status == WR_NO_MEMORY ? WR_RUN_NO_MEMORY : WR_RUN_BAD_PLANT;
        snprintf(firm->message, sizeof firm->message, "%s", wr_status_text(status));
        return;
    }
    firm->unit_out = wr_largest_filter(&firm->plant);
    snprintf(firm->unit_name, sizeof firm->unit_name, "%s", firm->plant.names[firm->unit_out]);
    work_out_nameplate(firm);
    search_all(firm, workers);
    firm->share_used = firm->one_out.firm > 0 ? firm->maximum_day / firm->one_out.firm : WR_NEVER;
    try_today(firm);
    firm->passes = firm->end == WR_RUN_WHOLE && firm->share_used <= 1 + 1e-9 && firm->today.passes;
}

void wr_firm_fini(struct wr_firm *firm)
{
    wr_plant_fini(&firm->plant);
}

bool wr_firm_search(struct wr_search *found, const struct wr_definition *definition)
{
    struct wr_plant plant;
    const enum wr_status status = wr_plant_init(&plant, definition);
    *found = (struct wr_search){.end = status == WR_NO_MEMORY ? WR_RUN_NO_MEMORY : WR_RUN_BAD_PLANT};
    if (status != WR_OK) {
        snprintf(found->message, sizeof found->message, "%s", wr_status_text(status));
        return false;
    }
    const size_t out = wr_largest_filter(&plant);
    wr_search_make(found, definition, plant.names[out], top_of(&plant, out));
    wr_plant_fini(&plant);
    return found->end == WR_RUN_WHOLE;
}
