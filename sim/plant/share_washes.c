/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/share_part.h"

#include "sim/plant/extreme.h"

/* Step that a filter is in while it is being washed; NULL while it is not. */
static const struct wr_step *step_of(const struct wr_plant *plant, const struct wr_filter *f, size_t filter)
{
    return f->mode == WR_MODE_WASH ? &plant->groups[plant->group_of[filter]].steps[f->step] : NULL;
}

void wr_share_rinses(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    const double asked = flows->rinse;
    flows->rinse = wr_lesser(asked, flows->raw);
    if (!wr_share_fits(asked, flows->raw))
        flows->held |= wr_limit_bit(WR_LIMIT_RAW_FOR_RINSE);
    const double share = asked > 0 ? flows->rinse / asked : 0;
    struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    for (uint32_t i = 0; i < state->lone; i++) {
        const struct wr_step *step = step_of(plant, &filters[lone[i]], lone[i]);
        if (step != NULL)
            filters[lone[i]].flow = step->feed_flow * share;
    }
}

/* Gives the washes under way what they ask for, or their share of less. */
static void give_washes(const struct wr_plant *plant, const struct wr_state *state, double asked, double given)
{
    const double share = asked > 0 ? given / asked : 0;
    struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    for (uint32_t i = 0; i < state->lone; i++) {
        const struct wr_step *step = step_of(plant, &filters[lone[i]], lone[i]);
        if (step != NULL)
            filters[lone[i]].wash_flow = step->wash_flow * share;
    }
}

static bool is_from_empty_storage(const struct wr_plant *plant, const struct wr_state *state)
{
    const int source = plant->definition->wash_water.source;
    return state->storage.pin == WR_PIN_EMPTY && (source == WR_WATER_FROM_STORAGE || source == WR_WATER_FROM_SYSTEM);
}

void wr_share_wash_water(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    const double asked = flows->wash, left = wr_greater(0, flows->raw - flows->rinse);
    const int source = plant->definition->wash_water.source;
    if (source == WR_WATER_FROM_WELLS || source == WR_WATER_FROM_FILTERS)
        flows->wash = wr_lesser(asked, left);
    else if (is_from_empty_storage(plant, state)) /* and a rinse at the plant's start lets less come */
        flows->wash = wr_lesser(asked, wr_greater(0, left - flows->start_rinse));
    give_washes(plant, state, asked, flows->wash);
}

/* Wash water that the washes under way ask for. */
static double wash_asked(const struct wr_plant *plant, const struct wr_state *state)
{
    const struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    double asked = 0;
    for (uint32_t i = 0; i < state->lone; i++) {
        const struct wr_step *step = step_of(plant, &filters[lone[i]], lone[i]);
        asked += step != NULL ? step->wash_flow : 0;
    }
    return asked;
}

bool wr_share_wash_again(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    const bool by_filters = plant->definition->wash_water.source == WR_WATER_FROM_FILTERS;
    if (!by_filters && !is_from_empty_storage(plant, state))
        return false;
    const double asked = wash_asked(plant, state), before = flows->wash, left = wr_share_left(plant, flows);
    flows->wash = by_filters ? wr_lesser(before, left) : wr_lesser(asked, left + flows->down);
    give_washes(plant, state, asked, flows->wash);
    return flows->wash != before;
}

void wr_share_start_rinses(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    const double asked = flows->start_rinse;
    if (asked <= 0)
        return;
    const double raw_wash = plant->definition->wash_water.source == WR_WATER_FROM_WELLS ? flows->wash : 0;
    flows->start_rinse = wr_lesser(asked, wr_greater(0, flows->raw - flows->rinse - raw_wash));
    flows->rinse += flows->start_rinse;
    struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    for (uint32_t i = 0; i < state->lone; i++) {
        struct wr_filter *f = &filters[lone[i]];
        if (f->mode == WR_MODE_START_RINSE)
            f->flow = plant->groups[plant->group_of[lone[i]]].start_rinse.feed_flow * (flows->start_rinse / asked);
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

/* What a wash sends to its tank. */
static void add_wash(const struct wr_plant *plant, const struct wr_flows *flows, const struct wr_filter *f,
                     const struct wr_group *g, struct wr_tank *tank)
{
    const struct wr_step *step = &g->steps[f->step];
    const double backwash = step->to == WR_TO_SPENT ? f->wash_flow : 0;
    const bool raw_wash = plant->definition->wash_water.source == WR_WATER_FROM_WELLS;
    tank->inflow += backwash + (step->feed_to == WR_TO_SPENT ? f->flow : 0) + step->drain_flow;
    tank->backwash += backwash;
    tank->drained += step->drain_flow;
    const double released = g->released * g->area * (backwash / g->backwash_volume);
    for (int k = 0; k < WR_CONSTITUENTS && backwash > 0; k++) {
        tank->mass_in[k] += f->load_at_wash[k] * released;
        if (raw_wash)
            tank->mass_in[k] += flows->raw_water[k] * backwash;
    }
}

void wr_share_spent(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows)
{
    struct wr_tank *tanks = wr_state_tanks(plant, state);
    struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    clear_tank_inflows(plant, tanks);
    for (uint32_t i = 0; i < state->lone; i++) {
        const struct wr_filter *f = &filters[lone[i]];
        if (f->mode == WR_MODE_START_RINSE && f->tank == plant->tank_count + WR_BEYOND_SPILL)
            flows->spill += f->flow;
        else if (f->mode == WR_MODE_START_RINSE && f->tank < plant->tank_count)
            tanks[f->tank].inflow += f->flow;
        else if (f->mode == WR_MODE_WASH && f->tank < plant->tank_count)
            add_wash(plant, flows, f, &plant->groups[plant->group_of[lone[i]]], &tanks[f->tank]);
    }
}
