/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/holding.h"

#include "sim/plant/share.h"

static const struct wr_holding *holding_of(const struct wr_simulation *sim)
{
    return &sim->plant->definition->wash.holding;
}

static struct wr_filter *filter_at(const struct wr_simulation *sim, size_t filter)
{
    return &wr_state_filters(sim->plant, sim->state)[filter];
}

/* m3 of regenerant that a wash sends here. */
static double volume_of(const struct wr_simulation *sim, size_t filter)
{
    return sim->plant->groups[sim->plant->group_of[filter]].held_volume;
}

/* Sets the timer of the next hauling. */
static void arm(struct wr_simulation *sim)
{
    wr_timers_set(&sim->timers, sim->plant->timers.holding, wr_now(sim) + holding_of(sim)->emptied_every);
}

void wr_holding_start(struct wr_simulation *sim)
{
    if (!wr_is_given(holding_of(sim)->volume))
        return;
    sim->state->holding.free = holding_of(sim)->volume;
    arm(sim);
}

bool wr_holding_has_room(const struct wr_simulation *sim, size_t filter)
{
    return sim->state->holding.free >= volume_of(sim, filter) * (1 - WR_SLACK);
}

void wr_holding_book(struct wr_simulation *sim, size_t filter)
{
    filter_at(sim, filter)->regenerant = volume_of(sim, filter);
    sim->state->holding.free -= volume_of(sim, filter);
}

void wr_holding_release(struct wr_simulation *sim, size_t filter)
{
    sim->state->holding.free += filter_at(sim, filter)->regenerant;
    filter_at(sim, filter)->regenerant = 0;
}

void wr_holding_fill(struct wr_simulation *sim, size_t filter, double volume, const double *concentration)
{
    struct wr_holding_state *holding = &sim->state->holding;
    filter_at(sim, filter)->regenerant -= volume;
    holding->level += volume;
    for (int k = 0; concentration != NULL && k < WR_CONSTITUENTS; k++)
        holding->mass[k] += concentration[k] * volume;
}

void wr_holding_hauled(struct wr_simulation *sim)
{
    struct wr_holding_state *holding = &sim->state->holding;
    struct wr_entry *line = wr_ledger_line(sim->plant, sim->state, WR_LINE_HOLDING_HAULED, 0);
    line->water += holding->level;
    holding->free += holding->level;
    holding->level = 0;
    for (int k = 0; k < WR_CONSTITUENTS; k++) {
        line->mass[k] += holding->mass[k];
        holding->mass[k] = 0;
    }
    arm(sim);
}
