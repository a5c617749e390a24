/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drag and settling of one grain. */
#include "models/constants.h"
#include "models/settling.h"
#include "tests/published/voice.h"
#include "tests/support/check.h"

#include <math.h>

static double velocity_of(double size, double density, double sphericity, struct wr_water water, wr_drag_law *drag)
{
    const struct wr_grain grain = {size, density, sphericity, 150, 1.75};
    double velocity = 0;
    check_count(wr_settling_velocity(&grain, water, drag, &velocity), WR_OK, "the grain is in range");
    return velocity;
}

/* The law that the problem below prescribes. */
static double drag_of_the_problem(double reynolds, double sphericity)
{
    (void)sphericity;
    return 24 / reynolds * (1 + 0.14 * pow(reynolds, 0.7));
}

/* M. B. Cutlip and others, ten standard numerical problems, no. 5a; the answer from memory. */
static void coal_of_a_standard_problem(void **state)
{
    (void)state;
    const struct wr_water water = {.density = 994.6, .viscosity = 8.931e-4};
    check(velocity_of(2.08e-4, 1800, 1, water, drag_of_the_problem), 0.0157816, 5e-8,
          "velocity, m/s: Cutlip's problem 5a, all digits");
}

/* Published: A. Rushton, A. S. Ward and R. G. Holdich, Solid-Liquid Filtration and Separation Technology, 1996;
 * Stokes's law, g 9.81. */
static void fine_grain_by_stokes(void **state)
{
    (void)state;
    const struct wr_water water = {.density = 1000, .viscosity = 1e-3};
    const double velocity = velocity_of(50e-6, 2800, 1, water, wr_drag_stokes);
    check(velocity * 9.81 / WR_GRAVITY, 0.002453, 5e-7, "velocity, m/s: published, Rushton, Ward and Holdich");
    check(velocity * 50e-6 * 1000 / 1e-3, 0.12, 0.005, "its Reynolds number: likewise");
}

/* How far Brown and Lawler's law exceeds Stokes's: computed by hand from the two formulas. */
static void brown_lawler_comes_from_stokes(void **state)
{
    (void)state;
    static const struct {
        double reynolds, excess, tolerance;
    } rows[] = {{0.1, 0.031, 5e-4}, {0.01, 0.0065, 5e-5}, {0.001, 0.0014, 5e-5}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        check(wr_drag_brown_lawler(rows[i].reynolds, 1) / wr_drag_stokes(rows[i].reynolds, 1) - 1, rows[i].excess,
              rows[i].tolerance, "share over Stokes: from the formula of Brown and Lawler 2003");
}

static void spheres_have_printed_drag(void **state)
{
    (void)state;
    check(wr_drag_haider_levenspiel(200, 1), 0.7959551680, 5e-11,
          "C_D at R = 200: published, Haider and Levenspiel, documentation of python3-fluids");
    check_share(wr_drag_brown_lawler(200, 1), 0.7959551680, 0.005, "Brown and Lawler's beside it");
    check_share(wr_drag_brown_lawler(200, 1), 0.7756342422, 0.025,
                "the same beside Clift's 0.7756342422: published, documentation of python3-fluids");
}

/* The three laws that python3-fluids has, and Brown and Lawler's, which it has not, near two of them. */
static void drag_equals_the_outside_voice_as_it_speaks(void **state)
{
    (void)state;
    FILE *voice = wr_voice_begin("tests/published/voice_drag.py");
    if (!voice)
        skip();
    double reynolds, haider_levenspiel, clift, stokes;
    size_t heard = 0;
    while (fscanf(voice, "%lf %lf %lf %lf", &reynolds, &haider_levenspiel, &clift, &stokes) == 4) {
        check_share(wr_drag_haider_levenspiel(reynolds, 1), haider_levenspiel, 1e-13, "C_D: python3-fluids");
        check_share(wr_drag_stokes(reynolds, 1), stokes, 1e-15, "C_D of Stokes: python3-fluids");
        check_share(wr_drag_brown_lawler(reynolds, 1), haider_levenspiel, 0.045, "C_D of Brown and Lawler beside it");
        check_share(wr_drag_brown_lawler(reynolds, 1), clift, 0.055, "and beside Clift's");
        heard++;
    }
    wr_voice_end(voice);
    check_count(heard, 101, "Reynolds numbers heard");
}

static void settling_equals_the_outside_voice_as_it_speaks(void **state)
{
    (void)state;
    FILE *voice = wr_voice_begin("tests/published/voice_settling.py");
    if (!voice)
        skip();
    double size, density, velocity;
    struct wr_water water;
    size_t heard = 0;
    while (fscanf(voice, "%lf %lf %lf %lf %lf", &size, &density, &water.density, &water.viscosity, &velocity) == 5) {
        /* The library stops looking at some 1e-8 of the velocity. */
        check_share(velocity_of(size, density, 1, water, wr_drag_haider_levenspiel), velocity, 2e-7,
                    "velocity, m/s: python3-fluids");
        heard++;
    }
    wr_voice_end(voice);
    check_count(heard, 84, "grains heard");
}

/* Computed with Debian python3-fluids 1.0.22-2: v_terminal with the drag of Haider and Levenspiel. */
static void settling_equals_the_outside_voice_as_stored(void **state)
{
    (void)state;
    static const struct {
        double size, density;
        struct wr_water water;
        double velocity;
    } rows[] = {
        {0.000126, 2650.0, {999.97, 0.0015182}, 0.008236977144085321},
        {0.0006, 2650.0, {998.21, 0.0010016}, 0.09391733355970802},
        {0.001, 1600.0, {998.21, 0.0010016}, 0.08027417819567866},
        {0.002, 1600.0, {992.22, 0.0006527}, 0.17069989185001908},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++)
        check_share(velocity_of(rows[i].size, rows[i].density, 1, rows[i].water, wr_drag_haider_levenspiel),
                    rows[i].velocity, 2e-7, "velocity, m/s: python3-fluids 1.0.22");
}

/* From memory: Haider and Levenspiel's own drag of an isometric grain comes to their sphere's within a few per cent as
 * sphericity goes to one, and flat grains have more drag. */
static void shape_slows_a_grain(void **state)
{
    (void)state;
    for (double reynolds = 0.01; reynolds < 1e4; reynolds *= 3) {
        check_share(wr_drag_haider_levenspiel(reynolds, 0.999999), wr_drag_haider_levenspiel(reynolds, 1), 0.07,
                    "C_D near a sphere's: the two forms of one source");
        check_true(wr_drag_haider_levenspiel(reynolds, 0.7) > wr_drag_haider_levenspiel(reynolds, 1),
                   "an angular grain has more drag");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(coal_of_a_standard_problem),
        cmocka_unit_test(fine_grain_by_stokes),
        cmocka_unit_test(brown_lawler_comes_from_stokes),
        cmocka_unit_test(spheres_have_printed_drag),
        cmocka_unit_test(drag_equals_the_outside_voice_as_it_speaks),
        cmocka_unit_test(settling_equals_the_outside_voice_as_it_speaks),
        cmocka_unit_test(settling_equals_the_outside_voice_as_stored),
        cmocka_unit_test(shape_slows_a_grain),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
