/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/constant_head.h"
#include "tests/support/check.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_odeiv2.h>
#include <math.h>

static const struct wr_deposit straight = {
    .slope = 2.1, .reference_rate = 2e-3, .reference_viscosity = 1.3e-3, .exponent = 1};
static const struct wr_deposit steep = {
    .slope = 2.1, .reference_rate = 2e-3, .reference_viscosity = 1.3e-3, .exponent = 1.7, .reference_load = 1.9};

/* A bed at 6 m of head with 6.4 mg/L of solids; its quadratic term loses 1 m at 2 mm/s where it has one. */
static struct wr_constant_head bed_of(const struct wr_deposit *deposit, double quadratic)
{
    return (struct wr_constant_head){
        .head = 6, .solids = 6.4e-3, .linear = 300, .quadratic = quadratic, .deposit = deposit, .viscosity = 1.3e-3};
}

static void rate_is_the_root_of_the_parabola(void **state)
{
    (void)state;
    for (double linear = 1e-3; linear < 1e6; linear *= 10) {
        for (double quadratic = 1e-12; quadratic < 1e8; quadratic *= 10) {
            double rate = wr_constant_head_rate(3, linear, quadratic);
            check_share((linear + quadratic * rate) * rate, 3, 2e-15, "head that the rate loses, m: the head given");
        }
    }
}

static void rate_has_its_limits(void **state)
{
    (void)state;
    check(wr_constant_head_rate(3, 400, 0), 3.0 / 400, 0, "rate without a quadratic term, m/s: head/linear");
    check_share(wr_constant_head_rate(3, 400, 1e-300), 3.0 / 400, 1e-15, "rate with next to none, m/s: the same");
    check_share(wr_constant_head_rate(3, 0, 300), 0.1, 1e-15, "rate without a linear term, m/s: square root");
    check(wr_constant_head_rate(0, 400, 300), 0, 0, "rate at no head");
    check(wr_constant_head_rate(0, 0, 0), 0, 0, "rate at no head, no resistance");
    check(wr_constant_head_rate(3, 0, 0), (double)INFINITY, 0, "rate of a head that meets no resistance");
}

static double pace(double load, void *bed)
{
    const struct wr_constant_head *of = bed;
    return 1 / (of->solids * wr_constant_head_rate_at(of, load));
}

static double quadrature(struct wr_constant_head bed, double from, double to)
{
    gsl_function function = {.function = pace, .params = &bed};
    double time = 0, error = 0;
    size_t evaluations = 0;
    check_count(gsl_integration_qng(&function, from, to, 0, 1e-9, &time, &error, &evaluations), GSL_SUCCESS,
                "quadrature converges");
    return time;
}

static void time_is_that_of_quadrature(void **state)
{
    (void)state;
    static const double stretches[][2] = {{0.2, 0.2001}, {0.3, 1.0}, {1.0, 2.5}, {2.5, 9.0}};
    static const double quadratics[] = {0, 1e-6, 1, 2.5e5, 1e8};
    for (size_t i = 0; i < 4; i++) {
        double from = stretches[i][0], to = stretches[i][1];
        struct wr_constant_head bed = bed_of(&steep, 0);
        check_share(wr_constant_head_time(&bed, from, to), quadrature(bed, from, to), 1e-9, "time, s: steepening");
        for (size_t j = 0; j < 5; j++) {
            bed = bed_of(&straight, quadratics[j]);
            check_share(wr_constant_head_time(&bed, from, to), quadrature(bed, from, to), 1e-9, "time, s: straight");
        }
    }
}

static int load_rate(double time, const double load[], double change[], void *bed)
{
    const struct wr_constant_head *of = bed;
    (void)time;
    change[0] = of->solids * wr_constant_head_rate_at(of, load[0]);
    return isfinite(change[0]) ? GSL_SUCCESS : GSL_EBADFUNC;
}

/* Load after a time by Prince and Dormand's eighth-order steps. */
static double integrated(struct wr_constant_head bed, double from, double time)
{
    gsl_odeiv2_system system = {.function = load_rate, .dimension = 1, .params = &bed};
    gsl_odeiv2_driver *driver = gsl_odeiv2_driver_alloc_y_new(&system, gsl_odeiv2_step_rk8pd, 60, 0, 1e-12);
    double now = 0, load = from;
    int status = gsl_odeiv2_driver_apply(driver, &now, time, &load);
    gsl_odeiv2_driver_free(driver);
    check_count(status, GSL_SUCCESS, "integration goes through");
    return load;
}

static void load_is_that_of_the_differential_equation(void **state)
{
    (void)state;
    struct wr_constant_head laminar = bed_of(&straight, 0), fitted = bed_of(&straight, 2.5e5);
    struct wr_constant_head steepening = bed_of(&steep, 0);
    for (double time = 600; time < 1e6; time *= 4) {
        check_share(wr_constant_head_load(&laminar, 0.4, time), integrated(laminar, 0.4, time), 1e-10, "load, kg/m2");
        double to = integrated(fitted, 0.4, time);
        check_share(wr_constant_head_time(&fitted, 0.4, to), time, 1e-8, "time to that load with fittings, s");
        to = integrated(steepening, 0.4, time);
        check_share(wr_constant_head_time(&steepening, 0.4, to), time, 1e-8, "time to that load, steepening, s");
    }
}

static void load_and_time_are_inverse(void **state)
{
    (void)state;
    struct wr_constant_head bed = bed_of(&straight, 0);
    for (double time = 1; time < 1e7; time *= 10) {
        double load = wr_constant_head_load(&bed, 1.9, time);
        check(wr_constant_head_time(&bed, 1.9, load), time, 1e-10 + 1e-14 * time, "time there and back, s");
    }
    check(wr_constant_head_load(&bed, 1.9, 0), 1.9, 0, "load after no time");
    check(wr_constant_head_time(&bed, 1.9, 1.9), 0, 0, "time to the same load");
}

/* What a plant leans on when it carries a filter over a stretch: exact for a straight deposit in laminar flow. */
static void mean_rate_is_that_of_the_middle_load(void **state)
{
    (void)state;
    struct wr_constant_head bed = bed_of(&straight, 0);
    for (double to = 0.5; to < 20; to *= 2) {
        double mean = (to - 0.4) / bed.solids / wr_constant_head_time(&bed, 0.4, to);
        check_share(mean, wr_constant_head_rate_at(&bed, (0.4 + to) / 2), 1e-14,
                    "mean rate, m/s: head/R of the middle");
    }
}

static void stretches_add_up(void **state)
{
    (void)state;
    const struct wr_constant_head beds[] = {bed_of(&straight, 0), bed_of(&steep, 0), bed_of(&straight, 2.5e5)};
    for (size_t i = 0; i < 3; i++) {
        double sum = 0;
        for (int part = 0; part < 64; part++)
            sum += wr_constant_head_time(&beds[i], part / 32.0, (part + 1) / 32.0);
        check_share(sum, wr_constant_head_time(&beds[i], 0, 2), 1e-13, "time of 64 stretches, s: that of the whole");
    }
}

/* Nothing cancels: over a stretch of a billionth the time is the load over the pace at its middle. */
static void short_stretches_keep_their_figures(void **state)
{
    (void)state;
    const struct wr_constant_head beds[] = {bed_of(&straight, 0), bed_of(&straight, 2.5e5)};
    for (size_t i = 0; i < 2; i++) {
        double from = 1.5, to = from + ldexp(1, -30);
        double expected = (to - from) / (beds[i].solids * wr_constant_head_rate_at(&beds[i], (from + to) / 2));
        check_share(wr_constant_head_time(&beds[i], from, to), expected, 4e-15, "time of a short stretch, s");
    }
}

/* A deposit that adds nothing, or next to nothing, leaves a steady rate. */
static void flat_deposits_keep_a_steady_rate(void **state)
{
    (void)state;
    static const double slopes[] = {0, 1e-14, 1e-200};
    static const double quadratics[] = {0, 2.5e5};
    for (size_t i = 0; i < 6; i++) {
        struct wr_deposit deposit = straight;
        deposit.slope = slopes[i / 2];
        struct wr_constant_head bed = bed_of(&deposit, quadratics[i % 2]);
        double rate = wr_constant_head_rate(6, 300, bed.quadratic);
        check_share(wr_constant_head_time(&bed, 0.5, 2), 1.5 / (bed.solids * rate), 1e-13, "time at a steady rate, s");
        if (bed.quadratic == 0)
            check_share(wr_constant_head_load(&bed, 0.5, 3600), 0.5 + bed.solids * rate * 3600, 1e-13, "load, kg/m2");
    }
}

/* A bed without resistance of its own, from nothing: R = k m, so t = k m^2/(2 c head). */
static void deposit_alone_grows_with_the_root_of_time(void **state)
{
    (void)state;
    struct wr_constant_head bed = bed_of(&straight, 0);
    bed.linear = 0;
    double k = 2.1 / 2e-3;
    check_share(wr_constant_head_time(&bed, 0, 2), k * 4 / (2 * bed.solids * 6), 1e-14,
                "time from nothing, s: by hand");
    check_share(wr_constant_head_load(&bed, 0, 1000), sqrt(2 * bed.solids * 6 * 1000 / k), 1e-14,
                "load, kg/m2: by hand");
    bed.quadratic = 2.5e5;
    check_true(isfinite(wr_constant_head_time(&bed, 0, 2)), "a clean start without linear term has a time");
    check_share(wr_constant_head_time(&bed, 0, 2), quadrature(bed, 0, 2), 1e-9, "that time, s: quadrature");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(rate_is_the_root_of_the_parabola),
        cmocka_unit_test(rate_has_its_limits),
        cmocka_unit_test(time_is_that_of_quadrature),
        cmocka_unit_test(load_is_that_of_the_differential_equation),
        cmocka_unit_test(load_and_time_are_inverse),
        cmocka_unit_test(mean_rate_is_that_of_the_middle_load),
        cmocka_unit_test(stretches_add_up),
        cmocka_unit_test(short_stretches_keep_their_figures),
        cmocka_unit_test(flat_deposits_keep_a_steady_rate),
        cmocka_unit_test(deposit_alone_grows_with_the_root_of_time),
    };
    gsl_set_error_handler_off();
    return cmocka_run_group_tests(tests, NULL, NULL);
}
