/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_BED_H
#define WR_SIM_PLANT_BED_H

/* What the beds have taken.
 *
 * Filters of one group that run at one rate gather alike, so their group, the pack, counts once for all of them. A
 * member keeps how far the pack's sum stood above its own: its bed is pack sum minus that offset, and joining and
 * leaving are the same subtraction. Only a filter at its available head, in a wash or out of service keeps figures of
 * its own. This is what lets a plant of many filters cost little more than a plant of few. */

#include "sim/plant/state.h"

/* What a filter's bed has taken, member or not. */
struct wr_bed wr_bed_now(const struct wr_plant *plant, const struct wr_state *state, size_t filter);

/* True while a filter runs at its group's rate. */
static inline bool wr_bed_in_pack(const struct wr_filter *filter)
{
    return filter->mode == WR_MODE_SERVICE && !filter->apart;
}

/* Solids load of a filter, kg/m2. */
static inline double wr_bed_load(const struct wr_plant *plant, const struct wr_state *state, size_t filter)
{
    const struct wr_filter *f = &wr_state_filters(plant, state)[filter];
    const double own = f->bed.load[WR_SOLIDS];
    return wr_bed_in_pack(f) ? wr_state_packs(plant, state)[plant->group_of[filter]].sum.load[WR_SOLIDS] - own : own;
}

/* Rate, m/s, at which a filter serves, or would if it served: its own at available head, else its group's. */
static inline double wr_bed_rate(const struct wr_plant *plant, const struct wr_state *state, size_t filter)
{
    const struct wr_filter *f = &wr_state_filters(plant, state)[filter];
    const size_t group = plant->group_of[filter];
    return f->apart ? f->flow / plant->groups[group].area : wr_state_packs(plant, state)[group].rate;
}

/* True when a filter can still meet a trigger: one that has called meets only the urgent level, and that once. */
bool wr_bed_can_meet(const struct wr_filter *filter, int trigger);

/* A filter joins its pack: mode and apart must say so already. */
void wr_bed_join(const struct wr_plant *plant, struct wr_state *state, size_t filter);

/* A filter leaves its pack: call before mode or apart change. */
void wr_bed_leave(const struct wr_plant *plant, struct wr_state *state, size_t filter);

/* Looks through a pack for its dirtiest member and who meets each trigger first. */
void wr_pack_look_again(const struct wr_plant *plant, struct wr_state *state, size_t group);

/* Brings these places up to date: most instants leave them as they were. */
static inline void wr_pack_look(const struct wr_plant *plant, struct wr_state *state, size_t group)
{
    if (wr_state_packs(plant, state)[group].stale)
        wr_pack_look_again(plant, state, group);
}

/* Lets every bed gather for a time, s, at the flows that hold, and books it. */
void wr_beds_advance(const struct wr_plant *plant, struct wr_state *state, double time);

/* Sets the beds to where a run begins. */
void wr_beds_start(const struct wr_plant *plant, struct wr_state *state);

#endif
