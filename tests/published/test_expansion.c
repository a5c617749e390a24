/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Expansion of beds. */
#include "models/constants.h"
#include "models/expansion.h"
#include "models/media.h"
#include "models/settling.h"
#include "tests/support/check.h"

#include <math.h>

static struct wr_water water_at(double celsius)
{
    struct wr_water water = {0};
    check_count(wr_water_at(celsius + 273.15, &water), WR_OK, "the temperature is in range");
    return water;
}

/* Published: Hendricks 2011, example 12.9 p. 367: sand of d10 0.50 and d60 0.736 mm, settled porosity 0.407, 457 mm
 * deep, specific gravity 2.655. The temperature is not printed; 15 C gives the printed heights. */
static void wen_yu_has_hendricks_example(void **state)
{
    (void)state;
    static const double rows[][2] = {{18, 460}, {20, 469}, {25, 490}, {30, 510}, {35, 529},
                                     {40, 548}, {45, 567}, {50, 585}, {60, 623}};
    const struct wr_grain grain = {0.736e-3, 2655, 0.8, 112.5, 2.25};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct wr_slice slice = {.depth = 457, .settled = 0.407};
        double height = 0;
        check_count(
            wr_expanded_porosity(wr_expansion_wen_yu, &grain, water_at(15), 0.407, rows[i][0] / 3600, &slice.expanded),
            WR_OK, "the rate is in range");
        check_count(wr_expanded_depth(&slice, 1, &height), WR_OK, "the slice is in range");
        check_share(height, rows[i][1], 0.003, "height of the bed, mm: published, Hendricks example 12.9");
    }
}

/* Davis 2010, example 11-3 p. 11-18, in which the bed of example 11-2 is washed at 0.01 m/s. */
static const struct {
    double share, size, estimate; /* of settling velocity, m/s */
} davis[] = {
    {0.053, 2.00e-3, 0.3},   {0.171, 1.42e-3, 0.2},   {0.146, 1.00e-3, 0.15},
    {0.204, 0.714e-3, 0.1},  {0.176, 0.505e-3, 0.07}, {0.119, 0.357e-3, 0.05},
    {0.059, 0.252e-3, 0.03}, {0.031, 0.178e-3, 0.02}, {0.007, 0.126e-3, 0.015},
};

enum { DAVIS = sizeof davis / sizeof davis[0] };

static const double davis_rate = 0.01, davis_settled = 0.45, davis_viscosity = 1.307e-6; /* m2/s, kinematic */

/* One pass from the estimate, as the source does it: drag at the estimate, then velocity, then porosity. */
static double davis_porosity(size_t i, double gravity)
{
    const double d = davis[i].size, reynolds = 0.82 * d * davis[i].estimate / davis_viscosity;
    const double velocity = sqrt(4 * gravity * 1.65 * d / (3 * wr_drag_rose(reynolds, 1)));
    double porosity = 0;
    check_count(wr_expansion_richardson_zaki(davis_rate, velocity, d * velocity / davis_viscosity, &porosity), WR_OK,
                "the grain settles faster than the water rises");
    return porosity;
}

/* Shares add up to 96.6 % and are used so, as printed. */
static void richardson_zaki_has_davis_example(void **state)
{
    (void)state;
    static const double gravities[] = {9.80, 9.81}, sums[] = {2.533, 2.530}, depths[] = {0.6967, 0.6957};
    for (size_t g = 0; g < 2; g++) {
        double sum = 0;
        for (size_t i = 0; i < DAVIS; i++)
            sum += davis[i].share / (1 - davis_porosity(i, gravities[g]));
        const double depth = 0.5 * (1 - davis_settled) * sum;
        check(sum, 2.53, 0.005, "sum of f/(1 - e): published, Davis example 11-3");
        check(sum, sums[g], 5e-4, "the same, a digit more: regression");
        check(depth, 0.696, 0.001, "expanded depth, m: published, Davis example 11-3");
        check(depth, depths[g], 5e-5, "the same: regression");
    }
}

/* The first trap of that example: its coarse grains are given porosities below the settled one. They lie still. */
static void coarse_layers_are_held(void **state)
{
    (void)state;
    struct wr_slice slices[DAVIS];
    size_t below = 0;
    double depth = 0;
    for (size_t i = 0; i < DAVIS; i++) {
        slices[i] = (struct wr_slice){0.5 * davis[i].share, davis_settled, davis_porosity(i, 9.80)};
        below += slices[i].expanded < davis_settled ? 1 : 0;
    }
    check_true(below > 0 && slices[0].expanded < davis_settled, "coarse grains are not fluidised");
    check_count(wr_expanded_depth(slices, DAVIS, &depth), WR_OK, "the slices are in range");
    check(depth, 0.7306, 5e-4, "depth with the coarse grains held, m: regression");
    check_count(wr_expanded_depth(slices, below, &depth), WR_OK, "the slices are in range");
    double settled = 0;
    for (size_t i = 0; i < below; i++)
        settled += slices[i].depth;
    check_share(depth, settled, 1e-14, "they are as deep as before: they lie still");
}

/* In the example shape counts in the Reynolds number. */
static double drag_of_davis(double reynolds, double sphericity)
{
    return wr_drag_rose(sphericity * reynolds, 1);
}

/* The second trap: with its settling velocity found and not estimated, the finest grain falls more slowly than the
 * water rises. */
static void finest_layer_is_lost(void **state)
{
    (void)state;
    const struct wr_water water = {.density = 1000, .viscosity = 1000 * davis_viscosity};
    for (size_t i = 0; i < DAVIS; i++) {
        const struct wr_grain grain = {davis[i].size, 2650, 0.82, 112.5, 2.25};
        double velocity = 0, porosity = -1;
        check_count(wr_settling_velocity(&grain, water, drag_of_davis, &velocity), WR_OK, "the grain settles");
        const enum wr_status status =
            wr_expansion_richardson_zaki(davis_rate, velocity, grain.size * velocity / davis_viscosity, &porosity);
        check_count(status, i + 1 < DAVIS ? WR_OK : WR_CARRIED_OFF, "only the finest is carried off");
        if (i + 1 == DAVIS) {
            check_true(velocity < davis_rate, "its velocity is below the rate");
            check(porosity, -1, 0, "and no porosity is made up");
        }
    }
}

static struct wr_grain grain_of(const char *medium, double size, double density, double sphericity)
{
    const struct wr_medium *row = wr_medium_find(medium);
    return (struct wr_grain){size, density, sphericity, row->viscous_constant, row->inertial_constant};
}

static double rate_at(wr_expansion_law *law, const struct wr_grain *grain, double celsius, double settled,
                      double expansion)
{
    double rate = 0;
    const double porosity = 1 - (1 - settled) / (1 + expansion);
    check_count(law(grain, water_at(celsius), porosity, &rate), WR_OK, "the porosity is in range");
    return rate;
}

/* Ergun's rate over Dharmarajah and Cleasby's at 30, 40 and 50 % expansion of a bed of one size, 5 to 25 C. */
static void two_laws_differ_as_stated(void **state)
{
    (void)state;
    static const struct {
        const char *medium;
        double size, density, sphericity, least, most;
    } rows[] = {{"anthracite", 1.5e-3, 1625, 0.60, -0.11, 0.03},
                {"anthracite", 1.5e-3, 1625, 0.46, 0.02, 0.25},
                {"sand", 0.72e-3, 2650, 0.85, 0.19, 0.32}};
    for (size_t i = 0; i < 3; i++) {
        const struct wr_grain grain = grain_of(rows[i].medium, rows[i].size, rows[i].density, rows[i].sphericity);
        const double settled = wr_medium_find(rows[i].medium)->porosity;
        double least = 9, most = -9;
        for (double celsius = 5; celsius < 26; celsius += 10)
            for (double expansion = 0.3; expansion < 0.55; expansion += 0.1) {
                const double ergun = rate_at(wr_expansion_ergun, &grain, celsius, settled, expansion);
                const double other = rate_at(wr_expansion_dharmarajah_cleasby, &grain, celsius, settled, expansion);
                least = fmin(least, ergun / other - 1);
                most = fmax(most, ergun / other - 1);
            }
        print_message("%s %.2f mm, sphericity %.2f: Ergun %+.1f to %+.1f %%\n", rows[i].medium, 1e3 * rows[i].size,
                      rows[i].sphericity, 100 * least, 100 * most);
        check_between(least, rows[i].least, rows[i].most, "Ergun over Dharmarajah and Cleasby, least: regression");
        check_between(most, rows[i].least, rows[i].most, "the same, most: regression");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(wen_yu_has_hendricks_example), cmocka_unit_test(richardson_zaki_has_davis_example),
        cmocka_unit_test(coarse_layers_are_held),       cmocka_unit_test(finest_layer_is_lost),
        cmocka_unit_test(two_laws_differ_as_stated),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
