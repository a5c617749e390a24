/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_FLOCCULENT_COLUMN_H
#define WR_MODELS_FLOCCULENT_COLUMN_H

/* Settling of particles that grow together as they sink, as a settling column has shown it: a table of the removal at
 * each port and sampling time. No law is assumed; between its rows and columns the table is read straight.
 *
 * wr_flocculent_check tells once whether a table is fit for use. */

#include "models/status.h"

#include <stddef.h>

/* What a settling column has shown. The surface is taken as clear from the first round on. */
struct wr_flocculent_table {
    const double *depths;  /* m under the surface of each port, above zero, rising */
    const double *times;   /* s after the column came to rest, of each round of samples, above zero, rising */
    const double *removal; /* share of the solids at the start that a sample lacked, 0 to 1, port by port:
                              removal[port x times + round]; at no port does it fall with time */
    size_t depth_count;    /* one or more */
    size_t time_count;     /* one or more */
};

/* Tells whether a table is within the ranges of its struct.
 * Returns: WR_OK, or WR_OUT_OF_RANGE. */
enum wr_status wr_flocculent_check(const struct wr_flocculent_table *table);

/* Removal from the top of the column, depth mean.
 *     removal = (1/d) integral from 0 to d of R dz
 * with R straight in time and depth between the samples, 1 at the surface; before the first round it grows straight
 * from nothing. Given: table that passes wr_flocculent_check; depth d, m, above zero and no deeper than the lowest
 * port; time, s, from zero to the last round. Returns: share of the solids at the start, 0 to 1; WR_OUT_OF_RANGE
 * outside: nothing is known there. Neglects: that a deep tank stirs and a column does not; other waters than the one in
 * the column. Scatter: curves drawn by hand through such a table differ by some 3 points of a hundred. Source: M. L.
 * Davis, Water and Wastewater Engineering, 2010, example 10-3 pp. 10-13 to 10-14, whose sum over curves of equal
 * removal this integral stands for. Pinned by: tests/published/test_settling_tank.c,
 * tests/unit/test_models_flocculent_column.c */
enum wr_status wr_flocculent_removal(const struct wr_flocculent_table *table, double depth, double time,
                                     double *removal);

/* Earliest time at which the removal from the top reaches a wanted one: the inverse of wr_flocculent_removal, straight
 * between two rounds.
 * Given: table; depth as there; wanted, share, 0 to 1.
 * Returns: time, s; HUGE_VAL where the table does not reach it; WR_OUT_OF_RANGE outside.
 * Neglects, scatter, source, pinned by: as wr_flocculent_removal. */
enum wr_status wr_flocculent_time(const struct wr_flocculent_table *table, double depth, double wanted, double *time);

#endif
