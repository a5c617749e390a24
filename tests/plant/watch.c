/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/plant/watch_part.h"

#include <stdio.h>

static struct sight see(struct watch *watch, const struct wr_simulation *sim)
{
    return (struct sight){.watch = watch,
                          .sim = sim,
                          .plant = sim->plant,
                          .definition = sim->plant->definition,
                          .state = sim->state,
                          .now = sim->state->clock.now};
}

/* Breaches -------------------------------------------------------------------------------------------------------- */

void hold(struct sight at, bool holds, const char *what, double value, double limit)
{
    if (!holds && at.watch->breach[0] == '\0')
        snprintf(at.watch->breach, sizeof at.watch->breach, "at %.9g s: %s: %.17g against %.17g", at.now, what, value,
                 limit);
}

void hold_most(struct sight at, double value, double most, double slack, const char *what)
{
    hold(at, value <= most + slack, what, value, most);
}

void hold_least(struct sight at, double value, double least, double slack, const char *what)
{
    hold(at, value >= least - slack, what, value, least);
}

void hold_near(struct sight at, double value, double expected, double slack, const char *what)
{
    hold(at, fabs(value - expected) <= slack, what, value, expected);
}

/* The observer ---------------------------------------------------------------------------------------------------- */

static void remember(struct sight at)
{
    struct watch *watch = at.watch;
    watch->then = at.now;
    watch->storage = at.state->storage.level;
    watch->storage_net = storage_net(at);
    watch->wash_tank = at.state->wash_tank.level;
    watch->wash_tank_net = at.state->flows.refill - at.state->flows.wash;
    watch->tank_inflow = 0.0;
    for (size_t i = 0; i < at.plant->tank_count; i++) {
        const struct wr_tank *tank = &wr_state_tanks(at.plant, at.state)[i];
        watch->tanks[i] = tank->level;
        watch->tank_nets[i] = tank->inflow - tank->drawn;
        watch->tank_inflow += tank->inflow;
    }
    watch->recycle = at.state->flows.recycle;
    watch->in_line = at.state->waiting;
}

static void watch_instant(void *context, const struct wr_simulation *sim)
{
    const struct sight at = see(context, sim);
    struct watch *watch = at.watch;
    if (at.now > watch->then) {
        watch_moves(at);
        watch_recovered(at);
        watch_wakes(at);
        watch->waited += (double)watch->in_line * (at.now - watch->then);
    }
    watch_stocks(at);
    watch_filters(at);
    watch_wells(at);
    watch_flows(at);
    watch_outlets(at);
    watch_turns(at);
    watch_emergency(at);
    watch_blend(at);
    watch_line(at);
    watch_lock(at);
    remember(at);
    watch_next_wake(at);
}

static void watch_event(void *context, const struct wr_simulation *sim, const struct wr_event *event)
{
    const struct sight at = see(context, sim);
    struct watch *watch = at.watch;
    const bool begins = event->kind == WR_EVENT_WASH_STARTED;
    /* A wash that is broken off to be held ends by being called anew. */
    const bool ends = event->kind == WR_EVENT_WASH_ENDED ||
                      (event->kind == WR_EVENT_CALLED && filter_at(at, event->where)->mode == WR_MODE_HELD);
    watch_turn_event(at, event);
    if (begins)
        watch_start(at, event->where);
    if (begins || ends)
        watch->washing[event->where] = begins;
    watch->starts += begins;
    watch->ends += ends;
}

void watch_init(struct watch *watch, const struct wr_plant *plant)
{
    *watch = (struct watch){.plant = plant, .wakes = WR_NEVER, .wakes_for = "", .starved_since = WR_NEVER};
}

struct wr_observer watch_observer(struct watch *watch)
{
    return (struct wr_observer){.context = watch, .event = watch_event, .instant = watch_instant};
}

void watch_open(struct watch *watch, const struct wr_simulation *sim)
{
    for (size_t i = 0; i < wr_ledger_account_count(watch->plant); i++)
        watch->opening[i] = wr_ledger_stock(watch->plant, sim->state, i);
}

void watch_close(struct watch *watch, const struct wr_simulation *sim)
{
    const struct sight at = see(watch, sim);
    watch_recovered(at);
    watch_recovered_close(at);
    const struct wr_balance balance = wr_ledger_close(watch->plant, at.state, watch->opening);
    hold_most(at, balance.water_error_share, 1e-11, 0.0, "water that the books lose, share");
    hold_most(at, balance.solids_error_share, 1e-9, 0.0, "solids that the books lose, share");
    hold(at, balance.closes, "books that close, worst stock", balance.worst_stock_share, 0.0);
    watch->waited += (double)watch->in_line * (at.now - watch->then);
    double first = 0.0;
    for (size_t i = 0; i < WR_LIMITS; i++)
        first += at.state->waits[i].first + at.state->start_up[i].first;
    hold_near(at, first, watch->waited, WATCH_TINY * (1.0 + watch->waited),
              "waits by first reason against time in line");
    hold(at, watch->starts == watch->ends + at.state->washing, "washes begun and not ended", (double)watch->starts,
         (double)(watch->ends + at.state->washing));
}
