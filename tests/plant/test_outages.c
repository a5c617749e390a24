/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Filters out of service by date. */
#include "sim/plant/bed.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <stdio.h>

static const double exact = 1e-6; /* s */

#define OUT(unit, from, until)                                                                                         \
    "{\"unit\":\"" unit "\",\"from\":\"2026-01-05 " from "\",\"until\":\"2026-01-05 " until "\"}"
#define OUT_FOR_GOOD(unit, from) "{\"unit\":\"" unit "\",\"from\":\"2026-01-05 " from "\"}"
#define SHARES(shares) "/start_beds/how=given", "/filters/0/start_shares=[" shares "]"

static void a_filter_comes_back_with_its_bed_as_it_was(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/outages=[" OUT("F1", "05:00", "09:00") "]", "/horizon=26 h", "/wash/bed_settle=50 min"));
    check(plant_case_time(&c, WR_EVENT_OUT, 0, 0), 5 * HOUR, 0, "it goes, s");
    check(plant_case_time(&c, WR_EVENT_BACK, 0, 0), 9 * HOUR, 0, "it comes back, s");
    check(plant_case_wash(&c, 1, 0)->called_at, 20 * HOUR, exact, "call of the other, s");
    check(plant_case_wash(&c, 0, 0)->called_at, 24 * HOUR, exact, "its call, s: four hours later");
    /* 2 m/h but for 4 h out; 4 m/h in the hour in which the other is washed. */
    check(plant_case_wash(&c, 0, 0)->run_volume, 2 * 19 + 4, 1e-9, "volume of its run, m3/m2");
    check(plant_case_wash(&c, 1, 0)->run_volume, 2 * 16 + 4 * 4, 1e-9, "volume of the other's run, m3/m2");
    plant_case_fini(&c);
}

/* Two outages of one filter that overlap are one. */
static void overlapping_outages_are_one(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS("/outages=[" OUT("F1", "05:00", "10:00") "," OUT("F1", "08:00", "12:00") "]", "/horizon=19 h"));
    check_count(plant_case_count(&c, WR_EVENT_OUT, 0), 1, "times it goes");
    check(plant_case_time(&c, WR_EVENT_BACK, 0, 0), 12 * HOUR, 0, "it comes back, s");
    check(wr_bed_now(&c.run.plant, plant_case_state(&c), 0).hours, (5 + 7) * HOUR, exact, "hours of its run, s");
    plant_case_fini(&c);
}

static void a_filter_out_from_the_start_takes_no_part(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/outages=[" OUT_FOR_GOOD("F2", "00:00") "]", "/filters/0/count=3",
                            "/start_beds/how=spread", "/horizon=21 h"));
    check_count(c.run.record.filters[1].washes, 0, "washes of the filter that is out");
    check(plant_case_time(&c, WR_EVENT_CALLED, 0, 0), 20 * HOUR, exact, "call of the first of two, s: a whole run");
    check(plant_case_time(&c, WR_EVENT_CALLED, 2, 0), 10 * HOUR, exact, "call of the second of two, s: half a run");
    check(plant_case_water(&c, WR_LINE_EFFLUENT) + plant_case_water(&c, WR_LINE_REFILL), 21 * 40, 1e-6,
          "water through the others, m3");
    plant_case_fini(&c);
}

/* One wash in hand at 14 h and one at 28 h; the first filter calls at 10 h, the second at 12 h. */
#define SHORT_OF_WATER                                                                                                 \
    SHARES("\"50 %\", \"40 %\""), "/horizon=30 h",                                                                     \
        "/wash_water/tank={\"volume\":\"50 m3\",\"start_level\":\"0 %\",\"refill_rate\":\"3.571428571428571428 "       \
        "m3/h\"}"

/* A call stays through an outage and keeps its time: who is back in time goes first. */
static void a_call_keeps_its_time_through_an_outage(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(SHORT_OF_WATER, "/outages=[" OUT("F1", "11:00", "13:00") "]"));
    check_count(plant_case_count(&c, WR_EVENT_CALLED, 0), 1, "calls of the first filter");
    check(plant_case_wash(&c, 0, 0)->called_at, 10 * HOUR, exact, "its call, s");
    check(plant_case_wash(&c, 0, 0)->started_at, 14 * HOUR, exact, "its wash, s: before the one that called later");
    check(plant_case_wash(&c, 0, 0)->waited, 2 * HOUR, exact, "its wait, s: while it was in line");
    check(plant_case_wash(&c, 1, 0)->started_at, 28 * HOUR, 1, "wash of the other, s");
    const struct wr_span *before = plant_case_span(&c, WR_LIMIT_WASH_WATER, 0, 0);
    const struct wr_span *after = plant_case_span(&c, WR_LIMIT_WASH_WATER, 0, 1);
    check_true(before != NULL && after != NULL, "two spans");
    check(before->to, 11 * HOUR, exact, "end of the first, s: the outage");
    check(after->from, 13 * HOUR, exact, "begin of the second, s: its return");
    plant_case_fini(&c);
}

static void a_filter_that_is_out_holds_nobody_up(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(SHORT_OF_WATER, "/outages=[" OUT("F1", "11:00", "18:00") "]"));
    check(plant_case_wash(&c, 1, 0)->started_at, 14 * HOUR, exact, "wash of the other, s: it is first in line");
    check(plant_case_wash(&c, 0, 0)->called_at, 10 * HOUR, exact, "call of the first filter, s");
    check(plant_case_wash(&c, 0, 0)->waited, (1 + 10) * HOUR + 10 * MINUTE, 1,
          "its wait, s: 10 to 11 h and 18 to 28 h, and the 10 min in which no filter gave water");
    plant_case_fini(&c);
}

static void a_filter_being_washed_goes_when_its_wash_has_ended(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(SHARES("\"50 %\", \"0 %\""), "/wash/bed_settle=110 min",
                            "/outages=[" OUT("F1", "11:00", "17:00") "]", "/horizon=19 h"));
    check(plant_case_wash(&c, 0, 0)->ended_at, 12 * HOUR, exact, "end of the wash, s: undisturbed");
    check(plant_case_time(&c, WR_EVENT_OUT, 0, 0), 12 * HOUR, exact, "it goes, s");
    check(plant_case_time(&c, WR_EVENT_BACK, 0, 0), 17 * HOUR, 0, "it comes back, s");
    check(wr_bed_now(&c.run.plant, plant_case_state(&c), 0).hours, 2 * HOUR, exact, "hours of its new run, s");
    plant_case_fini(&c);
}

static void an_outage_that_ends_within_the_wash_is_none(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(SHARES("\"50 %\", \"0 %\""), "/wash/bed_settle=110 min",
                            "/outages=[" OUT("F1", "10:30", "11:30") "]", "/horizon=19 h"));
    check_count(plant_case_count(&c, WR_EVENT_OUT, 0), 0, "times it goes");
    check(wr_bed_now(&c.run.plant, plant_case_state(&c), 0).hours, 7 * HOUR, exact, "hours of its new run, s");
    plant_case_fini(&c);
}

/* The outage comes first at its instant: the filter whose call falls there does not call, nor does another early. */
static void an_outage_at_the_instant_of_a_call(void **state)
{
    (void)state;
    static const char *const triggers[] = {
        "/wash/triggers={\"run_hours\":\"20 h\"}",
        "/wash/triggers={\"volume\":\"40 m3/m2\"}",
        ("/wash/triggers={\"differential\":\"1.26666666666666666667 m\",\"differential_as\":\"corrected\","
         "\"persistence\":\"0 s\"}"),
    };
    for (size_t t = 0; t < sizeof triggers / sizeof *triggers; t++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS(triggers[t], "/filters/0/count=3", SHARES("\"50 %\", \"25 %\", \"0 %\""),
                                "/wells/0/flow=60 m3/h", "/demand/maximum_day=1440 m3/d",
                                "/outages=[" OUT("F1", "10:00", "11:00") "]", "/horizon=16 h"));
        check_true(plant_case_time(&c, WR_EVENT_CALLED, 0, 0) >= 11 * HOUR, "the filter that is out does not call");
        check_between(plant_case_time(&c, WR_EVENT_CALLED, 1, 0), 14 * HOUR, 15.1 * HOUR,
                      "call of the next, s: no earlier");
        check_count(plant_case_count(&c, WR_EVENT_CALLED, 2), 0, "calls of the last, whose time is later");
        plant_case_fini(&c);
    }
}

/* The same of available head, which is reached at 10 h by a load of 100 g/m3 and 2 m/h: a fifth of a kg/m2 an hour on
 * what the filter has at the start. Which of these plants reaches it at 10 h to the last bit is chance; some do. */
static void an_outage_at_the_instant_of_available_head(void **state)
{
    (void)state;
    for (int tenths = 1; tenths < 60; tenths++) {
        struct plant_case c;
        char shares[96], head[64];
        const double load = tenths / 60.0 * 1.62; /* of the load at which 1.1 m are met at 2 m/h */
        snprintf(shares, sizeof shares, "/filters/0/start_shares=[\"%.17g %%\", \"0 %%\"]", tenths / 0.6);
        snprintf(head, sizeof head, "/filters/0/available_head=%.17g m", 2 * (0.1 + (load + 2) / 3.6));
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS("/raw_water/suspended_solids=100 mg/L",
                                "/filters/0/deposit/observed_run/suspended_solids=10 mg/L", "/start_beds/how=given",
                                shares, head,
                                "/wash_water/tank={\"volume\":\"50 m3\",\"start_level\":\"0 %\",\"refill_rate\":"
                                "\"0.001 m3/h\"}",
                                "/wash/triggers={\"differential\":\"1.1 m\",\"differential_as\":\"measured\"}",
                                "/outages=[" OUT("F1", "10:00", "10:01") "]", "/horizon=10.01 h"));
        check_count(plant_case_count(&c, WR_EVENT_HEAD_REACHED, 1), 0, "the other reaches available head later");
        plant_case_fini(&c);
    }
}

/* The same of the instant at which room comes free for a filter that goes out then: what a larger wash behind it needs
 * must not be taken for free. */
static void an_outage_at_the_instant_at_which_room_comes(void **state)
{
    (void)state;
    struct plant_case c;
    /* 16 m3 free at the start, and 2^-10 m3/s out: 54.671875 m3 at 11 h, one wash, to the last bit. */
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/1={\"name\":\"G\",\"count\":1,\"area\":\"20 m2\",\"approved_rate\":\"6 m/h\","
                            "\"available_head\":\"5 m\",\"deposit\":{\"observed_run\":{\"clean_differential\":"
                            "\"0.6 m\",\"dirty_differential\":\"2.6 m\",\"rate\":\"6 m/h\",\"hours\":\"20 h\"}},"
                            "\"start_shares\":[\"49 %\"]}",
                            "/filters/0/count=1", SHARES("\"50 %\""), "/wash/backwash_rate=0.0078125 m/s",
                            "/wash/backwash_time=699.8 s",
                            "/spent_wash={\"tanks\":[{\"volume\":\"128 m3\",\"start_level\":\"87.5 %\"}],"
                            "\"settling\":{\"law\":\"none\"},\"outlets\":[{\"kind\":\"sewer\","
                            "\"rate\":\"0.0009765625 m3/s\"}]}",
                            "/outages=[" OUT("F1", "11:00", "12:00") "]", "/wash/max_simultaneous=3", "/horizon=13 h"));
    check_count(plant_case_count(&c, WR_EVENT_OUT, 0), 1, "the filter goes out");
    check(plant_case_at(&c, 11.5 * HOUR)->flows.wash, 0, 0, "wash at 11:30, m3/s: none has room");
    for (size_t i = 0; i < c.told.sample_count; i++)
        check_between(c.told.samples[i].tanks[0].level + c.told.samples[i].tanks[0].free, 0, 128 + 1e-6,
                      "level and free room, m3: within the tank");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_filter_comes_back_with_its_bed_as_it_was),
        cmocka_unit_test(overlapping_outages_are_one),
        cmocka_unit_test(a_filter_out_from_the_start_takes_no_part),
        cmocka_unit_test(a_call_keeps_its_time_through_an_outage),
        cmocka_unit_test(a_filter_that_is_out_holds_nobody_up),
        cmocka_unit_test(a_filter_being_washed_goes_when_its_wash_has_ended),
        cmocka_unit_test(an_outage_that_ends_within_the_wash_is_none),
        cmocka_unit_test(an_outage_at_the_instant_of_a_call),
        cmocka_unit_test(an_outage_at_the_instant_of_available_head),
        cmocka_unit_test(an_outage_at_the_instant_at_which_room_comes),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
