/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A fixed set of timers under a winner tree.
 *
 * A plant knows from the start everything that can happen next: one timer for each. Setting a timer replaces its time,
 * so nothing is ever cancelled and nothing is allocated while running. The timers are the leaves of a complete binary
 * tree in which every inner node holds the number of the timer that is due first below it; the root's is due first of
 * all. Equal times go to the lower number, so timers numbered by class are taken in the order of classes.
 *
 * All of it lies in one memory block of the caller's with numbers for pointers: the block may be saved as bytes, loaded
 * elsewhere and attached again.
 */
#ifndef WR_ENGINE_TIMERS_H
#define WR_ENGINE_TIMERS_H

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <string.h>

/* The time of a stopped timer: INFINITY as a double, which the macro of math.h is not for every compiler. */
#define WR_NEVER HUGE_VAL

/* A view of a block of timers. Plain to copy; two views of one block see the same timers. */
struct wr_timers {
    size_t count;      /* timers */
    size_t leaves;     /* count rounded up to a power of two, at least two: a lone timer has a root above it too */
    int64_t *ranks;    /* one per leaf: its time as wr_timers_rank has it; written by wr_timers_set alone */
    uint32_t *winners; /* per inner node the winning timer below it; the root is 1, below node n are 2n and 2n + 1 */
};

/* Bytes of the memory block that `count` timers need (1 to 2^31), a multiple of 16. */
size_t wr_timers_size(size_t count);

/* Lays `count` timers, all stopped, into `memory`: wr_timers_size(count) bytes, aligned for a double. */
void wr_timers_init(struct wr_timers *timers, size_t count, void *memory);

/* Looks at `count` timers already in `memory`, such as a block read back from a file, and changes nothing there. */
void wr_timers_attach(struct wr_timers *timers, size_t count, void *memory);

/* A whole number that orders as the time does: a double's bits, those of a negative one turned over. Ranks are what the
 * tree keeps, for they are compared at every node and turned into times only at its top. */
static inline int64_t wr_timers_rank(double time)
{
    int64_t bits;
    memcpy(&bits, &time, sizeof bits);
    return bits < 0 ? bits ^ INT64_MAX : bits;
}

/* The time of a rank. */
static inline double wr_timers_ranked(int64_t rank)
{
    const int64_t bits = rank < 0 ? rank ^ INT64_MAX : rank;
    double time;
    memcpy(&time, &bits, sizeof time);
    return time;
}

/* Time of one timer, s; WR_NEVER when it is stopped. */
static inline double wr_timers_time(const struct wr_timers *timers, size_t timer)
{
    assert(timer < timers->count);
    return wr_timers_ranked(timers->ranks[timer]);
}

/* The rank of the earliest time, and in `timer` the timer it belongs to: the lowest-numbered of equals. That of
 * WR_NEVER when all are stopped, and then `timer` means nothing. */
static inline int64_t wr_timers_next_rank(const struct wr_timers *timers, size_t *timer)
{
    *timer = timers->winners[1];
    return timers->ranks[*timer];
}

/* The same as a time, s. */
static inline double wr_timers_next(const struct wr_timers *timers, size_t *timer)
{
    return wr_timers_ranked(wr_timers_next_rank(timers, timer));
}

/* Plays every node on the way from a timer to the root again: who comes up from below against the winner of the branch
 * beside it. No processor can guess who wins, so both choices are written for moves without a jump. Ranks are whole
 * numbers, so a branch on the left, whose numbers are lower, wins a tie by one more to beat. */
static inline void wr_timers_replay(struct wr_timers *timers, size_t timer)
{
    assert(timer < timers->count);
    const int64_t *ranks = timers->ranks;
    uint32_t *winners = timers->winners;
    uint32_t winner = (uint32_t)timer;
    uint32_t rival = winner ^ 1U;
    int64_t best = ranks[timer];
    for (size_t node = timers->leaves + timer; node > 1; node >>= 1) {
        const int64_t rank = ranks[rival];
        const bool wins = rank < best + (int64_t)(node & 1);
        best = wins ? rank : best;
        winner = wins ? rival : winner;
        winners[node >> 1] = winner;
        rival = winners[(node >> 1) ^ 1];
    }
}

/* Sets a timer to a time, s, in place of the one it had; WR_NEVER stops it. The time may lie in the past (it is then
 * the next) but must be a number. */
static inline void wr_timers_set(struct wr_timers *timers, size_t timer, double time)
{
    const int64_t rank = wr_timers_rank(time + 0.0); /* minus zero becomes zero: equal times must have equal ranks */
    if (timers->ranks[timer] == rank) {
        return; /* above all one that was stopped and stays so */
    }
    assert(!isnan(time));
    timers->ranks[timer] = rank;
    wr_timers_replay(timers, timer);
}

/* Stops the timer that is due first without playing its nodes again, since whoever takes it mostly sets it anew: until
 * wr_timers_put_back, which must follow, timers may be set but not asked who is next. */
static inline void wr_timers_take(struct wr_timers *timers, size_t timer)
{
    assert(timer < timers->count);
    timers->ranks[timer] = wr_timers_rank(WR_NEVER);
}

/* Plays the nodes of a timer that was taken and not set since. Any other set meanwhile was right up to where its way
 * joins the taken one's, and from there on this plays for both. */
static inline void wr_timers_put_back(struct wr_timers *timers, size_t timer)
{
    if (timers->ranks[timer] == wr_timers_rank(WR_NEVER)) {
        wr_timers_replay(timers, timer);
    }
}

/* Sets the `count` timers from number `first` on to `times`, s, as wr_timers_set would one by one. Plays each node
 * above them once, so it is the cheaper way from about three neighbours on: all filters of a plant after their flows
 * moved. */
void wr_timers_set_range(struct wr_timers *timers, size_t first, size_t count, const double *times);

#endif
