/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_SCHEDULE_H
#define WR_SIM_PLANT_SCHEDULE_H

/* What the calendar does: wash hours, attended hours, outlets' hours and volumes of the day, the rota. */

#include "sim/plant/simulation.h"

/* Opens what is open at the start of a run and sets the timers. */
void wr_schedule_start(struct wr_simulation *simulation);

/* Wash hours, or attended hours, begin or end. */
void wr_schedule_hours(struct wr_simulation *simulation);

/* An outlet's hours begin or end, or it has had its volume of the day. */
void wr_schedule_outlet(struct wr_simulation *simulation, size_t outlet);

/* The outlets' day begins anew. */
void wr_schedule_midnight(struct wr_simulation *simulation);

/* A rota entry's start has come: its filter calls, if it is in service or rinses for it, and has not called. */
void wr_schedule_rota(struct wr_simulation *simulation, size_t entry);

/* Sets the outlets' timers for the flows that hold. */
void wr_schedule_arm(struct wr_simulation *simulation);

#endif
