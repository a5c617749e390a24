/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/engine/instant.h"

#include <stdbool.h>
#include <stdio.h>

static const double hour = 3600.0; /* s */

/* What one run works on, so that the steps below take one argument. */
struct run {
    struct wr_timers *timers;
    const struct wr_heart *heart;
    struct wr_clock *clock;
};

void wr_clock_init(struct wr_clock *clock, double start, size_t timers)
{
    assert(isfinite(start));
    *clock = (struct wr_clock){
        .now = start,
        .guard = {.hour = hour * floor(start / hour),
                  .most_beats_per_hour = 1000 * (uint64_t)timers + 200000,
                  .most_rounds = 8 * (uint64_t)timers + 1000},
    };
}

/* Carries state and clock to a time that is not earlier. */
static void advance(const struct run *run, double to)
{
    const double from = run->clock->now;
    if (to > from) {
        run->heart->advance(run->heart->context, from, to);
        run->clock->now = to;
    }
}

/* Counts one more beat, now. False when it is one too many for its hour. */
static bool count_beat(struct wr_clock *clock)
{
    struct wr_guard *guard = &clock->guard;
    if (clock->now >= guard->hour + hour) {
        guard->hour += hour; /* mostly it is the next */
        if (clock->now >= guard->hour + hour)
            guard->hour = hour * floor(clock->now / hour);
        guard->beats_this_hour = 0;
    }
    clock->beats++;
    return ++guard->beats_this_hour <= guard->most_beats_per_hour;
}

static void act(const struct run *run, size_t timer)
{
    struct wr_guard *guard = &run->clock->guard;
    guard->last_acts[guard->acts++ % WR_GUARD_REMEMBERS] = (uint32_t)timer;
    wr_timers_take(run->timers, timer);
    run->heart->act(run->heart->context, timer, run->clock->now);
    wr_timers_put_back(run->timers, timer);
}

/* The lowest-numbered due timer from `from` up; the number of timers if there is none. */
static size_t due_from(const struct wr_timers *timers, size_t from, int64_t now)
{
    while (from < timers->count && timers->ranks[from] > now) {
        from++;
    }
    return from;
}

/* One round: every timer due acts, upward through the numbers, and then all is settled.
 *
 * As a rule all due timers are set to exactly this instant, and the tree, which gives equals by number, hands them out
 * in the right order. Only after one set in the past, or one that an act made due behind the place reached, must the
 * next be looked for; over a round that looks at each timer once. */
static void play_round(const struct run *run)
{
    const int64_t now = wr_timers_rank(run->clock->now + 0.0);
    size_t place = 0, timer = 0;
    for (int64_t due; (due = wr_timers_next_rank(run->timers, &timer)) <= now;) {
        if (due < now || timer < place) {
            timer = due_from(run->timers, place, now);
        }
        if (timer == run->timers->count) {
            break;
        }
        act(run, timer);
        place = timer + 1;
    }
    run->clock->rounds++;
    run->heart->settle(run->heart->context, run->clock->now);
}

/* Plays rounds until nothing more is due. False when the bound is reached before that. */
static bool play_instant(const struct run *run)
{
    const double now = run->clock->now;
    const int64_t rank = wr_timers_rank(now + 0.0);
    size_t timer;
    for (uint64_t rounds = 0; rounds < run->clock->guard.most_rounds; rounds++) {
        play_round(run);
        if (wr_timers_next_rank(run->timers, &timer) > rank) {
            run->heart->close(run->heart->context, now);
            return true;
        }
    }
    return false;
}

enum wr_engine_status wr_engine_run(struct wr_timers *timers, const struct wr_heart *heart, struct wr_clock *clock,
                                    double until)
{
    assert(isfinite(until));
    const struct run run = {timers, heart, clock};
    size_t timer;
    while (clock->now < until) {
        const double next = wr_timers_next(timers, &timer);
        if (next >= until) {
            advance(&run, until);
            break;
        }
        advance(&run, next); /* a timer in the past is due at once */
        if (!count_beat(clock)) {
            return WR_ENGINE_TOO_MANY_BEATS;
        }
        if (!play_instant(&run)) {
            return WR_ENGINE_TOO_MANY_ROUNDS;
        }
        if (heart->stop != NULL && *heart->stop) {
            break;
        }
    }
    return WR_ENGINE_OK;
}

static size_t acts_remembered(const struct wr_guard *guard)
{
    return guard->acts < WR_GUARD_REMEMBERS ? (size_t)guard->acts : WR_GUARD_REMEMBERS;
}

/* How often a timer stands among the last `length` acts. */
static size_t count_acts(const struct wr_guard *guard, size_t length, size_t timer)
{
    size_t times = 0;
    for (size_t i = 0; i < length; i++) {
        times += guard->last_acts[i] == timer;
    }
    return times;
}

/* Whether the first comes before the second in a list by frequency. */
static bool is_busier(struct wr_firing a, struct wr_firing b)
{
    return a.times > b.times || (a.times == b.times && a.timer < b.timer);
}

/* Puts a timer at its place in a list of `listed` busier ones; the last falls out of a full list. */
static size_t list_busy(struct wr_firing *busiest, size_t listed, struct wr_firing firing)
{
    size_t place = listed;
    while (place > 0 && is_busier(firing, busiest[place - 1])) {
        place--;
    }
    const size_t length = listed < WR_GUARD_NAMES ? listed + 1 : WR_GUARD_NAMES;
    for (size_t i = length; i-- > place + 1;) {
        busiest[i] = busiest[i - 1];
    }
    if (place < length) {
        busiest[place] = firing;
    }
    return length;
}

size_t wr_clock_busiest(const struct wr_clock *clock, struct wr_firing busiest[WR_GUARD_NAMES])
{
    const struct wr_guard *guard = &clock->guard;
    const size_t length = acts_remembered(guard);
    size_t listed = 0;
    for (size_t i = 0; i < length; i++) {
        const size_t timer = guard->last_acts[i];
        if (count_acts(guard, i, timer) == 0) { /* not met before */
            listed = list_busy(busiest, listed, (struct wr_firing){timer, count_acts(guard, length, timer)});
        }
    }
    return listed;
}

/* Adds to a text that holds `used` bytes what fits, and returns what it then holds. */
static size_t add_text(char *text, size_t size, size_t used, const char *more)
{
    const int written = snprintf(text + used, size - used, "%s", more);
    const size_t whole = used + (size_t)(written > 0 ? written : 0);
    return whole < size ? whole : size - 1;
}

void wr_engine_explain(enum wr_engine_status status, const struct wr_clock *clock, wr_timer_name *name, void *context,
                       char *text, size_t size)
{
    assert(size > 0);
    text[0] = '\0';
    if (status == WR_ENGINE_OK) {
        return;
    }
    const bool rounds = status == WR_ENGINE_TOO_MANY_ROUNDS;
    const uint64_t most = rounds ? clock->guard.most_rounds : clock->guard.most_beats_per_hour;
    char part[200];
    snprintf(part, sizeof part, "stopped at %.17g s: more than %llu %s; kept firing", clock->now,
             (unsigned long long)most, rounds ? "rounds at one instant" : "instants in one simulated hour");
    size_t used = add_text(text, size, 0, part);
    struct wr_firing busiest[WR_GUARD_NAMES];
    const size_t listed = wr_clock_busiest(clock, busiest);
    const size_t remembered = acts_remembered(&clock->guard);
    for (size_t i = 0; i < listed; i++) {
        char called[120] = "";
        name(context, busiest[i].timer, called, sizeof called);
        snprintf(part, sizeof part, "%s %s (%zu of the last %zu acts)", i ? "," : ":", called, busiest[i].times,
                 remembered);
        used = add_text(text, size, used, part);
    }
}
