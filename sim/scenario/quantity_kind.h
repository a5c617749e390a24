/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_QUANTITY_KIND_H
#define WR_SIM_SCENARIO_QUANTITY_KIND_H

/* The table of what quantities are, between reading them and showing them. */

#include "sim/scenario/quantity.h"

/* One kind of quantity. */
struct wr_quantity_kind {
    const char *name;       /* with its article */
    const char *si;         /* unit inside, "1" for a bare number */
    const char *also;       /* unit of a pressure where one may stand for a head, or NULL */
    const char *also_name;  /* what that is called, with its article */
    const char *shown[2];   /* units for a reader of US and of SI units, by enum wr_units */
    int digits;             /* significant ones shown */
    const char *us_example; /* as an author writes it */
    const char *si_example;
};

extern const struct wr_quantity_kind wr_quantity_kinds[WR_QUANTITY_COUNT];

/* Converts `value` from `unit` to SI and back as a `quantity`. True when `unit` is one of it; else `fault` says what it
 * is, to go on from what was found. */
bool wr_quantity_to_si(enum wr_quantity quantity, const char *unit, double *value, char *fault, size_t size);
bool wr_quantity_from_si(enum wr_quantity quantity, const char *unit, double *value);

/* Decimals that leave `digits` significant ones of a value; a whole part stays whole. A hair below a power of ten
 * counts as it, and nought has none. */
int wr_quantity_decimals(double value, int digits);

#endif
