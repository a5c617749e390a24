/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/wash.h"

#include "sim/plant/bed.h"
#include "sim/plant/share.h"
#include "sim/plant/spent.h"

#include <assert.h>
#include <math.h>

static struct wr_filter *filter_at(const struct wr_simulation *sim, size_t filter)
{
    return &wr_state_filters(sim->plant, sim->state)[filter];
}

static const struct wr_group *group_of(const struct wr_simulation *sim, size_t filter)
{
    return &sim->plant->groups[sim->plant->group_of[filter]];
}

/* The line ------------------------------------------------------------------------------------------------------ */

/* True when a comes before b: longest waiting, or dirtiest where the plant says so; then longest since its wash; then
 * number. */
static bool comes_before(const struct wr_simulation *sim, size_t a, size_t b)
{
    const struct wr_filter *fa = filter_at(sim, a), *fb = filter_at(sim, b);
    if (sim->plant->definition->wash.who_first == WR_FIRST_DIRTIEST) {
        const double la = wr_bed_load(sim->plant, sim->state, a), lb = wr_bed_load(sim->plant, sim->state, b);
        if (la < lb || la > lb)
            return la > lb;
    } else if (fa->called_at < fb->called_at || fa->called_at > fb->called_at)
        return fa->called_at < fb->called_at;
    if (fa->wash_started_at < fb->wash_started_at || fa->wash_started_at > fb->wash_started_at)
        return fa->wash_started_at < fb->wash_started_at;
    return a < b;
}

/* Puts the line in order: an insertion, since it is nearly so. */
static void line_sort(struct wr_simulation *sim)
{
    uint32_t *line = wr_state_line(sim->plant, sim->state);
    for (uint32_t i = 1; i < sim->state->waiting; i++) {
        const uint32_t filter = line[i];
        uint32_t place = i;
        for (; place > 0 && comes_before(sim, filter, line[place - 1]); place--)
            line[place] = line[place - 1];
        line[place] = filter;
    }
}

static void line_join(struct wr_simulation *sim, size_t filter)
{
    wr_state_line(sim->plant, sim->state)[sim->state->waiting++] = (uint32_t)filter;
    line_sort(sim);
}

static void line_remove(struct wr_simulation *sim, size_t filter)
{
    uint32_t *line = wr_state_line(sim->plant, sim->state);
    uint32_t place = 0;
    while (place < sim->state->waiting && line[place] != filter)
        place++;
    assert(place < sim->state->waiting);
    sim->state->waiting--;
    for (; place < sim->state->waiting; place++)
        line[place] = line[place + 1];
}

void wr_wash_call(struct wr_simulation *sim, size_t filter, enum wr_trigger trigger)
{
    struct wr_filter *f = filter_at(sim, filter);
    struct wr_pack *pack = &wr_state_packs(sim->plant, sim->state)[sim->plant->group_of[filter]];
    assert(f->mode == WR_MODE_SERVICE && !f->called);
    if (f->above && wr_bed_in_pack(f))
        pack->above--;
    f->above = false;
    f->called = true;
    f->called_at = wr_now(sim);
    f->trigger = trigger;
    const struct wr_bed bed = wr_bed_now(sim->plant, sim->state, filter);
    f->wait = (struct wr_wait){.load_at_call = bed.load[WR_SOLIDS], .volume_at_call = bed.volume};
    pack->stale = true;
    wr_timers_set(&sim->timers, sim->plant->timers.filter_calls + filter, WR_NEVER);
    line_join(sim, filter);
    wr_tell(sim, WR_EVENT_CALLED, filter);
}

void wr_wash_leave_line(struct wr_simulation *sim, size_t filter)
{
    wr_wash_close_spans(sim, filter);
    line_remove(sim, filter);
}

void wr_wash_return_to_line(struct wr_simulation *sim, size_t filter)
{
    line_join(sim, filter);
}

/* The gate ------------------------------------------------------------------------------------------------------ */

wr_limit_set wr_wash_gate(const struct wr_simulation *sim, size_t filter)
{
    const struct wr_state *state = sim->state;
    const struct wr_wash *wash = &sim->plant->definition->wash;
    const struct wr_group *g = group_of(sim, filter);
    wr_limit_set held = 0;
    if (wr_now(sim) < state->last_start + wash->min_between_starts)
        held |= wr_limit_bit(WR_LIMIT_TIME_BETWEEN_STARTS);
    if (state->washing >= wash->max_simultaneous)
        held |= wr_limit_bit(WR_LIMIT_WASH_SYSTEM);
    if (state->wash_tank.free < g->wash_volume * (1 - WR_SLACK))
        held |= wr_limit_bit(WR_LIMIT_WASH_WATER);
    if (sim->plant->tank_count > 0 && wr_spent_tank_for(sim, g->room) == sim->plant->tank_count)
        held |= wr_limit_bit(WR_LIMIT_SPENT_WASH_ROOM);
    return held;
}

/* Steps of a wash ----------------------------------------------------------------------------------------------- */

static void step_begin(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    const struct wr_step *step = &group_of(sim, filter)->steps[f->step];
    f->flow = 0;
    f->rinse_left = step->feed_flow * step->duration;
    const double end = step->feed_flow > 0 ? WR_NEVER : wr_now(sim) + step->duration;
    wr_timers_set(&sim->timers, sim->plant->timers.steps + filter, end);
    wr_tell(sim, WR_EVENT_STEP_STARTED, filter);
}

static void wash_begin(struct wr_simulation *sim, size_t filter)
{
    struct wr_state *state = sim->state;
    struct wr_filter *f = filter_at(sim, filter);
    const struct wr_group *g = group_of(sim, filter);
    wr_tell(sim, WR_EVENT_WASH_STARTED, filter);
    wr_wash_close_spans(sim, filter);
    line_remove(sim, filter);
    if (wr_bed_in_pack(f))
        wr_bed_leave(sim->plant, state, filter);
    else
        wr_tell_span(sim, WR_LIMIT_AVAILABLE_HEAD, filter, f->reason_since[WR_LIMIT_AVAILABLE_HEAD], wr_now(sim));
    f->mode = WR_MODE_WASH;
    f->called = f->apart = false;
    f->step = 0;
    f->wash_started_at = state->last_start = wr_now(sim);
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        f->load_at_wash[k] = f->bed.load[k];
    f->tank = (uint32_t)wr_spent_tank_for(sim, g->room);
    wr_spent_book(sim, f->tank, g->room);
    state->wash_tank.free -= g->wash_volume;
    state->washing++;
    wr_timers_set(&sim->timers, sim->plant->timers.stretches + filter, WR_NEVER);
    wr_timers_set(&sim->timers, sim->plant->timers.filter_calls + filter, WR_NEVER);
    step_begin(sim, filter);
}

/* A tank that refills only below a level would never call for water it lacks above it. One that is full lacks water
 * only because a wash under way has booked it: it follows the draw, pinned, until the first in line has what it wants.
 */
static void refill_for_first(struct wr_simulation *sim)
{
    struct wr_wash_tank_state *tank = &sim->state->wash_tank;
    tank->refilling = true;
    tank->full = tank->level >= sim->plant->definition->wash_water.tank.volume;
}

static void end_refill_for_first(struct wr_simulation *sim)
{
    struct wr_wash_tank_state *tank = &sim->state->wash_tank;
    if (tank->full && sim->plant->definition->wash_water.tank.refill_on_below < 1)
        tank->full = tank->refilling = false;
}

void wr_wash_decide(struct wr_simulation *sim)
{
    end_refill_for_first(sim);
    if (sim->plant->definition->wash.who_first == WR_FIRST_DIRTIEST)
        line_sort(sim);
    while (sim->state->waiting > 0) {
        const size_t first = wr_state_line(sim->plant, sim->state)[0];
        const wr_limit_set held = wr_wash_gate(sim, first);
        if (held == 0) {
            wash_begin(sim, first);
            continue;
        }
        if ((held & wr_limit_bit(WR_LIMIT_WASH_WATER)) != 0)
            refill_for_first(sim);
        return;
    }
}

/* What is left in the bed by rounding goes with the last of the backwash. */
static void backwash_ended(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    const double area = group_of(sim, filter)->area;
    struct wr_entry *line = wr_ledger_line(sim->plant, sim->state, WR_LINE_RELEASED, f->tank);
    for (int k = 0; k < WR_CONSTITUENTS; k++) {
        const double mass = f->bed.load[k] * area;
        line->mass[k] += mass;
        if (f->tank < sim->plant->tank_count)
            wr_state_tanks(sim->plant, sim->state)[f->tank].mass[k] += mass;
        f->bed.load[k] = 0;
    }
}

static void wash_end(struct wr_simulation *sim, size_t filter)
{
    struct wr_state *state = sim->state;
    struct wr_filter *f = filter_at(sim, filter);
    state->washing--;
    if (state->washing == 0)
        state->wash_tank.free = state->wash_tank.level;
    wr_spent_release(sim, f->tank);
    f->bed.volume = f->bed.hours = 0;
    f->flow = 0;
    f->washed = true;
    if (f->outage_waits) {
        f->mode = WR_MODE_OUT;
        f->outage_waits = false;
        wr_tell(sim, WR_EVENT_OUT, filter);
    } else {
        f->mode = WR_MODE_SERVICE;
        wr_bed_join(sim->plant, state, filter);
    }
    wr_tell(sim, WR_EVENT_WASH_ENDED, filter);
}

void wr_wash_step_ended(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    const struct wr_group *g = group_of(sim, filter);
    const bool washed = g->steps[f->step].wash_flow > 0;
    f->step++;
    if (washed && (f->step == g->step_count || g->steps[f->step].wash_flow <= 0))
        backwash_ended(sim, filter);
    if (f->step == g->step_count) {
        f->step--;
        wash_end(sim, filter);
    } else
        step_begin(sim, filter);
}

/* Timers -------------------------------------------------------------------------------------------------------- */

/* A rinse lasts until it has had its volume. */
static void arm_rinses(struct wr_simulation *sim)
{
    const uint32_t *lone = wr_state_lone(sim->plant, sim->state);
    for (uint32_t i = 0; i < sim->state->lone; i++) {
        const struct wr_filter *f = filter_at(sim, lone[i]);
        if (f->mode != WR_MODE_WASH || group_of(sim, lone[i])->steps[f->step].feed_flow <= 0)
            continue;
        const double end = f->flow > 0 ? wr_now(sim) + fmax(0, f->rinse_left) / f->flow : WR_NEVER;
        wr_timers_set(&sim->timers, sim->plant->timers.steps + lone[i], end);
    }
}

void wr_wash_arm(struct wr_simulation *sim)
{
    const struct wr_state *state = sim->state;
    const double gap_ends = state->last_start + sim->plant->definition->wash.min_between_starts;
    wr_timers_set(&sim->timers, sim->plant->timers.gap,
                  state->waiting > 0 && wr_now(sim) < gap_ends ? gap_ends : WR_NEVER);
    arm_rinses(sim);
}

/* Spans --------------------------------------------------------------------------------------------------------- */

/* Opens and closes spans so that they match the reasons that hold now. */
static void reasons_become(struct wr_simulation *sim, size_t filter, wr_limit_set reasons)
{
    struct wr_filter *f = filter_at(sim, filter);
    for (wr_limit_set ended = f->reasons & ~reasons; ended != 0; ended &= ended - 1) {
        const enum wr_limit limit = wr_limit_first(ended);
        wr_tell_span(sim, limit, filter, f->reason_since[limit], wr_now(sim));
    }
    for (wr_limit_set begun = reasons & ~f->reasons; begun != 0; begun &= begun - 1)
        f->reason_since[wr_limit_first(begun)] = wr_now(sim);
    f->reasons = reasons;
}

void wr_wash_close_spans(struct wr_simulation *sim, size_t filter)
{
    reasons_become(sim, filter, 0);
}

void wr_wash_note(struct wr_simulation *sim)
{
    const uint32_t *line = wr_state_line(sim->plant, sim->state);
    wr_limit_set ahead = 0;
    for (uint32_t i = 0; i < sim->state->waiting; i++) {
        const wr_limit_set own = wr_wash_gate(sim, line[i]);
        /* Nobody overtakes: who could start but for its place waits for what the first in line waits for. */
        const wr_limit_set reasons = own != 0 ? own : ahead;
        if (i == 0)
            ahead = reasons;
        if (reasons != filter_at(sim, line[i])->reasons)
            reasons_become(sim, line[i], reasons);
    }
}
