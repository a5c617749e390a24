/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_MEDIA_H
#define WR_MODELS_MEDIA_H

/* Starter figures of filter media: constants of the clean-bed headloss of models/headloss.h, and what the laws of
 * fluidisation and settling want. */

#include <stdbool.h>
#include <stddef.h>

struct wr_medium {
    const char *name;         /* as a scenario writes it */
    double viscous_constant;  /* k_V of Ergun's equation */
    double inertial_constant; /* k_I of Ergun's equation */
    double porosity;          /* share */
    bool published;           /* these three; false: illustrative, no published figure for this medium */
    double specific_gravity;  /* density over 1000 kg/m3 */
    double sphericity;        /* area of the sphere of the same volume over area of the grain */
    double uniformity;        /* size that 60 % is finer than over effective size */
    bool grains_published;    /* these three */
    bool is_support;          /* gravel, which carries the media and must not move in a wash */
    const char *source;       /* where the first three come from, in words */
    const char *grain_source; /* where the next three come from */
};

extern const struct wr_medium wr_media_table[];
extern const size_t wr_media_count;

/* The row of a medium.
 * Given: name, exactly as in the table.
 * Returns: the row, or NULL when the table has no such medium.
 * Scatter: published rows are mid values of ranges: anthracite k_V 210-245, k_I 3.5-5.3, porosity 0.47-0.52, specific
 * gravity 1.5-1.75, sphericity 0.46-0.60; sand 110-115, 2.0-2.5, 0.40-0.43, 2.55-2.65, 0.7-0.8, uniformity 1.3-1.8;
 * glass beads k_V 130-150, k_I 1.3-1.8, porosity 0.38-0.40.
 * Source: R. R. Trussell and M. Chang, 1999, in D. W. Hendricks, Fundamentals of Water Treatment Unit Processes,
 * 2011, table E.3 p. 830; M. L. Davis, Water and Wastewater Engineering, 2010, table 11-1.
 * Pinned by: tests/published/test_headloss.c, tests/published/test_grain_curve.c */
const struct wr_medium *wr_medium_find(const char *name);

#endif
