/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_AXIS_H
#define WR_SIM_SCENARIO_AXIS_H

/* Values that a study gives to one place of a scenario, as a caller writes them:
 *
 *     /raw_water/iron=1 mg/L to 5 mg/L in 9        nine values, evenly, both ends among them
 *     /filters/0/count=3 to 6                      a range; of whole numbers where the ends are whole and bare
 *     /wash/who_first=dirtiest, longest_waiting    a list; commas within quotes, brackets and braces do not part it
 *
 * The first end of a range may leave out the unit of the second. */

#include "sim/scenario/figure.h"

enum {
    WR_AXIS_MOST = 10000,
    WR_AXIS_FAULT = 1024 /* bytes for a fault in words: an unknown key is told with all that its block knows */
};

struct wr_axis {
    char *pointer;
    bool is_range;
    double from, to; /* of a range, in its unit */
    char unit[WR_FIGURE_UNIT];
    bool is_whole; /* a range between whole numbers without a unit */
    size_t count;  /* values; 0 for a range that does not say how many */
    char **values; /* each as a setting takes it */
};

/* Reads "POINTER=VALUES", or "POINTER" alone as a range from 0 to 0 with no values. False with the fault in words, and
 * then there is nothing to free. */
bool wr_axis_read(struct wr_axis *axis, const char *text, char *fault, size_t size);

/* Gives a range `count` values evenly from one end to the other, or every whole number where it is of those and has no
 * more than `count`. */
void wr_axis_divide(struct wr_axis *axis, size_t count);

/* True when the pointer leads to a place that a scenario has. What the values may be is for the reader to say of each.
 */
bool wr_axis_is_known(const struct wr_axis *axis, const struct wr_reading *reading, char *fault, size_t size);

/* "POINTER=VALUE"; the caller frees it. */
char *wr_axis_setting(const struct wr_axis *axis, const char *value);

void wr_axis_fini(struct wr_axis *axis);

#endif
