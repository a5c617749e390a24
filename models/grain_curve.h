/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_GRAIN_CURVE_H
#define WR_MODELS_GRAIN_CURVE_H

/* The grain curve of a medium: which share of its mass is finer than a size. */

#include "models/status.h"

#include <stddef.h>

/* What a sieve lets pass. */
struct wr_sieve {
    double opening; /* m, above zero */
    double passing; /* share of the mass, zero to one */
};

/* Either a sieve table or, without one, a log-normal curve by two figures. */
struct wr_grain_curve {
    double effective_size;         /* m: 10 % is finer; above zero */
    double uniformity;             /* size that 60 % is finer than over the effective size; one or more */
    const struct wr_sieve *sieves; /* finest first, opening and passing both rising */
    size_t count;                  /* two or more; none for a log-normal curve */
};

/* Size that a share of the mass is finer than.
 *     sieves:     log size against share, straight between two sieves
 *     log-normal: d = d10 UC^((z - z10)/(z60 - z10)), z the normal quantile of a share, so d90 = d10 UC^1.67
 * Given: curve; share, above zero, below one.
 * Returns: size, m; WR_OUT_OF_RANGE for another share or curve, or a share outside the sieve table.
 * Neglects: what sieves do to long grains.
 * Scatter: a log-normal curve is a guess between and beyond its two figures; d90 of real media lies some 10 % about it
 * (common practice, no source). A sieve table is better.
 * Source: M. L. Davis, Water and Wastewater Engineering, 2010, example 11-1 p. 11-7, for sieves; the log-normal curve
 * is this project's choice, and its exponent for d90 follows (regression).
 * Pinned by: tests/published/test_grain_curve.c */
enum wr_status wr_grain_curve_size(const struct wr_grain_curve *curve, double share, double *size);

/* Share of the mass that is finer than a size: the inverse.
 * Given: curve; size, m, above zero.
 * Returns: share; below the finest sieve its passing, above the coarsest one that: the table knows no more.
 * WR_OUT_OF_RANGE for another curve or size.
 * Neglects, scatter, source: as wr_grain_curve_size.
 * Pinned by: tests/unit/test_models_bed.c */
enum wr_status wr_grain_curve_passing(const struct wr_grain_curve *curve, double size, double *share);

#endif
