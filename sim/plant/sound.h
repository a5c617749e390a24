/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_SOUND_H
#define WR_SIM_PLANT_SOUND_H

/* Whether a block of bytes may be a plant's state: asked of one that comes from a file before it is run on.
 *
 * Numbers that stand for places must be such, lists must hold each filter once and only those they are for, flags and
 * words must be of their kind, and timers must stand in order. Stocks and flows may be any numbers but none at all:
 * whether a run could have come to them is not asked. */

#include "sim/plant/simulation.h"

/* True for bytes that may be run on. The state of `fresh`, a simulation of the same plant at its start, has the bounds
 * of its clock; the run ends at `horizon`, s, and the block is as long as the plant's layout says. */
bool wr_state_is_sound(const struct wr_simulation *fresh, const struct wr_state *state, double horizon);

/* True for a flag that holds 0 or 1 and nothing else. */
bool wr_flag_is_sound(const bool *flag);

#endif
