/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_SHARE_PART_H
#define WR_SIM_PLANT_SHARE_PART_H

/* The parts of sharing out the flows of an instant, in the order in which wr_share goes through them. Each reads what
 * those before it have set in `flows`, m3/s, adds its own, and notes in flows->held what held a flow back. */

#include "sim/plant/share.h"

/* True when flow fits within limit, to rounding. */
static inline bool wr_share_fits(double flow, double limit)
{
    return flow <= limit * (1 + WR_SLACK);
}

/* Raw water that washes draw. */
static inline double wr_share_raw_wash(const struct wr_plant *plant, const struct wr_flows *flows)
{
    return plant->definition->wash_water.source == WR_WATER_FROM_WELLS ? flows->wash : 0;
}

/* True where the plant lets the rate rise above the approved one: then only available head holds it. */
static inline bool wr_share_rises(const struct wr_plant *plant)
{
    return plant->definition->over_approved_rate == WR_OVER_RATE_RISES;
}

/* Raw water that goes to rinses and washes, and to no filter in service. */
static inline double wr_share_direct(const struct wr_plant *plant, const struct wr_flows *flows)
{
    return flows->rinse + wr_share_raw_wash(plant, flows);
}

/* What of the feed is left for service; rounding leaves no less than none. */
static inline double wr_share_left(const struct wr_plant *plant, const struct wr_flows *flows)
{
    const double left = flows->raw - wr_share_direct(plant, flows) + flows->recycle;
    return left > 0 ? left : 0;
}

/* Wells run in their order while raw water alone fits: those that storage calls, then further ones while a rinse, or a
 * wash with raw water, asks for more than they give. */
void wr_share_wells(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows);

/* How far the wells that run can be throttled, m3/s. */
double wr_share_most_throttled(const struct wr_plant *plant, const struct wr_state *state);

/* Throttles wells, the last first, by a flow, m3/s, or as far as they go. */
void wr_share_throttle(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows, double give);

/* A rinse has first call on raw water; service takes the rest. */
void wr_share_rinses(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows);

/* What a source of wash water cannot give is short for the washes: raw wells after the rinses, storage that has run
 * empty, filters that make less than the wash asks for. */
void wr_share_wash_water(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows);

/* Washes once more, now that it is known what recycle adds and what wells have given way to it. Empty storage gives
 * them all that comes into it: with less it would fill while a wash lacks water, and be empty again at once when the
 * wash has it. Filters give no more than they make. True where that changes what washes draw. */
bool wr_share_wash_again(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows);

/* A rinse at the plant's start has the last call on raw water, and counts among the rinses from here on. */
void wr_share_start_rinses(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows);

/* What washes and rinses under way send to the spent-wash tanks, and what spills. */
void wr_share_spent(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows);

/* What runs out of the spent-wash tanks: in the order of the outlets, each only while those before it stand still. */
void wr_share_outlets(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows);

/* How far wells may be throttled, the last first, m3/s, before raw water no longer takes up the recycle that runs
 * within the solids allowed in their blend; WR_NEVER where nothing bounds it. */
double wr_share_spared_by_blend(const struct wr_plant *plant, const struct wr_state *state,
                                const struct wr_flows *flows);

/* What becomes of the effluent: wash, refill, demand, and what storage cannot take. */
void wr_share_effluent(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows);

/* A full storage throttles the wells that can be before anything is lost: not so far that a rinse or a wash with raw
 * water lacks any, or recycle exceeds its share or the solids of its blend. True when it has throttled any. */
bool wr_share_spare_storage(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows);

/* Shares service flow out to the filters. */
void wr_share_service(const struct wr_plant *plant, struct wr_state *state, const struct wr_flows *flows);

#endif
