/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The twin's wells: who is called, who may run, how far each is throttled. */
#include "tests/plant/twin_state.h"

void twin_look_at_levels(struct twin *twin)
{
    const double volume = twin->definition->storage.volume;
    for (size_t i = 0; i < twin->plant->well_count; i++) {
        const struct wr_well *rules = &twin->definition->wells.items[i];
        struct twin_well *well = &twin->wells[i];
        const bool called =
            well->called ? twin->storage < rules->off_above * volume : twin->storage <= rules->on_below * volume;
        twin->changed = twin->changed || called != well->called;
        well->called = called;
    }
    const bool full = twin->storage >= volume * (1.0 - 1e-12), empty = twin->storage <= volume * 1e-12;
    twin->changed = twin->changed || full || empty || full != twin->full || empty != twin->empty;
    twin->full = full;
    twin->empty = empty;
    const struct wr_wash_tank *tank = &twin->definition->wash_water.tank;
    if (twin->definition->wash_water.source != WR_WATER_FROM_TANK) {
        return;
    }
    if (twin->wash_level < tank->refill_on_below * tank->volume) {
        twin->refilling = true;
    } else if (twin->wash_level >= tank->volume * (1.0 - 1e-12)) {
        /* A tank that is to be full at all times follows its draw. */
        twin->refilling = tank->refill_on_below >= 1.0;
    }
}

/* Flow of a well that is let run within some room, m3/s: whole, or throttled where that is the rule. */
double twin_well_flow(const struct twin *twin, size_t well, double room)
{
    const struct wr_well *rules = &twin->definition->wells.items[well];
    const bool throttles =
        twin->definition->over_approved_rate == WR_OVER_THROTTLE && rules->drive == WR_DRIVE_VARIABLE;
    if (twin_fits(rules->flow, room)) {
        return rules->flow;
    }
    return throttles && twin_fits(rules->least_flow, room) ? fmax(0.0, room) : 0.0;
}

static bool rests(const struct twin *twin, size_t well)
{
    return !twin->wells[well].running &&
           twin->now < twin->wells[well].stopped + twin->definition->wells.items[well].minimum_rest;
}

static bool must_run_on(const struct twin *twin, size_t well)
{
    return twin->wells[well].running &&
           twin->now < twin->wells[well].started + twin->definition->wells.items[well].minimum_run;
}

/* `beside` is what rinses and washes take before the filters, `asked` what wells run for though nothing calls them. */
void twin_run_wells(struct twin *twin, double beside, double asked)
{
    const double limit = fmin(twin->capacity + beside, twin->plant->approved_capacity);
    twin->raw = 0.0;
    for (size_t i = 0; i < twin->plant->well_count; i++) {
        twin->wells[i].flow = 0.0;
        twin->wells[i].runs = false;
    }
    for (int for_washes = 0; for_washes <= 1; for_washes++) {
        for (size_t i = 0; i < twin->plant->well_count; i++) {
            struct twin_well *well = &twin->wells[i];
            const bool wanted = for_washes ? !twin_fits(asked, twin->raw) && !rests(twin, i)
                                           : (well->called ? !rests(twin, i) : must_run_on(twin, i));
            if (!well->runs && !well->out && wanted) {
                well->flow = twin_well_flow(twin, i, limit - twin->raw);
                well->runs = well->flow > 0.0;
                twin->raw += well->flow;
            }
        }
    }
    twin_mix_wells(twin);
}

void twin_mix_wells(struct twin *twin)
{
    double solids = 0.0;
    for (size_t i = 0; i < twin->plant->well_count; i++) {
        solids += twin->wells[i].flow * twin->plant->well_water[i][WR_SOLIDS];
    }
    twin->raw_solids = twin->raw > 0.0 ? solids / twin->raw : twin->plant->raw[WR_SOLIDS];
}

/* Flow by which the wells that run could be throttled, m3/s. */
double twin_most_throttled(const struct twin *twin)
{
    double most = 0.0;
    for (size_t i = 0; i < twin->plant->well_count; i++) {
        const struct wr_well *rules = &twin->definition->wells.items[i];
        if (rules->drive == WR_DRIVE_VARIABLE && twin->wells[i].flow > 0.0) {
            most += twin->wells[i].flow - rules->least_flow;
        }
    }
    return most;
}

/* Throttles wells by some flow as far as they let, the last first. */
void twin_throttle(struct twin *twin, double less)
{
    for (size_t i = twin->plant->well_count; i-- > 0 && less > 0.0;) {
        const struct wr_well *rules = &twin->definition->wells.items[i];
        struct twin_well *well = &twin->wells[i];
        if (rules->drive == WR_DRIVE_VARIABLE && well->flow > 0.0) {
            const double part = fmin(less, well->flow - rules->least_flow);
            well->flow -= part;
            twin->raw -= part;
            less -= part;
        }
    }
    twin_mix_wells(twin);
}

/* Notes who has started and stopped, and when next a rest or a least run has passed. */
void twin_note_wells(struct twin *twin)
{
    bool runs = false;
    twin->next_well = HUGE_VAL;
    for (size_t i = 0; i < twin->plant->well_count; i++) {
        const struct wr_well *rules = &twin->definition->wells.items[i];
        struct twin_well *well = &twin->wells[i];
        const bool running = well->runs; /* though it were throttled to nothing */
        if (running && !well->running) {
            well->started = twin->now;
        }
        if (!running && well->running) {
            well->stopped = twin->now;
        }
        well->running = running;
        runs = runs || running;
        const double passes = running ? well->started + rules->minimum_run : well->stopped + rules->minimum_rest;
        twin->next_well = passes > twin->now ? fmin(twin->next_well, passes) : twin->next_well;
    }
    twin->starts = runs && !twin->runs;
    twin->runs = runs;
}
