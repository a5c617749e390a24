/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/bed.h"

#include "sim/plant/head.h"
#include "sim/plant/ledger.h"
#include "sim/plant/mean_run.h"

#include <assert.h>

/* sum - own: turns a bed into its offset and back. */
static struct wr_bed bed_below(const struct wr_bed *sum, const struct wr_bed *own)
{
    struct wr_bed rest = {.volume = sum->volume - own->volume, .hours = sum->hours - own->hours};
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        rest.load[k] = sum->load[k] - own->load[k];
    return rest;
}

struct wr_bed wr_bed_now(const struct wr_plant *plant, const struct wr_state *state, size_t filter)
{
    const struct wr_filter *f = &wr_state_filters(plant, state)[filter];
    return wr_bed_in_pack(f) ? bed_below(&wr_state_packs(plant, state)[plant->group_of[filter]].sum, &f->bed) : f->bed;
}

static void lone_remove(const struct wr_plant *plant, struct wr_state *state, uint32_t filter)
{
    uint32_t *lone = wr_state_lone(plant, state);
    uint32_t place = 0;
    while (place < state->lone && lone[place] != filter)
        place++;
    assert(place < state->lone);
    lone[place] = lone[--state->lone];
}

/* Swaps a filter's own figures for its offset, or back. */
static void cross_over(const struct wr_plant *plant, struct wr_state *state, size_t filter, bool joins)
{
    struct wr_filter *f = &wr_state_filters(plant, state)[filter];
    struct wr_pack *pack = &wr_state_packs(plant, state)[plant->group_of[filter]];
    f->bed = bed_below(&pack->sum, &f->bed);
    pack->members += joins ? 1U : -1U;
    if (f->above)
        pack->above += joins ? 1U : -1U;
    pack->stale = true;
    if (joins)
        lone_remove(plant, state, (uint32_t)filter);
    else
        wr_state_lone(plant, state)[state->lone++] = (uint32_t)filter;
}

void wr_bed_join(const struct wr_plant *plant, struct wr_state *state, size_t filter)
{
    cross_over(plant, state, filter, true);
}

void wr_bed_leave(const struct wr_plant *plant, struct wr_state *state, size_t filter)
{
    cross_over(plant, state, filter, false);
}

bool wr_bed_can_meet(const struct wr_filter *filter, int trigger)
{
    if (trigger == WR_TRIGGER_URGENT)
        return !filter->urgent;
    return !filter->called && !(trigger == WR_TRIGGER_DIFFERENTIAL && filter->above);
}

/* Who may stand in which place is as wr_bed_can_meet has it.
 *
 * Puts a member in a place where it stands behind its pack by less than who is there, and so comes first. */
static inline void take_place(int32_t *place, double *least, double behind, size_t filter)
{
    if (behind < *least) {
        *place = (int32_t)filter;
        *least = behind;
    }
}

void wr_pack_look_again(const struct wr_plant *plant, struct wr_state *state, size_t group)
{
    struct wr_pack *pack = &wr_state_packs(plant, state)[group];
    const struct wr_group *g = &plant->groups[group];
    const struct wr_filter *filters = wr_state_filters(plant, state);
    double least_load = WR_NEVER, least[WR_TRIGGERS];
    pack->stale = false;
    pack->armed_rate = WR_NEVER;
    pack->dirtiest = -1;
    for (int trigger = 0; trigger < WR_TRIGGERS; trigger++) {
        pack->next[trigger] = -1;
        least[trigger] = WR_NEVER;
    }
    for (size_t i = g->first; i < g->first + g->count; i++) {
        const struct wr_filter *f = &filters[i];
        const double load = f->bed.load[WR_SOLIDS];
        if (!wr_bed_in_pack(f))
            continue;
        if (!f->alarmed)
            take_place(&pack->dirtiest, &least_load, load, i);
        if (!f->urgent)
            take_place(&pack->next[WR_TRIGGER_URGENT], &least[WR_TRIGGER_URGENT], load, i);
        if (f->called)
            continue;
        take_place(&pack->next[WR_TRIGGER_HOURS], &least[WR_TRIGGER_HOURS], f->bed.hours, i);
        take_place(&pack->next[WR_TRIGGER_VOLUME], &least[WR_TRIGGER_VOLUME], f->bed.volume, i);
        if (!f->above)
            take_place(&pack->next[WR_TRIGGER_DIFFERENTIAL], &least[WR_TRIGGER_DIFFERENTIAL], load, i);
    }
}

/* A bed takes water at a rate for a time. */
static void bed_gather(struct wr_bed *bed, const double *feed, double rate, double time)
{
    const double volume = rate * time;
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        bed->load[k] += feed[k] * volume;
    bed->volume += volume;
    if (rate > 0)
        bed->hours += time;
}

/* A backwash takes what the bed held at the start of the wash in proportion to the water given. */
static void bed_release(const struct wr_plant *plant, struct wr_state *state, struct wr_filter *f, double volume)
{
    const struct wr_group *g = &plant->groups[plant->group_of[f - wr_state_filters(plant, state)]];
    struct wr_entry *line = wr_ledger_line(plant, state, WR_LINE_RELEASED, f->tank);
    f->given += volume;
    for (int k = 0; k < WR_CONSTITUENTS; k++) {
        const double load = f->load_at_wash[k] * g->released * (volume / g->backwash_volume);
        f->bed.load[k] -= load;
        line->mass[k] += load * g->area;
        if (f->tank < plant->tank_count)
            wr_state_tanks(plant, state)[f->tank].mass[k] += load * g->area;
    }
}

/* Wash water fills a drained filter; what raw water carries stays in the bed. */
static void fill_advance(const struct wr_plant *plant, struct wr_state *state, struct wr_filter *f, double volume)
{
    const double area = plant->groups[plant->group_of[f - wr_state_filters(plant, state)]].area;
    struct wr_entry *caught = wr_ledger_line(plant, state, WR_LINE_CAUGHT, 0);
    f->water += volume;
    for (int k = 0; k < WR_CONSTITUENTS && plant->definition->wash_water.source == WR_WATER_FROM_WELLS; k++) {
        f->bed.load[k] += state->flows.raw_water[k] * volume / area;
        caught->mass[k] += state->flows.raw_water[k] * volume;
    }
}

/* One wash under way: what it draws, drains and fills. */
static void wash_advance(const struct wr_plant *plant, struct wr_state *state, struct wr_filter *f, double time)
{
    const struct wr_step *step = &plant->groups[plant->group_of[f - wr_state_filters(plant, state)]].steps[f->step];
    const double drawn = f->wash_flow * time;
    state->booked -= drawn;
    if (step->to == WR_TO_SPENT && drawn > 0)
        bed_release(plant, state, f, drawn);
    f->water -= (step->drain_flow + step->down_flow) * time;
    if (step->to == WR_TO_FILTER && drawn > 0)
        fill_advance(plant, state, f, drawn);
    f->rinse_left -= f->flow * time;
}

static void lone_filter_advance(const struct wr_plant *plant, struct wr_state *state, struct wr_filter *f, double time)
{
    const struct wr_group *g = &plant->groups[plant->group_of[f - wr_state_filters(plant, state)]];
    if (f->mode == WR_MODE_WASH)
        wash_advance(plant, state, f, time);
    if (f->flow > 0)
        bed_gather(&f->bed, state->flows.feed, f->flow / g->area, time);
}

/* Time that filters in line wait, and what they gather while a resource is what they wait for. */
static void line_advance(const struct wr_plant *plant, struct wr_state *state, double time)
{
    const uint32_t *line = wr_state_line(plant, state);
    struct wr_filter *filters = wr_state_filters(plant, state);
    for (uint32_t i = 0; i < state->waiting; i++) {
        struct wr_filter *f = &filters[line[i]];
        struct wr_tally *tallies = f->washed ? state->waits : state->start_up;
        const enum wr_limit first = wr_limit_first(f->reasons);
        f->wait.total += time;
        if (first == WR_LIMIT_NONE)
            continue;
        for (wr_limit_set rest = f->reasons; rest != 0; rest &= rest - 1)
            tallies[wr_limit_first(rest)].total += time;
        tallies[first].first += time;
        if (wr_limit_is_alone(f->reasons))
            tallies[first].alone += time;
        if (wr_limit_is_resource(first)) {
            const struct wr_pack *pack = &wr_state_packs(plant, state)[plant->group_of[line[i]]];
            const double rate = wr_bed_in_pack(f) ? pack->rate : f->flow / plant->groups[plant->group_of[line[i]]].area;
            f->wait.by_resource += time;
            f->wait.gathered += state->flows.feed[WR_SOLIDS] * rate * time;
        }
    }
}

void wr_beds_advance(const struct wr_plant *plant, struct wr_state *state, double time)
{
    struct wr_pack *packs = wr_state_packs(plant, state);
    struct wr_filter *filters = wr_state_filters(plant, state);
    for (size_t g = 0; g < plant->group_count; g++)
        bed_gather(&packs[g].sum, state->flows.feed, packs[g].rate, time);
    const uint32_t *lone = wr_state_lone(plant, state);
    for (uint32_t i = 0; i < state->lone; i++)
        lone_filter_advance(plant, state, &filters[lone[i]], time);
    line_advance(plant, state, time);
    struct wr_entry *caught = wr_ledger_line(plant, state, WR_LINE_CAUGHT, 0);
    const double volume = (state->flows.service + state->flows.rinse) * time;
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        caught->mass[k] += state->flows.feed[k] * volume;
}

/* Share of a run that a filter has used when the run begins; place counts filters in service from 0. Spread beds are
 * spread over the filters in service, and a filter that is out then is clean. */
static double start_share(const struct wr_plant *plant, size_t filter, bool serves, size_t place, size_t in_service)
{
    const struct wr_definition *d = plant->definition;
    const size_t group = plant->group_of[filter];
    switch (d->start_beds.how) {
    case WR_START_EQUAL:
        return d->start_beds.share;
    case WR_START_GIVEN:
        return d->filters.items[group].start_shares.items[filter - plant->groups[group].first];
    default:
        return serves ? (double)place / (double)in_service : 0;
    }
}

void wr_beds_start(const struct wr_plant *plant, struct wr_state *state)
{
    struct wr_filter *filters = wr_state_filters(plant, state);
    const double rate = wr_plant_mean_rate(plant);
    size_t in_service = 0, place = 0;
    for (size_t i = 0; i < plant->filter_count; i++)
        in_service += filters[i].mode == WR_MODE_SERVICE;
    for (size_t i = 0; i < plant->filter_count; i++) {
        const struct wr_group *g = &plant->groups[plant->group_of[i]];
        const bool serves = filters[i].mode == WR_MODE_SERVICE;
        const double solids = plant->raw[WR_SOLIDS];
        double run = wr_plant_run_time(plant, g, rate, solids);
        /* At a low rate a run may go on to a load that stops a filter as soon as wells run: none is spread beyond it.
         */
        const double most = wr_group_load_at_head(g, plant->viscosity, g->available_head, g->approved_rate, false);
        if (plant->definition->start_beds.how == WR_START_SPREAD && rate > 0 && solids > 0)
            run = fmin(run, most / (solids * rate));
        const double share = start_share(plant, i, serves, place, in_service);
        place += serves;
        if (isfinite(run))
            bed_gather(&filters[i].bed, plant->raw, rate, share * run);
        filters[i].wash_started_at = -filters[i].bed.hours;
        if (serves)
            wr_bed_join(plant, state, i);
    }
}
