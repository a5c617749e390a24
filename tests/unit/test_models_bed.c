/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The models of a washed bed: what they refuse, and that each way round comes back to where it began. */
#include "models/expansion.h"
#include "models/fluidisation.h"
#include "models/grain_curve.h"
#include "models/intermixing.h"
#include "models/root.h"
#include "models/settling.h"
#include "tests/support/check.h"

#include <math.h>

static const struct wr_water water = {.density = 1000, .viscosity = 1.3e-3};
static const struct wr_grain sand = {0.6e-3, 2650, 0.8, 112.5, 2.25};
static const struct wr_grain coal = {1e-3, 1600, 0.53, 227.5, 4.4};
static wr_expansion_law *const laws[] = {wr_expansion_ergun, wr_expansion_dharmarajah_cleasby, wr_expansion_wen_yu};

static double parabola(double x, void *context)
{
    return x * x - *(const double *)context;
}

static double no_number(double x, void *context)
{
    (void)context;
    return x > 1 ? (double)NAN : -1;
}

static void root_is_found_or_refused(void **state)
{
    (void)state;
    double two = 2, root = -1;
    check_count(wr_root_between(parabola, &two, 1, 2, &root), WR_OK, "the signs differ");
    check_share(root, sqrt(2), 1e-13, "root of x^2 = 2");
    double four = 4;
    check_count(wr_root_between(parabola, &four, 1, 2, &root), WR_OK, "the high end is the root");
    check(root, 2, 0, "the high end");
    check_count(wr_root_between(parabola, &four, 2, 3, &root), WR_OK, "the low end is the root");
    check(root, 2, 0, "the low end");
    root = -1;
    check_count(wr_root_between(parabola, &two, 2, 3, &root), WR_OUT_OF_RANGE, "the signs are the same");
    check_count(wr_root_between(parabola, &two, 2, 1, &root), WR_OUT_OF_RANGE, "the ends are turned round");
    check_count(wr_root_between(no_number, NULL, 0, 2, &root), WR_OUT_OF_RANGE, "a value is no number");
    check(root, -1, 0, "nothing is written");
}

static void porosity_and_rate_are_inverse(void **state)
{
    (void)state;
    for (size_t l = 0; l < 3; l++)
        for (double porosity = 0.45; porosity < 0.95; porosity += 0.05) {
            double rate = 0, back = 0;
            check_count(laws[l](&sand, water, porosity, &rate), WR_OK, "the porosity is in range");
            check_count(wr_expanded_porosity(laws[l], &sand, water, 0.415, rate, &back), WR_OK, "the rate is in range");
            check_share(back, porosity, 1e-11, "porosity: as asked");
        }
}

/* Ergun's law itself, with its rate put in. */
static void ergun_carries_the_weight(void **state)
{
    (void)state;
    const double e = 0.6, d = coal.size;
    double v = 0;
    check_count(wr_expansion_ergun(&coal, water, e, &v), WR_OK, "the porosity is in range");
    const double lost = coal.viscous_constant * water.viscosity * (1 - e) * (1 - e) * v / (e * e * e * d * d) +
                        coal.inertial_constant * water.density * (1 - e) * v * v / (e * e * e * d);
    check_share(lost, (1 - e) * 600 * 9.80665, 1e-13, "loss in a metre, Pa: the buoyant weight of its grains");
}

static void slow_water_holds_and_fast_water_carries_off(void **state)
{
    (void)state;
    for (size_t l = 0; l < 3; l++) {
        double least = 0, porosity = -1;
        check_count(laws[l](&sand, water, 0.415, &least), WR_OK, "the porosity is in range");
        check_count(wr_expanded_porosity(laws[l], &sand, water, 0.415, 0.999 * least, &porosity), WR_OK, "slow water");
        check(porosity, 0.415, 0, "held at the settled porosity");
        check_count(wr_expanded_porosity(laws[l], &sand, water, 0.415, 0, &porosity), WR_OK, "no water");
        check(porosity, 0.415, 0, "held at the settled porosity");
        check_count(wr_expanded_porosity(laws[l], &sand, water, 0.415, 1.001 * least, &porosity), WR_OK,
                    "faster water");
        check_true(porosity > 0.415, "lifted");
        double most = 0;
        check_count(laws[l](&sand, water, WR_POROSITY_MOST, &most), WR_OK, "the porosity is in range");
        check_count(wr_expanded_porosity(laws[l], &sand, water, 0.415, most, &porosity), WR_OK, "just not a torrent");
        check_share(porosity, WR_POROSITY_MOST, 1e-14, "as far apart as a law is asked");
        porosity = -1;
        check_count(wr_expanded_porosity(laws[l], &sand, water, 0.415, 1, &porosity), WR_CARRIED_OFF, "a torrent");
        check(porosity, -1, 0, "nothing is written");
    }
}

static void size_and_velocity_are_inverse(void **state)
{
    (void)state;
    for (double size = 2e-5; size < 5e-3; size *= 1.7) {
        struct wr_grain grain = coal;
        double velocity = 0, back = 0;
        grain.size = size;
        check_count(wr_settling_velocity(&grain, water, wr_drag_haider_levenspiel, &velocity), WR_OK, "in range");
        check_count(wr_settling_size(&coal, water, wr_drag_haider_levenspiel, velocity, &back), WR_OK, "in range");
        check_share(back, size, 1e-10, "size, m: as asked");
    }
}

static void size_and_passing_are_inverse(void **state)
{
    (void)state;
    static const struct wr_sieve sieves[] = {{0.3e-3, 0.02}, {0.5e-3, 0.3}, {0.8e-3, 0.75}, {1.2e-3, 0.98}};
    const struct wr_grain_curve curves[] = {{.effective_size = 0.5e-3, .uniformity = 1.5},
                                            {.sieves = sieves, .count = 4}};
    for (size_t c = 0; c < 2; c++)
        for (double share = 0.05; share < 0.96; share += 0.05) {
            double size = 0, back = 0;
            check_count(wr_grain_curve_size(&curves[c], share, &size), WR_OK, "in range");
            check_count(wr_grain_curve_passing(&curves[c], size, &back), WR_OK, "in range");
            check_share(back, share, 1e-12, "share: as asked");
        }
    double share = -1;
    check_count(wr_grain_curve_passing(&curves[1], 0.1e-3, &share), WR_OK, "finer than all sieves");
    check(share, 0.02, 0, "what the finest lets pass");
    check_count(wr_grain_curve_passing(&curves[1], 2e-3, &share), WR_OK, "coarser than all sieves");
    check(share, 0.98, 0, "what the coarsest lets pass");
    const struct wr_grain_curve even = {.effective_size = 0.5e-3, .uniformity = 1};
    check_count(wr_grain_curve_passing(&even, 0.4e-3, &share), WR_OK, "grains of one size");
    check(share, 0, 0, "none is finer");
}

static void wrong_curves_are_refused(void **state)
{
    (void)state;
    static const struct wr_sieve turned[] = {{0.5e-3, 0.3}, {0.3e-3, 0.5}}, level[] = {{0.3e-3, 0.3}, {0.5e-3, 0.3}};
    const struct wr_grain_curve wrong[] = {{.effective_size = 0, .uniformity = 1.5},
                                           {.effective_size = 1e-3, .uniformity = 0.9},
                                           {.effective_size = (double)NAN, .uniformity = 1.5},
                                           {.sieves = turned, .count = 2},
                                           {.sieves = level, .count = 2},
                                           {.sieves = level, .count = 1}};
    double number = -1;
    for (size_t i = 0; i < sizeof wrong / sizeof wrong[0]; i++) {
        check_count(wr_grain_curve_size(&wrong[i], 0.4, &number), WR_OUT_OF_RANGE, "not a curve");
        check_count(wr_grain_curve_passing(&wrong[i], 0.4e-3, &number), WR_OUT_OF_RANGE, "not a curve");
    }
    check(number, -1, 0, "nothing is written");
}

static void wrong_grains_are_refused(void **state)
{
    (void)state;
    struct wr_grain wrong[6] = {sand, sand, sand, sand, sand, sand};
    wrong[0].size = 0;
    wrong[1].density = 999;
    wrong[2].sphericity = 1.01;
    wrong[3].sphericity = 0;
    wrong[4].viscous_constant = 0;
    wrong[5].inertial_constant = (double)NAN;
    double number = -1;
    for (size_t i = 0; i < 6; i++) {
        check_count(wr_fluidising_rate(&wrong[i], water, &number), WR_OUT_OF_RANGE, "not a grain");
        check_count(wr_settling_velocity(&wrong[i], water, wr_drag_rose, &number), WR_OUT_OF_RANGE, "not a grain");
        check_count(wr_settling_size(&wrong[i], water, wr_drag_rose, 0.01, &number), WR_OUT_OF_RANGE, "not a grain");
        check_count(wr_fluidised_head(1, 0.4, &wrong[i], water, &number), WR_OUT_OF_RANGE, "not a grain");
        for (size_t l = 0; l < 3; l++)
            check_count(laws[l](&wrong[i], water, 0.5, &number), WR_OUT_OF_RANGE, "not a grain");
    }
    check_count(wr_expansion_ergun(&sand, water, 0.96, &number), WR_OUT_OF_RANGE, "too far apart");
    check_count(wr_expansion_richardson_zaki(0.01, 0, 1, &number), WR_OUT_OF_RANGE, "a grain that does not settle");
    const struct wr_slice slice = {.depth = 1, .settled = 0.4, .expanded = 1};
    check_count(wr_expanded_depth(&slice, 1, &number), WR_OUT_OF_RANGE, "a slice of water");
    check(number, -1, 0, "nothing is written");
}

static void media_part_or_mix(void **state)
{
    (void)state;
    double bulk = 0, size = 0;
    check_count(wr_bulk_density(1600, 0.6, water, &bulk), WR_OK, "in range");
    check_share(bulk, 0.6 * 1000 + 0.4 * 1600, 1e-15, "bulk density, kg/m3: by hand");
    check_count(wr_bulk_density(1600, 1, water, &bulk), WR_OUT_OF_RANGE, "no grains");
    check_count(wr_equal_settling_size(0.5e-3, 2650, 1600, water, &size), WR_OK, "in range");
    /* (1650/600)^0.667 = exp(0.667 ln 2.75) = 1.9635 */
    check_share(size, 0.5e-3 * 1.9635, 1e-4, "anthracite that settles like sand of 0.5 mm, m: by hand");
    check_count(wr_equal_settling_size(0.5e-3, 2650, 900, water, &size), WR_OUT_OF_RANGE, "a grain that floats");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(root_is_found_or_refused),
        cmocka_unit_test(porosity_and_rate_are_inverse),
        cmocka_unit_test(ergun_carries_the_weight),
        cmocka_unit_test(slow_water_holds_and_fast_water_carries_off),
        cmocka_unit_test(size_and_velocity_are_inverse),
        cmocka_unit_test(size_and_passing_are_inverse),
        cmocka_unit_test(wrong_curves_are_refused),
        cmocka_unit_test(wrong_grains_are_refused),
        cmocka_unit_test(media_part_or_mix),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
