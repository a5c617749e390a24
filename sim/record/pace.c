/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/record/pace.h"

#include "sim/plant/bed.h"
#include "sim/plant/extreme.h"
#include "sim/plant/head.h"

#include <math.h>
#include <string.h>

/* Extra load over seven days, and share of the reserve used by one wait, from which washing is paced. */
static const double PACED_LOAD = 0.10;
static const double PACED_RESERVE = 0.5;

static const double DAY = 86400;

const char *wr_grade_key(enum wr_grade grade)
{
    static const char *const keys[] = {[WR_GRADE_CLEAR] = "clear",
                                       [WR_GRADE_QUEUES] = "queues",
                                       [WR_GRADE_PACED] = "paced",
                                       [WR_GRADE_OVERRUN] = "overrun"};
    return keys[grade];
}

/* Extra load of the days in the ring; 0 without a wash. */
static double ring_extra_load(const struct wr_record *r)
{
    double gathered = 0, load = 0;
    for (int d = 0; d < WR_WEEK; d++) {
        gathered += r->week_gathered[d];
        load += r->week_load[d];
    }
    return load > 0 ? gathered / load : 0;
}

/* Moves the ring of days on to the day of a time, looking at each seven days that end on the way. */
static void turn_ring_on(struct wr_record *r, double now)
{
    const uint32_t day = (uint32_t)(now / DAY);
    for (size_t steps = 0; r->day < day; steps++) {
        if (r->day + 1 >= WR_WEEK)
            r->balance.worst_week_extra_load = fmax(r->balance.worst_week_extra_load, ring_extra_load(r));
        if (steps > WR_WEEK) {
            r->day = day;
            return;
        }
        r->day++;
        r->week_gathered[r->day % WR_WEEK] = r->week_load[r->day % WR_WEEK] = 0;
    }
}

static inline void turn_ring(struct wr_record *r, double now)
{
    if (now >= (r->day + 1.0) * DAY)
        turn_ring_on(r, now);
}

/* Share of the time from call to available head, at the wait's mean flow, that was spent waiting for a resource. */
static double reserve_used(const struct wr_simulation *sim, size_t filter)
{
    const struct wr_filter *f = &wr_state_filters(sim->plant, sim->state)[filter];
    const struct wr_group *g = &sim->plant->groups[sim->plant->group_of[filter]];
    const struct wr_bed bed = wr_bed_now(sim->plant, sim->state, filter);
    const double load = bed.load[WR_SOLIDS] - f->wait.load_at_call, volume = bed.volume - f->wait.volume_at_call;
    if (f->wait.by_resource <= 0 || load <= 0 || volume <= 0)
        return 0;
    const double rate = volume / f->wait.total;
    const double limit = wr_group_load_at_head(g, sim->plant->viscosity, g->available_head, rate, false);
    const double room = limit - f->wait.load_at_call;
    return room > 0 ? f->wait.by_resource / (f->wait.total * (room / load)) : 1;
}

/* A wait enters the balance, ended by its wash or by the end of the run. */
static void count_wait(struct wr_record *r, const struct wr_simulation *sim, size_t filter)
{
    const struct wr_filter *f = &wr_state_filters(sim->plant, sim->state)[filter];
    struct wr_wash_balance *b = &r->balance;
    if (!f->washed) {
        b->start_up_wait += f->wait.total;
        return;
    }
    if (f->wait.total <= 0)
        return;
    b->washes_that_waited++;
    b->total_wait += f->wait.total;
    b->longest_wait = fmax(b->longest_wait, f->wait.total);
    b->worst_reserve_used = fmax(b->worst_reserve_used, reserve_used(sim, filter));
}

void wr_pace_wash(struct wr_record *r, const struct wr_simulation *sim, size_t filter)
{
    const struct wr_filter *f = &wr_state_filters(sim->plant, sim->state)[filter];
    turn_ring(r, wr_now(sim));
    r->balance.washes++;
    count_wait(r, sim, filter);
    if (!f->washed)
        return;
    r->gathered += f->wait.gathered;
    r->load_at_call += f->wait.load_at_call;
    r->week_gathered[r->day % WR_WEEK] += f->wait.gathered;
    r->week_load[r->day % WR_WEEK] += f->wait.load_at_call;
}

/* Filters past their start-up that wait for a resource first of all, and how many wait for anything. */
static size_t waiting_for_resource(const struct wr_simulation *sim, size_t *waiting)
{
    const uint32_t *line = wr_state_line(sim->plant, sim->state);
    const struct wr_filter *filters = wr_state_filters(sim->plant, sim->state);
    size_t count = 0;
    *waiting = 0;
    for (uint32_t i = 0; i < sim->state->waiting; i++) {
        if (!filters[line[i]].washed)
            continue;
        ++*waiting;
        count += wr_limit_is_resource(wr_limit_first(filters[line[i]].reasons));
    }
    return count;
}

/* True once the measures say that washing does not keep pace; only the first time. */
static bool loses_pace(struct wr_record *r, double now)
{
    struct wr_wash_balance *b = &r->balance;
    const bool all_week = now - r->someone_waits_since >= WR_WEEK * DAY;
    if (!b->keeps_pace ||
        !(b->worst_week_extra_load >= PACED_LOAD || b->worst_reserve_used >= PACED_RESERVE || all_week))
        return false;
    b->keeps_pace = false;
    return true;
}

static void look_at_line(struct wr_record *r, const struct wr_simulation *sim)
{
    const double now = wr_now(sim);
    size_t waiting;
    const size_t for_resource = waiting_for_resource(sim, &waiting);
    if (waiting > r->balance.most_waiting_together)
        r->balance.most_waiting_together = waiting;
    r->someone_waits_since = for_resource > 0 ? wr_lesser(r->someone_waits_since, now) : WR_NEVER;
    if (for_resource > 0)
        r->balance.first_exceeded = wr_lesser(r->balance.first_exceeded, now);
}

bool wr_pace_instant(struct wr_record *r, const struct wr_simulation *sim)
{
    turn_ring(r, wr_now(sim));
    if (sim->state->waiting > 0)
        look_at_line(r, sim);
    else
        r->someone_waits_since = WR_NEVER;
    return loses_pace(r, wr_now(sim));
}

bool wr_pace_close(struct wr_record *r, const struct wr_simulation *sim)
{
    const struct wr_filter *filters = wr_state_filters(sim->plant, sim->state);
    turn_ring(r, wr_now(sim));
    /* A call that is still open counts, also of a filter that has gone out of service with it. */
    for (size_t i = 0; i < sim->plant->filter_count; i++) {
        if (!filters[i].called)
            continue;
        count_wait(r, sim, i);
        if (!filters[i].washed)
            continue;
        r->gathered += filters[i].wait.gathered;
        r->load_at_call += filters[i].wait.load_at_call;
    }
    r->balance.extra_load = r->load_at_call > 0 ? r->gathered / r->load_at_call : 0;
    if (wr_now(sim) < WR_WEEK * DAY)
        r->balance.worst_week_extra_load = r->balance.extra_load;
    return loses_pace(r, wr_now(sim));
}

void wr_pace_grade(struct wr_record *r, const struct wr_simulation *sim, enum wr_limit resource, enum wr_limit any)
{
    struct wr_wash_balance *b = &r->balance;
    double by_resource = 0;
    for (int l = 0; l < WR_LIMITS; l++)
        if (wr_limit_is_resource((enum wr_limit)l))
            by_resource += sim->state->waits[l].first;
    b->ever_exceeds_supply = by_resource > 0;
    const bool overrun = r->findings[WR_FINDING_HEAD_REACHED][WR_LIMITS].times > 0 ||
                         r->findings[WR_FINDING_WASH_SHORT][WR_LIMITS].times > 0 ||
                         r->findings[WR_FINDING_SPENT_WASH_SPILLED][WR_LIMITS].times > 0;
    b->grade = overrun           ? WR_GRADE_OVERRUN
               : !b->keeps_pace  ? WR_GRADE_PACED
               : by_resource > 0 ? WR_GRADE_QUEUES
                                 : WR_GRADE_CLEAR;
    if (!b->keeps_pace)
        b->paced_by = resource;
    if (overrun) {
        b->cause = any != WR_LIMIT_NONE ? any : WR_LIMIT_AVAILABLE_HEAD;
        b->keeps_pace = false;
    }
}
