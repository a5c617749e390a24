/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/simulation.h"

#include "sim/plant/bed.h"
#include "sim/plant/blanket.h"
#include "sim/plant/calls.h"
#include "sim/plant/gate.h"
#include "sim/plant/holding.h"
#include "sim/plant/line.h"
#include "sim/plant/mixing.h"
#include "sim/plant/outages.h"
#include "sim/plant/schedule.h"
#include "sim/plant/share.h"
#include "sim/plant/spent.h"
#include "sim/plant/start_rinse.h"
#include "sim/plant/stocks.h"
#include "sim/plant/timer_map.h"
#include "sim/plant/wash.h"
#include "sim/plant/wells.h"

#include <math.h>
#include <stdlib.h>

/* Telling ------------------------------------------------------------------------------------------------------- */

void wr_tell(struct wr_simulation *sim, enum wr_event_kind kind, size_t where)
{
    sim->state->events++;
    if (sim->observer.event == NULL || (sim->observer.unheard >> (unsigned)kind & 1) != 0)
        return;
    const struct wr_event event = {.kind = kind, .time = wr_now(sim), .where = where, .limit = WR_LIMIT_NONE};
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

/* Acts ---------------------------------------------------------------------------------------------------------- */

/* Demand at a time, and when it next differs. */
static double signal_at(const struct wr_signal *signal, double now, double *changes)
{
    const long long hours = (long long)((signal->phase + now) / 3600 + 1e-9);
    const double hour = (double)hours;
    const int here = (int)(hours % 24);
    *changes = signal->lasts[here] > 0 ? (hour + signal->lasts[here]) * 3600 - signal->phase : WR_NEVER;
    return signal->values[here];
}

static void signal_act(struct wr_simulation *sim)
{
    double changes;
    sim->state->demand = signal_at(&sim->plant->demand, wr_now(sim), &changes);
    wr_timers_set(&sim->timers, sim->plant->timers.signal, changes);
}

static void step_ended(struct wr_simulation *sim, size_t filter)
{
    if (wr_state_filters(sim->plant, sim->state)[filter].mode == WR_MODE_START_RINSE) {
        wr_start_rinse_ended(sim, filter);
        wr_state_again(sim->state, WR_AGAIN_FLOWS);
    } else
        wr_wash_step_ended(sim, filter);
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

/* What may move every flow. */
static void act_on_flows(struct wr_simulation *sim, size_t timer)
{
    const struct wr_timer_map *map = &sim->plant->timers;
    if (timer < map->tanks)
        wr_outage_act(sim, timer - map->outages);
    else if (timer == map->storage)
        wr_storage_act(sim);
    else if (timer < map->wells)
        wr_spent_room_came(sim, timer - map->rooms);
    else if (timer < map->start)
        return; /* a well's least run or rest: wakes the sharing */
    else if (timer < map->window)
        wr_start_rinse_begin(sim);
    else if (timer < map->outlets)
        wr_schedule_hours(sim);
    else if (timer < map->midnight)
        wr_schedule_outlet(sim, timer - map->outlets);
    else if (timer < map->sludge)
        wr_holding_hauled(sim);
    else if (timer < map->gap)
        wr_blanket_calendar(sim);
    else if (timer < map->heads)
        return; /* time between starts, the dirtiest in line, mixing: wakes the decision or the sharing */
    else if (timer < map->stretches)
        wr_heads_act(sim, timer - map->heads);
    else if (timer < map->rota)
        wr_heads_stretch(sim, timer - map->stretches);
    else
        wr_schedule_rota(sim, timer - map->rota);
}

/* Does what is due, and returns what that moves whatever it finds: a set of enum wr_again. Changes of demand move
 * nothing else, nor does a midnight at which no outlet's daily volume begins anew; wash steps and spent-wash tanks say
 * themselves what they move. */
static unsigned act_on(struct wr_simulation *sim, size_t timer)
{
    const struct wr_timer_map *map = &sim->plant->timers;
    if (timer == map->signal) {
        signal_act(sim);
        return 0;
    }
    if (timer >= map->tanks && timer < map->steps) {
        wr_spent_act(sim, timer - map->tanks);
        return WR_AGAIN_TIMERS;
    }
    if (timer >= map->steps && timer < map->storage) {
        step_ended(sim, timer - map->steps);
        return 0;
    }
    if (timer == map->wash_water) {
        wr_wash_tank_act(sim);
        return WR_AGAIN_DRAWS;
    }
    if (timer == map->midnight) {
        wr_schedule_midnight(sim);
        return sim->plant->has_daily_volumes ? WR_AGAIN_FLOWS : 0;
    }
    if (timer >= map->filter_calls) {
        wr_calls_filter_act(sim, timer - map->filter_calls);
        return WR_AGAIN_CALLS;
    }
    if (timer >= map->calls) {
        wr_calls_act(sim, timer - map->calls);
        return WR_AGAIN_CALLS;
    }
    act_on_flows(sim, timer);
    return WR_AGAIN_FLOWS;
}

static void beat_act(void *context, size_t timer, double now)
{
    struct wr_simulation *sim = context;
    wr_stocks_advance(sim, now);
    wr_state_again(sim->state, act_on(sim, timer));
}

/* Shares out again as much as has moved; beds may come to a limit by time alone. */
static void share_again(struct wr_simulation *sim)
{
    struct wr_state *state = sim->state;
    if ((state->again & WR_AGAIN_FLOWS) != 0 || !wr_share_stands(sim->plant, state))
        wr_share(sim->plant, state);
    else if ((state->again & WR_AGAIN_DRAWS) != 0)
        wr_share_draws(sim->plant, state);
    else
        wr_share_demand(sim->plant, state);
    state->again = 0;
}

/* True while a wash waits that may find now that it need not. Of what a gate asks, a change of demand moves nothing;
 * but one may fall within the last bits of the instant for which the first in line waits. */
static bool may_begin(const struct wr_simulation *sim)
{
    const struct wr_state *state = sim->state;
    if (state->waiting == 0)
        return false;
    return state->again != 0 || sim->plant->definition->wash.who_first == WR_FIRST_DIRTIEST ||
           wr_gate(sim, wr_state_line(sim->plant, state)[0]) == 0;
}

/* Many instants are changes of demand, which only storage feels, steps of a wash that move only what it draws, or
 * differentials that begin to last: all other flows stand, and with them their timers. */
static bool settle_lightly(struct wr_simulation *sim)
{
    struct wr_state *state = sim->state;
    const unsigned again = state->again;
    if ((again & ~(unsigned)(WR_AGAIN_DRAWS | WR_AGAIN_CALLS)) != 0 || may_begin(sim) ||
        !wr_share_stands(sim->plant, state))
        return false;
    state->again = 0;
    if ((again & WR_AGAIN_DRAWS) != 0) {
        wr_share_draws(sim->plant, state);
        wr_stocks_arm(sim);
    } else {
        wr_share_demand(sim->plant, state);
        wr_storage_arm(sim);
    }
    if ((again & WR_AGAIN_CALLS) != 0)
        wr_calls_arm(sim);
    return true;
}

static void beat_settle(void *context, double now)
{
    struct wr_simulation *sim = context;
    (void)now;
    if (settle_lightly(sim))
        return;
    wr_wells_settle(sim);
    wr_wash_decide(sim);
    share_again(sim);
    wr_wells_arm(sim);
    wr_schedule_arm(sim);
    wr_stocks_arm(sim);
    wr_spent_arm(sim);
    wr_calls_arm(sim);
    wr_wash_arm(sim);
    if (!sim->plant->has_settling)
        wr_timers_set(&sim->timers, sim->plant->timers.mixing, wr_now(sim) + wr_mix_time(sim->plant, sim->state));
}

/* Timers of what repeats for ever: it may end a standstill once, but not after it has come round in vain. A rota that
 * has not begun does not repeat yet. */
static bool is_clock(const struct wr_simulation *sim, size_t timer)
{
    const struct wr_timer_map *map = &sim->plant->timers;
    if (timer == map->storage || (timer >= map->window && timer < map->gap))
        return true;
    if (timer < map->rota || timer >= map->calls)
        return false;
    const struct wr_rota_entry *entry = &sim->plant->definition->wash.rota.items[timer - map->rota];
    return wr_is_given(entry->every) && wr_now(sim) >= entry->first;
}

/* True when nothing under way but clocks can change a plant whose filters all stand still while a wash waits, or gets
 * no water for its rinse, and storage calls all wells: one that is still to be called may fit where those that are do
 * not.
 */
static bool stands_still(const struct wr_simulation *sim, bool *has_clocks)
{
    const struct wr_state *state = sim->state;
    const struct wr_timer_map *map = &sim->plant->timers;
    *has_clocks = false;
    if ((state->waiting == 0 && state->washing == 0) || state->flows.service > 0)
        return false;
    const struct wr_well_state *wells = wr_state_wells(sim->plant, state);
    for (size_t w = 0; w < sim->plant->well_count; w++)
        if (!wells[w].called)
            return false;
    for (size_t timer = map->outages; timer < map->count; timer++) {
        if (isinf(wr_timers_time(&sim->timers, timer)))
            continue;
        if (!is_clock(sim, timer))
            return false;
        const bool matters = timer != map->storage && (timer != map->midnight || sim->plant->has_daily_volumes);
        *has_clocks = *has_clocks || matters;
    }
    return true;
}

/* A plant that stands still is locked at once where no clock runs, and else when all clocks have come round. */
static void note_lock(struct wr_simulation *sim)
{
    struct wr_state *state = sim->state;
    bool has_clocks;
    const bool stands = stands_still(sim, &has_clocks);
    if (!stands)
        state->stood_since = WR_NEVER;
    else if (isinf(state->stood_since))
        state->stood_since = wr_now(sim);
    state->locked = stands && (!has_clocks || wr_now(sim) > state->stood_since + sim->plant->clocks_round);
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
    if (sim->state->waiting > 0)
        wr_line_note(sim);
    if (sim->state->flows.held != sim->state->held)
        note_flows(sim);
    note_lock(sim);
    if (sim->observer.instant != NULL)
        sim->observer.instant(sim->observer.context, sim);
}

/* A run ----------------------------------------------------------------------------------------------------------- */

static void start_filters(struct wr_simulation *sim)
{
    uint32_t *lone = wr_state_lone(sim->plant, sim->state);
    for (size_t f = 0; f < sim->plant->filter_count; f++)
        lone[sim->state->lone++] = (uint32_t)f;
    wr_outages_start(sim);
    wr_beds_start(sim->plant, sim->state);
}

static void start_tanks(struct wr_simulation *sim)
{
    const struct wr_definition *d = sim->plant->definition;
    const struct wr_wash_tank *t = &d->wash_water.tank;
    struct wr_wash_tank_state *wash_tank = &sim->state->wash_tank;
    if (d->wash_water.source == WR_WATER_FROM_TANK) {
        wash_tank->level = wash_tank->free = t->start_level * t->volume;
        wash_tank->full = t->refill_on_below >= 1 && t->start_level >= 1;
        wash_tank->refilling = t->start_level < t->refill_on_below || wash_tank->full;
    }
    struct wr_tank *tanks = wr_state_tanks(sim->plant, sim->state);
    for (size_t i = 0; i < sim->plant->tank_count; i++) {
        tanks[i].level = d->spent_wash.tanks.items[i].start_level * d->spent_wash.tanks.items[i].volume;
        tanks[i].free = d->spent_wash.tanks.items[i].volume - tanks[i].level;
        tanks[i].empty = !sim->plant->has_settling && tanks[i].level <= 0;
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
    sim->state->stood_since = WR_NEVER;
    sim->state->again = WR_AGAIN_FLOWS;
    wr_storage_start(plant, sim->state);
    start_tanks(sim);
    wr_holding_start(sim);
    wr_blanket_start(sim);
    start_filters(sim);
    wr_wells_start(plant, sim->state);
    wr_schedule_start(sim);
    signal_act(sim);
    beat_settle(sim, 0);
    wr_wells_found_running(sim);
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
        wr_line_close_spans(sim, line[i]);
    for (size_t f = 0; f < sim->plant->filter_count; f++) {
        const struct wr_filter *filter = &wr_state_filters(sim->plant, state)[f];
        if (filter->apart || filter->alarmed)
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
