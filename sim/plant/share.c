/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/share.h"

#include "sim/plant/bed.h"
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
        capacity += g->area * fmin(g->approved_rate, at_head);
    }
    return capacity;
}

/* What the filters in service can take, and what the rinses ask for. */
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
            flows->capacity += g->area * fmin(f->limit_rate, g->approved_rate);
            flows->approved += g->area * g->approved_rate;
        } else if (f->mode == WR_MODE_WASH)
            flows->rinse += g->steps[f->step].feed_flow;
    }
}

/* Why a well that is wanted does not run. */
static enum wr_limit why_dropped(const struct wr_plant *plant, const struct wr_flows *flows, double raw)
{
    if (!fits(raw, plant->approved_capacity))
        return WR_LIMIT_APPROVED_CAPACITY;
    if (flows->approved <= 0)
        return WR_LIMIT_NO_FILTER_IN_SERVICE;
    return fits(raw, flows->approved + flows->rinse) ? WR_LIMIT_HEAD_HOLDS_WELLS : WR_LIMIT_WELL_DOES_NOT_FIT;
}

/* Runs a well if raw water still fits with it; returns whether it does. */
static bool try_well(const struct wr_plant *plant, struct wr_well_state *well, size_t number, struct wr_flows *flows)
{
    const double raw = flows->raw + plant->definition->wells.items[number].flow;
    well->runs = fits(raw, fmin(flows->capacity + flows->rinse, plant->approved_capacity));
    if (well->runs)
        flows->raw = raw;
    else if (well->called)
        flows->held |= wr_limit_bit(why_dropped(plant, flows, raw));
    return well->runs;
}

/* Fixed wells run in their order while raw water alone fits: those that storage calls, then further ones while a rinse
 * asks for more than they give. */
static void share_wells(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    struct wr_well_state *wells = wr_state_wells(plant, state);
    size_t running = 0;
    for (size_t w = 0; w < plant->well_count; w++) {
        wells[w].runs = false;
        if (wells[w].called)
            running += try_well(plant, &wells[w], w, flows);
    }
    for (size_t w = 0; w < plant->well_count && !fits(flows->rinse, flows->raw); w++)
        if (!wells[w].called)
            running += try_well(plant, &wells[w], w, flows);
    if (running == plant->well_count)
        flows->held |= wr_limit_bit(WR_LIMIT_ALL_WELLS_RUNNING);
}

/* A rinse has first call on raw water; service takes the rest. */
static void share_rinse(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    const double asked = flows->rinse;
    flows->rinse = fmin(asked, flows->raw);
    const double share = asked > 0 ? flows->rinse / asked : 0;
    if (!fits(asked, flows->raw))
        flows->held |= wr_limit_bit(WR_LIMIT_RAW_FOR_RINSE);
    struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    for (uint32_t i = 0; i < state->lone; i++) {
        struct wr_filter *f = &filters[lone[i]];
        if (f->mode == WR_MODE_WASH)
            f->flow = plant->groups[plant->group_of[lone[i]]].steps[f->step].feed_flow * share;
    }
}

static bool can_give(const struct wr_plant *plant, const struct wr_tank *tank)
{
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
        if (!plant->has_settling && tanks[t].to_recycle + tanks[t].to_sewer > 0)
            return t;
        if (best == plant->tank_count ||
            (plant->has_settling ? tanks[t].since < tanks[best].since : tanks[t].level > tanks[best].level))
            best = t;
    }
    return best;
}

/* Recycle that may run beside the wells, up to what the tank can give; what holds it is noted. */
static double recycle_flow(const struct wr_plant *plant, struct wr_flows *flows, double most)
{
    const struct wr_recycle *recycle = &plant->definition->recycle;
    const double by_share = recycle->max_fraction * flows->raw;
    const double by_filters = fmax(0, flows->capacity - (flows->raw - flows->rinse));
    const double by_plant = fmax(0, plant->approved_capacity - flows->raw);
    const double pump = fmin(recycle->pump, most);
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
    return fmin(fmin(pump, by_share), fmin(by_filters, by_plant));
}

/* What runs out of the tanks: in the order of the outlets, each only while those before it stand still. */
static void share_outlets(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows)
{
    struct wr_tank *tanks = wr_state_tanks(plant, state);
    flows->recycle_tank = giving_tank(plant, state);
    for (size_t t = 0; t < plant->tank_count; t++)
        tanks[t].to_recycle = tanks[t].to_sewer = 0;
    if (flows->recycle_tank == plant->tank_count)
        return;
    struct wr_tank *tank = &tanks[flows->recycle_tank];
    const double most = tank->empty ? tank->inflow : WR_NEVER;
    for (size_t o = 0; o < plant->definition->spent_wash.outlets.count; o++) {
        const struct wr_outlet *outlet = &plant->definition->spent_wash.outlets.items[o];
        if (outlet->kind == WR_OUTLET_RECYCLE)
            flows->recycle = tank->to_recycle = recycle_flow(plant, flows, most);
        else
            tank->to_sewer = fmin(outlet->rate, most);
        if (tank->to_recycle > 0 || tank->to_sewer > 0)
            break;
    }
}

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
                                             .limit = plant->groups[g].approved_rate,
                                             .flow = &packs[g].rate,
                                             .is_pack = true};
    }
    for (uint32_t i = 0; i < state->lone; i++) {
        struct wr_filter *f = &filters[lone[i]];
        const struct wr_group *g = &plant->groups[plant->group_of[lone[i]]];
        if (f->mode == WR_MODE_SERVICE)
            takers[count++] =
                (struct taker){.area = g->area, .limit = fmin(f->limit_rate, g->approved_rate), .flow = &f->flow};
    }
    fill_takers(takers, count, flows->service);
}

/* What the washes under way draw, and where it goes. */
static void share_washes(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows)
{
    struct wr_tank *tanks = wr_state_tanks(plant, state);
    struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    for (size_t t = 0; t < plant->tank_count; t++) {
        tanks[t].inflow = tanks[t].backwash = 0;
        for (int k = 0; k < WR_CONSTITUENTS; k++)
            tanks[t].mass_in[k] = 0;
    }
    for (uint32_t i = 0; i < state->lone; i++) {
        const struct wr_filter *f = &filters[lone[i]];
        if (f->mode != WR_MODE_WASH)
            continue;
        const struct wr_group *g = &plant->groups[plant->group_of[lone[i]]];
        const double wash_flow = g->steps[f->step].wash_flow;
        flows->wash += wash_flow;
        if (f->tank == plant->tank_count)
            continue;
        tanks[f->tank].inflow += wash_flow + f->flow;
        tanks[f->tank].backwash += wash_flow;
        for (int k = 0; k < WR_CONSTITUENTS; k++)
            tanks[f->tank].mass_in[k] += f->load_at_wash[k] * g->area * (wash_flow / g->wash_volume);
    }
}

/* What becomes of the effluent: refill, demand, and what storage cannot take. */
static void share_effluent(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    const struct wr_wash_tank *tank = &plant->definition->wash_water.tank;
    if (state->wash_tank.full)
        flows->refill = fmin(fmin(tank->refill_rate, flows->service), flows->wash);
    else if (state->wash_tank.refilling)
        flows->refill = fmin(tank->refill_rate, flows->service);
    const double inflow = flows->service - flows->refill;
    flows->delivered = flows->demand;
    if (state->storage.pin == WR_PIN_EMPTY && inflow < flows->demand) {
        flows->delivered = inflow;
        flows->held |= wr_limit_bit(WR_LIMIT_STORAGE_EMPTY);
    }
    if (state->storage.pin == WR_PIN_FULL && inflow > flows->demand)
        flows->overflow = inflow - flows->demand;
}

static void note_available_head(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    const struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    for (uint32_t i = 0; i < state->lone; i++)
        if (filters[lone[i]].mode == WR_MODE_SERVICE)
            flows->held |= wr_limit_bit(WR_LIMIT_AVAILABLE_HEAD);
}

void wr_share(const struct wr_plant *plant, struct wr_state *state)
{
    struct wr_flows flows = {.demand = state->demand};
    add_up_filters(plant, state, &flows);
    share_wells(plant, state, &flows);
    share_rinse(plant, state, &flows);
    share_washes(plant, state, &flows);
    share_outlets(plant, state, &flows);
    wr_mix_tanks(plant, state);
    wr_mix_feed(plant, state, &flows);
    flows.service = flows.raw - flows.rinse + flows.recycle;
    share_service(plant, state, &flows);
    share_effluent(plant, state, &flows);
    note_available_head(plant, state, &flows);
    state->flows = flows;
}
