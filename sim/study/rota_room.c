/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/rota_room.h"

#include "sim/plant/bed.h"
#include "sim/plant/head.h"
#include "sim/study/ability.h"

#include <math.h>
#include <string.h>

static const double DAY = 86400;

/* Watches a run for what its record does not keep. */
struct watch {
    double reserve_used, wash_water;
    double with_room, since; /* s in which a tank had room for a whole wash, up to the last instant */
    bool had_room;
};

/* True when some spent-wash tank takes a whole wash; without tanks the sewer does. */
static bool has_room(const struct wr_simulation *sim)
{
    const struct wr_tank *tanks = wr_state_tanks(sim->plant, sim->state);
    double largest = 0;
    for (size_t g = 0; g < sim->plant->group_count; g++)
        largest = fmax(largest, sim->plant->groups[g].room);
    for (size_t t = 0; t < sim->plant->tank_count; t++)
        if (tanks[t].mode == WR_TANK_FILLING && !tanks[t].closed && tanks[t].free >= largest * (1 - 1e-9))
            return true;
    return sim->plant->tank_count == 0;
}

/* The share of the reserve between call and available head that a wait took, whatever the filter waited for. */
static void on_event(void *context, const struct wr_simulation *sim, const struct wr_event *event)
{
    struct watch *watch = context;
    if (event->kind != WR_EVENT_WASH_STARTED)
        return;
    const struct wr_filter *f = &wr_state_filters(sim->plant, sim->state)[event->where];
    const struct wr_group *g = &sim->plant->groups[sim->plant->group_of[event->where]];
    const double room = wr_group_load_at_head(g, sim->plant->viscosity, g->available_head, g->approved_rate, false) -
                        f->wait.load_at_call;
    const double gathered = wr_bed_load(sim->plant, sim->state, event->where) - f->wait.load_at_call;
    if (f->washed && f->wait.total > 0)
        watch->reserve_used = fmax(watch->reserve_used, room > 0 ? gathered / room : 1);
}

static void on_instant(void *context, const struct wr_simulation *sim)
{
    struct watch *watch = context;
    const struct wr_definition *d = sim->plant->definition;
    if (d->wash_water.source == WR_WATER_FROM_TANK)
        watch->wash_water = fmin(watch->wash_water, sim->state->wash_tank.free / d->wash_water.tank.volume);
    else if (d->wash_water.source == WR_WATER_FROM_STORAGE)
        watch->wash_water =
            fmin(watch->wash_water, (sim->state->storage.level - sim->state->booked) / d->storage.volume);
    if (watch->had_room)
        watch->with_room += wr_now(sim) - watch->since;
    watch->had_room = has_room(sim);
    watch->since = wr_now(sim);
}

/* Waiting that no order of washes avoids: a round of the scarcest resource less the round that the filters ask for. */
static double unavoidable_wait(const struct wr_run *run, enum wr_limit *by)
{
    struct wr_ability rows[WR_ABILITY_ROWS];
    const size_t count = wr_ability_table(run, rows);
    const double filters = (double)run->plant.filter_count;
    double worst = 0, off_line = 0;
    for (size_t r = 0; r < count; r++)
        if (rows[r].resource == WR_LIMIT_WASH_SYSTEM)
            off_line = (double)run->plant.definition->wash.max_simultaneous * DAY / rows[r].possible;
    for (size_t r = 0; r < count; r++) {
        const double wait = filters * DAY / rows[r].possible - (filters * DAY / rows[r].wanted + off_line);
        if (wait > worst) {
            worst = wait;
            *by = rows[r].resource;
        }
    }
    return worst;
}

/* True for a run in which something but the pace of the washing failed. */
static bool fails(const struct wr_run *run)
{
    for (const struct wr_finding *f = NULL; (f = wr_record_finding(&run->record, f)) != NULL;)
        if (f->kind != WR_FINDING_NOT_KEEPING_PACE && wr_record_fails(&run->record, f->kind))
            return true;
    return false;
}

static void take_run(struct wr_rota_room *room, const struct wr_run *run, const struct watch *watch)
{
    const struct wr_wash_balance *b = &run->record.balance;
    const double days = run->plant.definition->horizon / DAY, washes = (double)b->washes;
    room->fails += fails(run);
    room->slow += !b->keeps_pace;
    room->longest_wait = fmax(room->longest_wait, b->longest_wait);
    room->mean_wait = fmax(room->mean_wait, washes > 0 ? b->total_wait / washes : 0);
    room->start_up_wait = fmax(room->start_up_wait, b->start_up_wait);
    room->reserve_used = fmax(room->reserve_used, watch->reserve_used);
    room->wash_water = fmin(room->wash_water, watch->wash_water);
    room->tank_room = fmin(room->tank_room, watch->since > 0 ? watch->with_room / watch->since : 1);
    room->washes = fmax(room->washes, washes / days);
}

static void run_start(struct wr_rota_job *job, size_t start)
{
    struct watch watch = {.wash_water = 1};
    struct wr_run run;
    const struct wr_observer also = {.context = &watch, .event = on_event, .instant = on_instant};
    wr_run_make(&run, &job->variants[start].reading.definition, &(struct wr_run_options){.also = also});
    if (run.end == WR_RUN_WHOLE) {
        take_run(&job->candidate->room, &run, &watch);
        if (start == 0)
            job->candidate->unavoidable = unavoidable_wait(&run, &job->candidate->unavoidable_by);
    } else if (run.end == WR_RUN_BAD_PLANT)
        job->candidate->is_allowed = false;
    else {
        job->end = run.end;
        memcpy(job->message, run.message, sizeof job->message);
    }
    wr_run_fini(&run);
}

static void search_firm(struct wr_rota_job *job)
{
    struct wr_search found;
    if (wr_firm_search(&found, &job->variants[0].reading.definition)) {
        job->candidate->room.firm = found.firm;
        job->candidate->firm_limit = found.ever_failed ? found.failing.limit : WR_LIMIT_NONE;
    } else if (found.end != WR_RUN_BAD_PLANT) {
        job->end = found.end;
        memcpy(job->message, found.message, sizeof job->message);
    }
}

void wr_rota_work(void *context, size_t item)
{
    struct wr_rota_job *job = &((struct wr_rota_job *)context)[item];
    struct wr_rota_try *candidate = job->candidate;
    candidate->room = (struct wr_rota_room){.wash_water = 1, .tank_room = 1, .firm = WR_ABSENT};
    for (size_t s = 0; s < job->starts && candidate->is_allowed && job->end == WR_RUN_WHOLE; s++)
        run_start(job, s);
    if (job->with_firm && candidate->is_allowed && job->end == WR_RUN_WHOLE)
        search_firm(job);
}
