/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/share_part.h"

#include "sim/plant/extreme.h"

#include <assert.h>

/* Raw water is the mix of the wells that run. */
static void mix_raw(const struct wr_plant *plant, const struct wr_well_state *wells, struct wr_flows *flows)
{
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        flows->raw_water[k] = 0;
    for (size_t w = 0; w < plant->well_count; w++)
        for (int k = 0; k < WR_CONSTITUENTS && wells[w].flow > 0; k++)
            flows->raw_water[k] += plant->well_water[w][k] * wells[w].flow;
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        flows->raw_water[k] = flows->raw > 0 ? flows->raw_water[k] / flows->raw : plant->raw[k];
}

/* Why a well that is wanted does not run. */
static enum wr_limit why_dropped(const struct wr_plant *plant, const struct wr_flows *flows, double raw, double direct)
{
    if (!wr_share_fits(raw, plant->approved_capacity))
        return WR_LIMIT_APPROVED_CAPACITY;
    if (flows->approved + flows->start_rinse <= 0)
        return WR_LIMIT_NO_FILTER_IN_SERVICE;
    return wr_share_rises(plant) || wr_share_fits(raw, flows->approved + direct) ? WR_LIMIT_HEAD_HOLDS_WELLS
                                                                                 : WR_LIMIT_WELL_DOES_NOT_FIT;
}

/* Flow a well can give within what room is left: its own, or less where it may be throttled. */
static double well_flow(const struct wr_plant *plant, const struct wr_well *well, double room)
{
    if (wr_share_fits(well->flow, room))
        return well->flow;
    if (plant->definition->over_approved_rate != WR_OVER_THROTTLE || well->drive != WR_DRIVE_VARIABLE)
        return 0;
    return wr_share_fits(well->least_flow, room) ? room : 0;
}

double wr_share_wells_within(const struct wr_plant *plant, const struct wr_state *state, double room)
{
    const struct wr_well_state *wells = wr_state_wells(plant, state);
    const double limit = wr_lesser(room, plant->approved_capacity);
    double flow = 0;
    for (size_t w = 0; w < plant->well_count; w++)
        if (!wells[w].out)
            flow += well_flow(plant, &plant->definition->wells.items[w], limit - flow);
    return flow;
}

/* Runs a well as far as raw water still fits with it. */
static void try_well(const struct wr_plant *plant, struct wr_well_state *state, size_t number, double direct,
                     struct wr_flows *flows)
{
    const struct wr_well *well = &plant->definition->wells.items[number];
    const double limit = wr_lesser(flows->capacity + direct, plant->approved_capacity);
    state->flow = well_flow(plant, well, limit - flows->raw);
    state->runs = state->flow > 0;
    if (state->called && state->flow < well->flow)
        flows->held |= wr_limit_bit(why_dropped(plant, flows, flows->raw + well->flow, direct));
    flows->raw += state->flow;
}

/* Runs wells from the first on: those that storage calls, then further ones while asked for more than they give. */
static void run_wells(const struct wr_plant *plant, struct wr_state *state, double direct, double asked,
                      struct wr_flows *flows)
{
    struct wr_well_state *wells = wr_state_wells(plant, state);
    size_t running = 0;
    for (size_t w = 0; w < plant->well_count; w++) {
        wells[w].runs = false;
        wells[w].flow = 0;
        if (wells[w].wanted)
            try_well(plant, &wells[w], w, direct, flows);
        else if (wells[w].called && !wells[w].out)
            flows->held |= wr_limit_bit(WR_LIMIT_WELL_RESTS);
    }
    for (size_t w = 0; w < plant->well_count && !wr_share_fits(asked, flows->raw); w++)
        if (!wells[w].wanted && !wells[w].called && !wells[w].out && !wells[w].rests)
            try_well(plant, &wells[w], w, direct, flows);
    for (size_t w = 0; w < plant->well_count; w++)
        running += wells[w].runs || wells[w].out;
    if (running == plant->well_count)
        flows->held |= wr_limit_bit(WR_LIMIT_ALL_WELLS_RUNNING);
    mix_raw(plant, wells, flows);
}

/* True where every well that is wanted gives all it can and no other runs. */
static bool all_wanted_run(const struct wr_plant *plant, const struct wr_state *state)
{
    const struct wr_well_state *wells = wr_state_wells(plant, state);
    for (size_t w = 0; w < plant->well_count; w++)
        if (wells[w].flow != (wells[w].wanted ? plant->definition->wells.items[w].flow : 0))
            return false;
    return true;
}

/* True where the wells run as they did: nothing that they rest on has moved, or all that are wanted still fit and give
 * what is asked. */
static bool run_as_before(const struct wr_plant *plant, const struct wr_wells_share *before, double direct,
                          double asked, const struct wr_flows *flows)
{
    if (!before->stands || before->asked < 0)
        return false;
    if (before->all_wanted && asked <= before->raw)
        return before->raw <= wr_lesser(flows->capacity + direct, plant->approved_capacity);
    return before->capacity == flows->capacity && before->approved == flows->approved + flows->start_rinse &&
           before->direct == direct && before->asked == asked;
}

static void recall_wells(const struct wr_wells_share *before, struct wr_flows *flows)
{
    flows->raw = before->raw;
    flows->held |= before->held;
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        flows->raw_water[k] = before->raw_water[k];
}

void wr_share_wells(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows)
{
    const double raw_wash = plant->definition->wash_water.source == WR_WATER_FROM_WELLS ? flows->wash : 0;
    const double for_washes = flows->rinse + raw_wash, direct = for_washes + flows->start_rinse;
    const bool rinse_waits = plant->definition->wash.when_plant_stopped == WR_STOPPED_RINSE_AT_NEXT_START;
    /* Filters that wash one of their number must make what the wash draws, called by storage or not. */
    const double by_filters = plant->definition->wash_water.source == WR_WATER_FROM_FILTERS ? flows->wash : 0;
    const double asked = (rinse_waits ? raw_wash : for_washes) + by_filters;
    if (run_as_before(plant, &state->wells_share, direct, asked, flows)) {
        recall_wells(&state->wells_share, flows);
        return;
    }
    assert(flows->held == 0);
    run_wells(plant, state, direct, asked, flows);
    state->wells_share = (struct wr_wells_share){.capacity = flows->capacity,
                                                 .approved = flows->approved + flows->start_rinse,
                                                 .direct = direct,
                                                 .asked = asked,
                                                 .raw = flows->raw,
                                                 .all_wanted = all_wanted_run(plant, state),
                                                 .held = flows->held};
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        state->wells_share.raw_water[k] = flows->raw_water[k];
}

double wr_share_most_throttled(const struct wr_plant *plant, const struct wr_state *state)
{
    const struct wr_well_state *wells = wr_state_wells(plant, state);
    double most = 0;
    for (size_t w = 0; w < plant->well_count; w++) {
        const struct wr_well *well = &plant->definition->wells.items[w];
        if (wells[w].runs && well->drive == WR_DRIVE_VARIABLE)
            most += wells[w].flow - well->least_flow;
    }
    return most;
}

void wr_share_throttle(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows, double give)
{
    struct wr_well_state *wells = wr_state_wells(plant, state);
    for (size_t w = plant->well_count; w-- > 0 && give > 0;) {
        const struct wr_well *well = &plant->definition->wells.items[w];
        if (!wells[w].runs || well->drive != WR_DRIVE_VARIABLE)
            continue;
        const double less = wr_lesser(give, wells[w].flow - well->least_flow);
        wells[w].flow -= less;
        flows->raw -= less;
        give -= less;
    }
    mix_raw(plant, wells, flows);
    state->wells_share.asked = -1;
}
