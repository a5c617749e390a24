/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/flocculent_column.h"
#include "tests/support/check.h"

#include <math.h>

/* Invented, so round that the integrals can be done in the head. */
static const double depths[] = {1, 2}, times[] = {600, 1800}, shares[] = {0.4, 0.8, 0.2, 0.6};
static const struct wr_flocculent_table table = {depths, times, shares, 2, 2};

static double removal_of(double depth, double time)
{
    double removal = -1;
    check_count(wr_flocculent_removal(&table, depth, time, &removal), WR_OK, "depth and time are in range");
    return removal;
}

static double time_of(double depth, double wanted)
{
    double time = -1;
    check_count(wr_flocculent_time(&table, depth, wanted, &time), WR_OK, "depth and wanted share are in range");
    return time;
}

static void removal_is_the_mean_over_depth(void **state)
{
    (void)state;
    check(removal_of(1, 600), (1 + 0.4) / 2, 1e-15, "removal from the top metre: by hand");
    check(removal_of(2, 600), (0.7 + 0.3) / 2, 1e-15, "removal from two metres: by hand");
    check(removal_of(2, 1800), (0.9 + 0.7) / 2, 1e-15, "removal from two metres later: by hand");
    check(removal_of(1.5, 1800), (0.9 + 0.5 * (0.8 + 0.7) / 2) / 1.5, 1e-15, "removal down to between ports: by hand");
    check(removal_of(0.5, 600), (1 + 0.7) / 2, 1e-15, "removal down to above the first port: by hand");
}

static void removal_is_straight_in_time(void **state)
{
    (void)state;
    check(removal_of(2, 0), 0, 0, "removal at the start: none");
    check(removal_of(2, 300), 0.25, 1e-15, "removal half way to the first round: by hand");
    check(removal_of(2, 1200), 0.65, 1e-15, "removal half way between rounds: by hand");
}

static void time_is_the_inverse_of_removal(void **state)
{
    (void)state;
    check(time_of(2, 0), 0, 0, "time to no removal");
    check_share(time_of(2, 0.5), 600, 1e-14, "time to the removal of a round, s");
    check_share(time_of(2, 0.65), 1200, 1e-14, "time between rounds, s: by hand");
    check_share(time_of(2, 0.8), 1800, 1e-14, "time to the last removal, s");
    check(time_of(2, 0.81), HUGE_VAL, 0, "time to more than the table has: never");
    for (double time = 10; time < 1800; time += 97)
        check_share(time_of(1.3, removal_of(1.3, time)), time, 1e-13, "time there and back, s");
}

static void what_the_column_did_not_show_is_refused(void **state)
{
    (void)state;
    const double bad[][2] = {{2.01, 600}, {0, 600},           {-1, 600},       {1, -1},
                             {1, 1801},   {(double)NAN, 600}, {1, (double)NAN}};
    double removal = -1, time = -1;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
        check_count(wr_flocculent_removal(&table, bad[i][0], bad[i][1], &removal), WR_OUT_OF_RANGE, "it is refused");
    check_count(wr_flocculent_time(&table, 2.01, 0.5, &time), WR_OUT_OF_RANGE, "a greater depth is refused");
    check_count(wr_flocculent_time(&table, 1, 1.01, &time), WR_OUT_OF_RANGE, "more than all is refused");
    check_count(wr_flocculent_time(&table, 1, (double)NAN, &time), WR_OUT_OF_RANGE, "no number is refused");
    check(removal, -1, 0, "the output stays untouched");
    check(time, -1, 0, "the output stays untouched");
}

static void refuses(size_t member, double value)
{
    double values[3][4] = {{1, 2}, {600, 1800}, {0.4, 0.8, 0.2, 0.6}};
    values[member][1] = value;
    struct wr_flocculent_table bad = {values[0], values[1], values[2], 2, 2};
    check_count(wr_flocculent_check(&bad), WR_OUT_OF_RANGE, "the table is refused");
}

static void tables_out_of_range_are_refused(void **state)
{
    (void)state;
    struct wr_flocculent_table no_port = table, no_round = table;
    check_count(wr_flocculent_check(&table), WR_OK, "the table is in range");
    no_port.depth_count = 0;
    no_round.time_count = 0;
    check_count(wr_flocculent_check(&no_port), WR_OUT_OF_RANGE, "a table without ports is refused");
    check_count(wr_flocculent_check(&no_round), WR_OUT_OF_RANGE, "a table without rounds is refused");
    const double bad[] = {-1, (double)NAN, (double)INFINITY};
    for (size_t i = 0; i < 3; i++)
        for (size_t member = 0; member < 3; member++)
            refuses(member, bad[i]);
    refuses(0, 1);
    refuses(1, 600);
    refuses(2, 0.39);
    refuses(2, 1.01);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(removal_is_the_mean_over_depth),  cmocka_unit_test(removal_is_straight_in_time),
        cmocka_unit_test(time_is_the_inverse_of_removal),  cmocka_unit_test(what_the_column_did_not_show_is_refused),
        cmocka_unit_test(tables_out_of_range_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
