/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_DISCRETE_SETTLING_H
#define WR_MODELS_DISCRETE_SETTLING_H

/* Settling of particles that do not meet: classes, each with its share of the solids and a velocity of its own, in
 * still water that was mixed when it came to rest. Every answer is exact for that water; there is no step.
 *
 * No measured classes for spent wash water of iron plants were found in print: they are inputs, from a column test or
 * from samples of the settled water.
 *
 * wr_discrete_check tells once whether a mix is fit for use. For the other functions an unfit mix, a depth not above
 * zero, a negative time or a share outside 0 to 1 is a programmer's mistake and asserted. */

#include "models/status.h"

#include <stddef.h>

/* Particles of one settling velocity. */
struct wr_discrete_class {
    double share;    /* of the dry solids, 0 to 1 */
    double velocity; /* m/s downwards in still water, zero (never settles) or more */
};

/* All particles of a water. */
struct wr_discrete_mix {
    const struct wr_discrete_class *classes; /* in any order; their shares add up to 1 */
    size_t count;                            /* one or more */
    double polymer_factor;                   /* multiplies each velocity, above zero; 1 without polymer */
};

/* How far from 1 the shares of a mix may add up. */
#define WR_DISCRETE_SHARE_TOLERANCE 1e-6

/* Tells whether a mix is within the ranges of its struct.
 * Returns: WR_OK, or WR_OUT_OF_RANGE. */
enum wr_status wr_discrete_check(const struct wr_discrete_mix *mix);

/* Share of the solids, depth mean, that the top of a still water keeps.
 *     left = sum of share (1 - min(1, v t/d))
 * Given: mix that passes wr_discrete_check; depth d of the top that is asked about, m, above zero; time t since the
 * water came to rest, mixed, s, zero or more.
 * Returns: share, 0 to 1, of the concentration at the start; it never rises with time nor falls with depth.
 * Neglects: particles that grow together or hinder each other, currents, inflow while it stands, settling that goes on
 * while the top is drawn off (which makes what is drawn clearer than this).
 * Scatter: that of the classes. An anionic polymer speeds settling two to five times (abstract of a conference of
 * AWWA), so the factor wants a test with the water at hand.
 * Source: each class goes down as a slab; geometry.
 * Pinned by: tests/published/test_settling_tank.c, tests/unit/test_models_discrete_settling.c */
double wr_discrete_left(const struct wr_discrete_mix *mix, double depth, double time);

/* Earliest time at which the top of a still water keeps no more than a wanted share: the inverse of wr_discrete_left,
 * which between two times at which a class has gone is a straight line.
 *     t = d (S - wanted)/(sum of share v), S the sum of share, both over the classes not gone yet
 * Given: mix and depth as there; wanted, share of the concentration at the start, 0 to 1.
 * Returns: time, s, exact but for rounding; zero for a wanted share of 1; HUGE_VAL where it never comes, since classes
 * of velocity zero hold more.
 * Neglects, scatter, source, pinned by: as wr_discrete_left. */
double wr_discrete_time(const struct wr_discrete_mix *mix, double depth, double wanted);

/* Share of the solids at one depth of a still water.
 *     share at z = sum of share over the classes with v t <= z
 * Given: mix; depth z below the surface, m, zero or more; time since the water came to rest, s, zero or more.
 * Returns: share, 0 to 1, of the concentration at the start.
 * Neglects, scatter, source, pinned by: as wr_discrete_left. */
double wr_discrete_share_at(const struct wr_discrete_mix *mix, double depth, double time);

#endif
