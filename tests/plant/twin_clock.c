/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the calendar does to the twin. */
#include "tests/plant/twin_state.h"

static void look_at_demand(struct twin *twin)
{
    const struct wr_signal *signal = &twin->plant->demand;
    const double hours = floor((signal->phase + twin->now) / 3600.0);
    twin->demand = signal->values[(size_t)hours % 24];
    twin->next_hour = (hours + 1.0) * 3600.0 - signal->phase;
    twin->changed = true;
}

/* Hours of the week -------------------------------------------------------------------------------------------------
 */

/* Whether hours may begin on a day of the week, Monday 0. */
static bool is_on_day(int days, int day)
{
    if (days == WR_DAYS_WEEKDAYS) {
        return day < 5;
    }
    if (days == WR_DAYS_WEEKENDS) {
        return day >= 5;
    }
    return days == WR_DAYS_EVERY_DAY || days - WR_DAYS_MONDAY == day;
}

static bool is_open(const struct wr_hours_list *list, double date)
{
    const double midnight = floor(date / 86400.0) * 86400.0, clock = date - midnight;
    const int day = (int)fmod(floor(date / 86400.0) + 3.0, 7.0); /* 1970-01-01 was a Thursday */
    for (size_t i = 0; i < list->count; i++) {
        const struct wr_hours *hours = &list->items[i];
        const bool over_night = hours->until <= hours->from;
        if (is_on_day(hours->days, day) && clock >= hours->from && (over_night || clock < hours->until)) {
            return true;
        }
        if (over_night && is_on_day(hours->days, (day + 6) % 7) && clock < hours->until) {
            return true;
        }
    }
    return list->count == 0;
}

/* Hours begin and end at whole minutes. */
static void look_at_hours(struct twin *twin)
{
    const struct wr_definition *definition = twin->definition;
    const double date = definition->start + twin->now;
    twin->next_minute = (floor(date / 60.0) + 1.0) * 60.0 - definition->start;
    twin->window_open = is_open(&definition->wash.window, date);
    twin->attended_open = is_open(&definition->wash.attended, date);
    for (size_t i = 0; i < twin->plant->outlet_count; i++) {
        const bool open = is_open(&definition->spent_wash.outlets.items[i].hours, date);
        twin->changed = twin->changed || open != twin->outlets[i].open;
        twin->outlets[i].open = open;
    }
}

static void begin_day(struct twin *twin)
{
    const double date = twin->definition->start + twin->now;
    twin->next_midnight = (floor(date / 86400.0) + 1.0) * 86400.0 - twin->definition->start;
    for (size_t i = 0; i < twin->plant->outlet_count; i++) {
        twin->outlets[i].today = 0.0;
    }
    twin->changed = true;
}

/* Outages -----------------------------------------------------------------------------------------------------------
 */

static void filter_goes(struct twin *twin, struct twin_filter *filter)
{
    if (filter->mode == TWIN_WASHING || filter->mode == TWIN_RINSING) {
        filter->leaves = true;
    } else if (filter->mode != TWIN_OUT) {
        filter->standby = filter->mode == TWIN_STANDBY;
        filter->mode = TWIN_OUT;
        filter->rate = 0.0;
        filter->above_since = WR_ABSENT;
        filter->limited = false;
    }
    (void)twin;
}

static void filter_comes(struct twin_filter *filter)
{
    filter->leaves = false;
    if (filter->mode == TWIN_OUT) {
        filter->mode = filter->standby ? TWIN_STANDBY : TWIN_SERVING;
        filter->standby = false;
    }
}

/* What is out by the outages that cover the time. */
struct out {
    bool filters[TWIN_FILTERS], tanks[TWIN_TANKS], wells[TWIN_WELLS], pump, blower, recycle;
};

static void take_out(const struct twin *twin, const struct wr_unit *unit, struct out *out)
{
    if (unit->kind == WR_UNIT_FILTER) {
        const struct twin_filter *filter = &twin->filters[unit->number];
        for (size_t i = 0; i < filter->cells; i++) {
            out->filters[filter->first_cell + i] = true;
        }
    }
    if (unit->kind == WR_UNIT_TANK) {
        out->tanks[unit->number] = true;
    }
    if (unit->kind == WR_UNIT_WELL) {
        out->wells[unit->number] = true;
    }
    out->pump = out->pump || unit->kind == WR_UNIT_WASH_PUMP;
    out->blower = out->blower || unit->kind == WR_UNIT_BLOWER;
    out->recycle = out->recycle || unit->kind == WR_UNIT_RECYCLE_PUMP;
}

static struct out find_out(struct twin *twin)
{
    const struct wr_outages *outages = &twin->definition->outages;
    struct out out = {0};
    twin->next_outage = HUGE_VAL;
    for (size_t i = 0; i < outages->count; i++) {
        const double from = outages->items[i].from, until = outages->items[i].until;
        if (from > twin->now) {
            twin->next_outage = fmin(twin->next_outage, from);
        } else if (!(until <= twin->now)) {
            twin->next_outage = wr_is_given(until) ? fmin(twin->next_outage, until) : twin->next_outage;
            take_out(twin, &twin->plant->units[i], &out);
        }
    }
    return out;
}

static void look_at_outages(struct twin *twin)
{
    const struct out out = find_out(twin);
    const bool pump_goes = out.pump && !twin->pump_out;
    twin->pump_out = out.pump;
    twin->blower_out = out.blower;
    twin->recycle_out = out.recycle;
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        if (out.filters[i]) {
            filter_goes(twin, &twin->filters[i]);
        } else {
            filter_comes(&twin->filters[i]);
        }
    }
    for (size_t i = 0; i < twin->plant->well_count; i++) {
        twin->wells[i].out = out.wells[i];
    }
    for (size_t i = 0; i < twin->plant->tank_count; i++) {
        twin->tanks[i].out = out.tanks[i];
    }
    if (pump_goes) {
        twin_cut_washes(twin);
    }
    twin->changed = true;
}

/* The rota ----------------------------------------------------------------------------------------------------------
 */

void twin_look_at_rota(struct twin *twin)
{
    const struct wr_rota *rota = &twin->definition->wash.rota;
    if (twin->now < twin->next_rota) {
        return;
    }
    twin->next_rota = HUGE_VAL;
    for (size_t i = 0; i < rota->count; i++) {
        const double every = rota->items[i].every;
        struct twin_filter *filter = &twin->filters[twin->plant->rota_of[i]];
        while (twin->now >= twin->rota_next[i]) {
            if (!filter->called && (filter->mode == TWIN_SERVING || filter->mode == TWIN_RINSING)) {
                twin_call(twin, filter);
            }
            twin->rota_next[i] = wr_is_given(every) ? twin->rota_next[i] + every : HUGE_VAL;
        }
        twin->next_rota = fmin(twin->next_rota, twin->rota_next[i]);
    }
}

void twin_look_at_clock(struct twin *twin)
{
    if (twin->now >= twin->next_hour) {
        look_at_demand(twin);
    }
    if (twin->now >= twin->next_outage) {
        look_at_outages(twin);
    }
    if (twin->now >= twin->next_minute) {
        look_at_hours(twin);
    }
    if (twin->now >= twin->next_midnight) {
        begin_day(twin);
    }
    if (twin->now >= twin->next_haul) {
        twin->holding = 0.0;
        twin->next_haul += twin->definition->wash.holding.emptied_every;
    }
}
