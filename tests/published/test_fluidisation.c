/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Least fluidising rates. */
#include "models/fluidisation.h"
#include "tests/support/check.h"

#include <math.h>

static const double per_hour = 3600;

static double fluidising_rate(double size, double density, double celsius)
{
    const struct wr_grain grain = {size, density, 0.8, 112.5, 2.25};
    struct wr_water water = {0};
    double rate = 0;
    check_count(wr_water_at(celsius + 273.15, &water), WR_OK, "the temperature is in range");
    check_count(wr_fluidising_rate(&grain, water, &rate), WR_OK, "the grain is in range");
    return rate;
}

/* Published: Hendricks 2011, table 12.9 p. 368, sand of specific gravity 2.65, m/h. The predicted columns are Wen and
 * Yu's at the coarser sieve. */
static const struct {
    double size, measured[2], predicted[2];
} hendricks[] = {
    {2.00e-3, {79.2, 93.6}, {87.5, 97.6}},
    {1.40e-3, {57.6, 57.6}, {57.2, 67.3}},
    {1.00e-3, {32.4, 43.2}, {34.2, 42.8}},
    {0.60e-3, {18.0, 19.8}, {13.3, 18.0}},
};

static void wen_yu_has_hendricks_table(void **state)
{
    (void)state;
    static const double celsius[] = {25, 40};
    for (size_t i = 0; i < 4; i++)
        for (size_t t = 0; t < 2; t++) {
            const double rate = per_hour * fluidising_rate(hendricks[i].size, 2650, celsius[t]);
            check_share(rate, hendricks[i].predicted[t], hendricks[i].size > 0.7e-3 ? 0.01 : 0.04,
                        "least fluidising rate, m/h: published, Hendricks table 12.9, predicted");
            check_between(rate / hendricks[i].measured[t], 0.74, 1.17,
                          "the same over what was measured: published, likewise");
        }
    check(per_hour * fluidising_rate(0.6e-3, 2650, 25), 13.76, 0.03, "0.6 mm at 25 C, m/h: regression");
}

/* Warm water lifts a bed only at a higher rate. Worked out apart from this program, from the formula. */
static void temperature_counts_most_for_fine_grains(void **state)
{
    (void)state;
    static const double rows[][2] = {{0.5e-3, 1.68}, {1e-3, 1.56}, {2e-3, 1.29}};
    for (size_t i = 0; i < 3; i++)
        check(fluidising_rate(rows[i][0], 2650, 25) / fluidising_rate(rows[i][0], 2650, 5), rows[i][1], 0.006,
              "rate at 25 C over that at 5 C: regression");
}

/* The formula as the source prints it, where nothing cancels. */
static void root_is_that_of_the_source(void **state)
{
    (void)state;
    const struct wr_grain grain = {2e-3, 2650, 1, 150, 1.75};
    const struct wr_water water = {.density = 1000, .viscosity = 1e-3};
    double galileo = 0, rate = 0;
    check_count(wr_galileo(&grain, water, &galileo), WR_OK, "the grain is in range");
    check_share(galileo, 8e-9 * 1000 * 1650 * 9.80665 / 1e-6, 1e-14, "Ga: by hand");
    check_count(wr_fluidising_rate(&grain, water, &rate), WR_OK, "the grain is in range");
    check_share(rate * 2e-3 * 1000 / 1e-3, sqrt(33.7 * 33.7 + 0.0408 * galileo) - 33.7, 1e-13, "R: as printed");
    check(WR_WASH_OVER_FLUIDISING, 1.3, 0, "wash over least fluidising rate: published, Hendricks p. 368");
}

/* The words of the source, h = L (1 - e)(SG - 1), by hand: 0.5 x 0.6 x 1.65. */
static void a_bed_is_held_by_its_weight(void **state)
{
    (void)state;
    const struct wr_grain grain = {0.5e-3, 2650, 0.8, 112.5, 2.25};
    const struct wr_water water = {.density = 1000, .viscosity = 1e-3};
    double head = 0, expanded = 0;
    check_count(wr_fluidised_head(0.5, 0.4, &grain, water, &head), WR_OK, "the bed is in range");
    check_share(head, 0.495, 1e-14, "head to hold the bed up, m: by hand");
    check_count(wr_fluidised_head(0.5 * 0.6 / 0.4, 0.6, &grain, water, &expanded), WR_OK, "the bed is in range");
    check_share(expanded, head, 1e-14, "expansion leaves it as it is");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wen_yu_has_hendricks_table),
        cmocka_unit_test(temperature_counts_most_for_fine_grains),
        cmocka_unit_test(root_is_that_of_the_source),
        cmocka_unit_test(a_bed_is_held_by_its_weight),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
