/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/deposit.h"
#include "tests/support/check.h"

#include <gsl/gsl_integration.h>
#include <math.h>

static const double thick = 1.5e-3, thin = 1.0e-3; /* Pa s */

static struct wr_deposit deposit_of(double exponent)
{
    return (struct wr_deposit){.slope = 2.1,
                               .reference_rate = 2e-3,
                               .reference_viscosity = thick,
                               .exponent = exponent,
                               .reference_load = 1.9};
}

static const double exponents[] = {1, 1.5, 2, 2.7, 3, 4, 10};
#define EXPONENTS (sizeof exponents / sizeof exponents[0])

static void straight_law_is_exactly_its_product(void **state)
{
    (void)state;
    struct wr_deposit deposit = deposit_of(1);
    deposit.reference_load = (double)NAN; /* not read by a straight law */
    check_count(wr_deposit_check(&deposit), WR_OK, "a straight law needs no reference load");
    check(wr_deposit_resistance(&deposit, 0.7, thin), 2.1 * 0.7 * thin / (2e-3 * thick), 0,
          "resistance, m/(m/s): the product, to the last bit");
    check_share(wr_deposit_resistance(&deposit, 0.7, thick) * 2e-3, 1.47, 1e-15, "head at the reference, m: 2.1 x 0.7");
}

static void every_exponent_meets_the_slope_at_the_reference_load(void **state)
{
    (void)state;
    for (size_t i = 0; i < EXPONENTS; i++) {
        struct wr_deposit deposit = deposit_of(exponents[i]);
        check_count(wr_deposit_check(&deposit), WR_OK, "the deposit is in range");
        check_share(wr_deposit_resistance(&deposit, 1.9, thick) * 2e-3, 2.1 * 1.9, 1e-15, "head at reference, m");
        double twice = wr_deposit_resistance(&deposit, 3.8, thick) * 2e-3;
        check_share(twice, 2.1 * 1.9 * exp2(exponents[i]), 1e-14, "head at twice the load, m: 2^exponent as much");
        check_share(wr_deposit_resistance(&deposit, 1.2, thin), wr_deposit_resistance(&deposit, 1.2, thick) / 1.5,
                    1e-15, "resistance in thinner water: in proportion");
        check(wr_deposit_resistance(&deposit, 0, thin), 0, 0, "resistance of a clean bed");
    }
}

static void load_is_the_inverse_of_resistance(void **state)
{
    (void)state;
    for (size_t i = 0; i < EXPONENTS; i++) {
        struct wr_deposit deposit = deposit_of(exponents[i]);
        for (double load = 1e-3; load < 30; load *= 1.7)
            check_share(wr_deposit_load(&deposit, wr_deposit_resistance(&deposit, load, thin), thin), load, 4e-15,
                        "load there and back, kg/m2");
        check(wr_deposit_load(&deposit, 0, thin), 0, 0, "load of no resistance");
    }
}

static void flat_deposit_never_reaches_a_resistance(void **state)
{
    (void)state;
    for (size_t i = 0; i < EXPONENTS; i++) {
        struct wr_deposit deposit = deposit_of(exponents[i]);
        deposit.slope = 0;
        check_count(wr_deposit_check(&deposit), WR_OK, "a slope of zero is in range");
        check(wr_deposit_resistance(&deposit, 5, thin), 0, 0, "resistance of a flat deposit");
        check(wr_deposit_load(&deposit, 0, thin), 0, 0, "load of no resistance");
        check(wr_deposit_load(&deposit, 1, thin), (double)INFINITY, 0, "load at which a flat deposit has a resistance");
    }
}

static double integrand(double load, void *deposit)
{
    return wr_deposit_resistance(deposit, load, thin);
}

static void integral_is_that_of_quadrature(void **state)
{
    (void)state;
    for (size_t i = 0; i < EXPONENTS; i++) {
        struct wr_deposit deposit = deposit_of(exponents[i]);
        gsl_function function = {.function = integrand, .params = &deposit};
        double area = 0, error = 0;
        size_t evaluations = 0;
        gsl_integration_qng(&function, 0.0, 2.6, 0, 1e-9, &area, &error, &evaluations);
        check_share(wr_deposit_integral(&deposit, 2.6, thin), area, 1e-9, "integral of resistance: Gauss-Kronrod");
    }
}

static void laws_are_found_and_are_the_functions(void **state)
{
    (void)state;
    struct wr_deposit deposit = deposit_of(2.7);
    const struct wr_deposit_law *law = wr_deposit_law_find("slope");
    check_true(law != NULL, "the law is there");
    check(law->resistance(&deposit, 0.8, thin), wr_deposit_resistance(&deposit, 0.8, thin), 0, "resistance of the law");
    check(law->load(&deposit, 90, thin), wr_deposit_load(&deposit, 90, thin), 0, "load of the law");
    check(law->integral(&deposit, 0.8, thin), wr_deposit_integral(&deposit, 0.8, thin), 0, "integral of the law");
    check_true(wr_deposit_law_find("Slope") == NULL, "case counts");
    for (size_t i = 0; i < wr_deposit_law_count; i++)
        check_true(wr_deposit_law_find(wr_deposit_laws[i].name) == &wr_deposit_laws[i], "the name finds its own row");
}

static void deposits_out_of_range_are_refused(void **state)
{
    (void)state;
    const double bad[] = {-1, (double)NAN, (double)INFINITY};
    for (size_t i = 0; i < 3; i++) {
        struct wr_deposit deposits[5];
        for (size_t member = 0; member < 5; member++)
            deposits[member] = deposit_of(2);
        deposits[0].slope = deposits[1].reference_rate = deposits[2].reference_viscosity = bad[i];
        deposits[3].exponent = deposits[4].reference_load = bad[i];
        for (size_t member = 0; member < 5; member++)
            check_count(wr_deposit_check(&deposits[member]), WR_OUT_OF_RANGE, "the deposit is refused");
    }
    struct wr_deposit flattening = deposit_of(nextafter(1, 0)), steepest = deposit_of(nextafter(10, 11));
    check_count(wr_deposit_check(&flattening), WR_OUT_OF_RANGE, "an exponent below 1 is refused");
    check_count(wr_deposit_check(&steepest), WR_OUT_OF_RANGE, "an exponent above 10 is refused");
}

/* A run seen in thin water at a rate of its own. */
static const struct wr_deposit_run seen = {
    .clean_head = 1.1, .dirty_head = 4.2, .rate = 1.4e-3, .run_volume = 290, .solids = 6.4e-3, .viscosity = 1.0e-3};

static void slope_brings_back_the_run_it_came_from(void **state)
{
    (void)state;
    for (size_t i = 0; i < EXPONENTS; i++) {
        struct wr_deposit deposit = deposit_of(exponents[i]);
        deposit.slope = (double)NAN; /* not read */
        double load = 0;
        check_count(wr_deposit_run_load(&seen, &load), WR_OK, "the run has a load");
        check_share(load, 1.856, 1e-15, "load of the run, kg/m2: 290 x 0.0064 by hand");
        check_count(wr_deposit_run_slope(&seen, &deposit, &deposit.slope), WR_OK, "the run has a slope");
        check_share(wr_deposit_resistance(&deposit, load, seen.viscosity) * seen.rate, 3.1, 1e-14,
                    "rise of the run, m");
    }
}

/* By hand: 3.1 m over 1.856 kg/m2 at 1.4 mm/s and 1.0 mPa s; at 2 mm/s and 1.5 mPa s 2/1.4 x 1.5 times as much. */
static void slope_is_carried_to_the_reference(void **state)
{
    (void)state;
    struct wr_deposit reference = deposit_of(1);
    double slope = 0;
    check_count(wr_deposit_run_slope(&seen, &reference, &slope), WR_OK, "the run has a slope");
    check_share(slope, 3.1 / 1.856 * (2 / 1.4) * 1.5, 1e-14, "slope at the reference, m per kg/m2: by hand");
}

static void refuses_run(struct wr_deposit_run run, enum wr_status expected)
{
    struct wr_deposit reference = deposit_of(1);
    double slope = -1;
    check_count(wr_deposit_run_slope(&run, &reference, &slope), expected, "status of a run that gives no slope");
    check(slope, -1, 0, "the output stays untouched");
}

static void runs_that_give_no_slope_say_why(void **state)
{
    (void)state;
    struct wr_deposit_run level = seen, falling = seen, dry = seen, clear = seen;
    level.dirty_head = level.clean_head;
    falling.dirty_head = 0.9;
    dry.run_volume = 0;
    clear.solids = 0;
    refuses_run(level, WR_NO_RISE);
    refuses_run(falling, WR_NO_RISE);
    refuses_run(dry, WR_NO_LOAD);
    refuses_run(clear, WR_NO_LOAD);

    const double bad[] = {-1, (double)NAN, (double)INFINITY};
    for (size_t i = 0; i < 3; i++) {
        struct wr_deposit_run runs[6] = {seen, seen, seen, seen, seen, seen};
        runs[0].clean_head = runs[1].dirty_head = runs[2].rate = bad[i];
        runs[3].run_volume = runs[4].solids = runs[5].viscosity = bad[i];
        for (size_t member = 0; member < 6; member++)
            refuses_run(runs[member], WR_OUT_OF_RANGE);
    }
}

static void run_without_a_load_leaves_it_untouched(void **state)
{
    (void)state;
    struct wr_deposit_run clear = seen, wrong = seen;
    double load = -1;
    clear.solids = 0;
    wrong.run_volume = -290;
    check_count(wr_deposit_run_load(&clear, &load), WR_NO_LOAD, "clear water brings no load");
    check_count(wr_deposit_run_load(&wrong, &load), WR_OUT_OF_RANGE, "a negative volume is refused");
    check(load, -1, 0, "the output stays untouched");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(straight_law_is_exactly_its_product),
        cmocka_unit_test(every_exponent_meets_the_slope_at_the_reference_load),
        cmocka_unit_test(load_is_the_inverse_of_resistance),
        cmocka_unit_test(flat_deposit_never_reaches_a_resistance),
        cmocka_unit_test(integral_is_that_of_quadrature),
        cmocka_unit_test(laws_are_found_and_are_the_functions),
        cmocka_unit_test(deposits_out_of_range_are_refused),
        cmocka_unit_test(slope_brings_back_the_run_it_came_from),
        cmocka_unit_test(slope_is_carried_to_the_reference),
        cmocka_unit_test(runs_that_give_no_slope_say_why),
        cmocka_unit_test(run_without_a_load_leaves_it_untouched),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
