/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/bed.h"
#include "sim/plant/head.h"
#include "sim/record/diary_part.h"

#include <math.h>

static const struct wr_filter *filter_of(const struct wr_simulation *sim, size_t filter)
{
    return &wr_state_filters(sim->plant, sim->state)[filter];
}

static const struct wr_group *group_of(const struct wr_simulation *sim, size_t filter)
{
    return &sim->plant->groups[sim->plant->group_of[filter]];
}

/* m3; 0 for what is no tank. */
static double tank_level(const struct wr_simulation *sim, size_t tank)
{
    return tank < sim->plant->tank_count ? wr_state_tanks(sim->plant, sim->state)[tank].level : 0;
}

static size_t place_in_line(const struct wr_simulation *sim, size_t filter)
{
    const uint32_t *line = wr_state_line(sim->plant, sim->state);
    size_t place = 0;
    while (place < sim->state->waiting && line[place] != filter)
        place++;
    return place;
}

static void end_step(struct wr_diary *diary, const struct wr_simulation *sim, size_t filter)
{
    struct wr_diary_step *step = wr_diary_open_step(diary, filter);
    if (step != NULL)
        step->to = wr_now(sim);
    diary->open_step[filter] = 0;
}

static void wash_called(struct wr_diary *diary, const struct wr_simulation *sim, size_t filter)
{
    const struct wr_filter *f = filter_of(sim, filter);
    struct wr_diary_wash *before = wr_diary_open_wash(diary, filter);
    const double rate = wr_bed_rate(sim->plant, sim->state, filter), load = wr_bed_load(sim->plant, sim->state, filter);
    if (before != NULL) { /* an interrupted wash has left it in line for another */
        end_step(diary, sim, filter);
        before->interrupted = true;
        before->at_end = wr_diary_stand(diary, sim);
        before->tank_after = tank_level(sim, before->tank);
    }
    const struct wr_diary_wash wash = {
        .filter = filter,
        .number = ++diary->numbers[filter],
        .trigger = f->trigger,
        .start_up = !f->washed,
        .ahead = place_in_line(sim, filter),
        .first = wr_state_line(sim->plant, sim->state)[0],
        .called_at = wr_now(sim),
        .started_at = WR_NEVER,
        .ended_at = WR_NEVER,
        .rate_at_call = rate,
        .judged_at_call = rate > 0 ? wr_plant_judged_head(sim->plant, group_of(sim, filter), load, rate) : WR_ABSENT,
        .load_at_call = load,
        .tank = sim->plant->tank_count,
        .least_in_service = sim->plant->filter_count,
        .at_call = wr_diary_stand(diary, sim)};
    diary->open_wash[filter] = wr_diary_add(diary, &diary->washes, &wash, sizeof wash);
    wr_diary_today(diary)->calls++;
}

static double head_at_approved_rate(const struct wr_simulation *sim, size_t filter)
{
    const struct wr_group *g = group_of(sim, filter);
    return wr_group_head(g, sim->plant->viscosity, wr_bed_load(sim->plant, sim->state, filter), g->approved_rate,
                         false);
}

static void wash_started(struct wr_diary *diary, const struct wr_simulation *sim, size_t filter)
{
    const struct wr_filter *f = filter_of(sim, filter);
    const struct wr_bed bed = wr_bed_now(sim->plant, sim->state, filter);
    struct wr_diary_wash *wash = wr_diary_open_wash(diary, filter);
    wr_diary_today(diary)->washes++;
    if (wash == NULL)
        return;
    wash->started_at = wr_now(sim);
    wash->urgent = f->urgent;
    wash->waited = f->wait.total;
    wash->load = bed.load[WR_SOLIDS];
    wash->hours = bed.hours;
    wash->volume = bed.volume;
    wash->measured = wr_group_head(group_of(sim, filter), sim->plant->viscosity, wash->load,
                                   wr_bed_rate(sim->plant, sim->state, filter), false);
    wash->dirty = head_at_approved_rate(sim, filter);
    wash->at_start = wr_diary_stand(diary, sim);
}

static void wash_ended(struct wr_diary *diary, const struct wr_simulation *sim, size_t filter)
{
    struct wr_diary_wash *wash = wr_diary_open_wash(diary, filter);
    if (wash == NULL)
        return;
    wash->ended_at = wr_now(sim);
    wash->tank_after = tank_level(sim, wash->tank);
    wash->load_after = wr_bed_load(sim->plant, sim->state, filter);
    wash->clean = head_at_approved_rate(sim, filter);
    wash->at_end = wr_diary_stand(diary, sim);
    diary->open_wash[filter] = 0;
}

static void step_started(struct wr_diary *diary, const struct wr_simulation *sim, size_t filter)
{
    const struct wr_filter *f = filter_of(sim, filter);
    const struct wr_step *plan = &group_of(sim, filter)->steps[f->step];
    struct wr_diary_wash *wash = wr_diary_open_wash(diary, filter);
    end_step(diary, sim, filter);
    if (wash == NULL)
        return;
    if (f->step == 0) {
        wash->tank = f->tank;
        wash->tank_before = tank_level(sim, f->tank);
    }
    const struct wr_diary_step step = {.wash = diary->open_wash[filter] - 1,
                                       .kind = plan->kind,
                                       .goes_to = plan->to,
                                       .feed_goes_to = plan->feed_to,
                                       .wants_water = plan->wash_flow > 0,
                                       .from = wr_now(sim),
                                       .to = WR_NEVER};
    diary->open_step[filter] = wr_diary_add(diary, &diary->steps, &step, sizeof step);
}

/* What the filters left in service take while one is washed. */
void wr_diary_follow_washes(struct wr_diary *diary, const struct wr_simulation *sim)
{
    const uint32_t *lone = wr_state_lone(sim->plant, sim->state);
    if (sim->state->washing == 0)
        return;
    const struct wr_standing now = wr_diary_stand(diary, sim);
    for (uint32_t i = 0; i < sim->state->lone; i++) {
        struct wr_diary_wash *wash = wr_diary_open_wash(diary, lone[i]);
        if (wash == NULL || filter_of(sim, lone[i])->mode != WR_MODE_WASH)
            continue;
        wash->highest_rate = fmax(wash->highest_rate, now.rate);
        wash->least_in_service = now.in_service < wash->least_in_service ? now.in_service : wash->least_in_service;
        wash->tank_after = tank_level(sim, wash->tank);
    }
}

void wr_diary_wash_event(struct wr_diary *diary, const struct wr_simulation *sim, const struct wr_event *event)
{
    switch (event->kind) {
    case WR_EVENT_CALLED:
        wash_called(diary, sim, event->where);
        break;
    case WR_EVENT_WASH_STARTED:
        wash_started(diary, sim, event->where);
        break;
    case WR_EVENT_STEP_STARTED:
        step_started(diary, sim, event->where);
        break;
    case WR_EVENT_WASH_SHORT:
        if (wr_diary_open_wash(diary, event->where) != NULL)
            wr_diary_open_wash(diary, event->where)->weak = true;
        break;
    case WR_EVENT_WASH_ENDED:
        end_step(diary, sim, event->where);
        wash_ended(diary, sim, event->where);
        break;
    default:
        break;
    }
}
