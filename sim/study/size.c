/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/size.h"

#include "models/vessel.h"
#include "sim/plant/mean_run.h"
#include "sim/scenario/quantity.h"
#include "sim/study/firm.h"
#include "sim/study/largest.h"
#include "sim/study/variant.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double DAY = 86400, FOOT = 0.3048;

/* What doubles lose is no reason for the next larger size. */
static const double SLACK = 1e-9;

/* By the pencil ---------------------------------------------------------------------------------------------------- */

/* Sizes of round vessels, m, by number; 0 after the last. */
static double vessel(size_t number, enum wr_units units)
{
    if (units == WR_UNITS_SI)
        return number < 19 ? 0.6 + 0.2 * (double)number : 0;
    const double feet = number < 8 ? 2 + 0.5 * (double)number : 6 + (double)(number - 8);
    return feet <= 14 ? feet * FOOT : 0;
}

bool wr_size_step(double needed, bool round, enum wr_units units, double *diameter, double *area)
{
    if (!round) {
        const double step = units == WR_UNITS_SI ? 1 : 10 * FOOT * FOOT;
        *diameter = WR_ABSENT;
        *area = step * fmax(1, ceil(needed / step - SLACK));
        return isfinite(needed);
    }
    for (size_t number = 0; (*diameter = vessel(number, units)) > 0; number++) {
        if (wr_vessel_area(*diameter, area) == WR_OK && *area >= needed * (1 - SLACK))
            return true;
    }
    return false;
}

struct wr_size_row wr_size_work_out(const struct wr_size_need *need, size_t filters)
{
    assert(filters >= WR_SIZE_FEWEST);
    struct wr_size_row row = {.filters = filters, .search.end = WR_RUN_WHOLE};
    const double left = (double)(filters - 1);
    /* Of what passes 1 m2 its washes take so much; a run that is never called for takes none. */
    const double washing = need->spent_depth / need->run, net_rate = need->approved_rate - washing;
    row.needed = net_rate > 0 ? need->flow / (left * net_rate) : WR_NEVER;
    row.is_in_series = wr_size_step(row.needed, need->round, need->units, &row.diameter, &row.area);
    if (!row.is_in_series)
        return row;
    row.left = left * row.area * need->approved_rate;
    row.net = left * row.area * net_rate;
    /* A run gathers the same solids at any rate near the approved one, so that washes go with the flow. */
    const double gross = need->flow * need->approved_rate / net_rate;
    row.rate_left = gross / (left * row.area);
    row.rate = gross / ((double)filters * row.area);
    row.backwash = need->backwash_rate * row.area;
    row.wash = need->wash_depth * row.area;
    row.spent = need->spent_depth * row.area;
    row.spare = row.left - row.backwash;
    row.spare_left = row.spare - row.area * need->approved_rate;
    row.washes = gross / (row.area * need->approved_rate * need->run) * DAY;
    return row;
}

/* By simulation ---------------------------------------------------------------------------------------------------- */

enum { SETTINGS_MOST = 16, SETTING_LENGTH = 96 };

/* The scenario with a row's filters, and tanks that hold its washes. */
struct candidate {
    struct wr_variant variant;
    struct wr_size_row *row;
};

struct settings {
    char texts[SETTINGS_MOST][SETTING_LENGTH];
    size_t count;
};

static void set(struct settings *settings, const char *pointer, double value, const char *unit)
{
    if (settings->count < SETTINGS_MOST)
        snprintf(settings->texts[settings->count++], SETTING_LENGTH, "%s=%.12g%s", pointer, value, unit);
}

/* Tanks that would not hold a row's washes, two of wash water and one of spent wash. */
static bool lacks_wash_tank(const struct wr_definition *d, const struct wr_size_row *row)
{
    return d->wash_water.source == WR_WATER_FROM_TANK && d->wash_water.tank.volume < 2 * row->wash;
}

static bool lacks_spent_tank(const struct wr_definition *d, size_t tank, const struct wr_size_row *row)
{
    return d->spent_wash.tanks.items[tank].volume < row->spent;
}

static void set_tanks(struct settings *settings, const struct wr_definition *d, const struct wr_size_row *row)
{
    if (lacks_wash_tank(d, row))
        set(settings, "/wash_water/tank/volume", 2 * row->wash, " m3");
    for (size_t t = 0; t < d->spent_wash.tanks.count; t++) {
        char pointer[64];
        snprintf(pointer, sizeof pointer, "/spent_wash/tanks/%zu/volume", t);
        if (lacks_spent_tank(d, t, row))
            set(settings, pointer, row->spent, " m3");
    }
}

static void read_candidate(struct candidate *candidate, const struct wr_base *base, const struct wr_definition *d)
{
    struct settings settings = {.count = 0};
    const char *texts[SETTINGS_MOST];
    const struct wr_size_row *row = candidate->row;
    set(&settings, "/filters/0/count", (double)row->filters, "");
    if (wr_is_given(row->diameter))
        set(&settings, "/filters/0/diameter", row->diameter, " m");
    else
        set(&settings, "/filters/0/area", row->area, " m2");
    set_tanks(&settings, d, row);
    for (size_t i = 0; i < settings.count; i++)
        texts[i] = settings.texts[i];
    wr_variant_read(&candidate->variant, base, texts, settings.count);
    if (!candidate->variant.is_allowed)
        wr_variant_refusal(&candidate->variant, "", candidate->row->refusal, sizeof candidate->row->refusal);
}

static void search(void *context, size_t item)
{
    struct candidate *candidate = &((struct candidate *)context)[item];
    if (candidate->variant.is_allowed)
        wr_firm_search(&candidate->row->search, &candidate->variant.reading.definition);
}

static void take_end(struct wr_size *size, const struct wr_search *search)
{
    if (search->end == WR_RUN_WHOLE || size->end != WR_RUN_WHOLE)
        return;
    size->end = search->end;
    memcpy(size->message, search->message, sizeof size->message);
}

static void simulate(struct wr_size *size, const struct wr_size_question *question, struct wr_workers *workers)
{
    struct candidate *candidates = calloc(WR_SIZE_ROWS, sizeof *candidates);
    char *text = wr_base_text(question->reading);
    const struct wr_base base = {question->name, text};
    size_t count = 0;
    for (size_t r = 0; candidates != NULL && text != NULL && r < size->count; r++)
        if (size->rows[r].is_in_series) {
            candidates[count].row = &size->rows[r];
            read_candidate(&candidates[count++], &base, &question->reading->definition);
        }
    if (workers != NULL)
        workers->expected = count;
    size->tried = wr_workers_each(workers, count, search, candidates);
    for (size_t c = 0; c < count; c++) {
        candidates[c].row->is_tried = c < size->tried && candidates[c].variant.is_allowed;
        if (candidates[c].row->is_tried)
            take_end(size, &candidates[c].row->search);
        wr_variant_fini(&candidates[c].variant);
    }
    if (size->tried < count) {
        size->end = WR_RUN_STOPPED;
        snprintf(size->message, sizeof size->message, "the search was interrupted");
    }
    free(text);
    free(candidates);
}

/* The question ----------------------------------------------------------------------------------------------------- */

__attribute__((format(printf, 2, 3))) static bool is_wrong(struct wr_size *size, const char *format, ...)
{
    va_list values;
    va_start(values, format);
    vsnprintf(size->message, sizeof size->message, format, values);
    va_end(values);
    size->is_wrong = true;
    size->end = WR_RUN_BAD_PLANT;
    return false;
}

static bool read_flow(struct wr_size *size, const char *text)
{
    char found[256];
    if (!wr_quantity_read(WR_QUANTITY_FLOW, text, &size->need.flow, found, sizeof found))
        return is_wrong(size, "--firm is a flow such as \"0.5 Mgal/d\" or \"90 m3/h\": %s", found);
    return size->need.flow > 0 || is_wrong(size, "--firm is a flow above 0, not \"%s\"", text);
}

/* What a group of the plant is, a m2 of it. */
static bool read_need(struct wr_size *size, const struct wr_plant *plant)
{
    const struct wr_definition *d = plant->definition;
    const struct wr_group *g = &plant->groups[0];
    if (d->filters.count != 1 || d->filters.items[0].cells > 1)
        return is_wrong(size, "size wants filters of one group, each a vessel or a cell of its own");
    size->need.approved_rate = g->approved_rate;
    size->need.run = wr_plant_run_time(plant, g, g->approved_rate, plant->raw[WR_SOLIDS]);
    size->need.backwash_rate = g->peak_flow / g->area;
    size->need.wash_depth = g->wash_volume / g->area;
    size->need.spent_depth = g->room / g->area;
    size->need.round = wr_is_given(d->filters.items[0].diameter);
    size->need.units = (enum wr_units)d->units;
    const size_t largest = wr_largest_well(d);
    size->wells = wr_wells_flow(d);
    size->wells_left = size->wells - d->wells.items[largest].flow;
    return true;
}

static void note_tanks(struct wr_size *size, const struct wr_definition *d)
{
    for (size_t r = 0; r < size->count; r++) {
        const struct wr_size_row *row = &size->rows[r];
        if (!row->is_in_series)
            continue;
        size->grows_wash_tank |= lacks_wash_tank(d, row);
        for (size_t t = 0; t < d->spent_wash.tanks.count; t++)
            size->grows_spent_tanks |= lacks_spent_tank(d, t, row);
    }
}

void wr_size_make(struct wr_size *size, const struct wr_size_question *question, struct wr_workers *workers)
{
    assert(question->fewest >= WR_SIZE_FEWEST && question->most <= WR_SIZE_MOST);
    *size = (struct wr_size){.end = WR_RUN_WHOLE, .simulated = question->simulate};
    struct wr_plant plant;
    if (!read_flow(size, question->flow))
        return;
    const enum wr_status status = wr_plant_init(&plant, &question->reading->definition);
    if (status != WR_OK) {
        is_wrong(size, "%s", wr_status_text(status));
        return;
    }
    const bool good = read_need(size, &plant);
    wr_plant_fini(&plant);
    for (size_t n = question->fewest; good && n <= question->most; n++)
        size->rows[size->count++] = wr_size_work_out(&size->need, n);
    if (!good || !question->simulate)
        return;
    note_tanks(size, &question->reading->definition);
    simulate(size, question, workers);
}

bool wr_size_passes(const struct wr_size *size)
{
    bool passes = false;
    if (size->wells < size->need.flow * (1 - SLACK))
        return false;
    for (size_t r = 0; r < size->count; r++) {
        const struct wr_size_row *row = &size->rows[r];
        passes = passes || (size->simulated ? row->is_tried && row->search.firm >= size->need.flow * (1 - SLACK)
                                            : row->is_in_series);
    }
    return passes;
}
