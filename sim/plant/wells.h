/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_WELLS_H
#define WR_SIM_PLANT_WELLS_H

/* Wells: least run and rest between what storage asks of them and what they may do. */

#include "sim/plant/simulation.h"

/* Wells at the start of a run: rested, and free to stop. */
void wr_wells_start(const struct wr_plant *plant, struct wr_state *state);

/* Works out which wells are wanted now, before washes are decided and flows shared. */
void wr_wells_settle(struct wr_simulation *simulation);

/* A run begins with wells as it finds them: one that runs then has not started. */
void wr_wells_found_running(struct wr_simulation *simulation);

/* After flows are shared: notes which started and stopped, and sets the timers of least run and rest. */
void wr_wells_arm(struct wr_simulation *simulation);

#endif
