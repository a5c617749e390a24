/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands in a plant's definition where its scenario says nothing. */
#include <math.h>

#include "sim/scenario/quantity.h"
#include "tests/input/edit.h"
#include "tests/support/check.h"

#define DAY 86400.0

#define is(member, expected) check_share((member), (expected), 4e-15, #member)
#define is_absent(member) check_true(isnan(member), #member)

static void check_defaults_of_wash(const struct wr_wash *w)
{
    is_absent(w->triggers.differential);
    check_count(w->triggers.differential_as, WR_AS_CORRECTED, "differential as");
    check_count(w->triggers.across, WR_ACROSS_FILTER, "across");
    is(w->triggers.persistence, 120);
    is_absent(w->triggers.volume);
    is_absent(w->triggers.urgent_differential);
    check_count(w->sequence, WR_TEMPLATE_PRESSURE, "template");
    is(w->backwash_time, 600);
    is(w->ramp_time, 60);
    is(w->bed_settle, 120);
    is_absent(w->rinse_rate);
    is(w->rinse_time, 180);
    is(w->valve_travel, 60);
    is(w->drain_depth, 0);
    is(w->drain_time, 0);
    is(w->air_time, 0);
    is_absent(w->fill_rate);
    is(w->filter_down_depth, 0);
    is(w->filter_down_time, 0);
    is(w->regenerant_depth, 0);
    is(w->regenerate_time, 0);
    is(w->rinse_at_start, 0);
    check_count(w->rinse_to, WR_RINSE_TO_SPENT, "rinse to");
    is_absent(w->washout_depth);
    is_absent(w->clear_at);
    is_absent(w->holding.volume);
    check_count(w->max_simultaneous, 1, "max simultaneous");
    is(w->min_between_starts, 0);
    check_count(w->who_first, WR_FIRST_LONGEST_WAITING, "who first");
    check_count(w->window.count, 0, "window");
    check_count(w->rota.count, 0, "rota");
    check_count(w->min_filters_in_service, 0, "min filters in service");
    is(w->storage_lockout, 0);
    check_count(w->blowers, 1, "blowers");
    check_count(w->when_plant_stopped, WR_STOPPED_START_WELL, "when plant stopped");
    check_count(w->on_interrupt, WR_INTERRUPT_FINISH_WEAK, "on interrupt");
    check_count(w->attended.count, 0, "attended");
}

static void check_layer(const struct wr_media_layer *layer)
{
    is_absent(layer->uniformity);
    is_absent(layer->coarse_size);
    check_count(layer->sieves.count, 0, "sieves");
    is_absent(layer->specific_gravity);
    is_absent(layer->sphericity);
    is_absent(layer->porosity);
}

static void test_fills_in_defaults(void **state)
{
    struct wr_reading reading;

    (void)state;
    wr_edit_read(&reading, LEAST);
    const struct wr_definition *d = &reading.definition;
    check_text(d->title, NULL, "title");
    check_text(d->question, NULL, "question");
    is(d->start, 20458 * DAY);
    is(d->horizon, 30 * DAY);
    is(d->seed, 1);
    check_count(d->units, WR_UNITS_US, "units");
    for (size_t i = 0; i < 24; i++)
        is(d->demand.hourly_factors[i], 1);
    is(d->storage.start_level, 0.9);
    is(d->storage.reserve, 0);
    is(d->storage.low_mark, 0);
    check_text(d->wells.items[0].name, "W1", "name");
    check_count(d->wells.items[0].drive, WR_DRIVE_FIXED, "drive");
    is(d->wells.items[0].least_flow, 0);
    is(d->wells.items[0].minimum_run, 0);
    is(d->wells.items[0].minimum_rest, 0);
    is_absent(d->wells.items[0].iron);
    is_absent(d->wells.items[0].manganese);
    is(d->raw_water.temperature, 285.15);
    is_absent(d->raw_water.suspended_solids);
    is_absent(d->filters.items[0].freeboard);
    check_layer(&d->filters.items[0].media.items[0]);
    is(d->raw_water.dry_solids_per_iron, 3.0);
    is(d->raw_water.dry_solids_per_manganese, 1.6);
    check_text(d->filters.items[0].name, "F", "name");
    is_absent(d->filters.items[0].fittings_headloss);
    check_count(d->filters.items[0].cells, 1, "cells per vessel");
    check_count(d->filters.items[0].at_available_head, WR_HEAD_FLOW_FALLS, "at available head");
    is(d->filters.items[0].deposit.exponent, 1);
    check_count(d->filters.items[0].start_shares.count, 0, "start shares");
    check_count(d->start_beds.how, WR_START_SPREAD, "how beds start");
    is(d->start_beds.share, 0);
    check_count(d->over_approved_rate, WR_OVER_DROP_WELL, "over approved rate");
    check_defaults_of_wash(&d->wash);
    check_count(d->wash_water.source, WR_WATER_FROM_TANK, "source");
    is_absent(d->wash_water.draw_limit);
    is_absent(d->wash_water.max_flow);
    is_absent(d->wash_water.temperature[0]);
    is_absent(d->wash_water.temperature[11]);
    is(d->wash_water.tank.start_level, 1);
    is(d->wash_water.tank.refill_on_below, 1);
    check_count(d->spent_wash.tanks.count, 0, "tanks");
    check_count(d->spent_wash.settling.law, WR_SETTLING_NONE, "law");
    is(d->spent_wash.settling.start_after, 7200);
    is(d->spent_wash.settling.sludge_share, 0.15);
    check_count(d->spent_wash.outlets.count, 0, "outlets");
    is_absent(d->recycle.pump);
    check_count(d->recycle.control, WR_RECYCLE_FIXED, "control");
    is(d->recycle.max_fraction, 0.1);
    check_count(d->outages.count, 0, "outages");
    is_absent(d->approved_capacity);
    wr_reading_fini(&reading);
}

/* The low mark follows the reserve where it is left out. */
static void test_low_mark_follows_reserve(void **state)
{
    static const char *const settings[] = {"/storage/reserve=35 %"};
    struct wr_reading reading;

    (void)state;
    wr_reading_file(&reading, LEAST, settings, 1);
    check_true(reading.good, "good");
    is(reading.definition.storage.low_mark, 0.35);
    wr_reading_fini(&reading);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_fills_in_defaults),
        cmocka_unit_test(test_low_mark_follows_reserve),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    wr_quantities_free();
    return failed;
}
