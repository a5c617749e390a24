/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_OUTAGES_H
#define WR_SIM_PLANT_OUTAGES_H

/* Units that go out of service at a date and come back at another. */

#include "sim/plant/simulation.h"

/* Takes out what is out when the run begins, and sets the timers of all outages. */
void wr_outages_start(struct wr_simulation *simulation);

/* An outage begins or ends: its unit goes out or comes back, unless another outage keeps it out. */
void wr_outage_act(struct wr_simulation *simulation, size_t outage);

#endif
