/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_ZONE_SETTLING_H
#define WR_MODELS_ZONE_SETTLING_H

/* Zone settling: water so thick that its particles hinder each other and go down together, with a sharp face under
 * clear water. The settling velocity v follows from the concentration C alone, and a law need only say it; solids sink
 * with the flux f = C v(C) until they lie in a bed at a greatest concentration:
 *     dC/dt + df/dz = 0,  z downwards,  0 <= C <= greatest
 * models/kynch.h solves it exactly for water mixed at the start; the column below solves it in cells from any start.
 *
 * No measured law for spent wash water of iron plants was found in print: all constants are inputs.
 *
 * wr_zone_check tells once whether a water is fit for use. Elsewhere an unfit water, or a concentration below zero or
 * above wr_zone_greatest, is a programmer's mistake and asserted. */

#include "models/status.h"

#include <stddef.h>

struct wr_zone_law;

/* A water that settles in zones. */
struct wr_zone {
    const struct wr_zone_law *law;
    double free_velocity; /* v0, m/s of particles far apart, above zero */
    double hindrance;     /* Vesilind: n, m3/kg, above zero; Richardson-Zaki: the exponent m, from 1.5 to 10 */
    double full;          /* kg/m3 at which Richardson and Zaki's velocity is zero, above zero; else not read */
    double greatest;      /* kg/m3 at which a bed thickens no further, above zero; HUGE_VAL for none */
};

/* A law of hindered settling: five functions of one contract. `velocity` is v(C), m/s, falling with C; `slope` is
 * dv/dC, m/s per kg/m3, zero or less, where v is known to be that velocity. `peak` is the C of the greatest flux,
 * kg/m3, the only place where f' = 0; `inflection` the C at which f turns from concave to convex; `bed` the C beyond it
 * whose tangent to f comes down to zero at the greatest concentration, kg/m3, and zero where there is none. */
struct wr_zone_law {
    const char *name;
    double (*velocity)(const struct wr_zone *zone, double solids);
    double (*slope)(const struct wr_zone *zone, double solids, double velocity);
    double (*peak)(const struct wr_zone *zone);
    double (*inflection)(const struct wr_zone *zone);
    double (*bed)(const struct wr_zone *zone, double greatest);
};

/* The laws: "vesilind", v = v0 exp(-n C), and "richardson_zaki", v = v0 (1 - C/full)^m.
 * Given: zone that passes wr_zone_check; C, kg/m3, from zero to wr_zone_greatest.
 * Neglects: particles that differ, consolidation of the bed under its own weight, walls.
 * Scatter: constants differ by water, season and polymer by several times: fit them to a column test.
 * Source: P. A. Vesilind, 1968, Design of prototype thickeners from batch settling tests, Water and Sewage Works 115,
 * 302 (from memory); J. F. Richardson and W. N. Zaki, 1954, Sedimentation and fluidisation, Trans. Instn Chem. Engrs
 * 32, 35 (from memory). Pinned by: tests/unit/test_models_zone_settling.c */
extern const struct wr_zone_law wr_zone_laws[];
extern const size_t wr_zone_law_count;

/* The law of a name, or NULL. */
const struct wr_zone_law *wr_zone_law_find(const char *name);

/* Tells whether a water is within the ranges of its struct.
 * Returns: WR_OK, or WR_OUT_OF_RANGE. */
enum wr_status wr_zone_check(const struct wr_zone *zone);

/* The concentration that no bed exceeds: the water's greatest, and with Richardson and Zaki no more than full.
 * Returns: kg/m3, HUGE_VAL for none. */
double wr_zone_greatest(const struct wr_zone *zone);

/* Flux of solids that sink, f = C v(C).
 * Given: zone; C, kg/m3, zero or more.
 * Returns: kg/m2/s, as if no bed were in the way. */
double wr_zone_flux(const struct wr_zone *zone, double solids);

/* Speed at which a concentration travels downwards, f' = v + C dv/dC.
 * Given: as wr_zone_flux.
 * Returns: m/s, below zero where it travels up. */
double wr_zone_speed(const struct wr_zone *zone, double solids);

/* A still column in cells of equal height, the first at the surface. The caller owns the cells. */
struct wr_zone_column {
    double depth;   /* m, above zero */
    double *solids; /* kg/m3 of each cell, from the surface down, from zero to wr_zone_greatest */
    size_t cells;   /* two or more */
};

/* Cells for a column. The interfaces of the settlings in tests/published/test_kynch.c come within 0.5 % of depth of the
 * exact ones, and those of random laws within 2 %, the worst where interface and blanket come within three cells of
 * each other and are told apart no more. A bed lower than a cell looks as high as one. */
#define WR_ZONE_CELLS 200

/* Mixes a column to one concentration, kg/m3. */
void wr_zone_fill(struct wr_zone_column *column, double solids);

/* Solids in a column, kg per m2 of its area. */
double wr_zone_load(const struct wr_zone_column *column);

/* Longest step at which the scheme is stable and no cell gives more than it has.
 *     step = 0.4 height of a cell/v0
 * since no concentration travels faster than v0 by either law, and at its lower edge a cell is at most 2.4 times as
 * thick as in the mean.
 * Given: zone; column.
 * Returns: s. */
double wr_zone_step(const struct wr_zone *zone, const struct wr_zone_column *column);

/* Lets a column settle, in equal steps of wr_zone_step at most.
 * Each cell is a straight line, of the mean of the slopes to its two neighbours or twice the lesser, whichever is less,
 * and level where they differ in sign; its edges are moved to the middle of the step. The flux between two edges is
 * Godunov's: f has one peak, so it is the lesser of what the upper can give, f at its concentration or at the peak if
 * that is lower, and what the lower can take, f at its concentration or at the peak if that is higher; and no more than
 * fills the lower cell to its greatest concentration. From the floor up.
 * Given: zone; column; time, s, zero or more.
 * Returns: nothing; the column's solids are conserved to rounding, and no cell goes below zero or above the greatest
 * concentration.
 * Neglects: as the laws; inflow and draws while it stands.
 * Scatter: second order where the column is smooth, and faces spread over a few cells; see WR_ZONE_CELLS for how far
 * interfaces come out. The work grows as the square of the cells.
 * Source: S. K. Godunov, 1959, Mat. Sbornik 47, 271; B. van Leer, 1977, J. Comput. Phys. 23, 276, for the slopes, and
 * 1984, SIAM J. Sci. Stat. Comput. 5, 1, for edges moved half a step (all from memory); the limit at the bed is this
 * project's own.
 * Pinned by: tests/published/test_kynch.c, tests/unit/test_models_zone_settling.c */
void wr_zone_advance(const struct wr_zone *zone, struct wr_zone_column *column, double time);

/* Height over the floor above which a column is no thicker than a concentration.
 * With the clarity that a decant wants it is the interface; with a concentration between that of the settling water and
 * that of the bed it is the top of the blanket. Where the column rises there from one level to another within a few
 * cells, they have spread a sharp face, which is put where what they hold would have it; elsewhere the height is read
 * straight between centres of cells.
 * Given: column; solids, kg/m3, zero or more.
 * Returns: m, from zero (all is clearer) to the depth (the surface is thicker).
 * Source: this project's own reading.
 * Pinned by: as wr_zone_advance. */
double wr_zone_height(const struct wr_zone_column *column, double solids);

/* What a wait for clear water asks. */
struct wr_zone_wait {
    double clarity; /* kg/m3 that counts as clear, zero or more */
    double height;  /* m over the floor to which the interface is to fall, zero or more */
    double longest; /* s after which the wait is given up, zero or more, not infinite */
};

/* Lets a column settle until its interface has fallen to a height. Run it on a copy to look ahead.
 * Given: zone; column; wait.
 * Returns: time, s, the end of the step in which it comes, at which the column then stands; zero where it is there
 * already; HUGE_VAL where it does not come within the longest wait, and the column then stands at that or, where its
 * load cannot pack so low, untouched.
 * Neglects, scatter, source, pinned by: as wr_zone_advance. */
double wr_zone_time(const struct wr_zone *zone, struct wr_zone_column *column, const struct wr_zone_wait *wait);

#endif
