/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a run of the twin begins: beds used as the scenario says, stocks at their levels. */
#include "tests/plant/twin_state.h"

/* Rate at which beds are taken to have been used before the start, m/s; 0 where no filter is in service. */
static double rate_before(const struct twin *twin)
{
    double area = 0.0, least = HUGE_VAL;
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        const struct twin_filter *filter = &twin->filters[i];
        if (filter->mode != TWIN_OUT) {
            least = fmin(least, filter->group->approved_rate);
            area += filter->group->area;
        }
    }
    return area > 0.0 ? fmin(least, twin->definition->demand.maximum_day / area) : 0.0;
}

/* Length of a run at a steady rate, s: to whichever trigger comes first. */
static double run_length(const struct twin *twin, const struct wr_group *group, double rate)
{
    const struct wr_triggers *triggers = &twin->definition->wash.triggers;
    double length = HUGE_VAL;
    if (wr_is_given(triggers->run_hours)) {
        length = triggers->run_hours;
    }
    if (wr_is_given(triggers->volume)) {
        length = fmin(length, triggers->volume / rate);
    }
    /* The urgent level, which is not below the differential, calls where that does not. */
    const double level = wr_is_given(triggers->differential) ? triggers->differential : triggers->urgent_differential;
    if (wr_is_given(level)) {
        const double correction = triggers->differential_as == WR_AS_CORRECTED ? group->approved_rate / rate : 1.0;
        const double quadratic =
            group->clean_quadratic + (triggers->across == WR_ACROSS_BED ? 0.0 : group->fittings_quadratic);
        const double resistance = level / correction / rate - quadratic * rate - group->clean_linear;
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
    const double rate = rate_before(twin);
    size_t place = 0, in_service = 0;
    for (size_t i = 0; i < plant->filter_count; i++) {
        in_service += twin->filters[i].mode != TWIN_OUT;
    }
    for (size_t i = 0; i < plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        double share = beds->share;
        if (beds->how == WR_START_SPREAD) {
            share = filter->mode == TWIN_OUT ? 0.0 : (double)place++ / (double)in_service;
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
    const double volume = definition->storage.volume;
    twin->storage = twin->storage_before = definition->storage.start_level * volume;
    twin->wash_level = definition->wash_water.tank.start_level * definition->wash_water.tank.volume;
    for (size_t i = 0; i < definition->wells.count; i++) {
        twin->wells[i].called = twin->storage < definition->wells.items[i].off_above * volume;
        twin->wells[i].started = twin->wells[i].stopped = -HUGE_VAL;
    }
    for (size_t i = 0; i < twin->plant->tank_count; i++) {
        const struct wr_spent_tank *tank = &definition->spent_wash.tanks.items[i];
        twin->tanks[i].volume = tank->volume;
        twin->tanks[i].level = tank->start_level * tank->volume;
    }
}

/* The first date of each entry of the rota that is not before the start. */
static void start_rota(struct twin *twin)
{
    const struct wr_rota *rota = &twin->definition->wash.rota;
    for (size_t i = 0; i < rota->count; i++) {
        const double first = rota->items[i].first, every = rota->items[i].every;
        twin->rota_next[i] = first >= 0.0         ? first
                             : wr_is_given(every) ? first + ceil(-first / every) * every
                                                  : HUGE_VAL;
    }
}

void twin_begin(struct twin *twin)
{
    const struct wr_definition *definition = twin->definition;
    twin->last_start = -HUGE_VAL;
    twin->next_haul = wr_is_given(definition->wash.holding.volume) ? definition->wash.holding.emptied_every : HUGE_VAL;
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        const size_t group = twin->plant->group_of[i], cells = definition->filters.items[group].cells;
        filter->group = &twin->plant->groups[group];
        filter->at_head = definition->filters.items[group].at_available_head;
        filter->cells = cells > 0 ? cells : 1;
        filter->first_cell = i - (i - filter->group->first) % filter->cells;
        filter->above_since = WR_ABSENT;
        filter->slope = filter->group->deposit.exponent > 1.0
                            ? 0.0
                            : wr_deposit_resistance(&filter->group->deposit, 1.0, twin->plant->viscosity);
    }
    twin->next_sludge = definition->spent_wash.sludge.every;
    start_rota(twin);
    twin_look_at_clock(twin);
    start_beds(twin);
    start_stocks(twin);
}
