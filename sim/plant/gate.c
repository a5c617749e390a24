/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/gate.h"

#include "sim/plant/extreme.h"
#include "sim/plant/holding.h"
#include "sim/plant/share.h"
#include "sim/plant/spent.h"

#include <math.h>

static const struct wr_group *group_of(const struct wr_simulation *sim, size_t filter)
{
    return &sim->plant->groups[sim->plant->group_of[filter]];
}

static const struct wr_filter *filter_at(const struct wr_simulation *sim, size_t filter)
{
    return &wr_state_filters(sim->plant, sim->state)[filter];
}

/* Own rules ----------------------------------------------------------------------------------------------------- */

/* Filters in service other than this one. */
static size_t others_in_service(const struct wr_simulation *sim, size_t filter)
{
    const struct wr_pack *packs = wr_state_packs(sim->plant, sim->state);
    const uint32_t *lone = wr_state_lone(sim->plant, sim->state);
    size_t count = 0;
    for (size_t g = 0; g < sim->plant->group_count; g++)
        count += packs[g].members;
    for (uint32_t i = 0; i < sim->state->lone; i++)
        count += filter_at(sim, lone[i])->mode == WR_MODE_SERVICE;
    return count - (filter_at(sim, filter)->mode == WR_MODE_SERVICE);
}

static bool plant_is_stopped(const struct wr_simulation *sim)
{
    const struct wr_well_state *wells = wr_state_wells(sim->plant, sim->state);
    for (size_t w = 0; w < sim->plant->well_count; w++)
        if (wells[w].wanted)
            return false;
    return true;
}

static wr_limit_set own_rules(const struct wr_simulation *sim, size_t filter)
{
    const struct wr_state *state = sim->state;
    const struct wr_wash *wash = &sim->plant->definition->wash;
    const struct wr_filter *f = filter_at(sim, filter);
    wr_limit_set held = 0;
    if (!state->window_open && !f->urgent)
        held |= wr_limit_bit(WR_LIMIT_WINDOW);
    if (wr_now(sim) < state->last_start + wash->min_between_starts)
        held |= wr_limit_bit(WR_LIMIT_TIME_BETWEEN_STARTS);
    if (wash->min_filters_in_service > 0 && others_in_service(sim, filter) < wash->min_filters_in_service)
        held |= wr_limit_bit(WR_LIMIT_FILTERS_IN_SERVICE);
    if (state->storage.below_lockout)
        held |= wr_limit_bit(WR_LIMIT_STORAGE_LOCKOUT);
    if (wash->when_plant_stopped == WR_STOPPED_WAIT && plant_is_stopped(sim))
        held |= wr_limit_bit(WR_LIMIT_PLANT_STOPPED);
    if (f->interrupted && !state->attended_open)
        held |= wr_limit_bit(WR_LIMIT_ATTENDED_HOURS);
    return held;
}

/* Resources ----------------------------------------------------------------------------------------------------- */

static wr_limit_set wash_system(const struct wr_simulation *sim, const struct wr_group *g)
{
    const struct wr_state *state = sim->state;
    const struct wr_wash *wash = &sim->plant->definition->wash;
    wr_limit_set held = 0;
    if (state->washing >= wash->max_simultaneous)
        held |= wr_limit_bit(WR_LIMIT_WASH_SYSTEM);
    if (g->air && (state->blower_out || state->air_washes >= wash->blowers))
        held |= wr_limit_bit(WR_LIMIT_BLOWER);
    if (state->wash_pump_out)
        held |= wr_limit_bit(WR_LIMIT_WASH_PUMP_OUT);
    return held;
}

double wr_gate_storage_in_hand(const struct wr_simulation *sim)
{
    const struct wr_storage *storage = &sim->plant->definition->storage;
    return sim->state->storage.level - storage->reserve * storage->volume - sim->state->booked;
}

/* Greatest flow of wash water that washes under way may draw together. */
static double peak_under_way(const struct wr_simulation *sim)
{
    const uint32_t *lone = wr_state_lone(sim->plant, sim->state);
    double peak = 0;
    for (uint32_t i = 0; i < sim->state->lone; i++)
        if (filter_at(sim, lone[i])->mode == WR_MODE_WASH)
            peak += group_of(sim, lone[i])->peak_flow;
    return peak;
}

/* What the filters could make if this one were washed: the wells that fit into the others, in their order, for wells
 * are started for a wash that needs them. */
static double service_without(const struct wr_simulation *sim, size_t filter)
{
    double capacity = 0;
    for (size_t f = 0; f < sim->plant->filter_count; f++)
        capacity += f != filter ? wr_share_taken(sim->plant, sim->state, f) : 0;
    return wr_share_wells_within(sim->plant, sim->state, capacity);
}

/* A source must flow fast enough for this wash beside those under way; a tank and storage do but for their pump. */
static bool flow_in_hand(const struct wr_simulation *sim, size_t filter)
{
    const int source = sim->plant->definition->wash_water.source;
    double most = sim->plant->wash_flow;
    if (source == WR_WATER_FROM_FILTERS)
        most = wr_lesser(most, service_without(sim, filter));
    else if (source == WR_WATER_FROM_WELLS)
        most = wr_lesser(most, wr_share_wells_within(sim->plant, sim->state, WR_NEVER));
    return most >= WR_NEVER || most >= (peak_under_way(sim) + group_of(sim, filter)->peak_flow) * (1 - WR_SLACK);
}

bool wr_gate_lacks_volume(const struct wr_simulation *sim, size_t filter)
{
    const double enough = group_of(sim, filter)->wash_volume * (1 - WR_SLACK);
    switch (sim->plant->definition->wash_water.source) {
    case WR_WATER_FROM_TANK:
        return sim->state->wash_tank.free < enough;
    case WR_WATER_FROM_STORAGE:
        return wr_gate_storage_in_hand(sim) < enough;
    default:
        return false;
    }
}

wr_limit_set wr_gate(const struct wr_simulation *sim, size_t filter)
{
    const struct wr_group *g = group_of(sim, filter);
    wr_limit_set held = own_rules(sim, filter) | wash_system(sim, g);
    if (wr_gate_lacks_volume(sim, filter) || !flow_in_hand(sim, filter))
        held |= wr_limit_bit(WR_LIMIT_WASH_WATER);
    if (sim->plant->tank_count > 0 && wr_spent_tank_for(sim, g->room) == sim->plant->tank_count)
        held |= wr_limit_bit(WR_LIMIT_SPENT_WASH_ROOM);
    if (!wr_holding_has_room(sim, filter))
        held |= wr_limit_bit(WR_LIMIT_HOLDING_ROOM);
    return held;
}
