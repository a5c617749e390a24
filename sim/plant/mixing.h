/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_MIXING_H
#define WR_SIM_PLANT_MIXING_H

/* What spent wash water carries back to the filters from tanks that do not settle.
 *
 * Such a tank is fully mixed. With inflow q carrying solids at c', outflow p and level L its mix c follows
 *     c(t) = c' + (c0 - c') (L(t)/L0)^(q/(p - q)),  or with p = q  c' + (c0 - c') exp(-q t/L0)
 * (a mass balance, dm/dt = q c' - p c with m = c L). What leaves over a stretch between two instants is counted by that
 * law, so no more leaves than is there. What is to come is foreseen at the mix of the instant, which is worked out
 * again whenever it has moved by a hundredth. */

#include "sim/plant/state.h"

/* Concentration, kg/m3, of a constituent in what leaves, or would leave, a tank at this instant. */
double wr_mix_of(const struct wr_plant *plant, const struct wr_tank *tank, int constituent);

/* Sets what the water that leaves each tank carries at this instant: nothing once settled by the clock, else the mix.
 */
void wr_mix_tanks(const struct wr_plant *plant, struct wr_state *state);

/* Sets what the feed carries, from the raw water and the tank that gives the recycle. */
void wr_mix_feed(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows);

/* Sets both to their means over the time, s, that has passed at the flows that hold. */
void wr_mix_over(const struct wr_plant *plant, struct wr_state *state, double time);

/* Time, s, until a mix has moved by a hundredth, at least a second; WR_NEVER while none moves. Not for tanks that
 * settle. */
double wr_mix_time(const struct wr_plant *plant, const struct wr_state *state);

#endif
