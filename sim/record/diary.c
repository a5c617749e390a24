/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/record/diary_part.h"

#include "sim/record/list.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double DAY = 86400;
static const double HAIR = 1e-3; /* s: an instant so close before midnight is one that rounding moved there */

static const struct wr_filter *filter_of(const struct wr_simulation *sim, size_t filter)
{
    return &wr_state_filters(sim->plant, sim->state)[filter];
}

static const struct wr_group *group_of(const struct wr_simulation *sim, size_t filter)
{
    return &sim->plant->groups[sim->plant->group_of[filter]];
}

/* Lists ----------------------------------------------------------------------------------------------------------- */

size_t wr_diary_add(struct wr_diary *diary, struct wr_diary_list *list, const void *item, size_t size)
{
    void *items = wr_list_grown(list->items, list->count, &list->room, size);
    if (items == NULL) {
        diary->out_of_memory = true;
        return 0;
    }
    list->items = items;
    memcpy((char *)list->items + list->count * size, item, size);
    return ++list->count;
}

/* How the plant stands -------------------------------------------------------------------------------------------- */

static size_t filters_serving(const struct wr_simulation *sim)
{
    const struct wr_pack *packs = wr_state_packs(sim->plant, sim->state);
    const uint32_t *lone = wr_state_lone(sim->plant, sim->state);
    size_t count = 0;
    for (size_t g = 0; g < sim->plant->group_count; g++)
        count += packs[g].members;
    for (uint32_t i = 0; i < sim->state->lone; i++)
        count += filter_of(sim, lone[i])->mode == WR_MODE_SERVICE;
    return count;
}

static double fastest_rate(const struct wr_simulation *sim)
{
    const struct wr_pack *packs = wr_state_packs(sim->plant, sim->state);
    double rate = 0;
    for (size_t g = 0; g < sim->plant->group_count; g++)
        rate = packs[g].members > 0 ? fmax(rate, packs[g].rate) : rate;
    return rate;
}

static size_t findings_so_far(const struct wr_record *record)
{
    const struct wr_finding *f = NULL;
    size_t count = 0;
    while ((f = wr_record_finding(record, f)) != NULL)
        count += f->times;
    return count;
}

struct wr_standing wr_diary_stand(const struct wr_diary *diary, const struct wr_simulation *sim)
{
    const struct wr_state *s = sim->state;
    struct wr_standing standing = {.time = wr_now(sim),
                                   .storage = s->storage.level,
                                   .wash_tank = s->wash_tank.level,
                                   .wash_free = s->wash_tank.free,
                                   .raw = s->flows.raw,
                                   .recycle = s->flows.recycle,
                                   .service = s->flows.service,
                                   .demand = s->flows.demand,
                                   .delivered = s->flows.delivered,
                                   .rate = fastest_rate(sim),
                                   .in_service = filters_serving(sim),
                                   .washing = s->washing,
                                   .waiting = s->waiting,
                                   .conditions = diary->record->conditions,
                                   .findings = findings_so_far(diary->record)};
    for (uint32_t i = 0; i < s->waiting; i++)
        standing.reasons |= filter_of(sim, wr_state_line(sim->plant, s)[i])->reasons;
    for (size_t w = 0; w < sim->plant->well_count; w++)
        standing.wells += wr_state_wells(sim->plant, s)[w].runs;
    return standing;
}

/* Noted whenever something but a flow or a level has changed. */
static void note_standing(struct wr_diary *diary, const struct wr_simulation *sim)
{
    const struct wr_standing now = wr_diary_stand(diary, sim);
    const struct wr_standing *was =
        diary->standings.count > 0 ? &((struct wr_standing *)diary->standings.items)[diary->standings.count - 1] : NULL;
    if (was == NULL || was->wells != now.wells || was->in_service != now.in_service || was->washing != now.washing ||
        was->waiting != now.waiting || was->reasons != now.reasons || was->conditions != now.conditions ||
        was->findings != now.findings)
        wr_diary_add(diary, &diary->standings, &now, sizeof now);
}

const struct wr_standing *wr_diary_at(const struct wr_diary *diary, double time)
{
    const struct wr_standing *items = diary->standings.items;
    size_t first = 0, count = diary->standings.count;
    while (count > 1) {
        const size_t half = count / 2;
        if (items[first + half].time > time)
            count = half;
        else {
            first += half;
            count -= half;
        }
    }
    return &items[first];
}

/* Volumes --------------------------------------------------------------------------------------------------------- */

/* A step's water over a time at the flows that held. */
static void count_step(struct wr_diary *diary, const struct wr_diary_flows *flows, double time)
{
    struct wr_diary_step *step = wr_diary_open_step(diary, flows->filter);
    if (step == NULL)
        return;
    step->wash_water += flows->wash_water * time;
    step->feed += flows->feed * time;
    step->drained += flows->drained * time;
    step->down += flows->down * time;
}

static void begin_day(struct wr_diary *diary, const struct wr_simulation *sim, double from)
{
    const struct wr_diary_day day = {.from = from, .least_storage = sim->state->storage.level, .least_at = wr_now(sim)};
    if (wr_diary_add(diary, &diary->days, &day, sizeof day) > 0)
        diary->midnight += DAY;
}

static void count_day(struct wr_diary *diary, double time)
{
    struct wr_diary_day *day = wr_diary_today(diary);
    day->raw += diary->flows.raw * time;
    day->recycle += diary->flows.recycle * time;
    day->delivered += diary->flows.delivered * time;
    day->asked += diary->flows.demand * time;
    day->wash_water += diary->flows.wash * time;
    day->waited += (double)diary->waiting * time;
    day->washed += (double)diary->washing * time;
}

/* Counts to a time, from the flows that were shared last: midnights part the days. */
static void count_to(struct wr_diary *diary, const struct wr_simulation *sim, double now)
{
    if (now <= diary->then || diary->out_of_memory)
        return;
    for (size_t i = 0; i < diary->busy_count; i++)
        count_step(diary, &diary->busy[i], now - diary->then);
    while (diary->midnight <= now + HAIR && !diary->out_of_memory) {
        const double turn = fmin(diary->midnight, now);
        count_day(diary, turn - diary->then);
        diary->then = wr_diary_today(diary)->to = turn;
        begin_day(diary, sim, turn);
    }
    count_day(diary, now - diary->then);
    diary->then = wr_diary_today(diary)->to = now;
    if (sim->state->storage.level < wr_diary_today(diary)->least_storage) {
        wr_diary_today(diary)->least_storage = sim->state->storage.level;
        wr_diary_today(diary)->least_at = now;
    }
}

static void follow_wells(struct wr_diary *diary, const struct wr_simulation *sim)
{
    const struct wr_well_state *wells = wr_state_wells(sim->plant, sim->state);
    for (size_t w = 0; w < sim->plant->well_count; w++) {
        wr_diary_today(diary)->well_starts += wells[w].starts - diary->starts[w];
        diary->starts[w] = wells[w].starts;
    }
}

/* A diary --------------------------------------------------------------------------------------------------------- */

static void hold_busy(struct wr_diary *diary, const struct wr_simulation *sim)
{
    const uint32_t *lone = wr_state_lone(sim->plant, sim->state);
    diary->busy_count = 0;
    for (uint32_t i = 0; i < sim->state->lone && sim->state->washing > 0; i++) {
        const struct wr_filter *f = filter_of(sim, lone[i]);
        const struct wr_step *plan = &group_of(sim, lone[i])->steps[f->step];
        if (f->mode == WR_MODE_WASH)
            diary->busy[diary->busy_count++] = (struct wr_diary_flows){.filter = lone[i],
                                                                       .wash_water = f->wash_flow,
                                                                       .feed = plan->feed_flow > 0 ? f->flow : 0,
                                                                       .drained = plan->drain_flow,
                                                                       .down = plan->down_flow};
    }
}

static void hold(struct wr_diary *diary, const struct wr_simulation *sim)
{
    hold_busy(diary, sim);
    diary->flows = sim->state->flows;
    diary->washing = sim->state->washing;
    diary->waiting = sim->state->waiting;
}

bool wr_diary_open(struct wr_diary *diary, const struct wr_simulation *sim, const struct wr_record *record)
{
    const struct wr_plant *plant = sim->plant;
    *diary = (struct wr_diary){.record = record, .midnight = -fmod(plant->definition->start, DAY)};
    diary->open_wash = calloc(plant->filter_count, sizeof *diary->open_wash);
    diary->open_step = calloc(plant->filter_count, sizeof *diary->open_step);
    diary->numbers = calloc(plant->filter_count, sizeof *diary->numbers);
    diary->busy = calloc(plant->filter_count, sizeof *diary->busy);
    diary->now = calloc(plant->tank_count + 1, sizeof *diary->now);
    diary->starts = calloc(plant->well_count, sizeof *diary->starts);
    if (diary->open_wash == NULL || diary->open_step == NULL || diary->numbers == NULL || diary->now == NULL ||
        diary->busy == NULL || diary->starts == NULL)
        return false;
    begin_day(diary, sim, 0);
    wr_diary_tanks_begin(diary, sim);
    wr_diary_instant(diary, sim);
    return !diary->out_of_memory;
}

void wr_diary_event(struct wr_diary *diary, const struct wr_simulation *sim, const struct wr_event *event)
{
    count_to(diary, sim, wr_now(sim));
    if (diary->out_of_memory)
        return;
    wr_diary_wash_event(diary, sim, event);
}

void wr_diary_instant(struct wr_diary *diary, const struct wr_simulation *sim)
{
    count_to(diary, sim, wr_now(sim));
    if (diary->out_of_memory)
        return;
    wr_diary_tanks(diary, sim);
    wr_diary_follow_washes(diary, sim);
    follow_wells(diary, sim);
    note_standing(diary, sim);
    hold(diary, sim);
}

void wr_diary_close(struct wr_diary *diary, const struct wr_simulation *sim)
{
    count_to(diary, sim, wr_now(sim));
    if (diary->days.count > 1 && wr_diary_today(diary)->from >= wr_now(sim)) /* a run that ends at midnight */
        diary->days.count--;
    wr_diary_tanks_end(diary, wr_now(sim));
    for (size_t f = 0; f < sim->plant->filter_count; f++) {
        struct wr_diary_wash *wash = wr_diary_open_wash(diary, f);
        if (wash != NULL && isinf(wash->started_at))
            wash->waited = filter_of(sim, f)->wait.total;
    }
}

void wr_diary_fini(struct wr_diary *diary)
{
    free(diary->washes.items);
    free(diary->steps.items);
    free(diary->tanks.items);
    free(diary->standings.items);
    free(diary->days.items);
    free(diary->open_wash);
    free(diary->open_step);
    free(diary->numbers);
    free(diary->now);
    free(diary->busy);
    free(diary->starts);
    *diary = (struct wr_diary){0};
}
