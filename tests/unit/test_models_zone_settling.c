/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/kynch.h"
#include "tests/support/check.h"

#include <gsl/gsl_deriv.h>
#include <math.h>
#include <string.h>

#define CELLS 64

/* Illustrative. */
static struct wr_zone vesilind(double greatest)
{
    return (struct wr_zone){wr_zone_law_find("vesilind"), 1e-3, 0.8, 0, greatest};
}

static struct wr_zone richardson_zaki(double exponent, double greatest)
{
    return (struct wr_zone){wr_zone_law_find("richardson_zaki"), 2e-3, exponent, 20, greatest};
}

static void laws_are_found_and_say_their_velocity(void **state)
{
    (void)state;
    struct wr_zone first = vesilind(HUGE_VAL), second = richardson_zaki(4.65, HUGE_VAL),
                   squared = richardson_zaki(2, 15);
    check_share(first.law->velocity(&first, 2.5), 1e-3 * 0.1353352832366127, 1e-15, "velocity, m/s: v0 exp(-2)");
    check_share(second.law->velocity(&second, 10), 2e-3 * exp2(-4.65), 1e-14, "velocity, m/s: v0 0.5^4.65");
    check_share(squared.law->velocity(&squared, 5), 2e-3 * 0.75 * 0.75, 1e-15, "velocity, m/s: v0 0.75^2");
    check(second.law->velocity(&second, 20), 0, 0, "velocity of what is full");
    check(wr_zone_greatest(&first), HUGE_VAL, 0, "greatest concentration without a bed");
    check(wr_zone_greatest(&second), 20, 0, "greatest concentration: full");
    check(wr_zone_greatest(&squared), 15, 0, "greatest concentration: the bed's");
    for (size_t i = 0; i < wr_zone_law_count; i++)
        check_true(wr_zone_law_find(wr_zone_laws[i].name) == &wr_zone_laws[i], "the name finds its own row");
    check_true(wr_zone_law_find("Vesilind") == NULL, "case counts");
}

static double velocity_at(double solids, void *context)
{
    const struct wr_zone *zone = context;
    return zone->law->velocity(zone, solids);
}

static double flux_at(double solids, void *context)
{
    return wr_zone_flux(context, solids);
}

static double speed_at(double solids, void *context)
{
    return wr_zone_speed(context, solids);
}

/* Slopes, peak and inflection against central differences. */
static void slopes_are_those_of_the_velocity(void **state)
{
    (void)state;
    struct wr_zone zones[] = {vesilind(HUGE_VAL), richardson_zaki(4.65, HUGE_VAL), richardson_zaki(2, 15)};
    for (size_t i = 0; i < 3; i++) {
        double slope = 0, error = 0;
        gsl_function velocity = {velocity_at, &zones[i]}, flux = {flux_at, &zones[i]}, speed = {speed_at, &zones[i]};
        for (double solids = 0.5; solids < 14; solids += 1.3) {
            gsl_deriv_central(&velocity, solids, 1e-3, &slope, &error);
            const double v = zones[i].law->velocity(&zones[i], solids);
            check(zones[i].law->slope(&zones[i], solids, v), slope, 1e-11, "dv/dC: central difference");
            gsl_deriv_central(&flux, solids, 1e-3, &slope, &error);
            check(wr_zone_speed(&zones[i], solids), slope, 1e-11, "f': central difference");
        }
        check(wr_zone_speed(&zones[i], zones[i].law->peak(&zones[i])), 0, 1e-17, "f' at the peak");
        gsl_deriv_central(&speed, zones[i].law->inflection(&zones[i]), 1e-3, &slope, &error);
        check(slope, 0, 1e-10, "f'' at the inflection: central difference");
    }
}

static void tangent_of_the_bed_meets_zero_at_the_greatest(void **state)
{
    (void)state;
    const struct wr_zone zones[] = {vesilind(6), vesilind(50), richardson_zaki(4.65, 14), richardson_zaki(2, 19)};
    for (size_t i = 0; i < 4; i++) {
        const double greatest = zones[i].greatest, bed = zones[i].law->bed(&zones[i], greatest);
        check_between(bed, zones[i].law->inflection(&zones[i]), greatest, "bed, kg/m3: beyond the inflection");
        check(wr_zone_flux(&zones[i], bed) + wr_zone_speed(&zones[i], bed) * (greatest - bed), 0, 1e-15,
              "tangent at the greatest, kg/m2/s");
    }
    const struct wr_zone none[] = {vesilind(4.99), richardson_zaki(4.65, 11.6)};
    for (size_t i = 0; i < 2; i++)
        check(none[i].law->bed(&none[i], none[i].greatest), 0, 0,
              "no bed: n x greatest below 4, or greatest/full below 4 m/(m + 1)^2");
}

/* From starts with clear water on top, in layers, at random and nearly packed: solids stay, and stay in bounds. */
static void start(struct wr_zone_column *column, double greatest, int kind)
{
    unsigned seed = 12345;
    for (size_t i = 0; i < column->cells; i++) {
        seed = seed * 1103515245u + 12345u;
        double random = (seed >> 16 & 0x7fff) / 32767.0;
        const double kinds[] = {i < 20 ? 0 : 1, i % 16 < 8 ? 0.2 : 4, greatest * random,
                                greatest * (1 - 1e-3 * random)};
        column->solids[i] = kinds[kind];
    }
}

static void column_keeps_its_solids_within_bounds(void **state)
{
    (void)state;
    struct wr_zone zones[] = {vesilind(6), vesilind(3), richardson_zaki(4.65, HUGE_VAL), richardson_zaki(1.5, 12)};
    for (size_t i = 0; i < 4; i++)
        for (int kind = 0; kind < 4; kind++) {
            double cells[CELLS], greatest = wr_zone_greatest(&zones[i]);
            struct wr_zone_column column = {2, cells, CELLS};
            start(&column, fmin(greatest, 6), kind);
            for (size_t k = 0; k < CELLS; k++)
                cells[k] = fmin(cells[k], greatest);
            double load = wr_zone_load(&column);
            for (double time = 1; time < 1e4; time *= 1.5) {
                wr_zone_advance(&zones[i], &column, time);
                for (size_t k = 0; k < CELLS; k++)
                    check_between(cells[k], 0, greatest, "concentration of a cell, kg/m3");
            }
            check_share(wr_zone_load(&column), load, 1e-12, "solids of the column, kg/m2");
        }
}

static void packed_column_stands_still(void **state)
{
    (void)state;
    struct wr_zone zone = vesilind(6);
    double cells[CELLS], before[CELLS];
    struct wr_zone_column column = {2, cells, CELLS};
    for (size_t i = 0; i < CELLS; i++)
        cells[i] = i < 40 ? 0 : 6;
    memcpy(before, cells, sizeof before);
    wr_zone_advance(&zone, &column, 1e4);
    for (size_t i = 0; i < CELLS; i++)
        check(cells[i], before[i], 0, "concentration of a cell of clear water over a bed, kg/m3");
    check_share(wr_zone_height(&column, 0.1), 24 * 2.0 / CELLS, 1e-15, "height of the bed, m: 24 of 64 cells");
    wr_zone_advance(&zone, &column, 0);
    check_share(wr_zone_load(&column), 24 * 6 * 2.0 / CELLS, 1e-15, "solids, kg/m2");
}

static void height_is_read_from_the_cells(void **state)
{
    (void)state;
    double cells[CELLS];
    struct wr_zone_column column = {CELLS, cells, CELLS}; /* cells 1 m high */
    wr_zone_fill(&column, 2);
    check_share(wr_zone_height(&column, 0.1), CELLS, 1e-15, "height of a mixed column, m: its depth");
    check(wr_zone_height(&column, 2), 0, 0, "height of a column that is clear enough, m");
    cells[0] = 0.5;
    check_share(wr_zone_height(&column, 0.1), CELLS - 0.75, 1e-15, "height, m: a quarter of the first cell is filled");
    cells[0] = 0, cells[1] = 0.02, cells[2] = 0.6, cells[3] = 1.9;
    check_share(wr_zone_height(&column, 0.1), 60 + 2.52 / 2, 1e-15, "height of a spread face, m: where its solids end");
    check_share(wr_zone_height(&column, 0.01), 60 + 2.52 / 2, 1e-15, "height of the same face for clearer water, m");
    for (size_t i = 0; i < CELLS; i++)
        cells[i] = 0.1 * (double)i;
    check_share(wr_zone_height(&column, 3.05), 33, 1e-15, "height in a slope, m: between the centres of two cells");
}

static void clear_water_comes_when_kynch_says(void **state)
{
    (void)state;
    struct wr_zone zone = vesilind(9);
    double cells[WR_ZONE_CELLS];
    struct wr_kynch settling;
    check_count(wr_kynch_solve(&zone, 0.7, 3, &settling), WR_OK, "the settling is in range");
    for (double height = 2.9; height > 0.25; height -= 0.2) {
        struct wr_zone_column column = {3, cells, WR_ZONE_CELLS};
        wr_zone_fill(&column, 0.7);
        double time = wr_zone_time(&zone, &column, &(struct wr_zone_wait){0.05, height, 1e6}), exact = 0;
        check_count(wr_kynch_time(&settling, height, &exact), WR_OK, "the time can be found");
        double there = 0;
        check_count(wr_kynch_height(&settling, time, &there), WR_OK, "the height can be found");
        check(there, height, 0.005 * 3, "exact height at the time found, m: within half a percent of depth");
        check_between(wr_zone_height(&column, 0.05), 0, height, "the column stands there, m");
        if (height > 0.6)
            check(time, exact, 20, "time, s: the exact one within that of half a percent of depth");
    }
}

/* A fixed seed: the same laws each time. */
static double random_between(unsigned *seed, double low, double high)
{
    *seed = *seed * 1103515245u + 12345u;
    return low + (high - low) * (double)(*seed >> 16 & 0x7fff) / 32767.0;
}

/* Two per cent of depth, of which a cell is half a per cent: some cells where interface and blanket meet. */
static void random_laws_come_near_the_exact_interface(void **state)
{
    (void)state;
    unsigned seed = 2024;
    double cells[WR_ZONE_CELLS], worst = 0;
    for (int i = 0; i < 20; i++) {
        struct wr_zone zone = i % 2 ? vesilind(HUGE_VAL) : richardson_zaki(random_between(&seed, 2, 6), HUGE_VAL);
        double lowest = zone.law->inflection(&zone);
        zone.greatest = lowest * random_between(&seed, 0.6, 4);
        double solids = fmin(wr_zone_greatest(&zone), lowest) * random_between(&seed, 0.05, 0.9);
        struct wr_kynch settling;
        check_count(wr_kynch_solve(&zone, solids, 3, &settling), WR_OK, "the settling is in range");
        struct wr_zone_column column = {3, cells, WR_ZONE_CELLS};
        wr_zone_fill(&column, solids);
        for (int k = 1; k <= 40; k++) {
            double time = settling.straight_until * k / 25, height = 0;
            wr_zone_advance(&zone, &column, settling.straight_until / 25);
            check_count(wr_kynch_height(&settling, time, &height), WR_OK, "the height can be found");
            worst = fmax(worst, fabs(wr_zone_height(&column, 0.05 * solids) - height) / 3);
        }
    }
    print_message("worst of 20 laws: %.2f %% of depth\n", 100 * worst);
    check_between(worst, 0, 0.02, "interface in cells from the exact one, share of depth");
}

static void wait_that_has_no_end_is_given_up(void **state)
{
    (void)state;
    struct wr_zone zone = vesilind(9);
    double cells[CELLS];
    struct wr_zone_column column = {3, cells, CELLS};
    wr_zone_fill(&column, 0.7);
    check(wr_zone_time(&zone, &column, &(struct wr_zone_wait){0.01, 3, 1e6}), 0, 0, "time to the depth it has, s");
    check(wr_zone_time(&zone, &column, &(struct wr_zone_wait){0.01, 0.2, 1e6}), HUGE_VAL, 0,
          "time to less than the bed: never");
    check(cells[0], 0.7, 0, "the column stays untouched");
    check(wr_zone_time(&zone, &column, &(struct wr_zone_wait){0.01, 0.3, 100}), HUGE_VAL, 0, "time beyond the longest");
    check(wr_zone_height(&column, 0.01), 3 - 100 * 1e-3 * exp(-0.8 * 0.7), 0.005 * 3,
          "height of the interface after the longest wait, m: H - v(C0) t");
}

static void waters_out_of_range_are_refused(void **state)
{
    (void)state;
    const double bad[] = {0, -1, (double)NAN, (double)INFINITY};
    for (size_t i = 0; i < 4; i++) {
        struct wr_zone zones[] = {vesilind(9), vesilind(9), richardson_zaki(3, 9), richardson_zaki(3, 9)};
        zones[0].free_velocity = zones[1].hindrance = zones[2].hindrance = zones[3].full = bad[i];
        for (size_t k = 0; k < 4; k++)
            check_count(wr_zone_check(&zones[k]), WR_OUT_OF_RANGE, "the water is refused");
    }
    for (size_t i = 0; i < 3; i++) {
        struct wr_zone zone = vesilind(bad[i]);
        check_count(wr_zone_check(&zone), WR_OUT_OF_RANGE, "the bed is refused");
    }
    struct wr_zone flat = richardson_zaki(1.4, 9), steep = richardson_zaki(10.1, 9), fit = richardson_zaki(4.65, 9);
    check_count(wr_zone_check(&flat), WR_OUT_OF_RANGE, "an exponent below 1.5 is refused");
    check_count(wr_zone_check(&steep), WR_OUT_OF_RANGE, "an exponent above 10 is refused");
    check_count(wr_zone_check(&fit), WR_OK, "the water is in range");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(laws_are_found_and_say_their_velocity),
        cmocka_unit_test(slopes_are_those_of_the_velocity),
        cmocka_unit_test(tangent_of_the_bed_meets_zero_at_the_greatest),
        cmocka_unit_test(column_keeps_its_solids_within_bounds),
        cmocka_unit_test(packed_column_stands_still),
        cmocka_unit_test(height_is_read_from_the_cells),
        cmocka_unit_test(clear_water_comes_when_kynch_says),
        cmocka_unit_test(random_laws_come_near_the_exact_interface),
        cmocka_unit_test(wait_that_has_no_end_is_given_up),
        cmocka_unit_test(waters_out_of_range_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
