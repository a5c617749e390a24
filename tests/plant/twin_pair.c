/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/plant/twin_pair.h"

#include "sim/plant/bed.h"
#include "tests/support/check.h"

#include <math.h>
#include <stdlib.h>

static void add_start(struct twin_events *events, double time, size_t filter, uint64_t level)
{
    if (events->start_count == events->start_room) {
        events->start_room = 2 * events->start_room + 64;
        events->starts = realloc(events->starts, events->start_room * sizeof *events->starts);
        events->level = realloc(events->level, events->start_room * sizeof *events->level);
        assert_non_null(events->starts);
        assert_non_null(events->level);
    }
    events->starts[events->start_count] = (struct twin_start){time, filter};
    events->level[events->start_count++] = level;
}

/* Calls so near each other, s, or loads, relative, that the twin may see them in the other order: some steps lie
 * between what it knows of two filters once each has been washed a few times. */
static const double NEAR_CALLS = 60.0, NEAR_LOADS = 1e-3;

static bool stands_level(const struct wr_simulation *simulation, size_t a, size_t b)
{
    const struct wr_plant *plant = simulation->plant;
    const struct wr_filter *fa = &wr_state_filters(plant, simulation->state)[a];
    const struct wr_filter *fb = &wr_state_filters(plant, simulation->state)[b];
    const double la = wr_bed_load(plant, simulation->state, a), lb = wr_bed_load(plant, simulation->state, b);
    if (!fb->called || fb->mode == WR_MODE_OUT || fa->urgent != fb->urgent) {
        return false;
    }
    return plant->definition->wash.who_first == WR_FIRST_DIRTIEST ? fabs(la - lb) <= NEAR_LOADS * fmax(la, lb)
                                                                  : fabs(fa->called_at - fb->called_at) <= NEAR_CALLS;
}

/* The filters in line level with one whose wash starts. */
static uint64_t level_with(const struct wr_simulation *simulation, size_t filter)
{
    uint64_t level = 0;
    for (size_t i = 0; i < simulation->plant->filter_count && i < 64; i++) {
        level |= (uint64_t)stands_level(simulation, filter, i) << i;
    }
    return level;
}

static void see_event(void *context, const struct wr_simulation *simulation, const struct wr_event *event)
{
    struct twin_events *events = context;
    const struct wr_plant *plant = simulation->plant;
    if (event->kind == WR_EVENT_WASH_STARTED) {
        add_start(events, event->time, event->where, level_with(simulation, event->where));
    } else if (event->kind == WR_EVENT_HEAD_REACHED) {
        const size_t group = plant->group_of[event->where];
        if (plant->definition->filters.items[group].at_available_head == WR_HEAD_FLOW_FALLS) {
            events->head_reached = fmin(events->head_reached, event->time);
        }
    }
}

static void see_instant(void *context, const struct wr_simulation *simulation)
{
    struct twin_events *events = context;
    /* Beds so loaded that head holds a well are looked at in stretches, too, whatever happens at their head. */
    if ((simulation->state->flows.held & wr_limit_bit(WR_LIMIT_HEAD_HOLDS_WELLS)) != 0)
        events->head_reached = fmin(events->head_reached, wr_now(simulation));
    if (!simulation->plant->has_settling && simulation->state->flows.recycle > 0.0 && isinf(events->mixed)) {
        events->mixed = wr_now(simulation);
    }
}

static double line_water(const struct wr_simulation *simulation, enum wr_line line)
{
    const size_t places = line < WR_LINE_TANK ? 1 : simulation->plant->tank_count + WR_BEYOND_TANKS;
    double water = 0.0;
    for (size_t place = 0; place < places; place++) {
        water += wr_ledger_line(simulation->plant, simulation->state, line, place)->water;
    }
    return water;
}

static struct twin_volumes volumes_of(const struct wr_simulation *simulation)
{
    struct wr_entry spilled, none;
    wr_ledger_turnover(simulation->plant, simulation->state, WR_ACCOUNT_SPILL, &spilled, &none);
    return (struct twin_volumes){.raw = line_water(simulation, WR_LINE_RAW),
                                 .recycled = line_water(simulation, WR_LINE_RECYCLE),
                                 .delivered = line_water(simulation, WR_LINE_DELIVERED),
                                 .overflow = line_water(simulation, WR_LINE_OVERFLOW),
                                 .sewer = line_water(simulation, WR_LINE_TO_SEWER),
                                 .pond = line_water(simulation, WR_LINE_TO_POND),
                                 .hauled = line_water(simulation, WR_LINE_TO_HAUL),
                                 .sludge = line_water(simulation, WR_LINE_SLUDGE) +
                                           line_water(simulation, WR_LINE_SLUDGE_TO_SEWER) +
                                           line_water(simulation, WR_LINE_SLUDGE_TO_HAUL),
                                 .spilled = spilled.water,
                                 .rinsed = line_water(simulation, WR_LINE_RINSE),
                                 .washed = line_water(simulation, WR_LINE_BACKWASH),
                                 .filled = line_water(simulation, WR_LINE_FILL),
                                 .drained = line_water(simulation, WR_LINE_DRAINED),
                                 .down = line_water(simulation, WR_LINE_DOWN),
                                 .held = line_water(simulation, WR_LINE_REGENERANT)};
}

void twin_events_run(struct twin_events *events, const struct wr_plant *plant, double until)
{
    struct wr_simulation simulation;
    *events = (struct twin_events){.head_reached = WR_NEVER, .mixed = WR_NEVER};
    const struct wr_observer observer = {.context = events, .event = see_event, .instant = see_instant};
    assert_true(wr_simulation_init(&simulation, plant, &observer));
    const enum wr_engine_status status = wr_simulation_run(&simulation, until);
    if (status != WR_ENGINE_OK) {
        wr_simulation_explain(&simulation, status, events->fault, sizeof events->fault);
    }
    wr_simulation_end(&simulation);
    events->volumes = volumes_of(&simulation);
    wr_simulation_fini(&simulation);
}

void twin_events_fini(struct twin_events *events)
{
    free(events->starts);
    free(events->level);
    *events = (struct twin_events){0};
}

struct twin_agreement twin_compare(const struct twin_events *events, const struct twin_result *twin, double until,
                                   double step)
{
    struct twin_agreement agreement = {.at = until, .off = WR_NEVER, .filter = SIZE_MAX};
    for (size_t i = 0;; i++) {
        const double here = i < events->start_count ? events->starts[i].time : WR_NEVER;
        const double there = i < twin->start_count ? twin->starts[i].time : WR_NEVER;
        const double earlier = fmin(here, there);
        const double most = (TWIN_MOST_STEPS + TWIN_MOST_STEPS_A_START * (double)i) * step;
        /* A start within reach of the end may fall behind it. */
        if (earlier >= until - most) {
            return agreement;
        }
        const double off = fabs(there - here);
        const bool same = isfinite(off) && events->starts[i].filter == twin->starts[i].filter;
        if (!same || off > most) {
            agreement.flipped = true;
            agreement.off = same ? off : WR_NEVER;
            agreement.filter = i < twin->start_count ? twin->starts[i].filter : SIZE_MAX;
            agreement.at = earlier;
            return agreement;
        }
        agreement.compared++;
        agreement.worst = fmax(agreement.worst, off);
    }
}

/* Why they part -----------------------------------------------------------------------------------------------------
 */

/* Runs a twin up to a while after `until` and compares. */
static bool compare_at(const struct wr_plant *plant, const struct twin_events *events, double until, double step,
                       struct twin_agreement *agreement)
{
    struct twin_result twin;
    const bool runs = twin_run(plant, step, until, &twin);
    if (runs) {
        *agreement = twin_compare(events, &twin, until, step);
    }
    twin_result_fini(&twin);
    return runs;
}

/* A while after the start at which they part, s: what moves it by more is no finer step. */
static const double A_WHILE = 7200.0;

static bool is_by_step(const struct wr_plant *plant, const struct twin_events *events,
                       const struct twin_agreement *coarse, double until)
{
    const double end = fmin(until, coarse->at + A_WHILE);
    double step = 0.25, off = 0.5 * coarse->off;
    for (; step >= 0.015625; step /= 4.0, off /= 2.0) {
        struct twin_agreement finer;
        if (!compare_at(plant, events, end, step, &finer)) {
            return false;
        }
        if (!finer.flipped || finer.compared > coarse->compared ||
            (isfinite(finer.off) && finer.compared == coarse->compared && finer.off <= off)) {
            return true;
        }
    }
    return false;
}

/* Whether an event run of a slightly different plant takes another decision at that start or before. */
static bool turns(const struct wr_definition *definition, const struct twin_events *events,
                  const struct twin_agreement *agreement)
{
    struct wr_plant plant;
    struct twin_events other;
    check_count(wr_plant_init(&plant, definition), WR_OK, "status of a plant that differs slightly");
    twin_events_run(&other, &plant, fmin(definition->horizon, agreement->at + A_WHILE));
    const size_t n = agreement->compared;
    bool same = true;
    for (size_t i = 0; same && i <= n && i < events->start_count; i++) {
        same = i < other.start_count && other.starts[i].filter == events->starts[i].filter &&
               fabs(other.starts[i].time - events->starts[i].time) <= TWIN_MOST_STEPS;
    }
    same = same && (n < events->start_count || other.start_count <= n);
    twin_events_fini(&other);
    wr_plant_fini(&plant);
    return !same;
}

static bool is_tie(const struct wr_definition *definition, const struct twin_events *events,
                   const struct twin_agreement *agreement)
{
    static const double parts[] = {1e-5, -1e-5};
    const size_t n = agreement->compared;
    if (n < events->start_count && agreement->filter < 64 && (events->level[n] >> agreement->filter & 1) != 0) {
        return true;
    }
    for (size_t i = 0; i < 2; i++) {
        struct wr_definition other = *definition;
        other.demand.maximum_day *= 1.0 + parts[i];
        if (turns(&other, events, agreement)) {
            return true;
        }
        other = *definition;
        other.raw_water.dry_solids_per_iron *= 1.0 + parts[i];
        other.raw_water.suspended_solids *= 1.0 + parts[i];
        if (turns(&other, events, agreement)) {
            return true;
        }
    }
    return false;
}

bool twin_explain(const struct wr_definition *definition, const struct twin_events *events, double until,
                  struct twin_agreement *agreement, enum twin_why *why)
{
    struct wr_plant plant;
    check_count(wr_plant_init(&plant, definition), WR_OK, "status of a plant");
    const bool runs = compare_at(&plant, events, until, 1.0, agreement);
    *why = TWIN_AGREES;
    if (runs && agreement->flipped) {
        *why = is_by_step(&plant, events, agreement, until) ? TWIN_BY_STEP
               : events->head_reached <= agreement->at      ? TWIN_BY_HEAD
               : events->mixed <= agreement->at             ? TWIN_BY_MIX
               : is_tie(definition, events, agreement)      ? TWIN_BY_TIE
                                                            : TWIN_UNEXPLAINED;
    }
    wr_plant_fini(&plant);
    return runs;
}
