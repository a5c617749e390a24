/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/headloss.h"
#include "models/media.h"
#include "tests/support/check.h"

#include <math.h>

static const struct wr_water water = {.density = 1000, .viscosity = 1.3e-3};

static const struct wr_layer coal = {
    .depth = 0.45, .grain_size = 1e-3, .porosity = 0.5, .viscous_constant = 227.5, .inertial_constant = 4.4};
static const struct wr_layer sand = {
    .depth = 0.30, .grain_size = 0.5e-3, .porosity = 0.42, .viscous_constant = 112.5, .inertial_constant = 2.25};

struct coefficients {
    double linear;
    double quadratic;
};

static struct coefficients clean(const struct wr_layer *layers, size_t count, struct wr_water in)
{
    struct coefficients got = {0};
    check_count(wr_headloss_clean(layers, count, in, &got.linear, &got.quadratic), WR_OK, "the bed is in range");
    return got;
}

static void bed_of_no_layers_has_no_headloss(void **state)
{
    (void)state;
    struct coefficients none = clean(NULL, 0, water);
    check(none.linear, 0, 0, "linear coefficient of nothing");
    check(none.quadratic, 0, 0, "quadratic coefficient of nothing");
}

/* By hand: e 0.5, d 1 mm, L 0.45 m: k_V (1 - e)^2 L/(e^3 d^2) = 227.5 x 0.25 x 0.45/(0.125 x 1e-6) = 204.75e6 1/m,
 * times mu/(rho g) = 1.3e-6/9.80665; k_I (1 - e) L/(e^3 d) = 4.4 x 0.5 x 0.45/(0.125 x 1e-3) = 7920, by g. */
static void one_layer_is_worked_by_hand(void **state)
{
    (void)state;
    struct coefficients bed = clean(&coal, 1, water);
    check_share(bed.linear, 204.75e6 * 1.3e-6 / 9.80665, 1e-14, "linear, m/(m/s): by hand");
    check_share(bed.quadratic, 7920 / 9.80665, 1e-14, "quadratic, m/(m/s)^2: by hand");
    check_share(wr_headloss_at(bed.linear, bed.quadratic, 2e-3), 2e-3 * bed.linear + 4e-6 * bed.quadratic, 1e-15,
                "head at 2 mm/s, m: the parabola");
}

static void layers_add_up(void **state)
{
    (void)state;
    struct wr_layer both[] = {coal, sand}, parts[] = {coal, coal};
    struct coefficients a = clean(&coal, 1, water), b = clean(&sand, 1, water), sum = clean(both, 2, water);
    check_share(sum.linear, a.linear + b.linear, 1e-15, "linear of two layers: their sum");
    check_share(sum.quadratic, a.quadratic + b.quadratic, 1e-15, "quadratic of two layers: their sum");
    parts[0].depth = 0.1;
    parts[1].depth = 0.35;
    struct coefficients cut = clean(parts, 2, water);
    check_share(cut.linear, a.linear, 1e-15, "linear of a layer cut in two: unchanged");
    check_share(cut.quadratic, a.quadratic, 1e-15, "quadratic of a layer cut in two: unchanged");
}

static void only_the_linear_part_knows_the_water(void **state)
{
    (void)state;
    struct wr_water thick = {.density = 1000, .viscosity = 2 * water.viscosity};
    struct coefficients thin_bed = clean(&sand, 1, water), thick_bed = clean(&sand, 1, thick);
    check_share(thick_bed.linear, 2 * thin_bed.linear, 1e-15, "linear at twice the viscosity: twice");
    check(thick_bed.quadratic, thin_bed.quadratic, 0, "quadratic at twice the viscosity: the same");
}

static void refuses_layer(struct wr_layer layer, struct wr_water in)
{
    struct wr_layer layers[] = {coal, layer};
    double linear = -1, quadratic = -2;
    check_count(wr_headloss_clean(layers, 2, in, &linear, &quadratic), WR_OUT_OF_RANGE, "the bed is refused");
    check_true(linear == -1 && quadratic == -2, "outputs stay untouched");
}

static void layers_out_of_range_are_refused(void **state)
{
    (void)state;
    const double bad[] = {-0.1, (double)NAN, (double)INFINITY, 0, 1};
    for (size_t i = 0; i < 5; i++) {
        struct wr_layer depth = sand, size = sand, porosity = sand, viscous = sand, inertial = sand;
        depth.depth = size.grain_size = porosity.porosity = viscous.viscous_constant = inertial.inertial_constant =
            bad[i];
        refuses_layer(porosity, water);
        if (i < 4)
            refuses_layer(size, water);
        if (i < 3) {
            refuses_layer(depth, water);
            refuses_layer(viscous, water);
            refuses_layer(inertial, water);
        }
    }
}

static void water_out_of_range_is_refused(void **state)
{
    (void)state;
    const double bad[] = {0, -1e-3, (double)NAN, (double)INFINITY};
    for (size_t i = 0; i < 4; i++) {
        refuses_layer(sand, (struct wr_water){.density = bad[i], .viscosity = 1e-3});
        refuses_layer(sand, (struct wr_water){.density = 1000, .viscosity = bad[i]});
    }
}

/* Below R = 0.5 Rose's law is laminar: by hand, one size, h = 1.067 x 24 mu v D/(phi^2 rho g e^4 d^2). */
static void rose_is_laminar_at_a_crawl(void **state)
{
    (void)state;
    struct wr_grains grains = {.share = 1, .size = 0.5e-3};
    struct wr_sorted_bed bed = {.depth = 0.6, .porosity = 0.4, .sphericity = 0.8, .grains = &grains, .count = 1};
    double slow = 0, twice = 0;
    check_count(wr_headloss_rose(&bed, 1e-4, water, &slow), WR_OK, "the bed is in range");
    check_count(wr_headloss_rose(&bed, 2e-4, water, &twice), WR_OK, "the bed is in range");
    double by_hand = 1.067 * 24 * 1.3e-6 * 1e-4 * 0.6 / (0.64 * 9.80665 * 0.0256 * 0.25e-6);
    check_share(slow, by_hand, 1e-14, "Rose's head, m: by hand");
    check_share(twice, 2 * slow, 1e-14, "Rose's head at twice the rate, m: twice");
}

/* At R = 0.5 exactly the laminar drag, 48, still holds; just above it is 48 + 3/sqrt(0.5) + 0.34 = 52.58. */
static void rose_jumps_where_its_drag_does(void **state)
{
    (void)state;
    struct wr_grains grains = {.share = 1, .size = 1};
    struct wr_sorted_bed bed = {.depth = 1, .porosity = 0.5, .sphericity = 1, .grains = &grains, .count = 1};
    struct wr_water unit = {.density = 1, .viscosity = 1};
    double at = 0, above = 0;
    check_count(wr_headloss_rose(&bed, 0.5, unit, &at), WR_OK, "the bed is in range");
    check_count(wr_headloss_rose(&bed, nextafter(0.5, 1), unit, &above), WR_OK, "the bed is in range");
    check_share(above / at, (48 + 3 * sqrt(2) + 0.34) / 48, 1e-12, "jump of the drag: by hand");
}

static void refuses_sorted(struct wr_sorted_bed bed, double rate)
{
    double head = -1;
    check_count(wr_headloss_rose(&bed, rate, water, &head), WR_OUT_OF_RANGE, "the bed is refused");
    check_true(head == -1, "the output stays untouched");
}

static void sorted_beds_out_of_range_are_refused(void **state)
{
    (void)state;
    struct wr_grains grains = {.share = 1, .size = 0.5e-3};
    struct wr_sorted_bed bed = {.depth = 0.6, .porosity = 0.4, .sphericity = 0.8, .grains = &grains, .count = 1};
    struct wr_sorted_bed hollow = bed, solid = bed, shapeless = bed, rounder = bed;
    hollow.depth = -1;
    solid.porosity = 0;
    shapeless.sphericity = 0;
    rounder.sphericity = 1.01;
    refuses_sorted(hollow, 1e-3);
    refuses_sorted(solid, 1e-3);
    refuses_sorted(shapeless, 1e-3);
    refuses_sorted(rounder, 1e-3);
    refuses_sorted(bed, 0);
    refuses_sorted(bed, -1e-3);
    grains.share = 1.01;
    refuses_sorted(bed, 1e-3);
    grains = (struct wr_grains){.share = 0.5, .size = 0};
    refuses_sorted(bed, 1e-3);
}

static void media_are_found_by_name(void **state)
{
    (void)state;
    for (size_t i = 0; i < wr_media_count; i++)
        check_true(wr_medium_find(wr_media_table[i].name) == &wr_media_table[i], "the name finds its own row");
    check_true(wr_medium_find("Anthracite") == NULL, "case counts");
    check_true(wr_medium_find("") == NULL, "no name, no row");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(bed_of_no_layers_has_no_headloss),
        cmocka_unit_test(one_layer_is_worked_by_hand),
        cmocka_unit_test(layers_add_up),
        cmocka_unit_test(only_the_linear_part_knows_the_water),
        cmocka_unit_test(layers_out_of_range_are_refused),
        cmocka_unit_test(water_out_of_range_is_refused),
        cmocka_unit_test(rose_is_laminar_at_a_crawl),
        cmocka_unit_test(rose_jumps_where_its_drag_does),
        cmocka_unit_test(sorted_beds_out_of_range_are_refused),
        cmocka_unit_test(media_are_found_by_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
