/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/record/series.h"

#include "sim/plant/bed.h"
#include "sim/plant/blanket.h"
#include "sim/plant/head.h"
#include "sim/record/list.h"

#include <math.h>
#include <stdlib.h>

/* Rows inside the time between two instants stand no farther apart than this share of the whole. */
static const double SPACING = 1.0 / 480;

/* What holds until the next instant ------------------------------------------------------------------------------- */

/* Flow of all outlets that are there for emergencies. */
static double emergency_flow(const struct wr_simulation *sim)
{
    const struct wr_outlet_state *outlets = wr_state_outlets(sim->plant, sim->state);
    double flow = 0;
    for (size_t o = 0; o < sim->plant->outlet_count; o++)
        if (sim->plant->definition->spent_wash.outlets.items[o].emergency)
            flow += outlets[o].flow;
    return flow;
}

static void hold_flows(struct wr_series *series, const struct wr_simulation *sim)
{
    const struct wr_flows *flows = &sim->state->flows;
    series->held[WR_SERIES_DEMAND] = flows->demand;
    series->held[WR_SERIES_DELIVERED] = flows->delivered;
    series->held[WR_SERIES_RAW] = flows->raw;
    series->held[WR_SERIES_RECYCLE] = flows->recycle;
    series->held[WR_SERIES_RECYCLE_MOST] =
        sim->plant->has_recycle ? sim->plant->definition->recycle.max_fraction * flows->raw : 0;
    series->held[WR_SERIES_BLEND] = flows->raw + flows->recycle > 0 ? flows->feed[WR_SOLIDS] : WR_ABSENT;
    series->held[WR_SERIES_EMERGENCY] = emergency_flow(sim);
}

static void hold_stocks(struct wr_series *series, const struct wr_simulation *sim)
{
    const struct wr_flows *flows = &sim->state->flows;
    const struct wr_tank *tanks = wr_state_tanks(sim->plant, sim->state);
    const bool from_tank = sim->plant->definition->wash_water.source == WR_WATER_FROM_TANK;
    series->held[WR_SERIES_STORAGE] = sim->state->storage.level;
    series->slopes[WR_SERIES_STORAGE] = flows->to_storage - flows->delivered - flows->overflow;
    series->held[WR_SERIES_WASH_TANK] = sim->state->wash_tank.level;
    series->slopes[WR_SERIES_WASH_TANK] = flows->refill - (from_tank ? flows->wash : 0);
    for (size_t t = 0; t < series->tanks; t++) {
        series->held[wr_series_tank(t)] = tanks[t].level;
        series->slopes[wr_series_tank(t)] = tanks[t].inflow - tanks[t].drawn;
    }
}

/* Clear water stands above what stays when a decant ends; a tank that is drawn off as it is has none. */
static void hold_layers(struct wr_series *series, const struct wr_simulation *sim)
{
    const struct wr_tank *tanks = wr_state_tanks(sim->plant, sim->state);
    for (size_t t = 0; t < series->tanks; t++) {
        const bool is_clear = tanks[t].mode == WR_TANK_DECANTING && !tanks[t].dumped;
        series->blankets[t] = wr_blanket_now(sim, t);
        series->held[wr_series_clear(series, t)] = is_clear ? tanks[t].level - tanks[t].sludge : 0;
        series->slopes[wr_series_clear(series, t)] = is_clear ? -tanks[t].drawn : 0;
    }
}

/* Rate at which a filter serves, m/s; 0 when it does not. */
static double rate_of(const struct wr_simulation *sim, size_t filter)
{
    const bool serves = wr_state_filters(sim->plant, sim->state)[filter].mode == WR_MODE_SERVICE;
    return serves ? wr_bed_rate(sim->plant, sim->state, filter) : 0;
}

static void hold_beds(struct wr_series *series, const struct wr_simulation *sim)
{
    for (size_t f = 0; f < series->filters; f++) {
        const double rate = rate_of(sim, f);
        series->beds[f] = (struct wr_series_bed){.load = wr_bed_load(sim->plant, sim->state, f),
                                                 .growth = rate * sim->state->flows.feed[WR_SOLIDS],
                                                 .rate = rate};
    }
}

/* Rows ------------------------------------------------------------------------------------------------------------ */

static void put_heads(struct wr_series *series, const struct wr_plant *plant, double *row, double time)
{
    for (size_t f = 0; f < series->filters; f++) {
        const struct wr_group *group = &plant->groups[plant->group_of[f]];
        const struct wr_series_bed *bed = &series->beds[f];
        const double load = fmax(0, bed->load + bed->growth * time);
        row[wr_series_measured(series, f)] =
            bed->rate > 0 ? wr_group_head(group, plant->viscosity, load, bed->rate, false) : WR_ABSENT;
        row[wr_series_judged(series, f)] =
            bed->rate > 0 ? wr_plant_judged_head(plant, group, load, bed->rate) : WR_ABSENT;
    }
}

static void put_blankets(const struct wr_series *series, const struct wr_plant *plant, double *row, double time)
{
    for (size_t t = 0; t < series->tanks; t++) {
        struct wr_sludge blanket = series->blankets[t];
        double *volume = &row[wr_series_blanket(series, t)];
        *volume = 0;
        if (!plant->definition->spent_wash.has_blanket)
            continue;
        wr_sludge_thicken(&plant->sludge, &blanket, time);
        *volume = wr_sludge_volume(&plant->sludge, &blanket);
    }
}

static void put_row(struct wr_series *series, const struct wr_plant *plant, double time)
{
    double *rows = wr_list_grown(series->rows, series->count, &series->room, series->width * sizeof *rows);
    series->out_of_memory = series->out_of_memory || rows == NULL;
    if (rows == NULL)
        return;
    series->rows = rows;
    double *row = &series->rows[series->count++ * series->width];
    for (size_t c = 0; c < WR_SERIES_COLUMNS + 3 * series->tanks; c++)
        row[c] = series->held[c] + series->slopes[c] * (time - series->then);
    row[WR_SERIES_TIME] = time;
    put_blankets(series, plant, row, time - series->then);
    put_heads(series, plant, row, time - series->then);
}

/* The rows of the time between two instants, as far as it is shown. */
static void put_rows(struct wr_series *series, const struct wr_plant *plant, double now)
{
    const double from = fmax(series->then, series->from), until = fmin(now, series->until);
    if (until <= from)
        return;
    put_row(series, plant, from);
    const double steps = ceil((until - from) / series->spacing);
    for (double step = 1; step < steps; step++)
        put_row(series, plant, from + (until - from) * step / steps);
    put_row(series, plant, until);
}

/* Deeds ----------------------------------------------------------------------------------------------------------- */

static struct wr_stretch deed_now(const struct wr_simulation *sim, size_t filter)
{
    const struct wr_filter *f = &wr_state_filters(sim->plant, sim->state)[filter];
    struct wr_stretch now = {.filter = filter, .deed = WR_DEED_SERVES, .limit = WR_LIMIT_NONE, .from = wr_now(sim)};
    if (f->mode == WR_MODE_OUT)
        now.deed = WR_DEED_OUT;
    else if (f->mode == WR_MODE_WASH) {
        now.deed = WR_DEED_WASHED;
        now.began = f->wash_started_at;
    } else if (f->called) {
        now.deed = WR_DEED_WAITS;
        now.limit = wr_limit_first(f->reasons);
    } else if (f->mode == WR_MODE_START_RINSE)
        now.deed = WR_DEED_RINSES;
    else if (rate_of(sim, filter) <= 0)
        now.deed = WR_DEED_STANDS;
    return now;
}

static void end_stretch(struct wr_series *series, const struct wr_stretch *open, double now)
{
    struct wr_stretch stretch = *open;
    stretch.from = fmax(open->from, series->from);
    stretch.to = fmin(now, series->until);
    if (stretch.to <= stretch.from)
        return;
    struct wr_stretch *stretches =
        wr_list_grown(series->stretches, series->stretch_count, &series->stretch_room, sizeof *stretches);
    series->out_of_memory = series->out_of_memory || stretches == NULL;
    if (stretches == NULL)
        return;
    series->stretches = stretches;
    series->stretches[series->stretch_count++] = stretch;
}

static void follow_deeds(struct wr_series *series, const struct wr_simulation *sim)
{
    for (size_t f = 0; f < series->filters; f++) {
        struct wr_stretch *open = &series->open[f];
        const struct wr_stretch now = deed_now(sim, f);
        if (now.deed == open->deed && now.limit == open->limit && now.began == open->began)
            continue;
        end_stretch(series, open, now.from);
        *open = now;
    }
}

/* A series -------------------------------------------------------------------------------------------------------- */

static void hold(struct wr_series *series, const struct wr_simulation *sim)
{
    series->then = wr_now(sim);
    hold_flows(series, sim);
    hold_stocks(series, sim);
    hold_layers(series, sim);
    hold_beds(series, sim);
}

bool wr_series_open(struct wr_series *series, const struct wr_simulation *sim)
{
    const double from = series->from, until = series->until;
    const struct wr_plant *plant = sim->plant;
    const size_t filters = plant->filter_count < WR_SERIES_FILTERS ? plant->filter_count : WR_SERIES_FILTERS;
    *series = (struct wr_series){.from = from,
                                 .until = until,
                                 .spacing = (until - from) * SPACING,
                                 .width = WR_SERIES_COLUMNS + 3 * plant->tank_count + 2 * filters,
                                 .filters = filters,
                                 .tanks = plant->tank_count};
    series->held = calloc(series->width, sizeof *series->held);
    series->slopes = calloc(series->width, sizeof *series->slopes);
    series->blankets = calloc(plant->tank_count + 1, sizeof *series->blankets);
    if (series->held == NULL || series->slopes == NULL || series->blankets == NULL)
        return false;
    for (size_t f = 0; f < filters; f++)
        series->open[f] = deed_now(sim, f);
    hold(series, sim);
    return true;
}

void wr_series_instant(struct wr_series *series, const struct wr_simulation *sim)
{
    put_rows(series, sim->plant, wr_now(sim));
    follow_deeds(series, sim);
    hold(series, sim);
}

void wr_series_close(struct wr_series *series, const struct wr_simulation *sim)
{
    put_rows(series, sim->plant, wr_now(sim));
    for (size_t f = 0; f < series->filters; f++)
        end_stretch(series, &series->open[f], wr_now(sim));
}

void wr_series_fini(struct wr_series *series)
{
    free(series->rows);
    free(series->stretches);
    free(series->held);
    free(series->slopes);
    free(series->blankets);
    *series = (struct wr_series){0};
}
