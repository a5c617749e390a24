/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_SLUDGE_H
#define WR_MODELS_SLUDGE_H

/* A sludge blanket over many washes, whose dry solids rise with time.
 *
 * Each kilogram of dry solids takes 1/c1 m3 when it arrives and tends to 1/c2 m3:
 *     volume of a kilogram of age t = 1/c2 + (1/c1 - 1/c2) exp(-t/tau)
 * An exponential forgets its history, so however many washes made a blanket, two numbers tell all of it: its dry solids
 * M, and the water W that it has still to give up,
 *     V = M/c2 + W,   dW/dt = -W/tau,   a deposit m: M + m, W + m (1/c1 - 1/c2),   a draw: both in the same share
 *
 * The law is this project's own, without a source; c1, c2 and tau are inputs. Published: sludge as drawn from iron
 * plants has 0.16 to 0.20 % dry solids (Water Sci. Technol. 64(2), 361), 1.6 to 2.0 kg/m3.
 *
 * wr_sludge_check tells once whether a law is fit for use. Elsewhere an unfit law, a negative time or a negative
 * deposit is a programmer's mistake and asserted. */

#include "models/status.h"

/* How a blanket thickens. */
struct wr_sludge_law {
    double first_solids;  /* c1, dry solids of a fresh deposit, kg/m3, above zero */
    double last_solids;   /* c2, dry solids it tends to, kg/m3, first_solids or more */
    double time_constant; /* tau, s, above zero; not felt where both are equal */
};

/* A blanket. All zero is an empty one. */
struct wr_sludge {
    double solids; /* M, dry, kg, zero or more */
    double excess; /* W, water it has still to give up, m3, zero or more */
};

/* Tells whether a law is within the ranges of its struct.
 * Returns: WR_OK, or WR_OUT_OF_RANGE. */
enum wr_status wr_sludge_check(const struct wr_sludge_law *law);

/* Volume of a blanket.
 *     V = M/c2 + W
 * Given: law that passes wr_sludge_check; blanket.
 * Returns: volume, m3, zero or more.
 * Neglects: weight of what lies above, wind, gas, how the floor is shaped.
 * Scatter: unknown; thickening differs by water and season. Illustrative.
 * Source: the head of this file: invented, no source.
 * Pinned by: tests/unit/test_models_sludge.c */
double wr_sludge_volume(const struct wr_sludge_law *law, const struct wr_sludge *sludge);

/* Lets a blanket thicken.
 *     W exp(-t/tau)
 * Given: law; blanket; time, s, zero or more. The water it gives up is the fall of its volume.
 * Neglects, scatter, source, pinned by: as wr_sludge_volume. */
void wr_sludge_thicken(const struct wr_sludge_law *law, struct wr_sludge *sludge, double time);

/* Adds a fresh deposit to a blanket, which grows by solids/first_solids.
 * Given: law; blanket; solids, dry, kg, zero or more.
 * Neglects, scatter, source, pinned by: as wr_sludge_volume. */
void wr_sludge_add(const struct wr_sludge_law *law, struct wr_sludge *sludge, double solids);

/* Draws a volume of a blanket, old and young in the same share.
 * Given: law; blanket; volume, m3, from zero to the blanket's.
 * Returns: dry solids drawn, kg; WR_OUT_OF_RANGE for another volume.
 * Neglects: that what lies lowest is oldest and thickest and goes first; funnels.
 * Scatter, source, pinned by: as wr_sludge_volume. */
enum wr_status wr_sludge_draw(const struct wr_sludge_law *law, struct wr_sludge *sludge, double volume, double *solids);

/* Time in which a blanket left alone falls to a volume.
 *     t = tau ln(W/(V' - M/c2))
 * Given: law; blanket; volume V', m3, zero or more.
 * Returns: time, s; zero where it is no higher already; HUGE_VAL where it tends to M/c2 at or above V' and never falls
 * to it.
 * Neglects, scatter, source, pinned by: as wr_sludge_volume. */
double wr_sludge_time(const struct wr_sludge_law *law, const struct wr_sludge *sludge, double volume);

/* Greatest share of a wash water that can come back clear when all its solids leave as sludge.
 *     share = 1 - c/c_sludge
 * Given: c, solids of the wash water, kg/m3, from zero to c_sludge; c_sludge, solids of the sludge as drawn, kg/m3,
 * above zero (1 % dry solids is 10 kg/m3). Returns: share, 0 to 1; WR_OUT_OF_RANGE outside. Neglects: solids that come
 * back with the clear water, clear water drawn with the sludge. Source: a mass balance. Pinned by:
 * tests/published/test_settling_tank.c */
enum wr_status wr_sludge_best_recovery(double solids, double sludge_solids, double *share);

#endif
