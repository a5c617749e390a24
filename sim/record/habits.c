/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/record/habits.h"

#include "sim/plant/bed.h"
#include "sim/plant/head.h"

#include <math.h>
#include <stdlib.h>

/* Illustrative thresholds: no source says where a habit becomes a fault. */
static const double STEP = 0.5;        /* of the approved rate, at one instant */
static const double IDLE = 86400;      /* s without flow */
static const uint32_t STARTS = 3;      /* of one well in an hour of the run */
static const double CLEAN_RISE = 0.10; /* of the differential trigger */
static const double MOST_WASHES = 0.5; /* called by something other than the differential */

bool wr_habits_init(struct wr_habits *h, const struct wr_plant *plant)
{
    h->rates = calloc(plant->group_count, sizeof *h->rates);
    h->idle_since = calloc(plant->group_count, sizeof *h->idle_since);
    h->clean_heads = calloc(plant->filter_count, sizeof *h->clean_heads);
    h->hour = calloc(plant->well_count, sizeof *h->hour);
    h->starts = calloc(plant->well_count, sizeof *h->starts);
    h->counted = calloc(plant->well_count, sizeof *h->counted);
    for (size_t f = 0; h->clean_heads != NULL && f < plant->filter_count; f++)
        h->clean_heads[f] = WR_ABSENT;
    return h->rates != NULL && h->idle_since != NULL && h->clean_heads != NULL && h->hour != NULL &&
           h->starts != NULL && h->counted != NULL;
}

void wr_habits_fini(struct wr_habits *h)
{
    free(h->rates);
    free(h->idle_since);
    free(h->clean_heads);
    free(h->hour);
    free(h->starts);
    free(h->counted);
}

/* A finding whose worst figure is the greatest. */
static void find_worst(struct wr_record *r, const struct wr_simulation *sim, enum wr_finding_kind kind, size_t where,
                       double worst)
{
    struct wr_finding *finding = wr_record_found(r, sim, kind, WR_LIMIT_NONE, where, wr_now(sim));
    finding->worst = fmax(finding->worst, worst);
}

static void look_at_rates(struct wr_record *r, const struct wr_simulation *sim)
{
    const struct wr_pack *packs = wr_state_packs(sim->plant, sim->state);
    for (size_t g = 0; g < sim->plant->group_count; g++) {
        const double step = packs[g].rate - r->habits.rates[g];
        const size_t first = sim->plant->groups[g].first;
        /* Starting from rest is the well's habit, not the filter's. */
        if (r->habits.rates[g] > 0 && step > STEP * sim->plant->groups[g].approved_rate)
            find_worst(r, sim, WR_FINDING_RATE_STEP, first, step);
        const bool idle = packs[g].members > 0 && packs[g].rate <= 0;
        const double since = r->habits.idle_since[g];
        if (r->habits.rates[g] <= 0 && !idle && wr_now(sim) - since > IDLE)
            find_worst(r, sim, WR_FINDING_IDLE, first, wr_now(sim) - since);
        if (!idle || r->habits.rates[g] > 0)
            r->habits.idle_since[g] = wr_now(sim);
        r->habits.rates[g] = packs[g].rate;
    }
}

static void look_at_wells(struct wr_record *r, const struct wr_simulation *sim)
{
    const struct wr_well_state *wells = wr_state_wells(sim->plant, sim->state);
    struct wr_habits *h = &r->habits;
    h->all_counted = sim->state->well_starts;
    for (size_t w = 0; w < sim->plant->well_count; w++) {
        if (wells[w].starts == h->counted[w])
            continue;
        const double hour = floor(wr_now(sim) / 3600);
        h->starts[w] = (hour > h->hour[w] ? 0 : h->starts[w]) + wells[w].starts - h->counted[w];
        h->hour[w] = hour;
        h->counted[w] = wells[w].starts;
        if (h->starts[w] > STARTS)
            find_worst(r, sim, WR_FINDING_WELL_STARTS, WR_NOWHERE, h->starts[w]);
    }
}

/* True where every group runs on at the rate it had. */
static bool rates_stand(const struct wr_habits *h, const struct wr_simulation *sim)
{
    const struct wr_pack *packs = wr_state_packs(sim->plant, sim->state);
    for (size_t g = 0; g < sim->plant->group_count; g++)
        if (packs[g].rate != h->rates[g] || packs[g].rate <= 0)
            return false;
    return true;
}

/* Most instants leave rates and wells as they were. */
void wr_habits_instant(struct wr_record *r, const struct wr_simulation *sim)
{
    if (!rates_stand(&r->habits, sim))
        look_at_rates(r, sim);
    if (sim->state->well_starts != r->habits.all_counted)
        look_at_wells(r, sim);
}

void wr_habits_wash_started(struct wr_record *r, const struct wr_simulation *sim, size_t filter)
{
    r->habits.calls[wr_state_filters(sim->plant, sim->state)[filter].trigger]++;
}

/* The clean differential at the approved rate, so that washes at different flows compare. */
void wr_habits_wash_ended(struct wr_record *r, const struct wr_simulation *sim, size_t filter)
{
    const struct wr_group *g = &sim->plant->groups[sim->plant->group_of[filter]];
    const double trigger = sim->plant->definition->wash.triggers.differential;
    const double head =
        wr_group_head(g, sim->plant->viscosity, wr_bed_load(sim->plant, sim->state, filter), g->approved_rate, false);
    if (!wr_is_given(r->habits.clean_heads[filter]))
        r->habits.clean_heads[filter] = head;
    const double rise = head - r->habits.clean_heads[filter];
    if (rise > CLEAN_RISE * (wr_is_given(trigger) ? trigger : g->available_head))
        find_worst(r, sim, WR_FINDING_CLEAN_HEAD_RISING, filter, rise);
}

/* Which trigger called most washes, in a plant whose differential is meant to. */
static void look_at_triggers(struct wr_record *r, const struct wr_simulation *sim)
{
    const size_t *calls = r->habits.calls;
    const size_t differential = calls[WR_TRIGGER_DIFFERENTIAL] + calls[WR_TRIGGER_URGENT];
    const size_t backstop = calls[WR_TRIGGER_HOURS] + calls[WR_TRIGGER_VOLUME];
    if (!wr_is_given(sim->plant->definition->wash.triggers.differential) || backstop == 0)
        return;
    const double share = (double)backstop / (double)(backstop + differential);
    if (differential == 0)
        find_worst(r, sim, WR_FINDING_DIFFERENTIAL_NEVER, WR_NOWHERE, (double)backstop);
    else if (share > MOST_WASHES)
        find_worst(r, sim, WR_FINDING_BACKSTOP_TOOK_OVER, WR_NOWHERE, share);
}

void wr_habits_close(struct wr_record *r, const struct wr_simulation *sim)
{
    for (size_t g = 0; g < sim->plant->group_count; g++)
        if (r->habits.rates[g] <= 0 && wr_now(sim) - r->habits.idle_since[g] > IDLE)
            find_worst(r, sim, WR_FINDING_IDLE, sim->plant->groups[g].first, wr_now(sim) - r->habits.idle_since[g]);
    look_at_triggers(r, sim);
}
