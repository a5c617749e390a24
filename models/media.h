/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_MEDIA_H
#define WR_MODELS_MEDIA_H

/* Starter constants of filter media for the clean-bed headloss of models/headloss.h. */

#include <stdbool.h>
#include <stddef.h>

struct wr_medium {
    const char *name;         /* as a scenario writes it */
    double viscous_constant;  /* k_V of Ergun's equation */
    double inertial_constant; /* k_I of Ergun's equation */
    double porosity;          /* share */
    bool published;           /* false: illustrative, no published figure for this medium */
    const char *source;       /* where the figures come from, in words */
};

extern const struct wr_medium wr_media_table[];
extern const size_t wr_media_count;

/* The row of a medium.
 * Given: name, exactly as in the table.
 * Returns: the row, or NULL when the table has no such medium.
 * Scatter: published rows are mid values of ranges: anthracite k_V 210-245, k_I 3.5-5.3, porosity 0.47-0.52; sand
 * 110-115, 2.0-2.5, 0.40-0.43; glass beads 130-150, 1.3-1.8, 0.38-0.40.
 * Source: R. R. Trussell and M. Chang, 1999, in D. W. Hendricks, Fundamentals of Water Treatment Unit Processes,
 * 2011, table E.3 p. 830.
 * Pinned by: tests/published/test_headloss.c */
const struct wr_medium *wr_medium_find(const char *name);

#endif
