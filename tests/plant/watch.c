/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/plant/watch.h"

#include "sim/plant/bed.h"
#include "sim/plant/head.h"

#include <stdio.h>
#include <string.h>

/* Rounding of stocks and flows, as a share of their limits. */
static const double TINY = 1e-9;
/* A limit on flow is kept within this share. */
static const double KEPT = 1e-6;
/* A filter at its available head holds its rate while its resistance rises by a hundredth. */
static const double STRETCH = 0.011;

/* Keeps the first breach. Written so that a value that is no number is one. */
static void hold(struct watch *watch, const struct wr_simulation *simulation, bool holds, const char *what,
                 double value, double limit)
{
    if (!holds && watch->breach[0] == '\0') {
        snprintf(watch->breach, sizeof watch->breach, "at %.9g s: %s: %.17g against %.17g",
                 simulation->state->clock.now, what, value, limit);
    }
}

static void hold_most(struct watch *watch, const struct wr_simulation *simulation, double value, double most,
                      double slack, const char *what)
{
    hold(watch, simulation, value <= most + slack, what, value, most);
}

static void hold_least(struct watch *watch, const struct wr_simulation *simulation, double value, double least,
                       double slack, const char *what)
{
    hold(watch, simulation, value >= least - slack, what, value, least);
}

static const struct wr_filter *filter_at(const struct wr_simulation *simulation, size_t filter)
{
    return &wr_state_filters(simulation->plant, simulation->state)[filter];
}

static const struct wr_group *group_at(const struct wr_simulation *simulation, size_t filter)
{
    return &simulation->plant->groups[simulation->plant->group_of[filter]];
}

/* Rate through a filter, m/s, in service or rinse. */
static double rate_of(const struct wr_simulation *simulation, size_t filter)
{
    const struct wr_filter *f = filter_at(simulation, filter);
    if (wr_bed_in_pack(f)) {
        return wr_state_packs(simulation->plant, simulation->state)[simulation->plant->group_of[filter]].rate;
    }
    return f->flow / group_at(simulation, filter)->area;
}

static bool is_in_line(const struct wr_filter *filter)
{
    return filter->called && filter->mode == WR_MODE_SERVICE;
}

/* Stocks -------------------------------------------------------------------------------------------------------------
 */

static void watch_tank(struct watch *watch, const struct wr_simulation *simulation, size_t tank)
{
    const struct wr_tank *t = &wr_state_tanks(simulation->plant, simulation->state)[tank];
    const struct wr_spent_wash *spent = &simulation->plant->definition->spent_wash;
    const double volume = spent->tanks.items[tank].volume, slack = TINY * volume;
    hold_least(watch, simulation, t->level, 0.0, slack, "level of a spent-wash tank");
    hold_least(watch, simulation, t->free, 0.0, slack, "free room of a spent-wash tank");
    hold_most(watch, simulation, t->level + t->free, volume, slack, "level and free room of a spent-wash tank");
    if (t->washes == 0 && t->mode == WR_TANK_FILLING) {
        hold_least(watch, simulation, t->level + t->free, volume, slack, "level and free room with nothing booked");
        hold(watch, simulation,
             spent->settling.law == WR_SETTLING_NONE || t->level <= 0.0 ||
                 t->free >= simulation->plant->largest_room * (1.0 - TINY),
             "room in a tank that fills between washes", t->free, simulation->plant->largest_room);
    }
    for (int k = 0; k < WR_CONSTITUENTS; k++) {
        hold_least(watch, simulation, t->mass[k], 0.0, TINY, "mass in a spent-wash tank");
    }
}

static void watch_stocks(struct watch *watch, const struct wr_simulation *simulation)
{
    const struct wr_definition *definition = simulation->plant->definition;
    const struct wr_state *state = simulation->state;
    const double storage = definition->storage.volume, wash_tank = definition->wash_water.tank.volume;
    hold_least(watch, simulation, state->storage.level, 0.0, TINY * storage, "level of storage");
    hold_most(watch, simulation, state->storage.level, storage, TINY * storage, "level of storage");
    hold_least(watch, simulation, state->wash_tank.level, 0.0, TINY * wash_tank, "level of the wash-water tank");
    hold_most(watch, simulation, state->wash_tank.level, wash_tank, TINY * wash_tank, "level of the wash-water tank");
    hold_least(watch, simulation, state->wash_tank.free, 0.0, TINY * wash_tank, "wash water not booked");
    hold_most(watch, simulation, state->wash_tank.free, state->wash_tank.level, TINY * wash_tank,
              "wash water not booked");
    for (size_t tank = 0; tank < simulation->plant->tank_count; tank++) {
        watch_tank(watch, simulation, tank);
    }
}

/* Each level has moved by the flows that were told at the instant before. */
static void watch_moves(struct watch *watch, const struct wr_simulation *simulation)
{
    const struct wr_definition *definition = simulation->plant->definition;
    const struct wr_state *state = simulation->state;
    const double time = state->clock.now - watch->then;
    hold(watch, simulation,
         fabs(state->storage.level - watch->storage - watch->storage_net * time) <= TINY * definition->storage.volume,
         "storage against its flows", state->storage.level, watch->storage + watch->storage_net * time);
    hold(watch, simulation,
         fabs(state->wash_tank.level - watch->wash_tank - watch->wash_tank_net * time) <=
             TINY * definition->wash_water.tank.volume,
         "wash-water tank against its flows", state->wash_tank.level, watch->wash_tank + watch->wash_tank_net * time);
    for (size_t i = 0; i < simulation->plant->tank_count; i++) {
        const struct wr_tank *tank = &wr_state_tanks(simulation->plant, state)[i];
        const double level = watch->tanks[i] + watch->tank_nets[i] * time;
        /* Sludge is dropped at once. */
        const bool emptied = tank->level <= 0.0 && watch->tanks[i] > 0.0;
        hold(watch, simulation,
             emptied || fabs(tank->level - level) <= TINY * definition->spent_wash.tanks.items[i].volume,
             "spent-wash tank against its flows", tank->level, level);
    }
}

/* Filters ------------------------------------------------------------------------------------------------------------
 */

/* The differential as the controller sees it, m. */
static double seen_differential(const struct wr_simulation *simulation, size_t filter, double rate)
{
    const struct wr_triggers *triggers = &simulation->plant->definition->wash.triggers;
    const struct wr_group *group = group_at(simulation, filter);
    const double head =
        wr_group_head(group, simulation->plant->viscosity, wr_bed_load(simulation->plant, simulation->state, filter),
                      rate, triggers->across == WR_ACROSS_BED);
    return triggers->differential_as == WR_AS_CORRECTED ? head * group->approved_rate / rate : head;
}

/* A filter in service that has not called is short of its triggers. */
static void watch_triggers(struct watch *watch, const struct wr_simulation *simulation, size_t filter, double rate)
{
    const struct wr_triggers *triggers = &simulation->plant->definition->wash.triggers;
    const struct wr_filter *f = filter_at(simulation, filter);
    const struct wr_bed bed = wr_bed_now(simulation->plant, simulation->state, filter);
    if (f->called || rate <= 0.0) {
        return;
    }
    hold(watch, simulation, !(bed.hours > triggers->run_hours * (1.0 + TINY)), "run hours without a call", bed.hours,
         triggers->run_hours);
    hold(watch, simulation, !(bed.volume > triggers->volume * (1.0 + TINY)), "run volume without a call", bed.volume,
         triggers->volume);
    const double seen = seen_differential(simulation, filter, rate), slack = f->apart ? STRETCH : KEPT;
    hold(watch, simulation, f->above || !(seen > triggers->differential * (1.0 + slack)), "differential without a call",
         seen, triggers->differential);
}

static void watch_filter(struct watch *watch, const struct wr_simulation *simulation, size_t filter)
{
    const struct wr_filter *f = filter_at(simulation, filter);
    const struct wr_group *group = group_at(simulation, filter);
    const struct wr_bed bed = wr_bed_now(simulation->plant, simulation->state, filter);
    const double rate = rate_of(simulation, filter);
    hold_least(watch, simulation, bed.load[WR_SOLIDS], 0.0, TINY, "load of a bed");
    hold_least(watch, simulation, bed.volume, 0.0, TINY, "run volume");
    hold_least(watch, simulation, bed.hours, 0.0, TINY, "run hours");
    hold_least(watch, simulation, rate, 0.0, 0.0, "rate of a filter");
    hold_most(watch, simulation, rate, group->approved_rate, KEPT * group->approved_rate, "approved rate");
    hold(watch, simulation, is_in_line(f) == (f->reasons != 0), "reasons of a filter in line", (double)f->reasons,
         is_in_line(f));
    hold(watch, simulation, watch->washing[filter] == (f->mode == WR_MODE_WASH), "a wash by its events", f->mode,
         watch->washing[filter]);
    if (f->mode == WR_MODE_OUT) {
        hold_most(watch, simulation, rate, 0.0, 0.0, "rate of a filter out of service");
    }
    if (f->mode == WR_MODE_SERVICE) {
        const double head = wr_group_head(group, simulation->plant->viscosity, bed.load[WR_SOLIDS], rate, false);
        hold_most(watch, simulation, head, group->available_head, (f->apart ? STRETCH : KEPT) * group->available_head,
                  "head of a filter in service");
        watch_triggers(watch, simulation, filter, rate);
    }
}

/* Flows --------------------------------------------------------------------------------------------------------------
 */

/* Wells run as storage calls them or a rinse asks; what runs is the raw flow. */
static void watch_wells(struct watch *watch, const struct wr_simulation *simulation)
{
    const struct wr_wells *wells = &simulation->plant->definition->wells;
    const struct wr_state *state = simulation->state;
    const double volume = simulation->plant->definition->storage.volume;
    double raw = 0.0;
    for (size_t i = 0; i < wells->count; i++) {
        const struct wr_well_state *well = &wr_state_wells(simulation->plant, state)[i];
        raw += well->runs ? wells->items[i].flow : 0.0;
        hold(watch, simulation, well->called || state->storage.level > wells->items[i].on_below * volume,
             "level with a well not called", state->storage.level, wells->items[i].on_below * volume);
        hold(watch, simulation, !well->called || state->storage.level < wells->items[i].off_above * volume,
             "level with a well called", state->storage.level, wells->items[i].off_above * volume);
        hold(watch, simulation, !well->runs || well->called || state->flows.rinse > 0.0, "a well that nobody asks for",
             well->runs, 0.0);
    }
    hold_most(watch, simulation, fabs(raw - state->flows.raw), 0.0, TINY * raw, "raw flow against the wells");
}

static void watch_flows(struct watch *watch, const struct wr_simulation *simulation)
{
    const struct wr_definition *definition = simulation->plant->definition;
    const struct wr_flows *flows = &simulation->state->flows;
    double service = 0.0;
    for (size_t i = 0; i < simulation->plant->filter_count; i++) {
        if (filter_at(simulation, i)->mode == WR_MODE_SERVICE) {
            service += rate_of(simulation, i) * group_at(simulation, i)->area;
        }
    }
    const double feed = flows->raw + flows->recycle;
    hold_most(watch, simulation, fabs(service - flows->service), 0.0, TINY * feed, "service flow against the filters");
    hold_most(watch, simulation, fabs(feed - flows->rinse - flows->service), 0.0, TINY * feed, "feed against its uses");
    hold_most(watch, simulation, flows->service, flows->capacity, KEPT * flows->capacity, "service flow");
    hold_most(watch, simulation, flows->capacity, flows->approved, KEPT * flows->approved, "capacity of the filters");
    hold(watch, simulation, !(feed > definition->approved_capacity * (1.0 + KEPT)), "approved capacity", feed,
         definition->approved_capacity);
    hold_least(watch, simulation, flows->recycle, 0.0, 0.0, "recycle");
    hold_most(watch, simulation, flows->recycle, definition->recycle.max_fraction * flows->raw, KEPT * flows->raw,
              "recycle against its share of raw");
    hold_most(watch, simulation, flows->refill, fmin(definition->wash_water.tank.refill_rate, flows->service),
              TINY * feed, "refill");
    hold_least(watch, simulation, flows->refill, 0.0, 0.0, "refill");
}

/* Storage that has water delivers what is asked, and loses none while it has room. */
static void watch_delivery(struct watch *watch, const struct wr_simulation *simulation)
{
    const struct wr_state *state = simulation->state;
    const struct wr_flows *flows = &state->flows;
    const double volume = simulation->plant->definition->storage.volume;
    const double inflow = flows->service - flows->refill;
    const double least = state->storage.level > 0.0 ? flows->demand : fmin(flows->demand, inflow);
    hold(watch, simulation, flows->delivered == least, "delivered", flows->delivered, least);
    const double most = state->storage.level < volume ? 0.0 : fmax(0.0, inflow - flows->demand);
    hold_most(watch, simulation, fabs(flows->overflow - most), 0.0, 0.0, "overflow");
}

/* Washes -------------------------------------------------------------------------------------------------------------
 */

static bool has_room(const struct wr_simulation *simulation, double room)
{
    for (size_t i = 0; i < simulation->plant->tank_count; i++) {
        const struct wr_tank *tank = &wr_state_tanks(simulation->plant, simulation->state)[i];
        if (tank->mode == WR_TANK_FILLING && tank->free >= room * (1.0 - TINY)) {
            return true;
        }
    }
    return simulation->plant->tank_count == 0;
}

/* Why the first in line may not be washed, from the state and the rules. */
static wr_limit_set reasons_of(const struct wr_simulation *simulation, size_t filter)
{
    const struct wr_state *state = simulation->state;
    const struct wr_wash *wash = &simulation->plant->definition->wash;
    const struct wr_group *group = group_at(simulation, filter);
    wr_limit_set reasons = 0;
    if (state->clock.now < state->last_start + wash->min_between_starts) {
        reasons |= wr_limit_bit(WR_LIMIT_TIME_BETWEEN_STARTS);
    }
    if (state->washing >= wash->max_simultaneous) {
        reasons |= wr_limit_bit(WR_LIMIT_WASH_SYSTEM);
    }
    if (state->wash_tank.free < group->wash_volume * (1.0 - TINY)) {
        reasons |= wr_limit_bit(WR_LIMIT_WASH_WATER);
    }
    if (!has_room(simulation, group->room)) {
        reasons |= wr_limit_bit(WR_LIMIT_SPENT_WASH_ROOM);
    }
    return reasons;
}

static void watch_line(struct watch *watch, const struct wr_simulation *simulation)
{
    const struct wr_state *state = simulation->state;
    size_t in_line = 0, washing = 0;
    for (size_t i = 0; i < simulation->plant->filter_count; i++) {
        in_line += is_in_line(filter_at(simulation, i));
        washing += filter_at(simulation, i)->mode == WR_MODE_WASH;
    }
    hold(watch, simulation, in_line == state->waiting, "filters in line", state->waiting, (double)in_line);
    hold(watch, simulation, washing == state->washing, "filters in a wash", state->washing, (double)washing);
    hold_most(watch, simulation, (double)washing, (double)simulation->plant->definition->wash.max_simultaneous, 0.0,
              "washes at one time");
    if (in_line > 0) {
        const size_t first = wr_state_line(simulation->plant, state)[0];
        const wr_limit_set reasons = reasons_of(simulation, first);
        hold(watch, simulation, reasons != 0 && filter_at(simulation, first)->reasons == reasons,
             "reasons of the first in line", filter_at(simulation, first)->reasons, reasons);
    }
}

/* Whether time alone will bring something that may end a standstill: an outage, settling, a tank that empties, a gap.
 */
static bool is_under_way(const struct wr_simulation *simulation)
{
    const struct wr_plant *plant = simulation->plant;
    const struct wr_state *state = simulation->state;
    const double now = state->clock.now;
    bool under_way = now < state->last_start + plant->definition->wash.min_between_starts;
    for (size_t i = 0; i < plant->outage_count; i++) {
        const struct wr_outage *outage = &plant->definition->outages.items[i];
        under_way = under_way || outage->from > now || outage->until > now;
    }
    for (size_t i = 0; i < plant->tank_count; i++) {
        const struct wr_tank *tank = &wr_state_tanks(plant, state)[i];
        const bool settles = plant->definition->spent_wash.settling.law != WR_SETTLING_NONE;
        under_way = under_way || tank->drawn > 0.0 || tank->mode == WR_TANK_SETTLING ||
                    (settles && tank->mode == WR_TANK_FILLING && tank->level > 0.0);
    }
    return under_way;
}

/* A plant that stands still with storage empty while a wash waits, and with nothing under way, is locked; and a locked
 * plant stays so. */
static void watch_lock(struct watch *watch, const struct wr_simulation *simulation)
{
    const struct wr_state *state = simulation->state;
    const bool starved = state->flows.service <= 0.0 && state->flows.delivered < state->flows.demand &&
                         state->waiting > 0 && state->washing == 0;
    hold(watch, simulation, state->locked || !starved || is_under_way(simulation), "a standstill and no word of a lock",
         state->locked, 1.0);
    hold(watch, simulation, !state->locked || state->flows.service <= 0.0, "service of a locked plant",
         state->flows.service, 0.0);
    hold(watch, simulation, state->locked || !watch->locked, "a lock that was undone", state->locked, watch->locked);
    watch->locked = state->locked;
}

/* The observer -------------------------------------------------------------------------------------------------------
 */

static void remember(struct watch *watch, const struct wr_simulation *simulation)
{
    const struct wr_state *state = simulation->state;
    const struct wr_flows *flows = &state->flows;
    watch->then = state->clock.now;
    watch->storage = state->storage.level;
    watch->storage_net = flows->service - flows->refill - flows->delivered - flows->overflow;
    watch->wash_tank = state->wash_tank.level;
    watch->wash_tank_net = flows->refill - flows->wash;
    for (size_t i = 0; i < simulation->plant->tank_count; i++) {
        const struct wr_tank *tank = &wr_state_tanks(simulation->plant, state)[i];
        watch->tanks[i] = tank->level;
        watch->tank_nets[i] = tank->inflow - tank->drawn;
    }
    watch->in_line = state->waiting;
}

static void watch_instant(void *context, const struct wr_simulation *simulation)
{
    struct watch *watch = context;
    if (simulation->state->clock.now > watch->then) {
        watch_moves(watch, simulation);
        watch->waited += (double)watch->in_line * (simulation->state->clock.now - watch->then);
    }
    watch_stocks(watch, simulation);
    for (size_t i = 0; i < simulation->plant->filter_count; i++) {
        watch_filter(watch, simulation, i);
    }
    watch_wells(watch, simulation);
    watch_flows(watch, simulation);
    watch_delivery(watch, simulation);
    watch_line(watch, simulation);
    watch_lock(watch, simulation);
    remember(watch, simulation);
}

static void watch_event(void *context, const struct wr_simulation *simulation, const struct wr_event *event)
{
    struct watch *watch = context;
    if (event->kind == WR_EVENT_WASH_STARTED) {
        watch->starts++;
        hold(watch, simulation, !watch->washing[event->where], "a wash that starts within one", (double)event->where,
             0.0);
        hold(watch, simulation, filter_at(simulation, event->where)->called, "a wash without a call",
             (double)event->where, 0.0);
        hold(watch, simulation, !watch->locked, "a wash of a locked plant", (double)event->where, 0.0);
        watch->washing[event->where] = true;
    } else if (event->kind == WR_EVENT_WASH_ENDED) {
        watch->ends++;
        watch->washing[event->where] = false;
    }
}

void watch_init(struct watch *watch, const struct wr_plant *plant)
{
    *watch = (struct watch){.plant = plant};
}

struct wr_observer watch_observer(struct watch *watch)
{
    return (struct wr_observer){.context = watch, .event = watch_event, .instant = watch_instant};
}

void watch_open(struct watch *watch, const struct wr_simulation *simulation)
{
    for (size_t i = 0; i < wr_ledger_account_count(watch->plant); i++) {
        watch->opening[i] = wr_ledger_stock(watch->plant, simulation->state, i);
    }
}

void watch_close(struct watch *watch, const struct wr_simulation *simulation)
{
    const struct wr_state *state = simulation->state;
    const struct wr_balance balance = wr_ledger_close(watch->plant, state, watch->opening);
    hold_most(watch, simulation, balance.water_error_share, 1e-12, 0.0, "water that the books lose, share");
    hold_most(watch, simulation, balance.solids_error_share, 1e-9, 0.0, "solids that the books lose, share");
    hold(watch, simulation, balance.closes, "books that close, worst stock", balance.worst_stock_share, 0.0);
    watch->waited += (double)watch->in_line * (state->clock.now - watch->then);
    double first = 0.0;
    for (size_t i = 0; i < WR_LIMITS; i++) {
        first += state->waits[i].first + state->start_up[i].first;
    }
    hold_most(watch, simulation, fabs(first - watch->waited), 0.0, TINY * (1.0 + watch->waited),
              "waits by first reason against time in line");
    hold(watch, simulation, watch->starts == watch->ends + state->washing, "washes begun and not ended",
         (double)watch->starts, (double)(watch->ends + state->washing));
}
