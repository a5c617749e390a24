/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/stocks.h"

#include "sim/plant/bed.h"
#include "sim/plant/extreme.h"
#include "sim/plant/gate.h"
#include "sim/plant/holding.h"
#include "sim/plant/mixing.h"
#include "sim/plant/share.h"

#include <math.h>

/* Within this share a level has reached its threshold: instants are known only to the last bits of a double. */
static const double REACHED = 1e-12;

/* Books ------------------------------------------------------------------------------------------------------------ */

static inline void book(struct wr_simulation *sim, enum wr_line kind, size_t tank, double volume,
                        const double *concentration)
{
    if (volume <= 0)
        return; /* most lines rest most of the time */
    struct wr_entry *line = wr_ledger_line(sim->plant, sim->state, kind, tank);
    line->water += volume;
    for (int k = 0; concentration != NULL && k < WR_CONSTITUENTS; k++)
        line->mass[k] += concentration[k] * volume;
}

/* Finished water, which carries nothing; a line that rests is not worth asking whether it does. */
static inline void book_finished(struct wr_simulation *sim, enum wr_line kind, double volume)
{
    wr_ledger_line(sim->plant, sim->state, kind, 0)->water += volume;
}

/* What the filters send to storage, wash water that storage gives included. */
static double effluent(const struct wr_simulation *sim)
{
    const struct wr_flows *flows = &sim->state->flows;
    const bool by_filters = sim->plant->definition->wash_water.source == WR_WATER_FROM_FILTERS;
    return flows->service - flows->refill - (by_filters ? flows->wash : 0);
}

/* Net flow into storage. */
static double storage_net(const struct wr_flows *flows)
{
    return flows->to_storage - flows->delivered - flows->overflow;
}

static void tank_advance(struct wr_simulation *sim, size_t tank, double time)
{
    struct wr_tank *t = &wr_state_tanks(sim->plant, sim->state)[tank];
    const bool raw_wash = sim->plant->definition->wash_water.source == WR_WATER_FROM_WELLS;
    book(sim, WR_LINE_BACKWASH, tank, t->backwash * time, raw_wash ? sim->state->flows.raw_water : NULL);
    book(sim, WR_LINE_DRAINED, tank, t->drained * time, NULL);
    book(sim, WR_LINE_RINSE, tank, (t->inflow - t->backwash - t->drained) * time, NULL);
    book(sim, WR_LINE_RECYCLE, tank, t->to[WR_OUTLET_RECYCLE] * time, t->out);
    book(sim, WR_LINE_TO_SEWER, tank, t->to[WR_OUTLET_SEWER] * time, t->out);
    book(sim, WR_LINE_TO_POND, tank, t->to[WR_OUTLET_POND] * time, t->out);
    book(sim, WR_LINE_TO_HAUL, tank, t->to[WR_OUTLET_HAUL] * time, t->out);
    t->level += (t->inflow - t->drawn) * time;
    t->free += t->drawn * time;
    for (int k = 0; k < WR_CONSTITUENTS; k++) {
        t->mass[k] -= t->out[k] * t->drawn * time;
        if (raw_wash)
            t->mass[k] += sim->state->flows.raw_water[k] * t->backwash * time;
    }
}

/* Wash water that goes into no spent-wash tank: into drained filters, to the sewer or to the holding tank. */
static void wash_advance(struct wr_simulation *sim, size_t filter, double time)
{
    const struct wr_plant *plant = sim->plant;
    const struct wr_filter *f = &wr_state_filters(plant, sim->state)[filter];
    const struct wr_step *step = &plant->groups[plant->group_of[filter]].steps[f->step];
    const bool raw_wash = plant->definition->wash_water.source == WR_WATER_FROM_WELLS;
    const double *raw = raw_wash ? sim->state->flows.raw_water : NULL;
    const double volume = f->wash_flow * time;
    if (step->to == WR_TO_FILTER)
        book(sim, WR_LINE_FILL, 0, volume, NULL);
    else if (step->to == WR_TO_HOLDING) {
        book(sim, WR_LINE_REGENERANT, 0, volume, raw);
        wr_holding_fill(sim, filter, volume, raw);
    } else if (step->to == WR_TO_SEWER || f->tank >= plant->tank_count)
        book(sim, WR_LINE_BACKWASH, plant->tank_count + WR_BEYOND_SEWER, volume, raw);
    if (f->tank >= plant->tank_count)
        book(sim, WR_LINE_DRAINED, f->tank, step->drain_flow * time, NULL);
}

/* A rinse that goes into no tank. */
static void rinse_advance(struct wr_simulation *sim, size_t filter, double time)
{
    const struct wr_filter *f = &wr_state_filters(sim->plant, sim->state)[filter];
    const struct wr_group *g = &sim->plant->groups[sim->plant->group_of[filter]];
    const bool to_sewer = f->mode == WR_MODE_WASH && g->steps[f->step].feed_to == WR_TO_SEWER;
    if (to_sewer || f->tank >= sim->plant->tank_count)
        book(sim, WR_LINE_RINSE, to_sewer ? sim->plant->tank_count + WR_BEYOND_SEWER : f->tank, f->flow * time, NULL);
}

/* What filters that wash or rinse do beside filling spent-wash tanks. */
static void lone_advance(struct wr_simulation *sim, double time)
{
    const struct wr_filter *filters = wr_state_filters(sim->plant, sim->state);
    const uint32_t *lone = wr_state_lone(sim->plant, sim->state);
    for (uint32_t i = 0; i < sim->state->lone; i++) {
        const struct wr_filter *f = &filters[lone[i]];
        if (f->mode == WR_MODE_WASH)
            wash_advance(sim, lone[i], time);
        if (f->mode == WR_MODE_WASH || f->mode == WR_MODE_START_RINSE)
            rinse_advance(sim, lone[i], time);
    }
}

static void outlets_advance(struct wr_simulation *sim, double time)
{
    struct wr_outlet_state *outlets = wr_state_outlets(sim->plant, sim->state);
    for (size_t o = 0; o < sim->plant->outlet_count; o++) {
        if (outlets[o].flow <= 0)
            continue;
        outlets[o].today += outlets[o].flow * time;
        outlets[o].given += outlets[o].flow * time;
        outlets[o].hours += time;
        outlets[o].worst_day = wr_greater(outlets[o].worst_day, outlets[o].today);
        outlets[o].peak = wr_greater(outlets[o].peak, outlets[o].flow);
    }
}

/* Spent wash moves while filters wash or rinse, and while a tank gives. */
static void spent_advance(struct wr_simulation *sim, double time)
{
    const struct wr_state *state = sim->state;
    const size_t tanks = sim->plant->tank_count, giving = state->flows.recycle_tank;
    const bool comes = state->washing + state->rinsing > 0;
    if (comes) {
        const struct wr_tank *at = wr_state_tanks(sim->plant, sim->state);
        for (size_t t = 0; t < tanks; t++)
            if (at[t].inflow > 0 || at[t].drawn > 0)
                tank_advance(sim, t, time);
        lone_advance(sim, time);
    } else if (giving < tanks)
        tank_advance(sim, giving, time);
    if (giving < tanks)
        outlets_advance(sim, time);
}

void wr_stocks_advance(struct wr_simulation *sim, double now)
{
    struct wr_state *state = sim->state;
    const struct wr_flows *flows = &state->flows;
    const double time = now - state->settled_at;
    if (time <= 0)
        return;
    state->settled_at = now;
    if (!sim->plant->has_settling)
        wr_mix_over(sim->plant, state, time);
    wr_beds_advance(sim->plant, state, time);
    const bool from_tank = sim->plant->definition->wash_water.source == WR_WATER_FROM_TANK;
    book(sim, WR_LINE_RAW, 0, flows->raw * time, flows->raw_water);
    book_finished(sim, WR_LINE_EFFLUENT, effluent(sim) * time);
    book_finished(sim, WR_LINE_REFILL, flows->refill * time);
    book_finished(sim, WR_LINE_DELIVERED, flows->delivered * time);
    book_finished(sim, WR_LINE_OVERFLOW, flows->overflow * time);
    book_finished(sim, WR_LINE_DOWN, flows->down * time);
    state->asked += flows->demand * time;
    state->storage.level += storage_net(flows) * time;
    state->wash_tank.level += (flows->refill - (from_tank ? flows->wash : 0)) * time;
    state->wash_tank.free += flows->refill * time;
    spent_advance(sim, time);
    for (wr_limit_set held = flows->held; held != 0; held &= held - 1)
        state->holds[wr_limit_first(held)] += time;
}

/* Storage ---------------------------------------------------------------------------------------------------------- */

/* The next levels, m3, of those that mean something now, as wells and marks stand. */
static void look_ahead(const struct wr_plant *plant, struct wr_state *state)
{
    const struct wr_storage *s = &plant->definition->storage;
    const struct wr_well_state *wells = wr_state_wells(plant, state);
    struct wr_storage_state *storage = &state->storage;
    const struct {
        double share;
        bool below;
    } marks[] = {{s->reserve, storage->below_reserve},
                 {s->low_mark, storage->below_low_mark},
                 {plant->definition->wash.storage_lockout, storage->below_lockout}};
    storage->next_below = 0;
    storage->next_above = s->volume;
    for (size_t w = 0; w < plant->well_count; w++) {
        const struct wr_well *well = &plant->definition->wells.items[w];
        if (wells[w].called)
            storage->next_above = wr_lesser(storage->next_above, well->off_above * s->volume);
        else
            storage->next_below = wr_greater(storage->next_below, well->on_below * s->volume);
    }
    for (size_t m = 0; m < sizeof marks / sizeof *marks; m++) {
        if (marks[m].below)
            storage->next_above = wr_lesser(storage->next_above, marks[m].share * s->volume);
        else
            storage->next_below = wr_greater(storage->next_below, marks[m].share * s->volume);
    }
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
    const double lockout = plant->definition->wash.storage_lockout * s->volume;
    storage->below_lockout = falling ? storage->below_lockout || (lockout > 0 && storage->level <= lockout)
                                     : storage->below_lockout && storage->level < lockout;
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
    state->storage.armed_net = WR_NEVER;
    state->wells_share.stands = false;
    follow_level(sim->plant, state, falling);
    look_ahead(sim->plant, state);
}

void wr_storage_start(const struct wr_plant *plant, struct wr_state *state)
{
    const struct wr_storage *s = &plant->definition->storage;
    struct wr_well_state *wells = wr_state_wells(plant, state);
    state->storage.level = s->start_level * s->volume;
    state->storage.armed_net = WR_NEVER;
    state->storage.below_reserve = s->start_level < s->reserve;
    state->storage.below_low_mark = s->start_level < s->low_mark;
    state->storage.below_lockout = s->start_level < plant->definition->wash.storage_lockout;
    state->storage.pin = s->start_level <= 0 ? WR_PIN_EMPTY : s->start_level >= 1 ? WR_PIN_FULL : WR_PIN_NONE;
    for (size_t w = 0; w < plant->well_count; w++)
        wells[w].called = s->start_level < plant->definition->wells.items[w].off_above;
    look_ahead(plant, state);
}

/* Wash water that the first in line waits for, m3; 0 when it waits for none. */
static double water_wanted(const struct wr_simulation *sim)
{
    if (sim->state->waiting == 0)
        return 0;
    const size_t first = wr_state_line(sim->plant, sim->state)[0];
    return sim->plant->groups[sim->plant->group_of[first]].wash_volume;
}

/* Storage that gives wash water: when what is in hand is enough for the first in line. */
static void storage_water_arm(struct wr_simulation *sim)
{
    const struct wr_flows *flows = &sim->state->flows;
    const double wanted = water_wanted(sim), in_hand = wr_gate_storage_in_hand(sim);
    const double net = storage_net(flows) + flows->wash; /* what washes draw was promised to them before */
    const bool waits = wanted > 0 && in_hand < wanted * (1 - WR_SLACK) && net > 0;
    wr_timers_set(&sim->timers, sim->plant->timers.wash_water,
                  waits ? wr_now(sim) + (wanted - in_hand) / net : WR_NEVER);
}

static void storage_level_arm(struct wr_simulation *sim)
{
    struct wr_state *state = sim->state;
    struct wr_storage_state *storage = &state->storage;
    const double net = storage_net(&state->flows);
    if (net == storage->armed_net)
        return;
    storage->armed_net = net;
    if ((storage->pin == WR_PIN_EMPTY && net > 0) || (storage->pin == WR_PIN_FULL && net < 0))
        storage->pin = WR_PIN_NONE;
    double time = WR_NEVER;
    if (net < 0 && storage->pin != WR_PIN_EMPTY) {
        storage->armed = wr_lesser(storage->next_below, storage->level);
        time = (storage->level - storage->armed) / -net;
    } else if (net > 0 && storage->pin != WR_PIN_FULL) {
        storage->armed = wr_greater(storage->next_above, storage->level);
        time = (storage->armed - storage->level) / net;
    }
    wr_timers_set(&sim->timers, sim->plant->timers.storage, wr_now(sim) + time);
}

void wr_storage_arm(struct wr_simulation *sim)
{
    storage_level_arm(sim);
    if (sim->plant->definition->wash_water.source == WR_WATER_FROM_STORAGE)
        storage_water_arm(sim);
}

/* Wash-water tank -------------------------------------------------------------------------------------------------- */

void wr_wash_tank_act(struct wr_simulation *sim)
{
    struct wr_wash_tank_state *tank = &sim->state->wash_tank;
    const struct wr_wash_tank *t = &sim->plant->definition->wash_water.tank;
    if (sim->plant->definition->wash_water.source != WR_WATER_FROM_TANK)
        return; /* wakes the decision */
    if (tank->armed_free) {
        tank->free = wr_greater(tank->free, tank->armed);
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
        tank_crosses(tank, &time, wr_greater(0, t->volume - tank->level) / net, t->volume, false);
    if (net < 0 && !tank->refilling)
        tank_crosses(tank, &time, wr_greater(0, tank->level - on) / -net, wr_lesser(on, tank->level), false);
    if (flows->refill > 0 && tank->free < wanted * (1 - WR_SLACK))
        tank_crosses(tank, &time, (wanted - tank->free) / flows->refill, wanted, true);
    wr_timers_set(&sim->timers, sim->plant->timers.wash_water, wr_now(sim) + time);
}

void wr_stocks_arm(struct wr_simulation *sim)
{
    wr_storage_arm(sim);
    if (sim->plant->definition->wash_water.source == WR_WATER_FROM_TANK)
        wash_tank_arm(sim);
}
