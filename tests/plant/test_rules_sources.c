/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wash water from storage, from the filters still running, from raw wells and from system pressure: when a wash may
 * start, and what its draw does to the flows. A wash draws 30 m3/h for 10 min; filters of 10 m2 take 60 m3/h each. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <stdio.h>

static const double exact = 1e-6;         /* s */
static const double close = 1e-9;         /* m3 */
static const double an_hour = 1.0 / 3600; /* m3/h in m3/s */

#define SMALL_WASH "/wash/backwash_rate=3 m/h"
#define START "/start_beds/how=given", "/filters/0/start_shares=[\"50 %\", \"0 %\"]"
#define LEVELS "\"on_below\":\"98 %\",\"off_above\":\"99 %\""
#define OUT(unit, from, until)                                                                                         \
    "{\"unit\":\"" unit "\",\"from\":\"2026-01-05 " from "\",\"until\":\"2026-01-05 " until "\"}"

/* Storage starts at 45 m3, falls at 1 m3/h to 12 h and rises at 1 m3/h from then on. A wash of 5 m3 above a reserve of
 * 30 needs 35 m3: they are there at 10 h, and again at 14 h. */
#define SLOW_STORAGE                                                                                                   \
    "/storage={\"volume\":\"100 m3\",\"start_level\":\"45 %\",\"reserve\":\"30 %\"}",                                  \
        "/demand={\"maximum_day\":\"960 m3/d\",\"hourly_factors\":[41,41,41,41,41,41,41,41,41,41,41,41,39,39,39,39,"   \
        "39,39,39,39,39,39,39,39]}"

static void a_wash_waits_for_water_above_the_reserve(void **state)
{
    (void)state;
    static const struct {
        const char *rota;
        double call, start;
    } cases[] = {{"/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 10:00\"}]", 10, 10},
                 {"/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 11:00\"}]", 11, 14},
                 {"/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 13:30\"}]", 13.5, 14},
                 {"/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 14:00\"}]", 14, 14}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS(SMALL_WASH, SLOW_STORAGE, cases[i].rota, "/wash/triggers/run_hours=300 h",
                                "/wash_water={\"source\":\"storage\"}", "/horizon=15 h"));
        check(plant_case_wash(&c, 0, 0)->called_at, cases[i].call * HOUR, exact, "call, s");
        check(plant_case_wash(&c, 0, 0)->started_at, cases[i].start * HOUR, exact, "start, s: 35 m3 are there");
        check(plant_case_held(&c, WR_LIMIT_WASH_WATER), (cases[i].start - cases[i].call) * HOUR, exact, "its wait, s");
        check_true((plant_case_finding(&c, WR_FINDING_RESERVE_USED) != NULL) == (i == 0),
                   "only the demand after the first wash uses the reserve");
        plant_case_fini(&c);
    }
}

/* Two washes at once are promised different water: the second waits though storage still holds enough for it. */
static void storage_promises_no_water_twice(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wash_water={\"source\":\"storage\"}", "/wash/max_simultaneous=2", "/filters/0/count=3",
                            "/storage={\"volume\":\"1000 m3\",\"start_level\":\"40 %\",\"reserve\":\"31 %\"}",
                            "/wells/0/flow=50 m3/h", "/horizon=22 h"));
    /* 400 m3 and 10 m3/h: 600 m3 at 20 h less 310 leaves room for more than two; so both start. */
    check(plant_case_wash(&c, 1, 0)->started_at, 20 * HOUR, exact, "second wash, s: water for both");
    plant_case_fini(&c);
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wash_water={\"source\":\"storage\"}", "/wash/max_simultaneous=2", "/filters/0/count=3",
                            "/storage={\"volume\":\"1000 m3\",\"start_level\":\"40 %\",\"reserve\":\"51 %\"}",
                            "/wells/0/flow=50 m3/h", "/horizon=26 h"));
    /* 600 - 510 = 90 m3 in hand at 20 h, 40 once F1 is promised 50: 10 more come in 1 h. */
    check(plant_case_wash(&c, 0, 0)->started_at, 20 * HOUR, exact, "first wash, s");
    check(plant_case_wash(&c, 1, 0)->started_at, 21 * HOUR, exact, "second wash, s: 10 m3 at 10 m3/h");
    plant_case_fini(&c);
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wash_water={\"source\":\"storage\"}", "/wash/max_simultaneous=2", "/filters/0/count=3",
                            "/storage={\"volume\":\"1000 m3\",\"start_level\":\"40 %\",\"reserve\":\"50.1 %\"}",
                            "/wells/0/flow=50 m3/h", "/horizon=26 h"));
    /* 99 m3 in hand: 1 m3 more comes in 6 min, while the first draws what it is promised no longer. */
    check(plant_case_wash(&c, 1, 0)->started_at, 20 * HOUR + 6 * MINUTE, exact, "second wash, s: during the first");
    plant_case_fini(&c);
}

/* The other filter makes what the wash draws: 40 m3/h less 30 are left, and a well that is not called starts for it. */
static void running_filters_make_the_wash_water(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(SMALL_WASH, START, "/wash_water={\"source\":\"filters\"}", "/horizon=12 h"));
    const struct wr_flows *flows = &plant_case_at(&c, 10 * HOUR + MINUTE)->flows;
    check(flows->service, 40 * an_hour, 1e-15, "service, m3/s: all raw water through the other");
    check(flows->wash, 30 * an_hour, 1e-15, "wash, m3/s");
    check(flows->to_storage, 10 * an_hour, 1e-15, "to storage, m3/s: the rest");
    plant_case_fini(&c);
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(SMALL_WASH, "/wash_water={\"source\":\"filters\"}", "/wells/0/on_below=10 %",
                            "/wells/0/off_above=20 %", "/wash/triggers/run_hours=300 h",
                            "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 10:00\"}]", "/horizon=12 h"));
    check(plant_case_at(&c, 9 * HOUR)->flows.raw, 0, 0, "raw water before, m3/s: the plant stands still");
    check(plant_case_at(&c, 10 * HOUR + MINUTE)->flows.raw, 40 * an_hour, 1e-15, "raw water for the wash, m3/s");
    check(plant_case_water(&c, WR_LINE_BACKWASH), 5, close, "backwash, m3: the whole of it");
    check(plant_case_at(&c, 11 * HOUR)->flows.raw, 0, 0, "raw water after it, m3/s");
    plant_case_fini(&c);
}

/* A well that is too large for the filter left, and can be throttled to what that takes: the wash need not wait. */
static void a_throttled_well_makes_the_wash_water(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(SMALL_WASH, START, "/wash_water={\"source\":\"filters\"}",
                            "/wells=[{\"name\":\"A\",\"flow\":\"100 m3/h\",\"drive\":\"variable\",\"least_flow\":"
                            "\"20 m3/h\"," LEVELS "}]",
                            "/over_approved_rate=throttle", "/horizon=12 h"));
    check(plant_case_wash(&c, 0, 0)->started_at, 10 * HOUR, exact, "start, s: at its call");
    check(plant_case_at(&c, 10 * HOUR + MINUTE)->flows.raw, 60 * an_hour, 1e-15, "raw water for the wash, m3/s");
    check(plant_case_water(&c, WR_LINE_BACKWASH), 5, close, "backwash, m3: the whole of it");
    plant_case_fini(&c);
}

/* Two of three wells are out until 15 h; those left give less than a wash draws. */
static void a_wash_waits_for_wells_that_are_out(void **state)
{
    (void)state;
    static const char *const sources[] = {"/wash_water={\"source\":\"filters\"}", "/wash_water={\"source\":\"wells\"}"};
    for (int s = 0; s < 2; s++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS(SMALL_WASH, START, sources[s],
                                "/wells=[{\"name\":\"A\",\"flow\":\"20 m3/h\"," LEVELS
                                "},{\"name\":\"B\",\"flow\":\"20 m3/h\"," LEVELS "}]",
                                "/outages=[" OUT("B", "05:00", "15:00") "]", "/horizon=16 h"));
        check(plant_case_wash(&c, 0, 0)->called_at, 10 * HOUR, exact, "call, s");
        check(plant_case_wash(&c, 0, 0)->started_at, 15 * HOUR, exact, "start, s: the well is back");
        check(plant_case_held(&c, WR_LIMIT_WASH_WATER), 5 * HOUR, exact, "its wait, s");
        check(plant_case_water(&c, WR_LINE_BACKWASH), 5, close, "backwash, m3: the whole of it");
        plant_case_fini(&c);
    }
}

/* The dirtiest goes first: F1, 20 m2, lacks water for its 60 m3/h and stands at available head, 1.2 m, from 6.6 h on
 * with 0.288 kg/m2: 0.2 at the start and 1/75 an hour. F2, 10 m2, which 40 m3/h would wash, has 14/75 at the start and
 * gathers three times as fast from then on: it is the dirtier at 6.6 h + (0.288 - 20.6/75)/0.04. */
static void a_filter_that_becomes_the_dirtiest_need_not_wait(void **state)
{
    (void)state;
#define GROUP(area, hours, share)                                                                                      \
    "{\"name\":\"F\",\"count\":1,\"area\":\"" area "\",\"approved_rate\":\"6 m/h\",\"available_head\":\"1.2 m\","      \
    "\"at_available_head\":\"leaves_service\",\"start_shares\":[\"" share "\"],\"deposit\":{\"observed_run\":{"        \
    "\"clean_differential\":\"0.6 m\",\"dirty_differential\":\"2.6 m\",\"rate\":\"6 m/h\",\"hours\":\"" hours "\"}}}"
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(SMALL_WASH,
                            "/filters=[" GROUP("20 m2", "2 h", "75 %") "," GROUP("10 m2", "20 h", "70 %") "]",
                            "/start_beds/how=given", "/wash/who_first=dirtiest", "/wash_water={\"source\":\"wells\"}",
                            "/wells=[{\"name\":\"A\",\"flow\":\"40 m3/h\"," LEVELS
                            "},{\"name\":\"B\",\"flow\":\"20 m3/h\"," LEVELS "}]",
                            "/outages=[" OUT("B", "00:00", "23:00") "]", "/horizon=20 h"));
    check(plant_case_time(&c, WR_EVENT_HEAD_REACHED, 0, 0), 6.6 * HOUR, 1e-3, "F1 stands by, s");
    check(plant_case_wash(&c, 1, 0)->called_at, 6 * HOUR, exact, "call of F2, s: run hours");
    check(plant_case_wash(&c, 1, 0)->started_at, (6.6 + (0.288 - 20.6 / 75) / 0.04) * HOUR, 1e-3, "its wash, s");
    check_count(plant_case_count(&c, WR_EVENT_WASH_STARTED, 0), 0, "washes of F1: the water lacks");
    plant_case_fini(&c);
}

/* A filter that must be left to make the water: with F2 out nothing is left while F1 is washed. */
static void a_wash_waits_for_filters_to_make_its_water(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(SMALL_WASH, START, "/wash_water={\"source\":\"filters\"}",
                            "/outages=[" OUT("F2", "05:00", "15:00") "]", "/horizon=16 h"));
    check(plant_case_wash(&c, 0, 0)->started_at, 15 * HOUR, exact, "start, s: F2 is back");
    plant_case_fini(&c);
}

/* Raw wells: the wash takes its water from the header, service what is left; the bed's load and the raw water's iron
 * are in what leaves. */
static void raw_wells_wash(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(SMALL_WASH, START, "/wash_water={\"source\":\"wells\"}", "/horizon=12 h"));
    const struct wr_flows *flows = &plant_case_at(&c, 10 * HOUR + MINUTE)->flows;
    check(flows->raw, 40 * an_hour, 1e-15, "raw water, m3/s");
    check(flows->service, 10 * an_hour, 1e-15, "service, m3/s: the rest");
    check(flows->to_storage, 10 * an_hour, 1e-15, "to storage, m3/s");
    const struct wr_entry *backwash = wr_ledger_line(&c.run.plant, plant_case_state(&c), WR_LINE_BACKWASH, 0);
    check(backwash->water, 5, close, "backwash, m3");
    check(backwash->mass[WR_IRON], 5 * 0.002, 1e-12, "iron of the raw water in it, kg: 5 m3 of 2 mg/L");
    plant_case_fini(&c);
}

/* System pressure draws from storage; a second wash at once would pass the draw limit, unless that is twice as high. */
static void system_pressure_has_a_draw_limit(void **state)
{
    (void)state;
    static const char *const limits[] = {"/wash_water={\"source\":\"system\",\"draw_limit\":\"59 m3/h\"}",
                                         "/wash_water={\"source\":\"system\",\"draw_limit\":\"60 m3/h\"}"};
    for (int n = 0; n < 2; n++) {
        struct plant_case c;
        plant_case_run(
            &c, PLANT_PLAIN,
            SETTINGS(SMALL_WASH, limits[n], "/wash/max_simultaneous=2", "/filters/0/count=3", "/horizon=20.25 h"));
        check(plant_case_wash(&c, 1, 0)->started_at, 20 * HOUR + (n == 0 ? 10 * MINUTE : 0), exact, "second wash, s");
        check_true(plant_case_held(&c, WR_LIMIT_WASH_WATER) > 0, "a third wash waits for water in either");
        check(plant_case_at(&c, 20 * HOUR + MINUTE)->flows.to_storage, (40 - (n == 0 ? 30 : 60)) * an_hour, 1e-15,
              "to storage, m3/s: what washes draw is gone");
        plant_case_fini(&c);
    }
}

/* A pump of 59 m3/h is too small for two washes of 30 m3/h, whatever its tank or storage holds: the second waits for
 * it, and nothing is refilled for that. One of 60 m3/h gives both. */
static void a_pump_gives_all_washes_no_more_than_its_flow(void **state)
{
    (void)state;
    static const char *const sources[] = {
        "{\"source\":\"storage\",\"max_flow\":\"%d m3/h\"}",
        "{\"source\":\"system\",\"draw_limit\":\"100 m3/h\",\"max_flow\":\"%d m3/h\"}",
        ("{\"max_flow\":\"%d m3/h\",\"tank\":{\"volume\":\"100 m3\",\"refill_rate\":\"1 m3/h\",\"refill_on_below\":"
         "\"20 %%\"}}")};
    for (int n = 0; n < 6; n++) {
        struct plant_case c;
        char source[160];
        const int flow = n < 3 ? 59 : 60;
        const size_t offset = (size_t)snprintf(source, sizeof source, "/wash_water=");
        snprintf(source + offset, sizeof source - offset, sources[n % 3], flow);
        plant_case_run(&c, PLANT_PLAIN, SETTINGS(SMALL_WASH, source, "/wash/max_simultaneous=2", "/horizon=20.25 h"));
        const double waits = flow < 60 ? 10 * MINUTE : 0;
        check(plant_case_wash(&c, 1, 0)->started_at, 20 * HOUR + waits, exact, "second wash, s: after the first");
        check(plant_case_held(&c, WR_LIMIT_WASH_WATER), waits, exact, "its wait for wash water, s");
        check(plant_case_at(&c, 20 * HOUR + MINUTE)->flows.refill, 0, 0, "refill, m3/s: the tank holds enough");
        plant_case_fini(&c);
    }
}

/* Storage that runs empty gives a wash what the filters make beside it: the wash is short, and says so. */
static void a_wash_from_empty_storage_is_short(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(SMALL_WASH, START, "/wash_water={\"source\":\"system\",\"draw_limit\":\"30 m3/h\"}",
                            "/storage={\"volume\":\"100 m3\",\"start_level\":\"0 %\"}", "/wells/0/flow=20 m3/h",
                            "/demand/maximum_day=2400 m3/d", "/horizon=12 h"));
    check(plant_case_water(&c, WR_LINE_BACKWASH), 20 / 6.0, close, "backwash, m3: 10 min at 20 m3/h, all that is made");
    check_true(plant_case_finding(&c, WR_FINDING_WASH_SHORT) != NULL, "it is short");
    check_between(c.run.books.water_error_share, 0, 1e-12, "error of the books of water, share");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_wash_waits_for_water_above_the_reserve),
        cmocka_unit_test(storage_promises_no_water_twice),
        cmocka_unit_test(running_filters_make_the_wash_water),
        cmocka_unit_test(a_throttled_well_makes_the_wash_water),
        cmocka_unit_test(a_wash_waits_for_wells_that_are_out),
        cmocka_unit_test(a_filter_that_becomes_the_dirtiest_need_not_wait),
        cmocka_unit_test(a_wash_waits_for_filters_to_make_its_water),
        cmocka_unit_test(raw_wells_wash),
        cmocka_unit_test(system_pressure_has_a_draw_limit),
        cmocka_unit_test(a_pump_gives_all_washes_no_more_than_its_flow),
        cmocka_unit_test(a_wash_from_empty_storage_is_short),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
