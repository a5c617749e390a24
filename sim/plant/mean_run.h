/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_MEAN_RUN_H
#define WR_SIM_PLANT_MEAN_RUN_H

/* The filter run that a plant would make were nothing ever to change: what beds at the start are spread over, and what
 * a reader can check by pencil. */

#include "sim/plant/plant.h"

/* Rate each filter would have on the maximum day with every unit named in the outages' start out, m/s. */
double wr_plant_mean_rate(const struct wr_plant *plant);

/* Time, s, of a whole filter run of the group at a steady rate, m/s, and dry solids in its feed, kg/m3, until its first
 * trigger; WR_NEVER when none is met. */
double wr_plant_run_time(const struct wr_plant *plant, const struct wr_group *group, double rate, double solids);

#endif
