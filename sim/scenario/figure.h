/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_FIGURE_H
#define WR_SIM_SCENARIO_FIGURE_H

/* One number of a scenario, to be moved by a study: what a pointer leads to, in its author's unit. Main thread only. */

#include "sim/scenario/read.h"

#include <stdbool.h>
#include <stddef.h>

enum { WR_FIGURE_UNIT = 48 };

/* A number as it is written. */
struct wr_figure {
    double value;
    char unit[WR_FIGURE_UNIT]; /* "gal/min"; empty for a bare number */
    int quantity;              /* enum wr_quantity */
    bool is_whole;             /* a count */
    bool is_default;           /* the scenario leaves it out */
};

/* Finds the number that an RFC 6901 pointer leads to, or the default where a key is left out. False with the fault in
 * words for a pointer to nothing, to what is no number, or to a key that is left out and has no default. */
bool wr_figure_find(struct wr_figure *figure, const struct wr_reading *reading, const char *pointer, char *fault,
                    size_t size);

/* True when a pointer leads to a place that a scenario has; else says in the reader's words why not. */
bool wr_figure_is_place(const struct wr_reading *reading, const char *pointer, char *fault, size_t size);

/* Takes a text such as "12 gal/min" or "3" apart. False for a text that is not a number with a unit or without. */
bool wr_figure_split(const char *text, double *value, char unit[WR_FIGURE_UNIT]);

/* Writes another value of the figure as a setting takes it: "12.5 gal/min", so that it reads back to the same double.
 * 96 bytes are enough; returns `buffer`. */
char *wr_figure_text(double value, const char *unit, char *buffer, size_t size);

/* The value in SI; `value` itself for a bare number. */
double wr_figure_si(const struct wr_figure *figure, double value);

#endif
