/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole scenarios: every member read. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/parameter.h"
#include "sim/scenario/quantity.h"
#include "sim/scenario/read.h"
#include "tests/input/edit.h"
#include "tests/support/check.h"

/* Exact by definition: NIST Special Publication 811 (2008), appendix B. */
#define FOOT 0.3048
#define INCH 0.0254
#define GALLON 3.785411784e-3
#define PSI (0.45359237 * 9.80665 / (INCH * INCH) / (1000 * 9.80665)) /* m of water */
#define GPM (GALLON / 60)
#define GPM_FT2 (GPM / (FOOT * FOOT))
#define DAY 86400.0

#define is(member, expected) check_share((member), (expected), 4e-15, #member)
#define is_absent(member) check_true(isnan(member), #member)

static void check_run(const struct wr_definition *d)
{
    static const double factors[] = {0.6, 0.6, 0.6, 0.6, 0.6, 0.9, 1.3, 1.5, 1.4, 1.2, 1.1, 1.1,
                                     1.1, 1.0, 1.0, 1.0, 1.1, 1.3, 1.4, 1.2, 0.9, 0.7, 0.6, 0.6};

    check_text(d->title, "Three filters", "title");
    check_text(d->question, "Is it filters that the town lacks?", "question");
    is(d->start, 20513 * DAY + 6 * 3600); /* 2026-03-01 is day 20513: 20458 + 55 */
    is(d->horizon, 60 * DAY);
    is(d->seed, 7);
    check_count(d->units, WR_UNITS_SI, "units");
    is(d->demand.maximum_day, 0.36e6 * GALLON / DAY);
    for (size_t i = 0; i < 24; i++)
        is(d->demand.hourly_factors[i], factors[i]);
    is(d->storage.volume, 250000 * GALLON);
    is(d->storage.start_level, 0.85);
    is(d->storage.reserve, 0.4);
    is(d->storage.low_mark, 0.45);
    check_count(d->flow_split, WR_SPLIT_RATE_CONTROLLED, "flow split");
    check_count(d->over_approved_rate, WR_OVER_THROTTLE, "over approved rate");
    is(d->approved_capacity, 0.6e6 * GALLON / DAY);
    assert_int_equal(d->fails_if.count, 2);
    assert_int_equal(d->fails_if.items[0].finding, WR_FAILS_IF_STORAGE_LOW);
    assert_int_equal(d->fails_if.items[1].finding, WR_FAILS_IF_RINSE_SHORT);
    check_count(d->outages.count, 7, "outages");
    check_text(d->outages.items[0].unit, "F3", "unit");
    is(d->outages.items[0].from, DAY - 6 * 3600);
    is(d->outages.items[0].until, 4 * DAY + 12.5 * 3600);
    check_text(d->outages.items[1].unit, "F1", "unit");
    is(d->outages.items[1].from, -28.25 * DAY);
    is_absent(d->outages.items[1].until);
}

static void check_water(const struct wr_definition *d)
{
    check_count(d->wells.count, 2, "wells");
    check_text(d->wells.items[0].name, "North", "name");
    is(d->wells.items[0].flow, 135 * GPM);
    check_count(d->wells.items[0].drive, WR_DRIVE_VARIABLE, "drive");
    is(d->wells.items[0].least_flow, 60 * GPM);
    is(d->wells.items[0].minimum_run, 3600);
    is(d->wells.items[0].minimum_rest, 1800);
    is(d->wells.items[0].iron, 0.0019);
    is(d->wells.items[0].manganese, 0.0003);
    is(d->wells.items[0].on_below, 0.72);
    is(d->wells.items[0].off_above, 0.95);
    check_text(d->wells.items[1].name, "W2", "named by its number");
    is(d->wells.items[1].flow, 30 / 3600.0);
    check_count(d->wells.items[1].drive, WR_DRIVE_FIXED, "drive");
    is(d->wells.items[1].least_flow, 0);
    is(d->wells.items[1].on_below, 0.66);
    is(d->wells.items[1].off_above, 0.92);
    is(d->raw_water.temperature, 284.15);
    is(d->raw_water.iron, 0.002);
    is(d->raw_water.manganese, 0.00025);
    is(d->raw_water.suspended_solids, 0.0064);
    is(d->raw_water.dry_solids_per_iron, 2.9);
    is(d->raw_water.dry_solids_per_manganese, 1.5);
}

static void check_first_group(const struct wr_filter_group *g)
{
    check_text(g->name, "F", "name");
    check_count(g->filters, 2, "count");
    is(g->diameter, 8 * FOOT);
    is_absent(g->area);
    check_count(g->media.count, 2, "layers");
    check_text(g->media.items[0].medium, "anthracite", "medium");
    is(g->media.items[0].depth, 18 * INCH);
    is(g->media.items[0].grain_size, 0.0009);
    is(g->media.items[0].uniformity, 1.4);
    is(g->media.items[0].coarse_size, 0.0015);
    check_count(g->media.items[0].sieves.count, 0, "sieves");
    is(g->media.items[0].porosity, 0.48);
    is(g->media.items[0].specific_gravity, 1.62);
    is(g->media.items[0].sphericity, 0.55);
    is_absent(g->media.items[0].viscous_constant);
    is_absent(g->media.items[0].inertial_constant);
    check_text(g->media.items[1].medium, "crushed glass", "medium");
    is(g->media.items[1].depth, 0.3);
    is_absent(g->media.items[1].grain_size);
    is_absent(g->media.items[1].uniformity);
    is_absent(g->media.items[1].coarse_size);
    is_absent(g->media.items[1].specific_gravity);
    is_absent(g->media.items[1].sphericity);
    check_count(g->media.items[1].sieves.count, 3, "sieves");
    is(g->media.items[1].sieves.items[2].opening, 0.001);
    is(g->media.items[1].sieves.items[2].passing, 0.96);
    is(g->media.items[1].porosity, 0.42);
    is(g->media.items[1].viscous_constant, 160);
    is(g->media.items[1].inertial_constant, 1.9);
    is(g->freeboard, 0.6);
    is(g->fittings_headloss, 0.5 * PSI);
    is(g->approved_rate, 3 * GPM_FT2);
    is(g->available_head, 12 * PSI);
    check_count(g->at_available_head, WR_HEAD_LEAVES_SERVICE, "at available head");
    check_count(g->cells, 2, "cells per vessel");
    is(g->deposit.slope, 2.17);
    is(g->deposit.exponent, 1.5);
    is(g->deposit.reference_load, 1.9);
    check_true(!g->deposit.has_observed_run, "no observed run");
    is_absent(g->deposit.observed_run.clean_differential);
    is_absent(g->deposit.observed_run.temperature);
    check_count(g->start_shares.count, 2, "start shares");
    is(g->start_shares.items[0], 0);
    is(g->start_shares.items[1], 0.5);
}

static void check_second_group(const struct wr_filter_group *g)
{
    const struct wr_observed_run *run = &g->deposit.observed_run;

    check_count(g->filters, 1, "count");
    is_absent(g->diameter);
    is(g->area, 50 * FOOT * FOOT);
    check_count(g->media.count, 0, "layers");
    is_absent(g->freeboard);
    is_absent(g->fittings_headloss);
    is(g->approved_rate, 7 / 3600.0);
    is(g->available_head, 80 / 9.80665);
    check_count(g->at_available_head, WR_HEAD_ALARM_ONLY, "at available head");
    check_count(g->cells, 1, "cells per vessel");
    is_absent(g->deposit.slope);
    is(g->deposit.exponent, 1.25);
    is_absent(g->deposit.reference_load);
    check_true(g->deposit.has_observed_run, "observed run");
    is(run->clean_differential, 2.2 * PSI);
    is(run->dirty_differential, 8 * PSI);
    is_absent(run->rate);
    is(run->flow, 150 * GPM);
    is_absent(run->hours);
    is(run->volume, 7200 * GALLON / (FOOT * FOOT));
    is(run->iron, 0.0018);
    is(run->manganese, 0.0002);
    is(run->suspended_solids, 0.006);
    is(run->temperature, (50 + 459.67) / 1.8);
    check_count(g->start_shares.count, 1, "start shares");
    is(g->start_shares.items[0], 0.1);
}

static void check_hours(const struct wr_hours_list *hours, size_t item, enum wr_days days, double from, double until)
{
    check_true(item < hours->count, "hours are there");
    check_count(hours->items[item].days, days, "days");
    is(hours->items[item].from, from * 3600);
    is(hours->items[item].until, until * 3600);
}

static void check_steps(const struct wr_wash *w)
{
    check_count(w->sequence, WR_TEMPLATE_GRAVITY, "template");
    is(w->backwash_rate, 12 * GPM_FT2);
    is(w->backwash_time, 660);
    is(w->ramp_time, 90);
    is(w->bed_settle, 180);
    is(w->rinse_rate, 6 / 3600.0);
    is(w->rinse_time, 240);
    is(w->valve_travel, 45);
    is(w->drain_depth, 0.3);
    is(w->drain_time, 300);
    is(w->air_time, 240);
    is(w->fill_rate, 12 / 3600.0);
    is(w->filter_down_depth, 20 * INCH);
    is(w->filter_down_time, 600);
    is(w->regenerant_depth, 0);
    is(w->regenerate_time, 0);
    is(w->rinse_at_start, 300);
    check_count(w->rinse_to, WR_RINSE_TO_SEWER, "rinse to");
    is(w->washout_depth, 25 * GALLON / (FOOT * FOOT));
    is(w->clear_at, 0.03);
    is_absent(w->holding.volume);
}

static void check_rules_of_washes(const struct wr_wash *w)
{
    check_count(w->max_simultaneous, 2, "max simultaneous");
    is(w->min_between_starts, 1800);
    check_count(w->who_first, WR_FIRST_DIRTIEST, "who first");
    check_count(w->window.count, 2, "window");
    check_hours(&w->window, 0, WR_DAYS_WEEKDAYS, 7, 16.5);
    check_hours(&w->window, 1, WR_DAYS_EVERY_DAY, 22, 0);
    check_count(w->rota.count, 2, "rota");
    check_text(w->rota.items[0].filter, "F2", "filter");
    is(w->rota.items[0].first, DAY + 2 * 3600);
    is(w->rota.items[0].every, 3 * DAY);
    check_text(w->rota.items[1].filter, "F3", "filter");
    is(w->rota.items[1].first, -1.25 * DAY);
    is_absent(w->rota.items[1].every);
    check_count(w->min_filters_in_service, 1, "min filters in service");
    is(w->storage_lockout, 0.42);
    check_count(w->blowers, 2, "blowers");
    check_count(w->when_plant_stopped, WR_STOPPED_WAIT, "when plant stopped");
    check_count(w->on_interrupt, WR_INTERRUPT_HOLD, "on interrupt");
    check_count(w->attended.count, 1, "attended");
    check_hours(&w->attended, 0, WR_DAYS_SUNDAY, 0, 24);
}

static void check_wash(const struct wr_wash *w)
{
    is(w->triggers.differential, 8 * PSI);
    check_count(w->triggers.differential_as, WR_AS_MEASURED, "differential as");
    check_count(w->triggers.across, WR_ACROSS_BED, "across");
    is(w->triggers.persistence, 180);
    is(w->triggers.run_hours, 72 * 3600);
    is(w->triggers.volume, 8000 * GALLON / (FOOT * FOOT));
    is(w->triggers.urgent_differential, 10 * PSI);
    check_steps(w);
    check_rules_of_washes(w);
}

static void check_sludge(const struct wr_definition *d)
{
    const struct wr_sludge_definition *sludge = &d->spent_wash.sludge;

    check_true(d->spent_wash.has_blanket, "a blanket is kept");
    is(sludge->fresh_solids, 0.002);
    is(sludge->thickened_solids, 0.015);
    is(sludge->thickening_time, 2 * 86400);
    check_count(sludge->drawn, WR_SLUDGE_EACH_DECANT, "drawn");
    is(sludge->volume, 300 * GALLON);
    is(sludge->level, 0.25);
    is(sludge->every, 7 * 86400);
    check_count(sludge->to, WR_SLUDGE_TO_HAUL, "to");
}

static void check_wash_and_spent_water(const struct wr_definition *d)
{
    check_count(d->wash_water.source, WR_WATER_FROM_TANK, "source");
    is(d->wash_water.max_flow, 650 * GPM);
    is(d->wash_water.temperature[0], 273.15 + 8);
    is(d->wash_water.temperature[6], 273.15 + 14);
    is(d->wash_water.temperature[11], 273.15 + 15 / 1.8);
    is_absent(d->wash_water.draw_limit);
    is(d->wash_water.tank.volume, 9000 * GALLON);
    is(d->wash_water.tank.start_level, 0.95);
    is(d->wash_water.tank.refill_rate, 60 * GPM);
    is(d->wash_water.tank.refill_on_below, 0.9);
    check_count(d->spent_wash.tanks.count, 2, "tanks");
    check_text(d->spent_wash.tanks.items[0].name, "West", "name");
    is(d->spent_wash.tanks.items[0].volume, 9000 * GALLON);
    is(d->spent_wash.tanks.items[0].start_level, 0.05);
    check_text(d->spent_wash.tanks.items[1].name, "T2", "named by its number");
    is(d->spent_wash.tanks.items[1].volume, 35);
    is(d->spent_wash.tanks.items[1].start_level, 0);
    is(d->spent_wash.tanks.items[0].depth, 8 * FOOT);
    is(d->spent_wash.tanks.items[1].depth, 2.5);
    check_count(d->spent_wash.settling.law, WR_SETTLING_CLOCK, "law");
    is(d->spent_wash.settling.time, 6 * 3600);
    is(d->spent_wash.settling.start_after, 3 * 3600);
    is(d->spent_wash.settling.sludge_share, 0.12);
    is(d->spent_wash.settling.polymer_factor, 2);
    is(d->spent_wash.settling.clear_at, 0.015);
    check_count(d->spent_wash.settling.draw_off, WR_DRAW_FIXED, "draw-off");
    is(d->spent_wash.settling.draw_height, FOOT);
    check_sludge(d);
    check_count(d->spent_wash.outlets.count, 2, "outlets");
    check_count(d->spent_wash.outlets.items[0].kind, WR_OUTLET_RECYCLE, "kind");
    is_absent(d->spent_wash.outlets.items[0].rate);
    check_count(d->spent_wash.outlets.items[1].kind, WR_OUTLET_SEWER, "kind");
    is(d->spent_wash.outlets.items[1].rate, 30 * GPM);
    check_count(d->spent_wash.outlets.items[0].hours.count, 0, "hours");
    is_absent(d->spent_wash.outlets.items[0].daily_volume);
    check_count(d->spent_wash.outlets.items[1].hours.count, 1, "hours");
    check_hours(&d->spent_wash.outlets.items[1].hours, 0, WR_DAYS_WEEKENDS, 24 - 1 / 60.0, 6);
    is(d->spent_wash.outlets.items[1].daily_volume, 20);
    check_true(!d->spent_wash.outlets.items[0].emergency && d->spent_wash.outlets.items[1].emergency, "emergency");
    is(d->recycle.pump, 13.5 * GPM);
    check_count(d->recycle.control, WR_RECYCLE_RATIO, "control");
    is(d->recycle.max_fraction, 0.08);
    is(d->recycle.max_blend_solids, 0.02);
}

static void test_reads_every_member(void **state)
{
    struct wr_reading reading;

    (void)state;
    wr_edit_read(&reading, PLANT);
    check_run(&reading.definition);
    check_water(&reading.definition);
    check_count(reading.definition.filters.count, 2, "filter groups");
    check_first_group(&reading.definition.filters.items[0]);
    check_second_group(&reading.definition.filters.items[1]);
    check_count(reading.definition.start_beds.how, WR_START_GIVEN, "how beds start");
    is(reading.definition.start_beds.share, 0);
    check_wash(&reading.definition.wash);
    check_wash_and_spent_water(&reading.definition);
    wr_reading_fini(&reading);
}

#define ZONE                                                                                                           \
    "/spent_wash/settling={\"law\": \"zone\", \"zone\": {\"velocity\": \"3 m/h\", \"hindrance\": \"2 L/g\", "          \
    "\"greatest_concentration\": \"18 g/L\"}}"

/* Members that stand only where others do not, and words that the plant above has no place for. */
static void test_reads_what_fits_elsewhere(void **state)
{
    static const char *const settings[] = {
        "/wash_water={\"source\": \"system\", \"draw_limit\": \"640 gal/min\"}",
        "/wash/template=batch_regeneration",
        "/wash/drain_depth=0 m",
        "/wash/drain_time=0 s",
        "/wash/air_time=0 s",
        "/wash/filter_down_depth=0 m",
        "/wash/filter_down_time=0 s",
        "/wash/regenerant_depth=10 gal/ft2",
        "/wash/regenerate_time=20 min",
        "/wash/holding={\"volume\": \"3000 gal\", \"emptied_every\": \"7 d\"}",
        "/wash/when_plant_stopped=rinse_at_next_start",
        ZONE,
        "/wash/window/0/days=saturday",
        "/over_approved_rate=rate_rises",
        "/spent_wash/outlets/0={\"kind\": \"haul\", \"rate\": \"5 m3/h\"}",
        "/spent_wash/outlets/1/kind=pond",
        "/outages=[]",
    };
    char *text = wr_edit_file(PLANT);
    char *without = wr_edit_replace(text, "\"fill_rate\": \"12 m/h\",", "");
    struct wr_reading reading;

    (void)state;
    wr_reading_text(&reading, PLANT, without, strlen(without), settings, sizeof settings / sizeof settings[0]);
    char *complaints = wr_reading_complaints_text(&reading);
    check_text(complaints, "", "elsewhere");
    const struct wr_definition *d = &reading.definition;
    check_count(d->wash_water.source, WR_WATER_FROM_SYSTEM, "source");
    is(d->wash_water.draw_limit, 640 * GPM);
    is_absent(d->wash_water.tank.volume);
    check_count(d->wash.sequence, WR_TEMPLATE_BATCH_REGENERATION, "template");
    is(d->wash.regenerant_depth, 10 * GALLON / (FOOT * FOOT));
    is(d->wash.regenerate_time, 1200);
    is(d->wash.holding.volume, 3000 * GALLON);
    is(d->wash.holding.emptied_every, 7 * 86400);
    check_count(d->wash.when_plant_stopped, WR_STOPPED_RINSE_AT_NEXT_START, "when plant stopped");
    check_count(d->wash.window.items[0].days, WR_DAYS_SATURDAY, "days");
    check_count(d->spent_wash.settling.law, WR_SETTLING_ZONE, "law");
    check_count(d->spent_wash.settling.zone.flux, WR_ZONE_VESILIND, "flux");
    is(d->spent_wash.settling.zone.velocity, 3.0 / 3600);
    is(d->spent_wash.settling.zone.hindrance, 2);
    is(d->spent_wash.settling.zone.exponent, 4.65);
    is(d->spent_wash.settling.zone.concentration, 18);
    check_count(d->over_approved_rate, WR_OVER_RATE_RISES, "over approved rate");
    check_count(d->spent_wash.outlets.items[0].kind, WR_OUTLET_HAUL, "kind");
    check_count(d->spent_wash.outlets.items[1].kind, WR_OUTLET_POND, "kind");
    free(complaints);
    free(without);
    free(text);
    wr_reading_fini(&reading);
}

/* The table's words stand in the order of the plant's enumerations: each word reads as its own. */
static void test_words_stand_for_themselves(void **state)
{
    static const char *const sources[] = {"tank", "storage", "filters", "wells", "system"};
    static const enum wr_water_source as[] = {WR_WATER_FROM_TANK, WR_WATER_FROM_STORAGE, WR_WATER_FROM_FILTERS,
                                              WR_WATER_FROM_WELLS, WR_WATER_FROM_SYSTEM};
    static const char *const days[] = {"every_day", "weekdays", "weekends", "monday",   "tuesday",
                                       "wednesday", "thursday", "friday",   "saturday", "sunday"};

    (void)state;
    for (size_t i = 0; i < sizeof as / sizeof as[0]; i++)
        check_text(wr_table_find("/wash_water/source")->choices[as[i]], sources[i], sources[i]);
    for (size_t i = 0; i <= WR_DAYS_SUNDAY; i++)
        check_text(wr_table_find("/wash/window/0/days")->choices[i], days[i], days[i]);
    const char *const *words = wr_table_find("/wash/template")->choices;
    check_text(words[WR_TEMPLATE_PRESSURE_AIR], "pressure_air", "template");
    check_text(words[WR_TEMPLATE_GRAVITY], "gravity", "template");
    check_text(words[WR_TEMPLATE_BATCH_REGENERATION], "batch_regeneration", "template");
    check_text(wr_table_find("/spent_wash/outlets/0/kind")->choices[WR_OUTLET_HAUL], "haul", "kind");
    check_text(wr_table_find("/spent_wash/outlets/0/kind")->choices[WR_OUTLET_POND], "pond", "kind");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_reads_every_member),
        cmocka_unit_test(test_reads_what_fits_elsewhere),
        cmocka_unit_test(test_words_stand_for_themselves),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    wr_quantities_free();
    return failed;
}
