/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Who is washed next: the order of the line, of calls at one instant, and that nobody overtakes. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

static const double exact = 1e-6; /* s */

/* All beds alike: one instant, one load, one time since the last wash. */
static void alike_filters_go_by_number(void **state)
{
    (void)state;
    static const char *const who_first[] = {"/wash/who_first=longest_waiting", "/wash/who_first=dirtiest"};
    for (size_t w = 0; w < 2; w++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN, SETTINGS("/filters/0/count=5", "/wash/bed_settle=50 min", who_first[w]));
        for (size_t f = 0; f < 5; f++) {
            check(plant_case_wash(&c, f, 0)->called_at, 20 * HOUR, exact, "call, s: all at one instant");
            check(plant_case_wash(&c, f, 0)->started_at, (20 + (double)f) * HOUR, exact, "start, s: by number");
        }
        plant_case_fini(&c);
    }
}

/* Five filters at 0.8 m/h, of which two go out: at 4/3 m/h the head of the three left, 0.1 m per m/h clean and 0.2778
 * per kg/m2, is past the trigger at once, which it is from 0.72 kg/m2 on. They have used 50, 60 and 55 % of a run to
 * 1.44 kg/m2. */
#define RATE_STEP                                                                                                      \
    "/filters/0/count=5", "/wash/bed_settle=50 min", "/start_beds/how=given",                                          \
        "/filters/0/start_shares=[\"50 %\", \"60 %\", \"55 %\", \"0 %\", \"0 %\"]",                                    \
        "/wash/triggers={\"differential\":\"0.4 m\",\"persistence\":\"0 s\",\"differential_as\":\"measured\"}",        \
        "/outages=[{\"unit\":\"F4\",\"from\":\"2026-01-05 05:00\",\"until\":\"2026-01-05 05:15\"},"                    \
        "{\"unit\":\"F5\",\"from\":\"2026-01-05 05:00\",\"until\":\"2026-01-05 05:15\"}]"

static void calls_at_one_instant_go_by_time_since_the_wash(void **state)
{
    (void)state;
    static const size_t order[] = {1, 2, 0};
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(RATE_STEP, "/horizon=9 h"));
    for (size_t i = 0; i < 3; i++) {
        const struct wr_wash_record *wash = plant_case_wash(&c, order[i], 0);
        check(wash->called_at, 5 * HOUR, 0, "call, s: the rate step");
        check(wash->started_at, (5 + (double)i) * HOUR, exact, "start, s: longest since its wash first");
    }
    check_count(c.run.record.wash_count, 3, "washes: none of the filters that came back clean");
    plant_case_fini(&c);
}

/* At 05:15 two filters are back; at 1 m/h heads are below the trigger again, which is met there from 1.08 kg/m2 on. */
static void a_call_outlasts_a_fall_of_the_head(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(RATE_STEP, "/horizon=9 h"));
    check_between(plant_case_wash(&c, 2, 0)->differential, 0.1, 0.399, "differential of the second wash, m: below");
    check(plant_case_wash(&c, 2, 0)->waited, 1 * HOUR, exact, "its wait, s: from the call on, over the fall");
    check(plant_case_wash(&c, 0, 0)->waited, 2 * HOUR, exact, "wait of the third, s");
    plant_case_fini(&c);
}

/* One filter that may take 1 m/h and two that may take 6, washed after 30 m3/m2. At 1.5 m/h the second of the two calls
 * after (30 - 15.75)/1.5 = 9.5 h and is washed for 2 h. The slow one calls after (30 - 20.4)/1 = 9.6 h, the other,
 * which then runs at 3 m/h, after 9.5 + (30 - 29.25)/3 = 9.75 h; when the wash ends it has taken more by far. With 67 %
 * of its run used in place of 68 % the slow one calls after 9.9 h, and is still the longer since its wash. */
#define SLOW_AND_FAST(share)                                                                                           \
    "/filters/1={\"name\":\"G\",\"count\":1,\"area\":\"10 m2\",\"approved_rate\":\"1 m/h\",\"available_head\":\"5 "    \
    "m\","                                                                                                             \
    "\"deposit\":{\"observed_run\":{\"clean_differential\":\"0.1 m\",\"dirty_differential\":\"0.4 m\","                \
    "\"rate\":\"1 m/h\",\"hours\":\"108 h\"}},\"start_shares\":[\"" share "\"]}",                                      \
        "/filters/0/start_shares=[\"50 %\", \"52.5 %\"]", "/start_beds/how=given",                                     \
        "/wash/triggers={\"volume\":\"30 m3/m2\"}", "/wash/bed_settle=110 min", "/horizon=15 h"

static void the_line_goes_by_time_of_call(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(SLOW_AND_FAST("68 %")));
    check(plant_case_wash(&c, 1, 0)->started_at, 9.5 * HOUR, exact, "first wash, s");
    check(plant_case_wash(&c, 2, 0)->called_at, 9.6 * HOUR, exact, "call of the slow filter, s");
    check(plant_case_wash(&c, 0, 0)->called_at, 9.75 * HOUR, exact, "call of the fast filter, s");
    check(plant_case_wash(&c, 2, 0)->started_at, 11.5 * HOUR, exact, "slow filter's wash, s: it called first");
    check(plant_case_wash(&c, 0, 0)->started_at, 13.5 * HOUR, exact, "fast filter's wash, s");
    plant_case_fini(&c);
}

static void time_of_call_comes_before_time_since_the_wash(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(SLOW_AND_FAST("67 %")));
    check(plant_case_wash(&c, 2, 0)->called_at, 9.9 * HOUR, exact, "call of the slow filter, s");
    check(plant_case_wash(&c, 0, 0)->called_at, 9.75 * HOUR, exact, "call of the fast filter, s");
    check(plant_case_wash(&c, 0, 0)->started_at, 11.5 * HOUR, exact, "fast filter's wash, s: it called first");
    check(plant_case_wash(&c, 2, 0)->started_at, 13.5 * HOUR, exact, "slow filter's wash, s");
    plant_case_fini(&c);
}

static void or_by_load_where_the_plant_says_so(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(SLOW_AND_FAST("68 %"), "/wash/who_first=dirtiest"));
    check(plant_case_wash(&c, 0, 0)->started_at, 11.5 * HOUR, exact, "fast filter's wash, s: it is the dirtier");
    check(plant_case_wash(&c, 0, 0)->load, (30 + 3 * 1.75) * 10e-3, 1e-9, "its load, kg/m2: 10 g/m3 of its water");
    check(plant_case_wash(&c, 2, 0)->started_at, 13.5 * HOUR, exact, "slow filter's wash, s");
    plant_case_fini(&c);
}

/* A filter of 10 m2 that calls at 10 h waits for 50 m3, of which the tank has 40 and gains 0.5 an hour. One of 2 m2
 * calls at 11 h and would need 10. */
static void nobody_overtakes(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/1={\"name\":\"G\",\"count\":1,\"area\":\"2 m2\",\"approved_rate\":\"6 m/h\","
                            "\"available_head\":\"5 m\",\"deposit\":{\"observed_run\":{\"clean_differential\":"
                            "\"0.6 m\",\"dirty_differential\":\"2.6 m\",\"rate\":\"6 m/h\",\"hours\":\"20 h\"}},"
                            "\"start_shares\":[\"45 %\"]}",
                            "/wells/0/flow=10 m3/h", "/filters/0/count=1", "/filters/0/start_shares=[\"50 %\"]",
                            "/start_beds/how=given",
                            "/wash_water/tank={\"volume\":\"100 m3\",\"start_level\":\"40 %\","
                            "\"refill_rate\":\"0.5 m3/h\"}",
                            "/horizon=2 d"));
    check(plant_case_wash(&c, 0, 0)->called_at, 10 * HOUR, exact, "call of the large filter, s");
    check(plant_case_wash(&c, 0, 0)->started_at, 20 * HOUR, exact, "its wash, s: (50 - 40) m3 at 0.5 m3/h");
    check(plant_case_wash(&c, 1, 0)->called_at, 11 * HOUR, exact, "call of the small filter, s");
    check(plant_case_wash(&c, 1, 0)->started_at, 40 * HOUR, exact, "its wash, s: 10 m3 more at 0.5 m3/h");
    const struct wr_span *span = plant_case_span(&c, WR_LIMIT_WASH_WATER, 1, 0);
    check_true(span != NULL, "the small filter waits for what the first in line waits for");
    check(span->from, 11 * HOUR, exact, "from its call, s");
    check(span->to, 40 * HOUR, exact, "to its wash, s, in one piece");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(alike_filters_go_by_number),
        cmocka_unit_test(calls_at_one_instant_go_by_time_since_the_wash),
        cmocka_unit_test(a_call_outlasts_a_fall_of_the_head),
        cmocka_unit_test(the_line_goes_by_time_of_call),
        cmocka_unit_test(time_of_call_comes_before_time_since_the_wash),
        cmocka_unit_test(or_by_load_where_the_plant_says_so),
        cmocka_unit_test(nobody_overtakes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
