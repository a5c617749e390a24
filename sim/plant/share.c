/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/share.h"

#include "sim/plant/bed.h"
#include "sim/plant/extreme.h"
#include "sim/plant/head.h"
#include "sim/plant/mixing.h"
#include "sim/plant/share_part.h"

#include <math.h>

/* Rate, m/s, that a loaded bed of a group can take: its approved one, or what its available head lets through. A bed
 * at a low rate stands below its available head and yet could not take its approved rate: counted as if it could, a
 * well would be started that has to be dropped at once. Where the plant lets the rate rise, only head holds it. */
static double rate_taken(const struct wr_plant *plant, const struct wr_group *group, double load)
{
    double end;
    if (wr_share_rises(plant))
        return isfinite(group->full_rate_load) ? wr_group_stretch(group, plant->viscosity, load, &end) : WR_NEVER;
    if (load < group->full_rate_load)
        return group->approved_rate;
    return wr_lesser(group->approved_rate, wr_group_stretch(group, plant->viscosity, load, &end));
}

/* What the members of a pack can take. */
static double pack_capacity(const struct wr_plant *plant, struct wr_state *state, size_t group)
{
    const struct wr_group *g = &plant->groups[group];
    const struct wr_pack *pack = &wr_state_packs(plant, state)[group];
    wr_pack_look(plant, state, group);
    const bool limits = pack->dirtiest >= 0 && wr_bed_load(plant, state, (size_t)pack->dirtiest) >= g->full_rate_load;
    if (!limits && !wr_share_rises(plant))
        return pack->members * g->area * g->approved_rate;
    double capacity = 0;
    for (size_t i = g->first; i < g->first + g->count; i++)
        if (wr_bed_in_pack(&wr_state_filters(plant, state)[i]))
            capacity += g->area * rate_taken(plant, g, wr_bed_load(plant, state, i));
    return capacity;
}

/* Rate, m/s, of a filter at its available head. */
static double rate_apart(const struct wr_plant *plant, const struct wr_group *group, const struct wr_filter *filter)
{
    return wr_share_rises(plant) ? filter->limit_rate : wr_lesser(filter->limit_rate, group->approved_rate);
}

double wr_share_taken(const struct wr_plant *plant, const struct wr_state *state, size_t filter)
{
    const struct wr_filter *f = &wr_state_filters(plant, state)[filter];
    const struct wr_group *g = &plant->groups[plant->group_of[filter]];
    if (f->mode != WR_MODE_SERVICE)
        return 0;
    return g->area * (f->apart ? rate_apart(plant, g, f) : rate_taken(plant, g, wr_bed_load(plant, state, filter)));
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
            flows->capacity += g->area * rate_apart(plant, g, f);
            flows->approved += g->area * g->approved_rate;
        } else if (f->mode == WR_MODE_START_RINSE)
            flows->start_rinse += g->start_rinse.feed_flow;
        else if (f->mode == WR_MODE_WASH) {
            const struct wr_step *step = &g->steps[f->step];
            flows->rinse += step->feed_flow;
            flows->wash += step->wash_flow;
            flows->down += step->down_flow;
        }
    }
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
    wr_mix_feed(plant, state, flows);
    flows->service = wr_share_left(plant, flows);
    flows->overflow = 0;
    wr_share_effluent(plant, state, flows);
}

void wr_share(const struct wr_plant *plant, struct wr_state *state)
{
    struct wr_flows *flows = &state->flows;
    *flows = (struct wr_flows){.demand = state->demand};
    add_up_filters(plant, state, flows);
    wr_share_wells(plant, state, flows);
    wr_share_rinses(plant, state, flows);
    wr_share_wash_water(plant, state, flows);
    wr_share_start_rinses(plant, state, flows);
    wr_share_spent(plant, state, flows);
    wr_share_outlets(plant, state, flows);
    if (wr_share_wash_again(plant, state, flows))
        wr_share_spent(plant, state, flows);
    wr_mix_tanks(plant, state);
    share_service_and_effluent(plant, state, flows);
    if (flows->overflow > 0 && wr_share_spare_storage(plant, state, flows))
        share_service_and_effluent(plant, state, flows);
    wr_share_service(plant, state, flows);
    note_available_head(plant, state, flows);
}

bool wr_share_stands(const struct wr_plant *plant, struct wr_state *state)
{
    if (!plant->flows_may_stand || state->storage.pin == WR_PIN_FULL)
        return false;
    const struct wr_pack *packs = wr_state_packs(plant, state);
    for (size_t g = 0; g < plant->group_count; g++) {
        wr_pack_look(plant, state, g);
        if (packs[g].dirtiest >= 0 &&
            wr_bed_load(plant, state, (size_t)packs[g].dirtiest) >= plant->groups[g].full_rate_load)
            return false;
    }
    return true;
}

void wr_share_draws(const struct wr_plant *plant, struct wr_state *state)
{
    struct wr_flows *flows = &state->flows;
    const struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    flows->wash = flows->down = flows->spill = 0;
    for (uint32_t i = 0; i < state->lone; i++) {
        if (filters[lone[i]].mode != WR_MODE_WASH)
            continue;
        const struct wr_step *step = &plant->groups[plant->group_of[lone[i]]].steps[filters[lone[i]].step];
        flows->wash += step->wash_flow;
        flows->down += step->down_flow;
    }
    wr_share_wash_water(plant, state, flows);
    wr_share_wash_again(plant, state, flows);
    wr_share_spent(plant, state, flows);
    wr_share_demand(plant, state);
}

void wr_share_demand(const struct wr_plant *plant, struct wr_state *state)
{
    struct wr_flows *flows = &state->flows;
    flows->demand = state->demand;
    flows->refill = flows->overflow = 0;
    flows->held &= ~wr_limit_bit(WR_LIMIT_STORAGE_EMPTY);
    wr_share_effluent(plant, state, flows);
}
