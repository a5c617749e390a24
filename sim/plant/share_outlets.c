/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/share_part.h"

#include "sim/plant/extreme.h"
#include "sim/plant/mixing.h"

#include <math.h>

static bool can_give(const struct wr_plant *plant, const struct wr_tank *tank)
{
    if (tank->closed)
        return false;
    return plant->has_settling ? tank->mode == WR_TANK_DECANTING : !tank->empty || tank->inflow > 0;
}

/* The tank that gives water: the oldest settled, or without settling the fullest that has any or is being filled. One
 * that gives goes on until it is dry: chosen anew at every instant, two tanks would take turns by instants that have
 * nothing to do with them. */
static uint32_t giving_tank(const struct wr_plant *plant, const struct wr_state *state)
{
    const struct wr_tank *tanks = wr_state_tanks(plant, state);
    uint32_t best = (uint32_t)plant->tank_count;
    for (uint32_t t = 0; t < plant->tank_count; t++) {
        if (!can_give(plant, &tanks[t]))
            continue;
        if (!plant->has_settling && tanks[t].drawn > 0)
            return t;
        if (best == plant->tank_count ||
            (plant->has_settling ? tanks[t].since < tanks[best].since : tanks[t].level > tanks[best].level))
            best = t;
    }
    return best;
}

/* Recycle that a part of raw water can take up before the solids of the blend come to their bound; WR_NEVER where there
 * is none. */
static double share_by_blend(const struct wr_plant *plant, const struct wr_state *state, const struct wr_flows *flows)
{
    const double most = plant->definition->recycle.max_blend_solids;
    const struct wr_tank *tank = &wr_state_tanks(plant, state)[flows->recycle_tank];
    const double back = wr_mix_of(plant, tank, WR_SOLIDS), raw = flows->raw_water[WR_SOLIDS];
    return wr_is_given(most) && back > most ? wr_greater(0, most - raw) / (back - most) : WR_NEVER;
}

/* Raw water in a blend that recycle brings to its bound: kg/s of solids that it is below the bound, and that recycle is
 * above it. */
struct blend {
    double raw, raw_wash, below, above;
};

/* How far a well whose water is so far below the bound, kg/m3 (above: less than 0), may be throttled: x in
 * (1 - raw_wash/(raw - x)) (below - x well) = above. What is drawn for washes is of the mix of all wells. */
static double within_blend(const struct blend *b, double well)
{
    const double part = b->raw - b->raw_wash, sum = part * well + b->below - b->above;
    const double spare = wr_greater(0, part * b->below - b->above * b->raw);
    const double root = sqrt(wr_greater(0, sum * sum - 4 * well * spare));
    if (sum < 0)
        return well < 0 ? (sum - root) / (2 * well) : 0;
    return sum + root > 0 ? 2 * spare / (sum + root) : WR_NEVER;
}

double wr_share_spared_by_blend(const struct wr_plant *plant, const struct wr_state *state,
                                const struct wr_flows *flows)
{
    const struct wr_well_state *wells = wr_state_wells(plant, state);
    if (flows->recycle <= 0 || share_by_blend(plant, state, flows) >= WR_NEVER)
        return WR_NEVER;
    const double most = plant->definition->recycle.max_blend_solids;
    const double back = wr_mix_of(plant, &wr_state_tanks(plant, state)[flows->recycle_tank], WR_SOLIDS);
    struct blend b = {.raw = flows->raw,
                      .raw_wash = wr_share_raw_wash(plant, flows),
                      .below = flows->raw * (most - flows->raw_water[WR_SOLIDS]),
                      .above = flows->recycle * (back - most)};
    double spared = 0;
    for (size_t w = plant->well_count; w-- > 0;) {
        const struct wr_well *well = &plant->definition->wells.items[w];
        if (!wells[w].runs || well->drive != WR_DRIVE_VARIABLE)
            continue;
        const double below = most - plant->well_water[w][WR_SOLIDS], all = wells[w].flow - well->least_flow;
        const double may = within_blend(&b, below);
        if (may < all)
            return spared + may;
        spared += all;
        b.raw -= all;
        b.below -= all * below;
    }
    return spared;
}

/* At the plant's limit wells that can be throttled give way to recycle: raw water first would starve it for ever. A
 * pump that runs whole or not at all and would not run even so is no reason to. What rinses and washes draw stays. */
static void throttle_for_recycle(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows,
                                 double most)
{
    const struct wr_recycle *recycle = &plant->definition->recycle;
    if (plant->definition->over_approved_rate != WR_OVER_THROTTLE || flows->raw <= 0)
        return;
    const double limit = wr_lesser(flows->capacity + wr_share_direct(plant, flows), plant->approved_capacity);
    const double pump = wr_lesser(recycle->pump, most);
    const double by_blend = share_by_blend(plant, state, flows);
    double wanted = wr_lesser(pump, recycle->max_fraction * limit / (1 + recycle->max_fraction));
    if (by_blend < WR_NEVER)
        wanted = wr_lesser(wanted, by_blend * (limit - wr_share_raw_wash(plant, flows)) / (1 + by_blend));
    const double give = flows->raw + wanted - limit, spare = wr_greater(0, flows->raw - wr_share_direct(plant, flows));
    const bool in_vain = !wr_share_fits(pump, wanted) || !wr_share_fits(give, spare) ||
                         !wr_share_fits(give, wr_share_most_throttled(plant, state));
    if (give > limit * WR_SLACK && !(recycle->control == WR_RECYCLE_FIXED && in_vain))
        wr_share_throttle(plant, state, flows, wr_lesser(give, spare));
}

/* Recycle that may run beside the wells, up to what the tank can give; what holds it is noted. */
static double recycle_flow(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows, double most)
{
    const struct wr_recycle *recycle = &plant->definition->recycle;
    if (state->recycle_pump_out) {
        flows->held |= wr_limit_bit(WR_LIMIT_RECYCLE_PUMP_OUT);
        return 0;
    }
    throttle_for_recycle(plant, state, flows, most);
    const double by_share = recycle->max_fraction * flows->raw;
    const double by_filters = wr_greater(0, flows->capacity - (flows->raw - wr_share_direct(plant, flows)));
    const double by_plant = wr_greater(0, plant->approved_capacity - flows->raw);
    const double taken_up = share_by_blend(plant, state, flows);
    const double within_blend =
        taken_up < WR_NEVER ? taken_up * (flows->raw - wr_share_raw_wash(plant, flows)) : WR_NEVER;
    const double pump = wr_lesser(recycle->pump, most);
    wr_limit_set held = 0;
    if (flows->raw <= 0)
        held |= wr_limit_bit(WR_LIMIT_NO_RAW_FLOW);
    else if (!wr_share_fits(pump, by_share))
        held |= wr_limit_bit(WR_LIMIT_SHARE_OF_RAW);
    if (flows->raw > 0 && !wr_share_fits(pump, by_filters))
        held |= wr_limit_bit(WR_LIMIT_FILTERS_FULL);
    if (flows->raw > 0 && !wr_share_fits(pump, by_plant))
        held |= wr_limit_bit(WR_LIMIT_RECYCLE_APPROVED_CAPACITY);
    if (flows->raw > 0 && !wr_share_fits(pump, within_blend))
        held |= wr_limit_bit(WR_LIMIT_BLEND_SOLIDS);
    flows->held |= held;
    if (recycle->control == WR_RECYCLE_FIXED)
        return held == 0 ? pump : 0;
    return wr_lesser(within_blend, wr_lesser(wr_lesser(pump, by_share), wr_lesser(by_filters, by_plant)));
}

/* What an outlet would take now. */
static double outlet_flow(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows, size_t outlet,
                          double most)
{
    const struct wr_outlet *o = &plant->definition->spent_wash.outlets.items[outlet];
    const struct wr_outlet_state *now = &wr_state_outlets(plant, state)[outlet];
    const bool dumped = wr_state_tanks(plant, state)[flows->recycle_tank].dumped;
    if (o->emergency ? !state->wants_room && !dumped : dumped)
        return 0;
    if (!now->open || now->spent) {
        flows->held |= wr_limit_bit(now->open ? WR_LIMIT_OUTLET_DAILY_VOLUME : WR_LIMIT_OUTLET_HOURS);
        return 0;
    }
    return o->kind == WR_OUTLET_RECYCLE ? recycle_flow(plant, state, flows, most) : wr_lesser(o->rate, most);
}

void wr_share_outlets(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows)
{
    struct wr_tank *tanks = wr_state_tanks(plant, state);
    struct wr_outlet_state *outlets = wr_state_outlets(plant, state);
    flows->recycle_tank = giving_tank(plant, state);
    for (size_t t = 0; t < plant->tank_count; t++) {
        if (tanks[t].drawn <= 0)
            continue;
        tanks[t].drawn = 0;
        for (int kind = 0; kind < WR_OUTLET_KINDS; kind++)
            tanks[t].to[kind] = 0;
    }
    for (size_t o = 0; o < plant->outlet_count; o++)
        outlets[o].flow = 0;
    if (flows->recycle_tank == plant->tank_count)
        return;
    struct wr_tank *tank = &tanks[flows->recycle_tank];
    const double most = tank->empty ? tank->inflow : WR_NEVER;
    for (size_t o = 0; o < plant->outlet_count && tank->drawn <= 0; o++) {
        const int kind = plant->definition->spent_wash.outlets.items[o].kind;
        outlets[o].flow = tank->drawn = tank->to[kind] = outlet_flow(plant, state, flows, o, most);
        if (kind == WR_OUTLET_RECYCLE)
            flows->recycle = tank->drawn;
    }
}
