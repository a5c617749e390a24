/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_TIMER_MAP_H
#define WR_SIM_PLANT_TIMER_MAP_H

/* The names of the timers, in the order in which they stand at one instant. */

#include "sim/plant/plant.h"

/* Name of a timer for messages, written to text. */
void wr_plant_timer_name(const struct wr_plant *plant, size_t timer, char *text, size_t size);

#endif
