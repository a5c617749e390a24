/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Grain curves, and the media table's figures of grains. */
#include "models/grain_curve.h"
#include "models/media.h"
#include "tests/support/check.h"

#include <math.h>
#include <string.h>

/* Published: Davis 2010, example 11-1 p. 11-7; openings of the sieves are those of the series of ASTM E11. */
static const struct wr_sieve davis_sieves[] = {
    {0.106e-3, 0.002}, {0.15e-3, 0.009}, {0.212e-3, 0.040}, {0.30e-3, 0.099}, {0.425e-3, 0.218}, {0.60e-3, 0.394},
    {0.85e-3, 0.598},  {1.18e-3, 0.744}, {1.70e-3, 0.915},  {2.36e-3, 0.968}, {3.35e-3, 0.990},
};

static double size_of(const struct wr_grain_curve *curve, double share)
{
    double size = 0;
    check_count(wr_grain_curve_size(curve, share, &size), WR_OK, "the curve has that share");
    return size;
}

static void sieves_have_davis_example(void **state)
{
    (void)state;
    const struct wr_grain_curve curve = {.sieves = davis_sieves, .count = 11};
    check(1e3 * size_of(&curve, 0.10), 0.30, 0.005, "effective size, mm: published, Davis example 11-1");
    check(1e3 * size_of(&curve, 0.10), 0.301, 5e-4, "the same, log size against share: worked by hand");
    check(1e3 * size_of(&curve, 0.60), 0.854, 5e-4, "size that 60 % is finer than, mm: likewise");
    double untouched = -1;
    check_count(wr_grain_curve_size(&curve, 0.001, &untouched), WR_OUT_OF_RANGE, "finer than the finest sieve");
    check_count(wr_grain_curve_size(&curve, 0.995, &untouched), WR_OUT_OF_RANGE, "coarser than the coarsest");
    check(untouched, -1, 0, "and nothing is written");
}

/* d90 = d10 UC^1.67 for a log-normal curve: computed from quantiles, (1.2816 + 1.2816)/(0.2533 + 1.2816) = 1.670. */
static void log_normal_curve_has_its_d90(void **state)
{
    (void)state;
    for (double uniformity = 1; uniformity < 2.05; uniformity += 0.1) {
        const struct wr_grain_curve curve = {.effective_size = 0.5e-3, .uniformity = uniformity};
        check_share(size_of(&curve, 0.10), 0.5e-3, 1e-14, "effective size: as given");
        check_share(size_of(&curve, 0.60), 0.5e-3 * uniformity, 1e-14, "size at 60 %: by what uniformity means");
        check_share(size_of(&curve, 0.90), 0.5e-3 * pow(uniformity, 1.67), 1e-4, "d90: d10 UC^1.67");
    }
}

/* Published: Davis 2010, table 11-1. */
static void media_lie_in_published_ranges(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double gravity[2], sphericity[2];
    } ranges[] = {{"anthracite", {1.5, 1.75}, {0.46, 0.60}}, {"sand", {2.55, 2.65}, {0.7, 0.8}}};
    for (size_t i = 0; i < 2; i++) {
        const struct wr_medium *medium = wr_medium_find(ranges[i].name);
        check_true(medium != NULL && medium->grains_published, "the medium is there and marked as published");
        check(medium->specific_gravity, (ranges[i].gravity[0] + ranges[i].gravity[1]) / 2, 1e-12,
              "specific gravity: published, Davis table 11-1, middle");
        check(medium->sphericity, (ranges[i].sphericity[0] + ranges[i].sphericity[1]) / 2, 1e-12,
              "sphericity: published, likewise");
    }
    check(wr_medium_find("sand")->uniformity, (1.3 + 1.8) / 2, 1e-12, "uniformity of sand: published, likewise");
    check_true(wr_medium_find("gravel")->is_support, "gravel carries the media");
    for (size_t i = 0; i < wr_media_count; i++)
        if (!wr_media_table[i].grains_published)
            check_true(strncmp(wr_media_table[i].grain_source, "illustrative", 12) == 0,
                       "the source says illustrative");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(sieves_have_davis_example),
        cmocka_unit_test(log_normal_curve_has_its_d90),
        cmocka_unit_test(media_lie_in_published_ranges),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
