/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_SPENT_H
#define WR_SIM_PLANT_SPENT_H

/* Spent-wash tanks: they take whole washes, stand still, give back what has cleared, and drop their sludge. */

#include "sim/plant/simulation.h"

/* The tank that would take a wash of this room, m3: of those that fill and have it free, the fullest, then the lowest
 * number. The number of tanks when none can; also for a plant without tanks, where it stands for the sewer. */
size_t wr_spent_tank_for(const struct wr_simulation *simulation, double room);

/* Books the whole room of a wash in a tank, or nothing in the sewer. */
void wr_spent_book(struct wr_simulation *simulation, size_t tank, double room);

/* A wash into the tank has ended: settling begins once the plant's largest wash no longer fits. */
void wr_spent_release(struct wr_simulation *simulation, size_t tank);

/* A tank's timer: it starts to settle, has settled, or is emptied. */
void wr_spent_act(struct wr_simulation *simulation, size_t tank);

/* Room for the first in line has come free in a tank: sets it exactly. */
void wr_spent_room_came(struct wr_simulation *simulation, size_t tank);

/* A wash waits for room and an emergency outlet stands ready: where no tank gives clear water, the one that has settled
 * longest is drawn off as it is. */
void wr_spent_dump(struct wr_simulation *simulation);

/* Sets the timers of all tanks. */
void wr_spent_arm(struct wr_simulation *simulation);

#endif
