/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_HOURS_H
#define WR_SIM_PLANT_HOURS_H

/* Hours of the week in which something is allowed. Hours are half open: open at their beginning, shut at their end. */

#include "sim/plant/definition.h"

/* True when a list of hours is open at a time, s since the run began at `start` (s since 1970-01-01 00:00 by local
 * standard time). An empty list is always open. */
bool wr_hours_are_open(const struct wr_hours_list *hours, double start, double now);

/* The next time after now at which some hours of the list begin or end; infinite for an empty list. */
double wr_hours_next_change(const struct wr_hours_list *hours, double start, double now);

/* Share of the week that a list is open: 1 for an empty one. */
double wr_hours_share(const struct wr_hours_list *hours);

#endif
