/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_SETTLING_H
#define WR_MODELS_SETTLING_H

#include "models/drag.h"
#include "models/grain.h"
#include "models/status.h"

/* Velocity at which one grain settles through still water.
 *     v^2 = 4 g (rho_s/rho - 1) d/(3 C_D(R)), R = d v rho/mu
 * Given: grain (its Ergun constants play no part, but must be in range); water; drag, a law of models/drag.h or the
 * caller's, by which C_D R^2 rises with R.
 * Returns: velocity, m/s, downward; WR_OUT_OF_RANGE outside the ranges of the structs, or where R would be outside 1e-9
 * to 1e6.
 * Neglects: other grains, walls, the time to come to speed.
 * Scatter: half that of the law of drag; size by sieve is not that of the sphere of the same volume, some 10 % either
 * way for angular grains (common practice, no source).
 * Source: balance of weight, buoyancy and drag.
 * Pinned by: tests/published/test_settling.c */
enum wr_status wr_settling_velocity(const struct wr_grain *grain, struct wr_water water, wr_drag_law *drag,
                                    double *velocity);

/* Size of the grain that settles just at a rate: what is finer goes with the water.
 * Given: grain, whose size is not used but must be in range; rate of rise, m/s, above zero; drag as above.
 * Returns: size, m; WR_OUT_OF_RANGE as above, or where it would be outside 1e-8 to 1 m.
 * Neglects, scatter, source: as wr_settling_velocity.
 * Pinned by: tests/unit/test_models_bed.c */
enum wr_status wr_settling_size(const struct wr_grain *grain, struct wr_water water, wr_drag_law *drag, double rate,
                                double *size);

#endif
