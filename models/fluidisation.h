/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_FLUIDISATION_H
#define WR_MODELS_FLUIDISATION_H

#include "models/grain.h"
#include "models/status.h"

/* How much faster than just fluidising a wash should be, by the rule of the source below. */
#define WR_WASH_OVER_FLUIDISING 1.3

/* Galileo number of a grain.
 *     Ga = d^3 rho (rho_s - rho) g/mu^2
 * Given: grain and water within the ranges of their structs.
 * Returns: number, of no unit; WR_OUT_OF_RANGE outside them.
 * Source: D. W. Hendricks, Fundamentals of Water Treatment Unit Processes, 2011, eq. 12.57 p. 368.
 * Pinned by: tests/published/test_fluidisation.c */
enum wr_status wr_galileo(const struct wr_grain *grain, struct wr_water water, double *number);

/* Least rate at which upward water carries a bed of such grains, by Wen and Yu.
 *     v = mu R/(rho d), R = sqrt(33.7^2 + 0.0408 Ga) - 33.7
 * Given: grain: for a medium of mixed sizes the size that 90 % of its mass is finer than, since the whole bed moves
 * only when its coarse grains do; water.
 * Returns: rate, m/s; WR_OUT_OF_RANGE outside the ranges of the structs. Wash at 1.3 times that rate.
 * Neglects: porosity and shape, whose mean effect is in its two constants.
 * Scatter: standard deviation 34 % on the data of its authors (from memory); on table 12.9 of Hendricks from -26 % to
 * +17 % of what was measured.
 * Source: C. Y. Wen and Y. H. Yu, 1966, in Hendricks 2011, eqs 12.56 to 12.58 p. 368; the d90 rule and the factor 1.3
 * same page.
 * Pinned by: tests/published/test_fluidisation.c */
enum wr_status wr_fluidising_rate(const struct wr_grain *grain, struct wr_water water, double *rate);

/* Head that it takes to hold a layer of grains up: what the differential across a fluidised layer comes to.
 *     h = L (1 - e) (rho_s/rho - 1)
 * Given: depth L, m, zero or more, and porosity e, between zero and one, both of the same state, settled or expanded;
 * grain; water.
 * Returns: head, m of that water; WR_OUT_OF_RANGE outside these.
 * Neglects: underdrain, pipes and trough.
 * Source: buoyant weight over area; in any text on filters.
 * Pinned by: tests/unit/test_models_bed.c */
enum wr_status wr_fluidised_head(double depth, double porosity, const struct wr_grain *grain, struct wr_water water,
                                 double *head);

#endif
