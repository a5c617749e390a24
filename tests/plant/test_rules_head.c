/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a plant does with a filter at its available head, other than let its flow fall off.
 *
 * Head is 0.1 m per m/h clean and rises by 2 m at 6 m/h over the 0.12 kg/m2 of 2 h: at 2 m/h 0.2 m and 1/9 m an hour.
 * With an available head of 1.2 m a clean filter is at it after 9 h. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <stdio.h>

static const double exact = 1e-3;         /* s: the clean head is read to the last bits only */
static const double an_hour = 1.0 / 3600; /* m3/h in m3/s */

#define HEAD "/filters/0/available_head=1.2 m", "/filters/0/deposit/observed_run/hours=2 h"
#define START "/start_beds/how=given", "/filters/0/start_shares=[\"0 %\", \"0 %\", \"0 %\"]"
#define THREE "/filters/0/count=3", "/wells/0/flow=60 m3/h", "/demand/maximum_day=1440 m3/d"
#define WINDOW "/wash/window=[{\"from\":\"20:00\",\"until\":\"24:00\"}]"

/* It stands off line from then on, calls if it had not, and is washed as wash hours begin. */
static void a_filter_leaves_service(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(HEAD, "/filters/0/at_available_head=leaves_service", WINDOW, "/filters/0/count=3",
                            "/start_beds/how=given", "/filters/0/start_shares=[\"10 %\", \"0 %\", \"0 %\"]",
                            "/wells/0/flow=60 m3/h", "/demand/maximum_day=1440 m3/d", "/horizon=8 h"));
    /* F1 has 2 h of run at the start: it is there at 7 h, and its flow goes to the others. */
    check(plant_case_time(&c, WR_EVENT_HEAD_REACHED, 0, 0), 7 * HOUR, exact, "it reaches available head, s");
    check(plant_case_time(&c, WR_EVENT_CALLED, 0, 0), 7 * HOUR, exact, "and calls, s");
    check_count(plant_case_filter(&c, 0)->mode, WR_MODE_HELD, "it stands off line");
    check_count(plant_case_filter(&c, 0)->called, true, "in line for a wash");
    plant_case_fini(&c);
}

/* An outage does not bring a filter back into service that had left it: it is washed as wash hours begin. */
static void a_filter_off_line_comes_back_off_line(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(HEAD, "/filters/0/at_available_head=leaves_service", WINDOW, "/filters/0/count=3",
                            "/start_beds/how=given", "/filters/0/start_shares=[\"10 %\", \"0 %\", \"0 %\"]",
                            "/wells/0/flow=60 m3/h", "/demand/maximum_day=1440 m3/d",
                            "/outages=[{\"unit\":\"F1\",\"from\":\"2026-01-05 07:10\",\"until\":\"2026-01-05 07:20\"}]",
                            "/horizon=21 h"));
    check(plant_case_time(&c, WR_EVENT_BACK, 0, 0), 7 * HOUR + 20 * MINUTE, exact, "it is back, s");
    check_count(plant_case_count(&c, WR_EVENT_HEAD_REACHED, 0), 1, "times it reaches available head");
    check(plant_case_wash(&c, 0, 0)->load, 0.01 * 2 * 9, 1e-6, "load at its wash, kg/m2: as it left service");
    plant_case_fini(&c);
}

/* The others, at 3 m/h, are at it at once, and the plant stands still until wash hours begin: then one after another.
 */
static void the_last_filters_lock_the_plant_until_wash_hours(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS(HEAD, "/filters/0/at_available_head=leaves_service", WINDOW, THREE, START, "/horizon=22 h"));
    for (size_t f = 0; f < 3; f++) {
        check(plant_case_time(&c, WR_EVENT_HEAD_REACHED, f, 0), 9 * HOUR, exact, "available head, s: all at once");
        check_count(plant_case_count(&c, WR_EVENT_HEAD_REACHED, f), 1, "times");
        check(plant_case_wash(&c, f, 0)->started_at, 20 * HOUR + (double)f * 10 * MINUTE, exact, "its wash, s");
        check(plant_case_wash(&c, f, 0)->load, 0.01 * 2 * 9, 1e-6, "load, kg/m2: 9 h at 2 m/h");
    }
    check(plant_case_at(&c, 15 * HOUR)->flows.raw, 0, 0, "raw water meanwhile, m3/s: none fits");
    check(plant_case_at(&c, 21 * HOUR)->flows.service, 60 * an_hour, 1e-15, "service after the washes, m3/s");
    check_true(plant_case_finding(&c, WR_FINDING_HEAD_REACHED) != NULL, "it is a finding");
    check_count(c.run.record.balance.grade, WR_GRADE_OVERRUN, "grade: a filter reached available head");
    plant_case_fini(&c);
}

/* Without wash hours it is washed at once. */
static void a_filter_that_leaves_service_is_washed(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(HEAD, "/filters/0/at_available_head=leaves_service", START, THREE, "/horizon=9.6 h"));
    for (size_t f = 0; f < 3; f++)
        check(plant_case_wash(&c, f, 0)->started_at, 9 * HOUR + (double)f * 10 * MINUTE, exact, "its wash, s: in turn");
    plant_case_fini(&c);
}

/* With an alarm only the filter keeps its rate and its head goes on rising, until run hours call at 20 h. */
static void an_alarm_changes_no_flow(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(HEAD, "/filters/0/at_available_head=alarm_only", START, THREE, "/horizon=20.9 h"));
    for (size_t f = 0; f < 3; f++) {
        check_count(plant_case_count(&c, WR_EVENT_HEAD_REACHED, f), 1, "times it was told");
        check(plant_case_time(&c, WR_EVENT_HEAD_REACHED, f, 0), 9 * HOUR, exact, "at, s");
        check(plant_case_wash(&c, f, 0)->called_at, 20 * HOUR, exact, "call, s: run hours");
        const struct wr_span *span = plant_case_span(&c, WR_LIMIT_AVAILABLE_HEAD, f, 0);
        check_true(span != NULL, "a span of each filter");
        check(span->from, 9 * HOUR, exact, "from, s");
        check(span->to, 20 * HOUR + (double)f * 10 * MINUTE, exact, "to, s: its wash");
    }
    check(plant_case_at(&c, 15 * HOUR)->flows.service, 60 * an_hour, 1e-15, "service meanwhile, m3/s");
    check(plant_case_wash(&c, 0, 0)->differential, 0.2 + 20 / 9.0, 1e-6,
          "differential at the wash, m: past what is there");
    check(plant_case_wash(&c, 0, 0)->load, 0.01 * 2 * 20, 1e-9, "load, kg/m2: 20 h at 2 m/h");
    plant_case_fini(&c);
}

/* Three alike in one group, or in a group each, give one answer. */
static void a_group_of_three_is_three_groups_of_one(void **state)
{
    (void)state;
    static const char *const rules[] = {"leaves_service", "alarm_only", "flow_falls"};
    for (int r = 0; r < 3; r++) {
        char rule[3][64];
        struct plant_case one, three;
        for (int g = 0; g < 3; g++)
            snprintf(rule[g], sizeof rule[g], "/filters/%d/at_available_head=%s", g, rules[r]);
#define GROUP(n)                                                                                                       \
    "/filters/" n "={\"name\":\"F\",\"count\":1,\"area\":\"10 m2\",\"approved_rate\":\"6 m/h\",\"available_head\":"    \
    "\"1.2 m\",\"start_shares\":[\"0 %\"],\"deposit\":{\"observed_run\":{\"clean_differential\":\"0.6 m\","            \
    "\"dirty_differential\":\"2.6 m\",\"rate\":\"6 m/h\",\"hours\":\"2 h\"}}}"
        plant_case_run(&one, PLANT_PLAIN,
                       SETTINGS(HEAD, rule[0], START, THREE, WINDOW, "/wells/0/drive=variable",
                                "/over_approved_rate=throttle", "/horizon=30 h"));
        plant_case_run(&three, PLANT_PLAIN,
                       SETTINGS(GROUP("0"), GROUP("1"), GROUP("2"), rule[0], rule[1], rule[2],
                                "/wells/0/drive=variable", "/over_approved_rate=throttle", "/start_beds/how=given",
                                "/wells/0/flow=60 m3/h", "/demand/maximum_day=1440 m3/d", WINDOW, "/horizon=30 h"));
        for (size_t f = 0; f < 3; f++) {
            check(plant_case_wash(&three, f, 0)->started_at, plant_case_wash(&one, f, 0)->started_at, exact,
                  "start of a wash, s: the same");
            check(plant_case_wash(&three, f, 0)->load, plant_case_wash(&one, f, 0)->load, 1e-9,
                  "load, kg/m2: the same");
        }
        check(plant_case_water(&three, WR_LINE_RAW), plant_case_water(&one, WR_LINE_RAW), 1e-3, "raw water, m3");
        plant_case_fini(&one);
        plant_case_fini(&three);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_filter_leaves_service),
        cmocka_unit_test(a_filter_off_line_comes_back_off_line),
        cmocka_unit_test(the_last_filters_lock_the_plant_until_wash_hours),
        cmocka_unit_test(a_filter_that_leaves_service_is_washed),
        cmocka_unit_test(an_alarm_changes_no_flow),
        cmocka_unit_test(a_group_of_three_is_three_groups_of_one),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
