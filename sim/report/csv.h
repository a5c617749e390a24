/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_REPORT_CSV_H
#define WR_SIM_REPORT_CSV_H

/* Tables for other programs: RFC 4180, in SI with the unit in the head of the column, numbers that read back exactly.
 * What there is none of is an empty field. */

#include "sim/report/report.h"

#include <stdio.h>

/* Every wash of a run that kept lists. */
void wr_csv_washes(FILE *out, const struct wr_run *run);

/* Every span in which a limit held, of a run that kept lists. */
void wr_csv_spans(FILE *out, const struct wr_run *run);

/* Each time that a tank of such a run stood still and was drawn off, each draw of sludge, and each time that an
 * emergency outlet ran. */
void wr_csv_tanks(FILE *out, const struct wr_run *run);
void wr_csv_sludge(FILE *out, const struct wr_run *run);
void wr_csv_emergency(FILE *out, const struct wr_run *run);

/* The ladders of a firm search. */
void wr_csv_ladder(FILE *out, const struct wr_firm *firm);

/* Every value that a search for margins tried on its ladders. */
void wr_csv_margins(FILE *out, const struct wr_margins *margins);

/* Every point of a sweep that was done. */
void wr_csv_sweep(FILE *out, const struct wr_sweep *sweep);

/* The map of two numbers, a line a point. */
void wr_csv_map(FILE *out, const struct wr_margins *margins);

#endif
