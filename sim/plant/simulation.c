/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/simulation.h"

#include "sim/plant/bed.h"
#include "sim/plant/calls.h"
#include "sim/plant/mixing.h"
#include "sim/plant/share.h"
#include "sim/plant/spent.h"
#include "sim/plant/stocks.h"
#include "sim/plant/wash.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Telling ------------------------------------------------------------------------------------------------------- */

void wr_tell(struct wr_simulation *sim, enum wr_event_kind kind, size_t where)
{
    const struct wr_event event = {.kind = kind, .time = wr_now(sim), .where = where, .limit = WR_LIMIT_NONE};
    sim->state->events++;
    if (sim->observer.event != NULL)
        sim->observer.event(sim->observer.context, sim, &event);
}

void wr_tell_span(struct wr_simulation *sim, enum wr_limit limit, size_t where, double from, double to)
{
    if (to <= from)
        return;
    const struct wr_event event = {.kind = WR_EVENT_SPAN, .time = to, .where = where, .limit = limit, .from = from};
    sim->state->events++;
    if (sim->observer.event != NULL)
        sim->observer.event(sim->observer.context, sim, &event);
}

/* Signals and outages ------------------------------------------------------------------------------------------- */

/* Demand at a time, and when it next differs. */
static double signal_at(const struct wr_signal *signal, double now, double *changes)
{
    const double hour = floor((signal->phase + now) / 3600 + 1e-9);
    const int here = (int)((long long)hour % 24);
    *changes = signal->lasts[here] > 0 ? (hour + signal->lasts[here]) * 3600 - signal->phase : WR_NEVER;
    return signal->values[here];
}

static void signal_act(struct wr_simulation *sim)
{
    double changes;
    sim->state->demand = signal_at(&sim->plant->demand, wr_now(sim), &changes);
    wr_timers_set(&sim->timers, sim->plant->timers.signal, changes);
}

/* A filter goes out of service; one that is being washed when its wash has ended. */
static void filter_out(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = &wr_state_filters(sim->plant, sim->state)[filter];
    if (f->mode == WR_MODE_WASH) {
        f->outage_waits = true;
        return;
    }
    if (f->called)
        wr_wash_leave_line(sim, filter);
    if (wr_bed_in_pack(f))
        wr_bed_leave(sim->plant, sim->state, filter);
    else
        wr_tell_span(sim, WR_LIMIT_AVAILABLE_HEAD, filter, f->reason_since[WR_LIMIT_AVAILABLE_HEAD], wr_now(sim));
    f->mode = WR_MODE_OUT;
    f->apart = f->above = false;
    f->flow = 0;
    wr_timers_set(&sim->timers, sim->plant->timers.filter_calls + filter, WR_NEVER);
    wr_timers_set(&sim->timers, sim->plant->timers.stretches + filter, WR_NEVER);
    wr_tell(sim, WR_EVENT_OUT, filter);
}

/* A filter comes back as it left: a latched call puts it in line again, by the time of that call. */
static void filter_back(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = &wr_state_filters(sim->plant, sim->state)[filter];
    if (f->mode != WR_MODE_OUT) {
        f->outage_waits = false;
        return;
    }
    f->mode = WR_MODE_SERVICE;
    wr_bed_join(sim->plant, sim->state, filter);
    if (f->called)
        wr_wash_return_to_line(sim, filter);
    wr_tell(sim, WR_EVENT_BACK, filter);
}

/* True while another outage keeps the same filter out. */
static bool held_by_another(const struct wr_simulation *sim, size_t outage)
{
    const uint8_t *stages = wr_state_outages(sim->plant, sim->state);
    for (size_t o = 0; o < sim->plant->outage_count; o++)
        if (o != outage && stages[o] == WR_OUTAGE_ON && sim->plant->unit_of[o] == sim->plant->unit_of[outage])
            return true;
    return false;
}

static void outage_act(struct wr_simulation *sim, size_t outage)
{
    uint8_t *stage = &wr_state_outages(sim->plant, sim->state)[outage];
    const struct wr_outage *dates = &sim->plant->definition->outages.items[outage];
    const bool another = held_by_another(sim, outage);
    if (*stage == WR_OUTAGE_AHEAD) {
        *stage = WR_OUTAGE_ON;
        if (!another)
            filter_out(sim, sim->plant->unit_of[outage]);
        wr_timers_set(&sim->timers, sim->plant->timers.outages + outage,
                      wr_is_given(dates->until) ? fmax(dates->until, wr_now(sim)) : WR_NEVER);
    } else {
        *stage = WR_OUTAGE_OVER;
        if (!another)
            filter_back(sim, sim->plant->unit_of[outage]);
    }
}

/* The heart ----------------------------------------------------------------------------------------------------- */

/* Stocks are brought to an instant when something happens there and not at a horizon, so that a run that is cut and
 * gone on with adds up in the same steps as one that is not. */
static void beat_advance(void *context, double from, double to)
{
    (void)context;
    (void)from;
    (void)to;
}

static void beat_act(void *context, size_t timer, double now)
{
    struct wr_simulation *sim = context;
    const struct wr_timer_map *map = &sim->plant->timers;
    wr_stocks_advance(sim, now);
    if (timer == map->signal)
        signal_act(sim);
    else if (timer < map->tanks)
        outage_act(sim, timer - map->outages);
    else if (timer < map->steps)
        wr_spent_act(sim, timer - map->tanks);
    else if (timer < map->storage)
        wr_wash_step_ended(sim, timer - map->steps);
    else if (timer == map->storage)
        wr_storage_act(sim);
    else if (timer == map->wash_tank)
        wr_wash_tank_act(sim);
    else if (timer < map->gap)
        wr_spent_room_came(sim, timer - map->rooms);
    else if (timer == map->gap || timer == map->mixing)
        return; /* wakes the decision, or the sharing, and that is all */
    else if (timer < map->stretches)
        wr_heads_act(sim, timer - map->heads);
    else if (timer < map->calls)
        wr_heads_stretch(sim, timer - map->stretches);
    else if (timer < map->filter_calls)
        wr_calls_act(sim, timer - map->calls);
    else
        wr_calls_filter_act(sim, timer - map->filter_calls);
}

static void beat_settle(void *context, double now)
{
    struct wr_simulation *sim = context;
    (void)now;
    wr_wash_decide(sim);
    wr_share(sim->plant, sim->state);
    wr_stocks_arm(sim);
    wr_spent_arm(sim);
    wr_calls_arm(sim);
    wr_wash_arm(sim);
    wr_timers_set(&sim->timers, sim->plant->timers.mixing, wr_now(sim) + wr_mix_time(sim->plant, sim->state));
}

/* True when nothing under way can change a plant whose filters all stand still while a wash waits, or gets no water for
 * its rinse, and storage calls all wells: one that is still to be called may fit where those that are do not. */
static bool is_locked(const struct wr_simulation *sim)
{
    const struct wr_state *state = sim->state;
    const struct wr_timer_map *map = &sim->plant->timers;
    if ((state->waiting == 0 && state->washing == 0) || state->flows.service > 0)
        return false;
    const struct wr_well_state *wells = wr_state_wells(sim->plant, state);
    for (size_t w = 0; w < sim->plant->well_count; w++)
        if (!wells[w].called)
            return false;
    for (size_t timer = map->outages; timer < map->count; timer++)
        if (timer != map->storage && isfinite(wr_timers_time(&sim->timers, timer)))
            return false;
    return true;
}

static void note_flows(struct wr_simulation *sim)
{
    struct wr_state *state = sim->state;
    const wr_limit_set now = state->flows.held & ~wr_limit_bit(WR_LIMIT_AVAILABLE_HEAD);
    for (wr_limit_set ended = state->held & ~now; ended != 0; ended &= ended - 1) {
        const enum wr_limit limit = wr_limit_first(ended);
        wr_tell_span(sim, limit, WR_NOWHERE, state->limit_since[limit], wr_now(sim));
    }
    for (wr_limit_set begun = now & ~state->held; begun != 0; begun &= begun - 1)
        state->limit_since[wr_limit_first(begun)] = wr_now(sim);
    state->held = now;
}

static void beat_close(void *context, double now)
{
    struct wr_simulation *sim = context;
    (void)now;
    wr_wash_note(sim);
    if (sim->state->flows.held != sim->state->held)
        note_flows(sim);
    sim->state->locked = is_locked(sim);
    if (sim->observer.instant != NULL)
        sim->observer.instant(sim->observer.context, sim);
}

/* A run ----------------------------------------------------------------------------------------------------------- */

static void start_filters(struct wr_simulation *sim)
{
    struct wr_filter *filters = wr_state_filters(sim->plant, sim->state);
    uint32_t *lone = wr_state_lone(sim->plant, sim->state);
    for (size_t f = 0; f < sim->plant->filter_count; f++)
        lone[sim->state->lone++] = (uint32_t)f;
    for (size_t o = 0; o < sim->plant->outage_count; o++) {
        const struct wr_outage *outage = &sim->plant->definition->outages.items[o];
        const bool on = outage->from <= 0;
        if (on)
            filters[sim->plant->unit_of[o]].mode = WR_MODE_OUT;
        wr_state_outages(sim->plant, sim->state)[o] = on ? WR_OUTAGE_ON : WR_OUTAGE_AHEAD;
        wr_timers_set(&sim->timers, sim->plant->timers.outages + o,
                      !on                          ? outage->from
                      : wr_is_given(outage->until) ? fmax(0, outage->until)
                                                   : WR_NEVER);
    }
    wr_beds_start(sim->plant, sim->state);
}

static void start_tanks(struct wr_simulation *sim)
{
    const struct wr_definition *d = sim->plant->definition;
    const struct wr_wash_tank *t = &d->wash_water.tank;
    struct wr_wash_tank_state *wash_tank = &sim->state->wash_tank;
    wash_tank->level = wash_tank->free = t->start_level * t->volume;
    wash_tank->full = t->refill_on_below >= 1 && t->start_level >= 1;
    wash_tank->refilling = t->start_level < t->refill_on_below || wash_tank->full;
    struct wr_tank *tanks = wr_state_tanks(sim->plant, sim->state);
    for (size_t i = 0; i < sim->plant->tank_count; i++) {
        tanks[i].level = d->spent_wash.tanks.items[i].start_level * d->spent_wash.tanks.items[i].volume;
        tanks[i].free = d->spent_wash.tanks.items[i].volume - tanks[i].level;
        tanks[i].empty = tanks[i].level <= 0;
    }
}

bool wr_simulation_init(struct wr_simulation *sim, const struct wr_plant *plant, const struct wr_observer *observer)
{
    *sim = (struct wr_simulation){.plant = plant};
    if (observer != NULL)
        sim->observer = *observer;
    sim->state = calloc(1, plant->layout.size);
    if (sim->state == NULL)
        return false;
    wr_clock_init(&sim->state->clock, 0, plant->timers.count);
    wr_timers_init(&sim->timers, plant->timers.count, wr_state_at(sim->state, plant->layout.timers));
    sim->state->last_start = -WR_NEVER;
    wr_storage_start(plant, sim->state);
    start_tanks(sim);
    start_filters(sim);
    signal_act(sim);
    beat_settle(sim, 0);
    /* What is due at the start plays its rounds when the run begins, and the instant is told after them. */
    size_t timer;
    if (wr_timers_next(&sim->timers, &timer) > 0)
        beat_close(sim, 0);
    return true;
}

enum wr_engine_status wr_simulation_run(struct wr_simulation *sim, double until)
{
    const struct wr_heart heart = {.context = sim,
                                   .advance = beat_advance,
                                   .act = beat_act,
                                   .settle = beat_settle,
                                   .close = beat_close,
                                   .stop = &sim->stop};
    return wr_engine_run(&sim->timers, &heart, &sim->state->clock, until);
}

void wr_simulation_end(struct wr_simulation *sim)
{
    struct wr_state *state = sim->state;
    const double now = wr_now(sim);
    wr_stocks_advance(sim, now);
    const uint32_t *line = wr_state_line(sim->plant, state);
    for (uint32_t i = 0; i < state->waiting; i++)
        wr_wash_close_spans(sim, line[i]);
    for (size_t f = 0; f < sim->plant->filter_count; f++) {
        const struct wr_filter *filter = &wr_state_filters(sim->plant, state)[f];
        if (filter->apart)
            wr_tell_span(sim, WR_LIMIT_AVAILABLE_HEAD, f, filter->reason_since[WR_LIMIT_AVAILABLE_HEAD], now);
    }
    for (wr_limit_set open = state->held; open != 0; open &= open - 1)
        wr_tell_span(sim, wr_limit_first(open), WR_NOWHERE, state->limit_since[wr_limit_first(open)], now);
    state->held = 0;
}

void wr_simulation_fini(struct wr_simulation *sim)
{
    free(sim->state);
    sim->state = NULL;
}

static void timer_name(void *context, size_t timer, char *text, size_t size)
{
    wr_plant_timer_name(context, timer, text, size);
}

void wr_simulation_explain(const struct wr_simulation *sim, enum wr_engine_status status, char *text, size_t size)
{
    wr_engine_explain(status, &sim->state->clock, timer_name, (void *)(uintptr_t)sim->plant, text, size);
}
