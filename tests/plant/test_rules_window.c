/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wash hours, the urgent level that overrides them, and the rota. Runs start on Monday, 5 January 2026. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>
#include <stdio.h>

static const double exact = 1e-6; /* s */

#define HOURS(days, from, until) "{\"days\":\"" days "\",\"from\":\"" from "\",\"until\":\"" until "\"}"
#define ROTA(filter, first) "{\"filter\":\"" filter "\",\"first\":\"" first "\"}"
#define ROTA_EVERY(filter, first, every) "{\"filter\":\"" filter "\",\"first\":\"" first "\",\"every\":\"" every "\"}"
#define NO_TRIGGER "/wash/triggers/run_hours=900 h"

/* When a wash called at an hour of the run starts, h, within wash hours. */
static void a_wash_starts_within_its_hours(void **state)
{
    (void)state;
    static const struct {
        const char *window, *first;
        double call, start;
    } cases[] = {
        {"/wash/window=[" HOURS("every_day", "22:00", "04:00") "]", "2026-01-05 23:30", 23.5, 23.5},
        {"/wash/window=[" HOURS("every_day", "22:00", "04:00") "]", "2026-01-06 03:59", 24 + 3 + 59 / 60.0,
         24 + 3 + 59 / 60.0},
        {"/wash/window=[" HOURS("every_day", "22:00", "04:00") "]", "2026-01-06 04:00", 28, 46},
        {"/wash/window=[" HOURS("every_day", "22:00", "04:00") "]", "2026-01-05 22:00", 22, 22},
        {"/wash/window=[" HOURS("every_day", "22:00", "04:00") "]", "2026-01-05 03:00", 3, 3},
        {"/wash/window=[" HOURS("weekdays", "22:00", "04:00") "]", "2026-01-05 03:00", 3, 22},
        {"/wash/window=[" HOURS("weekdays", "22:00", "04:00") "]", "2026-01-10 03:00", 5 * 24 + 3, 5 * 24 + 3},
        {"/wash/window=[" HOURS("weekdays", "22:00", "04:00") "]", "2026-01-10 05:00", 5 * 24 + 5, 7 * 24 + 22},
        {"/wash/window=[" HOURS("sunday", "22:00", "04:00") "]", "2026-01-05 01:00", 1, 1},
        {"/wash/window=[" HOURS("sunday", "22:00", "04:00") "]", "2026-01-05 05:00", 5, 6 * 24 + 22},
        {"/wash/window=[" HOURS("weekends", "08:00", "12:00") "]", "2026-01-07 05:00", 2 * 24 + 5, 5 * 24 + 8},
        {"/wash/window=[" HOURS("monday", "08:00", "09:00") "," HOURS("wednesday", "10:00", "11:00") "]",
         "2026-01-05 09:00", 9, 2 * 24 + 10},
        {"/wash/window=[" HOURS("every_day", "00:00", "24:00") "]", "2026-01-05 09:00", 9, 9},
        {"/wash/window=[" HOURS("every_day", "08:00", "12:00") "," HOURS("every_day", "12:00", "14:00") "]",
         "2026-01-05 12:00", 12, 12},
        {"/wash/window=[" HOURS("every_day", "12:00", "14:00") "," HOURS("every_day", "08:00", "12:00") "]",
         "2026-01-05 14:00", 14, 32},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char rota[128];
        struct plant_case c;
        snprintf(rota, sizeof rota, "/wash/rota=[{\"filter\":\"F1\",\"first\":\"%s\"}]", cases[i].first);
        plant_case_run(&c, PLANT_PLAIN, SETTINGS(cases[i].window, rota, NO_TRIGGER, "/horizon=10 d"));
        check(plant_case_wash(&c, 0, 0)->called_at, cases[i].call * HOUR, exact, "call, s: the rota's date");
        check(plant_case_wash(&c, 0, 0)->started_at, cases[i].start * HOUR, exact, "start, s: within wash hours");
        check(plant_case_held(&c, WR_LIMIT_WINDOW), (cases[i].start - cases[i].call) * HOUR, exact, "time held, s");
        plant_case_fini(&c);
    }
}

/* Only the start must fall within the hours: who is second in line at their end waits for the next. */
static void a_wash_may_end_after_its_hours(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wash/window=[" HOURS("every_day", "20:00", "21:00") "]", "/wash/bed_settle=50 min",
                            "/filters/0/count=3", "/horizon=3 d"));
    check(plant_case_wash(&c, 0, 0)->started_at, 20 * HOUR, exact, "first wash, s: at its call");
    check(plant_case_wash(&c, 1, 0)->started_at, 44 * HOUR, exact, "second, s: the first ended as the hours did");
    check(plant_case_wash(&c, 2, 0)->started_at, 68 * HOUR, exact, "third, s");
    check_true(plant_case_finding(&c, WR_FINDING_DEFERRED_BY_RULE) != NULL, "waits by rule are a finding");
    plant_case_fini(&c);
}

/* Run hours call at 5 h, outside the hours from 20 h on. At 2 m/h the differential is 0.2 m clean and rises by 2 m x
 * 2/6 over 1.2 kg/m2, of which an hour gives 0.02: 1/90 m an hour. Urgent 12 h after the start at 0.2 + 12/90 m. */
static void an_urgent_filter_does_not_wait_for_the_hours(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS("/wash/window=[" HOURS("every_day", "20:00", "24:00") "]",
                 "/wash/triggers={\"run_hours\":\"5 h\",\"urgent_differential\":\"0.33333333333333333333 m\","
                 "\"differential_as\":\"measured\"}",
                 "/horizon=12.5 h"));
    check(plant_case_wash(&c, 0, 0)->called_at, 5 * HOUR, exact, "call, s: run hours");
    check_count(plant_case_wash(&c, 0, 0)->trigger, WR_TRIGGER_HOURS, "what called");
    check(plant_case_wash(&c, 0, 0)->started_at, 12 * HOUR, 1e-3, "start, s: as it becomes urgent");
    check(plant_case_wash(&c, 0, 0)->differential, 1 / 3.0, 1e-9, "differential then, m: the urgent level");
    check(plant_case_wash(&c, 1, 0)->started_at, 12 * HOUR + 10 * MINUTE, 1e-3, "the other, s: urgent too, after it");
    plant_case_fini(&c);
}

/* An urgent level calls by itself where nothing has. */
static void an_urgent_level_calls(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wash/window=[" HOURS("every_day", "20:00", "24:00") "]",
                            "/wash/triggers={\"run_hours\":\"300 h\",\"urgent_differential\":\"0.33333333333333333333 "
                            "m\",\"differential_as\":\"measured\"}",
                            "/filters/0/count=2", "/horizon=12.1 h"));
    check(plant_case_wash(&c, 0, 0)->called_at, 12 * HOUR, 1e-3, "call, s");
    check_count(plant_case_wash(&c, 0, 0)->trigger, WR_TRIGGER_URGENT, "what called");
    check(plant_case_wash(&c, 0, 0)->started_at, 12 * HOUR, 1e-3, "start, s: at once");
    plant_case_fini(&c);
}

/* Where nothing else calls, the run over which beds are spread at the start ends at the urgent level: 12 h, of which
 * F2 has used half. */
static void an_urgent_level_ends_a_run(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wash/triggers={\"urgent_differential\":\"0.33333333333333333333 m\",\"differential_as\":"
                            "\"measured\"}",
                            "/wash/rota=[" ROTA("F1", "2026-02-05 01:00") "]", "/start_beds/how=spread",
                            "/horizon=6.1 h"));
    check(plant_case_wash(&c, 1, 0)->started_at, 6 * HOUR, 1e-3, "start of F2, s");
    plant_case_fini(&c);
}

/* F1, F2 and F3 call by rota at 1, 2 and 3 h and wait for wash hours; F3, the dirtiest, becomes urgent first and is
 * washed first; F1 and F2 keep the order of their calls. */
static void an_urgent_filter_goes_first(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS("/wash/window=[" HOURS("every_day", "20:00", "24:00") "]",
                 "/wash/triggers={\"run_hours\":\"100 h\",\"urgent_differential\":\"1.5 m\"}", "/filters/0/count=3",
                 "/start_beds/how=given", "/filters/0/start_shares=[\"0 %\", \"0 %\", \"90 %\"]",
                 "/wash/rota=[" ROTA("F1", "2026-01-05 01:00") "," ROTA("F2", "2026-01-05 02:00") "," ROTA(
                     "F3", "2026-01-05 03:00") "]",
                 "/wash_water/tank={\"volume\":\"50 m3\",\"start_level\":\"0 %\",\"refill_rate\":\"2 m3/h\"}",
                 "/horizon=4 d"));
    const double third = plant_case_wash(&c, 2, 0)->started_at;
    check_true(third < plant_case_wash(&c, 0, 0)->started_at, "the urgent one is washed first");
    check(third, 25 * HOUR, 1e-3, "its start, s: 50 m3 at 2 m3/h, outside wash hours");
    check_true(plant_case_wash(&c, 0, 0)->started_at < plant_case_wash(&c, 1, 0)->started_at, "then the first to call");
    plant_case_fini(&c);
}

static void the_rota_calls_to_the_second_again_and_again(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS("/wash/rota=[" ROTA_EVERY("F1", "2026-01-05 01:10", "7.3 h") "," ROTA("F2", "2026-01-06") "]",
                 NO_TRIGGER, "/horizon=10 d"));
    for (size_t n = 0; n < 30; n++) {
        check(plant_case_wash(&c, 0, n)->started_at, 70 * MINUTE + (double)n * 7.3 * HOUR, exact, "nth start, s");
        check_count(plant_case_wash(&c, 0, n)->trigger, WR_TRIGGER_ROTA, "what called");
    }
    check_count(c.run.record.filters[0].washes, 33, "washes of F1: 240 h less 70 min over 7.3 h, and one");
    check(plant_case_wash(&c, 1, 0)->started_at, DAY, exact, "start of F2, s: once");
    check_count(c.run.record.filters[1].washes, 1, "washes of F2");
    plant_case_fini(&c);
}

/* Triggers, where given, call beside the rota; an entry that finds its filter called, or being washed, passes. */
static void the_rota_passes_a_filter_that_has_called(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wash/rota=[" ROTA("F1", "2026-01-05 20:05") "," ROTA("F2", "2026-01-05 20:05") "]",
                            "/horizon=30 h"));
    check_count(c.run.record.filters[0].washes, 1, "washes of F1: it was being washed");
    check_count(c.run.record.filters[1].washes, 1, "washes of F2: it had called");
    plant_case_fini(&c);
}

/* Two entries at one instant, and an entry at the instant of a trigger: one order of washes, whatever the list's. */
static void entries_at_one_instant_in_either_order(void **state)
{
    (void)state;
    static const char *const rotas[] = {
        "/wash/rota=[" ROTA("F1", "2026-01-05 20:00") "," ROTA("F3", "2026-01-05 20:00") "]",
        "/wash/rota=[" ROTA("F3", "2026-01-05 20:00") "," ROTA("F1", "2026-01-05 20:00") "]"};
    for (int r = 0; r < 2; r++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN, SETTINGS(rotas[r], "/filters/0/count=3", "/horizon=21 h"));
        for (size_t f = 0; f < 3; f++) {
            check(plant_case_wash(&c, f, 0)->called_at, 20 * HOUR, exact, "call, s: rota and run hours at one instant");
            check(plant_case_wash(&c, f, 0)->started_at, 20 * HOUR + (double)f * 10 * MINUTE, exact,
                  "start, s: by number");
        }
        plant_case_fini(&c);
    }
}

/* Wash hours that begin as a wash is called, as another ends, as a filter goes out: whoever may start does at once. */
static void hours_that_begin_as_other_things_happen(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wash/window=[" HOURS("every_day", "20:00", "23:00") "]", "/filters/0/count=3",
                            "/outages=[{\"unit\":\"F1\",\"from\":\"2026-01-05 20:00\",\"until\":\"2026-01-05 21:00\"}]",
                            "/horizon=22 h"));
    check(plant_case_wash(&c, 1, 0)->started_at, 20 * HOUR, exact, "F2, s: F1 is out");
    check(plant_case_wash(&c, 2, 0)->started_at, 20 * HOUR + 10 * MINUTE, exact, "F3, s: after it");
    check(plant_case_time(&c, WR_EVENT_BACK, 0, 0), 21 * HOUR, 0, "F1 back, s");
    check(plant_case_wash(&c, 0, 0)->started_at, 21 * HOUR, exact, "F1, s: 20 h of run, and back");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_wash_starts_within_its_hours),
        cmocka_unit_test(a_wash_may_end_after_its_hours),
        cmocka_unit_test(an_urgent_filter_does_not_wait_for_the_hours),
        cmocka_unit_test(an_urgent_level_calls),
        cmocka_unit_test(an_urgent_level_ends_a_run),
        cmocka_unit_test(an_urgent_filter_goes_first),
        cmocka_unit_test(the_rota_calls_to_the_second_again_and_again),
        cmocka_unit_test(the_rota_passes_a_filter_that_has_called),
        cmocka_unit_test(entries_at_one_instant_in_either_order),
        cmocka_unit_test(hours_that_begin_as_other_things_happen),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
