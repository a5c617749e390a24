/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/outages.h"

#include "sim/plant/bed.h"
#include "sim/plant/line.h"
#include "sim/plant/start_rinse.h"
#include "sim/plant/units.h"
#include "sim/plant/wash.h"

#include <math.h>

/* A filter goes out of service; one that is being washed or rinsed when that has ended. */
static void filter_out(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = &wr_state_filters(sim->plant, sim->state)[filter];
    if (f->mode == WR_MODE_WASH || f->mode == WR_MODE_START_RINSE) {
        f->outage_waits = true;
        return;
    }
    if (f->called)
        wr_line_leave(sim, filter);
    wr_wash_go_off_line(sim, filter);
    f->stands_by = f->mode == WR_MODE_HELD;
    f->mode = WR_MODE_OUT;
    f->flow = 0;
    wr_tell(sim, WR_EVENT_OUT, filter);
}

/* A filter comes back as it left: a latched call puts it in line again, by the time of that call. */
static void filter_back(struct wr_simulation *sim, size_t filter)
{
    struct wr_filter *f = &wr_state_filters(sim->plant, sim->state)[filter];
    if (f->mode != WR_MODE_OUT) {
        f->outage_waits = false;
        return;
    }
    f->mode = f->stands_by ? WR_MODE_HELD : WR_MODE_SERVICE;
    if (!f->stands_by)
        wr_bed_join(sim->plant, sim->state, filter);
    if (f->called)
        wr_line_return(sim, filter);
    wr_tell(sim, WR_EVENT_BACK, filter);
}

/* All cells of a vessel go and come together. */
static void vessel_becomes(struct wr_simulation *sim, size_t filter, bool out)
{
    size_t first, count;
    wr_plant_vessel(sim->plant, filter, &first, &count);
    for (size_t f = first; f < first + count; f++) {
        if (out)
            filter_out(sim, f);
        else
            filter_back(sim, f);
    }
}

static void unit_becomes(struct wr_simulation *sim, size_t outage, bool out)
{
    const struct wr_unit *unit = &sim->plant->units[outage];
    switch (unit->kind) {
    case WR_UNIT_FILTER:
        vessel_becomes(sim, unit->number, out);
        return;
    case WR_UNIT_WELL:
        wr_state_wells(sim->plant, sim->state)[unit->number].out = out;
        sim->state->wells_share.stands = false;
        break;
    case WR_UNIT_TANK:
        wr_state_tanks(sim->plant, sim->state)[unit->number].closed = out;
        break;
    case WR_UNIT_WASH_PUMP:
        sim->state->wash_pump_out = out;
        if (out)
            wr_wash_interrupt(sim);
        break;
    case WR_UNIT_BLOWER:
        sim->state->blower_out = out;
        break;
    case WR_UNIT_RECYCLE_PUMP:
        sim->state->recycle_pump_out = out;
        break;
    }
    wr_tell(sim, out ? WR_EVENT_UNIT_OUT : WR_EVENT_UNIT_BACK, outage);
}

/* True when two outages take the same unit, or cells of one vessel. */
static bool same_unit(const struct wr_plant *plant, size_t a, size_t b)
{
    const struct wr_unit *ua = &plant->units[a], *ub = &plant->units[b];
    if (ua->kind != ub->kind)
        return false;
    return ua->kind == WR_UNIT_FILTER ? wr_plant_shares_vessel(plant, ua->number, ub->number)
                                      : ua->number == ub->number;
}

/* True when another outage keeps the same unit out. One that ends as this one begins, or begins as this one ends, goes
 * on in it, whichever stands first in the list. */
static bool held_by_another(const struct wr_simulation *sim, size_t outage, bool begins)
{
    const uint8_t *stages = wr_state_outages(sim->plant, sim->state);
    const struct wr_outage *dates = sim->plant->definition->outages.items;
    for (size_t o = 0; o < sim->plant->outage_count; o++) {
        const bool goes_on = begins ? stages[o] == WR_OUTAGE_OVER && dates[o].until >= wr_now(sim)
                                    : stages[o] == WR_OUTAGE_AHEAD && dates[o].from <= wr_now(sim);
        if (o != outage && (stages[o] == WR_OUTAGE_ON || goes_on) && same_unit(sim->plant, o, outage))
            return true;
    }
    return false;
}

void wr_outage_act(struct wr_simulation *sim, size_t outage)
{
    uint8_t *stage = &wr_state_outages(sim->plant, sim->state)[outage];
    const struct wr_outage *dates = &sim->plant->definition->outages.items[outage];
    const bool begins = *stage == WR_OUTAGE_AHEAD, another = held_by_another(sim, outage, begins);
    *stage = begins ? WR_OUTAGE_ON : WR_OUTAGE_OVER;
    if (!another)
        unit_becomes(sim, outage, begins);
    wr_timers_set(&sim->timers, sim->plant->timers.outages + outage,
                  begins && wr_is_given(dates->until) ? fmax(dates->until, wr_now(sim)) : WR_NEVER);
}

void wr_outages_start(struct wr_simulation *sim)
{
    struct wr_filter *filters = wr_state_filters(sim->plant, sim->state);
    for (size_t o = 0; o < sim->plant->outage_count; o++) {
        const struct wr_outage *outage = &sim->plant->definition->outages.items[o];
        const struct wr_unit *unit = &sim->plant->units[o];
        const bool over = outage->until <= 0, on = outage->from <= 0 && !over;
        size_t first = 0, count = 0;
        if (on && unit->kind == WR_UNIT_FILTER)
            wr_plant_vessel(sim->plant, unit->number, &first, &count);
        for (size_t f = first; f < first + count; f++)
            filters[f].mode = WR_MODE_OUT;
        if (on && unit->kind != WR_UNIT_FILTER)
            unit_becomes(sim, o, true);
        wr_state_outages(sim->plant, sim->state)[o] = over ? WR_OUTAGE_OVER : on ? WR_OUTAGE_ON : WR_OUTAGE_AHEAD;
        wr_timers_set(&sim->timers, sim->plant->timers.outages + o,
                      over                         ? WR_NEVER
                      : !on                        ? outage->from
                      : wr_is_given(outage->until) ? outage->until
                                                   : WR_NEVER);
    }
}
