/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/build.h"

#include "models/washout.h"

#include <math.h>

/* A step shorter than this, s, is what rounding has left of one: times in hours with a few places, less each other. */
static const double SHORTEST = 1e-6;

/* Adds a step, unless it has no length: for an instant it would draw its whole flow, and wells would start for it. */
static void add_step(struct wr_group *g, const struct wr_step *step)
{
    if (step->duration < SHORTEST)
        return;
    g->steps[g->step_count++] = *step;
    g->wash_volume += step->wash_flow * step->duration;
    g->peak_flow = fmax(g->peak_flow, step->wash_flow);
    if (step->to == WR_TO_SPENT) {
        g->backwash_volume += step->wash_flow * step->duration;
        g->room += step->wash_flow * step->duration;
    }
    if (step->to == WR_TO_HOLDING)
        g->held_volume += step->wash_flow * step->duration;
    g->room += ((step->feed_to == WR_TO_SPENT ? step->feed_flow : 0) + step->drain_flow) * step->duration;
    g->off_line += step->duration;
}

static void add_still(struct wr_group *g, enum wr_step_kind kind, double duration)
{
    add_step(g, &(struct wr_step){.kind = kind, .duration = duration});
}

/* A volume moved in a time; nothing where there is no volume. */
static double flow_of(double volume, double time)
{
    return time > 0 ? volume / time : 0;
}

/* Water above the bed is passed on (gravity filters), then drained or dumped, then air scours. */
static void add_opening(const struct wr_wash *wash, struct wr_group *g)
{
    const double down = flow_of(wash->filter_down_depth * g->area, wash->filter_down_time);
    const double drain = flow_of(wash->drain_depth * g->area, wash->drain_time);
    const bool gravity = wash->sequence == WR_TEMPLATE_GRAVITY;
    if (gravity)
        add_step(g,
                 &(struct wr_step){.kind = WR_STEP_FILTER_DOWN, .duration = wash->filter_down_time, .down_flow = down});
    if (gravity || wash->sequence == WR_TEMPLATE_PRESSURE_AIR) {
        add_step(g, &(struct wr_step){.kind = WR_STEP_DRAIN, .duration = wash->drain_time, .drain_flow = drain});
        add_still(g, WR_STEP_AIR, wash->air_time);
        g->air = wash->air_time > 0;
    }
}

/* What opening took out of a filter comes back as wash water: before the backwash in a pressure filter, after it in a
 * gravity filter. */
static void add_filling(const struct wr_wash *wash, struct wr_group *g, enum wr_step_kind kind)
{
    const bool gravity = wash->sequence == WR_TEMPLATE_GRAVITY;
    const double depth = wash->drain_depth + (gravity ? wash->filter_down_depth : 0);
    const double rate = wr_given_or(wash->fill_rate, wash->backwash_rate / 2);
    add_step(
        g, &(struct wr_step){.kind = kind, .duration = depth / rate, .wash_flow = rate * g->area, .to = WR_TO_FILTER});
}

/* Each ramp runs at half rate, and the two together pass the water of one ramp's time at full rate, which the full-rate
 * step gives up. */
static void add_backwash(const struct wr_wash *wash, struct wr_group *g)
{
    const double flow = wash->backwash_rate * g->area;
    add_step(g, &(struct wr_step){.kind = WR_STEP_SLOW_START, .duration = wash->ramp_time, .wash_flow = flow / 2});
    add_step(g, &(struct wr_step){
                    .kind = WR_STEP_BACKWASH, .duration = wash->backwash_time - wash->ramp_time, .wash_flow = flow});
    add_step(g, &(struct wr_step){.kind = WR_STEP_SLOW_STOP, .duration = wash->ramp_time, .wash_flow = flow / 2});
}

double wr_plant_last_of_wash(const struct wr_plant *plant, size_t filter, double load, double given)
{
    const struct wr_washout washout = {.load = load, .e_fold = plant->definition->wash.washout_depth};
    return wr_washout_solids(&washout, given / plant->groups[plant->group_of[filter]].area);
}

void wr_build_wash(const struct wr_wash *wash, struct wr_group *g)
{
    const double rinse = wr_given_or(wash->rinse_rate, g->approved_rate) * g->area;
    const bool holds = wr_is_given(wash->holding.volume);
    const double regenerant = flow_of(wash->regenerant_depth * g->area, wash->regenerate_time);
    add_still(g, WR_STEP_SHUT, wash->valve_travel);
    add_opening(wash, g);
    if (wash->sequence == WR_TEMPLATE_PRESSURE_AIR)
        add_filling(wash, g, WR_STEP_FILL);
    add_backwash(wash, g);
    add_still(g, WR_STEP_BED_SETTLE, wash->bed_settle);
    if (wash->sequence == WR_TEMPLATE_BATCH_REGENERATION)
        add_step(g, &(struct wr_step){.kind = WR_STEP_REGENERATE,
                                      .duration = wash->regenerate_time,
                                      .wash_flow = regenerant,
                                      .to = holds ? WR_TO_HOLDING : WR_TO_SEWER});
    if (wash->sequence == WR_TEMPLATE_GRAVITY)
        add_filling(wash, g, WR_STEP_REFILL);
    add_still(g, WR_STEP_TURN_VALVES, wash->valve_travel);
    add_step(g, &(struct wr_step){.kind = WR_STEP_RINSE,
                                  .duration = wash->rinse_time,
                                  .feed_flow = rinse,
                                  .feed_to = wash->rinse_to == WR_RINSE_TO_SEWER ? WR_TO_SEWER : WR_TO_SPENT});
    add_still(g, WR_STEP_RETURN, wash->valve_travel);
    const struct wr_washout washout = {.load = 1, .e_fold = wash->washout_depth};
    g->released = wr_is_given(wash->washout_depth) ? 1 - wr_washout_left(&washout, g->backwash_volume / g->area) : 1;
    g->start_rinse = (struct wr_step){
        .kind = WR_STEP_RINSE, .duration = wash->rinse_at_start, .feed_flow = g->approved_rate * g->area};
}
