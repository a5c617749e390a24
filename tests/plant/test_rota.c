/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Filters that wait for one wash system, all times constant: each runs its own hours whatever its rate, so the rota
 * locks into a cycle of max(run + wash, filters x wash), in which each waits max(0, filters x wash - (run + wash)).
 * That is the finite-source queue with constant times; the figures follow by adding up. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <stdio.h>

static const double exact = 1e-6; /* s */

/* All beds equal: the first waits are 0, b, 2b, ... */
static void first_waits_add_up(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=8", "/wash/triggers/run_hours=10 h", "/wash/bed_settle=110 min",
                            "/wash_water/tank/refill_rate=30 m3/h", "/horizon=5 d"));
    for (size_t f = 0; f < 8; f++) {
        const struct wr_wash_record *wash = plant_case_wash(&c, f, 0);
        check(wash->called_at, 10 * HOUR, exact, "call, s: 10 h of run from a clean bed");
        check(wash->started_at, (10 + 2 * (double)f) * HOUR, exact, "start, s: 2 h for each filter ahead");
        check(wash->waited, 2 * (double)f * HOUR, exact, "first wait, s: 0, b, 2b, ...");
        check_true(wash->start_up, "a first wash is start-up");
    }
    plant_case_fini(&c);
}

/* Cycle and waits once the rota has locked, from filter `first_wash` on. */
static void check_cycle(const struct plant_case *c, size_t filters, size_t first_wash, double cycle, double wait)
{
    for (size_t f = 0; f < filters; f++) {
        const size_t washes = c->run.record.filters[f].washes;
        check_true(washes > first_wash + 3, "the run holds enough washes");
        for (size_t n = first_wash; n + 1 < washes; n++) {
            const struct wr_wash_record *wash = plant_case_wash(c, f, n), *next = plant_case_wash(c, f, n + 1);
            check(next->started_at - wash->started_at, cycle, exact, "cycle, s: max(run + wash, filters x wash)");
            check(next->waited, wait, exact, "wait, s: max(0, filters x wash - (run + wash))");
        }
    }
}

static void eight_filters_wait_four_hours_each(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=8", "/wash/triggers/run_hours=10 h", "/wash/bed_settle=110 min",
                            "/wash_water/tank/refill_rate=30 m3/h", "/horizon=10 d"));
    check_cycle(&c, 8, 0, 16 * HOUR, 4 * HOUR);
    check_count(c.run.record.balance.grade, WR_GRADE_PACED, "grade: each wash starts when the one before it ends");
    check_count(c.run.record.balance.paced_by, WR_LIMIT_WASH_SYSTEM, "what paces the washes");
    check(plant_case_held(&c, WR_LIMIT_WASH_WATER), 0, 0, "time in which wash water held a wash, s: none is short");
    plant_case_fini(&c);
}

static void eight_filters_lock_from_any_start(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=8", "/wash/triggers/run_hours=10 h", "/wash/bed_settle=110 min",
                            "/wash_water/tank/refill_rate=30 m3/h", "/start_beds/how=given", "/horizon=10 d",
                            "/filters/0/start_shares=[\"90 %\", \"3 %\", \"41 %\", \"40 %\", \"88 %\", \"0 %\", "
                            "\"99 %\", \"17 %\"]"));
    check_cycle(&c, 8, 1, 16 * HOUR, 4 * HOUR);
    plant_case_fini(&c);
}

static void six_filters_wait_no_more_once_locked(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=6", "/wash/triggers/run_hours=12 h", "/wash/bed_settle=80 min",
                            "/wash_water/tank/refill_rate=35 m3/h", "/horizon=10 d"));
    for (size_t f = 0; f < 6; f++)
        check(plant_case_wash(&c, f, 0)->waited, 1.5 * (double)f * HOUR, exact, "first wait, s: 0, b, 2b, ...");
    check_cycle(&c, 6, 0, 13.5 * HOUR, 0);
    check_count(c.run.record.balance.washes_that_waited, 0, "washes that waited, but for the start-up");
    check(c.run.record.balance.start_up_wait, 1.5 * 15 * HOUR, exact, "start-up waits, s: b (0 + 1 + ... + 5)");
    check_count(c.run.record.balance.grade, WR_GRADE_CLEAR, "grade: start-up waits make none");
    plant_case_fini(&c);
}

/* Six filters whose washes just follow each other: 6 x 2 = 10 + 2. */
static void a_rota_without_a_gap_waits_no_more(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=6", "/wash/triggers/run_hours=10 h", "/wash/bed_settle=110 min",
                            "/wash_water/tank/refill_rate=30 m3/h", "/horizon=10 d"));
    check_cycle(&c, 6, 0, 12 * HOUR, 0);
    plant_case_fini(&c);
}

/* Two wash systems halve the line. */
static void two_systems_serve_two_at_a_time(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=8", "/wash/triggers/run_hours=5 h", "/wash/bed_settle=110 min",
                            "/wash/max_simultaneous=2", "/wash_water/tank/refill_rate=60 m3/h",
                            "/wells/0/flow=100 m3/h", "/horizon=10 d"));
    for (size_t f = 0; f < 8; f++)
        check(plant_case_wash(&c, f, 0)->waited, 2 * (double)(f / 2) * HOUR, exact, "first wait, s: by pairs");
    check_cycle(&c, 8, 0, 8 * HOUR, 1 * HOUR);
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(first_waits_add_up),
        cmocka_unit_test(eight_filters_wait_four_hours_each),
        cmocka_unit_test(eight_filters_lock_from_any_start),
        cmocka_unit_test(six_filters_wait_no_more_once_locked),
        cmocka_unit_test(a_rota_without_a_gap_waits_no_more),
        cmocka_unit_test(two_systems_serve_two_at_a_time),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
