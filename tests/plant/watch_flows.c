/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Flows: wells by storage and their own times, recycle, outlets and delivery within their limits. */
#include "tests/plant/watch_part.h"

static void watch_well(struct sight at, size_t number)
{
    const struct wr_well *well = &at.definition->wells.items[number];
    const struct wr_well_state *state = &wr_state_wells(at.plant, at.state)[number];
    const struct wr_flows *flows = &at.state->flows;
    const double volume = at.definition->storage.volume, level = at.state->storage.level;
    hold(at, state->called || level > well->on_below * volume, "level with a well not called", level,
         well->on_below * volume);
    hold(at, !state->called || level < well->off_above * volume, "level with a well called", level,
         well->off_above * volume);
    hold(at, state->runs || state->flow <= 0.0, "flow of a well that does not run", state->flow, state->runs);
    hold_most(at, state->flow, well->flow, WATCH_TINY * well->flow, "flow of a well");
    const double least = well->drive == WR_DRIVE_VARIABLE ? well->least_flow : well->flow;
    hold(at, !state->runs || state->flow >= least * (1.0 - WATCH_TINY), "least flow of a well that runs", state->flow,
         least);
    hold(at, !state->runs || !is_out(at, WR_UNIT_WELL, number), "a well that runs in its outage", state->flow, 0.0);
    const bool held_on = at.now < state->started + well->minimum_run;
    hold(at, !state->runs || state->called || held_on || flows->rinse > 0.0 || flows->wash > 0.0,
         "a well that nobody asks for", state->flow, 0.0);
    hold(at, !state->runs || state->started >= state->stopped + well->minimum_rest * (1.0 - WATCH_TINY),
         "rest of a well before its start", state->started - state->stopped, well->minimum_rest);
}

void watch_wells(struct sight at)
{
    double raw = 0.0, most = 0.0;
    for (size_t i = 0; i < at.plant->well_count; i++) {
        watch_well(at, i);
        most += at.definition->wells.items[i].flow;
        raw += wr_state_wells(at.plant, at.state)[i].flow;
    }
    hold_near(at, at.state->flows.raw, raw, WATCH_TINY * most, "raw flow against the wells");
}

/* Storage that has water delivers what is asked, and loses none while it has room. */
static void watch_delivery(struct sight at)
{
    const struct wr_flows *flows = &at.state->flows;
    const double level = at.state->storage.level;
    const double inflow = storage_net(at) + flows->delivered + flows->overflow;
    const double slack = WATCH_TINY * (flows->raw + flows->demand);
    hold_near(at, flows->to_storage, inflow, slack, "flow to storage");
    const double least = level > 0.0 ? flows->demand : fmin(flows->demand, fmax(0.0, inflow));
    hold_near(at, flows->delivered, least, slack, "delivered");
    const double most = level < at.definition->storage.volume ? 0.0 : fmax(0.0, inflow - flows->demand);
    hold_near(at, flows->overflow, most, slack, "overflow");
}

static void watch_recycle(struct sight at)
{
    const struct wr_flows *flows = &at.state->flows;
    const struct wr_recycle *recycle = &at.definition->recycle;
    hold_least(at, flows->recycle, 0.0, 0.0, "recycle");
    hold_most(at, flows->recycle, recycle->max_fraction * flows->raw, WATCH_KEPT * flows->raw,
              "recycle against its share of raw");
    if (flows->recycle > 0.0)
        hold_most(at, flows->recycle, recycle->pump, WATCH_KEPT * recycle->pump, "recycle against its pump");
    hold(at, flows->recycle <= 0.0 || !is_out(at, WR_UNIT_RECYCLE_PUMP, 0), "recycle with its pump out", flows->recycle,
         0.0);
}

void watch_flows(struct sight at)
{
    const struct wr_flows *flows = &at.state->flows;
    const bool raw_wash = at.definition->wash_water.source == WR_WATER_FROM_WELLS;
    double service = 0.0;
    for (size_t i = 0; i < at.plant->filter_count; i++)
        if (filter_at(at, i)->mode == WR_MODE_SERVICE)
            service += rate_at(at, i) * group_at(at, i)->area;
    const double feed = flows->raw + flows->recycle, slack = WATCH_TINY * feed;
    hold_near(at, flows->service, service, slack, "service flow against the filters");
    hold_near(at, feed, flows->rinse + flows->service + (raw_wash ? flows->wash : 0.0), slack, "feed and its uses");
    hold_least(at, flows->service, 0.0, slack, "service flow");
    hold_most(at, flows->service, flows->capacity, WATCH_KEPT * feed, "service flow");
    if (at.definition->over_approved_rate != WR_OVER_RATE_RISES)
        hold_most(at, flows->capacity, flows->approved, WATCH_KEPT * flows->approved, "capacity of the filters");
    hold(at, !(feed > at.definition->approved_capacity * (1.0 + WATCH_KEPT)), "approved capacity", feed,
         at.definition->approved_capacity);
    hold_least(at, flows->refill, 0.0, 0.0, "refill");
    if (at.definition->wash_water.source == WR_WATER_FROM_TANK)
        hold_most(at, flows->refill, fmin(at.definition->wash_water.tank.refill_rate, flows->service), slack, "refill");
    hold(at, flows->wash <= 0.0 || !is_out(at, WR_UNIT_WASH_PUMP, 0), "wash water with the pump out", flows->wash, 0.0);
    watch_recycle(at);
    watch_delivery(at);
}

/* Outlets ----------------------------------------------------------------------------------------------------------
 */

static double midnights(struct sight at, double time)
{
    return floor((at.definition->start + time) / 86400.0 + 1e-12);
}

/* Adds what has gone since the instant before to the day. */
static void outlet_day(struct sight at, size_t number, const struct wr_outlet *outlet)
{
    struct watch *watch = at.watch;
    double *day = &watch->outlet_days[number];
    *day += watch->outlet_flows[number] * (at.now - watch->then);
    hold(at, !(*day > outlet->daily_volume * (1.0 + WATCH_TINY)), "volume of an outlet in a day", *day,
         outlet->daily_volume);
    if (midnights(at, at.now) > midnights(at, watch->then))
        *day = 0.0;
}

void watch_outlets(struct sight at)
{
    size_t running = 0;
    for (size_t i = 0; i < at.plant->outlet_count; i++) {
        const struct wr_outlet *outlet = &at.definition->spent_wash.outlets.items[i];
        const double flow = wr_state_outlets(at.plant, at.state)[i].flow;
        const double rate = outlet->kind == WR_OUTLET_RECYCLE ? at.definition->recycle.pump : outlet->rate;
        outlet_day(at, i, outlet);
        running += flow > 0.0;
        hold_least(at, flow, 0.0, 0.0, "flow of an outlet");
        hold(at, !(flow > rate * (1.0 + WATCH_KEPT)), "rate of an outlet", flow, rate);
        hold(at, flow <= 0.0 || may_be_open(at, &outlet->hours), "an outlet outside its hours", flow, 0.0);
        hold(at, flow <= 0.0 || !(at.watch->outlet_days[i] >= outlet->daily_volume * (1.0 + WATCH_TINY)),
             "an outlet past its volume of the day", at.watch->outlet_days[i], outlet->daily_volume);
        at.watch->outlet_flows[i] = flow;
    }
    hold_most(at, (double)running, 1.0, 0.0, "outlets that run at once");
}
