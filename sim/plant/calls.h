/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_CALLS_H
#define WR_SIM_PLANT_CALLS_H

/* What calls a wash, and what happens at available head.
 *
 * One timer a group stands for the member that meets a trigger next and one for the member that reaches its available
 * head next; filters that run apart have timers of their own. */

#include "sim/plant/simulation.h"

/* A group's call timer: the members that now meet a trigger call, or begin their persistence. */
void wr_calls_act(struct wr_simulation *simulation, size_t group);

/* A filter's own call timer: its persistence has passed, or it meets a trigger while apart. */
void wr_calls_filter_act(struct wr_simulation *simulation, size_t filter);

/* A group's head timer: the members at their available head go on apart, at constant head. */
void wr_heads_act(struct wr_simulation *simulation, size_t group);

/* A stretch at available head has ended: the filter's rate is worked out for the next. */
void wr_heads_stretch(struct wr_simulation *simulation, size_t filter);

/* Sets all these timers for the flows that hold; ends persistence that flows have broken off. */
void wr_calls_arm(struct wr_simulation *simulation);

#endif
