/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/schedule.h"

#include "sim/plant/extreme.h"
#include "sim/plant/hours.h"
#include "sim/plant/line.h"

#include <math.h>

static const double DAY = 86400;

/* Within this share an outlet has had its volume of the day. */
static const double REACHED = 1e-12;

static double next_midnight(const struct wr_simulation *sim)
{
    const double start = sim->plant->definition->start;
    return (floor((start + wr_now(sim)) / DAY) + 1) * DAY - start;
}

void wr_schedule_hours(struct wr_simulation *sim)
{
    const struct wr_wash *wash = &sim->plant->definition->wash;
    const double start = sim->plant->definition->start, now = wr_now(sim);
    sim->state->window_open = wr_hours_are_open(&wash->window, start, now);
    sim->state->attended_open = wr_hours_are_open(&wash->attended, start, now);
    wr_timers_set(&sim->timers, sim->plant->timers.window, wr_hours_next_change(&wash->window, start, now));
    wr_timers_set(&sim->timers, sim->plant->timers.attended, wr_hours_next_change(&wash->attended, start, now));
}

void wr_schedule_outlet(struct wr_simulation *sim, size_t outlet)
{
    const struct wr_outlet *o = &sim->plant->definition->spent_wash.outlets.items[outlet];
    struct wr_outlet_state *now = &wr_state_outlets(sim->plant, sim->state)[outlet];
    now->open = wr_hours_are_open(&o->hours, sim->plant->definition->start, wr_now(sim));
    now->changes = wr_hours_next_change(&o->hours, sim->plant->definition->start, wr_now(sim));
    now->spent = wr_is_given(o->daily_volume) && now->today >= o->daily_volume * (1 - REACHED);
}

void wr_schedule_midnight(struct wr_simulation *sim)
{
    struct wr_outlet_state *outlets = wr_state_outlets(sim->plant, sim->state);
    for (size_t o = 0; o < sim->plant->outlet_count; o++) {
        outlets[o].today = 0;
        outlets[o].spent = false;
    }
    wr_timers_set(&sim->timers, sim->plant->timers.midnight,
                  sim->plant->outlet_count > 0 ? next_midnight(sim) : WR_NEVER);
}

void wr_schedule_rota(struct wr_simulation *sim, size_t entry)
{
    const struct wr_rota_entry *rota = &sim->plant->definition->wash.rota.items[entry];
    const size_t filter = sim->plant->rota_of[entry];
    const struct wr_filter *f = &wr_state_filters(sim->plant, sim->state)[filter];
    if ((f->mode == WR_MODE_SERVICE || f->mode == WR_MODE_START_RINSE) && !f->called)
        wr_line_call(sim, filter, WR_TRIGGER_ROTA);
    /* Counted from the first, so that no start drifts. */
    const double turn = floor((wr_now(sim) - rota->first) / rota->every + 1e-9) + 1;
    wr_timers_set(&sim->timers, sim->plant->timers.rota + entry,
                  wr_is_given(rota->every) ? rota->first + turn * rota->every : WR_NEVER);
}

void wr_schedule_start(struct wr_simulation *sim)
{
    wr_schedule_hours(sim);
    for (size_t o = 0; o < sim->plant->outlet_count; o++)
        wr_schedule_outlet(sim, o);
    wr_schedule_midnight(sim);
    for (size_t r = 0; r < sim->plant->rota_count; r++) {
        const struct wr_rota_entry *rota = &sim->plant->definition->wash.rota.items[r];
        const bool is_past = rota->first < 0 && wr_is_given(rota->every);
        wr_timers_set(&sim->timers, sim->plant->timers.rota + r,
                      is_past           ? rota->first + ceil(-rota->first / rota->every) * rota->every
                      : rota->first < 0 ? WR_NEVER
                                        : rota->first);
    }
}

void wr_schedule_arm(struct wr_simulation *sim)
{
    const struct wr_outlet_state *outlets = wr_state_outlets(sim->plant, sim->state);
    for (size_t o = 0; o < sim->plant->outlet_count; o++) {
        const double most = sim->plant->definition->spent_wash.outlets.items[o].daily_volume;
        double time = outlets[o].changes;
        if (wr_is_given(most) && outlets[o].flow > 0)
            time = wr_lesser(time, wr_now(sim) + wr_greater(0, most - outlets[o].today) / outlets[o].flow);
        wr_timers_set(&sim->timers, sim->plant->timers.outlets + o, time);
    }
}
