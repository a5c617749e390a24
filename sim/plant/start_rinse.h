/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_START_RINSE_H
#define WR_SIM_PLANT_START_RINSE_H

/* Rinse at each start: where the plant asks for it, every filter in service first runs to waste for a time when raw
 * water flows again after the plant has stood still. A rinse at start waits for nothing: where no spent-wash tank has
 * room for a filter's, it spills. */

#include "sim/plant/simulation.h"

/* Sets the timer that begins the rinses, due now, when a plant that stood still has just started. */
void wr_start_rinse_arm(struct wr_simulation *simulation, bool starts);

/* The plant has started: all filters in service begin to rinse. */
void wr_start_rinse_begin(struct wr_simulation *simulation);

/* A filter's time is over: it goes back into service. */
void wr_start_rinse_ended(struct wr_simulation *simulation, size_t filter);

/* A filter's rinse is broken off, since its wash begins. */
void wr_start_rinse_cut(struct wr_simulation *simulation, size_t filter);

#endif
