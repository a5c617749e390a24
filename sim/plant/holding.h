/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_HOLDING_H
#define WR_SIM_PLANT_HOLDING_H

/* The holding tank of spent regenerant: filled by batch regenerations, hauled away as a whole at set times. A plant
 * without one sends its regenerant to the sewer, and nothing here does anything. */

#include "sim/plant/simulation.h"

/* An empty tank, where there is one, and the timer of its first hauling. */
void wr_holding_start(struct wr_simulation *simulation);

/* True when there is room for a filter's whole regenerant. */
bool wr_holding_has_room(const struct wr_simulation *simulation, size_t filter);

/* Books that room for the wash of a filter. */
void wr_holding_book(struct wr_simulation *simulation, size_t filter);

/* A wash has ended or broken off: gives back what it had booked and did not fill. */
void wr_holding_release(struct wr_simulation *simulation, size_t filter);

/* Takes a filter's regenerant, m3, of the given concentrations (kg/m3), NULL for clean water. */
void wr_holding_fill(struct wr_simulation *simulation, size_t filter, double volume, const double *concentration);

/* The tank's content is hauled away. */
void wr_holding_hauled(struct wr_simulation *simulation);

#endif
