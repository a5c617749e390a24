/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sizes of filters by the pencil, against a handbook's worked example, a rule for batteries that wash themselves, and a
 * list worked out by hand. */
#include "sim/scenario/read.h"
#include "sim/study/size.h"
#include "tests/support/check.h"

#include <math.h>

static const double DAY = 86400, HOUR = 3600, FT2 = 0.3048 * 0.3048, GPM = 0.003785411784 / 60;

/* Davis 2010, Water and Wastewater Engineering, examples 11-5 and 11-7 (p. 11-23): 18,400 m3/d through four filters of
 * which one is out, at 216 m3/d/m2: 28.4 m2 each. Built are 28.6 m2: a wash at 36 m/h then takes 0.286 m3/s, which is
 * 257 m3/h more than the other three make, so that it comes out of a tank. The example takes no wash water off. */
static void a_handbook_example(void **state)
{
    (void)state;
    const struct wr_size_need need = {.flow = 18400 / DAY,
                                      .approved_rate = 216 / DAY,
                                      .run = WR_NEVER,
                                      .backwash_rate = 36 / HOUR,
                                      .wash_depth = 5,
                                      .spent_depth = 6,
                                      .units = WR_UNITS_SI};
    const struct wr_size_row row = wr_size_work_out(&need, 4);
    check(row.needed, 28.4, 0.05, "area needed, m2 (printed 28.4)");
    check(row.area, 29, 0, "the next whole m2");
    check(row.rate_left * DAY, 18400.0 / (3 * 29), 1e-9, "rate with one out, m/d");
    const double built = 28.6 / row.area;
    check(row.backwash * built, 0.286, 0.0005, "wash of 28.6 m2, m3/s (printed 0.286)");
    check(-row.spare * built * HOUR, 257, 1, "more than the others make, m3/h (by hand 257)");
    check(row.washes, 0, 0, "no trigger, no washes");
}

/* UFC 3-280-04, 8-3.2.2: filters needed besides the one washed are the wash rate over the filtration rate, rounded up.
 */
static void filters_that_supply_a_wash(void **state)
{
    (void)state;
    static const struct {
        double wash, filtration; /* gal/min/ft2 */
        size_t besides;
    } rows[] = {{15, 3, 5}, {20, 3, 7}, {15, 4, 4}, {8, 3, 3}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const double unit = GPM / FT2;
        const struct wr_size_need need = {.flow = 0.01,
                                          .approved_rate = rows[i].filtration * unit,
                                          .run = WR_NEVER,
                                          .backwash_rate = rows[i].wash * unit,
                                          .round = true,
                                          .units = WR_UNITS_US};
        size_t filters = 2;
        while (wr_size_work_out(&need, filters).spare < -1e-12)
            filters++;
        check_count(filters - 1, rows[i].besides, "filters besides the one that is washed");
    }
}

/* 300 gal/min with one out at 3 gal/min/ft2 and 12 gal/min/ft2 of backwash, by hand; nothing taken off for washes. */
static void a_list_by_hand(void **state)
{
    (void)state;
    static const struct {
        size_t filters;
        double feet, firm, backwash; /* gal/min */
        int supplies;                /* -1 no, 0 just, 1 yes */
    } rows[] = {
        {2, 12, 339, 1357, -1}, {3, 8, 302, 603, -1}, {4, 7, 346, 462, -1}, {5, 6, 339, 339, 0}, {6, 5.5, 356, 285, 1}};
    const struct wr_size_need need = {.flow = 300 * GPM,
                                      .approved_rate = 3 * GPM / FT2,
                                      .run = WR_NEVER,
                                      .backwash_rate = 12 * GPM / FT2,
                                      .round = true,
                                      .units = WR_UNITS_US};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        const struct wr_size_row row = wr_size_work_out(&need, rows[i].filters);
        check(row.diameter / 0.3048, rows[i].feet, 1e-9, "diameter, ft");
        check(row.left / GPM, rows[i].firm, 0.6, "with one out, gal/min");
        check(row.backwash / GPM, rows[i].backwash, 0.6, "backwash, gal/min");
        const int supplies = (row.spare > 1e-9) - (row.spare < -1e-9);
        check_true(supplies == rows[i].supplies, "whether the others can supply it");
    }
}

/* Washes take their water off the flow: 40 h at 3 gal/min/ft2 are 7,200 gal/ft2, of which 129 go to spent wash. */
static void washes_are_taken_off(void **state)
{
    (void)state;
    const double gal_ft2 = 0.003785411784 / FT2;
    const struct wr_size_need need = {.flow = 300 * GPM,
                                      .approved_rate = 3 * GPM / FT2,
                                      .run = 40 * HOUR,
                                      .backwash_rate = 12 * GPM / FT2,
                                      .wash_depth = 120 * gal_ft2,
                                      .spent_depth = 129 * gal_ft2,
                                      .round = true,
                                      .units = WR_UNITS_US};
    const struct wr_size_row row = wr_size_work_out(&need, 3);
    check(row.diameter / 0.3048, 9, 1e-9, "8 ft give 296 gal/min net: it takes 9 ft");
    check_share(row.net, row.left * (1 - 129.0 / 7200), 1e-12, "net of washes, m3/s");
    check_share(row.washes, 300.0 * 1440 / (row.area / FT2 * (7200 - 129)), 1e-9, "washes a day over the two left");
    check_share(row.rate_left * 2 * row.area, need.flow / (1 - 129.0 / 7200), 1e-12, "what passes the two, m3/s");
    struct wr_size_need wide = need;
    wide.flow = 30000 * GPM;
    check_true(!wr_size_work_out(&wide, 3).is_in_series, "more than the series has");
}

static void the_series(void **state)
{
    (void)state;
    double diameter, area, before = 0;
    for (double needed = 0.1; wr_size_step(needed, true, WR_UNITS_SI, &diameter, &area); needed = area * 1.0001) {
        check_true(area >= needed && diameter > before, "no smaller than needed, and rising");
        check_share(area, acos(-1) / 4 * diameter * diameter, 1e-12, "area of a circle, m2");
        before = diameter;
    }
    check(before, 4.2, 1e-9, "the largest in SI, m");
    check_true(wr_size_step(153.9 * FT2, true, WR_UNITS_US, &diameter, &area), "14 ft are 153.9 ft2");
    check(diameter / 0.3048, 14, 1e-9, "the largest in US units, ft");
    check_true(!wr_size_step(154 * FT2, true, WR_UNITS_US, &diameter, &area), "and no more");
    check_true(wr_size_step(95 * FT2, false, WR_UNITS_US, &diameter, &area), "cells");
    check_share(area, 100 * FT2, 1e-12, "in whole tens of ft2");
    check_true(isnan(diameter), "of no diameter");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_handbook_example), cmocka_unit_test(filters_that_supply_a_wash),
        cmocka_unit_test(a_list_by_hand),     cmocka_unit_test(washes_are_taken_off),
        cmocka_unit_test(the_series),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
