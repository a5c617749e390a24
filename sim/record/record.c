/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/record/record.h"

#include "sim/plant/bed.h"
#include "sim/plant/extreme.h"
#include "sim/plant/head.h"
#include "sim/record/found.h"
#include "sim/record/habits.h"
#include "sim/record/list.h"
#include "sim/record/pace.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct wr_filter *filter_of(const struct wr_simulation *sim, size_t filter)
{
    return &wr_state_filters(sim->plant, sim->state)[filter];
}

/* Conditions: findings that last ------------------------------------------------------------------------------ */

/* A stretch of a condition has ended; a finding whose worst figure is a time has it from the longest. */
static void stretch_ended(struct wr_finding *finding, double length)
{
    finding->length += length;
    if (wr_finding_row(finding->kind)->unit == WR_UNIT_TIME)
        finding->worst = wr_greater(finding->worst, length);
}

/* A condition in a set of them, where it is on. */
static inline uint32_t condition(enum wr_finding_kind kind, bool on)
{
    return (uint32_t)on << (unsigned)kind;
}

/* Highest rate of a pack that is above its approved rate; 0 when none is. */
static double highest_rate_above(const struct wr_simulation *sim)
{
    const struct wr_pack *packs = wr_state_packs(sim->plant, sim->state);
    double highest = 0;
    for (size_t g = 0; g < sim->plant->group_count; g++)
        if (packs[g].rate > sim->plant->groups[g].approved_rate * (1 + 1e-9))
            highest = wr_greater(highest, packs[g].rate);
    return highest;
}

/* The figure of a condition that is on, in its finding's unit. A level moves straight between instants, so its lowest
 * stands at one. */
static double figure_of(const struct wr_simulation *sim, enum wr_finding_kind kind)
{
    switch (kind) {
    case WR_FINDING_RESERVE_USED:
    case WR_FINDING_STORAGE_LOW:
        return sim->state->storage.level / sim->plant->definition->storage.volume;
    case WR_FINDING_RINSE_SHORT:
        return sim->state->flows.rinse;
    case WR_FINDING_APPROVED_RATE_EXCEEDED:
        return highest_rate_above(sim);
    default:
        return 0;
    }
}

/* Conditions that an instant shows. */
static uint32_t conditions_met(const struct wr_simulation *sim)
{
    const struct wr_state *s = sim->state;
    const struct wr_flows *flows = &s->flows;
    const struct wr_storage *storage = &sim->plant->definition->storage;
    const bool rate_rises = sim->plant->definition->over_approved_rate == WR_OVER_RATE_RISES;
    const bool recycle_held = (flows->held & wr_record_recycle_limits()) != 0 && flows->recycle <= 0;
    return condition(WR_FINDING_UNMET_DEMAND, flows->delivered < flows->demand) |
           condition(WR_FINDING_RESERVE_USED, s->storage.below_reserve && storage->reserve > 0) |
           condition(WR_FINDING_PLANT_LOCKED, s->locked) | condition(WR_FINDING_SPENT_WASH_SPILLED, flows->spill > 0) |
           condition(WR_FINDING_APPROVED_RATE_EXCEEDED, rate_rises && highest_rate_above(sim) > 0) |
           condition(WR_FINDING_FINISHED_WATER_OVERFLOWED, flows->overflow > 0) |
           condition(WR_FINDING_STORAGE_LOW, s->storage.below_low_mark && storage->low_mark > 0) |
           condition(WR_FINDING_RINSE_SHORT, (flows->held & wr_limit_bit(WR_LIMIT_RAW_FOR_RINSE)) != 0) |
           condition(WR_FINDING_RECYCLE_HELD, recycle_held);
}

static void condition_moves(struct wr_record *r, const struct wr_simulation *sim, enum wr_finding_kind kind, bool on)
{
    const bool was_on = (r->conditions & condition(kind, true)) != 0;
    struct wr_finding *finding = &r->findings[kind][WR_LIMITS];
    const double now = wr_now(sim);
    if (!on) {
        stretch_ended(finding, now - r->condition_since[kind]);
        return;
    }
    const double worst = figure_of(sim, kind);
    if (!was_on) {
        wr_record_found(r, sim, kind, WR_LIMIT_NONE, WR_NOWHERE, now)->worst =
            finding->times > 1 ? finding->worst : worst;
        r->condition_since[kind] = now;
    }
    if (wr_finding_row(kind)->unit != WR_UNIT_TIME) {
        const bool low_is_worse =
            kind == WR_FINDING_RESERVE_USED || kind == WR_FINDING_STORAGE_LOW || kind == WR_FINDING_RINSE_SHORT;
        finding->worst = low_is_worse ? wr_lesser(finding->worst, worst) : wr_greater(finding->worst, worst);
    }
}

/* Kept out of line: the look before it is had at every instant and needs no more than a few registers. */
static __attribute__((noinline)) void conditions_become(struct wr_record *r, const struct wr_simulation *sim,
                                                        uint32_t met)
{
    for (uint32_t left = met | r->conditions; left != 0; left &= left - 1) {
        const enum wr_finding_kind kind = (enum wr_finding_kind)__builtin_ctz(left);
        condition_moves(r, sim, kind, (met & condition(kind, true)) != 0);
    }
    r->conditions = met;
}

/* Most instants show none, after one that showed none. */
static void look_at_conditions(struct wr_record *r, const struct wr_simulation *sim)
{
    const uint32_t met = conditions_met(sim);
    if ((met | r->conditions) != 0)
        conditions_become(r, sim, met);
}

/* Storage: whether it comes back to where it started. A crossing between instants is found on the straight line. */
static void look_at_storage(struct wr_record *r, const struct wr_simulation *sim)
{
    const double now = wr_now(sim), level = sim->state->storage.level, half = r->horizon / 2;
    r->least_storage = wr_lesser(r->least_storage, level);
    if (now >= half)
        r->second_half_highest = wr_greater(r->second_half_highest, level);
    if (now > half && r->last_time < half) /* the second half began between two instants */
        r->second_half_highest =
            wr_greater(r->second_half_highest,
                       r->last_level + (level - r->last_level) * (half - r->last_time) / (now - r->last_time));
    if (level >= r->start_level * (1 - 1e-9)) {
        r->last_at_start = now;
        memcpy(r->holds_at_start, sim->state->holds, sizeof r->holds_at_start);
    } else if (r->last_level >= r->start_level && r->last_level > level)
        r->last_at_start =
            r->last_time + (now - r->last_time) * (r->last_level - r->start_level) / (r->last_level - level);
    r->last_level = level;
    r->last_time = now;
    if (sim->state->flows.raw > 0)
        r->highest_recycle_share =
            wr_greater(r->highest_recycle_share, sim->state->flows.recycle / sim->state->flows.raw);
}

/* Lists ----------------------------------------------------------------------------------------------------------- */

static void list_wash(struct wr_record *r, const struct wr_wash_record *wash)
{
    struct wr_wash_record *washes = wr_list_grown(r->washes, r->wash_count, &r->wash_room, sizeof *washes);
    if (washes == NULL) {
        r->out_of_memory = true;
        return;
    }
    r->washes = washes;
    r->open_wash[wash->filter] = r->wash_count;
    r->washes[r->wash_count++] = *wash;
}

static void list_span(struct wr_record *r, const struct wr_span *span)
{
    struct wr_span *spans = wr_list_grown(r->spans, r->span_count, &r->span_room, sizeof *spans);
    if (spans == NULL) {
        r->out_of_memory = true;
        return;
    }
    r->spans = spans;
    r->spans[r->span_count++] = *span;
}

/* Events ---------------------------------------------------------------------------------------------------------- */

static void wash_started(struct wr_record *r, const struct wr_simulation *sim, size_t filter)
{
    const struct wr_filter *f = filter_of(sim, filter);
    const struct wr_bed bed = wr_bed_now(sim->plant, sim->state, filter);
    struct wr_filter_record *fr = &r->filters[filter];
    const double head = wr_group_head(&sim->plant->groups[sim->plant->group_of[filter]], sim->plant->viscosity,
                                      bed.load[WR_SOLIDS], wr_bed_rate(sim->plant, sim->state, filter), false);
    fr->washes++;
    fr->differential += head;
    if (f->washed) {
        fr->runs++;
        fr->run_hours += bed.hours;
        fr->run_volume += bed.volume;
        fr->shortest_run = wr_lesser(fr->shortest_run, bed.hours);
        fr->waited += f->wait.total;
    } else
        fr->start_up_wait += f->wait.total;
    wr_pace_wash(r, sim, filter);
    wr_habits_wash_started(r, sim, filter);
    if (r->keeps_lists)
        list_wash(r, &(struct wr_wash_record){.filter = filter,
                                              .trigger = f->trigger,
                                              .called_at = f->called_at,
                                              .started_at = wr_now(sim),
                                              .ended_at = WR_NEVER,
                                              .waited = f->wait.total,
                                              .waited_for_resource = f->wait.by_resource,
                                              .load = bed.load[WR_SOLIDS],
                                              .run_hours = bed.hours,
                                              .run_volume = bed.volume,
                                              .differential = head,
                                              .last_of_wash = WR_ABSENT,
                                              .start_up = !f->washed});
}

/* A finding of the given worst figure, kept where it is the worst so far. */
static void found_worst(struct wr_record *r, const struct wr_simulation *sim, enum wr_finding_kind kind, size_t where,
                        double worst)
{
    struct wr_finding *finding = wr_record_found(r, sim, kind, WR_LIMIT_NONE, where, wr_now(sim));
    finding->worst = finding->times > 1 ? wr_greater(finding->worst, worst) : worst;
}

/* How clear the end of a backwash was at the waste sample tap, kg/m3, as its washout has it; absent without. */
static double look_at_washout(struct wr_record *r, const struct wr_simulation *sim, size_t filter)
{
    const struct wr_wash *wash = &sim->plant->definition->wash;
    const struct wr_filter *f = filter_of(sim, filter);
    if (!wr_is_given(wash->washout_depth))
        return WR_ABSENT;
    const double last = wr_plant_last_of_wash(sim->plant, filter, f->load_at_wash[WR_SOLIDS], f->given);
    r->filters[filter].last_of_wash = wr_greater(r->filters[filter].last_of_wash, last);
    if (wr_is_given(wash->clear_at) && last > wash->clear_at)
        found_worst(r, sim, WR_FINDING_WASH_NOT_CLEAR, filter, last);
    return last;
}

static void wash_ended(struct wr_record *r, const struct wr_simulation *sim, size_t filter)
{
    wr_habits_wash_ended(r, sim, filter);
    const double last = look_at_washout(r, sim, filter);
    if (!r->keeps_lists)
        return;
    struct wr_wash_record *wash = &r->washes[r->open_wash[filter]];
    wash->ended_at = wr_now(sim);
    wash->tank = filter_of(sim, filter)->tank;
    wash->last_of_wash = last;
}

static void wash_short(struct wr_record *r, const struct wr_simulation *sim, size_t filter)
{
    struct wr_finding *finding = wr_record_found(r, sim, WR_FINDING_WASH_SHORT, WR_LIMIT_NONE, filter, wr_now(sim));
    const double share =
        filter_of(sim, filter)->given / sim->plant->groups[sim->plant->group_of[filter]].backwash_volume;
    finding->worst = finding->times > 1 ? wr_lesser(finding->worst, share) : share;
}

/* Spans of waits make findings: one a limit, a rule's apart from a resource's. */
static void span_ended(struct wr_record *r, const struct wr_simulation *sim, const struct wr_event *event)
{
    if (r->keeps_lists)
        list_span(r, &(struct wr_span){event->limit, event->where, event->from, event->time});
    const double length = event->time - event->from;
    if (event->limit == WR_LIMIT_AVAILABLE_HEAD) {
        struct wr_finding *finding = &r->findings[WR_FINDING_HEAD_REACHED][WR_LIMITS];
        finding->length += length;
        finding->worst = finding->length;
    }
    /* Waits before a filter's first wash come from how the run was started. */
    if (wr_limit_row(event->limit)->holds != WR_HOLDS_WASH || !filter_of(sim, event->where)->washed)
        return;
    const bool by_rule = wr_limit_row(event->limit)->class == WR_LIMIT_RULE;
    /* A resource that was short only while a rule held the wash anyway has kept nobody waiting. */
    if (!by_rule && (filter_of(sim, event->where)->led & wr_limit_bit(event->limit)) == 0)
        return;
    struct wr_finding *finding =
        wr_record_found(r, sim, by_rule ? WR_FINDING_DEFERRED_BY_RULE : WR_FINDING_WASHES_WAITED, event->limit,
                        event->where, event->from);
    finding->start = wr_lesser(finding->start, event->from);
    finding->length += length;
    finding->worst = wr_greater(finding->worst, length);
}

static void record_event(void *context, const struct wr_simulation *sim, const struct wr_event *event)
{
    struct wr_record *r = context;
    if (r->keeps_lists)
        wr_tank_lists_event(&r->tanks, sim, event);
    switch (event->kind) {
    case WR_EVENT_WASH_STARTED:
        wash_started(r, sim, event->where);
        break;
    case WR_EVENT_WASH_ENDED:
        wash_ended(r, sim, event->where);
        break;
    case WR_EVENT_HEAD_REACHED:
        wr_record_found(r, sim, WR_FINDING_HEAD_REACHED, WR_LIMIT_NONE, event->where, event->time);
        if (event->time >= r->unwashed.since && event->time < r->unwashed.until)
            r->unwashed.lasts = wr_lesser(r->unwashed.lasts, event->time - r->unwashed.since);
        break;
    case WR_EVENT_UNIT_OUT:
        if (sim->plant->units[event->where].kind == WR_UNIT_WASH_PUMP)
            r->unwashed = (struct wr_unwashed){.since = event->time, .until = WR_NEVER, .lasts = WR_NEVER};
        break;
    case WR_EVENT_UNIT_BACK:
        if (sim->plant->units[event->where].kind == WR_UNIT_WASH_PUMP)
            r->unwashed.until = event->time;
        break;
    case WR_EVENT_TANK_SETTLED: {
        const struct wr_tank *tank = &wr_state_tanks(sim->plant, sim->state)[event->where];
        if (tank->lifted > 0)
            found_worst(r, sim, WR_FINDING_DECANT_SPOILED, WR_NOWHERE, tank->out[WR_SOLIDS]);
        break;
    }
    case WR_EVENT_WASH_SHORT:
        wash_short(r, sim, event->where);
        break;
    case WR_EVENT_SPAN:
        span_ended(r, sim, event);
        break;
    default:
        break;
    }
}

static void record_instant(void *context, const struct wr_simulation *sim)
{
    struct wr_record *r = context;
    look_at_storage(r, sim);
    look_at_conditions(r, sim);
    wr_habits_instant(r, sim);
    if (r->room.waiting > 0 || sim->state->waiting > 0)
        wr_room_instant(&r->room, sim);
    if (r->keeps_lists && sim->plant->has_emergency)
        wr_tank_lists_instant(&r->tanks, sim);
    if (wr_pace_instant(r, sim))
        wr_record_found(r, sim, WR_FINDING_NOT_KEEPING_PACE, WR_LIMIT_NONE, WR_NOWHERE, wr_now(sim));
}

/* A record -------------------------------------------------------------------------------------------------------- */

bool wr_record_init(struct wr_record *r, const struct wr_plant *plant, double horizon)
{
    *r = (struct wr_record){
        .plant = plant, .horizon = horizon, .failed_limit = WR_LIMIT_NONE, .failed_where = WR_NOWHERE};
    r->filters = calloc(plant->filter_count, sizeof *r->filters);
    r->open_wash = calloc(plant->filter_count, sizeof *r->open_wash);
    r->opening = calloc(wr_ledger_account_count(plant), sizeof *r->opening);
    for (size_t f = 0; r->filters != NULL && f < plant->filter_count; f++)
        r->filters[f].shortest_run = WR_NEVER;
    r->least_storage = WR_NEVER;
    r->someone_waits_since = WR_NEVER;
    r->balance = (struct wr_wash_balance){
        .paced_by = WR_LIMIT_NONE, .cause = WR_LIMIT_NONE, .first_exceeded = WR_NEVER, .keeps_pace = true};
    const bool has_habits = wr_habits_init(&r->habits, plant);
    const bool has_tanks = wr_tank_lists_init(&r->tanks, plant);
    return has_habits && has_tanks && r->filters != NULL && r->open_wash != NULL && r->opening != NULL;
}

struct wr_observer wr_record_observer(struct wr_record *r)
{
    const unsigned unheard = 1U << WR_EVENT_STEP_STARTED | 1U << WR_EVENT_CALLED; /* the most frequent */
    return (struct wr_observer){.context = r, .event = record_event, .instant = record_instant, .unheard = unheard};
}

void wr_record_open(struct wr_record *r, const struct wr_simulation *sim)
{
    for (size_t a = 0; a < wr_ledger_account_count(sim->plant); a++)
        r->opening[a] = wr_ledger_stock(sim->plant, sim->state, a);
    r->unwashed =
        (struct wr_unwashed){.since = sim->state->wash_pump_out ? 0 : WR_NEVER, .until = WR_NEVER, .lasts = WR_NEVER};
    r->start_level = r->last_level = sim->state->storage.level;
    record_instant(r, sim);
}

/* Volumes that a condition's worst figure stands for are read off the books. */
static void fill_volumes(struct wr_record *r, const struct wr_simulation *sim)
{
    const double delivered = wr_ledger_line(sim->plant, sim->state, WR_LINE_DELIVERED, 0)->water;
    r->findings[WR_FINDING_UNMET_DEMAND][WR_LIMITS].worst = wr_greater(0, sim->state->asked - delivered);
    r->findings[WR_FINDING_FINISHED_WATER_OVERFLOWED][WR_LIMITS].worst =
        wr_ledger_line(sim->plant, sim->state, WR_LINE_OVERFLOW, 0)->water;
    struct wr_entry spilled, none;
    wr_ledger_turnover(sim->plant, sim->state, WR_ACCOUNT_SPILL, &spilled, &none);
    r->findings[WR_FINDING_SPENT_WASH_SPILLED][WR_LIMITS].worst = spilled.water;
}

static void close_conditions(struct wr_record *r, const struct wr_simulation *sim)
{
    for (; r->conditions != 0; r->conditions &= r->conditions - 1) {
        const int kind = __builtin_ctz(r->conditions);
        stretch_ended(&r->findings[kind][WR_LIMITS], wr_now(sim) - r->condition_since[kind]);
    }
}

void wr_record_close(struct wr_record *r, const struct wr_simulation *sim)
{
    look_at_storage(r, sim);
    look_at_conditions(r, sim); /* a level has moved on since the last instant */
    close_conditions(r, sim);
    fill_volumes(r, sim);
    wr_habits_close(r, sim);
    wr_room_instant(&r->room, sim);
    wr_tank_lists_close(&r->tanks, sim);
    r->out_of_memory = r->out_of_memory || r->tanks.out_of_memory;
    if (r->must_return && !r->failed && r->second_half_highest < r->start_level * (1 - 1e-9))
        wr_record_found(r, sim, WR_FINDING_NOT_RETURNING, WR_LIMIT_NONE, WR_NOWHERE, r->last_at_start)->worst =
            r->second_half_highest / sim->plant->definition->storage.volume;
    if (wr_pace_close(r, sim))
        wr_record_found(r, sim, WR_FINDING_NOT_KEEPING_PACE, WR_LIMIT_NONE, WR_NOWHERE, wr_now(sim));
    if (r->findings[WR_FINDING_NOT_KEEPING_PACE][WR_LIMITS].times > 0)
        r->findings[WR_FINDING_NOT_KEEPING_PACE][WR_LIMITS].worst = r->balance.worst_week_extra_load;
    wr_pace_grade(r, sim, wr_record_held_washes(sim, false), wr_record_held_washes(sim, true));
}

void wr_record_fini(struct wr_record *r)
{
    wr_habits_fini(&r->habits);
    wr_tank_lists_fini(&r->tanks);
    free(r->filters);
    free(r->open_wash);
    free(r->opening);
    free(r->washes);
    free(r->spans);
    *r = (struct wr_record){0};
}
