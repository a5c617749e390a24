/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/water.h"
#include "tests/support/check.h"

#include <math.h>

static void refuses(double temperature)
{
    double density = -1, viscosity = -2;
    struct wr_water water = {.density = -3, .viscosity = -4};
    check_count(wr_water_density(temperature, &density), WR_OUT_OF_RANGE, "density is refused");
    check_count(wr_water_viscosity(temperature, &viscosity), WR_OUT_OF_RANGE, "viscosity is refused");
    check_count(wr_water_at(temperature, &water), WR_OUT_OF_RANGE, "water is refused");
    check_true(density == -1 && viscosity == -2 && water.density == -3 && water.viscosity == -4,
               "outputs stay untouched");
}

static void temperatures_outside_the_range_are_refused(void **state)
{
    (void)state;
    refuses(nextafter(WR_WATER_COLDEST, 0));
    refuses(nextafter(WR_WATER_WARMEST, 1000));
    refuses(15); /* a Celsius figure where kelvin belong */
    refuses(-(double)INFINITY);
    refuses((double)INFINITY);
    refuses((double)NAN);
}

static void ends_of_the_range_are_inside(void **state)
{
    (void)state;
    struct wr_water water;
    check_count(wr_water_at(WR_WATER_COLDEST, &water), WR_OK, "coldest");
    check_count(wr_water_at(WR_WATER_WARMEST, &water), WR_OK, "warmest");
}

static void water_is_both_properties(void **state)
{
    (void)state;
    struct wr_water water = {0};
    double density = 0, viscosity = 0;
    check_count(wr_water_at(285.15, &water), WR_OK, "12 C is in range");
    check_count(wr_water_density(285.15, &density), WR_OK, "12 C is in range");
    check_count(wr_water_viscosity(285.15, &viscosity), WR_OK, "12 C is in range");
    check(water.density, density, 0, "density, kg/m3: the other function's");
    check(water.viscosity, viscosity, 0, "viscosity, Pa s: the other function's");
}

/* Water is heaviest at 3.98 C (from memory; any text), and thins steadily as it warms. */
static void water_is_heaviest_at_four_celsius_and_thins_as_it_warms(void **state)
{
    (void)state;
    double heaviest = 0, at = 0, before = (double)INFINITY;
    for (int step = 0; step <= 4000; step++) {
        double temperature = 273.15 + 0.01 * step;
        struct wr_water water = {0};
        check_count(wr_water_at(temperature, &water), WR_OK, "the temperature is in range");
        check_true(water.viscosity < before, "viscosity falls");
        before = water.viscosity;
        if (water.density > heaviest) {
            heaviest = water.density;
            at = temperature;
        }
    }
    check(at - 273.15, 3.98, 0.02, "temperature of greatest density, C: from memory");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(temperatures_outside_the_range_are_refused),
        cmocka_unit_test(ends_of_the_range_are_inside),
        cmocka_unit_test(water_is_both_properties),
        cmocka_unit_test(water_is_heaviest_at_four_celsius_and_thins_as_it_warms),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
