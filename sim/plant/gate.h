/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_GATE_H
#define WR_SIM_PLANT_GATE_H

/* The gate of a wash: the only code that knows why a filter waits. */

#include "sim/plant/simulation.h"

/* Why a filter may not be washed now: own rules, wash system, water, room. The empty set when it may. */
wr_limit_set wr_gate(const struct wr_simulation *simulation, size_t filter);

/* True where the tank or the storage that gives wash water holds less than this filter's whole wash, beside what other
 * washes were promised; never for a source that holds none. */
bool wr_gate_lacks_volume(const struct wr_simulation *simulation, size_t filter);

/* Wash water in storage that no wash has been promised and that is not reserve, m3. */
double wr_gate_storage_in_hand(const struct wr_simulation *simulation);

#endif
