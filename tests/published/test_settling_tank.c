/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/discrete_settling.h"
#include "models/flocculent_column.h"
#include "models/sludge.h"
#include "tests/support/check.h"

/* A class settling at v has left the top d metres of a still water in the share min(1, v t/d) after t: the textbook's
 * removal of discrete particles with the overflow rate d/t, as in M. L. Davis, Water and Wastewater Engineering, 2010,
 * ch. 10 (from memory). */
static void discrete_class_leaves_as_its_velocity_says(void **state)
{
    (void)state;
    static const struct {
        double velocity, time, depth, gone;
    } rows[] = {{1e-4, 3600, 2, 0.18}, {1e-4, 20000, 2, 1}, {1e-4, 30000, 2, 1}, {5e-4, 3600, 4, 0.45}};
    for (size_t i = 0; i < 4; i++) {
        struct wr_discrete_class one = {1, rows[i].velocity};
        struct wr_discrete_mix mix = {&one, 1, 1};
        check(1 - wr_discrete_left(&mix, rows[i].depth, rows[i].time), rows[i].gone, 1e-15,
              "share gone from the top: min(1, v t/d)");
    }
}

/* Published: sludge as drawn from iron plants has 0.16 to 0.20 % dry solids, Water Sci. Technol. 64(2), 361. That 100
 * m3 of wash water at 200 mg/L leave 88.9 % at 0.18 % and 98.0 % at 1 % is the mass balance on it. */
static void sludge_bounds_what_comes_back(void **state)
{
    (void)state;
    static const struct {
        double dry_percent, recovered_percent;
    } rows[] = {{0.18, 88.9}, {1, 98.0}};
    for (size_t i = 0; i < 2; i++) {
        double share = 0;
        check_count(wr_sludge_best_recovery(0.200, 10 * rows[i].dry_percent, &share), WR_OK, "the sludge is in range");
        check(100 * share, rows[i].recovered_percent, 0.05, "recovered at best, %: mass balance on published solids");
    }
}

/* Published: M. L. Davis, Water and Wastewater Engineering, 2010, example 10-3 pp. 10-13 to 10-14, removal in % at
 * seven times and three depths. Its overall removal at 35 min was read off curves drawn by hand: 3 points of tolerance.
 */
static void column_removes_what_is_printed(void **state)
{
    (void)state;
    static const double depths[] = {0.5, 1.0, 2.0}, minutes[] = {5, 10, 20, 40, 60, 90, 120};
    static const double percent[] = {41, 50, 60, 67, 72, 73, 76, 19, 33, 45, 58,
                                     62, 70, 74, 15, 31, 38, 54, 59, 63, 71};
    double times[7], removal[21], overall = 0, time = 0;
    for (size_t i = 0; i < 7; i++)
        times[i] = 60 * minutes[i];
    for (size_t i = 0; i < 21; i++)
        removal[i] = percent[i] / 100;
    struct wr_flocculent_table table = {depths, times, removal, 3, 7};
    check_count(wr_flocculent_check(&table), WR_OK, "the table is in range");
    check_count(wr_flocculent_removal(&table, 2.0, 60 * 35, &overall), WR_OK, "depth and time are in range");
    check(100 * overall, 59.5, 3, "overall removal at 35 min, %: published, Davis, example 10-3");
    check(100 * overall, 61.84, 0.005, "the same as an integral, %: regression");
    check_count(wr_flocculent_time(&table, 2.0, overall, &time), WR_OK, "depth and wanted share are in range");
    check_share(time, 60 * 35, 1e-13, "time to that removal, s: there and back");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(column_removes_what_is_printed),
        cmocka_unit_test(discrete_class_leaves_as_its_velocity_says),
        cmocka_unit_test(sludge_bounds_what_comes_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
