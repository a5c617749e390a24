/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A horizon is half open: what falls at it does not happen, and a wait still open counts. A wait of no length is none.
 */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

static const double exact = 1e-6; /* s */

static void what_falls_at_the_horizon_does_not_happen(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS("/horizon=20 h"));
    check_count(plant_case_count(&c, WR_EVENT_CALLED, 0), 0, "calls at the horizon");
    check_count(c.run.record.balance.washes, 0, "washes");
    plant_case_fini(&c);
    plant_case_run(&c, PLANT_PLAIN, SETTINGS("/horizon=20.001 h"));
    check_count(plant_case_count(&c, WR_EVENT_CALLED, 0), 1, "calls before the horizon");
    check_count(c.run.record.balance.washes, 1, "washes begun");
    check(plant_case_wash(&c, 0, 0)->ended_at, WR_NEVER, 0, "end of a wash under way, s");
    check_count(c.run.record.balance.washes_that_waited, 0, "waits: of the start-up only");
    check(c.run.record.balance.start_up_wait, 3.6, exact, "the second filter's wait up to the horizon, s");
    plant_case_fini(&c);
}

/* Three filters, runs of 10 h, washes of 6: the first is washed from 10 to 16 h, calls at 26 h and waits for the end of
 * the third's wash at 28 h. */
#define THREE "/filters/0/count=3", "/wash/triggers/run_hours=10 h", "/wash/bed_settle=350 min"

static void an_open_wait_counts_to_the_horizon(void **state)
{
    (void)state;
    static const struct {
        const char *horizon;
        double waited, washes;
    } cases[] = {{"/horizon=26 h", 0, 3}, {"/horizon=27 h", 1, 3}, {"/horizon=28 h", 2, 3}, {"/horizon=29 h", 2, 4}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN, SETTINGS(THREE, cases[i].horizon));
        const struct wr_wash_balance *b = &c.run.record.balance;
        const struct wr_tally *tally = &plant_case_state(&c)->waits[WR_LIMIT_WASH_SYSTEM];
        check_count(b->washes, cases[i].washes, "washes begun");
        check(b->total_wait, cases[i].waited * HOUR, exact, "waits, s: open ones up to the horizon");
        check(b->longest_wait, cases[i].waited * HOUR, exact, "longest wait, s");
        check_count(b->washes_that_waited, cases[i].waited > 0, "washes that waited");
        check(tally->first, cases[i].waited * HOUR, exact, "held by the wash system, s");
        check_true(b->ever_exceeds_supply == (cases[i].waited > 0), "whether demand for washes exceeded supply");
        check(b->first_exceeded, cases[i].waited > 0 ? 26 * HOUR : WR_NEVER, exact, "when first, s");
        if (cases[i].waited > 0)
            check(plant_case_span(&c, WR_LIMIT_WASH_SYSTEM, 0, 0)->to, (26 + cases[i].waited) * HOUR, exact,
                  "end of its span, s");
        plant_case_fini(&c);
    }
}

/* Six filters, runs of 10 h, washes of 2: each calls at the instant at which the wash before it ends. */
static void a_wait_of_no_length_is_none(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=6", "/wash/triggers/run_hours=10 h", "/wash/bed_settle=110 min",
                            "/wash_water/tank/refill_rate=30 m3/h", "/horizon=10 d"));
    check_count(c.run.record.balance.washes, (10 * 24 - 10) / 2, "washes: one after the other from 10 h on");
    check_count(c.run.record.balance.washes_that_waited, 0, "washes that waited");
    check(c.run.record.balance.total_wait, 0, 0, "their waits, s: times are whole seconds, so exactly none");
    check_count(c.run.record.balance.most_waiting_together, 0, "most waiting together");
    check(c.run.record.balance.first_exceeded, WR_NEVER, 0, "when demand first exceeded supply, s: never");
    check_count(c.run.record.balance.grade, WR_GRADE_CLEAR, "grade");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_falls_at_the_horizon_does_not_happen),
        cmocka_unit_test(an_open_wait_counts_to_the_horizon),
        cmocka_unit_test(a_wait_of_no_length_is_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
