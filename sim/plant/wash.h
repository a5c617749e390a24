/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_WASH_H
#define WR_SIM_PLANT_WASH_H

/* Washes: the line of calls, the gate that holds them, and the steps of a wash. */

#include "sim/plant/simulation.h"

/* A filter calls for a wash: it joins the line in the order of its call. */
void wr_wash_call(struct wr_simulation *simulation, size_t filter, enum wr_trigger trigger);

/* Why a filter may not be washed now: own rules, wash system, water, room. The empty set when it may. */
wr_limit_set wr_wash_gate(const struct wr_simulation *simulation, size_t filter);

/* Starts every wash that the rules now allow, first in line first; nobody overtakes. */
void wr_wash_decide(struct wr_simulation *simulation);

/* A wash step has ended: the next begins, or the filter goes back into service. */
void wr_wash_step_ended(struct wr_simulation *simulation, size_t filter);

/* Sets the timers of rinses, whose flow may change, and of those that wake a waiting filter. */
void wr_wash_arm(struct wr_simulation *simulation);

/* Takes a filter out of the line: it goes out of service, its call stays latched. */
void wr_wash_leave_line(struct wr_simulation *simulation, size_t filter);

/* A filter comes back into service with a call still latched: it takes the place of its call. */
void wr_wash_return_to_line(struct wr_simulation *simulation, size_t filter);

/* Notes why each filter in line waits: opens and closes its spans. */
void wr_wash_note(struct wr_simulation *simulation);

/* Closes the spans of a filter's wait at the present time. */
void wr_wash_close_spans(struct wr_simulation *simulation, size_t filter);

#endif
