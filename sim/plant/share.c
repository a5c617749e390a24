/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/share.h"

#include "sim/plant/bed.h"
#include "sim/plant/extreme.h"
#include "sim/plant/mixing.h"

#include <assert.h>
#include <math.h>

/* True when flow fits within limit, to rounding. */
static bool fits(double flow, double limit)
{
    return flow <= limit * (1 + WR_SLACK);
}

/* What the members of a pack can take. A loaded bed at a low rate stands below its available head and yet could not
 * take its approved rate: counted as if it could, a well would be started that has to be dropped at once. */
static double pack_capacity(const struct wr_plant *plant, struct wr_state *state, size_t group)
{
    const struct wr_group *g = &plant->groups[group];
    const struct wr_pack *pack = &wr_state_packs(plant, state)[group];
    wr_pack_look(plant, state, group);
    if (pack->dirtiest < 0 || wr_bed_load(plant, state, (size_t)pack->dirtiest) < g->full_rate_load)
        return pack->members * g->area * g->approved_rate;
    double capacity = 0, end;
    for (size_t i = g->first; i < g->first + g->count; i++) {
        if (!wr_bed_in_pack(&wr_state_filters(plant, state)[i]))
            continue;
        const double load = wr_bed_load(plant, state, i);
        const double at_head =
            load < g->full_rate_load ? g->approved_rate : wr_group_stretch(g, plant->viscosity, load, &end);
        capacity += g->area * wr_lesser(g->approved_rate, at_head);
    }
    return capacity;
}

/* What the filters in service can take, and what rinses and washes ask for. */
static void add_up_filters(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows)
{
    const struct wr_pack *packs = wr_state_packs(plant, state);
    const struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    for (size_t g = 0; g < plant->group_count; g++) {
        flows->capacity += pack_capacity(plant, state, g);
        flows->approved += packs[g].members * plant->groups[g].area * plant->groups[g].approved_rate;
    }
    for (uint32_t i = 0; i < state->lone; i++) {
        const struct wr_filter *f = &filters[lone[i]];
        const struct wr_group *g = &plant->groups[plant->group_of[lone[i]]];
        if (f->mode == WR_MODE_SERVICE) {
            flows->capacity += g->area * wr_lesser(f->limit_rate, g->approved_rate);
            flows->approved += g->area * g->approved_rate;
        } else if (f->mode == WR_MODE_WASH) {
            const struct wr_step *step = &g->steps[f->step];
            flows->rinse += step->feed_flow;
            flows->wash += step->wash_flow;
            flows->down += step->down_flow;
        }
    }
    /* Where the plant lets the rate rise, wells are not held back by it; a filter at its available head still is. */
    size_t members = 0;
    for (size_t g = 0; g < plant->group_count; g++)
        members += packs[g].members;
    if (plant->definition->over_approved_rate == WR_OVER_RATE_RISES && members > 0)
        flows->capacity = WR_NEVER;
}

/* Raw water is the mix of the wells that run. */
static void mix_raw(const struct wr_plant *plant, const struct wr_well_state *wells, struct wr_flows *flows)
{
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        flows->raw_water[k] = 0;
    for (size_t w = 0; w < plant->well_count; w++)
        for (int k = 0; k < WR_CONSTITUENTS; k++)
            flows->raw_water[k] += plant->well_water[w][k] * wells[w].flow;
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        flows->raw_water[k] = flows->raw > 0 ? flows->raw_water[k] / flows->raw : plant->raw[k];
}

/* Wells ---------------------------------------------------------------------------------------------------------- */

/* Why a well that is wanted does not run. */
static enum wr_limit why_dropped(const struct wr_plant *plant, const struct wr_flows *flows, double raw, double direct)
{
    if (!fits(raw, plant->approved_capacity))
        return WR_LIMIT_APPROVED_CAPACITY;
    if (flows->approved <= 0)
        return WR_LIMIT_NO_FILTER_IN_SERVICE;
    return fits(raw, flows->approved + direct) ? WR_LIMIT_HEAD_HOLDS_WELLS : WR_LIMIT_WELL_DOES_NOT_FIT;
}

/* Flow a well can give within what room is left: its own, or less where it may be throttled. */
static double well_flow(const struct wr_plant *plant, const struct wr_well *well, double room)
{
    if (fits(well->flow, room))
        return well->flow;
    if (plant->definition->over_approved_rate != WR_OVER_THROTTLE || well->drive != WR_DRIVE_VARIABLE)
        return 0;
    return fits(well->least_flow, room) ? room : 0;
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

/* Wells run in their order while raw water alone fits: those that storage calls, then further ones while a rinse, or a
 * wash with raw water, asks for more than they give. */
static void share_wells(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    struct wr_well_state *wells = wr_state_wells(plant, state);
    const double raw_wash = plant->definition->wash_water.source == WR_WATER_FROM_WELLS ? flows->wash : 0;
    const double direct = flows->rinse + raw_wash;
    const bool rinse_waits = plant->definition->wash.when_plant_stopped == WR_STOPPED_RINSE_AT_NEXT_START;
    /* Filters that wash one of their number must make what the wash draws, called by storage or not. */
    const double by_filters = plant->definition->wash_water.source == WR_WATER_FROM_FILTERS ? flows->wash : 0;
    const double asked = (rinse_waits ? raw_wash : direct) + by_filters;
    size_t running = 0;
    for (size_t w = 0; w < plant->well_count; w++) {
        wells[w].runs = false;
        wells[w].flow = 0;
        if (wells[w].wanted)
            try_well(plant, &wells[w], w, direct, flows);
        else if (wells[w].called && !wells[w].out)
            flows->held |= wr_limit_bit(WR_LIMIT_WELL_RESTS);
    }
    for (size_t w = 0; w < plant->well_count && !fits(asked, flows->raw); w++)
        if (!wells[w].wanted && !wells[w].called && !wells[w].out && !wells[w].rests)
            try_well(plant, &wells[w], w, direct, flows);
    for (size_t w = 0; w < plant->well_count; w++)
        running += wells[w].runs || wells[w].out;
    if (running == plant->well_count)
        flows->held |= wr_limit_bit(WR_LIMIT_ALL_WELLS_RUNNING);
    mix_raw(plant, wells, flows);
}

/* Washes --------------------------------------------------------------------------------------------------------- */

/* A rinse has first call on raw water; service takes the rest. Then what a source cannot give is short for the washes:
 * raw wells after the rinses, storage that has run empty, filters that make less than the wash asks for. */
static void share_rinse_and_wash(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    const double rinse_asked = flows->rinse, wash_asked = flows->wash;
    const int source = plant->definition->wash_water.source;
    flows->rinse = wr_lesser(rinse_asked, flows->raw);
    if (!fits(rinse_asked, flows->raw))
        flows->held |= wr_limit_bit(WR_LIMIT_RAW_FOR_RINSE);
    const double rest = flows->raw - flows->rinse;
    const bool from_empty_storage =
        (source == WR_WATER_FROM_STORAGE || source == WR_WATER_FROM_SYSTEM) && state->storage.pin == WR_PIN_EMPTY;
    if (source == WR_WATER_FROM_WELLS || source == WR_WATER_FROM_FILTERS || from_empty_storage)
        flows->wash = wr_lesser(wash_asked, rest);
    const double rinse_share = rinse_asked > 0 ? flows->rinse / rinse_asked : 0;
    const double wash_share = wash_asked > 0 ? flows->wash / wash_asked : 0;
    struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    for (uint32_t i = 0; i < state->lone; i++) {
        struct wr_filter *f = &filters[lone[i]];
        if (f->mode != WR_MODE_WASH)
            continue;
        const struct wr_step *step = &plant->groups[plant->group_of[lone[i]]].steps[f->step];
        f->flow = step->feed_flow * rinse_share;
        f->wash_flow = step->wash_flow * wash_share;
    }
}

static void clear_tank_inflows(const struct wr_plant *plant, struct wr_tank *tanks)
{
    for (size_t t = 0; t < plant->tank_count; t++) {
        if (tanks[t].inflow <= 0)
            continue; /* as between washes */
        tanks[t].inflow = tanks[t].backwash = tanks[t].drained = 0;
        for (int k = 0; k < WR_CONSTITUENTS; k++)
            tanks[t].mass_in[k] = 0;
    }
}

/* What the washes under way send to the tanks. */
static void share_tank_inflows(const struct wr_plant *plant, struct wr_state *state, const struct wr_flows *flows)
{
    struct wr_tank *tanks = wr_state_tanks(plant, state);
    struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    const bool raw_wash = plant->definition->wash_water.source == WR_WATER_FROM_WELLS;
    clear_tank_inflows(plant, tanks);
    for (uint32_t i = 0; i < state->lone; i++) {
        const struct wr_filter *f = &filters[lone[i]];
        if (f->mode != WR_MODE_WASH || f->tank >= plant->tank_count)
            continue;
        const struct wr_group *g = &plant->groups[plant->group_of[lone[i]]];
        const struct wr_step *step = &g->steps[f->step];
        const double backwash = step->to == WR_TO_SPENT ? f->wash_flow : 0;
        struct wr_tank *tank = &tanks[f->tank];
        tank->inflow += backwash + f->flow + step->drain_flow;
        tank->backwash += backwash;
        tank->drained += step->drain_flow;
        for (int k = 0; k < WR_CONSTITUENTS && backwash > 0; k++) {
            tank->mass_in[k] += f->load_at_wash[k] * g->area * (backwash / g->backwash_volume);
            if (raw_wash)
                tank->mass_in[k] += flows->raw_water[k] * backwash;
        }
    }
}

/* Outlets -------------------------------------------------------------------------------------------------------- */

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

/* Raw water that goes to rinses and washes, and to no filter in service. */
static double direct_flow(const struct wr_plant *plant, const struct wr_flows *flows)
{
    return flows->rinse + (plant->definition->wash_water.source == WR_WATER_FROM_WELLS ? flows->wash : 0);
}

/* How far the wells that run can be throttled. */
static double most_throttled(const struct wr_plant *plant, const struct wr_state *state)
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

/* Throttles wells, the last first, by a flow or as far as they go. */
static void throttle(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows, double give)
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
}

/* At the plant's limit wells that can be throttled give way to recycle: raw water first would starve it for ever. A
 * pump that runs whole or not at all and would not run even so is no reason to. */
static void throttle_for_recycle(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows,
                                 double most)
{
    const struct wr_recycle *recycle = &plant->definition->recycle;
    if (plant->definition->over_approved_rate != WR_OVER_THROTTLE || flows->raw <= 0)
        return;
    const double limit = wr_lesser(flows->capacity + direct_flow(plant, flows), plant->approved_capacity);
    const double pump = wr_lesser(recycle->pump, most);
    const double wanted = wr_lesser(pump, recycle->max_fraction * limit / (1 + recycle->max_fraction));
    const double give = flows->raw + wanted - limit;
    const bool in_vain = !fits(pump, wanted) || !fits(give, most_throttled(plant, state));
    if (give > limit * WR_SLACK && !(recycle->control == WR_RECYCLE_FIXED && in_vain))
        throttle(plant, state, flows, give);
}

/* Recycle that may run beside the wells, up to what the tank can give; what holds it is noted. */
static double recycle_flow(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows,
                           double most)
{
    const struct wr_recycle *recycle = &plant->definition->recycle;
    if (state->recycle_pump_out) {
        flows->held |= wr_limit_bit(WR_LIMIT_RECYCLE_PUMP_OUT);
        return 0;
    }
    throttle_for_recycle(plant, state, flows, most);
    const double by_share = recycle->max_fraction * flows->raw;
    const double by_filters = wr_greater(0, flows->capacity - (flows->raw - direct_flow(plant, flows)));
    const double by_plant = wr_greater(0, plant->approved_capacity - flows->raw);
    const double pump = wr_lesser(recycle->pump, most);
    wr_limit_set held = 0;
    if (flows->raw <= 0)
        held |= wr_limit_bit(WR_LIMIT_NO_RAW_FLOW);
    else if (!fits(pump, by_share))
        held |= wr_limit_bit(WR_LIMIT_SHARE_OF_RAW);
    if (flows->raw > 0 && !fits(pump, by_filters))
        held |= wr_limit_bit(WR_LIMIT_FILTERS_FULL);
    if (flows->raw > 0 && !fits(pump, by_plant))
        held |= wr_limit_bit(WR_LIMIT_RECYCLE_APPROVED_CAPACITY);
    flows->held |= held;
    if (recycle->control == WR_RECYCLE_FIXED)
        return held == 0 ? pump : 0;
    return wr_lesser(wr_lesser(pump, by_share), wr_lesser(by_filters, by_plant));
}

/* What an outlet would take now. */
static double outlet_flow(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows,
                          size_t outlet, double most)
{
    const struct wr_outlet *o = &plant->definition->spent_wash.outlets.items[outlet];
    const struct wr_outlet_state *now = &wr_state_outlets(plant, state)[outlet];
    if (!now->open || now->spent) {
        flows->held |= wr_limit_bit(now->open ? WR_LIMIT_OUTLET_DAILY_VOLUME : WR_LIMIT_OUTLET_HOURS);
        return 0;
    }
    return o->kind == WR_OUTLET_RECYCLE ? recycle_flow(plant, state, flows, most) : wr_lesser(o->rate, most);
}

/* What runs out of the tanks: in the order of the outlets, each only while those before it stand still. */
static void share_outlets(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows)
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

/* Service --------------------------------------------------------------------------------------------------------- */

/* One taker of service flow: a pack, or a filter apart. */
struct taker {
    double area, limit;
    double *flow; /* per taker's area for a pack, whole for a filter apart */
    bool is_pack, full;
};

/* Equal rates to all, less where a taker's limit is below: what it leaves goes to the others. */
static void fill_takers(struct taker *takers, size_t count, double flow)
{
    double area = 0;
    for (size_t i = 0; i < count; i++) {
        takers[i].full = false;
        area += takers[i].area;
    }
    for (bool again = true; again && area > 0;) {
        again = false;
        const double rate = flow / area;
        for (size_t i = 0; i < count; i++) {
            struct taker *t = &takers[i];
            if (t->full || t->area <= 0 || fits(rate, t->limit))
                continue;
            t->full = again = true;
            *t->flow = t->is_pack ? t->limit : t->limit * t->area;
            flow -= t->limit * t->area;
            area -= t->area;
        }
        for (size_t i = 0; i < count && !again; i++)
            if (!takers[i].full)
                *takers[i].flow = takers[i].is_pack ? rate : rate * takers[i].area;
    }
}

/* Shares service flow out to the filters. The takers stand in the state's scratch space, one a pack and lone filter. */
static void share_service(const struct wr_plant *plant, struct wr_state *state, const struct wr_flows *flows)
{
    struct wr_pack *packs = wr_state_packs(plant, state);
    struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    const bool rises = plant->definition->over_approved_rate == WR_OVER_RATE_RISES;
    struct taker few[16];
    struct taker *takers = few;
    assert(sizeof(struct taker) <= WR_TAKER_BYTES);
    if (plant->group_count + state->lone > sizeof few / sizeof *few)
        takers = wr_state_at(state, plant->layout.takers);
    size_t count = 0;
    for (size_t g = 0; g < plant->group_count; g++) {
        packs[g].rate = 0;
        if (packs[g].members > 0)
            takers[count++] = (struct taker){.area = packs[g].members * plant->groups[g].area,
                                             .limit = rises ? WR_NEVER : plant->groups[g].approved_rate,
                                             .flow = &packs[g].rate,
                                             .is_pack = true};
    }
    for (uint32_t i = 0; i < state->lone; i++) {
        struct wr_filter *f = &filters[lone[i]];
        const struct wr_group *g = &plant->groups[plant->group_of[lone[i]]];
        if (f->mode == WR_MODE_SERVICE)
            takers[count++] =
                (struct taker){.area = g->area,
                               .limit = rises ? f->limit_rate : wr_lesser(f->limit_rate, g->approved_rate),
                               .flow = &f->flow};
    }
    fill_takers(takers, count, flows->service);
}

/* What becomes of the effluent: wash, refill, demand, and what storage cannot take. */
static void share_effluent(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    const struct wr_wash_tank *tank = &plant->definition->wash_water.tank;
    const int source = plant->definition->wash_water.source;
    if (source == WR_WATER_FROM_TANK && state->wash_tank.full)
        flows->refill = wr_lesser(wr_lesser(tank->refill_rate, flows->service), flows->wash);
    else if (source == WR_WATER_FROM_TANK && state->wash_tank.refilling)
        flows->refill = wr_lesser(tank->refill_rate, flows->service);
    const bool out_of_effluent = source != WR_WATER_FROM_TANK && source != WR_WATER_FROM_WELLS;
    flows->to_storage = flows->service + flows->down - flows->refill - (out_of_effluent ? flows->wash : 0);
    const double inflow = wr_greater(0, flows->to_storage);
    flows->delivered = flows->demand;
    if (state->storage.pin == WR_PIN_EMPTY && inflow < flows->demand) {
        flows->delivered = inflow;
        flows->held |= wr_limit_bit(WR_LIMIT_STORAGE_EMPTY);
    }
    if (state->storage.pin == WR_PIN_FULL && inflow > flows->demand)
        flows->overflow = inflow - flows->demand;
}

/* A full storage throttles the wells that can be before anything is lost: not so far that a rinse or a wash with raw
 * water lacks any, or recycle exceeds its share. */
static bool throttle_for_storage(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    const double raw = flows->raw;
    const double least =
        wr_greater(direct_flow(plant, flows), flows->recycle / plant->definition->recycle.max_fraction);
    throttle(plant, state, flows, wr_lesser(flows->overflow, raw - least));
    return flows->raw < raw;
}

static void note_available_head(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    const struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    for (uint32_t i = 0; i < state->lone; i++)
        if (filters[lone[i]].mode == WR_MODE_SERVICE)
            flows->held |= wr_limit_bit(WR_LIMIT_AVAILABLE_HEAD);
}

static void share_service_and_effluent(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows)
{
    const double raw_wash = plant->definition->wash_water.source == WR_WATER_FROM_WELLS ? flows->wash : 0;
    wr_mix_feed(plant, state, flows);
    flows->service = flows->raw - flows->rinse - raw_wash + flows->recycle;
    flows->overflow = 0;
    share_effluent(plant, state, flows);
}

double wr_share_capacity(const struct wr_plant *plant, struct wr_state *state)
{
    struct wr_flows flows = {0};
    add_up_filters(plant, state, &flows);
    return flows.capacity;
}

void wr_share(const struct wr_plant *plant, struct wr_state *state)
{
    struct wr_flows flows = {.demand = state->demand};
    add_up_filters(plant, state, &flows);
    share_wells(plant, state, &flows);
    share_rinse_and_wash(plant, state, &flows);
    share_tank_inflows(plant, state, &flows);
    share_outlets(plant, state, &flows);
    wr_mix_tanks(plant, state);
    share_service_and_effluent(plant, state, &flows);
    if (flows.overflow > 0 && throttle_for_storage(plant, state, &flows))
        share_service_and_effluent(plant, state, &flows);
    share_service(plant, state, &flows);
    note_available_head(plant, state, &flows);
    state->flows = flows;
}

bool wr_share_stands(const struct wr_plant *plant, struct wr_state *state)
{
    if ((plant->tank_count > 0 && !plant->has_settling) || state->storage.pin == WR_PIN_FULL)
        return false;
    for (size_t g = 0; g < plant->group_count; g++) {
        wr_pack_look(plant, state, g);
        const int32_t dirtiest = wr_state_packs(plant, state)[g].dirtiest;
        if (dirtiest >= 0 && wr_bed_load(plant, state, (size_t)dirtiest) >= plant->groups[g].full_rate_load)
            return false;
    }
    return true;
}

void wr_share_demand(const struct wr_plant *plant, struct wr_state *state)
{
    struct wr_flows *flows = &state->flows;
    flows->demand = state->demand;
    flows->refill = flows->overflow = 0;
    flows->held &= ~wr_limit_bit(WR_LIMIT_STORAGE_EMPTY);
    share_effluent(plant, state, flows);
}
