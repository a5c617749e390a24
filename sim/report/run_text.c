/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/report.h"
#include "sim/report/say.h"
#include "sim/study/ability.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Head ------------------------------------------------------------------------------------------------------------ */

static void say_outage(struct wr_page *s, const struct wr_plant *plant, size_t outage)
{
    const struct wr_definition *d = plant->definition;
    const struct wr_outage *o = &d->outages.items[outage];
    wr_page_add(s, " %s is out of service", plant->definition->outages.items[outage].unit);
    if (o->from > 0)
        wr_page_add(s, " from %s", wr_say_moment(d->start, o->from).text);
    if (wr_is_given(o->until) && o->until < d->horizon)
        wr_page_add(s, " until %s.", wr_say_moment(d->start, o->until).text);
    else
        wr_page_add(s, o->from > 0 ? " to the end." : " throughout.");
}

static void put_head(struct wr_page *page, const struct wr_subject *subject, const struct wr_plant *plant,
                     enum wr_units units)
{
    const struct wr_definition *d = subject->definition;
    char date[32];
    struct wr_page s = {0};
    wr_report_title(page, subject);
    wr_page_add(&s, "A run of %s from %s, every day the maximum day of %s.", wr_say_duration(d->horizon).text,
                wr_date_text(d->start, date, sizeof date),
                wr_say(WR_QUANTITY_DAILY_FLOW, d->demand.maximum_day, units).text);
    if (subject->whole_horizon > 0)
        wr_page_add(&s, " It was ended on %s, as asked; the scenario's horizon is %s.",
                    wr_say_moment(d->start, d->horizon).text, wr_say_duration(subject->whole_horizon).text);
    for (size_t o = 0; o < plant->outage_count; o++)
        say_outage(&s, plant, o);
    wr_page_flow_page(page, "", &s);
}

/* Filters --------------------------------------------------------------------------------------------------------- */

/* What called a filter's washes: "differential 30, run hours 4", or one word where it is always the same. */
static void put_callers(struct wr_grid *grid, const struct wr_run *run, size_t filter)
{
    size_t counts[WR_TRIGGER_KINDS] = {0}, kinds = 0;
    for (size_t w = 0; w < run->record.wash_count; w++)
        if (run->record.washes[w].filter == filter)
            counts[run->record.washes[w].trigger]++;
    for (int t = 0; t < WR_TRIGGER_KINDS; t++)
        kinds += counts[t] > 0;
    struct wr_page s = {0};
    for (int t = 0; t < WR_TRIGGER_KINDS; t++) {
        if (counts[t] == 0)
            continue;
        wr_page_add(&s, "%s%s", s.length > 0 ? ", " : "", wr_say_key(wr_report_trigger_key((enum wr_trigger)t)).text);
        if (kinds > 1)
            wr_page_add(&s, " %zu", counts[t]);
    }
    char *text = wr_page_take(&s);
    wr_grid_add(grid, "%s", kinds > 0 ? text : "-");
    free(text);
}

static void put_mean(struct wr_grid *grid, enum wr_quantity quantity, double sum, size_t count, enum wr_units units)
{
    if (count == 0)
        wr_grid_add(grid, "-");
    else
        wr_grid_add(grid, "%s", wr_say_bare(quantity, sum / (double)count, units).text);
}

static void put_filter(struct wr_grid *grid, const struct wr_run *run, size_t filter, enum wr_units units)
{
    const struct wr_filter_record *r = &run->record.filters[filter];
    wr_grid_add(grid, "%s", run->plant.names[filter]);
    wr_grid_add(grid, "%zu", r->washes);
    put_callers(grid, run, filter);
    put_mean(grid, WR_QUANTITY_TIME, r->run_hours, r->runs, units);
    put_mean(grid, WR_QUANTITY_TIME, r->shortest_run, r->runs > 0, units);
    put_mean(grid, WR_QUANTITY_RUN_VOLUME, r->run_volume, r->runs, units);
    put_mean(grid, WR_QUANTITY_HEAD, r->differential, r->washes, units);
    wr_grid_add(grid, "%s", r->waited > 0 ? wr_say_duration(r->waited).text : "none");
}

/* More filters than a reader wants to see. */
enum { FILTERS_SHOWN = 40 };

static void put_filters(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    const size_t shown = run->plant.filter_count > FILTERS_SHOWN ? FILTERS_SHOWN : run->plant.filter_count;
    static const char *const heads[] = {"filter",   "washes",      "called by",    "mean run",
                                        "shortest", "water a run", "head at wash", "waited"};
    struct wr_grid grid = {.align = "lrlrrrrr", .heads = 2};
    wr_page_heading(page, "Filters");
    for (size_t c = 0; c < strlen(grid.align); c++)
        wr_grid_add(&grid, "%s", heads[c]);
    const char *const hours = wr_quantity_unit(WR_QUANTITY_TIME, units);
    const char *const unit_row[] = {"",
                                    "",
                                    "",
                                    hours,
                                    hours,
                                    wr_quantity_unit(WR_QUANTITY_RUN_VOLUME, units),
                                    wr_quantity_unit(WR_QUANTITY_HEAD, units),
                                    ""};
    for (size_t c = 0; c < strlen(grid.align); c++)
        wr_grid_add(&grid, "%s", unit_row[c]);
    for (size_t f = 0; f < shown; f++)
        put_filter(&grid, run, f, units);
    wr_page_grid(page, &grid);
    if (shown < run->plant.filter_count)
        wr_page_flow(page, "  ", "... and %zu more, which the JSON document lists.", run->plant.filter_count - shown);
    wr_page_flow(page, "  ", "Runs and waits are those after each filter's first wash.");
}

/* Washing ---------------------------------------------------------------------------------------------------------- */

static void put_held_by(struct wr_page *page, const struct wr_run *run)
{
    const struct wr_state *state = run->simulation.state;
    struct wr_grid grid = {.align = "lrrrr", .heads = 1};
    if (run->record.balance.total_wait <= 0 && run->record.balance.start_up_wait <= 0)
        return;
    static const char *const heads[] = {"washes waited for", "as first reason", "alone", "in all", "start-up"};
    for (size_t c = 0; c < strlen(grid.align); c++)
        wr_grid_add(&grid, "%s", heads[c]);
    for (int l = 0; l < WR_LIMITS; l++) {
        const struct wr_tally *wait = &state->waits[l], *start_up = &state->start_up[l];
        if (wait->total <= 0 && start_up->total <= 0)
            continue;
        wr_grid_add(&grid, "%s", wr_say_key(wr_limit_row((enum wr_limit)l)->key).text);
        wr_grid_add(&grid, "%s", wr_say_duration(wait->first).text);
        wr_grid_add(&grid, "%s", wr_say_duration(wait->alone).text);
        wr_grid_add(&grid, "%s", wr_say_duration(wait->total).text);
        wr_grid_add(&grid, "%s", wr_say_duration(start_up->total).text);
    }
    wr_page_grid(page, &grid);
    wr_page_add(page, "\n");
}

static struct wr_phrase say_term(const struct wr_ability_term *term, enum wr_units units)
{
    if (strcmp(term->unit, "s") == 0)
        return wr_say_duration(term->value);
    if (strcmp(term->unit, "m3") == 0)
        return wr_say(WR_QUANTITY_VOLUME, term->value, units);
    if (strcmp(term->unit, "m3/s") == 0)
        return wr_say(WR_QUANTITY_FLOW, term->value, units);
    return wr_say_bare(WR_QUANTITY_NONE, term->value, units);
}

/* "1 wash a day", "3.53 washes a day". */
static void say_washes(struct wr_page *s, double washes)
{
    const struct wr_phrase number = wr_say_bare(WR_QUANTITY_NONE, washes, WR_UNITS_SI);
    if (isfinite(washes))
        wr_page_add(s, "%s %s a day", number.text, strcmp(number.text, "1") == 0 ? "wash" : "washes");
    else
        wr_page_add(s, "any number of washes");
}

static void put_resource(struct wr_page *page, const struct wr_ability *row, enum wr_units units)
{
    struct wr_page s = {0};
    wr_page_add(&s, "%s: ", wr_say_key(wr_limit_row(row->resource)->key).text);
    say_washes(&s, row->possible);
    for (size_t t = 0; t < row->term_count; t++)
        wr_page_add(&s, "%s%s: %s", t == 0 ? " (" : ", ", row->terms[t].words, say_term(&row->terms[t], units).text);
    wr_page_add(&s, row->term_count > 0 ? ")." : ".");
    wr_page_flow_page(page, "  - ", &s);
}

static void put_ability(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    struct wr_ability rows[WR_ABILITY_ROWS];
    const size_t count = wr_ability_table(run, rows);
    struct wr_page s = {0};
    if (count == 0)
        return;
    wr_page_add(&s, "Filters want ");
    say_washes(&s, rows[0].wanted);
    wr_page_add(&s, " at the run's mean flow. By itself, used without a gap, each resource could do:");
    wr_page_flow_page(page, "  ", &s);
    for (size_t r = 0; r < count; r++)
        put_resource(page, &rows[r], units);
}

/* Report ----------------------------------------------------------------------------------------------------------- */

void wr_report_run_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_run *run,
                        enum wr_units units)
{
    put_head(page, subject, &run->plant, units);
    if (run->end != WR_RUN_WHOLE) {
        wr_page_add(page, "\n");
        wr_page_flow(page, "", "A FAULT: %s. What follows was worked out before and is not to be relied on.",
                     run->message);
    }
    wr_report_run_answers(page, run, units);
    put_filters(page, run, units);
    wr_page_heading(page, "Washing");
    put_held_by(page, run);
    put_ability(page, run, units);
    wr_report_account_section(page, run, units);
    wr_report_tank_section(page, run, units);
    wr_report_finding_section(page, run, units);
    wr_report_derived_section(page, &run->plant, units);
    wr_report_caution(page);
}
