/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line of calls: each refusal for its reason and no other, nothing overslept, a lock told. */
#include "tests/plant/watch_part.h"

#include "sim/plant/hours.h"

#include <string.h>

bool is_out(struct sight at, enum wr_unit_kind kind, size_t number)
{
    for (size_t i = 0; i < at.plant->outage_count; i++) {
        const struct wr_outage *outage = &at.definition->outages.items[i];
        const struct wr_unit *unit = &at.plant->units[i];
        const bool on = outage->from <= at.now && !(outage->until <= at.now);
        bool same = unit->kind == kind && unit->number == number;
        if (unit->kind == kind && kind == WR_UNIT_FILTER &&
            at.plant->group_of[number] == at.plant->group_of[unit->number]) {
            const size_t group = at.plant->group_of[number], first = at.plant->groups[group].first;
            const size_t cells = at.definition->filters.items[group].cells;
            same = (number - first) / cells == (unit->number - first) / cells;
        }
        if (on && same)
            return true;
    }
    return false;
}

bool may_be_open(struct sight at, const struct wr_hours_list *hours)
{
    return wr_hours_are_open(hours, at.definition->start, at.now - 1e-3) ||
           wr_hours_are_open(hours, at.definition->start, at.now + 1e-3);
}

bool may_be_shut(struct sight at, const struct wr_hours_list *hours)
{
    return !wr_hours_are_open(hours, at.definition->start, at.now - 1e-3) ||
           !wr_hours_are_open(hours, at.definition->start, at.now + 1e-3);
}

/* True when hours are shut. Within rounding of a change the plant is taken at its word. */
static bool is_shut(struct sight at, const struct wr_hours_list *hours, bool plant_says_open)
{
    return may_be_shut(at, hours) && (!may_be_open(at, hours) || !plant_says_open);
}

/* Reasons --------------------------------------------------------------------------------------------------------- */

static bool has_room(struct sight at, double room)
{
    for (size_t i = 0; i < at.plant->tank_count; i++) {
        const struct wr_tank *tank = &wr_state_tanks(at.plant, at.state)[i];
        if (tank->mode == WR_TANK_FILLING && !is_out(at, WR_UNIT_TANK, i) && tank->free >= room * (1.0 - WATCH_TINY))
            return true;
    }
    return at.plant->tank_count == 0;
}

bool waits_for_room(struct sight at)
{
    return at.state->waiting > 0 && !has_room(at, group_at(at, wr_state_line(at.plant, at.state)[0])->room);
}

static size_t others_in_service(struct sight at, size_t filter)
{
    size_t count = 0;
    for (size_t i = 0; i < at.plant->filter_count; i++)
        count += i != filter && filter_at(at, i)->mode == WR_MODE_SERVICE;
    return count;
}

static bool is_stopped(struct sight at)
{
    for (size_t i = 0; i < at.plant->well_count; i++)
        if (wr_state_wells(at.plant, at.state)[i].wanted)
            return false;
    return true;
}

static size_t air_washes(struct sight at)
{
    size_t count = 0;
    for (size_t i = 0; i < at.plant->filter_count; i++)
        count += filter_at(at, i)->mode == WR_MODE_WASH && group_at(at, i)->air;
    return count;
}

static double peaks_under_way(struct sight at)
{
    double peak = 0.0;
    for (size_t i = 0; i < at.plant->filter_count; i++)
        peak += filter_at(at, i)->mode == WR_MODE_WASH ? group_at(at, i)->peak_flow : 0.0;
    return peak;
}

/* Raw water that wells in order can give within the approved capacity. */
static double wells_in_order(struct sight at)
{
    const bool throttles = at.definition->over_approved_rate == WR_OVER_THROTTLE;
    const double limit = wr_is_given(at.definition->approved_capacity) ? at.definition->approved_capacity : HUGE_VAL;
    double flow = 0.0;
    for (size_t i = 0; i < at.plant->well_count; i++) {
        const struct wr_well *well = &at.definition->wells.items[i];
        const double room = (limit - flow) * (1.0 + WATCH_TINY);
        if (is_out(at, WR_UNIT_WELL, i))
            continue;
        if (well->flow <= room)
            flow += well->flow;
        else if (throttles && well->drive == WR_DRIVE_VARIABLE && well->least_flow <= room)
            flow = limit;
    }
    return flow;
}

/* True when the pump or pipes of the source, or the mains, give this wash beside those under way all that they draw. */
static bool has_flow(struct sight at, size_t filter)
{
    const struct wr_wash_water *water = &at.definition->wash_water;
    const double peak = (peaks_under_way(at) + group_at(at, filter)->peak_flow) * (1.0 - WATCH_TINY);
    if (wr_is_given(water->max_flow) && water->max_flow < peak)
        return false;
    switch (water->source) {
    case WR_WATER_FROM_WELLS:
        return wells_in_order(at) >= peak;
    case WR_WATER_FROM_SYSTEM:
        return water->draw_limit >= peak;
    default:
        return true;
    }
}

/* What tank or storage lacks of a whole wash beside what is promised, m3, negative where it holds more; a source that
 * only flows lacks none. */
static double volume_lacking(struct sight at, size_t filter)
{
    const struct wr_storage *storage = &at.definition->storage;
    const double volume = group_at(at, filter)->wash_volume;
    switch (at.definition->wash_water.source) {
    case WR_WATER_FROM_TANK:
        return volume - at.state->wash_tank.free;
    case WR_WATER_FROM_STORAGE:
        return volume + at.state->booked + storage->reserve * storage->volume - at.state->storage.level;
    default:
        return 0.0;
    }
}

/* True when the source can give a whole wash. Filters that wash each other are taken at their word. */
static bool has_water(struct sight at, size_t filter)
{
    if (at.definition->wash_water.source == WR_WATER_FROM_FILTERS)
        return has_flow(at, filter) && (filter_at(at, filter)->reasons & wr_limit_bit(WR_LIMIT_WASH_WATER)) == 0;
    return has_flow(at, filter) && volume_lacking(at, filter) <= group_at(at, filter)->wash_volume * WATCH_TINY;
}

static wr_limit_set bit_if(bool held, enum wr_limit limit)
{
    return held ? wr_limit_bit(limit) : 0;
}

static wr_limit_set rules_of(struct sight at, size_t filter)
{
    const struct wr_wash *wash = &at.definition->wash;
    const struct wr_filter *f = filter_at(at, filter);
    const double lockout = wash->storage_lockout * at.definition->storage.volume;
    const bool at_lockout = fabs(at.state->storage.level - lockout) <= WATCH_TINY * lockout;
    return bit_if(is_shut(at, &wash->window, at.state->window_open) && !f->urgent, WR_LIMIT_WINDOW) |
           bit_if(at.now < at.state->last_start + wash->min_between_starts, WR_LIMIT_TIME_BETWEEN_STARTS) |
           bit_if(others_in_service(at, filter) < wash->min_filters_in_service, WR_LIMIT_FILTERS_IN_SERVICE) |
           bit_if(at_lockout ? at.state->storage.below_lockout : at.state->storage.level < lockout,
                  WR_LIMIT_STORAGE_LOCKOUT) |
           bit_if(wash->when_plant_stopped == WR_STOPPED_WAIT && is_stopped(at), WR_LIMIT_PLANT_STOPPED) |
           bit_if(f->interrupted && is_shut(at, &wash->attended, at.state->attended_open), WR_LIMIT_ATTENDED_HOURS);
}

/* Why the first in line may not be washed, from the definition, the stocks and the dates. */
static wr_limit_set reasons_of(struct sight at, size_t filter)
{
    const struct wr_wash *wash = &at.definition->wash;
    const struct wr_group *group = group_at(at, filter);
    return rules_of(at, filter) | bit_if(at.state->washing >= wash->max_simultaneous, WR_LIMIT_WASH_SYSTEM) |
           bit_if(group->air && (is_out(at, WR_UNIT_BLOWER, 0) || air_washes(at) >= wash->blowers), WR_LIMIT_BLOWER) |
           bit_if(is_out(at, WR_UNIT_WASH_PUMP, 0), WR_LIMIT_WASH_PUMP_OUT) |
           bit_if(!has_water(at, filter), WR_LIMIT_WASH_WATER) |
           bit_if(!has_room(at, group->room), WR_LIMIT_SPENT_WASH_ROOM) |
           bit_if(at.state->holding.free < group->held_volume * (1.0 - WATCH_TINY), WR_LIMIT_HOLDING_ROOM);
}

void watch_line(struct sight at)
{
    const struct wr_wash *wash = &at.definition->wash;
    size_t in_line = 0, washing = 0;
    for (size_t i = 0; i < at.plant->filter_count; i++) {
        in_line += is_in_line(filter_at(at, i));
        washing += filter_at(at, i)->mode == WR_MODE_WASH;
    }
    hold(at, in_line == at.state->waiting, "filters in line", at.state->waiting, (double)in_line);
    hold(at, washing == at.state->washing, "filters in a wash", at.state->washing, (double)washing);
    hold_most(at, (double)washing, (double)wash->max_simultaneous, 0.0, "washes at one time");
    hold_most(at, (double)air_washes(at), (double)wash->blowers, 0.0, "washes with air at one time");
    if (in_line > 0) {
        const size_t first = wr_state_line(at.plant, at.state)[0];
        const wr_limit_set reasons = reasons_of(at, first);
        hold(at, reasons != 0 && filter_at(at, first)->reasons == reasons, "reasons of the first in line",
             filter_at(at, first)->reasons, reasons);
    }
}

void watch_start(struct sight at, size_t filter)
{
    const wr_limit_set reasons = at.definition->wash_water.source == WR_WATER_FROM_FILTERS
                                     ? reasons_of(at, filter) & ~wr_limit_bit(WR_LIMIT_WASH_WATER)
                                     : reasons_of(at, filter);
    hold(at, reasons == 0, "reasons against a wash that starts", reasons, 0.0);
    hold(at, !at.watch->washing[filter], "a wash that starts within one", (double)filter, 0.0);
    hold(at, filter_at(at, filter)->called, "a wash without a call", (double)filter, 0.0);
    hold(at, wr_state_line(at.plant, at.state)[0] == filter, "a wash of one that is not first", (double)filter, 0.0);
    hold(at, !at.watch->locked, "a wash of a locked plant", (double)filter, 0.0);
}

/* Waking ---------------------------------------------------------------------------------------------------------- */

static void wake(struct sight at, double time, const char *what)
{
    if (time < at.watch->wakes) {
        at.watch->wakes = time;
        at.watch->wakes_for = what;
    }
}

static void wake_in(struct sight at, double amount, double flow, const char *what)
{
    if (flow > 0.0 && amount >= 0.0)
        wake(at, at.now + amount / flow, what);
}

static void wake_by_dates(struct sight at)
{
    const double start = at.definition->start;
    wake(at, wr_hours_next_change(&at.definition->wash.window, start, at.now), "wash hours");
    wake(at, wr_hours_next_change(&at.definition->wash.attended, start, at.now), "attended hours");
    for (size_t i = 0; i < at.plant->outlet_count; i++)
        wake(at, wr_hours_next_change(&at.definition->spent_wash.outlets.items[i].hours, start, at.now),
             "hours of an outlet");
    for (size_t i = 0; i < at.plant->outage_count; i++) {
        const struct wr_outage *outage = &at.definition->outages.items[i];
        wake(at, outage->from > at.now ? outage->from : WR_NEVER, "an outage");
        wake(at, outage->until > at.now ? outage->until : WR_NEVER, "the end of an outage");
    }
}

static void wake_by_storage(struct sight at)
{
    const double volume = at.definition->storage.volume, level = at.state->storage.level, net = storage_net(at);
    for (size_t i = 0; i < at.plant->well_count; i++) {
        const struct wr_well *well = &at.definition->wells.items[i];
        const struct wr_well_state *state = &wr_state_wells(at.plant, at.state)[i];
        if (state->called)
            wake_in(at, well->off_above * volume - level, net, "a well's off level");
        else
            wake_in(at, level - well->on_below * volume, -net, "a well's on level");
        if (state->called && state->rests && !is_out(at, WR_UNIT_WELL, i))
            wake(at, state->stopped + well->minimum_rest, "the end of a well's rest");
        if (!state->called && state->wanted)
            wake(at, state->started + well->minimum_run, "the end of a well's least run");
    }
    if (level > 0.0)
        wake_in(at, level, -net, "storage that empties");
    if (level < volume)
        wake_in(at, volume - level, net, "storage that fills");
    if (at.state->storage.below_lockout)
        wake_in(at, at.definition->wash.storage_lockout * volume - level, net, "the end of a lockout");
}

static void wake_by_tanks(struct sight at)
{
    const struct wr_settling *settling = &at.definition->spent_wash.settling;
    for (size_t i = 0; i < at.plant->tank_count; i++) {
        const struct wr_tank *tank = &wr_state_tanks(at.plant, at.state)[i];
        if (tank->mode == WR_TANK_SETTLING)
            wake(at, tank->since + tank->ready, "a tank that has settled");
        else if (tank->mode == WR_TANK_DECANTING)
            wake_in(at, fmax(0.0, tank->level - tank->sludge), tank->drawn, "a tank that is emptied");
        else if (at.plant->has_settling && tank->washes == 0 && tank->level > tank->sludge)
            wake(at, fmax(at.now, tank->since + settling->start_after), "a tank that starts to settle");
    }
    for (size_t i = 0; i < at.plant->outlet_count; i++) {
        const double most = at.definition->spent_wash.outlets.items[i].daily_volume;
        if (wr_is_given(most))
            wake_in(at, fmax(0.0, most - at.watch->outlet_days[i]), at.watch->outlet_flows[i], "an outlet's day");
    }
}

/* What the first in line waits for and time or flow will bring. */
static void wake_by_line(struct sight at)
{
    if (at.state->waiting == 0)
        return;
    const size_t first = wr_state_line(at.plant, at.state)[0];
    const struct wr_group *group = group_at(at, first);
    const struct wr_filter *f = filter_at(at, first);
    if ((f->reasons & wr_limit_bit(WR_LIMIT_TIME_BETWEEN_STARTS)) != 0)
        wake(at, at.state->last_start + at.definition->wash.min_between_starts, "time between starts");
    if ((f->reasons & wr_limit_bit(WR_LIMIT_HOLDING_ROOM)) != 0) {
        const double every = at.definition->wash.holding.emptied_every;
        wake(at, (floor(at.now / every * (1.0 + 1e-12)) + 1.0) * every, "hauling of the holding tank");
    }
    if ((f->reasons & wr_limit_bit(WR_LIMIT_SPENT_WASH_ROOM)) != 0)
        for (size_t i = 0; i < at.plant->tank_count; i++) {
            const struct wr_tank *tank = &wr_state_tanks(at.plant, at.state)[i];
            if (tank->mode == WR_TANK_FILLING && group->room <= at.definition->spent_wash.tanks.items[i].volume)
                wake_in(at, group->room - tank->free, tank->drawn, "room for the first in line");
        }
    const double lacking = volume_lacking(at, first);
    if (lacking <= group->wash_volume * WATCH_TINY)
        return;
    if (at.definition->wash_water.source == WR_WATER_FROM_TANK)
        wake_in(at, lacking, at.state->flows.refill, "wash water for the first");
    else
        wake_in(at, lacking, storage_net(at) + at.state->flows.wash, "wash water for the first");
}

static void wake_by_triggers(struct sight at)
{
    const struct wr_triggers *triggers = &at.definition->wash.triggers;
    for (size_t i = 0; i < at.plant->filter_count; i++) {
        const struct wr_filter *f = filter_at(at, i);
        const double rate = rate_at(at, i);
        const struct wr_bed bed = wr_bed_now(at.plant, at.state, i);
        if (f->called || f->mode != WR_MODE_SERVICE || rate <= 0.0)
            continue;
        if (wr_is_given(triggers->run_hours))
            wake_in(at, fmax(0.0, triggers->run_hours - bed.hours), 1.0, "run hours");
        if (wr_is_given(triggers->volume))
            wake_in(at, fmax(0.0, triggers->volume - bed.volume), rate, "run volume");
        if (f->above)
            wake(at, f->lasts_at, "persistence");
    }
}

void watch_next_wake(struct sight at)
{
    at.watch->wakes = WR_NEVER;
    at.watch->wakes_for = "";
    wake_by_dates(at);
    wake_by_storage(at);
    wake_by_tanks(at);
    wake_by_line(at);
    wake_by_triggers(at);
}

void watch_wakes(struct sight at)
{
    /* A thousandth of a second is far more than rounding makes. */
    hold_most(at, at.now, at.watch->wakes, 1e-3, at.watch->wakes_for);
}

/* Locks ----------------------------------------------------------------------------------------------------------- */

/* Whether time alone will bring something that may end a standstill: an outage, settling, a tank that empties, a gap.
 */
static bool is_under_way(struct sight at)
{
    const bool settles = at.definition->spent_wash.settling.law != WR_SETTLING_NONE;
    bool under_way = at.now < at.state->last_start + at.definition->wash.min_between_starts;
    for (size_t i = 0; i < at.plant->outage_count; i++) {
        const struct wr_outage *outage = &at.definition->outages.items[i];
        under_way = under_way || outage->from > at.now || outage->until > at.now;
    }
    for (size_t i = 0; i < at.plant->tank_count; i++) {
        const struct wr_tank *tank = &wr_state_tanks(at.plant, at.state)[i];
        under_way = under_way || tank->drawn > 0.0 || tank->mode == WR_TANK_SETTLING ||
                    (settles && tank->mode == WR_TANK_FILLING && tank->level > tank->sludge);
    }
    for (size_t i = 0; i < at.plant->well_count; i++)
        under_way = under_way || wr_state_wells(at.plant, at.state)[i].rests;
    return under_way;
}

/* A rota that has not begun, or calls but once, may change who is first. */
static bool has_rota_ahead(struct sight at)
{
    const struct wr_rota *rota = &at.definition->wash.rota;
    for (size_t i = 0; i < rota->count; i++)
        if (rota->items[i].first > at.now)
            return true;
    return false;
}

/* Time in which all clocks that may end a standstill come round, s; none where there are no clocks. */
static double clocks_round(struct sight at)
{
    const struct wr_wash *wash = &at.definition->wash;
    bool has = wash->window.count + wash->attended.count > 0;
    double round = 7.0 * 86400.0;
    for (size_t i = 0; i < at.plant->outlet_count; i++)
        has = has || at.definition->spent_wash.outlets.items[i].hours.count > 0 ||
              wr_is_given(at.definition->spent_wash.outlets.items[i].daily_volume);
    for (size_t i = 0; i < wash->rota.count; i++) {
        has = true;
        round = fmax(round, wr_is_given(wash->rota.items[i].every) ? wash->rota.items[i].every : 0.0);
    }
    const struct wr_spent_wash *spent = &at.definition->spent_wash;
    if (spent->has_blanket && spent->sludge.drawn == WR_SLUDGE_BY_CALENDAR) {
        has = true;
        round = fmax(round, spent->sludge.every);
    }
    if (wr_is_given(wash->holding.volume)) {
        has = true;
        round = fmax(round, wash->holding.emptied_every);
    }
    return has ? round : 0.0;
}

/* A plant that stands still with storage empty while a wash waits, and with nothing under way, is locked; and a locked
 * plant stays so. */
void watch_lock(struct sight at)
{
    const struct wr_state *state = at.state;
    const bool starved = state->flows.service <= 0.0 && state->flows.delivered < state->flows.demand &&
                         state->waiting > 0 && state->washing == 0 && state->rinsing == 0;
    const bool stands = starved && !is_under_way(at) && !has_rota_ahead(at);
    if (!stands)
        at.watch->starved_since = WR_NEVER;
    else if (isinf(at.watch->starved_since))
        at.watch->starved_since = at.now;
    const double clocks = clocks_round(at);
    hold(at, state->locked || !stands || (clocks > 0.0 && at.now <= at.watch->starved_since + clocks + 1e-3),
         "a standstill and no word of a lock", at.now - at.watch->starved_since, clocks);
    hold(at, !state->locked || state->flows.service <= 0.0, "service of a locked plant", state->flows.service, 0.0);
    hold(at, state->locked || !at.watch->locked, "a lock that was undone", state->locked, at.watch->locked);
    at.watch->locked = state->locked;
}
