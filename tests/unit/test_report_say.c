/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Times, amounts and counts as a reader says them. Expected texts are written by hand. */

#include "sim/report/say.h"
#include "tests/support/check.h"

#include <math.h>

static void durations(void **state)
{
    (void)state;
    const struct {
        double seconds;
        const char *text;
    } rows[] = {{0, "0 s"},
                {0.001, "1 s"},
                {59, "59 s"},
                {59.6, "1 min"},
                {90, "2 min"},
                {3569, "59 min"},
                {3571, "1 h"},
                {3600, "1 h"},
                {11520, "3 h 12 min"},
                {6 * 3600 - 1, "6 h"},
                {4 * 86400 - 3600, "95 h"},
                {4 * 86400 - 1, "4 days"},
                {4 * 86400, "4 days"},
                {33.75 * 86400, "33 days 18 h"},
                {365 * 86400.0, "365 days"},
                {(double)INFINITY, "for ever"}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        check_text(wr_say_duration(rows[i].seconds).text, rows[i].text, "a length of time, by hand");
}

/* 2026-03-02 is 20514 days after 1970-01-01. Day 1 is the calendar day of the start, however late it begins. */
static void moments(void **state)
{
    (void)state;
    const double start = 20514 * 86400.0 + 6 * 3600;
    check_text(wr_say_moment(start, 0).text, "day 1 at 06:00", "the start");
    check_text(wr_say_moment(start, 18 * 3600 - 1).text, "day 1 at 23:59", "just before midnight");
    check_text(wr_say_moment(start, 18 * 3600).text, "day 2 at 00:00", "midnight");
    check_text(wr_say_moment(start, 10 * 86400 + 61).text, "day 11 at 06:01", "minutes are not rounded up");
}

static void counts_and_shares(void **state)
{
    (void)state;
    check_text(wr_say_count(1, "wash", "washes").text, "1 wash", "one");
    check_text(wr_say_count(0, "wash", "washes").text, "0 washes", "none");
    check_text(wr_say_count(1234567, "wash", "washes").text, "1,234,567 washes", "many");
    check_text(wr_say_whole(-1234).text, "-1,234", "a negative number");
    check_text(wr_say_whole(-123).text, "-123", "no comma after the sign");
    check_text(wr_say_whole(999.6).text, "1,000", "rounded up over a power of ten");
    check_text(wr_say_share(0.85).text, "85 %", "a share");
    check_text(wr_say_share(0.0042).text, "0.4 %", "a small share");
    check_text(wr_say_share(0.0004).text, "less than 0.1 %", "a tiny share");
    check_text(wr_say_share(0).text, "0 %", "no share");
    check_text(wr_say_share(1.042).text, "104 %", "more than all");
    check_text(wr_say_share((double)INFINITY).text, "no share", "of nothing");
}

/* 1 gal is 231 in3 of 0.0254 m each: 0.003785411784 m3. 1 psi is 0.703070 m of water at 1000 kg/m3 and standard gravity
 * (6894.757293 Pa over 9806.65 Pa/m). */
static void amounts(void **state)
{
    (void)state;
    check_text(wr_say_water(6000 * 0.003785411784, WR_UNITS_US).text, "6,000 gal", "gallons");
    check_text(wr_say_water(12.5e6 * 0.003785411784, WR_UNITS_US).text, "12.5 Mgal", "millions of gallons");
    check_text(wr_say_water(1234, WR_UNITS_SI).text, "1,234 m3", "cubic metres");
    check_text(wr_say_head(0.703069579 * 8, WR_UNITS_US).text, "8.00 psi", "psi alone to US readers");
    check_text(wr_say_head(2, WR_UNITS_SI).text, "19.6 kPa (2.00 m)", "kPa and metres to SI readers");
    check_text(wr_say_bare(WR_QUANTITY_TIME, 72 * 3600, WR_UNITS_US).text, "72.0", "hours in a table");
    check_text(wr_say_bare(WR_QUANTITY_RUN_VOLUME, 293.35, WR_UNITS_US).text, "7,200",
               "gal/ft2: 293.35 m / 0.040746 m");
    check_text(wr_say_bare(WR_QUANTITY_NONE, 2, WR_UNITS_US).text, "2", "a whole bare number");
    check_text(wr_say_digits(WR_QUANTITY_AREA, 9.34, WR_UNITS_US).text, "100.5 ft2",
               "four digits: 9.34 m2 / 0.09290304");
    check_text(wr_say_digits(WR_QUANTITY_AREA, 0, WR_UNITS_SI).text, "0 m2", "nothing");
    check_text(wr_say_key("wash_system").text, "wash system", "a key as words");
    check_text(wr_say_first("demand was met").text, "Demand was met", "the first letter");
}

static int finish(void **state)
{
    (void)state;
    wr_quantities_free();
    return 0;
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(durations), cmocka_unit_test(moments),
                                       cmocka_unit_test(counts_and_shares), cmocka_unit_test(amounts)};
    return cmocka_run_group_tests(tests, NULL, finish);
}
