/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/firm.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double DAY = 86400;

/* Days that a firm run lasts: long enough for any slow loss of storage to show. */
static const double FIRM_DAYS = 365;

/* The ladder ends this far above what wells and filters could give at most: no plant passes there. */
static const double LADDER_TOP = 1.05;

/* Width of the final bracket, as a share of its upper end. */
static const double BRACKET = 1e-5;

/* One search's definition: the author's, with demand, outages and start replaced. */
struct trial {
    struct wr_definition definition;
    struct wr_outage out;
};

/* Storage starts at the lowest off level of the wells, so that no full tank can flatter the answer. */
static double start_level(const struct wr_definition *d)
{
    double least = 1;
    for (size_t w = 0; w < d->wells.count; w++)
        least = fmin(least, d->wells.items[w].off_above);
    return least;
}

static void trial_init(struct trial *trial, const struct wr_definition *definition, const char *unit_out)
{
    trial->definition = *definition;
    trial->definition.horizon = FIRM_DAYS * DAY;
    trial->definition.storage.start_level = start_level(definition);
    trial->out = (struct wr_outage){.unit = (char *)(uintptr_t)unit_out, .from = 0, .until = WR_ABSENT};
    trial->definition.outages = (struct wr_outages){.items = &trial->out, .count = unit_out != NULL};
}

/* Runs one demand. Demand met, reserve and approved rate kept: not_short. */
static struct wr_rung try_demand(struct wr_search *search, struct trial *trial, double demand, enum wr_run_stops stops,
                                 bool *not_short)
{
    struct wr_run run;
    const struct wr_run_options options = {.stops = stops, .must_return = true};
    trial->definition.demand.maximum_day = demand;
    wr_run_make(&run, &trial->definition, &options);
    search->runs++;
    struct wr_rung rung = {
        .demand = demand, .passes = run.passes, .finding = WR_FINDINGS, .limit = WR_LIMIT_NONE, .where = WR_NOWHERE};
    if (run.end != WR_RUN_WHOLE && search->end == WR_RUN_WHOLE) {
        search->end = run.end;
        memcpy(search->message, run.message, sizeof search->message);
    }
    if (run.end == WR_RUN_WHOLE && run.record.failed) {
        rung.finding = run.record.failed_kind;
        rung.limit = run.record.failed_limit;
        rung.where = run.record.failed_where;
        rung.at = run.record.failed_at;
    }
    *not_short = run.end == WR_RUN_WHOLE && run.record.findings[WR_FINDING_UNMET_DEMAND][WR_LIMITS].times == 0 &&
                 run.record.findings[WR_FINDING_RESERVE_USED][WR_LIMITS].times == 0;
    wr_run_fini(&run);
    return rung;
}

/* Marks low-flow failures: not short, and a higher rung passes. Finds whether pass and fail make a staircase. */
static void read_ladder(struct wr_search *search, const bool *not_short)
{
    bool passes_above = false;
    search->monotone = true;
    for (size_t r = search->rungs; r-- > 0;) {
        struct wr_rung *rung = &search->ladder[r];
        if (rung->passes)
            passes_above = true;
        else if (passes_above) {
            rung->low_flow = not_short[r];
            search->monotone = false;
        }
    }
}

static void climb(struct wr_search *search, struct trial *trial, double top)
{
    bool not_short[WR_RUNGS];
    for (size_t r = 0; r < WR_RUNGS && search->end == WR_RUN_WHOLE; r++) {
        search->ladder[r] = try_demand(search, trial, top * (double)(r + 1) / WR_RUNGS, WR_STOPS_SHORT, &not_short[r]);
        search->rungs = r + 1;
    }
    read_ladder(search, not_short);
}

/* The rungs between which the firm capacity lies: the highest pass below the first capacity failure, and the rung above
 * it. Without a pass it starts from no demand at all. */
static void bracket(struct wr_search *search)
{
    size_t failure = 0;
    while (failure < search->rungs && (search->ladder[failure].passes || search->ladder[failure].low_flow))
        failure++;
    size_t pass = failure;
    while (pass > 0 && !search->ladder[pass - 1].passes)
        pass--;
    search->ever_failed = pass < search->rungs;
    search->pass = pass > 0 ? search->ladder[pass - 1].demand : 0;
    search->fail = search->ever_failed ? search->ladder[pass].demand : search->pass;
    if (search->ever_failed)
        search->failing = search->ladder[pass];
}

static void refine(struct wr_search *search, struct trial *trial)
{
    while (search->end == WR_RUN_WHOLE && search->fail - search->pass > BRACKET * search->fail) {
        bool not_short;
        const double middle = (search->pass + search->fail) / 2;
        const struct wr_rung rung = try_demand(search, trial, middle, WR_STOPS_FAILED, &not_short);
        if (rung.passes)
            search->pass = middle;
        else {
            search->fail = middle;
            search->failing = rung;
        }
        if (search->fail < 1e-9 * search->ladder[search->rungs - 1].demand)
            break; /* nothing passes: firm is 0 */
    }
    search->firm = search->pass;
}

/* Greatest flow a filter may take, m3/s. */
static double approved_flow(const struct wr_plant *plant, size_t filter)
{
    const struct wr_group *g = &plant->groups[plant->group_of[filter]];
    return g->area * g->approved_rate;
}

/* What the filters could pass at most without one of them (or with all: the number of filters), m3/s. */
static double filters_flow(const struct wr_plant *plant, size_t without)
{
    double flow = 0;
    for (size_t f = 0; f < plant->filter_count; f++)
        if (f != without)
            flow += approved_flow(plant, f);
    return flow;
}

static double wells_flow(const struct wr_definition *d)
{
    double flow = 0;
    for (size_t w = 0; w < d->wells.count; w++)
        flow += d->wells.items[w].flow;
    return flow;
}

static void search_without(struct wr_search *search, const struct wr_plant *plant, size_t filter)
{
    *search = (struct wr_search){
        .end = WR_RUN_WHOLE, .monotone = true, .failing = {.finding = WR_FINDINGS, .limit = WR_LIMIT_NONE}};
    const double top = LADDER_TOP * fmin(filters_flow(plant, filter), wells_flow(plant->definition));
    if (top <= 0) {
        search->ever_failed = true;
        search->failing.limit = WR_LIMIT_NO_FILTER_IN_SERVICE;
        search->failing.finding = WR_FINDING_UNMET_DEMAND;
        search->failing.where = WR_NOWHERE;
        return;
    }
    struct trial trial;
    trial_init(&trial, plant->definition, filter < plant->filter_count ? plant->names[filter] : NULL);
    climb(search, &trial, top);
    if (search->end != WR_RUN_WHOLE)
        return;
    bracket(search);
    refine(search, &trial);
}

static size_t largest_filter(const struct wr_plant *plant)
{
    size_t largest = 0;
    for (size_t f = 1; f < plant->filter_count; f++)
        if (approved_flow(plant, f) > approved_flow(plant, largest))
            largest = f;
    return largest;
}

static void add_term(struct wr_firm *firm, const char *key, const char *words, double value, const char *unit)
{
    firm->terms[firm->term_count++] = (struct wr_term){.key = key, .words = words, .value = value, .unit = unit};
}

/* Area left x approved rate, less the water of the washes that such runs call for. */
static void work_out_nameplate(struct wr_firm *firm)
{
    const struct wr_plant *plant = &firm->plant;
    const double gross = filters_flow(plant, firm->unit_out);
    double area = 0, washes = 0, water = 0;
    for (size_t f = 0; f < plant->filter_count; f++) {
        if (f == firm->unit_out)
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

void wr_firm_make(struct wr_firm *firm, const struct wr_definition *definition)
{
    *firm = (struct wr_firm){
        .end = WR_RUN_WHOLE, .approved = definition->approved_capacity, .maximum_day = definition->demand.maximum_day};
    const enum wr_status status = wr_plant_init(&firm->plant, definition);
    if (status != WR_OK) {
        firm->end = status == WR_NO_MEMORY ? WR_RUN_NO_MEMORY : WR_RUN_BAD_PLANT;
        snprintf(firm->message, sizeof firm->message, "%s", wr_status_text(status));
        return;
    }
    firm->unit_out = largest_filter(&firm->plant);
    snprintf(firm->unit_name, sizeof firm->unit_name, "%s", firm->plant.names[firm->unit_out]);
    work_out_nameplate(firm);
    search_without(&firm->one_out, &firm->plant, firm->unit_out);
    take_end(firm, &firm->one_out);
    search_without(&firm->all_in, &firm->plant, firm->plant.filter_count);
    take_end(firm, &firm->all_in);
    firm->share_used = firm->one_out.firm > 0 ? firm->maximum_day / firm->one_out.firm : WR_NEVER;
    firm->passes = firm->end == WR_RUN_WHOLE && firm->share_used <= 1 + 1e-9;
}

void wr_firm_fini(struct wr_firm *firm)
{
    wr_plant_fini(&firm->plant);
}
