/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which wells run: what fits, in their order; and what rinses ask for. Filters of 10 m2 take 60 m3/h each. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

static const double exact = 1e-6;         /* s, m3 */
static const double an_hour = 1.0 / 3600; /* m3/h in m3/s */

#define WELL(name, flow) "{\"name\":\"" name "\",\"flow\":\"" flow "\",\"on_below\":\"98 %\",\"off_above\":\"99 %\"}"
#define THREE_WELLS(a, b, c) "/wells=[" WELL("A", a) "," WELL("B", b) "," WELL("C", c) "]"
#define F1_OUT "/outages=[{\"unit\":\"F1\",\"from\":\"2026-01-05 10:00\"}]"

/* Raw water before and after one filter of two goes out, m3/h, of three wells. */
static void raw_flow_by_wells_that_fit(void **state)
{
    (void)state;
    static const struct {
        const char *wells;
        double before, after;
        enum wr_limit holds;
        const char *why;
    } cases[] = {
        {THREE_WELLS("25 m3/h", "25 m3/h", "25 m3/h"), 75, 50, WR_LIMIT_WELL_DOES_NOT_FIT, "the third is dropped"},
        {THREE_WELLS("40 m3/h", "30 m3/h", "15 m3/h"), 85, 55, WR_LIMIT_WELL_DOES_NOT_FIT, "a smaller one still fits"},
        {THREE_WELLS("70 m3/h", "20 m3/h", "20 m3/h"), 110, 40, WR_LIMIT_WELL_DOES_NOT_FIT, "the first is dropped"},
        {THREE_WELLS("20 m3/h", "17 m3/h", "23 m3/h"), 60, 60, WR_LIMIT_ALL_WELLS_RUNNING, "just at the approved rate"},
        {THREE_WELLS("20 m3/h", "20 m3/h", "20.001 m3/h"), 60.001, 40, WR_LIMIT_WELL_DOES_NOT_FIT, "just above it"},
        {THREE_WELLS("60 m3/h", "40 m3/h", "30 m3/h"), 100, 60, WR_LIMIT_WELL_DOES_NOT_FIT, "too much before too"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN, SETTINGS(cases[i].wells, F1_OUT, "/horizon=12 h"));
        check(plant_case_at(&c, 9 * HOUR)->flows.raw, cases[i].before * an_hour, 1e-15, cases[i].why);
        check(plant_case_at(&c, 11 * HOUR)->flows.raw, cases[i].after * an_hour, 1e-15, cases[i].why);
        check_true((plant_case_at(&c, 11 * HOUR)->flows.held & wr_limit_bit(cases[i].holds)) != 0,
                   "what holds raw water then");
        check(plant_case_water(&c, WR_LINE_RAW), 10 * cases[i].before + 2 * cases[i].after, exact, "raw water, m3");
        plant_case_fini(&c);
    }
}

static void raw_flow_within_the_approved_capacity(void **state)
{
    (void)state;
    static const struct {
        const char *capacity;
        double raw;
    } cases[] = {{"/approved_capacity=50 m3/h", 50},
                 {"/approved_capacity=49.99 m3/h", 25},
                 {"/approved_capacity=1800 m3/d", 75},
                 {"/approved_capacity=24 m3/h", 0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS(THREE_WELLS("25 m3/h", "25 m3/h", "25 m3/h"), cases[i].capacity, "/horizon=10 h"));
        check(plant_case_water(&c, WR_LINE_RAW), 10 * cases[i].raw, exact, "raw water in 10 h, m3");
        check(plant_case_held(&c, WR_LIMIT_APPROVED_CAPACITY), cases[i].raw < 75 ? 10 * HOUR : 0, exact,
              "time in which the approved capacity held raw water, s");
        plant_case_fini(&c);
    }
}

static void no_filter_no_raw_water(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS("/filters/0/count=1", F1_OUT, "/storage/volume=1000 m3", "/horizon=14 h"));
    check(plant_case_at(&c, 11 * HOUR)->flows.raw, 0, 0, "raw water with the only filter out, m3/s");
    check(plant_case_held(&c, WR_LIMIT_NO_FILTER_IN_SERVICE), 4 * HOUR, exact, "time without a filter, s");
    check(plant_case_state(&c)->storage.level, 500 - 4 * 40, exact, "storage, m3: demand alone draws on it");
    check_true(!plant_case_state(&c)->locked, "that is no lock: nobody waits for a wash");
    plant_case_fini(&c);
}

/* A well that is dropped while one filter is washed comes back with it. */
static void a_dropped_well_comes_back(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(THREE_WELLS("25 m3/h", "25 m3/h", "25 m3/h"), "/start_beds/how=given",
                            "/filters/0/start_shares=[\"50 %\", \"0 %\"]", "/wash/bed_settle=50 min", "/horizon=12 h"));
    const struct wr_span *span = plant_case_span(&c, WR_LIMIT_WELL_DOES_NOT_FIT, WR_NOWHERE, 0);
    check_true(span != NULL, "the well does not fit while a filter is washed");
    check(span->from, 10 * HOUR, exact, "from the start of the wash, s");
    check(span->to, 11 * HOUR, exact, "to its end, s");
    check(plant_case_water(&c, WR_LINE_RAW), 11 * 75 + 50, exact, "raw water, m3");
    check(plant_case_held(&c, WR_LIMIT_ALL_WELLS_RUNNING), 11 * HOUR, exact, "time in which every well runs, s");
    plant_case_fini(&c);
}

/* A rinse of 60 m3/h for 10 min: all of raw water up to that rate, and longer where there is less. */
static void a_rinse_is_lengthened_to_its_volume(void **state)
{
    (void)state;
    static const struct {
        const char *flow;
        double minutes, service;
    } cases[] = {{"/wells/0/flow=40 m3/h", 15, 0},
                 {"/wells/0/flow=59.4 m3/h", 10 / 0.99, 0},
                 {"/wells/0/flow=60 m3/h", 10, 0},
                 {"/wells/0/flow=100 m3/h", 10, 40}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS(cases[i].flow, "/start_beds/how=given", "/filters/0/start_shares=[\"50 %\", \"0 %\"]",
                                "/wash/rinse_time=10 min", "/wash/rinse_rate=6 m/h", "/horizon=12 h"));
        const double begins = 10 * HOUR + 10 * MINUTE;
        check(plant_case_wash(&c, 0, 0)->ended_at, begins + cases[i].minutes * MINUTE, exact, "end of the rinse, s");
        check(plant_case_at(&c, begins + 1)->flows.service, cases[i].service * an_hour, 1e-15, "service then, m3/s");
        check(plant_case_water(&c, WR_LINE_RINSE), 10, exact, "rinse water, m3: its whole volume");
        const struct wr_finding *finding = plant_case_finding(&c, WR_FINDING_RINSE_SHORT);
        check_true((finding != NULL) == (cases[i].minutes > 10), "a short rinse is a finding, a whole one is not");
        if (finding != NULL) {
            check_count(wr_finding_row(finding->kind)->class, WR_CLASS_NOTE, "its class");
            check(finding->length, cases[i].minutes * MINUTE, exact, "its length, s");
            check(finding->worst, 10 / cases[i].minutes / 60, 1e-12, "least flow, m3/s");
        }
        check_true(c.run.passes, "a short rinse fails no run");
        check_count(c.run.record.balance.grade, WR_GRADE_CLEAR, "grade: a rinse lengthened is no overrun");
        plant_case_fini(&c);
    }
}

/* Storage is full before the rinse begins, so no well is called: the rinse calls them itself, in order, until it has
 * its rate. */
static void wells_run_for_a_rinse(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(THREE_WELLS("25 m3/h", "25 m3/h", "25 m3/h"), "/start_beds/how=given",
                            "/filters/0/start_shares=[\"50 %\", \"0 %\"]", "/wash/rinse_time=10 min",
                            "/wash/rinse_rate=4 m/h", "/wash/bed_settle=50 min",
                            "/demand={\"maximum_day\":\"480 "
                            "m3/d\",\"hourly_factors\":[0,0,0,0,0,0,0,0,0,0,0,0,1,1,1,1,1,1,1,1,1,1,1,1]}",
                            "/storage={\"volume\":\"2000 m3\",\"start_level\":\"60 %\"}",
                            "/wash_water/tank/refill_on_below=10 %", "/horizon=12 h"));
    /* 1200 m3 and 75 m3/h to 10 h, then 50: 1980 m3 at 10 h + 30/50 h. */
    check(plant_case_at(&c, 10.6 * HOUR + 1)->flows.raw, 0, 0, "raw water once storage is at the off level, m3/s");
    const struct plant_sample *rinse = plant_case_at(&c, 11 * HOUR + MINUTE);
    check(rinse->flows.raw, 50 * an_hour, 1e-15, "raw water for the rinse, m3/s: two wells for 40 m3/h");
    check(rinse->flows.rinse, 40 * an_hour, 1e-15, "rinse, m3/s: its rate");
    check(rinse->flows.service, 10 * an_hour, 1e-15, "the rest to the other filter, m3/s");
    check(plant_case_wash(&c, 0, 0)->ended_at, 11 * HOUR + 10 * MINUTE, exact, "end of the rinse, s");
    check(plant_case_at(&c, 11.5 * HOUR)->flows.raw, 0, 0, "raw water afterwards, m3/s");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(raw_flow_by_wells_that_fit),
        cmocka_unit_test(raw_flow_within_the_approved_capacity),
        cmocka_unit_test(no_filter_no_raw_water),
        cmocka_unit_test(a_dropped_well_comes_back),
        cmocka_unit_test(a_rinse_is_lengthened_to_its_volume),
        cmocka_unit_test(wells_run_for_a_rinse),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
