/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/stocks.h"

#include "sim/plant/bed.h"
#include "sim/plant/mixing.h"
#include "sim/plant/share.h"

#include <math.h>

/* Within this share a level has reached its threshold: instants are known only to the last bits of a double. */
static const double REACHED = 1e-12;

/* Books ------------------------------------------------------------------------------------------------------------ */

static void book(struct wr_simulation *sim, enum wr_line kind, size_t tank, double volume, const double *concentration)
{
    struct wr_entry *line = wr_ledger_line(sim->plant, sim->state, kind, tank);
    line->water += volume;
    for (int k = 0; concentration != NULL && k < WR_CONSTITUENTS; k++)
        line->mass[k] += concentration[k] * volume;
}

static void tank_advance(struct wr_simulation *sim, size_t tank, double time)
{
    struct wr_tank *t = &wr_state_tanks(sim->plant, sim->state)[tank];
    const double out = t->to_recycle + t->to_sewer;
    if (t->inflow <= 0 && out <= 0)
        return;
    book(sim, WR_LINE_BACKWASH, tank, t->backwash * time, NULL);
    book(sim, WR_LINE_RINSE, tank, (t->inflow - t->backwash) * time, NULL);
    book(sim, WR_LINE_RECYCLE, tank, t->to_recycle * time, t->out);
    book(sim, WR_LINE_DRAWN, tank, t->to_sewer * time, t->out);
    t->level += (t->inflow - out) * time;
    t->free += out * time;
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        t->mass[k] -= t->out[k] * out * time;
}

/* Spent wash of plants without tanks: what the washes draw and no tank takes. */
static void sewer_advance(struct wr_simulation *sim, double time)
{
    if (sim->plant->tank_count > 0)
        return;
    book(sim, WR_LINE_BACKWASH, 0, sim->state->flows.wash * time, NULL);
    book(sim, WR_LINE_RINSE, 0, sim->state->flows.rinse * time, NULL);
}

void wr_stocks_advance(struct wr_simulation *sim, double now)
{
    struct wr_state *state = sim->state;
    const struct wr_flows *flows = &state->flows;
    const double time = now - state->settled_at;
    if (time <= 0)
        return;
    state->settled_at = now;
    wr_mix_over(sim->plant, state, time);
    wr_beds_advance(sim->plant, state, time);
    const double effluent = flows->service - flows->refill;
    book(sim, WR_LINE_RAW, 0, flows->raw * time, sim->plant->raw);
    book(sim, WR_LINE_EFFLUENT, 0, effluent * time, NULL);
    book(sim, WR_LINE_REFILL, 0, flows->refill * time, NULL);
    book(sim, WR_LINE_DELIVERED, 0, flows->delivered * time, NULL);
    book(sim, WR_LINE_OVERFLOW, 0, flows->overflow * time, NULL);
    state->asked += flows->demand * time;
    state->storage.level += (effluent - flows->delivered - flows->overflow) * time;
    state->wash_tank.level += (flows->refill - flows->wash) * time;
    state->wash_tank.free += flows->refill * time;
    for (size_t t = 0; t < sim->plant->tank_count; t++)
        tank_advance(sim, t, time);
    sewer_advance(sim, time);
    for (wr_limit_set held = flows->held; held != 0; held &= held - 1)
        state->holds[wr_limit_first(held)] += time;
}

/* Storage ---------------------------------------------------------------------------------------------------------- */

static double storage_net(const struct wr_flows *flows)
{
    return flows->service - flows->refill - flows->delivered - flows->overflow;
}

/* Wells and marks follow the level: what has been crossed is crossed at or past its threshold. */
static void follow_level(const struct wr_plant *plant, struct wr_state *state, bool falling)
{
    const struct wr_storage *s = &plant->definition->storage;
    struct wr_storage_state *storage = &state->storage;
    struct wr_well_state *wells = wr_state_wells(plant, state);
    for (size_t w = 0; w < plant->well_count; w++) {
        const struct wr_well *well = &plant->definition->wells.items[w];
        if (falling && storage->level <= well->on_below * s->volume)
            wells[w].called = true;
        if (!falling && storage->level >= well->off_above * s->volume)
            wells[w].called = false;
    }
    const double reserve = s->reserve * s->volume, low = s->low_mark * s->volume;
    storage->below_reserve = falling ? storage->below_reserve || storage->level <= reserve
                                     : storage->below_reserve && storage->level < reserve;
    storage->below_low_mark =
        falling ? storage->below_low_mark || storage->level <= low : storage->below_low_mark && storage->level < low;
    if (falling && storage->level <= 0)
        storage->pin = WR_PIN_EMPTY;
    if (!falling && storage->level >= s->volume)
        storage->pin = WR_PIN_FULL;
}

void wr_storage_act(struct wr_simulation *sim)
{
    struct wr_state *state = sim->state;
    const bool falling = storage_net(&state->flows) < 0;
    wr_ledger_rounding(sim->plant, state)[WR_ACCOUNT_STORAGE] += fabs(state->storage.level - state->storage.armed);
    state->storage.level = state->storage.armed;
    follow_level(sim->plant, state, falling);
}

void wr_storage_start(const struct wr_plant *plant, struct wr_state *state)
{
    const struct wr_storage *s = &plant->definition->storage;
    struct wr_well_state *wells = wr_state_wells(plant, state);
    state->storage.level = s->start_level * s->volume;
    state->storage.below_reserve = s->start_level < s->reserve;
    state->storage.below_low_mark = s->start_level < s->low_mark;
    state->storage.pin = s->start_level <= 0 ? WR_PIN_EMPTY : s->start_level >= 1 ? WR_PIN_FULL : WR_PIN_NONE;
    for (size_t w = 0; w < plant->well_count; w++)
        wells[w].called = s->start_level < plant->definition->wells.items[w].off_above;
}

/* The next level on the way down, m3, of those that mean something now. */
static double next_below(const struct wr_plant *plant, const struct wr_state *state)
{
    const struct wr_storage *s = &plant->definition->storage;
    const struct wr_well_state *wells = wr_state_wells(plant, state);
    double next = 0;
    for (size_t w = 0; w < plant->well_count; w++)
        if (!wells[w].called)
            next = fmax(next, plant->definition->wells.items[w].on_below * s->volume);
    if (!state->storage.below_reserve)
        next = fmax(next, s->reserve * s->volume);
    if (!state->storage.below_low_mark)
        next = fmax(next, s->low_mark * s->volume);
    return fmin(next, state->storage.level);
}

static double next_above(const struct wr_plant *plant, const struct wr_state *state)
{
    const struct wr_storage *s = &plant->definition->storage;
    const struct wr_well_state *wells = wr_state_wells(plant, state);
    double next = s->volume;
    for (size_t w = 0; w < plant->well_count; w++)
        if (wells[w].called)
            next = fmin(next, plant->definition->wells.items[w].off_above * s->volume);
    if (state->storage.below_reserve)
        next = fmin(next, s->reserve * s->volume);
    if (state->storage.below_low_mark)
        next = fmin(next, s->low_mark * s->volume);
    return fmax(next, state->storage.level);
}

static void storage_arm(struct wr_simulation *sim)
{
    struct wr_state *state = sim->state;
    struct wr_storage_state *storage = &state->storage;
    const double net = storage_net(&state->flows);
    if ((storage->pin == WR_PIN_EMPTY && net > 0) || (storage->pin == WR_PIN_FULL && net < 0))
        storage->pin = WR_PIN_NONE;
    double time = WR_NEVER;
    if (net < 0 && storage->pin != WR_PIN_EMPTY) {
        storage->armed = next_below(sim->plant, state);
        time = (storage->level - storage->armed) / -net;
    } else if (net > 0 && storage->pin != WR_PIN_FULL) {
        storage->armed = next_above(sim->plant, state);
        time = (storage->armed - storage->level) / net;
    }
    wr_timers_set(&sim->timers, sim->plant->timers.storage, wr_now(sim) + time);
}

/* Wash-water tank -------------------------------------------------------------------------------------------------- */

void wr_wash_tank_act(struct wr_simulation *sim)
{
    struct wr_wash_tank_state *tank = &sim->state->wash_tank;
    const struct wr_wash_tank *t = &sim->plant->definition->wash_water.tank;
    if (tank->armed_free) {
        tank->free = fmax(tank->free, tank->armed);
        if (tank->level < t->volume * (1 - REACHED))
            return;
        tank->armed = t->volume; /* a wash that needs the whole tank finds it full at the same instant */
    }
    wr_ledger_rounding(sim->plant, sim->state)[WR_ACCOUNT_WASH_TANK] += fabs(tank->level - tank->armed);
    tank->level = tank->armed;
    if (tank->level >= t->volume) {
        /* A tank that is refilled whenever it is not full gives what comes while it is full: a mode, no chatter. */
        tank->full = t->refill_on_below >= 1;
        tank->refilling = tank->full;
        if (sim->state->washing == 0)
            tank->free = tank->level;
    } else
        tank->refilling = true;
}

/* The nearer of two crossings of the tank wins its timer. */
static void tank_crosses(struct wr_wash_tank_state *tank, double *time, double candidate, double level, bool of_free)
{
    if (candidate >= *time)
        return;
    *time = candidate;
    tank->armed = level;
    tank->armed_free = of_free;
}

/* Wash water that the first in line waits for, m3; 0 when it waits for none. */
static double water_wanted(const struct wr_simulation *sim)
{
    if (sim->state->waiting == 0)
        return 0;
    const size_t first = wr_state_line(sim->plant, sim->state)[0];
    return sim->plant->groups[sim->plant->group_of[first]].wash_volume;
}

static void wash_tank_arm(struct wr_simulation *sim)
{
    struct wr_wash_tank_state *tank = &sim->state->wash_tank;
    const struct wr_wash_tank *t = &sim->plant->definition->wash_water.tank;
    const struct wr_flows *flows = &sim->state->flows;
    if (tank->full && flows->refill < flows->wash)
        tank->full = false;
    const double net = flows->refill - flows->wash, wanted = water_wanted(sim), on = t->refill_on_below * t->volume;
    double time = WR_NEVER;
    if (net > 0 && !tank->full)
        tank_crosses(tank, &time, fmax(0, t->volume - tank->level) / net, t->volume, false);
    if (net < 0 && !tank->refilling)
        tank_crosses(tank, &time, fmax(0, tank->level - on) / -net, fmin(on, tank->level), false);
    if (flows->refill > 0 && tank->free < wanted * (1 - WR_SLACK))
        tank_crosses(tank, &time, (wanted - tank->free) / flows->refill, wanted, true);
    wr_timers_set(&sim->timers, sim->plant->timers.wash_tank, wr_now(sim) + time);
}

void wr_stocks_arm(struct wr_simulation *sim)
{
    storage_arm(sim);
    wash_tank_arm(sim);
}
