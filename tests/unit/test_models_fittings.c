/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/fittings.h"
#include "models/headloss.h"
#include "models/vessel.h"
#include "tests/support/check.h"

#include <math.h>

static void head_is_met_at_its_rate_and_grows_by_the_square(void **state)
{
    (void)state;
    double k = 0;
    check_count(wr_fittings_coefficient(0.8, 2e-3, &k), WR_OK, "the head is in range");
    check_share(wr_headloss_at(0, k, 2e-3), 0.8, 1e-15, "head at the rate given, m: the head given");
    check_share(wr_headloss_at(0, k, 1e-3), 0.2, 1e-15, "head at half the rate, m: a quarter");
    check_count(wr_fittings_coefficient(0, 2e-3, &k), WR_OK, "no head is in range");
    check(k, 0, 0, "coefficient of no head");
}

static void heads_and_rates_out_of_range_are_refused(void **state)
{
    (void)state;
    const double bad[][2] = {{-0.1, 1e-3},           {0.1, 0},           {0.1, -1e-3},
                             {(double)NAN, 1e-3},    {0.1, (double)NAN}, {(double)INFINITY, 1},
                             {0.1, (double)INFINITY}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        double k = -1;
        check_count(wr_fittings_coefficient(bad[i][0], bad[i][1], &k), WR_OUT_OF_RANGE, "head or rate is refused");
        check(k, -1, 0, "the output stays untouched");
    }
}

static void areas_are_circles(void **state)
{
    (void)state;
    double area = 0;
    check_count(wr_vessel_area(2, &area), WR_OK, "2 m is in range");
    check_share(area, acos(-1), 1e-15, "area of a circle of radius 1 m: pi");
    const double bad[] = {0, -1, (double)NAN, (double)INFINITY};
    for (size_t i = 0; i < 4; i++) {
        area = -1;
        check_count(wr_vessel_area(bad[i], &area), WR_OUT_OF_RANGE, "the diameter is refused");
        check(area, -1, 0, "the output stays untouched");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(head_is_met_at_its_rate_and_grows_by_the_square),
        cmocka_unit_test(heads_and_rates_out_of_range_are_refused),
        cmocka_unit_test(areas_are_circles),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
