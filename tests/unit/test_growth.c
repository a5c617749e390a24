/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Compound growth against its closed form, and by hand. */

#include "sim/scenario/date.h"
#include "sim/study/growth.h"
#include "tests/support/check.h"

#include <math.h>

static void years_by_closed_form(void **state)
{
    (void)state;
    check(wr_growth_years(1, 1.21, 0.10), 2, 1e-12, "1.1 squared is 1.21");
    check(wr_growth_years(0.8, 1.6, 0.02), log(2) / log(1.02), 1e-12, "ln(ratio) / ln(1 + rate)");
    check(wr_growth_years(1, 2, 1e-9), 693147180.9, 1, "slow growth: ln 2 over the rate, the rate's square aside");
    check(wr_growth_years(2, 1, 0.05), -wr_growth_years(1, 2, 0.05), 1e-12, "passed as long ago");
    check(wr_growth_years(1, 1, 0.05), 0, 0, "reached now");
    check_true(isnan(wr_growth_years(0, 1, 0.05)), "nothing never grows");
    check_true(isnan(wr_growth_years(1, 0, 0.05)), "nothing was never passed");
}

static void years_agree_with_the_table(void **state)
{
    (void)state;
    /* By multiplication year by year, which knows nothing of logarithms. */
    for (int rate_permille = 5; rate_permille <= 500; rate_permille += 45)
        for (int years = 0; years <= 60; years++) {
            const double rate = rate_permille / 1000.0, later = wr_growth_after(3, rate, years);
            check(wr_growth_years(3, later, rate), years, 1e-9, "years by logarithms and by steps");
            check_count((size_t)wr_growth_whole_years(wr_growth_years(3, later, rate)), (size_t)years,
                        "a mark met exactly is met in that year");
        }
}

static void whole_years(void **state)
{
    (void)state;
    check_count((size_t)wr_growth_whole_years(2.1), 3, "in the third year after");
    check_count((size_t)wr_growth_whole_years(3), 3, "on the day");
    check_count((size_t)wr_growth_whole_years(-5), 0, "already");
}

static void years_of_the_calendar(void **state)
{
    (void)state;
    double start = 0;
    check_true(wr_date_read("2026-01-05", &start), "a date");
    check_count((size_t)wr_date_year(start), 2026, "its year");
    check_true(wr_date_read("1969-12-31 23:00", &start), "a date before 1970");
    check_count((size_t)wr_date_year(start), 1969, "its year");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(years_by_closed_form),
                                       cmocka_unit_test(years_agree_with_the_table), cmocka_unit_test(whole_years),
                                       cmocka_unit_test(years_of_the_calendar)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
