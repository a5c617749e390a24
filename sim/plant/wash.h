/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_WASH_H
#define WR_SIM_PLANT_WASH_H

/* Washes: which starts, its steps, and what interrupts it. */

#include "sim/plant/simulation.h"

/* Starts every wash that the gate now allows, first in line first; nobody overtakes. */
void wr_wash_decide(struct wr_simulation *simulation);

/* A wash step has ended: the next begins, or the filter goes back into service. */
void wr_wash_step_ended(struct wr_simulation *simulation, size_t filter);

/* Takes a filter off line, from its pack or from where it runs alone; its mode is still to be set. */
void wr_wash_go_off_line(struct wr_simulation *simulation, size_t filter);

/* A filter whose wash or rinse has ended goes back into service, or out of it where an outage has been waiting. */
void wr_wash_return(struct wr_simulation *simulation, size_t filter);

/* Washes under way lose their wash water: they finish weak, or hold the filter, as the plant's rule says. */
void wr_wash_interrupt(struct wr_simulation *simulation);

/* Sets the timers of rinses, whose flow may change, and of the time between starts. */
void wr_wash_arm(struct wr_simulation *simulation);

#endif
