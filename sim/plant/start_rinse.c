/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/start_rinse.h"

#include "sim/plant/spent.h"
#include "sim/plant/wash.h"

static struct wr_filter *filter_at(const struct wr_simulation *sim, size_t filter)
{
    return &wr_state_filters(sim->plant, sim->state)[filter];
}

void wr_start_rinse_arm(struct wr_simulation *sim, bool starts)
{
    if (sim->plant->definition->wash.rinse_at_start > 0)
        wr_timers_set(&sim->timers, sim->plant->timers.start, starts ? wr_now(sim) : WR_NEVER);
}

/* The tank that takes a filter's rinse, or where else it goes. */
static size_t place_for(const struct wr_simulation *sim, double room)
{
    const size_t tanks = sim->plant->tank_count, tank = wr_spent_tank_for(sim, room);
    return tank < tanks ? tank : tanks + (tanks > 0 ? WR_BEYOND_SPILL : WR_BEYOND_SEWER);
}

static void filter_begins(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    const struct wr_group *g = &sim->plant->groups[sim->plant->group_of[filter]];
    const double room = g->start_rinse.feed_flow * g->start_rinse.duration;
    wr_wash_go_off_line(sim, filter);
    f->mode = WR_MODE_START_RINSE;
    f->flow = 0;
    f->tank = (uint32_t)place_for(sim, room);
    wr_spent_book(sim, f->tank, room);
    sim->state->rinsing++;
    wr_timers_set(&sim->timers, sim->plant->timers.steps + filter, wr_now(sim) + g->start_rinse.duration);
    wr_tell(sim, WR_EVENT_START_RINSE_BEGAN, filter);
}

void wr_start_rinse_begin(struct wr_simulation *sim)
{
    wr_timers_set(&sim->timers, sim->plant->timers.start, WR_NEVER);
    for (size_t f = 0; f < sim->plant->filter_count; f++)
        if (filter_at(sim, f)->mode == WR_MODE_SERVICE)
            filter_begins(sim, f);
}

void wr_start_rinse_cut(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = filter_at(sim, filter);
    f->flow = 0;
    sim->state->rinsing--;
    wr_spent_release(sim, f->tank);
    wr_timers_set(&sim->timers, sim->plant->timers.steps + filter, WR_NEVER);
    wr_tell(sim, WR_EVENT_START_RINSE_ENDED, filter);
}

void wr_start_rinse_ended(struct wr_simulation *sim, size_t filter)
{
    wr_start_rinse_cut(sim, filter);
    wr_wash_return(sim, filter);
}
