/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_STOCKS_H
#define WR_SIM_PLANT_STOCKS_H

/* Storage and the wash-water tank: their levels, latches and crossings. */

#include "sim/plant/simulation.h"

/* Storage has reached the level its timer stood for: it is set there, and wells and marks follow. */
void wr_storage_act(struct wr_simulation *simulation);

/* The wash-water tank has reached the level its timer stood for. */
void wr_wash_tank_act(struct wr_simulation *simulation);

/* Sets storage's timer, and ends a pin that the flows have ended. While net inflow stands, so does the timer. Where
 * storage gives the wash water, sets too when there is enough above its reserve for the first in line. */
void wr_storage_arm(struct wr_simulation *simulation);

/* Does so, and sets the timer of wash water. */
void wr_stocks_arm(struct wr_simulation *simulation);

/* Sets wells' latches to what a level asks at the start of a run: on below the off level. */
void wr_storage_start(const struct wr_plant *plant, struct wr_state *state);

#endif
