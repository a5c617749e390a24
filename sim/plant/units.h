/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_UNITS_H
#define WR_SIM_PLANT_UNITS_H

/* The units of a plant by name and number: filters, wells, tanks and pumps, and the vessels that filters stand in. */

#include "sim/plant/plant.h"

/* Finds a unit by its name: a filter, well or tank, or "wash pump", "blower", "recycle pump". False when there is none.
 */
bool wr_plant_unit(const struct wr_plant *plant, const char *name, struct wr_unit *unit);

/* First and number of filters that stand in one vessel with a filter. */
void wr_plant_vessel(const struct wr_plant *plant, size_t filter, size_t *first, size_t *count);

/* True when two filters stand in one vessel; a filter stands in its own. */
bool wr_plant_shares_vessel(const struct wr_plant *plant, size_t a, size_t b);

/* True when an outage takes a filter out, be it by another cell of its vessel. */
bool wr_plant_outage_takes(const struct wr_plant *plant, size_t outage, size_t filter);

#endif
