/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_LINE_H
#define WR_SIM_PLANT_LINE_H

/* The line of filters that have called for a wash, in the order of their turn. */

#include "sim/plant/simulation.h"

/* A filter calls for a wash and joins the line; its call stays until the wash starts. */
void wr_line_call(struct wr_simulation *simulation, size_t filter, enum wr_trigger trigger);

/* A filter with a call still latched takes the place of that call again. */
void wr_line_return(struct wr_simulation *simulation, size_t filter);

/* Takes a filter out of the line, its call latched or spent; closes the spans of its wait. */
void wr_line_leave(struct wr_simulation *simulation, size_t filter);

/* Puts the line in order: urgent ones first; then longest waiting, or dirtiest where the plant says so; then longest
 * since the last wash; then number. */
void wr_line_sort(struct wr_simulation *simulation);

/* Sets the timer of the instant at which another filter becomes dirtier than the first in line, where the plant washes
 * the dirtiest first: those in service gather, those that stand off line do not. */
void wr_line_arm(struct wr_simulation *simulation);

/* Notes why each filter in line waits: opens and closes its spans. */
void wr_line_note(struct wr_simulation *simulation);

/* Closes the spans of a filter's wait at the present time. */
void wr_line_close_spans(struct wr_simulation *simulation, size_t filter);

#endif
