/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/line.h"

#include "sim/plant/bed.h"
#include "sim/plant/gate.h"
#include "sim/plant/share.h"

#include <assert.h>
#include <math.h>

static struct wr_filter *filter_at(const struct wr_simulation *sim, size_t filter)
{
    return &wr_state_filters(sim->plant, sim->state)[filter];
}

/* -1, 0 or 1 as a is less than, equal to or more than b. */
static int compare(double a, double b)
{
    return (a > b) - (a < b);
}

static bool comes_before(const struct wr_simulation *sim, size_t a, size_t b)
{
    const struct wr_filter *fa = filter_at(sim, a), *fb = filter_at(sim, b);
    if (fa->urgent != fb->urgent)
        return fa->urgent;
    int order = 0;
    if (sim->plant->definition->wash.who_first == WR_FIRST_DIRTIEST) {
        const double la = wr_bed_load(sim->plant, sim->state, a), lb = wr_bed_load(sim->plant, sim->state, b);
        order = fabs(la - lb) > WR_SLACK * fmax(la, lb) ? -compare(la, lb) : 0; /* alike but for the last bits */
    } else
        order = compare(fa->called_at, fb->called_at);
    if (order == 0)
        order = compare(fa->wash_started_at, fb->wash_started_at);
    return order != 0 ? order < 0 : a < b;
}

void wr_line_sort(struct wr_simulation *sim)
{
    /* By insertion, since it is nearly in order. */
    uint32_t *line = wr_state_line(sim->plant, sim->state);
    for (uint32_t i = 1; i < sim->state->waiting; i++) {
        const uint32_t filter = line[i];
        uint32_t place = i;
        for (; place > 0 && comes_before(sim, filter, line[place - 1]); place--)
            line[place] = line[place - 1];
        line[place] = filter;
    }
}

void wr_line_return(struct wr_simulation *sim, size_t filter)
{
    wr_state_line(sim->plant, sim->state)[sim->state->waiting++] = (uint32_t)filter;
    wr_line_sort(sim);
}

void wr_line_leave(struct wr_simulation *sim, size_t filter)
{
    uint32_t *line = wr_state_line(sim->plant, sim->state);
    uint32_t place = 0;
    wr_line_close_spans(sim, filter);
    while (place < sim->state->waiting && line[place] != filter)
        place++;
    assert(place < sim->state->waiting);
    sim->state->waiting--;
    for (; place < sim->state->waiting; place++)
        line[place] = line[place + 1];
}

void wr_line_call(struct wr_simulation *sim, size_t filter, enum wr_trigger trigger)
{
    struct wr_filter *f = filter_at(sim, filter);
    struct wr_pack *pack = &wr_state_packs(sim->plant, sim->state)[sim->plant->group_of[filter]];
    assert(!f->called);
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
    wr_line_return(sim, filter);
    wr_tell(sim, WR_EVENT_CALLED, filter);
}

/* Overtaking ---------------------------------------------------------------------------------------------------- */

/* What the bed of a filter in line gathers, kg/m2 a second. */
static double growth_of(const struct wr_simulation *sim, size_t filter)
{
    const struct wr_filter *f = filter_at(sim, filter);
    const double solids = sim->state->flows.feed[WR_SOLIDS];
    if (f->mode == WR_MODE_SERVICE)
        return solids * wr_bed_rate(sim->plant, sim->state, filter);
    return solids * f->flow / sim->plant->groups[sim->plant->group_of[filter]].area;
}

/* In how long, s, one that gathers faster is dirtier than the first by more than what counts as alike. */
static double time_to_overtake(const struct wr_simulation *sim, size_t filter, size_t first)
{
    const double faster = growth_of(sim, filter) - growth_of(sim, first);
    const double load = wr_bed_load(sim->plant, sim->state, filter);
    const double ahead = wr_bed_load(sim->plant, sim->state, first) * (1 + 3 * WR_SLACK);
    if (faster <= 0 || filter_at(sim, filter)->urgent != filter_at(sim, first)->urgent)
        return WR_NEVER;
    return load < ahead ? (ahead - load) / faster : WR_NEVER;
}

void wr_line_arm(struct wr_simulation *sim)
{
    const uint32_t *line = wr_state_line(sim->plant, sim->state);
    double time = WR_NEVER;
    if (sim->plant->definition->wash.who_first != WR_FIRST_DIRTIEST)
        return;
    for (uint32_t i = 1; i < sim->state->waiting; i++)
        time = fmin(time, time_to_overtake(sim, line[i], line[0]));
    wr_timers_set(&sim->timers, sim->plant->timers.overtakes, wr_now(sim) + time);
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
    f->led &= reasons;
    if (reasons != 0)
        f->led |= wr_limit_bit(wr_limit_first(reasons));
}

void wr_line_close_spans(struct wr_simulation *sim, size_t filter)
{
    reasons_become(sim, filter, 0);
}

void wr_line_note(struct wr_simulation *sim)
{
    const uint32_t *line = wr_state_line(sim->plant, sim->state);
    wr_limit_set ahead = 0;
    for (uint32_t i = 0; i < sim->state->waiting; i++) {
        const wr_limit_set own = wr_gate(sim, line[i]);
        /* Nobody overtakes: who could start but for its place waits for what the first in line waits for. */
        const wr_limit_set reasons = own != 0 ? own : ahead;
        if (i == 0)
            ahead = reasons;
        if (reasons != filter_at(sim, line[i])->reasons)
            reasons_become(sim, line[i], reasons);
    }
}
