/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Beds of real media, cut into slices, in their wash. */
#include "sim/study/wash_beds.h"
#include "tests/support/check.h"

#include <math.h>

static const double an_hour = 1 / 3600.0; /* m/h in m/s */

static struct wr_media_layer layer_of(char *medium, double depth, double grain_size)
{
    return (struct wr_media_layer){.medium = medium,
                                   .depth = depth,
                                   .grain_size = grain_size,
                                   .uniformity = WR_ABSENT,
                                   .coarse_size = WR_ABSENT,
                                   .specific_gravity = WR_ABSENT,
                                   .sphericity = WR_ABSENT,
                                   .porosity = WR_ABSENT,
                                   .viscous_constant = WR_ABSENT,
                                   .inertial_constant = WR_ABSENT};
}

static void make(struct wr_fluid_bed *bed, struct wr_media_layer *layers, size_t count)
{
    const struct wr_media media = {layers, count};
    check_count(wr_fluid_bed_init(bed, &media), WR_OK, "the media are in range");
}

static struct wr_bed_lifted wash(const struct wr_fluid_bed *bed, double celsius, double rate, double wanted)
{
    struct wr_bed_lifted lifted;
    check_count(wr_fluid_bed_wash(bed, 273.15 + celsius, rate, wanted, &lifted), WR_OK, "the wash is in range");
    return lifted;
}

/* Rates in m/h for two media at 5 and 25 C and 40 and 50 % expansion by both laws. Regressions all: no such figure is
 * published; that a rate gives its expansion is checked besides. */
static const struct {
    char *medium;
    double grain_size, celsius, wanted, ergun, other;
} rates[] = {
    {"anthracite", 0.9e-3, 5, 0.40, 44.18, 37.96},  {"anthracite", 0.9e-3, 5, 0.50, 49.37, 43.34},
    {"anthracite", 0.9e-3, 25, 0.40, 54.79, 51.83}, {"anthracite", 0.9e-3, 25, 0.50, 59.94, 58.06},
    {"sand", 0.5e-3, 5, 0.40, 55.19, 35.83},        {"sand", 0.5e-3, 5, 0.50, 63.96, 42.40},
    {"sand", 0.5e-3, 25, 0.40, 72.25, 50.96},       {"sand", 0.5e-3, 25, 0.50, 81.52, 58.84},
};

static void two_media_at_two_temperatures(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof rates / sizeof rates[0]; i++) {
        struct wr_media_layer layer = layer_of(rates[i].medium, 0.6, rates[i].grain_size);
        struct wr_fluid_bed bed;
        make(&bed, &layer, 1);
        const struct wr_bed_lifted found = wash(&bed, rates[i].celsius, 20 * an_hour, rates[i].wanted);
        for (int law = 0; law < WR_BED_LAWS; law++) {
            const struct wr_bed_lifted again = wash(&bed, rates[i].celsius, found.wanted_rate[law], 0.4);
            check(again.expansion[law], rates[i].wanted, 1e-9, "expansion at the rate found: as wanted");
        }
        print_message("%s %.0f C %.0f %%: %.2f %.2f m/h, %+.0f %%\n", rates[i].medium, rates[i].celsius,
                      100 * rates[i].wanted, found.wanted_rate[0] / an_hour, found.wanted_rate[1] / an_hour,
                      100 * (found.wanted_rate[0] / found.wanted_rate[1] - 1));
        check(found.wanted_rate[WR_BED_ERGUN] / an_hour, rates[i].ergun, 0.01, "Ergun's rate, m/h: regression");
        check(found.wanted_rate[WR_BED_DHARMARAJAH_CLEASBY] / an_hour, rates[i].other, 0.01,
              "Dharmarajah and Cleasby's rate, m/h: regression");
        wr_fluid_bed_fini(&bed);
    }
}

/* A stratified bed: the sieve table of Davis 2010, example 11-1 p. 11-7, in the wash of example 11-3, 0.01 m/s. */
static void a_stratified_bed_is_held_below_and_loses_above(void **state)
{
    (void)state;
    struct wr_sieve_row sieves[] = {{0.106e-3, 0.002}, {0.15e-3, 0.009}, {0.212e-3, 0.040}, {0.30e-3, 0.099},
                                    {0.425e-3, 0.218}, {0.60e-3, 0.394}, {0.85e-3, 0.598},  {1.18e-3, 0.744},
                                    {1.70e-3, 0.915},  {2.36e-3, 0.968}, {3.35e-3, 0.990}};
    struct wr_media_layer layer = layer_of("sand", 0.5, WR_ABSENT);
    layer.sieves = (struct wr_sieve_rows){sieves, sizeof sieves / sizeof sieves[0]};
    struct wr_fluid_bed bed;
    make(&bed, &layer, 1);
    check(1e3 * bed.layers[0].figures.layer.grain_size, 0.301, 5e-4, "effective size, mm: by hand, from the sieves");
    const struct wr_bed_lifted lifted = wash(&bed, 10, 0.01, 0.4);
    for (int law = 0; law < WR_BED_LAWS; law++) {
        const struct wr_layer_expansion *by = &lifted.layers[0].by[law];
        check_between(by->held, 0.15, 0.7, "share of coarse grains that lie still: regression");
        check_true(by->depth > 0.5, "the rest expands");
    }
    check_true(lifted.fluidising_rate > 0.01, "d90 is not lifted");
    /* Grains that settle at 0.01 m/s are between the two finest sieves, so that 0.2 to 0.9 % are lost. */
    check_between(1e3 * lifted.layers[0].lost_size, 0.106, 0.150, "size that is lost, mm: by the sieves");
    check_between(lifted.layers[0].lost_share, 0.002, 0.009, "share that is lost: by the sieves");
    const struct wr_bed_lifted torrent = wash(&bed, 10, 0.05, 0.4);
    check_true(torrent.layers[0].by[WR_BED_ERGUN].carries_off, "a torrent carries the finest slice off");
    check_true(isnan(torrent.expansion[WR_BED_ERGUN]), "and has no expansion");
    wr_fluid_bed_fini(&bed);
}

static void gravel_lies_still(void **state)
{
    (void)state;
    struct wr_media_layer layers[] = {layer_of("anthracite", 0.5, 0.9e-3), layer_of("sand", 0.3, 0.5e-3),
                                      layer_of("gravel", 0.2, 3e-3)};
    struct wr_fluid_bed with, without;
    make(&with, layers, 3);
    make(&without, layers, 2);
    check(with.settled, 0.8, 1e-12, "settled media, m: gravel left out");
    const struct wr_bed_lifted one = wash(&with, 10, 40 * an_hour, 0.4), other = wash(&without, 10, 40 * an_hour, 0.4);
    for (int law = 0; law < WR_BED_LAWS; law++) {
        check(one.expansion[law], other.expansion[law], 0, "expansion: the same without gravel");
        check(one.wanted_rate[law], other.wanted_rate[law], 0, "rate for a wanted expansion: likewise");
    }
    check(one.head, other.head, 0, "head to hold the media up: likewise");
    wr_fluid_bed_fini(&with);
    wr_fluid_bed_fini(&without);
}

/* Anthracite far too coarse for its sand sinks into it; the usual pair parts again. */
static void media_mix_or_part(void **state)
{
    (void)state;
    struct wr_media_layer layers[] = {layer_of("anthracite", 0.5, 0.9e-3), layer_of("sand", 0.3, 0.5e-3)};
    struct wr_fluid_bed bed;
    make(&bed, layers, 2);
    const struct wr_bed_lifted usual = wash(&bed, 10, 45 * an_hour, 0.4);
    wr_fluid_bed_fini(&bed);
    layers[0].grain_size = 1.5e-3;
    layers[1].grain_size = 0.25e-3;
    make(&bed, layers, 2);
    const struct wr_bed_lifted coarse = wash(&bed, 10, 45 * an_hour, 0.4);
    wr_fluid_bed_fini(&bed);
    for (int law = 0; law < WR_BED_LAWS; law++) {
        check_true(!usual.layers[0].mixes[law], "0.9 on 0.5 mm part again");
        check_true(coarse.layers[0].mixes[law], "1.5 on 0.25 mm mix");
    }
    /* (1600/625)^0.667 = 1.872 at water of 1000 kg/m3 */
    check_share(usual.layers[0].equal_size, 0.5e-3 * 1.872, 2e-3, "anthracite that settles with the sand, m: by hand");
}

static void a_bed_of_unknown_grains_has_no_answer(void **state)
{
    (void)state;
    struct wr_media_layer layers[] = {layer_of("anthracite", 0.5, 0.9e-3), layer_of("crushed glass", 0.3, 0.5e-3)};
    struct wr_fluid_bed bed;
    layers[1].porosity = 0.42;
    layers[1].viscous_constant = 160;
    layers[1].inertial_constant = 1.9;
    layers[1].specific_gravity = 2.5;
    make(&bed, layers, 2);
    check_text(bed.unknown, "crushed glass", "the medium whose shape is not known");
    check_true(!wr_fluid_bed_is_whole(&bed), "no answer");
    wr_fluid_bed_fini(&bed);
    layers[1].sphericity = 0.65;
    make(&bed, layers, 2);
    check_true(wr_fluid_bed_is_whole(&bed), "an answer once it is");
    wr_fluid_bed_fini(&bed);
    make(&bed, layers, 0);
    check_true(!wr_fluid_bed_is_whole(&bed), "no media, no answer");
    wr_fluid_bed_fini(&bed);
}

/* Uniformity from a coarse size: UC = (d90/d10)^(1/1.67). */
static void a_coarse_size_makes_the_curve(void **state)
{
    (void)state;
    struct wr_media_layer layer = layer_of("anthracite", 0.5, 0.9e-3);
    struct wr_fluid_bed bed;
    layer.coarse_size = 1.6e-3;
    make(&bed, &layer, 1);
    check_share(bed.layers[0].figures.curve.uniformity, pow(1.6 / 0.9, 1 / 1.67), 1e-12, "uniformity: closed form");
    check(bed.layers[0].figures.d90, 1.6e-3, 0, "coarse size, m: as given");
    wr_fluid_bed_fini(&bed);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(two_media_at_two_temperatures),
        cmocka_unit_test(a_stratified_bed_is_held_below_and_loses_above),
        cmocka_unit_test(gravel_lies_still),
        cmocka_unit_test(media_mix_or_part),
        cmocka_unit_test(a_bed_of_unknown_grains_has_no_answer),
        cmocka_unit_test(a_coarse_size_makes_the_curve),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
