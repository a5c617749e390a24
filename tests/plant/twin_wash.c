/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Washes of the twin from their first step to their last, washes that are cut short, and rinses at the plant's start.
 */
#include "tests/plant/twin_state.h"

static const struct wr_step *step_of(const struct twin_filter *filter)
{
    return &filter->group->steps[filter->step];
}

/* Water, m3, that a step takes out of a full filter. */
static double given_by(const struct wr_step *step)
{
    return (step->drain_flow + step->down_flow) * step->duration;
}

/* A filter that was left drained has less to give: what is missing is missing from the top, and the first steps pass
 * it first. */
static double share_to_give(const struct twin_filter *filter)
{
    double before = 0.0;
    const double gives = given_by(step_of(filter));
    for (size_t i = 0; i < filter->step; i++) {
        before += given_by(&filter->group->steps[i]);
    }
    if (gives <= 0.0) {
        return 1.0;
    }
    return fmin(1.0, fmax(0.0, (before + gives - fmax(filter->missing, 0.0)) / gives));
}

/* Solids, kg, that the whole water of a wash takes out of a bed. */
static double washed_out(const struct twin *twin, const struct twin_filter *filter)
{
    const double depth = twin->definition->wash.washout_depth, area = filter->group->area;
    const double stays = wr_is_given(depth) ? exp(-filter->group->backwash_volume / area / depth) : 0.0;
    return filter->load * area * (1.0 - stays);
}

/* A step lasts whole steps of the twin, at flows less by as much as it lasts longer: its volumes are exact, and nothing
 * happens between two steps. */
static void last(const struct twin *twin, struct twin_filter *filter, double duration)
{
    const double steps = ceil(duration / twin->dt - 1e-6);
    filter->step_left = fmax(0.0, steps) * twin->dt;
    filter->scale = steps > 0.0 ? duration / filter->step_left : 0.0;
}

static void begin_step(struct twin *twin, struct twin_filter *filter)
{
    const struct wr_step *step = step_of(filter);
    const bool passed_over = twin->pump_out && step->wash_flow > 0.0;
    last(twin, filter, passed_over ? 0.0 : step->duration * share_to_give(filter));
    filter->rinse_left = step->feed_flow * step->duration;
    filter->rate = filter->wash_flow = filter->drain_flow = filter->down_flow = 0.0;
    if (step->wash_flow > 0.0 && step->to == WR_TO_SPENT && isnan(filter->solids_out)) {
        filter->solids_out = washed_out(twin, filter) / filter->group->backwash_volume;
    }
    twin->changed = true;
}

static void release_tank(struct twin *twin, struct twin_filter *filter)
{
    if (filter->tank < twin->plant->tank_count) {
        struct twin_tank *tank = &twin->tanks[filter->tank];
        tank->washes--;
        tank->since = twin->now;
        tank->booked = tank->washes == 0 ? 0.0 : tank->booked;
        twin->next_tank = twin->now;
    }
}

static void release(struct twin *twin, struct twin_filter *filter)
{
    twin->washing--;
    twin->wash_booked = twin->washing == 0 ? 0.0 : twin->wash_booked;
    twin->holding_booked = twin->washing == 0 ? 0.0 : twin->holding_booked - filter->booked_place;
    filter->booked_place = 0.0;
    filter->rate = filter->wash_flow = filter->drain_flow = filter->down_flow = 0.0;
    release_tank(twin, filter);
    twin->changed = true;
}

static void return_to_service(struct twin_filter *filter)
{
    filter->mode = filter->leaves ? TWIN_OUT : TWIN_SERVING;
    filter->leaves = filter->standby = false;
    filter->rate = 0.0;
}

static void end_wash(struct twin *twin, struct twin_filter *filter)
{
    release(twin, filter);
    filter->volume = filter->hours = 0.0;
    return_to_service(filter);
}

static bool is_step_over(const struct twin_filter *filter)
{
    const struct wr_step *step = step_of(filter);
    if (step->feed_flow > 0.0) {
        return filter->rinse_left <= 1e-9 * step->feed_flow * step->duration;
    }
    return filter->step_left <= 1e-9;
}

static void end_rinse(struct twin *twin, struct twin_filter *filter)
{
    twin->rinsing--;
    release_tank(twin, filter);
    return_to_service(filter);
    twin->changed = true;
}

static void look_at_step(struct twin *twin, struct twin_filter *filter)
{
    while (filter->mode == TWIN_WASHING && is_step_over(filter)) {
        filter->step++;
        if (filter->step < filter->group->step_count) {
            begin_step(twin, filter);
        } else {
            end_wash(twin, filter);
        }
    }
}

void twin_look_at_steps(struct twin *twin)
{
    for (size_t i = 0; twin->washing + twin->rinsing > 0 && i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        if (filter->mode == TWIN_WASHING) {
            look_at_step(twin, filter);
        } else if (filter->mode == TWIN_RINSING && filter->step_left <= 1e-9) {
            end_rinse(twin, filter);
        }
    }
}

void twin_begin_wash(struct twin *twin, struct twin_filter *filter, size_t tank)
{
    const struct wr_group *group = filter->group;
    if (filter->mode == TWIN_RINSING) {
        end_rinse(twin, filter);
    }
    filter->mode = TWIN_WASHING;
    filter->called = filter->urgent = filter->held = filter->limited = filter->spills = filter->standby = false;
    filter->above_since = filter->solids_out = WR_ABSENT;
    filter->last_start = twin->last_start = twin->now;
    filter->tank = tank;
    filter->step = 0;
    filter->booked_place = group->held_volume;
    twin->waiting--;
    twin->washing++;
    twin->wash_booked += group->wash_volume;
    twin->holding_booked += group->held_volume;
    if (tank < twin->plant->tank_count) {
        twin->tanks[tank].booked += group->room;
        twin->tanks[tank].washes++;
    }
    begin_step(twin, filter);
}

/* Cut short ---------------------------------------------------------------------------------------------------------
 */

static bool needs_water(const struct twin_filter *filter)
{
    for (size_t i = filter->step + (filter->step_left <= 1e-9); i < filter->group->step_count; i++) {
        if (filter->group->steps[i].wash_flow > 0.0) {
            return true;
        }
    }
    return false;
}

void twin_cut_washes(struct twin *twin)
{
    const bool holds = twin->definition->wash.on_interrupt == WR_INTERRUPT_HOLD;
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        if (filter->mode != TWIN_WASHING || !needs_water(filter)) {
            continue;
        }
        if (holds) {
            release(twin, filter);
            filter->mode = filter->leaves ? TWIN_OUT : TWIN_STANDBY;
            filter->standby = filter->leaves;
            filter->leaves = false;
            filter->held = true;
            twin_call(twin, filter);
        } else if (step_of(filter)->wash_flow > 0.0) {
            filter->step_left = 0.0;
        }
    }
}

/* The plant's start -------------------------------------------------------------------------------------------------
 */

void twin_begin_rinses(struct twin *twin)
{
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        if (filter->mode != TWIN_SERVING) {
            continue;
        }
        const struct wr_step *rinse = &filter->group->start_rinse;
        const double room = rinse->feed_flow * rinse->duration;
        filter->mode = TWIN_RINSING;
        filter->limited = false;
        filter->above_since = WR_ABSENT;
        filter->rate = 0.0;
        last(twin, filter, rinse->duration);
        filter->tank = twin_find_tank(twin, room);
        filter->spills = twin->plant->tank_count > 0 && filter->tank == twin->plant->tank_count;
        if (filter->tank < twin->plant->tank_count) {
            twin->tanks[filter->tank].booked += room;
            twin->tanks[filter->tank].washes++;
        }
        twin->rinsing++;
    }
    twin->changed = true;
}

/* Over a step -------------------------------------------------------------------------------------------------------
 */

void twin_set_flows_of_step(struct twin_filter *filter, double wash_share, double rinse_share)
{
    const struct wr_step *step = filter->mode == TWIN_RINSING ? &filter->group->start_rinse : step_of(filter);
    const bool washes = filter->mode == TWIN_WASHING;
    filter->rate = rinse_share * step->feed_flow * (washes ? 1.0 : filter->scale) / filter->group->area;
    filter->wash_flow = washes ? wash_share * step->wash_flow * filter->scale : 0.0;
    filter->drain_flow = washes ? step->drain_flow * filter->scale : 0.0;
    filter->down_flow = washes ? step->down_flow * filter->scale : 0.0;
}

static void advance_wash_water(struct twin *twin, struct twin_filter *filter)
{
    struct twin_volumes *volumes = &twin->result->volumes;
    const struct wr_step *step = step_of(filter);
    const double water = filter->wash_flow * twin->dt, area = filter->group->area;
    twin->wash_booked -= water;
    if (step->to == WR_TO_FILTER) {
        volumes->filled += water;
        filter->missing -= water;
        filter->load += twin_washes_raw(twin) ? water * twin->raw_solids / area : 0.0;
    } else if (step->to == WR_TO_HOLDING) {
        volumes->held += water;
        filter->booked_place -= water;
        twin->holding_booked -= water;
        twin->holding += water;
    } else {
        volumes->washed += water;
        filter->load -= step->to == WR_TO_SPENT ? fmin(filter->load, water * filter->solids_out / area) : 0.0;
    }
}

void twin_advance_wash(struct twin *twin, struct twin_filter *filter)
{
    struct twin_volumes *volumes = &twin->result->volumes;
    const double dt = twin->dt, rinsed = filter->rate * filter->group->area * dt;
    filter->step_left -= dt;
    filter->rinse_left -= rinsed;
    volumes->rinsed += rinsed;
    if (filter->mode == TWIN_RINSING) {
        volumes->spilled += filter->spills ? rinsed : 0.0;
        return;
    }
    filter->missing += (filter->drain_flow + filter->down_flow) * dt;
    volumes->drained += filter->drain_flow * dt;
    volumes->down += filter->down_flow * dt;
    if (filter->wash_flow > 0.0) {
        advance_wash_water(twin, filter);
    }
}
