/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_HEADLOSS_H
#define WR_MODELS_HEADLOSS_H

/* Headloss of a clean bed. Laws differ by up to 2.6 times on one bed, so a figure means nothing without its law: the
 * program uses Ergun's with two constants per medium; Rose's stands here for comparison. */

#include "models/status.h"
#include "models/water.h"

#include <stddef.h>

/* One layer of a bed. */
struct wr_layer {
    double depth;             /* m, zero or more */
    double grain_size;        /* m, effective size (10 % by mass is finer), above zero */
    double porosity;          /* share of the layer that is not grain, between zero and one */
    double viscous_constant;  /* k_V of Ergun's equation, zero or more */
    double inertial_constant; /* k_I of Ergun's equation, zero or more */
};

/* Headloss of a clean stack of layers by Ergun's equation with two constants, as the two coefficients of a
 * parabola.
 *     h = linear v + quadratic v^2
 *     linear    = sum over layers of k_V mu (1 - e)^2 L/(rho g e^3 d^2)
 *     quadratic = sum over layers of k_I (1 - e) L/(g e^3 d)
 * Given: layers, count of them (none is a bed without headloss); water, both properties above zero. v is the
 * filtration rate (flow over area of the bed), m/s.
 * Returns: linear, m/(m/s), and quadratic, m/(m/s)^2; WR_OUT_OF_RANGE when a layer or the water is outside the
 * ranges given in their structs.
 * Neglects: grains mixing between layers, spread of sizes within a layer, shape (it is in the constants), walls.
 * Scatter: the constants of one kind of grain range by +-20 % or more (see models/media.h), and porosity counts
 * for more than its third power: +-0.02 in it is -+20 %. Fit to the plant's own clean headloss where there is one.
 * Source: S. Ergun, 1952, Fluid flow through packed columns, Chem. Eng. Prog. 48, 89-94; with two constants by
 * medium: R. R. Trussell and M. Chang, 1999, in D. W. Hendricks, Fundamentals of Water Treatment Unit Processes,
 * 2011, appendix E.
 * Pinned by: tests/published/test_headloss.c */
enum wr_status wr_headloss_clean(const struct wr_layer *layers, size_t count, struct wr_water water, double *linear,
                                 double *quadratic);

/* Headloss at a rate, from the two coefficients of a filter: bed, deposit and fittings added up.
 *     h = (linear + quadratic v) v
 * Given: linear, m/(m/s); quadratic, m/(m/s)^2; rate v, m/s; all zero or more.
 * Returns: head, m.
 * Neglects, scatter, source: as wr_headloss_clean.
 * Pinned by: tests/published/test_headloss.c */
static inline double wr_headloss_at(double linear, double quadratic, double rate)
{
    return (linear + quadratic * rate) * rate;
}

/* Grains of one size within a bed. */
struct wr_grains {
    double share; /* of the bed's mass, zero to one; shares need not add up to one and are not normalised */
    double size;  /* m, above zero */
};

/* A bed of one medium whose grains lie sorted by size. */
struct wr_sorted_bed {
    double depth;                   /* m, zero or more */
    double porosity;                /* between zero and one */
    double sphericity;              /* above zero, up to one */
    const struct wr_grains *grains; /* one entry for each size */
    size_t count;                   /* of entries */
};

/* Headloss of a clean bed by Rose's equation, summed over grain sizes.
 *     h = 1.067 v^2 D/(phi g e^4) sum of C_D f/d
 *     C_D = 24/R + 3/sqrt(R) + 0.34 above R = 0.5, else 24/R; R = phi d v rho/mu
 * Given: bed; rate, m/s, above zero; water.
 * Returns: head, m; WR_OUT_OF_RANGE when a member of bed is outside the range given in its struct, or rate or
 * water is not above zero.
 * Neglects: mixing of sizes. The drag coefficient jumps at R = 0.5 (from 48 to 52.6), as the source has it.
 * Scatter: one law of several that differ by up to 2.6 times on one bed.
 * Source: H. E. Rose, 1945, as in M. L. Davis, Water and Wastewater Engineering, 2010, example 11-2, pp. 11-14 to
 * 11-16.
 * Pinned by: tests/published/test_headloss.c */
enum wr_status wr_headloss_rose(const struct wr_sorted_bed *bed, double rate, struct wr_water water, double *head);

/* Headloss of a layer by the law of Erdim, Akgiray and Demir, for comparison only.
 *     h = f mu v L (1 - e)^2/(rho g e^3 d^2), f = 160 + 2.81 (rho v d/(mu (1 - e)))^0.904
 * Given: layer, whose two constants are not used; rate, m/s, above zero; water.
 * Returns: head, m; WR_OUT_OF_RANGE outside these.
 * Neglects: shape: it was fitted to spheres. Scatter: none at hand.
 * Source: E. Erdim, O. Akgiray and I. Demir, 2015, A revisit of pressure drop-flow rate correlations for packed beds of
 * spheres, Powder Technol. 283, 488-504, as in the documentation of python3-fluids.
 * Pinned by: tests/published/test_headloss.c */
enum wr_status wr_headloss_erdim(const struct wr_layer *layer, double rate, struct wr_water water, double *head);

#endif
