/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_WASHOUT_H
#define WR_MODELS_WASHOUT_H

/* How a filter's solids leave with the wash water: what the operator sees at the waste sample tap as a wash goes on.
 *
 * The bed and the water over it are taken as one vessel, fully mixed, in which all solids that will leave are loose at
 * once. Its load falls exponentially with the wash water passed per area of bed, V, m3/m2, and so do the solids of the
 * water that leaves:
 *     load = load0 exp(-V/E),   c = load0/E exp(-V/E)
 * with E, the wash water per area in which both fall to 1/e. For a vessel truly mixed E is the water it holds per area
 * of bed, from the underdrain to the outlet. Spent wash water has its peak somewhat later and a longer tail than that,
 * so two samples of a real wash are better: wr_washout_from_samples.
 *
 * wr_washout_check tells once whether a washout is fit for use. Elsewhere an unfit one or a negative volume is a
 * programmer's mistake and asserted. */

#include "models/status.h"

/* The washout of one wash. */
struct wr_washout {
    double load;   /* dry solids per area of bed that the wash will carry out, kg/m2, zero or more */
    double e_fold; /* E, wash water per area of bed that takes all but 1/e of it out, m3/m2, above zero */
};

/* Tells whether a washout is within the ranges of its struct.
 * Returns: WR_OK, or WR_OUT_OF_RANGE. */
enum wr_status wr_washout_check(const struct wr_washout *washout);

/* Share of the load that a wash has left in the filter.
 *     share = exp(-V/E)
 * Given: washout that passes wr_washout_check; volume V of wash water passed per area of bed, m3/m2, zero or more.
 * Returns: share, 0 to 1.
 * Neglects: the wash rate, air, a peak that comes late, solids that cling to the grains (leave them out of the load).
 * Scatter: unknown; illustrative until it is fitted to samples.
 * Source: the washout of a mixed vessel, of textbooks; that a filter is one: common practice, no source.
 * Pinned by: tests/unit/test_models_washout.c */
double wr_washout_left(const struct wr_washout *washout, double volume);

/* Solids of the spent wash water at the waste sample tap after a volume.
 *     c = load/E exp(-V/E)
 * Given: washout; volume V, m3/m2, zero or more.
 * Returns: dry solids, kg/m3.
 * Neglects, scatter, source, pinned by: as wr_washout_left. */
double wr_washout_solids(const struct wr_washout *washout, double volume);

/* Mean solids of the spent wash water of a stretch.
 *     mean = load (exp(-V0/E) - exp(-V1/E))/(V1 - V0)
 * Given: washout; from V0 and to V1, m3/m2, 0 <= from <= to.
 * Returns: dry solids, kg/m3; those at V0 for a stretch of no length.
 * Neglects, scatter, source, pinned by: as wr_washout_left. */
double wr_washout_mean(const struct wr_washout *washout, double from, double to);

/* Wash water after which what leaves is no thicker than wanted: the inverse of wr_washout_solids.
 *     V = E ln(load/(E c))
 * Given: washout; solids c, kg/m3, zero or more.
 * Returns: volume per area of bed, m3/m2; zero where it is so from the start; HUGE_VAL for solids of zero.
 * Neglects, scatter, source, pinned by: as wr_washout_left. */
double wr_washout_volume(const struct wr_washout *washout, double solids);

/* What an operator took at the waste sample tap. */
struct wr_washout_sample {
    double volume; /* wash water passed per area of bed until then, m3/m2, zero or more */
    double solids; /* dry, kg/m3, or any measure in proportion to it; above zero */
};

/* E from two samples of one wash, both after its peak.
 *     E = (V1 - V0)/ln(c0/c1)
 * Given: first and second sample.
 * Returns: E, m3/m2; WR_OUT_OF_RANGE when the second was not taken later or is not clearer, or a member is outside the
 * range of its struct.
 * Neglects: as wr_washout_left.
 * Scatter: that of two samples: 10 % in one of them is 0.1 in ln(c0/c1), so take them far apart.
 * Source: wr_washout_solids solved for E.
 * Pinned by: tests/unit/test_models_washout.c */
enum wr_status wr_washout_from_samples(const struct wr_washout_sample *first, const struct wr_washout_sample *second,
                                       double *e_fold);

#endif
