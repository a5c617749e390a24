/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/kynch.h"
#include "tests/support/check.h"

#include <math.h>

/* Illustrative, numbers near one, so that closed forms stay short. */
static struct wr_zone vesilind(double greatest)
{
    return (struct wr_zone){wr_zone_law_find("vesilind"), 1e-3, 0.8, 0, greatest};
}

static struct wr_zone richardson_zaki(double greatest)
{
    return (struct wr_zone){wr_zone_law_find("richardson_zaki"), 2e-3, 3.2, 20, greatest};
}

static struct wr_kynch solved(struct wr_zone zone, double solids, double depth)
{
    struct wr_kynch settling = {0};
    check_count(wr_kynch_solve(&zone, solids, depth, &settling), WR_OK, "the settling is in range");
    return settling;
}

static double height_at(const struct wr_kynch *settling, double time)
{
    double height = -1;
    check_count(wr_kynch_height(settling, time, &height), WR_OK, "the height can be found");
    return height;
}

static double time_at(const struct wr_kynch *settling, double height)
{
    double time = -1;
    check_count(wr_kynch_time(settling, height, &time), WR_OK, "the time can be found");
    return time;
}

/* For each C of the fan t = C0 H/(C^2 |v'|) and h = |f'| t, here from the laws written out. */
static void fan_follows_its_parametric_form(void **state)
{
    (void)state;
    struct wr_kynch by_vesilind = solved(vesilind(HUGE_VAL), 0.7, 3);
    for (double c = 1.001 * by_vesilind.face; c < 30; c *= 1.1) {
        double v = 1e-3 * exp(-0.8 * c), time = 0.7 * 3 / (0.8 * c * c * v);
        check_share(height_at(&by_vesilind, time), 0.7 * 3 * (0.8 * c - 1) / (0.8 * c * c), 1e-11,
                    "height, m: parametric form for Vesilind");
    }
    struct wr_kynch by_share = solved(richardson_zaki(HUGE_VAL), 3, 2);
    for (double c = 1.001 * by_share.face; c < 19.5; c += 0.4) {
        double room = 1 - c / 20, v = 2e-3 * pow(room, 3.2), slope = 3.2 / 20 * 2e-3 * pow(room, 2.2);
        double time = 3 * 2 / (c * c * slope);
        check_share(height_at(&by_share, time), (c * slope - v) * time, 1e-11,
                    "height, m: parametric form for Richardson and Zaki");
    }
}

static void time_is_the_inverse_of_height(void **state)
{
    (void)state;
    const struct wr_kynch settlings[] = {solved(vesilind(HUGE_VAL), 0.7, 3),
                                         solved(vesilind(9), 0.7, 3),
                                         solved(vesilind(4), 0.7, 3),
                                         solved(vesilind(HUGE_VAL), 4, 3),
                                         solved(richardson_zaki(HUGE_VAL), 3, 2),
                                         solved(richardson_zaki(14), 3, 2)};
    for (size_t i = 0; i < sizeof settlings / sizeof settlings[0]; i++)
        for (double time = 10; time < fmin(settlings[i].fall_until, 1e6); time *= 1.3)
            check_share(time_at(&settlings[i], height_at(&settlings[i], time)), time, 1e-8, "time there and back, s");
}

static void interface_never_rises(void **state)
{
    (void)state;
    struct wr_kynch settling = solved(vesilind(9), 0.7, 3);
    double before = 3;
    for (double time = 0; time < 2 * settling.fall_until; time += settling.fall_until / 500) {
        double now = height_at(&settling, time);
        check_between(now, 3 * 0.7 / 9 - 1e-15, before, "height of the interface, m");
        before = now;
    }
    check_share(before, 3 * 0.7 / 9, 1e-14, "height at last, m: all solids in the bed");
}

/* n x greatest below 4: no concentration is tangent to the bed, one face goes from C0 to it. */
static void thin_bed_stops_a_straight_fall(void **state)
{
    (void)state;
    struct wr_kynch settling = solved(vesilind(4), 0.7, 3);
    double v = 1e-3 * exp(-0.8 * 0.7), rise = 0.7 * v / (4 - 0.7);
    check_share(settling.straight_until, 3 / (v + rise), 1e-14, "end of the fall, s: by hand");
    check_share(settling.fall_until, settling.straight_until, 0, "nothing follows the straight fall");
    check_share(height_at(&settling, settling.fall_until), 3 * 0.7 / 4, 1e-14, "height of the bed, m");
    check_share(height_at(&settling, settling.fall_until * (1 - 1e-12)), 3 * 0.7 / 4, 1e-9, "height just before, m");
}

static void thick_water_has_no_face(void **state)
{
    (void)state;
    struct wr_kynch settling = solved(vesilind(HUGE_VAL), 4, 3);
    check(settling.face, 4, 0, "concentration that first meets the interface: the water's own");
    double v = 1e-3 * exp(-3.2);
    check_share(settling.straight_until, 3 / (v * 3.2), 1e-14,
                "end of the straight fall, s: H/(v + s), s = (n C - 1) v");
}

static void time_is_zero_above_and_never_below(void **state)
{
    (void)state;
    struct wr_kynch settling = solved(vesilind(9), 0.7, 3), endless = solved(vesilind(HUGE_VAL), 0.7, 3);
    check(time_at(&settling, 3), 0, 0, "time to the depth");
    check(time_at(&settling, 5), 0, 0, "time to more than the depth");
    check(time_at(&settling, 0.99 * 3 * 0.7 / 9), HUGE_VAL, 0, "time to less than the bed: never");
    check(time_at(&endless, 0), HUGE_VAL, 0, "time to the floor: never");
    check_true(time_at(&endless, 0.02) > 1e6, "without a bed the interface sinks on, ever more slowly");
}

static void refuses(struct wr_zone zone, double solids, double depth)
{
    struct wr_kynch settling = {.solids = -1};
    check_count(wr_kynch_solve(&zone, solids, depth, &settling), WR_OUT_OF_RANGE, "the settling is refused");
    check(settling.solids, -1, 0, "the output stays untouched");
}

static void settlings_out_of_range_are_refused(void **state)
{
    (void)state;
    const double bad[] = {0, -1, (double)NAN, (double)INFINITY};
    for (size_t i = 0; i < 4; i++) {
        refuses(vesilind(9), bad[i], 3);
        refuses(vesilind(9), 0.7, bad[i]);
        struct wr_zone zone = vesilind(9);
        zone.free_velocity = bad[i];
        refuses(zone, 0.7, 3);
    }
    refuses(vesilind(9), 9, 3);
    refuses(richardson_zaki(HUGE_VAL), 20, 3);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fan_follows_its_parametric_form),
        cmocka_unit_test(time_is_the_inverse_of_height),
        cmocka_unit_test(interface_never_rises),
        cmocka_unit_test(thin_bed_stops_a_straight_fall),
        cmocka_unit_test(thick_water_has_no_face),
        cmocka_unit_test(time_is_zero_above_and_never_below),
        cmocka_unit_test(settlings_out_of_range_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
