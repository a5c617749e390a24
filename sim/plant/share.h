/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_SHARE_H
#define WR_SIM_PLANT_SHARE_H

/* Sharing out the flows of an instant.
 *
 * A function of the state's stocks, modes and latches alone: which wells run, what is recycled, what each filter
 * takes, what each tank gives. What it finds stands in state->flows, in the packs' rates and in the filters' and tanks'
 * flows, and holds until the next instant; state->flows.held says what held each flow back. */

#include "sim/plant/state.h"

/* Shares out all flows. */
void wr_share(const struct wr_plant *plant, struct wr_state *state);

/* True when time alone cannot have moved a share made before: no bed has come to the load from which its head limits
 * what it takes, no water goes back unsettled, and no full storage throttles the wells. */
bool wr_share_stands(const struct wr_plant *plant, struct wr_state *state);

/* Shares out again what washes draw from a stock and what follows from that, and what demand has a part in, where all
 * else stands. */
void wr_share_draws(const struct wr_plant *plant, struct wr_state *state);

/* Shares out again what demand has a part in, where all else stands: what reaches storage and what leaves it. */
void wr_share_demand(const struct wr_plant *plant, struct wr_state *state);

/* Flow, m3/s, that a filter can take as it stands now, not as it stood when flows were last shared: none while it is
 * not in service, without end where neither approved rate nor head holds it. */
double wr_share_taken(const struct wr_plant *plant, const struct wr_state *state, size_t filter);

/* Flow, m3/s, of the wells that are not out, in their order: as far as each fits into some room, m3/s, and the approved
 * capacity, or can be throttled to. */
double wr_share_wells_within(const struct wr_plant *plant, const struct wr_state *state, double room);

/* Relative slack within which a flow or a stock fits its limit. */
#define WR_SLACK 1e-9

#endif
