/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/constants.h"
#include "models/headloss.h"
#include "models/media.h"
#include "tests/published/voice.h"
#include "tests/support/check.h"

#include <stdio.h>
#include <string.h>

/* One metre of Ergun's own bed and what it loses. */
struct ergun_row {
    double grain_size;
    double porosity;
    double rate;
    double density;
    double viscosity;
    double loss;  /* Pa */
    double erdim; /* Pa, by the law of Erdim, Akgiray and Demir */
};

/* Head of that bed by this project, turned back into pressure. */
static double loss_of(const struct ergun_row *row)
{
    struct wr_layer layer = {.depth = 1,
                             .grain_size = row->grain_size,
                             .porosity = row->porosity,
                             .viscous_constant = 150,
                             .inertial_constant = 1.75};
    struct wr_water water = {.density = row->density, .viscosity = row->viscosity};
    double linear = 0, quadratic = 0;
    check_count(wr_headloss_clean(&layer, 1, water, &linear, &quadratic), WR_OK, "the bed is in range");
    return wr_headloss_at(linear, quadratic, row->rate) * row->density * WR_GRAVITY;
}

static double erdim_loss_of(const struct ergun_row *row)
{
    struct wr_layer layer = {.depth = 1, .grain_size = row->grain_size, .porosity = row->porosity};
    struct wr_water water = {.density = row->density, .viscosity = row->viscosity};
    double head = 0;
    check_count(wr_headloss_erdim(&layer, row->rate, water, &head), WR_OK, "the bed is in range");
    return head * row->density * WR_GRAVITY;
}

static void ergun_equals_printed_and_stored_figures(void **state)
{
    (void)state;
    static const struct ergun_row rows[] = {
        /* Published: documentation of python3-fluids, its example of Ergun's equation. */
        {0.8e-3, 0.40, 1e-3, 1000, 1e-3, 1338.8671875, 1438.282696},
        /* Computed with Debian python3-fluids 1.0.22-2. */
        {1.0e-3, 0.47, 1e-3, 999.7, 1.3059e-3, 538.9106291476841, 579.154775031491},
        {0.45e-3, 0.42, 3e-3, 998.2, 1.0016e-3, 10379.752516526898, 11185.08824822246},
        {4e-3, 0.40, 12e-3, 999.84, 1.7918e-3, 1724.4039374999993, 1867.935665326027},
        {0.25e-3, 0.38, 0.5e-3, 992.2, 0.6527e-3, 5506.52414710599, 5887.988761262253},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        check_share(loss_of(&rows[i]), rows[i].loss, 1e-14, "Ergun's loss, Pa: python3-fluids 1.0.22");
        check_share(erdim_loss_of(&rows[i]), rows[i].erdim, 1e-9,
                    "Erdim, Akgiray and Demir's loss, Pa: likewise, the first printed to ten digits");
    }
}

static void ergun_equals_the_outside_voice_as_it_speaks(void **state)
{
    (void)state;
    FILE *voice = wr_voice_begin("tests/published/voice_headloss.py");
    if (!voice)
        skip();
    struct ergun_row row;
    size_t heard = 0;
    while (fscanf(voice, "%lf %lf %lf %lf %lf %lf %lf", &row.grain_size, &row.porosity, &row.rate, &row.density,
                  &row.viscosity, &row.loss, &row.erdim) == 7) {
        check_share(loss_of(&row), row.loss, 1e-14, "Ergun's loss, Pa: python3-fluids");
        check_share(erdim_loss_of(&row), row.erdim, 1e-13, "Erdim, Akgiray and Demir's loss, Pa: python3-fluids");
        heard++;
    }
    wr_voice_end(voice);
    check_count(heard, 360, "beds heard");
}

/* Published: Hendricks 2011, table CD13.2 p. 402: hydraulic conductivity K of two media from intrinsic permeability k,
 * at 3 C. A bed whose viscous constant is e^3 d^2/(k (1 - e)^2) has that permeability, whatever e and d, and its linear
 * coefficient for a metre is 1/K. Printed to three figures. */
static void linear_coefficient_is_darcy_s(void **state)
{
    (void)state;
    static const struct {
        double grain_size, permeability, conductivity;
    } rows[] = {{0.50e-3, 4.622e-10, 2.80e-3}, {0.91e-3, 2.419e-9, 1.46e-2}};
    struct wr_water water = {.density = 999.965, .viscosity = 0.00162};
    for (size_t i = 0; i < 2; i++) {
        double e = 0.42, d = rows[i].grain_size;
        double constant = e * e * e * d * d / (rows[i].permeability * (1 - e) * (1 - e));
        struct wr_layer layer = {.depth = 1, .grain_size = d, .porosity = e, .viscous_constant = constant};
        double linear = 0, quadratic = 0;
        check_count(wr_headloss_clean(&layer, 1, water, &linear, &quadratic), WR_OK, "the layer is in range");
        check(1 / linear, rows[i].conductivity, rows[i].conductivity < 0.01 ? 5e-6 : 5e-5,
              "conductivity, m/s: published, Hendricks table CD13.2");
        check(quadratic, 0, 0, "no inertial constant, no quadratic term: closed form");
    }
}

/* Davis 2010, example 11-2 pp. 11-14 to 11-16. The shares add up to 96.6 % and are used so, as printed. */
static const struct wr_grains davis_grains[] = {
    {0.053, 2.00e-3},  {0.171, 1.42e-3},  {0.146, 1.00e-3},  {0.204, 0.714e-3}, {0.176, 0.505e-3},
    {0.119, 0.357e-3}, {0.059, 0.252e-3}, {0.031, 0.178e-3}, {0.007, 0.126e-3},
};

static void rose_has_davis_example(void **state)
{
    (void)state;
    struct wr_sorted_bed bed = {.depth = 0.5,
                                .porosity = 0.45,
                                .sphericity = 0.82,
                                .grains = davis_grains,
                                .count = sizeof davis_grains / sizeof davis_grains[0]};
    struct wr_water water = {.density = 1000, .viscosity = 1.307e-3}; /* 1.307e-6 m2/s */
    double rate = 0.0025, head = 0;
    check_count(wr_headloss_rose(&bed, rate, water, &head), WR_OK, "the bed is in range");
    check(head, 0.76, 0.005, "Rose's head, m: published, Davis example 11-2");
    check(head * WR_GRAVITY / 9.81, 0.7584, 5e-5, "the same with g 9.81, m: regression");
    double sum = head * bed.sphericity * WR_GRAVITY * bed.porosity * bed.porosity * bed.porosity * bed.porosity /
                 (1.067 * rate * rate * bed.depth);
    check_share(sum, 75025, 1e-3, "sum of C_D f/d, 1/m: published, Davis example 11-2, worked by hand");
}

/* Published: Trussell and Chang 1999, in Hendricks 2011, table E.3 p. 830. */
static void published_media_lie_in_the_middle_of_their_ranges(void **state)
{
    (void)state;
    static const struct {
        const char *name;
        double viscous[2], inertial[2], porosity[2];
    } ranges[] = {
        {"anthracite", {210, 245}, {3.5, 5.3}, {0.47, 0.52}},
        {"sand", {110, 115}, {2.0, 2.5}, {0.40, 0.43}},
        {"glass beads", {130, 150}, {1.3, 1.8}, {0.38, 0.40}},
    };
    size_t published = 0;
    for (size_t i = 0; i < wr_media_count; i++)
        published += wr_media_table[i].published;
    check_count(published, 3, "media marked as published");
    for (size_t i = 0; i < 3; i++) {
        const struct wr_medium *medium = wr_medium_find(ranges[i].name);
        check_true(medium && medium->published, "the medium is there and marked as published");
        check(medium->viscous_constant, (ranges[i].viscous[0] + ranges[i].viscous[1]) / 2, 1e-12, "k_V: table E.3");
        check(medium->inertial_constant, (ranges[i].inertial[0] + ranges[i].inertial[1]) / 2, 1e-12, "k_I: table E.3");
        check(medium->porosity, (ranges[i].porosity[0] + ranges[i].porosity[1]) / 2, 1e-12, "porosity: table E.3");
    }
}

/* Media without a published figure must say so. */
static void other_media_are_marked_illustrative(void **state)
{
    (void)state;
    for (size_t i = 0; i < wr_media_count; i++)
        if (!wr_media_table[i].published)
            check_true(strncmp(wr_media_table[i].source, "illustrative", 12) == 0, "the source says illustrative");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ergun_equals_printed_and_stored_figures),
        cmocka_unit_test(ergun_equals_the_outside_voice_as_it_speaks),
        cmocka_unit_test(linear_coefficient_is_darcy_s),
        cmocka_unit_test(rose_has_davis_example),
        cmocka_unit_test(published_media_lie_in_the_middle_of_their_ranges),
        cmocka_unit_test(other_media_are_marked_illustrative),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
