/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hours of the week, by themselves, and what a plant that stands still does with washes. Expected values by calendar: 5
 * January 2026 was a Monday. */
#include "sim/plant/hours.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>

/* Monday, 2026-01-05 00:00, in s since 1970: 20458 days. */
static const double monday = 20458 * DAY;

static struct wr_hours hours(int days, double from, double until)
{
    return (struct wr_hours){.days = days, .from = from * HOUR, .until = until * HOUR};
}

static void an_empty_list_is_always_open(void **state)
{
    (void)state;
    const struct wr_hours_list none = {0};
    check_true(wr_hours_are_open(&none, monday, 12345), "open");
    check_true(isinf(wr_hours_next_change(&none, monday, 12345)), "never changes");
    check(wr_hours_share(&none), 1, 0, "share of the week");
}

/* Open at the beginning to the second, shut at the end. */
static void hours_are_half_open(void **state)
{
    (void)state;
    struct wr_hours item = hours(WR_DAYS_EVERY_DAY, 7.5, 16);
    const struct wr_hours_list list = {&item, 1};
    check_true(!wr_hours_are_open(&list, monday, 7.5 * HOUR - 1), "shut a second before");
    check_true(wr_hours_are_open(&list, monday, 7.5 * HOUR), "open as they begin");
    check_true(wr_hours_are_open(&list, monday, 16 * HOUR - 1), "open a second before they end");
    check_true(!wr_hours_are_open(&list, monday, 16 * HOUR), "shut as they end");
    check(wr_hours_next_change(&list, monday, 0), 7.5 * HOUR, 0, "next change, s: they begin");
    check(wr_hours_next_change(&list, monday, 7.5 * HOUR), 16 * HOUR, 0, "next, s: they end");
    check(wr_hours_next_change(&list, monday, 16 * HOUR), 31.5 * HOUR, 0, "next, s: tomorrow");
    check(wr_hours_share(&list), 8.5 / 24, 1e-15, "share of the week");
}

/* Over midnight they belong to the day they begin on; the run may start within them. */
static void hours_over_midnight(void **state)
{
    (void)state;
    struct wr_hours item = hours(WR_DAYS_SUNDAY, 22, 4);
    const struct wr_hours_list list = {&item, 1};
    check_true(wr_hours_are_open(&list, monday, 0), "open on Monday at 0 h: since Sunday");
    check_true(wr_hours_are_open(&list, monday, 4 * HOUR - 1), "to 4 h");
    check_true(!wr_hours_are_open(&list, monday, 4 * HOUR), "shut from then on");
    check_true(!wr_hours_are_open(&list, monday, 22 * HOUR), "shut on Monday at 22 h");
    check(wr_hours_next_change(&list, monday, 0), 4 * HOUR, 0, "next change, s");
    check(wr_hours_next_change(&list, monday, 4 * HOUR), 6 * DAY + 22 * HOUR, 0, "next, s: on Sunday");
    check(wr_hours_next_change(&list, monday, 6 * DAY + 22 * HOUR), 7 * DAY + 4 * HOUR, 0,
          "next, s: over the week's end");
    check(wr_hours_next_change(&list, monday - DAY + 23 * HOUR, 0), 5 * HOUR, 0, "from a start on Sunday at 23 h, s");
    check(wr_hours_share(&list), 6 / 168.0, 1e-15, "share of the week");
}

/* Each kind of days against the calendar, hour by hour of two weeks; and every change in between is foreseen. */
static void days_of_the_week(void **state)
{
    (void)state;
    static const struct {
        int days;
        bool on[7];
    } cases[] = {{WR_DAYS_EVERY_DAY, {1, 1, 1, 1, 1, 1, 1}}, {WR_DAYS_WEEKDAYS, {1, 1, 1, 1, 1, 0, 0}},
                 {WR_DAYS_WEEKENDS, {0, 0, 0, 0, 0, 1, 1}},  {WR_DAYS_MONDAY, {1, 0, 0, 0, 0, 0, 0}},
                 {WR_DAYS_THURSDAY, {0, 0, 0, 1, 0, 0, 0}},  {WR_DAYS_SUNDAY, {0, 0, 0, 0, 0, 0, 1}}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
        for (int start = 0; start < 7; start++) {
            struct wr_hours item = hours(cases[i].days, 20, 2);
            const struct wr_hours_list list = {&item, 1};
            const double begin = monday + start * DAY;
            double change = 0;
            for (int hour = 0; hour < 14 * 24; hour++) {
                const int day = (start + hour / 24) % 7, of_day = hour % 24;
                const bool open = of_day >= 20 ? cases[i].on[day] : of_day < 2 && cases[i].on[(day + 6) % 7];
                check_true(wr_hours_are_open(&list, begin, hour * HOUR) == open, "open by the calendar");
                if (hour > 0 && open != wr_hours_are_open(&list, begin, (hour - 1) * HOUR)) {
                    for (double next = change; next < hour * HOUR; change = next)
                        next = wr_hours_next_change(&list, begin, change);
                    check(change, hour * HOUR, 0, "a change, s: foreseen");
                }
            }
        }
}

/* The plant stands still from 3 h to 7 h: storage of 100 m3 rises from 40 m3 to 60, off, and falls at 5 m3/h to 40. F1
 * is called at 4 h. */
static void what_a_plant_that_stands_still_does_with_a_wash(void **state)
{
    (void)state;
    static const struct {
        const char *rule;
        double start, end; /* h, and min after it: 10 of backwash, 15 of rinse at 40 m3/h */
    } cases[] = {{"/wash/when_plant_stopped=start_well", 4, 25},
                 {"/wash/when_plant_stopped=wait", 7, 25},
                 {"/wash/when_plant_stopped=rinse_at_next_start", 4, 3 * 60 + 15}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(
            &c, PLANT_PLAIN,
            SETTINGS(cases[i].rule, "/storage={\"volume\":\"100 m3\",\"start_level\":\"40 %\"}",
                     "/wells=[{\"flow\":\"40 m3/h\",\"on_below\":\"40 %\",\"off_above\":\"60 %\"}]",
                     "/demand={\"maximum_day\":\"205 m3/d\",\"hourly_factors\":[100,100,100,15,15,15,15,15,15,"
                     "15,15,15,15,15,15,15,15,15,15,15,15,15,15,15]}",
                     "/wash_water/tank/refill_on_below=1 %", "/wash/rinse_rate=4 m/h", "/wash/rinse_time=15 min",
                     "/wash/triggers/run_hours=300 h",
                     "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 04:00\"}]", "/horizon=9 h"));
        const struct wr_wash_record *wash = plant_case_wash(&c, 0, 0);
        check(wash->called_at, 4 * HOUR, 1e-6, "call, s");
        check(plant_case_at(&c, 3.9 * HOUR)->flows.raw, 0, 0, "raw water at 3.9 h, m3/s: none");
        check(wash->started_at, cases[i].start * HOUR, 1e-6, "start, s");
        check(wash->ended_at - wash->started_at, cases[i].end * MINUTE, 1e-6, "time off line, s");
        check(plant_case_water(&c, WR_LINE_RINSE), 10, 1e-9, "rinse, m3: its whole volume");
        plant_case_fini(&c);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_empty_list_is_always_open),
        cmocka_unit_test(hours_are_half_open),
        cmocka_unit_test(hours_over_midnight),
        cmocka_unit_test(days_of_the_week),
        cmocka_unit_test(what_a_plant_that_stands_still_does_with_a_wash),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
