/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The filter of UFC 3-280-04 (US Department of Defense, 17 Dec 2003), appendix B: five wells of 6 gal/min, 50 mg/L of
 * suspended solids, one 48 in pressure filter washed at 15 gal/min/ft2 for 10 minutes twice a day, 3.43 kPa across the
 * clean bed and 68.9 kPa at the trigger. A published design, not a measured plant. */

#include "models/constants.h"
#include "models/deposit.h"
#include "models/vessel.h"
#include "models/water.h"
#include "tests/support/check.h"

#define INCH 0.0254
#define FOOT 0.3048
#define GALLON 3.785411784e-3
#define POUND 0.45359237
#define MINUTE 60.0
#define DAY 86400.0

static const double flow = 5 * 6 * GALLON / MINUTE;
static const double suspended_solids = 0.050; /* kg/m3 */

static double area_of_48_inches(void)
{
    double area = 0;
    check_count(wr_vessel_area(48 * INCH, &area), WR_OK, "48 in is in range");
    return area;
}

static double metres_of_kilopascals(double kilopascals, struct wr_water water)
{
    return 1e3 * kilopascals / (water.density * WR_GRAVITY);
}

static struct wr_water water_at_15_celsius(void)
{
    struct wr_water water = {0};
    check_count(wr_water_at(288.15, &water), WR_OK, "15 C is in range");
    return water;
}

/* One run between two washes a day, raw solids only. */
static struct wr_deposit_run first_run(struct wr_water water)
{
    double rate = flow / area_of_48_inches();
    return (struct wr_deposit_run){.clean_head = metres_of_kilopascals(3.43, water),
                                   .dirty_head = metres_of_kilopascals(68.9, water),
                                   .rate = rate,
                                   .run_volume = rate * DAY / 2,
                                   .solids = suspended_solids,
                                   .viscosity = water.viscosity};
}

static void vessel_has_the_printed_area_and_wash(void **state)
{
    (void)state;
    double square_feet = area_of_48_inches() / (FOOT * FOOT);
    check(square_feet, 12.57, 0.005, "area of a 48 in vessel, ft2: published, UFC appendix B");
    check(square_feet, 12.566, 0.0005, "area, ft2: regression");
    double wash = square_feet * 15 * 10;
    check(wash, 1885, 0.5, "water of one wash, gal: published, UFC appendix B");
    check(wash, 1884.96, 0.005, "water of one wash, gal: regression");
    check(30 * 30 + 2 * wash, 4670, 0.5, "equalisation of 30 gal/min x 30 min and two washes, gal: published");
    check(5 * 6 * 1440 + 2 * wash, 46970, 0.5, "daily flow with the returned wash water, gal: published");
}

static void day_brings_the_printed_solids(void **state)
{
    (void)state;
    struct wr_deposit_run run = first_run(water_at_15_celsius());
    double load = 0;
    check_count(wr_deposit_run_load(&run, &load), WR_OK, "the run has a load");
    check(load, 3.502, 5e-4, "load of the first run, kg/m2: regression");
    double pounds_per_foot2 = 2 * load * FOOT * FOOT / POUND;
    check(pounds_per_foot2, 1.43, 0.005, "solids, lb/ft2/d: published, UFC appendix B");
    check(pounds_per_foot2, 1.434, 1e-3, "solids, lb/ft2/d: regression");
    double pounds = pounds_per_foot2 * area_of_48_inches() / (FOOT * FOOT);
    check(pounds, 18.0, 0.05, "solids of the raw water, lb/d: published, UFC appendix B");
    check(pounds, 18.03, 0.005, "solids, lb/d, without the rounded factor 8.34: regression");
}

/* The slope is taken from two washes a day, so that the trigger falls after 12 h is consistency and not proof. */
static void slope_calls_the_wash_after_half_a_day(void **state)
{
    (void)state;
    struct wr_water water = water_at_15_celsius();
    struct wr_deposit_run run = first_run(water);
    struct wr_deposit deposit = {.reference_rate = run.rate, .reference_viscosity = water.viscosity, .exponent = 1};
    check_count(wr_deposit_run_slope(&run, &deposit, &deposit.slope), WR_OK, "the run has a slope");
    double kilopascals = deposit.slope * water.density * WR_GRAVITY / 1e3;
    check(kilopascals / 1e3, 0.0187, 5e-5, "slope, kPa per g/m2: regression from the published heads and hours");

    double rise = run.dirty_head - run.clean_head;
    double trigger = wr_deposit_load(&deposit, rise / run.rate, water.viscosity);
    check_share(trigger / (suspended_solids * run.rate), DAY / 2, 1e-12, "time to the trigger, s: consistency");
}

/* Published: run volumes of Spellman, Mathematics and Statistics for the Environment, examples 23.78 to 23.80. */
static void run_volumes_gather_their_loads(void **state)
{
    (void)state;
    static const struct {
        double gallons_per_minute_foot2, minutes, gallons_per_foot2;
    } rows[] = {{2, 4250, 8500}, {3.2, 61.0 * 60, 11712}};
    for (size_t i = 0; i < 2; i++) {
        double rate = rows[i].gallons_per_minute_foot2 * GALLON / MINUTE / (FOOT * FOOT);
        struct wr_deposit_run run = {.run_volume = rate * rows[i].minutes * MINUTE, .solids = 1e-3};
        double load = 0;
        check_count(wr_deposit_run_load(&run, &load), WR_OK, "the run has a load");
        check_share(load / 1e-3 * FOOT * FOOT / GALLON, rows[i].gallons_per_foot2, 1e-12,
                    "run volume whose every m3 brings 1 g, gal/ft2: published, Spellman");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(vessel_has_the_printed_area_and_wash),
        cmocka_unit_test(day_brings_the_printed_solids),
        cmocka_unit_test(slope_calls_the_wash_after_half_a_day),
        cmocka_unit_test(run_volumes_gather_their_loads),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
