/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/plant/twin.h"

#include "models/headloss.h"
#include "sim/engine/timers.h"
#include "sim/plant/units.h"
#include "tests/plant/twin_state.h"

#include <stdlib.h>
#include <string.h>

/* Start --------------------------------------------------------------------------------------------------------------
 */

/* Whether some outage of the filter covers the time. */
static bool is_out_at(const struct wr_plant *plant, size_t filter, double time)
{
    const struct wr_outages *outages = &plant->definition->outages;
    for (size_t i = 0; i < outages->count; i++) {
        const struct wr_outage *outage = &outages->items[i];
        if (wr_plant_outage_takes(plant, i, filter) && outage->from <= time && !(outage->until <= time)) {
            return true;
        }
    }
    return false;
}

/* Rate at which beds are taken to have been used before the start, m/s; 0 where no filter is in service. */
static double rate_before(const struct wr_plant *plant)
{
    double area = 0.0, least = WR_NEVER;
    for (size_t i = 0; i < plant->filter_count; i++) {
        const struct wr_group *group = &plant->groups[plant->group_of[i]];
        if (!is_out_at(plant, i, 0.0)) {
            least = fmin(least, group->approved_rate);
            area += group->area;
        }
    }
    return area > 0.0 ? fmin(least, plant->definition->demand.maximum_day / area) : 0.0;
}

/* Length of a run at a steady rate, s: to whichever trigger comes first. */
static double run_length(const struct twin *twin, const struct wr_group *group, double rate)
{
    const struct wr_triggers *triggers = &twin->definition->wash.triggers;
    double length = WR_NEVER;
    if (wr_is_given(triggers->run_hours)) {
        length = triggers->run_hours;
    }
    if (wr_is_given(triggers->volume)) {
        length = fmin(length, triggers->volume / rate);
    }
    if (wr_is_given(triggers->differential)) {
        const double correction = triggers->differential_as == WR_AS_CORRECTED ? group->approved_rate / rate : 1.0;
        const double quadratic =
            group->clean_quadratic + (triggers->across == WR_ACROSS_BED ? 0.0 : group->fittings_quadratic);
        const double resistance = triggers->differential / correction / rate - quadratic * rate - group->clean_linear;
        const double load = wr_deposit_load(&group->deposit, fmax(0.0, resistance), twin->plant->viscosity);
        length = fmin(length, load / (rate * twin->plant->raw[WR_SOLIDS]));
    }
    return length;
}

/* Time at a steady rate, s, to the load beyond which the available head lets less than the approved rate through. */
static double full_rate_length(const struct twin *twin, const struct wr_group *group, double rate)
{
    const double approved = group->approved_rate;
    const double resistance = group->available_head / approved -
                              (group->clean_quadratic + group->fittings_quadratic) * approved - group->clean_linear;
    const double load = wr_deposit_load(&group->deposit, fmax(0.0, resistance), twin->plant->viscosity);
    return load / (rate * twin->plant->raw[WR_SOLIDS]);
}

static void use_bed(struct twin_filter *filter, double rate, double time, double solids)
{
    filter->hours = time;
    filter->volume = rate * time;
    filter->load = filter->volume * solids;
    filter->last_start = -time;
}

static void start_beds(struct twin *twin)
{
    const struct wr_plant *plant = twin->plant;
    const struct wr_start_bed_definition *beds = &twin->definition->start_beds;
    const double rate = rate_before(plant);
    size_t place = 0, in_service = 0;
    for (size_t i = 0; i < plant->filter_count; i++) {
        in_service += !is_out_at(plant, i, 0.0);
    }
    for (size_t i = 0; i < plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        double share = beds->share;
        if (beds->how == WR_START_SPREAD) {
            share = is_out_at(plant, i, 0.0) ? 0.0 : (double)place++ / (double)in_service;
        } else if (beds->how == WR_START_GIVEN) {
            const size_t group = plant->group_of[i];
            share = twin->definition->filters.items[group].start_shares.items[i - filter->group->first];
        }
        double length = run_length(twin, filter->group, rate);
        if (beds->how == WR_START_SPREAD) {
            length = fmin(length, full_rate_length(twin, filter->group, rate));
        }
        use_bed(filter, rate, rate > 0.0 && isfinite(length) ? share * length : 0.0, plant->raw[WR_SOLIDS]);
    }
}

static void start_stocks(struct twin *twin)
{
    const struct wr_definition *definition = twin->definition;
    twin->storage = definition->storage.start_level * definition->storage.volume;
    twin->wash_level = definition->wash_water.tank.start_level * definition->wash_water.tank.volume;
    for (size_t i = 0; i < definition->wells.count; i++) {
        twin->wells_called[i] = twin->storage < definition->wells.items[i].off_above * definition->storage.volume;
    }
    for (size_t i = 0; i < twin->plant->tank_count; i++) {
        const struct wr_spent_tank *tank = &definition->spent_wash.tanks.items[i];
        twin->tanks[i].volume = tank->volume;
        twin->tanks[i].level = tank->start_level * tank->volume;
    }
}

/* Clock --------------------------------------------------------------------------------------------------------------
 */

static void look_at_demand(struct twin *twin)
{
    const struct wr_signal *signal = &twin->plant->demand;
    const double hours = floor((signal->phase + twin->now) / 3600.0);
    twin->demand = signal->values[(size_t)hours % 24];
    twin->next_hour = (hours + 1.0) * 3600.0 - signal->phase;
}

static void look_at_outage(struct twin *twin, struct twin_filter *filter, bool out)
{
    if (!out) {
        filter->leaves = false;
        if (filter->mode == TWIN_OUT) {
            filter->mode = TWIN_SERVING;
            twin->waiting += filter->called;
        }
    } else if (filter->mode == TWIN_WASHING) {
        filter->leaves = true;
    } else if (filter->mode == TWIN_SERVING) {
        filter->mode = TWIN_OUT;
        filter->rate = 0.0;
        filter->above_since = WR_ABSENT;
        twin->waiting -= filter->called;
    }
}

static void look_at_outages(struct twin *twin)
{
    const struct wr_outages *outages = &twin->definition->outages;
    twin->next_outage = WR_NEVER;
    for (size_t i = 0; i < outages->count; i++) {
        const double from = outages->items[i].from, until = outages->items[i].until;
        if (from > twin->now) {
            twin->next_outage = fmin(twin->next_outage, from);
        } else if (until > twin->now) {
            twin->next_outage = fmin(twin->next_outage, until);
        }
    }
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        look_at_outage(twin, &twin->filters[i], is_out_at(twin->plant, i, twin->now));
    }
    twin->changed = true;
}

/* Spent-wash tanks ---------------------------------------------------------------------------------------------------
 */

/* A tank that stands still between washes settles when no further wash is sure of room, or after its wait; not at the
 * very time its wash ends, when one in line may follow into it. */
static bool is_to_settle(const struct twin *twin, const struct twin_tank *tank)
{
    if (tank->mode != TWIN_FILLING || tank->washes > 0 || tank->level <= 0.0) {
        return false;
    }
    return tank->volume - tank->level < twin->plant->largest_room * (1.0 - TWIN_SLACK) ||
           (twin->now > tank->since && twin->now >= tank->since + twin->definition->spent_wash.settling.start_after);
}

static void drop_sludge(struct twin *twin, struct twin_tank *tank)
{
    twin->result->volumes.sludge += tank->level;
    tank->level = tank->sludge = tank->solids = 0.0;
    tank->mode = TWIN_FILLING;
    twin->changed = true;
}

static void look_at_tank(struct twin *twin, struct twin_tank *tank)
{
    const struct wr_settling *settling = &twin->definition->spent_wash.settling;
    if (is_to_settle(twin, tank)) {
        tank->mode = TWIN_SETTLING;
        tank->since = twin->now;
    }
    if (tank->mode == TWIN_SETTLING && twin->now >= tank->since + settling->time) {
        tank->mode = TWIN_DECANTING;
        tank->since = twin->now;
        tank->sludge = settling->sludge_share * tank->level;
        twin->changed = true;
    }
    if (tank->mode == TWIN_DECANTING && tank->level - tank->sludge <= 1e-12 * tank->volume) {
        drop_sludge(twin, tank);
    }
}

/* Looks at all tanks that settle, and when next to look unless one runs dry or a wash ends before. */
static void look_at_tanks(struct twin *twin)
{
    const struct wr_settling *settling = &twin->definition->spent_wash.settling;
    twin->next_tank = WR_NEVER;
    if (settling->law != WR_SETTLING_CLOCK) {
        return;
    }
    for (size_t i = 0; i < twin->plant->tank_count; i++) {
        struct twin_tank *tank = &twin->tanks[i];
        look_at_tank(twin, tank);
        if (tank->mode == TWIN_SETTLING) {
            twin->next_tank = fmin(twin->next_tank, tank->since + settling->time);
        } else if (tank->mode == TWIN_FILLING && tank->washes == 0 && tank->level > 0.0) {
            twin->next_tank = fmin(twin->next_tank, tank->since + settling->start_after);
        }
    }
}

/* Washes -------------------------------------------------------------------------------------------------------------
 */

static void begin_step(struct twin *twin, struct twin_filter *filter)
{
    const struct wr_step *step = &filter->group->steps[filter->step];
    filter->step_left = step->duration;
    filter->rinse_left = step->feed_flow * step->duration;
    filter->rate = filter->wash_flow = 0.0;
    twin->changed = true;
}

static void end_wash(struct twin *twin, struct twin_filter *filter)
{
    filter->mode = filter->leaves ? TWIN_OUT : TWIN_SERVING;
    filter->leaves = false;
    filter->rate = filter->wash_flow = filter->volume = filter->hours = 0.0;
    twin->washing--;
    twin->changed = true;
    if (filter->tank < twin->plant->tank_count) {
        struct twin_tank *tank = &twin->tanks[filter->tank];
        tank->washes--;
        tank->since = twin->now;
        tank->booked = tank->washes == 0 ? 0.0 : tank->booked;
        twin->next_tank = twin->now;
    }
}

static bool is_step_over(const struct twin_filter *filter)
{
    const struct wr_step *step = &filter->group->steps[filter->step];
    if (step->feed_flow > 0.0) {
        return filter->rinse_left <= 1e-9 * step->feed_flow * step->duration;
    }
    return filter->step_left <= 1e-9;
}

static void look_at_steps(struct twin *twin)
{
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        if (filter->mode != TWIN_WASHING) {
            continue;
        }
        if (!is_step_over(filter)) {
            /* The last part of a backwash step may be shorter than dt. */
            twin->changed = twin->changed || filter->step_left < twin->dt;
            continue;
        }
        filter->step++;
        if (filter->step < filter->group->step_count) {
            begin_step(twin, filter);
        } else {
            end_wash(twin, filter);
        }
    }
}

/* The tank with the least room that is enough, of those that fill. */
static size_t find_tank(const struct twin *twin, double room)
{
    size_t best = twin->plant->tank_count;
    double least = WR_NEVER;
    for (size_t i = 0; i < twin->plant->tank_count; i++) {
        const struct twin_tank *tank = &twin->tanks[i];
        const double free = tank->volume - tank->level - tank->booked;
        if (tank->mode == TWIN_FILLING && free >= room * (1.0 - TWIN_SLACK) && free < least) {
            best = i;
            least = free;
        }
    }
    return best;
}

static bool comes_before(const struct twin *twin, const struct twin_filter *a, const struct twin_filter *b)
{
    if (twin->definition->wash.who_first == WR_FIRST_DIRTIEST) {
        if (fabs(a->load - b->load) > TWIN_SLACK * fmax(a->load, b->load)) {
            return a->load > b->load;
        }
    } else if (a->called_at != b->called_at) {
        return a->called_at < b->called_at;
    }
    return a->last_start < b->last_start;
}

static struct twin_filter *find_first(struct twin *twin)
{
    struct twin_filter *first = NULL;
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        if (filter->called && filter->mode == TWIN_SERVING && (!first || comes_before(twin, filter, first))) {
            first = filter;
        }
    }
    return first;
}

static bool list_start(struct twin *twin, const struct twin_filter *filter)
{
    struct twin_result *result = twin->result;
    if (result->start_count == result->start_room) {
        const size_t room = 2 * result->start_room + 64;
        struct twin_start *starts = realloc(result->starts, room * sizeof *starts);
        if (!starts) {
            return false;
        }
        result->starts = starts;
        result->start_room = room;
    }
    result->starts[result->start_count++] = (struct twin_start){twin->now, (size_t)(filter - twin->filters)};
    return true;
}

static void begin_wash(struct twin *twin, struct twin_filter *filter, size_t tank)
{
    const struct wr_group *group = filter->group;
    filter->mode = TWIN_WASHING;
    filter->called = filter->limited = false;
    filter->above_since = WR_ABSENT;
    filter->last_start = twin->last_start = twin->now;
    filter->solids_out = filter->load * group->area / group->wash_volume;
    filter->tank = tank;
    filter->step = 0;
    twin->waiting--;
    twin->washing++;
    twin->wash_booked += group->wash_volume;
    if (tank < twin->plant->tank_count) {
        twin->tanks[tank].booked += group->room;
        twin->tanks[tank].washes++;
    }
    begin_step(twin, filter);
}

/* Starts what may start, the first in line first. False when memory runs out. */
static bool decide(struct twin *twin)
{
    const struct wr_wash *wash = &twin->definition->wash;
    while (twin->waiting > 0) {
        struct twin_filter *filter = find_first(twin);
        const double water = filter->group->wash_volume;
        const bool has_water = twin->wash_level - twin->wash_booked >= water * (1.0 - TWIN_SLACK);
        const size_t tank = find_tank(twin, filter->group->room);
        twin->refilling = twin->refilling || !has_water;
        if (twin->now < twin->last_start + wash->min_between_starts || twin->washing >= wash->max_simultaneous ||
            !has_water || (twin->plant->tank_count > 0 && tank == twin->plant->tank_count)) {
            return true;
        }
        if (!list_start(twin, filter)) {
            return false;
        }
        begin_wash(twin, filter, tank);
    }
    return true;
}

/* Levels -------------------------------------------------------------------------------------------------------------
 */

static void look_at_levels(struct twin *twin)
{
    const double volume = twin->definition->storage.volume;
    for (size_t i = 0; i < twin->definition->wells.count; i++) {
        const struct wr_well *well = &twin->definition->wells.items[i];
        const bool called =
            twin->wells_called[i] ? twin->storage < well->off_above * volume : twin->storage <= well->on_below * volume;
        twin->changed = twin->changed || called != twin->wells_called[i];
        twin->wells_called[i] = called;
    }
    const struct wr_wash_tank *tank = &twin->definition->wash_water.tank;
    if (twin->wash_level < tank->refill_on_below * tank->volume) {
        twin->refilling = true;
    } else if (twin->wash_level >= tank->volume * (1.0 - 1e-12)) {
        /* A tank that is to be full at all times follows its draw. */
        twin->refilling = tank->refill_on_below >= 1.0;
    }
    if (twin->recycle + twin->sewer > 0.0) {
        const struct twin_tank *source = &twin->tanks[twin->source];
        const double left = source->level - source->sludge, out = twin->recycle + twin->sewer - source->inflow;
        twin->changed = twin->changed || left <= 0.0 || left < out * twin->dt;
        if (source->mode == TWIN_DECANTING && left <= 1e-12 * source->volume) {
            twin->next_tank = twin->now;
        }
    }
}

/* Beds ---------------------------------------------------------------------------------------------------------------
 */

static void call(struct twin *twin, struct twin_filter *filter)
{
    filter->called = true;
    filter->called_at = twin->now;
    twin->waiting++;
}

/* Whether the differential has been at its trigger for long enough. */
static bool is_differential_met(struct twin *twin, struct twin_filter *filter, double bed_head, double head)
{
    const struct wr_triggers *triggers = &twin->definition->wash.triggers;
    double seen = triggers->across == WR_ACROSS_BED ? bed_head : head;
    if (triggers->differential_as == WR_AS_CORRECTED) {
        seen *= filter->group->approved_rate / filter->rate;
    }
    if (!(seen >= triggers->differential * (1.0 - 1e-12))) {
        filter->above_since = WR_ABSENT;
        return false;
    }
    if (isnan(filter->above_since)) {
        filter->above_since = twin->now;
    }
    return twin->now - filter->above_since >= triggers->persistence;
}

static void look_at_bed(struct twin *twin, struct twin_filter *filter)
{
    const struct wr_triggers *triggers = &twin->definition->wash.triggers;
    const struct wr_group *group = filter->group;
    const double bed_head =
        wr_headloss_at(group->clean_linear + twin_resistance(twin, filter), group->clean_quadratic, filter->rate);
    const double head = bed_head + group->fittings_quadratic * filter->rate * filter->rate;
    twin->changed = twin->changed || filter->limited || head > group->available_head;
    if (!filter->called && (is_differential_met(twin, filter, bed_head, head) || filter->hours >= triggers->run_hours ||
                            filter->volume >= triggers->volume)) {
        call(twin, filter);
    }
}

static void look_at_beds(struct twin *twin)
{
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        if (filter->mode != TWIN_SERVING) {
            continue;
        }
        if (filter->rate > 0.0) {
            look_at_bed(twin, filter);
        } else {
            filter->above_since = WR_ABSENT;
        }
    }
}

/* One step on --------------------------------------------------------------------------------------------------------
 */

static void advance_finished_water(struct twin *twin)
{
    const struct wr_wash_tank *tank = &twin->definition->wash_water.tank;
    struct twin_volumes *volumes = &twin->result->volumes;
    const double dt = twin->dt, volume = twin->definition->storage.volume;
    const double room = twin->wash + (tank->volume - twin->wash_level) / dt;
    const double refill =
        twin->refilling ? fmin(twin->definition->wash_water.tank.refill_rate, fmin(twin->service, room)) : 0.0;
    twin->wash_level += (refill - twin->wash) * dt;
    twin->wash_booked -= twin->wash * dt;
    const double inflow = twin->service - refill;
    const double delivered = fmin(twin->demand, inflow + twin->storage / dt);
    twin->storage += (inflow - delivered) * dt;
    if (twin->storage > volume) {
        volumes->overflow += twin->storage - volume;
        twin->storage = volume;
    }
    volumes->delivered += delivered * dt;
}

/* Tanks are fully mixed: what leaves over the step is as what stands and comes, which also holds for an empty one. */
static void advance_tank(struct twin *twin, struct twin_tank *tank, double out)
{
    const double dt = twin->dt, content = tank->level + tank->inflow * dt, solids = tank->solids + tank->solids_in * dt;
    tank->booked -= tank->inflow * dt;
    tank->level = content - out * dt;
    tank->solids = solids;
    if (tank->mode == TWIN_FILLING && content > 0.0) {
        tank->solids *= tank->level / content;
    }
    if (tank->level > tank->volume) {
        twin->result->volumes.spilled += tank->level - tank->volume;
        tank->level = tank->volume;
    }
}

static void advance_beds(struct twin *twin)
{
    const double dt = twin->dt;
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        if (filter->rate > 0.0) {
            const double volume = filter->rate * dt;
            filter->load += volume * twin->feed_solids;
            filter->volume += volume;
            filter->hours += dt;
        }
        if (filter->mode == TWIN_WASHING) {
            filter->step_left -= dt;
            filter->rinse_left -= filter->rate * filter->group->area * dt;
            filter->load = fmax(0.0, filter->load - filter->wash_flow * dt * filter->solids_out / filter->group->area);
        }
    }
}

static void advance(struct twin *twin)
{
    struct twin_volumes *volumes = &twin->result->volumes;
    if (twin->mixing) {
        twin_mix_feed(twin);
    }
    if (twin->raw > 0.0 || twin->washing > 0) {
        advance_beds(twin);
    }
    advance_finished_water(twin);
    for (size_t i = 0; i < twin->plant->tank_count; i++) {
        const double out = i == twin->source ? twin->recycle + twin->sewer : 0.0;
        if (out > 0.0 || twin->tanks[i].inflow > 0.0) {
            advance_tank(twin, &twin->tanks[i], out);
        }
    }
    volumes->raw += twin->raw * twin->dt;
    volumes->recycled += twin->recycle * twin->dt;
    volumes->sewer += (twin->sewer + twin->to_sewer_direct) * twin->dt;
}

/* Looks at everything once, in the order of the rules. False when memory runs out. */
static bool look(struct twin *twin)
{
    if (twin->now >= twin->next_hour) {
        look_at_demand(twin);
    }
    if (twin->now >= twin->next_outage) {
        look_at_outages(twin);
    }
    if (twin->washing > 0) {
        look_at_steps(twin);
    }
    look_at_levels(twin);
    if (twin->now >= twin->next_tank) {
        look_at_tanks(twin);
    }
    look_at_beds(twin);
    return decide(twin);
}

/* Resistance per load of a straight deposit, worked out once; 0 for others. */
static double slope_of(const struct wr_plant *plant, const struct wr_group *group)
{
    return group->deposit.exponent > 1.0 ? 0.0 : wr_deposit_resistance(&group->deposit, 1.0, plant->viscosity);
}

static void twin_start_all(struct twin *twin, const struct wr_plant *plant, double dt, struct twin_result *result)
{
    *twin = (struct twin){.plant = plant, .definition = plant->definition, .dt = dt, .changed = true};
    twin->last_start = -WR_NEVER;
    twin->result = result;
    for (size_t i = 0; i < plant->filter_count; i++) {
        twin->filters[i].group = &plant->groups[plant->group_of[i]];
        twin->filters[i].above_since = WR_ABSENT;
        twin->filters[i].slope = slope_of(plant, twin->filters[i].group);
    }
    start_beds(twin);
    start_stocks(twin);
    look_at_demand(twin);
    look_at_outages(twin);
    twin_share(twin);
}

bool twin_run(const struct wr_plant *plant, double dt, double until, struct twin_result *result)
{
    *result = (struct twin_result){0};
    if (plant->filter_count > TWIN_FILTERS || plant->well_count > TWIN_WELLS || plant->tank_count > TWIN_TANKS ||
        plant->outage_count > TWIN_OUTAGES) {
        return false;
    }
    struct twin twin;
    twin_start_all(&twin, plant, dt, result);
    for (; twin.now < until; twin.now = (double)++result->steps * dt) {
        if (!look(&twin)) {
            return false;
        }
        if (twin.changed) {
            twin.changed = false;
            twin_share(&twin);
        }
        advance(&twin);
    }
    result->storage = twin.storage;
    result->wash_tank = twin.wash_level;
    for (size_t i = 0; i < plant->tank_count; i++) {
        result->tanks[i] = twin.tanks[i].level;
    }
    return true;
}

void twin_result_fini(struct twin_result *result)
{
    free(result->starts);
    *result = (struct twin_result){0};
}
