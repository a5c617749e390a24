/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/washout.h"
#include "tests/support/check.h"

#include <gsl/gsl_integration.h>
#include <math.h>

static const struct wr_washout washout = {.load = 2.1, .e_fold = 1.4};

static double solids_at(double volume, void *context)
{
    return wr_washout_solids(context, volume);
}

static void load_falls_to_an_e_th_in_its_volume(void **state)
{
    (void)state;
    check(wr_washout_left(&washout, 0), 1, 0, "share left at the start: all");
    check_share(wr_washout_left(&washout, 1.4), 0.36787944117144233, 1e-15, "share left after one e-folding volume");
    check_share(wr_washout_left(&washout, 1.4 * 4.605170185988092), 0.01, 1e-14, "share left after ln 100 of them");
    check_share(wr_washout_solids(&washout, 0), 1.5, 1e-15, "solids of the first water, kg/m3: 2.1/1.4");
    check(wr_washout_left(&washout, HUGE_VAL), 0, 0, "share left at last: none");
}

static void what_leaves_is_what_was_there(void **state)
{
    (void)state;
    for (double volume = 0.3; volume < 9; volume *= 1.9) {
        double gone = wr_washout_mean(&washout, 0, volume) * volume;
        check_share(gone, 2.1 * (1 - wr_washout_left(&washout, volume)), 1e-13, "solids gone, kg/m2: a mass balance");
    }
}

static void mean_is_that_of_quadrature(void **state)
{
    (void)state;
    struct wr_washout copy = washout;
    gsl_function function = {.function = solids_at, .params = &copy};
    double area = 0, error = 0;
    size_t evaluations = 0;
    gsl_integration_qng(&function, 0.7, 4.9, 0, 1e-12, &area, &error, &evaluations);
    check_share(wr_washout_mean(&washout, 0.7, 4.9), area / 4.2, 1e-12, "mean solids, kg/m3: Gauss-Kronrod");
    check_share(wr_washout_mean(&washout, 0.7, 0.7), wr_washout_solids(&washout, 0.7), 0, "mean of no stretch");
    check_share(wr_washout_mean(&washout, 0.7, 0.7 + 1e-9), wr_washout_solids(&washout, 0.7), 1e-9,
                "mean of a billionth");
}

static void volume_is_the_inverse_of_solids(void **state)
{
    (void)state;
    for (double volume = 0.1; volume < 20; volume *= 1.7)
        check_share(wr_washout_volume(&washout, wr_washout_solids(&washout, volume)), volume, 1e-13,
                    "volume there and back, m3/m2");
    check(wr_washout_volume(&washout, wr_washout_solids(&washout, 0)), 0, 0, "volume to what it is at the start");
    check(wr_washout_volume(&washout, 2), 0, 0, "volume to more than that");
    check(wr_washout_volume(&washout, 0), HUGE_VAL, 0, "volume to clear water: never");
    check(wr_washout_volume(&(struct wr_washout){0, 1}, 0), 0, 0, "volume to clear water of a clean bed");
}

static void two_samples_bring_back_the_washout(void **state)
{
    (void)state;
    struct wr_washout_sample first = {1, wr_washout_solids(&washout, 1)}, second = {5, wr_washout_solids(&washout, 5)};
    double e_fold = -1;
    check_count(wr_washout_from_samples(&first, &second, &e_fold), WR_OK, "the samples are in range");
    check_share(e_fold, 1.4, 1e-14, "e-folding volume, m3/m2");
}

static void samples_that_tell_nothing_are_refused(void **state)
{
    (void)state;
    const struct wr_washout_sample first = {1, 0.9}, second = {5, 0.1};
    const struct wr_washout_sample bad[] = {{1, 0.1},          {0.5, 0.1},       {5, 0.9},
                                            {5, 1.2},          {5, 0},           {5, -1},
                                            {(double)NAN, .1}, {5, (double)NAN}, {(double)INFINITY, 0.1},
                                            {-1, 0.1}};
    double e_fold = -1;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
        check_count(wr_washout_from_samples(&first, &bad[i], &e_fold), WR_OUT_OF_RANGE, "the pair is refused");
    check_count(wr_washout_from_samples(&second, &first, &e_fold), WR_OUT_OF_RANGE, "the wrong order is refused");
    check(e_fold, -1, 0, "the output stays untouched");
}

static void washouts_out_of_range_are_refused(void **state)
{
    (void)state;
    const double bad[] = {-1, (double)NAN, (double)INFINITY};
    check_count(wr_washout_check(&washout), WR_OK, "the washout is in range");
    for (size_t i = 0; i < 3; i++) {
        check_count(wr_washout_check(&(struct wr_washout){bad[i], 1}), WR_OUT_OF_RANGE, "the load is refused");
        check_count(wr_washout_check(&(struct wr_washout){1, bad[i]}), WR_OUT_OF_RANGE, "the volume is refused");
    }
    check_count(wr_washout_check(&(struct wr_washout){1, 0}), WR_OUT_OF_RANGE, "a volume of zero is refused");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(load_falls_to_an_e_th_in_its_volume), cmocka_unit_test(what_leaves_is_what_was_there),
        cmocka_unit_test(mean_is_that_of_quadrature),          cmocka_unit_test(volume_is_the_inverse_of_solids),
        cmocka_unit_test(two_samples_bring_back_the_washout),  cmocka_unit_test(samples_that_tell_nothing_are_refused),
        cmocka_unit_test(washouts_out_of_range_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
