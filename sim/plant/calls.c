/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/calls.h"

#include "sim/plant/bed.h"
#include "sim/plant/extreme.h"
#include "sim/plant/head.h"
#include "sim/plant/line.h"
#include "sim/plant/wash.h"

#include <math.h>

/* Within this share a figure has reached its threshold: instants are known only to the last bits of a double. */
static const double REACHED = 1e-12;

/* Time, s, within which what a timer stood for is due: far more than rounding makes, and nothing to a plant. Farther
 * off is a member that stands next because the one due has left at this very instant. */
static const double DUE = 1e-3;

/* How far below what its head lets through a filter must run to be back at its group's rate: two stretches. */
static const double COMES_BACK = 0.02;

static struct wr_filter *filter_at(const struct wr_simulation *sim, size_t filter)
{
    return &wr_state_filters(sim->plant, sim->state)[filter];
}

static struct wr_pack *pack_at(const struct wr_simulation *sim, size_t group)
{
    return &wr_state_packs(sim->plant, sim->state)[group];
}

static bool has_reached(double figure, double threshold)
{
    return figure >= threshold * (1 - REACHED);
}

/* Time in which a figure grows to its threshold; no time when it is there. */
static double time_to(double figure, double threshold, double growth)
{
    if (figure >= threshold)
        return 0;
    return growth > 0 ? (threshold - figure) / growth : WR_NEVER;
}

/* Threshold of a trigger at a rate, in what that trigger counts; WR_NEVER where there is none. */
static double threshold_of(const struct wr_simulation *sim, size_t group, int trigger, double rate)
{
    const struct wr_triggers *t = &sim->plant->definition->wash.triggers;
    if (trigger == WR_TRIGGER_HOURS)
        return wr_is_given(t->run_hours) ? t->run_hours : WR_NEVER;
    if (trigger == WR_TRIGGER_VOLUME)
        return wr_is_given(t->volume) ? t->volume : WR_NEVER;
    return trigger == WR_TRIGGER_URGENT ? wr_plant_urgent_load(sim->plant, &sim->plant->groups[group], rate)
                                        : wr_plant_trigger_load(sim->plant, &sim->plant->groups[group], rate);
}

static void judge(const struct wr_simulation *sim, size_t group)
{
    const struct wr_group *g = &sim->plant->groups[group];
    struct wr_pack *pack = pack_at(sim, group);
    pack->judged_rate = pack->rate;
    for (int trigger = 0; trigger < WR_TRIGGERS; trigger++)
        pack->thresholds[trigger] = threshold_of(sim, group, trigger, pack->rate);
    pack->head_load = wr_group_load_at_head(g, sim->plant->viscosity, g->available_head, pack->rate, false);
}

/* The pack of a group with who meets what first, and with its thresholds at its rate where it has flow: most instants
 * leave both as they were. */
static inline struct wr_pack *judged_pack(const struct wr_simulation *sim, size_t group)
{
    struct wr_pack *pack = pack_at(sim, group);
    wr_pack_look(sim->plant, sim->state, group);
    if (pack->rate > 0 && pack->judged_rate != pack->rate)
        judge(sim, group);
    return pack;
}

static double counted(const struct wr_bed *bed, int trigger)
{
    return trigger == WR_TRIGGER_HOURS ? bed->hours : trigger == WR_TRIGGER_VOLUME ? bed->volume : bed->load[WR_SOLIDS];
}

/* What a trigger counts of a member of a pack, without the rest of its bed. */
static double counted_of_member(const struct wr_simulation *sim, size_t group, size_t filter, int trigger)
{
    return counted(&pack_at(sim, group)->sum, trigger) - counted(&filter_at(sim, filter)->bed, trigger);
}

static double growth_of(const struct wr_simulation *sim, int trigger, double rate)
{
    return trigger == WR_TRIGGER_HOURS    ? 1
           : trigger == WR_TRIGGER_VOLUME ? rate
                                          : rate * sim->state->flows.feed[WR_SOLIDS];
}

/* Calls --------------------------------------------------------------------------------------------------------- */

/* The trigger that a group's judged pack meets first, and in how long; -1 when none. */
static int next_trigger(const struct wr_simulation *sim, size_t group, const struct wr_pack *pack, double *time)
{
    int best = -1;
    *time = WR_NEVER;
    if (pack->rate <= 0)
        return -1;
    for (int trigger = 0; trigger < WR_TRIGGERS; trigger++) {
        const double threshold = pack->thresholds[trigger];
        if (pack->next[trigger] < 0 || threshold >= WR_NEVER)
            continue;
        const double figure = counted_of_member(sim, group, (size_t)pack->next[trigger], trigger);
        const double t = time_to(figure, threshold, growth_of(sim, trigger, pack->rate));
        if (t < *time) {
            *time = t;
            best = trigger;
        }
    }
    return best;
}

/* The differential of a filter stands at its trigger: it calls once that has lasted. */
static void begin_persistence(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    const double persistence = sim->plant->definition->wash.triggers.persistence;
    if (persistence <= 0) {
        wr_line_call(sim, filter, WR_TRIGGER_DIFFERENTIAL);
        return;
    }
    struct wr_pack *pack = pack_at(sim, sim->plant->group_of[filter]);
    f->above = true;
    if (wr_bed_in_pack(f))
        pack->above++;
    pack->stale = true;
    f->lasts_at = wr_now(sim) + persistence;
    wr_timers_set(&sim->timers, sim->plant->timers.filter_calls + filter, f->lasts_at);
}

static void end_persistence(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    struct wr_pack *pack = pack_at(sim, sim->plant->group_of[filter]);
    f->above = false;
    if (wr_bed_in_pack(f))
        pack->above--;
    pack->stale = true;
    wr_timers_set(&sim->timers, sim->plant->timers.filter_calls + filter, WR_NEVER);
}

/* Past the urgent level a filter goes first, and the window does not hold it. */
static void become_urgent(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    f->urgent = true;
    pack_at(sim, sim->plant->group_of[filter])->stale = true;
    if (f->called)
        wr_line_sort(sim);
    else
        wr_line_call(sim, filter, WR_TRIGGER_URGENT);
}

static void meet(struct wr_simulation *sim, size_t filter, int trigger)
{
    if (trigger == WR_TRIGGER_DIFFERENTIAL)
        begin_persistence(sim, filter);
    else if (trigger == WR_TRIGGER_URGENT)
        become_urgent(sim, filter);
    else
        wr_line_call(sim, filter, (enum wr_trigger)trigger);
}

void wr_calls_act(struct wr_simulation *sim, size_t group)
{
    struct wr_pack *pack = judged_pack(sim, group);
    double time;
    pack->armed_rate = WR_NEVER;
    const int due = next_trigger(sim, group, pack, &time);
    if (due < 0 || time > DUE)
        return;
    /* The one the timer stood for is due whatever the last bits say; any that stand level with it are due too. */
    meet(sim, (size_t)pack->next[due], due);
    for (int trigger = 0; trigger < WR_TRIGGERS; trigger++) {
        const double threshold = pack->thresholds[trigger];
        for (;;) {
            wr_pack_look(sim->plant, sim->state, group);
            if (pack->next[trigger] < 0 || isinf(threshold))
                break;
            if (!has_reached(counted_of_member(sim, group, (size_t)pack->next[trigger], trigger), threshold))
                break;
            meet(sim, (size_t)pack->next[trigger], trigger);
        }
    }
}

/* The trigger that a filter apart meets first, and in how long; at available head its rate no longer decides when it
 * meets the differential, its load does. While its differential lasts the others still count. */
static enum wr_trigger next_trigger_apart(const struct wr_simulation *sim, size_t filter, double *time)
{
    const struct wr_filter *f = filter_at(sim, filter);
    const struct wr_group *g = &sim->plant->groups[sim->plant->group_of[filter]];
    const double rate = f->flow / g->area;
    enum wr_trigger best = WR_TRIGGER_DIFFERENTIAL;
    *time = WR_NEVER;
    for (int trigger = 0; trigger < WR_TRIGGERS && rate > 0; trigger++) {
        const double threshold = trigger == WR_TRIGGER_DIFFERENTIAL ? g->called_load
                                 : trigger == WR_TRIGGER_URGENT
                                     ? g->urgent_load
                                     : threshold_of(sim, sim->plant->group_of[filter], trigger, rate);
        if (!wr_bed_can_meet(f, trigger))
            continue;
        const double t = isfinite(threshold)
                             ? time_to(counted(&f->bed, trigger), threshold, growth_of(sim, trigger, rate))
                             : WR_NEVER;
        if (t < *time) {
            *time = t;
            best = (enum wr_trigger)trigger;
        }
    }
    return best;
}

void wr_calls_filter_act(struct wr_simulation *sim, size_t filter)
{
    const struct wr_filter *f = filter_at(sim, filter);
    double time;
    if (f->above && wr_now(sim) >= f->lasts_at) {
        wr_line_call(sim, filter, WR_TRIGGER_DIFFERENTIAL);
        return;
    }
    const enum wr_trigger next = next_trigger_apart(sim, filter, &time);
    if (isfinite(time))
        meet(sim, filter, (int)next);
}

/* Returns in how long the next call of a group's judged pack comes. */
static double arm_call(struct wr_simulation *sim, size_t group, const struct wr_pack *pack)
{
    double time;
    next_trigger(sim, group, pack, &time);
    wr_timers_set(&sim->timers, sim->plant->timers.calls + group, wr_now(sim) + time);
    return time;
}

/* Available head ------------------------------------------------------------------------------------------------ */

static void stretch_begin(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    const struct wr_group *g = &sim->plant->groups[sim->plant->group_of[filter]];
    f->limit_rate = wr_group_stretch(g, sim->plant->viscosity, f->bed.load[WR_SOLIDS], &f->stretch_load);
}

static void go_apart(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    struct wr_pack *pack = pack_at(sim, sim->plant->group_of[filter]);
    f->flow = pack->rate * sim->plant->groups[sim->plant->group_of[filter]].area;
    wr_bed_leave(sim->plant, sim->state, filter);
    f->apart = true;
    f->reason_since[WR_LIMIT_AVAILABLE_HEAD] = wr_now(sim);
    stretch_begin(sim, filter);
    wr_tell(sim, WR_EVENT_HEAD_REACHED, filter);
}

/* A filter at its available head that the plant takes out of service: off line, and in line for a wash. */
static void leave_service(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    wr_tell(sim, WR_EVENT_HEAD_REACHED, filter);
    if (!f->called)
        wr_line_call(sim, filter, WR_TRIGGER_DIFFERENTIAL);
    wr_wash_go_off_line(sim, filter);
    f->mode = WR_MODE_HELD;
}

static void give_alarm(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    f->alarmed = true;
    f->reason_since[WR_LIMIT_AVAILABLE_HEAD] = wr_now(sim);
    pack_at(sim, sim->plant->group_of[filter])->stale = true;
    wr_tell(sim, WR_EVENT_HEAD_REACHED, filter);
}

/* A member has reached its available head: what happens is the plant's choice. */
static void reach_head(struct wr_simulation *sim, size_t filter)
{
    switch (sim->plant->definition->filters.items[sim->plant->group_of[filter]].at_available_head) {
    case WR_HEAD_LEAVES_SERVICE:
        leave_service(sim, filter);
        break;
    case WR_HEAD_ALARM_ONLY:
        give_alarm(sim, filter);
        break;
    default:
        go_apart(sim, filter);
    }
}

static void come_back(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    struct wr_pack *pack = pack_at(sim, sim->plant->group_of[filter]);
    wr_tell_span(sim, WR_LIMIT_AVAILABLE_HEAD, filter, f->reason_since[WR_LIMIT_AVAILABLE_HEAD], wr_now(sim));
    f->apart = false;
    wr_state_again(sim->state, WR_AGAIN_FLOWS);
    /* Its rate is not limited by head any more, so it is its pack's, which may have had no other member. */
    pack->rate = f->flow / sim->plant->groups[sim->plant->group_of[filter]].area;
    f->flow = 0;
    wr_bed_join(sim->plant, sim->state, filter);
    wr_timers_set(&sim->timers, sim->plant->timers.stretches + filter, WR_NEVER);
    wr_timers_set(&sim->timers, sim->plant->timers.filter_calls + filter, f->above ? f->lasts_at : WR_NEVER);
}

/* Time in which the dirtiest member of a judged pack reaches its available head. */
static double time_to_head(const struct wr_simulation *sim, const struct wr_pack *pack)
{
    if (pack->rate <= 0 || pack->dirtiest < 0)
        return WR_NEVER;
    return time_to(wr_bed_load(sim->plant, sim->state, (size_t)pack->dirtiest), pack->head_load,
                   growth_of(sim, WR_TRIGGER_DIFFERENTIAL, pack->rate));
}

void wr_heads_act(struct wr_simulation *sim, size_t group)
{
    struct wr_pack *pack = judged_pack(sim, group);
    pack->armed_rate = WR_NEVER;
    if (time_to_head(sim, pack) > DUE)
        return;
    const double threshold = pack->head_load;
    do {
        reach_head(sim, (size_t)pack->dirtiest);
        wr_pack_look(sim->plant, sim->state, group);
    } while (pack->dirtiest >= 0 &&
             has_reached(wr_bed_load(sim->plant, sim->state, (size_t)pack->dirtiest), threshold));
    arm_call(sim, group, judged_pack(sim, group));
}

void wr_heads_stretch(struct wr_simulation *sim, size_t filter)
{
    stretch_begin(sim, filter);
}

/* Timers -------------------------------------------------------------------------------------------------------- */

/* A filter whose differential has fallen below its trigger, or that has no flow, must last anew. One that has just met
 * it may stand below it by the last bits of the instant. */
static void check_persistence(struct wr_simulation *sim, size_t group, const struct wr_pack *pack)
{
    const struct wr_group *g = &sim->plant->groups[group];
    const double threshold = pack->rate > 0 ? pack->thresholds[WR_TRIGGER_DIFFERENTIAL] : WR_NEVER;
    const double growth = growth_of(sim, WR_TRIGGER_DIFFERENTIAL, pack->rate);
    for (size_t i = g->first; i < g->first + g->count; i++) {
        const struct wr_filter *f = filter_at(sim, i);
        if (f->above && wr_bed_in_pack(f) &&
            (pack->rate <= 0 || time_to(wr_bed_load(sim->plant, sim->state, i), threshold, growth) > DUE))
            end_persistence(sim, i);
    }
}

/* While a pack gathers as before and its members are the same, its timers stand. */
static void arm_group(struct wr_simulation *sim, size_t group)
{
    struct wr_pack *pack = judged_pack(sim, group);
    const double solids = sim->state->flows.feed[WR_SOLIDS];
    if (pack->rate == pack->armed_rate && solids == pack->armed_solids)
        return;
    if (pack->above > 0) {
        check_persistence(sim, group, pack);
        judged_pack(sim, group);
    }
    /* A call comes before available head as a rule, and then both are looked at again. */
    const double call = arm_call(sim, group, pack), head = time_to_head(sim, pack);
    wr_timers_set(&sim->timers, sim->plant->timers.heads + group, head <= call ? wr_now(sim) + head : WR_NEVER);
    pack->armed_rate = pack->rate;
    pack->armed_solids = solids;
}

static void arm_lone_call(struct wr_simulation *sim, size_t filter)
{
    const struct wr_filter *f = filter_at(sim, filter);
    double time;
    next_trigger_apart(sim, filter, &time);
    time += wr_now(sim);
    wr_timers_set(&sim->timers, sim->plant->timers.filter_calls + filter,
                  f->above ? wr_lesser(time, f->lasts_at) : time);
}

static void arm_lone(struct wr_simulation *sim, size_t filter)
{
    const struct wr_filter *f = filter_at(sim, filter);
    const double rate = f->flow / sim->plant->groups[sim->plant->group_of[filter]].area;
    const double growth = growth_of(sim, WR_TRIGGER_DIFFERENTIAL, rate);
    wr_timers_set(&sim->timers, sim->plant->timers.stretches + filter,
                  wr_now(sim) + time_to(f->bed.load[WR_SOLIDS], f->stretch_load, growth));
    arm_lone_call(sim, filter);
}

void wr_calls_arm(struct wr_simulation *sim)
{
    const uint32_t *lone = wr_state_lone(sim->plant, sim->state);
    for (uint32_t i = sim->state->lone; i-- > 0;) {
        const size_t filter = lone[i];
        const struct wr_filter *f = filter_at(sim, filter);
        if (f->mode != WR_MODE_SERVICE)
            continue;
        const double rate = f->flow / sim->plant->groups[sim->plant->group_of[filter]].area;
        if (rate < f->limit_rate * (1 - COMES_BACK))
            come_back(sim, filter);
        else
            arm_lone(sim, filter);
    }
    for (size_t g = 0; g < sim->plant->group_count; g++)
        arm_group(sim, g);
}
