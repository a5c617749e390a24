/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/sludge.h"
#include "tests/support/check.h"

#include <math.h>

#define HOUR 3600.0

/* Illustrative: 0.8 to 2.0 kg/m3 in half a day. */
static const struct wr_sludge_law law = {0.8, 2.0, 12 * HOUR};

static void fresh_deposit_takes_its_first_volume(void **state)
{
    (void)state;
    struct wr_sludge sludge = {0};
    check(wr_sludge_volume(&law, &sludge), 0, 0, "volume of no sludge");
    wr_sludge_add(&law, &sludge, 4);
    check_share(wr_sludge_volume(&law, &sludge), 5, 1e-15, "volume, m3: 4 kg at 0.8 kg/m3");
    check(sludge.solids, 4, 0, "dry solids, kg");
}

static void blanket_tends_to_its_last_volume(void **state)
{
    (void)state;
    struct wr_sludge sludge = {0};
    wr_sludge_add(&law, &sludge, 4);
    wr_sludge_thicken(&law, &sludge, 0);
    check_share(wr_sludge_volume(&law, &sludge), 5, 1e-15, "volume at once, m3");
    wr_sludge_thicken(&law, &sludge, 12 * HOUR * 0.6931471805599453);
    check_share(wr_sludge_volume(&law, &sludge), 3.5, 1e-15, "volume, m3, half way from 5 to 2");
    wr_sludge_thicken(&law, &sludge, 1000 * HOUR);
    check_share(wr_sludge_volume(&law, &sludge), 2, 1e-15, "volume at last, m3: 4 kg at 2 kg/m3");
    check(sludge.solids, 4, 0, "dry solids stay, kg");
}

/* Every deposit apart, each by its age, against the two numbers. */
static void two_numbers_hold_the_whole_history(void **state)
{
    (void)state;
    struct wr_sludge sludge = {0};
    double sum = 0, elapsed = 0;
    for (int i = 0; i < 40; i++) {
        double deposit = 1 + i % 3, gap = HOUR * (1 + i % 7), left = 0;
        wr_sludge_add(&law, &sludge, deposit);
        wr_sludge_thicken(&law, &sludge, gap);
        elapsed += gap;
        sum = 0;
        for (int j = 0, born = 0; j <= i; born += 1 + j % 7, j++) {
            double age = elapsed - born * HOUR;
            left = exp(-age / law.time_constant);
            sum += (1 + j % 3) * (left / law.first_solids + (1 - left) / law.last_solids);
        }
        check_share(wr_sludge_volume(&law, &sludge), sum, 1e-13, "volume, m3: sum over deposits by their age");
    }
}

static void draw_takes_old_and_young_alike(void **state)
{
    (void)state;
    struct wr_sludge sludge = {0}, half;
    wr_sludge_add(&law, &sludge, 4);
    wr_sludge_thicken(&law, &sludge, 5 * HOUR);
    half = sludge;
    double volume = wr_sludge_volume(&law, &sludge), drawn = -1;
    check_count(wr_sludge_draw(&law, &half, volume / 4, &drawn), WR_OK, "the draw is in range");
    check_share(drawn, 1, 1e-15, "dry solids drawn, kg: a quarter of 4");
    check_share(half.solids, 3, 1e-15, "dry solids left, kg");
    check_share(wr_sludge_volume(&law, &half), 0.75 * volume, 1e-15, "volume left, m3");
    check_count(wr_sludge_draw(&law, &sludge, volume, &drawn), WR_OK, "all of it may be drawn");
    check(sludge.solids, 0, 0, "dry solids left, kg");
    check(wr_sludge_volume(&law, &sludge), 0, 0, "volume left, m3");
    check_count(wr_sludge_draw(&law, &sludge, 0, &drawn), WR_OK, "nothing may be drawn from nothing");
    check(drawn, 0, 0, "dry solids drawn from nothing, kg");
}

static void draw_of_what_is_not_there_is_refused(void **state)
{
    (void)state;
    struct wr_sludge sludge = {0};
    wr_sludge_add(&law, &sludge, 4);
    const double bad[] = {5.001, -1, (double)NAN, (double)INFINITY};
    for (size_t i = 0; i < 4; i++) {
        double drawn = -1;
        check_count(wr_sludge_draw(&law, &sludge, bad[i], &drawn), WR_OUT_OF_RANGE, "the draw is refused");
        check(drawn, -1, 0, "the output stays untouched");
        check(sludge.solids, 4, 0, "the blanket stays untouched");
        check_share(wr_sludge_volume(&law, &sludge), 5, 1e-15, "the blanket stays untouched");
    }
}

static void time_is_when_the_volume_is_reached(void **state)
{
    (void)state;
    struct wr_sludge sludge = {0};
    wr_sludge_add(&law, &sludge, 4);
    check(wr_sludge_time(&law, &sludge, 5), 0, 0, "time to the volume it has");
    check(wr_sludge_time(&law, &sludge, 6), 0, 0, "time to a volume above it");
    check(wr_sludge_time(&law, &sludge, 2), HUGE_VAL, 0, "time to the volume it tends to: never");
    check(wr_sludge_time(&law, &sludge, 0), HUGE_VAL, 0, "time to nothing: never");
    for (double volume = 2.1; volume < 5; volume += 0.37) {
        struct wr_sludge later = sludge;
        wr_sludge_thicken(&law, &later, wr_sludge_time(&law, &sludge, volume));
        check_share(wr_sludge_volume(&law, &later), volume, 1e-14, "volume at that time, m3");
    }
}

static void sludge_that_does_not_thicken_stays(void **state)
{
    (void)state;
    const struct wr_sludge_law stiff = {1.8, 1.8, HOUR};
    struct wr_sludge sludge = {0};
    check_count(wr_sludge_check(&stiff), WR_OK, "equal solids are in range");
    wr_sludge_add(&stiff, &sludge, 3.6);
    check(sludge.excess, 0, 0, "water to give up, m3");
    check_share(wr_sludge_volume(&stiff, &sludge), 2, 1e-15, "volume, m3");
    check(wr_sludge_time(&stiff, &sludge, 1.9), HUGE_VAL, 0, "time to a smaller volume: never");
}

static void laws_out_of_range_are_refused(void **state)
{
    (void)state;
    const double bad[] = {0, -1, (double)NAN, (double)INFINITY};
    check_count(wr_sludge_check(&law), WR_OK, "the law is in range");
    for (size_t i = 0; i < 4; i++) {
        struct wr_sludge_law laws[] = {law, law, law};
        laws[0].first_solids = laws[1].last_solids = laws[2].time_constant = bad[i];
        for (size_t member = 0; member < 3; member++)
            check_count(wr_sludge_check(&laws[member]), WR_OUT_OF_RANGE, "the law is refused");
    }
    struct wr_sludge_law thinning = {2.0, 1.9, HOUR};
    check_count(wr_sludge_check(&thinning), WR_OUT_OF_RANGE, "sludge that thins is refused");
}

static void recovery_out_of_range_is_refused(void **state)
{
    (void)state;
    double share = -1;
    check_count(wr_sludge_best_recovery(2, 1.8, &share), WR_OUT_OF_RANGE, "water thicker than its sludge is refused");
    check_count(wr_sludge_best_recovery(-0.1, 1.8, &share), WR_OUT_OF_RANGE, "negative solids are refused");
    check_count(wr_sludge_best_recovery(0, 0, &share), WR_OUT_OF_RANGE, "sludge without solids is refused");
    check_count(wr_sludge_best_recovery((double)NAN, 1.8, &share), WR_OUT_OF_RANGE, "no number is refused");
    check(share, -1, 0, "the output stays untouched");
    check_count(wr_sludge_best_recovery(0, 1.8, &share), WR_OK, "clear water is in range");
    check(share, 1, 0, "clear water comes back whole");
    check_count(wr_sludge_best_recovery(1.8, 1.8, &share), WR_OK, "sludge as wash water is in range");
    check(share, 0, 0, "and none of it comes back");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(fresh_deposit_takes_its_first_volume), cmocka_unit_test(blanket_tends_to_its_last_volume),
        cmocka_unit_test(two_numbers_hold_the_whole_history),   cmocka_unit_test(draw_takes_old_and_young_alike),
        cmocka_unit_test(draw_of_what_is_not_there_is_refused), cmocka_unit_test(time_is_when_the_volume_is_reached),
        cmocka_unit_test(sludge_that_does_not_thicken_stays),   cmocka_unit_test(laws_out_of_range_are_refused),
        cmocka_unit_test(recovery_out_of_range_is_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
