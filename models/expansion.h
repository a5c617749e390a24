/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_EXPANSION_H
#define WR_MODELS_EXPANSION_H

/* How far a bed of grains expands in upward water. Laws differ, by a fifth and more in rate for angular grains: show
 * two and say the spread. */

#include "models/grain.h"
#include "models/status.h"

#include <stddef.h>

/* Porosity past which no law here is asked: grains so far apart are as good as carried off (chosen here, no source). */
#define WR_POROSITY_MOST 0.95

/* A law: the rate, m/s, at which grains of one size stand at a porosity.
 * Given: grain and water within the ranges of their structs; porosity, above zero, up to WR_POROSITY_MOST.
 * Returns: rate; WR_OUT_OF_RANGE outside these. */
typedef enum wr_status wr_expansion_law(const struct wr_grain *grain, struct wr_water water, double porosity,
                                        double *rate);

/* Ergun's headloss set equal to the buoyant weight of the grains: for angular media.
 *     k_V mu (1 - e) v/(e^3 d^2) + k_I rho v^2/(e^3 d) = (rho_s - rho) g
 * Given, returns: as any law.
 * Neglects: that moving grains are not a packed bed; shape is in the constants, which were found on packed beds.
 * Scatter: against Dharmarajah and Cleasby's law, rates at 30 to 50 % expansion from 5 to 25 C: anthracite of 1.5 mm
 * -10 to +23 % by its sphericity, sand of 0.72 mm +20 to +31 % (regression).
 * Source: S. Ergun, 1952, with the constants of models/media.h; setting it equal to the weight is in any text on
 * fluidisation.
 * Pinned by: tests/published/test_expansion.c */
enum wr_status wr_expansion_ergun(const struct wr_grain *grain, struct wr_water water, double porosity, double *rate);

/* Dharmarajah and Cleasby's law, for grains of any shape.
 *     log A = 0.56543 + 1.09348 log B + 0.17971 (log B)^2 - 0.00392 (log B)^4 - 1.5 (log s)^2, logarithms to base 10
 *     A = e^3/(1 - e)^2 rho (rho_s - rho) g/(S^3 mu^2), B = v rho/(S mu (1 - e)), S = 6/(s d), s the sphericity
 * Given, returns: as any law; WR_OUT_OF_RANGE besides where B would be outside 1e-4 to 1e5.
 * Neglects: spread of sizes; walls.
 * Scatter: none at hand; sphericity of anthracite is known to +-0.07, which moves its rate by 10 % and more.
 * Source: A. H. Dharmarajah and J. L. Cleasby, 1986, Predicting the expansion behavior of filter media, J. AWWA 78(12),
 * 66-76; the equation from memory.
 * Pinned by: tests/published/test_expansion.c */
enum wr_status wr_expansion_dharmarajah_cleasby(const struct wr_grain *grain, struct wr_water water, double porosity,
                                                double *rate);

/* Wen and Yu's law, for rounded grains: asked by its grain size at 60 % passing. Shown for comparison only.
 *     e^4.7 Ga = 18 R + 2.7 R^1.687, R = v d rho/mu
 * Given, returns: as any law; WR_OUT_OF_RANGE besides where R would be outside 1e-6 to 1e5.
 * Neglects: shape. It must not be used for anthracite, which expands 10 to 15 % further (same source).
 * Source: D. W. Hendricks, Fundamentals of Water Treatment Unit Processes, 2011, example 12.9 p. 367.
 * Pinned by: tests/published/test_expansion.c */
enum wr_status wr_expansion_wen_yu(const struct wr_grain *grain, struct wr_water water, double porosity, double *rate);

/* Porosity at which grains of one size stand at a rate, by a law.
 * Given: law; grain; water; settled porosity, above zero, below WR_POROSITY_MOST; rate, m/s, zero or more.
 * Returns: porosity: the settled one where the rate does not fluidise the grains; WR_CARRIED_OFF where they would stand
 * further apart than WR_POROSITY_MOST; WR_OUT_OF_RANGE as the law.
 * Neglects, scatter, source: as the law.
 * Pinned by: tests/unit/test_models_bed.c */
enum wr_status wr_expanded_porosity(wr_expansion_law *law, const struct wr_grain *grain, struct wr_water water,
                                    double settled, double rate, double *porosity);

/* Richardson and Zaki's law as the source has it, from the settling velocity of one grain.
 *     e = (v/v_s)^n, n = 0.2247 R^0.1, R = d v_s rho/mu
 * Given: rate v and settling velocity v_s, m/s; reynolds R; all above zero.
 * Returns: porosity, which may be below the settled one: then the grains are not fluidised. WR_CARRIED_OFF where the
 * rate is not below the settling velocity; WR_OUT_OF_RANGE outside these. For comparison only.
 * Neglects: shape, but for what it does to the settling velocity.
 * Source: M. L. Davis, Water and Wastewater Engineering, 2010, example 11-3 p. 11-18.
 * Pinned by: tests/published/test_expansion.c */
enum wr_status wr_expansion_richardson_zaki(double rate, double velocity, double reynolds, double *porosity);

/* A slice of a bed: grains of one size. */
struct wr_slice {
    double depth;    /* m settled, zero or more */
    double settled;  /* porosity, above zero, below one */
    double expanded; /* porosity by a law, above zero, below one; below the settled one the slice is held there */
};

/* Depth of an expanded bed of slices, each as if alone.
 *     sum of L (1 - e0)/(1 - e), with e not below e0
 * Given: slices, count of them.
 * Returns: depth, m; WR_OUT_OF_RANGE when a slice is outside the ranges of its struct.
 * Neglects: mixing of slices.
 * Source: grains are neither made nor lost; Davis 2010, example 11-3 p. 11-18, which does not hold the coarse ones.
 * Pinned by: tests/published/test_expansion.c */
enum wr_status wr_expanded_depth(const struct wr_slice *slices, size_t count, double *depth);

#endif
