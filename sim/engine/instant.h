/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The loop over instants: what happens in which order at one moment. It knows timers, and nothing of what they stand
 * for.
 *
 *     for each next instant before the horizon:
 *         advance   from the last instant to this one
 *         rounds, until nothing more is due (bounded):
 *             act       each timer due, upward through the numbers; each is stopped just before it acts
 *             settle    once: decide, share out, set the timers again
 *         close     once
 *     advance   to the horizon
 *
 * A timer is due when its time is now or past. A round goes once upward through the numbers: a timer made due by an act
 * ahead of its place is served in the same round, one behind it in the next; none is missed. The horizon is half open:
 * what falls at it does not happen, and happens first when a later call goes on from there.
 *
 * A model whose events pile up (a switch that goes back and forth ever faster) would run for ever. So the rounds at one
 * instant and the beats (instants) in one simulated hour are bounded, and past a bound the run stops and can say which
 * timers kept firing.
 */
#ifndef WR_ENGINE_INSTANT_H
#define WR_ENGINE_INSTANT_H

#include "sim/engine/timers.h"

#include <stdbool.h>

/* Acts remembered so that a stopped run can say what kept firing, and timers it names at most. */
enum { WR_GUARD_REMEMBERS = 128, WR_GUARD_NAMES = 8 };

/* Bounds and what is counted against them. */
struct wr_guard {
    uint64_t beats_this_hour;
    double hour; /* s, start of the simulated hour being counted, a whole multiple of 3600 */
    uint64_t most_beats_per_hour;
    uint64_t most_rounds;                   /* at one instant */
    uint64_t acts;                          /* since the start */
    uint32_t last_acts[WR_GUARD_REMEMBERS]; /* timers that acted; act number n stands at n modulo the length */
};

/* Where a run stands: plain bytes, kept in the caller's state, so that a run cut at any horizon goes on as if uncut. */
struct wr_clock {
    double now;      /* s */
    uint64_t beats;  /* instants so far */
    uint64_t rounds; /* rounds so far, over all instants */
    struct wr_guard guard;
};

/* What the loop calls; each gets the context and times in s. */
struct wr_heart {
    void *context;
    /* Carries the state from one time to a later one; never called for no time at all. */
    void (*advance)(void *context, double from, double to);
    /* One timer, already stopped, has come due. */
    void (*act)(void *context, size_t timer, double now);
    /* Once per round, after all acts: decides, shares and sets timers. */
    void (*settle)(void *context, double now);
    /* Once per instant, after its last round: notes and tells. */
    void (*close)(void *context, double now);
    /* Looked at after each instant is closed: once it is true the run ends there. NULL: it goes on to the horizon. */
    const bool *stop;
};

enum wr_engine_status {
    WR_ENGINE_OK,
    WR_ENGINE_TOO_MANY_ROUNDS, /* at one instant */
    WR_ENGINE_TOO_MANY_BEATS   /* within one simulated hour */
};

/* Sets a clock to `start` (s, finite) with nothing counted and the usual bounds for that many timers: 8 x timers + 1000
 * rounds at one instant, 1000 x timers + 200000 beats in a simulated hour. The bounds may be set otherwise afterwards.
 */
void wr_clock_init(struct wr_clock *clock, double start, size_t timers);

/* Runs until the horizon `until` (s, finite), which the clock then shows, or until the heart's `stop` is true, when the
 * clock shows the instant it was closed at and a later call goes on from there; does nothing if the clock already
 * stands at the horizon or later. Timers in the past are due at once. When a bound is passed returns at that instant,
 * which is not closed, and such a run must not be gone on with. */
enum wr_engine_status wr_engine_run(struct wr_timers *timers, const struct wr_heart *heart, struct wr_clock *clock,
                                    double until);

/* One timer among those that acted last. */
struct wr_firing {
    size_t timer;
    size_t times; /* among the last acts remembered */
};

/* The timers that acted most among the last WR_GUARD_REMEMBERS acts, most frequent first, equals by number. Writes up
 * to WR_GUARD_NAMES of them and returns how many. */
size_t wr_clock_busiest(const struct wr_clock *clock, struct wr_firing busiest[WR_GUARD_NAMES]);

/* Writes a timer's name for a reader into `text` of `size` bytes. */
typedef void wr_timer_name(void *context, size_t timer, char *text, size_t size);

/* Writes why a run stopped into `text` of `size` bytes, with the simulated time and the names of the timers that kept
 * firing; an empty text for WR_ENGINE_OK. Ends the text within `size`, cut if need be. */
void wr_engine_explain(enum wr_engine_status status, const struct wr_clock *clock, wr_timer_name *name, void *context,
                       char *text, size_t size);

#endif
