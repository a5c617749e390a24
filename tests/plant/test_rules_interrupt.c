/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Washes whose wash pump goes out of service while they are under way.
 *
 * F1 starts at 10 h with 0.4 kg/m2 on its bed of 10 m2: 20 h at 2 m/h and 10 g/m3. Its backwash takes 50 m3 in 10 min.
 */
#include "sim/plant/bed.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

static const double exact = 1e-6; /* s */
static const double close = 1e-9; /* m3, kg/m2 */

#define OUT(unit, from, until)                                                                                         \
    "{\"unit\":\"" unit "\",\"from\":\"2026-01-05 " from "\",\"until\":\"2026-01-05 " until "\"}"
#define PUMP_OUT(from, until) "/outages=[" OUT("wash pump", from, until) "]"
#define START "/start_beds/how=given", "/filters/0/start_shares=[\"50 %\", \"0 %\"]"

static double load_of(const struct plant_case *c, size_t filter)
{
    return wr_bed_load(&c->run.plant, plant_case_state(c), filter);
}

static void the_load_not_washed_out_stays(void **state)
{
    (void)state;
    static const struct {
        const char *outage;
        double given; /* m3 */
    } cases[] = {{PUMP_OUT("10:04", "12:00"), 20}, {PUMP_OUT("10:04", "10:05"), 20}, {PUMP_OUT("10:09", "11:00"), 45}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN, SETTINGS(START, cases[i].outage, "/wash/bed_settle=50 min", "/horizon=11 h"));
        check(plant_case_water(&c, WR_LINE_BACKWASH), cases[i].given, close, "backwash, m3: until the pump went");
        check(plant_case_time(&c, WR_EVENT_WASH_ENDED, 0, 0), 10 * HOUR + (50 + cases[i].given / 5) * MINUTE, exact,
              "end of the wash, s: the rest of its steps follows");
        check(plant_case_time(&c, WR_EVENT_WASH_SHORT, 0, 0), 10 * HOUR + (50 + cases[i].given / 5) * MINUTE, exact,
              "told that it was short, s");
        const double left = 0.4 * (1 - cases[i].given / 50), since = HOUR - (50 + cases[i].given / 5) * MINUTE;
        check(load_of(&c, 0), left + 0.01 * 2 / 3600 * since, close,
              "load, kg/m2: the share of the water not given, and what came since");
        check_true(plant_case_finding(&c, WR_FINDING_WASH_SHORT) != NULL, "it is a finding");
        check_count(c.run.record.balance.grade, WR_GRADE_OVERRUN, "grade: a wash got less than its whole water");
        plant_case_fini(&c);
    }
}

/* Raw water fills 6 m3 of 10 g/m3 into the drained filter before 2 of 5 m3 of backwash: their solids stay and go with
 * the rest of the load. */
static void solids_of_the_fill_leave_in_proportion_too(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(START, PUMP_OUT("10:25", "12:00"), "/wash/template=pressure_air", "/wash/drain_depth=0.6 m",
                            "/wash/drain_time=6 min", "/wash/air_time=3 min", "/wash/fill_rate=3 m/h",
                            "/wash/backwash_rate=3 m/h", "/wash_water={\"source\":\"wells\"}", "/horizon=11 h"));
    check(plant_case_water(&c, WR_LINE_BACKWASH), 2, close, "backwash, m3: until the pump went");
    check(load_of(&c, 0), (0.4 + 0.006) * (1 - 2 / 5.0) + 0.01 * 2 / 3600 * 35 * MINUTE, close,
          "load, kg/m2: the share of the water not given, and what came since");
    plant_case_fini(&c);
}

/* The pump is away while no water flows, or goes as the last has flowed: no wash is short of anything. */
static void a_wash_that_misses_no_water_is_whole(void **state)
{
    (void)state;
    static const char *const outages[] = {PUMP_OUT("10:02", "10:06"), PUMP_OUT("10:06", "10:10"),
                                          PUMP_OUT("10:20", "11:00"), PUMP_OUT("10:25", "11:00")};
    static const char *const rules[] = {"/wash/on_interrupt=finish_weak", "/wash/on_interrupt=hold"};
    for (size_t i = 0; i < sizeof outages / sizeof *outages; i++)
        for (size_t rule = i < 2 ? 1 : 0; rule <= 1; rule++) {
            struct plant_case c;
            plant_case_run(&c, PLANT_PLAIN,
                           SETTINGS(START, outages[i], rules[i < 2 ? 0 : rule], "/wash/valve_travel=10 min",
                                    "/wash/bed_settle=5 min", "/horizon=11 h"));
            check(plant_case_water(&c, WR_LINE_BACKWASH), 50, close, "backwash, m3: the whole of it");
            check(plant_case_time(&c, WR_EVENT_WASH_ENDED, 0, 0), 10.75 * HOUR, exact, "end of the wash, s");
            check(load_of(&c, 0), 0.01 * 2 / 3600 * 0.25 * HOUR, close, "load, kg/m2: a quarter of an hour");
            check_count(plant_case_count(&c, WR_EVENT_WASH_SHORT, 0), 0, "times it was told to be short");
            check_count(plant_case_count(&c, WR_EVENT_WASH_STARTED, 0), 1, "washes");
            plant_case_fini(&c);
        }
}

static void a_held_filter_waits_for_the_pump_and_for_somebody(void **state)
{
    (void)state;
    static const struct {
        const char *back;
        double pump_back, starts;
    } cases[] = {{PUMP_OUT("10:04", "12:00"), 12, 14},
                 {PUMP_OUT("10:04", "14:00"), 14, 14},
                 {PUMP_OUT("10:04", "15:30"), 15.5, 15.5}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS(START, cases[i].back, "/wash/on_interrupt=hold",
                                "/wash/attended=[{\"from\":\"14:00\",\"until\":\"16:00\"}]", "/horizon=19 h"));
        const double held = 10 * HOUR + 4 * MINUTE;
        const struct wr_wash_record *again = plant_case_wash(&c, 0, 1);
        check(again->called_at, held, exact, "called again, s: as the pump goes");
        check_count(again->trigger, WR_TRIGGER_INTERRUPTED, "what calls");
        check(again->started_at, cases[i].starts * HOUR, exact, "second wash, s: pump and somebody are there");
        check(again->load, 0.4 * 0.6, close, "load at its start, kg/m2: the share of the water not given");
        check(again->ended_at, cases[i].starts * HOUR + 10 * MINUTE, exact, "end of the second wash, s");
        check(plant_case_water(&c, WR_LINE_BACKWASH), 70, close, "backwash, m3: 20 and 50");
        const struct wr_span *hours = plant_case_span(&c, WR_LIMIT_ATTENDED_HOURS, 0, 0);
        const struct wr_span *pump = plant_case_span(&c, WR_LIMIT_WASH_PUMP_OUT, 0, 0);
        check_true(hours != NULL && pump != NULL, "it waits for both");
        check(hours->from, held, exact, "waits for somebody from, s");
        check(hours->to, 14 * HOUR, exact, "to, s");
        check(pump->to, cases[i].pump_back * HOUR, exact, "waits for the pump to, s");
        check(plant_case_at(&c, 11 * HOUR)->flows.service, 40 / 3600.0, 1e-15, "service meanwhile, m3/s: the other's");
        check(load_of(&c, 0), 0.01 * 2 / 3600 * (19 * HOUR - again->ended_at), close,
              "load at the end, kg/m2: a new run");
        check_between(c.run.books.solids_error_share, 0, 1e-9, "error of the books of solids, share");
        plant_case_fini(&c);
    }
}

/* An outage that waits for the end of the wash begins as the wash is cut short; the filter is washed anew once back. */
static void a_held_filter_goes_out(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(START, "/outages=[" OUT("F1", "10:02", "15:00") "," OUT("wash pump", "10:04", "12:00") "]",
                            "/wash/on_interrupt=hold", "/horizon=19 h"));
    check(plant_case_time(&c, WR_EVENT_OUT, 0, 0), 10 * HOUR + 4 * MINUTE, exact, "it goes out, s: as the pump does");
    check(plant_case_time(&c, WR_EVENT_BACK, 0, 0), 15 * HOUR, exact, "it comes back, s");
    check(plant_case_wash(&c, 0, 1)->started_at, 15 * HOUR, exact, "second wash, s: it is back");
    check(plant_case_wash(&c, 0, 1)->called_at, 10 * HOUR + 4 * MINUTE, exact,
          "its call, s: as the first was cut short");
    plant_case_fini(&c);
}

/* Called again outside attended hours, but the first call of a filter does not wait for them. */
static void others_do_not_wait_for_attended_hours(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(START, "/wash/attended=[{\"from\":\"14:00\",\"until\":\"16:00\"}]", "/horizon=21 h"));
    check(plant_case_wash(&c, 0, 0)->started_at, 10 * HOUR, exact, "first wash, s: at its call");
    check(plant_case_wash(&c, 1, 0)->started_at, 20 * HOUR, exact, "the other's, s: at its call");
    plant_case_fini(&c);
}

/* A filter drained before its wash was cut short is not drained again, and ends as full as it began. */
static void a_held_filter_is_not_drained_twice(void **state)
{
    (void)state;
    static const struct {
        const char *outage;
        double first;  /* min of the first wash */
        double second; /* min of the second: 6 min of draining but for what is gone, 3 of air, 12 of fill, 10 of
                          backwash */
        double filled; /* m3 in the first */
    } cases[] = {{PUMP_OUT("10:04", "12:00"), 4, 2 + 25, 0},
                 {PUMP_OUT("10:08", "12:00"), 8, 25, 0},
                 {PUMP_OUT("10:12", "12:00"), 12, 1.5 + 25, 1.5},
                 {PUMP_OUT("10:25", "12:00"), 25, 6 + 25, 6}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS(START, cases[i].outage, "/wash/on_interrupt=hold", "/wash/template=pressure_air",
                                "/wash/drain_depth=0.6 m", "/wash/drain_time=6 min", "/wash/air_time=3 min",
                                "/wash/fill_rate=3 m/h", "/horizon=19 h"));
        const struct wr_wash_record *again = plant_case_wash(&c, 0, 1);
        check(again->called_at, 10 * HOUR + cases[i].first * MINUTE, exact, "cut short, s");
        check(again->started_at, 12 * HOUR, exact, "second wash, s: the pump is back");
        check(again->ended_at - again->started_at, cases[i].second * MINUTE, exact, "its length, s");
        check(plant_case_filter(&c, 0)->water, 0, 0, "water in the filter, m3: as full as before");
        check(plant_case_water(&c, WR_LINE_FILL), 6 + cases[i].filled, close, "filled, m3");
        check(plant_case_water(&c, WR_LINE_DRAINED), 6 + cases[i].filled, close, "drained, m3: what was filled");
        check_between(c.run.books.water_error_share, 0, 1e-12, "error of the books of water, share");
        plant_case_fini(&c);
    }
}

/* Finished weak, an air wash is neither filled nor backwashed; the next wash makes both good. */
static void the_wash_after_a_weak_one_fills_the_filter(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(START, PUMP_OUT("10:08", "12:00"), "/wash/template=pressure_air", "/wash/drain_depth=0.6 m",
                            "/wash/drain_time=6 min", "/wash/air_time=3 min", "/wash/fill_rate=3 m/h",
                            "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 15:00\"}]", "/horizon=19 h"));
    check(plant_case_wash(&c, 0, 0)->ended_at, 10 * HOUR + 9 * MINUTE, exact, "end of the weak wash, s: its air");
    check(plant_case_wash(&c, 0, 1)->ended_at, 15 * HOUR + 25 * MINUTE, exact, "end of the next, s: nothing to drain");
    check(plant_case_filter(&c, 0)->water, 0, 0, "water in the filter, m3: as full as before");
    check(plant_case_water(&c, WR_LINE_DRAINED), 6, close, "drained, m3");
    check(plant_case_water(&c, WR_LINE_FILL), 6, close, "filled, m3");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_load_not_washed_out_stays),
        cmocka_unit_test(solids_of_the_fill_leave_in_proportion_too),
        cmocka_unit_test(a_wash_that_misses_no_water_is_whole),
        cmocka_unit_test(a_held_filter_waits_for_the_pump_and_for_somebody),
        cmocka_unit_test(a_held_filter_goes_out),
        cmocka_unit_test(others_do_not_wait_for_attended_hours),
        cmocka_unit_test(a_held_filter_is_not_drained_twice),
        cmocka_unit_test(the_wash_after_a_weak_one_fills_the_filter),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
