/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The winner tree against a scan of all timers, and the promises of its header one by one. */
#include "sim/engine/philox.h"
#include "sim/engine/timers.h"
#include "tests/support/check.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

static const size_t counts[] = {1, 2, 3, 4, 5, 8, 30, 33, 1000};
enum { COUNTS = sizeof counts / sizeof *counts };

/* Timers in memory of exactly their size, so that a sanitizer sees a step outside it. */
static struct wr_timers make(size_t count)
{
    void *memory = malloc(wr_timers_size(count));
    assert_non_null(memory);
    struct wr_timers timers;
    wr_timers_init(&timers, count, memory);
    return timers;
}

static void drop(struct wr_timers timers)
{
    free(timers.ranks);
}

/* A time out of few, so that ties are common: a whole number of seconds on either side of zero, either zero, never. */
static double any_time(gsl_rng *rng)
{
    const unsigned long pick = gsl_rng_uniform_int(rng, 24);
    if (pick < 4) {
        return WR_NEVER;
    }
    return pick == 4 ? -0.0 : (double)pick - 14.0;
}

/* The lowest-numbered of the earliest, by looking at all. */
static size_t scan(const double *times, size_t count)
{
    size_t first = 0;
    for (size_t i = 1; i < count; i++) {
        first = times[i] < times[first] ? i : first;
    }
    return first;
}

/* The tree gives what a scan of the plain list gives. */
static void check_against_scan(const struct wr_timers *timers, const double *times)
{
    size_t timer = SIZE_MAX;
    const double next = wr_timers_next(timers, &timer);
    const size_t expected = scan(times, timers->count);
    check(next, times[expected], 0.0, "earliest time, s, against a scan");
    if (next < WR_NEVER) {
        check_count(timer, expected, "timer of the earliest time against a scan");
    }
}

static void test_random_sets_agree_with_a_scan(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(wr_rng_philox);
    for (size_t c = 0; c < COUNTS; c++) {
        const size_t count = counts[c];
        struct wr_timers timers = make(count);
        double times[1000];
        for (size_t i = 0; i < count; i++) {
            times[i] = WR_NEVER;
        }
        for (size_t i = 0; i < 5000; i++) {
            const size_t timer = gsl_rng_uniform_int(rng, count);
            times[timer] = i % 3 ? any_time(rng) : 100.0 * gsl_rng_uniform(rng) - 50.0;
            wr_timers_set(&timers, timer, times[timer]);
            check(wr_timers_time(&timers, timer), times[timer], 0.0, "time just set, s");
            check_against_scan(&timers, times);
        }
        drop(timers);
    }
    gsl_rng_free(rng);
}

/* Takes the earliest again and again, as a run does: the order is that of a scan to the end. */
static void test_stopping_the_next_sorts(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(wr_rng_philox);
    for (size_t c = 0; c < COUNTS; c++) {
        const size_t count = counts[c];
        struct wr_timers timers = make(count);
        double times[1000];
        for (size_t i = 0; i < count; i++) {
            times[i] = any_time(rng);
            wr_timers_set(&timers, i, times[i]);
        }
        for (size_t i = 0; i < count; i++) {
            check_against_scan(&timers, times);
            const size_t timer = scan(times, count);
            times[timer] = WR_NEVER;
            wr_timers_set(&timers, timer, WR_NEVER);
        }
        size_t timer;
        check(wr_timers_next(&timers, &timer), WR_NEVER, 0.0, "earliest time when all are stopped");
        drop(timers);
    }
    gsl_rng_free(rng);
}

static void test_all_start_stopped(void **state)
{
    (void)state;
    for (size_t c = 0; c < COUNTS; c++) {
        struct wr_timers timers = make(counts[c]);
        size_t timer;
        check(wr_timers_next(&timers, &timer), WR_NEVER, 0.0, "earliest time of new timers");
        for (size_t i = 0; i < counts[c]; i++) {
            check(wr_timers_time(&timers, i), WR_NEVER, 0.0, "time of a new timer");
        }
        drop(timers);
    }
}

static void test_ties_go_to_the_lower_number(void **state)
{
    (void)state;
    struct wr_timers timers = make(30);
    size_t timer;
    for (size_t i = 30; i-- > 0;) {
        wr_timers_set(&timers, i, 7.0);
        wr_timers_next(&timers, &timer);
        check_count(timer, i, "winner of a tie, set from the highest down");
    }
    for (size_t i = 0; i < 30; i++) {
        wr_timers_next(&timers, &timer);
        check_count(timer, i, "winner of a tie, stopped from the lowest up");
        wr_timers_set(&timers, i, WR_NEVER);
    }
    drop(timers);
}

/* Zero and minus zero are one time; the order in which they were set must not tell. */
static void test_minus_zero_ties_with_zero(void **state)
{
    (void)state;
    struct wr_timers timers = make(4);
    size_t timer;
    wr_timers_set(&timers, 1, 0.0);
    wr_timers_set(&timers, 2, -0.0);
    wr_timers_next(&timers, &timer);
    check_count(timer, 1, "zero below minus zero");
    const double zeros[2] = {0.0, -0.0};
    wr_timers_set_range(&timers, 2, 2, zeros);
    wr_timers_set(&timers, 1, WR_NEVER);
    wr_timers_next(&timers, &timer);
    check_count(timer, 2, "zero below minus zero, set together");
    drop(timers);
}

/* Neighbouring doubles are told apart, and times far from each other ordered, on both sides of the tree. */
static void test_ulps_and_extremes(void **state)
{
    (void)state;
    const double rising[] = {-HUGE_VAL, -1e300, -1.0, -5e-324, 0.0, 5e-324, 1.0, 1.0 + 0x1p-52, 1e300};
    const size_t count = sizeof rising / sizeof *rising;
    for (size_t i = 0; i + 1 < count; i++) {
        for (size_t swap = 0; swap < 2; swap++) {
            struct wr_timers timers = make(2);
            size_t timer;
            wr_timers_set(&timers, swap, rising[i]);
            wr_timers_set(&timers, 1 - swap, rising[i + 1]);
            check(wr_timers_next(&timers, &timer), rising[i], 0.0, "earlier of two close times");
            check_count(timer, swap, "timer of the earlier of two close times");
            drop(timers);
        }
    }
}

static void test_a_range_set_together_is_as_set_one_by_one(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(wr_rng_philox);
    for (size_t c = 0; c < COUNTS; c++) {
        const size_t count = counts[c];
        struct wr_timers single = make(count), together = make(count);
        for (size_t turn = 0; turn < 200; turn++) {
            const size_t first = gsl_rng_uniform_int(rng, count);
            const size_t length = gsl_rng_uniform_int(rng, count - first + 1); /* none, up to all from there on */
            double times[1000];
            for (size_t i = 0; i < length; i++) {
                times[i] = any_time(rng);
                wr_timers_set(&single, first + i, times[i]);
            }
            wr_timers_set_range(&together, first, length, times);
            check_true(memcmp(single.ranks, together.ranks, wr_timers_size(count)) == 0,
                       "bytes of timers set together and one by one");
        }
        drop(single);
        drop(together);
    }
    gsl_rng_free(rng);
}

/* The block holds no pointers: copied elsewhere as bytes it goes on as the one it was copied from. */
static void test_a_copied_block_goes_on(void **state)
{
    (void)state;
    struct wr_timers timers = make(5);
    for (size_t i = 0; i < 5; i++) {
        wr_timers_set(&timers, i, 50.0 - (double)i);
    }
    void *copy = malloc(wr_timers_size(5));
    assert_non_null(copy);
    memcpy(copy, timers.ranks, wr_timers_size(5));
    memset(timers.ranks, 0xFF, wr_timers_size(5));
    drop(timers);
    struct wr_timers attached;
    wr_timers_attach(&attached, 5, copy);
    size_t timer;
    check(wr_timers_next(&attached, &timer), 46.0, 0.0, "earliest time of a copied block, s");
    check_count(timer, 4, "earliest timer of a copied block");
    wr_timers_set(&attached, 4, 100.0);
    check(wr_timers_next(&attached, &timer), 47.0, 0.0, "earliest time after a set in a copied block, s");
    drop(attached);
}

/* Equal contents are equal bytes, also those between the nodes and the end: saved states are compared. */
static void test_size_and_bytes(void **state)
{
    (void)state;
    for (size_t c = 0; c < COUNTS; c++) {
        const size_t size = wr_timers_size(counts[c]);
        check_count(size % 16, 0, "remainder of a block's size by 16");
        unsigned char *memory = malloc(2 * size);
        assert_non_null(memory);
        memset(memory, 0xA5, 2 * size);
        struct wr_timers timers;
        wr_timers_init(&timers, counts[c], memory);
        memset(memory + size, 0x5A, size);
        wr_timers_init(&timers, counts[c], memory + size);
        check_true(memcmp(memory, memory + size, size) == 0, "bytes of two new blocks");
        free(memory);
    }
}

/* Whether a set ends the process by a failed assertion. */
static bool set_aborts(size_t timer, double time)
{
    const pid_t child = fork();
    assert_true(child >= 0);
    if (child == 0) {
        struct wr_timers timers = make(3);
        if (!freopen("/dev/null", "w", stderr)) {
            _exit(2);
        }
        signal(SIGABRT, SIG_DFL);
        wr_timers_set(&timers, timer, time);
        _exit(0);
    }
    int status = 0;
    assert_int_equal(waitpid(child, &status, 0), child);
    return WIFSIGNALED(status) && WTERMSIG(status) == SIGABRT;
}

static void test_a_programmers_mistake_aborts(void **state)
{
    (void)state;
#ifdef NDEBUG
    skip();
#endif
    check_true(set_aborts(0, (double)NAN), "a time that is not a number aborts");
    check_true(set_aborts(3, 1.0), "a timer that does not exist aborts");
    check_true(!set_aborts(2, 1.0), "a proper set does not abort");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_random_sets_agree_with_a_scan),
        cmocka_unit_test(test_stopping_the_next_sorts),
        cmocka_unit_test(test_all_start_stopped),
        cmocka_unit_test(test_ties_go_to_the_lower_number),
        cmocka_unit_test(test_minus_zero_ties_with_zero),
        cmocka_unit_test(test_ulps_and_extremes),
        cmocka_unit_test(test_a_range_set_together_is_as_set_one_by_one),
        cmocka_unit_test(test_a_copied_block_goes_on),
        cmocka_unit_test(test_size_and_bytes),
        cmocka_unit_test(test_a_programmers_mistake_aborts),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
