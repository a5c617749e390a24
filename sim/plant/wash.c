/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/wash.h"

#include "sim/plant/bed.h"
#include "sim/plant/extreme.h"
#include "sim/plant/gate.h"
#include "sim/plant/holding.h"
#include "sim/plant/line.h"
#include "sim/plant/share.h"
#include "sim/plant/spent.h"
#include "sim/plant/start_rinse.h"

#include <math.h>

static struct wr_filter *filter_at(const struct wr_simulation *sim, size_t filter)
{
    return &wr_state_filters(sim->plant, sim->state)[filter];
}

static const struct wr_group *group_of(const struct wr_simulation *sim, size_t filter)
{
    return &sim->plant->groups[sim->plant->group_of[filter]];
}

/* Beginning ----------------------------------------------------------------------------------------------------- */

/* Steps that need wash water are passed over while there is none to be had. */
static bool is_passed_over(const struct wr_simulation *sim, size_t filter)
{
    return sim->state->wash_pump_out && group_of(sim, filter)->steps[filter_at(sim, filter)->step].wash_flow > 0;
}

/* A filter that an earlier wash, cut short, has left drained gives only what it still holds above the step's end. */
static double step_duration(const struct wr_simulation *sim, size_t filter)
{
    const struct wr_filter *f = filter_at(sim, filter);
    const struct wr_group *g = group_of(sim, filter);
    const struct wr_step *step = &g->steps[f->step];
    const double flow = step->drain_flow + step->down_flow;
    double holds = f->water;
    if (flow <= 0)
        return step->duration;
    for (size_t s = 0; s <= f->step; s++)
        holds += (g->steps[s].drain_flow + g->steps[s].down_flow) * g->steps[s].duration;
    if (holds >= flow * step->duration * (1 - WR_SLACK))
        return step->duration;
    return wr_greater(0, holds) / flow;
}

/* What the backwash carries out its share of: all the bed holds as it begins, with what raw water has filled in. */
static void hold_load(struct wr_filter *f)
{
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        f->load_at_wash[k] = f->bed.load[k];
}

static void step_begin(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    const struct wr_step *step = &group_of(sim, filter)->steps[f->step];
    const bool passed_over = is_passed_over(sim, filter);
    const double duration = passed_over ? 0 : step_duration(sim, filter);
    f->weak = f->weak || passed_over;
    f->flow = f->wash_flow = 0;
    f->rinse_left = step->feed_flow * duration;
    if (step->wash_flow > 0 && step->to == WR_TO_SPENT && f->given <= 0)
        hold_load(f);
    const double end = step->feed_flow > 0 ? WR_NEVER : wr_now(sim) + duration;
    wr_timers_set(&sim->timers, sim->plant->timers.steps + filter, end);
    wr_tell(sim, WR_EVENT_STEP_STARTED, filter);
}

void wr_wash_go_off_line(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    if (f->apart || f->alarmed)
        wr_tell_span(sim, WR_LIMIT_AVAILABLE_HEAD, filter, f->reason_since[WR_LIMIT_AVAILABLE_HEAD], wr_now(sim));
    if (wr_bed_in_pack(f))
        wr_bed_leave(sim->plant, sim->state, filter);
    f->apart = f->alarmed = f->above = false;
    wr_timers_set(&sim->timers, sim->plant->timers.stretches + filter, WR_NEVER);
    wr_timers_set(&sim->timers, sim->plant->timers.filter_calls + filter, WR_NEVER);
}

static void wash_begin(struct wr_simulation *sim, size_t filter)
{
    struct wr_state *state = sim->state;
    struct wr_filter *f = filter_at(sim, filter);
    const struct wr_group *g = group_of(sim, filter);
    wr_tell(sim, WR_EVENT_WASH_STARTED, filter);
    wr_line_leave(sim, filter);
    if (f->mode == WR_MODE_START_RINSE)
        wr_start_rinse_cut(sim, filter);
    wr_wash_go_off_line(sim, filter);
    f->mode = WR_MODE_WASH;
    f->called = f->urgent = f->weak = f->interrupted = false;
    f->step = 0;
    f->given = 0;
    f->wash_started_at = state->last_start = wr_now(sim);
    hold_load(f);
    f->tank = (uint32_t)wr_spent_tank_for(sim, g->room);
    wr_spent_book(sim, f->tank, g->room);
    wr_holding_book(sim, filter);
    state->wash_tank.free -= g->wash_volume;
    state->booked += g->wash_volume;
    state->washing++;
    state->air_washes += g->air;
    wr_state_again(state, WR_AGAIN_FLOWS);
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
    const bool wanted_room = sim->state->wants_room;
    end_refill_for_first(sim);
    sim->state->wants_room = false;
    if (sim->plant->definition->wash.who_first == WR_FIRST_DIRTIEST)
        wr_line_sort(sim);
    while (sim->state->waiting > 0) {
        const size_t first = wr_state_line(sim->plant, sim->state)[0];
        const wr_limit_set held = wr_gate(sim, first);
        if (held == 0) {
            wash_begin(sim, first);
            continue;
        }
        if (wr_gate_lacks_volume(sim, first))
            refill_for_first(sim);
        sim->state->wants_room = (held & wr_limit_bit(WR_LIMIT_SPENT_WASH_ROOM)) != 0;
        break;
    }
    if (sim->plant->has_emergency && sim->state->wants_room)
        wr_spent_dump(sim);
    if (sim->plant->has_emergency && sim->state->wants_room != wanted_room)
        wr_state_again(sim->state, WR_AGAIN_FLOWS);
}

/* Steps --------------------------------------------------------------------------------------------------------- */

static bool had_its_whole_water(const struct wr_simulation *sim, size_t filter)
{
    return filter_at(sim, filter)->given >= group_of(sim, filter)->backwash_volume * (1 - WR_SLACK);
}

/* After its whole water a bed holds what the backwash cannot carry out, nothing unless the author says how it washes
 * out: what differs by rounding goes with the last of the backwash. After less, the share of the load equal to the
 * share of the water not given stays in the bed: an invented rule. */
static void backwash_ended(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    const double area = group_of(sim, filter)->area;
    struct wr_entry *line = wr_ledger_line(sim->plant, sim->state, WR_LINE_RELEASED, f->tank);
    if (!had_its_whole_water(sim, filter)) {
        f->weak = true;
        return;
    }
    for (int k = 0; k < WR_CONSTITUENTS; k++) {
        const double stays = f->load_at_wash[k] * (1 - group_of(sim, filter)->released);
        const double mass = (f->bed.load[k] - stays) * area;
        line->mass[k] += mass;
        if (f->tank < sim->plant->tank_count)
            wr_state_tanks(sim->plant, sim->state)[f->tank].mass[k] += mass;
        f->bed.load[k] = stays;
    }
}

/* Gives back what a wash had booked and not used. */
static void release_bookings(struct wr_simulation *sim, size_t filter)
{
    struct wr_state *state = sim->state;
    state->washing--;
    state->air_washes -= group_of(sim, filter)->air;
    if (state->washing == 0) {
        state->wash_tank.free = state->wash_tank.level;
        state->booked = 0;
    }
    wr_spent_release(sim, filter_at(sim, filter)->tank);
    wr_holding_release(sim, filter);
}

/* Goes out by an outage that waited; a call stays latched. */
static void go_out(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    f->stands_by = f->mode == WR_MODE_HELD;
    f->mode = WR_MODE_OUT;
    f->outage_waits = false;
    if (f->called)
        wr_line_leave(sim, filter);
    wr_tell(sim, WR_EVENT_OUT, filter);
}

void wr_wash_return(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    if (f->outage_waits) {
        go_out(sim, filter);
        return;
    }
    f->mode = WR_MODE_SERVICE;
    wr_bed_join(sim->plant, sim->state, filter);
}

static void wash_end(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    release_bookings(sim, filter);
    f->bed.volume = f->bed.hours = 0;
    f->flow = f->wash_flow = 0;
    /* A filter is filled again with what it was drained of; what differs is rounding, or a wash cut short. */
    if (fabs(f->water) < 1e-9 * group_of(sim, filter)->area) {
        wr_ledger_rounding(sim->plant, sim->state)[WR_ACCOUNT_FILTERS] += fabs(f->water);
        f->water = 0;
    }
    if (f->weak)
        wr_tell(sim, WR_EVENT_WASH_SHORT, filter);
    wr_wash_return(sim, filter);
    wr_tell(sim, WR_EVENT_WASH_ENDED, filter);
    f->washed = true;
}

/* From one step without feed to another nothing moves but what the wash draws; where wells or filters give that, or
 * while raw water is rinsed away beside it, all may. */
static enum wr_again moved_by_step(const struct wr_simulation *sim, const struct wr_step *ended,
                                   const struct wr_step *next)
{
    const int source = sim->plant->definition->wash_water.source;
    const bool from_stock = source != WR_WATER_FROM_WELLS && source != WR_WATER_FROM_FILTERS;
    return from_stock && sim->state->rinsing == 0 && next != NULL && ended->feed_flow <= 0 && next->feed_flow <= 0
               ? WR_AGAIN_DRAWS
               : WR_AGAIN_FLOWS;
}

void wr_wash_step_ended(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    const struct wr_group *g = group_of(sim, filter);
    const struct wr_step *ended = &g->steps[f->step];
    const bool washed = ended->wash_flow > 0 && ended->to == WR_TO_SPENT;
    f->step++;
    const struct wr_step *next = f->step < g->step_count ? &g->steps[f->step] : NULL;
    wr_state_again(sim->state, moved_by_step(sim, ended, next));
    if (washed && (next == NULL || next->wash_flow <= 0 || next->to != WR_TO_SPENT))
        backwash_ended(sim, filter);
    if (next == NULL) {
        f->step--;
        wash_end(sim, filter);
    } else
        step_begin(sim, filter);
}

/* Interruptions ------------------------------------------------------------------------------------------------- */

/* The filter stays off line and in line for another wash, until somebody attends. */
static void hold(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    release_bookings(sim, filter);
    wr_timers_set(&sim->timers, sim->plant->timers.steps + filter, WR_NEVER);
    f->flow = f->wash_flow = 0;
    f->mode = WR_MODE_HELD;
    f->interrupted = true;
    wr_tell(sim, WR_EVENT_WASH_SHORT, filter);
    wr_line_call(sim, filter, WR_TRIGGER_INTERRUPTED);
    if (f->outage_waits)
        go_out(sim, filter);
}

/* True when the step under way has had its time, though it ends only after what happens first at this instant. */
static bool step_is_over(const struct wr_simulation *sim, size_t filter)
{
    const struct wr_step *step = &group_of(sim, filter)->steps[filter_at(sim, filter)->step];
    const double end = wr_timers_time(&sim->timers, sim->plant->timers.steps + filter);
    return end - wr_now(sim) <= step->duration * WR_SLACK;
}

/* True when wash water is still to come in a wash; a step that ends at this instant has had its own. */
static bool has_water_to_come(const struct wr_simulation *sim, size_t filter)
{
    const struct wr_group *g = group_of(sim, filter);
    for (size_t s = filter_at(sim, filter)->step + step_is_over(sim, filter); s < g->step_count; s++)
        if (g->steps[s].wash_flow > 0)
            return true;
    return false;
}

/* Steps that are still to come are passed over as they begin: the pump may be back by then. */
void wr_wash_interrupt(struct wr_simulation *sim)
{
    for (size_t i = 0; i < sim->plant->filter_count; i++) {
        struct wr_filter *f = filter_at(sim, i);
        if (f->mode != WR_MODE_WASH || !has_water_to_come(sim, i))
            continue;
        if (sim->plant->definition->wash.on_interrupt == WR_INTERRUPT_HOLD) {
            hold(sim, i);
            continue;
        }
        if (is_passed_over(sim, i) && !step_is_over(sim, i)) {
            f->weak = true;
            wr_timers_set(&sim->timers, sim->plant->timers.steps + i, wr_now(sim));
        }
    }
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
        const double end = f->flow > 0 ? wr_now(sim) + wr_greater(0, f->rinse_left) / f->flow : WR_NEVER;
        wr_timers_set(&sim->timers, sim->plant->timers.steps + lone[i], end);
    }
}

void wr_wash_arm(struct wr_simulation *sim)
{
    const struct wr_state *state = sim->state;
    const double gap_ends = state->last_start + sim->plant->definition->wash.min_between_starts;
    wr_timers_set(&sim->timers, sim->plant->timers.gap,
                  state->waiting > 0 && wr_now(sim) < gap_ends ? gap_ends : WR_NEVER);
    wr_line_arm(sim);
    arm_rinses(sim);
}
