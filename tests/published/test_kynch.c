/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Batch settling by the theory of G. J. Kynch, 1952, A theory of sedimentation, Trans. Faraday Soc. 48, 166. The
 * figures below were computed from its formulas apart from this program, and held against 2000 cells of a first-order
 * scheme within 0.3 %. Constants of A: the settling law of the benchmark for activated sludge; those of C and E:
 * illustrative. */

#include "models/kynch.h"
#include "tests/support/check.h"

#include <math.h>
#include <stdlib.h>

#define HOUR 3600.0
#define LATER 3

struct later {
    double hours, height;
};

static const struct row {
    const char *law;
    double metres_per_hour, hindrance, full, greatest; /* as in struct wr_zone */
    double solids, depth;                              /* kg/m3, m; for Richardson and Zaki a share of the volume */
    double face, straight_hours, straight_height;      /* C*, t1, h1 */
    struct later later[LATER];                         /* up to the first without a time */
} rows[] = {
    /* A */
    {"vesilind",
     19.75,
     0.576,
     0,
     HUGE_VAL,
     2.0,
     4.0,
     4.544507070,
     0.466607525,
     1.087864387,
     {{1, 0.80487041}, {2, 0.67679558}, {4, 0.59073172}}},
    /* A with a bed of 12 kg/m3 at most */
    {"vesilind",
     19.75,
     0.576,
     0,
     12,
     2.0,
     4.0,
     4.544507070,
     0.466607525,
     1.087864387,
     {{1, 0.80487041}, {2.145102469, 0.666666667}, {4, 0.666666667}}},
    /* C */
    {"vesilind",
     3,
     1.0,
     0,
     HUGE_VAL,
     0.4,
     3,
     4.022376456,
     1.380353950,
     0.224163230,
     {{0.5, 1.99451993}, {2, 0.20074847}, {24, 0.12669342}}},
    /* E */
    {"richardson_zaki", 10, 4.65, 1, HUGE_VAL, 0.10, 1, 0.562728339, 0.139061564, 0.148009446, {{0.5, 0.12565538}}},
};
#define ROWS (sizeof rows / sizeof rows[0])

static struct wr_zone zone_of(const struct row *row)
{
    return (struct wr_zone){wr_zone_law_find(row->law), row->metres_per_hour / HOUR, row->hindrance, row->full,
                            row->greatest};
}

static struct wr_kynch settling_of(const struct row *row)
{
    struct wr_zone zone = zone_of(row);
    struct wr_kynch settling = {0};
    check_count(wr_kynch_solve(&zone, row->solids, row->depth, &settling), WR_OK, "the settling is in range");
    return settling;
}

static double exact_height(const struct wr_kynch *settling, double hours)
{
    double height = -1;
    check_count(wr_kynch_height(settling, hours * HOUR, &height), WR_OK, "the height can be found");
    return height;
}

static void face_meets_the_interface_where_theory_says(void **state)
{
    (void)state;
    for (size_t i = 0; i < ROWS; i++) {
        struct wr_kynch settling = settling_of(&rows[i]);
        check(settling.face, rows[i].face, 1e-9, "C*, kg/m3: Kynch 1952, computed apart");
        check(settling.straight_until / HOUR, rows[i].straight_hours, 1e-9, "t1, h: Kynch 1952, computed apart");
        check(exact_height(&settling, settling.straight_until / HOUR), rows[i].straight_height, 2e-9,
              "h1, m: Kynch 1952, computed apart");
    }
}

static void interface_stands_where_theory_says(void **state)
{
    (void)state;
    for (size_t i = 0; i < ROWS; i++) {
        struct wr_kynch settling = settling_of(&rows[i]);
        for (size_t k = 0; k < LATER && rows[i].later[k].hours > 0; k++)
            check(exact_height(&settling, rows[i].later[k].hours), rows[i].later[k].height, 1e-8,
                  "height of the interface, m: Kynch 1952, computed apart");
    }
}

/* Cb = (greatest + sqrt(greatest^2 - 4 greatest/n))/2, t = C0 H/(n Cb^2 v(Cb)). */
static void bed_stops_the_interface(void **state)
{
    (void)state;
    struct wr_kynch settling = settling_of(&rows[1]);
    check(settling.bed, 9.894440482, 2e-9, "Cb, kg/m3: closed form for Vesilind's law");
    check(settling.fall_until / HOUR, 2.145102469, 2e-9, "time at which the bed is reached, h: closed form");
    double time = -1;
    check_count(wr_kynch_time(&settling, 4.0 * 2.0 / 12, &time), WR_OK, "the time can be found");
    check(time / HOUR, 2.145102469, 2e-9, "the same by the height of the bed");
}

#define STOPS 40

/* Times to look at, h: evenly to the corner at t1, where cells do worst, and ever further apart to the end. */
static double stop_of(double corner, double end, int i)
{
    double beyond = (double)(i - STOPS) / STOPS;
    return i <= STOPS ? corner * i / STOPS : corner + (end - corner) * beyond * beyond;
}

/* Greatest distance between interface in cells and exact one, as a share of depth, up to the last time of a row. */
static double worst_of(const struct row *row, size_t cells, double clarity)
{
    struct wr_zone zone = zone_of(row);
    struct wr_kynch settling = settling_of(row);
    struct wr_zone_column column = {row->depth, calloc(cells, sizeof(double)), cells};
    check_true(column.solids != NULL, "there is memory");
    wr_zone_fill(&column, row->solids);
    double worst = 0, end = 0;
    for (size_t k = 0; k < LATER; k++)
        end = fmax(end, row->later[k].hours);
    for (int i = 1; i <= 2 * STOPS; i++) {
        double hours = stop_of(row->straight_hours, end, i), before = stop_of(row->straight_hours, end, i - 1);
        wr_zone_advance(&zone, &column, (hours - before) * HOUR);
        double height = wr_zone_height(&column, clarity * row->solids);
        worst = fmax(worst, fabs(height - exact_height(&settling, hours)) / row->depth);
        check_share(wr_zone_load(&column), row->solids * row->depth, 1e-12, "solids of the column: they stay");
    }
    free(column.solids);
    return worst;
}

static void cells_come_within_half_a_percent(void **state)
{
    (void)state;
    for (size_t i = 0; i < ROWS; i++) {
        double at_half = worst_of(&rows[i], WR_ZONE_CELLS, 0.5), clear = worst_of(&rows[i], WR_ZONE_CELLS, 0.02);
        print_message("row %zu: %.3f %% of depth, %.3f %% at a clarity of 2 %%\n", i, 100 * at_half, 100 * clear);
        check_between(at_half, 0, 0.005, "interface in cells from the exact one, share of depth");
        check_between(clear, 0, 0.005, "the same for a clarity of a fiftieth of the water");
    }
}

static void cells_converge_as_they_double(void **state)
{
    (void)state;
    for (size_t i = 0; i < ROWS; i++) {
        double coarse = worst_of(&rows[i], 50, 0.1), finer = worst_of(&rows[i], 100, 0.1);
        double fine = worst_of(&rows[i], 200, 0.1), finest = worst_of(&rows[i], 400, 0.1);
        print_message("row %zu: %.3f, %.3f, %.3f, %.3f %% of depth in 50 to 400 cells\n", i, 100 * coarse, 100 * finer,
                      100 * fine, 100 * finest);
        check_true(finer < coarse && fine < finer && finest < fine, "each doubling comes nearer");
        check_between(finest / coarse, 0, 0.4, "three doublings: less than two fifths of the distance");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(face_meets_the_interface_where_theory_says),
        cmocka_unit_test(interface_stands_where_theory_says),
        cmocka_unit_test(bed_stops_the_interface),
        cmocka_unit_test(cells_come_within_half_a_percent),
        cmocka_unit_test(cells_converge_as_they_double),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
