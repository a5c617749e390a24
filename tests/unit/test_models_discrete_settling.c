/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/discrete_settling.h"
#include "tests/support/check.h"

#include <math.h>

#define COUNT(array) (sizeof(array) / sizeof(array)[0])

/* Illustrative. At 2 m the classes are gone after 1000 s, 4000 s and never. */
static const struct wr_discrete_class classes[] = {{0.3, 5e-4}, {0.6, 2e-3}, {0.1, 0}};
static const struct wr_discrete_mix mix = {classes, COUNT(classes), 1};
static const double top = 2;

static void top_keeps_what_has_not_fallen_out_of_it(void **state)
{
    (void)state;
    check(wr_discrete_left(&mix, top, 0), 1, 1e-15, "share left at the start: all");
    check(wr_discrete_left(&mix, top, 500), 0.6 * 0.5 + 0.3 * 0.875 + 0.1, 1e-15, "share left after 500 s: by hand");
    check(wr_discrete_left(&mix, top, 1000), 0.3 * 0.75 + 0.1, 1e-15, "share left after 1000 s: by hand");
    check(wr_discrete_left(&mix, top, 2500), 0.3 * 0.375 + 0.1, 1e-15, "share left after 2500 s: by hand");
    check(wr_discrete_left(&mix, top, 1e9), 0.1, 1e-15, "share left at last: what does not settle");
}

/* The mean over the depth of what each depth holds, by 20000 slices; a class may be off by a slice. */
static void mean_is_that_of_the_depths(void **state)
{
    (void)state;
    const int slices = 20000;
    for (double time = 0; time < 5000; time += 271) {
        double sum = 0;
        for (int i = 0; i < slices; i++)
            sum += wr_discrete_share_at(&mix, (i + 0.5) * top / slices, time);
        check(wr_discrete_left(&mix, top, time), sum / slices, 1.0 / slices, "share left: sum over slices");
    }
}

static void depths_clear_from_the_top(void **state)
{
    (void)state;
    check(wr_discrete_share_at(&mix, 0, 0), 1, 1e-15, "share at the surface at the start: all");
    check(wr_discrete_share_at(&mix, 0, 1), 0.1, 1e-15, "share at the surface later: what does not settle");
    check(wr_discrete_share_at(&mix, 1, 600), 0.4, 1e-15, "share 1 m down after 600 s: by hand");
    check(wr_discrete_share_at(&mix, 1.3, 600), 1, 1e-15, "share 1.3 m down after 600 s: by hand");
}

static void time_is_the_inverse_of_the_share_left(void **state)
{
    (void)state;
    check(wr_discrete_time(&mix, top, 1), 0, 0, "time to keep all");
    check_share(wr_discrete_time(&mix, top, 0.325), 1000, 1e-14, "time to the share at which a class has gone, s");
    check_share(wr_discrete_time(&mix, top, 0.2125), 2500, 1e-14, "time to a share between two such, s: by hand");
    check_share(wr_discrete_time(&mix, top, 0.1), 4000, 1e-14, "time to the share that does not settle, s");
    for (double time = 10; time < 4000; time += 123)
        check_share(wr_discrete_time(&mix, top, wr_discrete_left(&mix, top, time)), time, 1e-12, "time there and back");
}

static void what_does_not_settle_never_goes(void **state)
{
    (void)state;
    check(wr_discrete_time(&mix, top, 0.0999), HUGE_VAL, 0, "time to less than what does not settle: never");
    struct wr_discrete_class still = {1, 0};
    struct wr_discrete_mix stuck = {&still, 1, 1};
    check(wr_discrete_time(&stuck, top, 0.5), HUGE_VAL, 0, "time of a water that does not settle: never");
    struct wr_discrete_class unused[] = {{1, 1e-3}, {0, 0}};
    struct wr_discrete_mix clears = {unused, 2, 1};
    check_share(wr_discrete_time(&clears, top, 0), 2000, 1e-15, "time to clear water: a class without share is none");
    for (double velocity = 1e-5; velocity < 1e-2; velocity *= 1.01) {
        unused[0].velocity = velocity;
        check_share(wr_discrete_time(&clears, top, 0), top / velocity, 1e-15, "time to clear water, s");
    }
}

static void polymer_makes_time_pass_faster(void **state)
{
    (void)state;
    struct wr_discrete_mix dosed = mix;
    dosed.polymer_factor = 2.5;
    for (double time = 0; time < 3000; time += 111)
        check(wr_discrete_left(&dosed, top, time), wr_discrete_left(&mix, top, 2.5 * time), 1e-15,
              "share left with polymer: that of a time 2.5 times as long");
    check_share(wr_discrete_time(&dosed, top, 0.2), wr_discrete_time(&mix, top, 0.2) / 2.5, 1e-14,
                "time with polymer, s");
}

static void refuses(struct wr_discrete_class first, struct wr_discrete_class second, double polymer_factor)
{
    struct wr_discrete_class pair[] = {first, second};
    struct wr_discrete_mix bad = {pair, 2, polymer_factor};
    check_count(wr_discrete_check(&bad), WR_OUT_OF_RANGE, "the mix is refused");
}

static void mixes_out_of_range_are_refused(void **state)
{
    (void)state;
    const struct wr_discrete_class half = {0.5, 1e-3};
    check_count(wr_discrete_check(&mix), WR_OK, "the mix is in range");
    check_count(wr_discrete_check(&(struct wr_discrete_mix){classes, 0, 1}), WR_OUT_OF_RANGE, "no class is refused");
    refuses(half, (struct wr_discrete_class){0.49, 1e-3}, 1);
    refuses((struct wr_discrete_class){1.5, 1e-3}, (struct wr_discrete_class){-0.5, 1e-3}, 1);
    const double bad[] = {-1, (double)NAN, (double)INFINITY};
    for (size_t i = 0; i < COUNT(bad); i++) {
        refuses(half, (struct wr_discrete_class){bad[i], 1e-3}, 1);
        refuses(half, (struct wr_discrete_class){0.5, bad[i]}, 1);
        refuses(half, half, bad[i]);
    }
    refuses(half, half, 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(top_keeps_what_has_not_fallen_out_of_it),
        cmocka_unit_test(mean_is_that_of_the_depths),
        cmocka_unit_test(depths_clear_from_the_top),
        cmocka_unit_test(time_is_the_inverse_of_the_share_left),
        cmocka_unit_test(what_does_not_settle_never_goes),
        cmocka_unit_test(polymer_makes_time_pass_faster),
        cmocka_unit_test(mixes_out_of_range_are_refused),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
