/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/spent.h"

#include "sim/plant/blanket.h"
#include "sim/plant/extreme.h"
#include "sim/plant/settling.h"
#include "sim/plant/share.h"

#include <math.h>

static struct wr_tank *tank_at(const struct wr_simulation *sim, size_t tank)
{
    return &wr_state_tanks(sim->plant, sim->state)[tank];
}

static double volume_of(const struct wr_simulation *sim, size_t tank)
{
    return sim->plant->definition->spent_wash.tanks.items[tank].volume;
}

size_t wr_spent_tank_for(const struct wr_simulation *sim, double room)
{
    size_t best = sim->plant->tank_count;
    for (size_t t = 0; t < sim->plant->tank_count; t++) {
        const struct wr_tank *tank = tank_at(sim, t);
        if (tank->mode != WR_TANK_FILLING || tank->closed || tank->free < room * (1 - WR_SLACK))
            continue;
        if (best == sim->plant->tank_count || tank->free < tank_at(sim, best)->free)
            best = t;
    }
    return best;
}

void wr_spent_book(struct wr_simulation *sim, size_t tank, double room)
{
    if (tank >= sim->plant->tank_count)
        return;
    tank_at(sim, tank)->free -= room;
    tank_at(sim, tank)->washes++;
}

/* Volume of the blanket of sludge, m3; 0 where none is kept. */
static double blanket_of(const struct wr_simulation *sim, size_t tank)
{
    return sim->plant->definition->spent_wash.has_blanket ? wr_blanket_volume(sim, tank) : 0;
}

/* Share of what is in suspension that goes with the clear water: what that still carries of the mix, in its part of the
 * water above the blanket. Worked out when the tank begins to stand still: a blanket that thickens meanwhile gives up
 * water, and would thin the mix. */
static double share_carried(const struct wr_still *still, const struct wr_clearing *clearing)
{
    const double water = still->level - still->blanket;
    return water > 0 ? wr_lesser(1, clearing->left * clearing->clear / water) : 0;
}

static void settle_begin(struct wr_simulation *sim, size_t tank)
{
    struct wr_tank *t = tank_at(sim, tank);
    const struct wr_still still = {
        .tank = tank, .level = t->level, .blanket = blanket_of(sim, tank), .solids = t->mass[WR_SOLIDS]};
    const struct wr_clearing clearing = wr_settling_foresee(sim->plant, &still);
    t->mode = WR_TANK_SETTLING;
    t->since = wr_now(sim);
    t->ready = clearing.time;
    t->clears = clearing.clears;
    t->carried = share_carried(&still, &clearing);
    t->clear = clearing.clear;
    t->lifted = clearing.lifted;
    t->sludge = clearing.bottom;
    wr_tell(sim, WR_EVENT_TANK_SETTLES, tank);
}

static bool lacks_room(const struct wr_simulation *sim, const struct wr_tank *tank)
{
    return tank->free < sim->plant->largest_room * (1 - WR_SLACK);
}

void wr_spent_release(struct wr_simulation *sim, size_t tank)
{
    if (tank >= sim->plant->tank_count)
        return;
    struct wr_tank *t = tank_at(sim, tank);
    t->since = wr_now(sim);
    if (--t->washes > 0)
        return;
    t->free = volume_of(sim, tank) - t->level;
    if (sim->plant->has_settling && lacks_room(sim, t))
        settle_begin(sim, tank);
}

/* Sets the level exactly; what that wins or loses is booked. */
static void level_becomes(struct wr_simulation *sim, size_t tank, double level)
{
    struct wr_tank *t = tank_at(sim, tank);
    wr_ledger_rounding(sim->plant, sim->state)[WR_ACCOUNT_TANKS + tank] += fabs(t->level - level);
    t->level = level;
}

/* Moves what a tank still holds of each constituent out by a line. */
static void mass_leaves(struct wr_simulation *sim, size_t tank, enum wr_line kind)
{
    struct wr_tank *t = tank_at(sim, tank);
    struct wr_entry *line = wr_ledger_line(sim->plant, sim->state, kind, tank);
    for (int k = 0; k < WR_CONSTITUENTS; k++) {
        line->mass[k] += t->mass[k];
        t->mass[k] = 0;
    }
}

/* Where a blanket is kept, all that has settled joins it, and what stays in suspension leaves with the decant: what the
 * clear water still carries, and sludge that stands above a fixed draw-off. */
static void join_blanket(struct wr_simulation *sim, size_t tank)
{
    struct wr_tank *t = tank_at(sim, tank);
    double carried[WR_CONSTITUENTS];
    for (int k = 0; k < WR_CONSTITUENTS; k++) {
        carried[k] = t->mass[k] * t->carried;
        t->mass[k] -= carried[k];
    }
    wr_blanket_gain(sim, tank);
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        t->mass[k] = carried[k];
    if (t->lifted > 0)
        wr_blanket_lift(sim, tank, wr_greater(0, wr_blanket_volume(sim, tank) - t->sludge));
}

static void settled(struct wr_simulation *sim, size_t tank)
{
    struct wr_tank *t = tank_at(sim, tank);
    const double drawn = t->level - t->sludge;
    wr_state_again(sim->state, WR_AGAIN_FLOWS);
    if (sim->plant->definition->spent_wash.has_blanket)
        join_blanket(sim, tank);
    for (int k = 0; k < WR_CONSTITUENTS && drawn > 0; k++)
        t->out[k] = (sim->plant->definition->spent_wash.has_blanket ? 1 : t->carried) * t->mass[k] / drawn;
    t->mode = WR_TANK_DECANTING;
    t->since = wr_now(sim);
    wr_tell(sim, WR_EVENT_TANK_SETTLED, tank);
}

/* Where no blanket is kept, all that is left is dropped. */
static void drop_sludge(struct wr_simulation *sim, size_t tank)
{
    struct wr_tank *t = tank_at(sim, tank);
    wr_ledger_line(sim->plant, sim->state, WR_LINE_SLUDGE, tank)->water += t->sludge;
    mass_leaves(sim, tank, WR_LINE_SLUDGE);
    t->level = t->sludge = 0;
}

/* The clear water is gone, and the tank fills again. */
static void decanted(struct wr_simulation *sim, size_t tank)
{
    struct wr_tank *t = tank_at(sim, tank);
    wr_state_again(sim->state, WR_AGAIN_FLOWS);
    level_becomes(sim, tank, t->sludge);
    if (!sim->plant->definition->spent_wash.has_blanket)
        drop_sludge(sim, tank);
    t->free = volume_of(sim, tank) - t->level;
    t->mode = WR_TANK_FILLING;
    t->dumped = false;
    t->since = wr_now(sim);
    if (sim->plant->definition->spent_wash.has_blanket) {
        wr_blanket_gain(sim, tank);
        wr_blanket_draw(sim, tank);
    }
    wr_tell(sim, WR_EVENT_TANK_EMPTIED, tank);
}

/* True when an emergency outlet may run. */
static bool emergency_is_open(const struct wr_simulation *sim)
{
    const struct wr_outlet_state *outlets = wr_state_outlets(sim->plant, sim->state);
    for (size_t o = 0; o < sim->plant->outlet_count; o++)
        if (sim->plant->definition->spent_wash.outlets.items[o].emergency && outlets[o].open && !outlets[o].spent)
            return true;
    return false;
}

void wr_spent_dump(struct wr_simulation *sim)
{
    struct wr_tank *oldest = NULL;
    if (!emergency_is_open(sim))
        return;
    for (size_t tank = 0; tank < sim->plant->tank_count; tank++) {
        struct wr_tank *t = tank_at(sim, tank);
        /* One that has stood long enough gives clear water, also where the instant has not come to it yet. */
        const bool is_clear = t->mode == WR_TANK_SETTLING && t->since + t->ready <= wr_now(sim);
        if ((t->mode == WR_TANK_DECANTING || is_clear) && !t->closed)
            return;
        if (t->mode == WR_TANK_SETTLING && !t->closed && (oldest == NULL || t->since < oldest->since))
            oldest = t;
    }
    if (oldest == NULL)
        return;
    const size_t tank = (size_t)(oldest - wr_state_tanks(sim->plant, sim->state));
    oldest->dumped = true;
    oldest->armed_drawn = WR_NEVER;
    oldest->carried = 1;
    oldest->lifted = 0;
    oldest->sludge = blanket_of(sim, tank);
    oldest->clear = oldest->level - oldest->sludge;
    wr_tell(sim, WR_EVENT_TANK_DUMPED, tank);
    settled(sim, tank);
}

/* Line that what is left by rounding goes with: that of the outlet that runs. Recycle would have to be caught by beds
 * after the fact, so it stays as sludge. */
static enum wr_line last_line(const struct wr_tank *t)
{
    if (t->to[WR_OUTLET_SEWER] > 0)
        return WR_LINE_TO_SEWER;
    if (t->to[WR_OUTLET_POND] > 0)
        return WR_LINE_TO_POND;
    return t->to[WR_OUTLET_HAUL] > 0 ? WR_LINE_TO_HAUL : WR_LINE_SLUDGE;
}

/* A tank without settling has run dry: from now on it gives what comes. */
static void ran_dry(struct wr_simulation *sim, size_t tank)
{
    struct wr_tank *t = tank_at(sim, tank);
    wr_state_again(sim->state, WR_AGAIN_FLOWS);
    level_becomes(sim, tank, 0);
    t->empty = true;
    if (t->washes == 0) {
        t->free = volume_of(sim, tank);
        mass_leaves(sim, tank, last_line(t));
    }
    wr_tell(sim, WR_EVENT_TANK_EMPTIED, tank);
}

void wr_spent_act(struct wr_simulation *sim, size_t tank)
{
    tank_at(sim, tank)->armed_drawn = WR_NEVER;
    switch (tank_at(sim, tank)->mode) {
    case WR_TANK_SETTLING:
        settled(sim, tank);
        break;
    case WR_TANK_DECANTING:
        decanted(sim, tank);
        break;
    default:
        if (sim->plant->has_settling)
            settle_begin(sim, tank);
        else
            ran_dry(sim, tank);
    }
}

/* When a tank between washes starts to settle: at once where the largest wash does not fit, as may be from the start.
 */
static double settle_time(const struct wr_simulation *sim, const struct wr_tank *tank)
{
    if (tank->washes > 0 || tank->level <= tank->sludge)
        return WR_NEVER;
    const double now = wr_now(sim);
    return lacks_room(sim, tank)
               ? now
               : wr_greater(now, tank->since + sim->plant->definition->spent_wash.settling.start_after);
}

/* When the tank's own next thing happens at the flows that hold. */
static double next_time(const struct wr_simulation *sim, size_t tank)
{
    const struct wr_tank *t = tank_at(sim, tank);
    const double now = wr_now(sim);
    switch (t->mode) {
    case WR_TANK_SETTLING:
        return t->since + t->ready;
    case WR_TANK_DECANTING:
        if (t->level <= t->sludge)
            return now;
        return t->drawn > 0 ? now + wr_greater(0, t->level - t->sludge) / t->drawn : WR_NEVER;
    default:
        if (sim->plant->has_settling)
            return settle_time(sim, t);
        return !t->empty && t->drawn > t->inflow ? now + t->level / (t->drawn - t->inflow) : WR_NEVER;
    }
}

/* When room for the first in line comes free in a tank that empties while it fills. */
static double room_time(const struct wr_simulation *sim, size_t tank)
{
    const struct wr_state *state = sim->state;
    const struct wr_tank *t = tank_at(sim, tank);
    if (t->mode != WR_TANK_FILLING || t->drawn <= 0)
        return WR_NEVER;
    const size_t first = wr_state_line(sim->plant, state)[0];
    const double room = sim->plant->groups[sim->plant->group_of[first]].room;
    if (t->free >= room * (1 - WR_SLACK) || room > volume_of(sim, tank))
        return WR_NEVER;
    return wr_now(sim) + (room - t->free) / t->drawn;
}

void wr_spent_room_came(struct wr_simulation *sim, size_t tank)
{
    if (sim->state->waiting == 0)
        return;
    const size_t first = wr_state_line(sim->plant, sim->state)[0];
    const double room = sim->plant->groups[sim->plant->group_of[first]].room;
    struct wr_tank *t = tank_at(sim, tank);
    /* Who the timer stood for may have left the line at this very instant: what the next needs has not come. */
    if (t->free >= room * (1 - 1e-6))
        t->free = wr_greater(t->free, room);
}

void wr_spent_arm(struct wr_simulation *sim)
{
    for (size_t tank = 0; tank < sim->plant->tank_count; tank++) {
        struct wr_tank *t = tank_at(sim, tank);
        if (t->empty && t->inflow > t->drawn) {
            t->empty = false;
            wr_state_again(sim->state, WR_AGAIN_FLOWS);
        }
        if (t->mode != WR_TANK_DECANTING || t->drawn != t->armed_drawn)
            wr_timers_set(&sim->timers, sim->plant->timers.tanks + tank, next_time(sim, tank));
        t->armed_drawn = t->drawn;
        wr_timers_set(&sim->timers, sim->plant->timers.rooms + tank,
                      sim->state->waiting > 0 ? room_time(sim, tank) : WR_NEVER);
    }
}
