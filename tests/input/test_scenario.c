/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole scenarios: every member read, every default, there and back again. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/quantity.h"
#include "sim/scenario/read.h"
#include "sim/scenario/whole.h"
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

static void read_good(struct wr_reading *reading, const char *path)
{
    wr_reading_file(reading, path, NULL, 0);
    char *complaints = wr_reading_complaints_text(reading);
    check_text(complaints, "", path);
    check_true(reading->good, path);
    check_text(reading->file, path, "name of the file");
    free(complaints);
}

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
    is(d->approved_capacity, 0.6e6 * GALLON / DAY);
    check_count(d->outages.count, 2, "outages");
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
    is(d->wells.items[0].on_below, 0.72);
    is(d->wells.items[0].off_above, 0.95);
    check_text(d->wells.items[1].name, "W2", "named by its number");
    is(d->wells.items[1].flow, 30 / 3600.0);
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
    is(g->media.items[0].porosity, 0.48);
    is_absent(g->media.items[0].viscous_constant);
    is_absent(g->media.items[0].inertial_constant);
    check_text(g->media.items[1].medium, "crushed glass", "medium");
    is(g->media.items[1].depth, 0.3);
    is(g->media.items[1].grain_size, 0.0005);
    is(g->media.items[1].porosity, 0.42);
    is(g->media.items[1].viscous_constant, 160);
    is(g->media.items[1].inertial_constant, 1.9);
    is(g->fittings_headloss, 0.5 * PSI);
    is(g->approved_rate, 3 * GPM_FT2);
    is(g->available_head, 12 * PSI);
    check_count(g->at_available_head, WR_HEAD_FLOW_FALLS, "at available head");
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
    is_absent(g->fittings_headloss);
    is(g->approved_rate, 7 / 3600.0);
    is(g->available_head, 80 / 9.80665);
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

static void check_wash(const struct wr_wash *w)
{
    is(w->triggers.differential, 8 * PSI);
    check_count(w->triggers.differential_as, WR_AS_MEASURED, "differential as");
    check_count(w->triggers.across, WR_ACROSS_BED, "across");
    is(w->triggers.persistence, 180);
    is(w->triggers.run_hours, 72 * 3600);
    is(w->triggers.volume, 8000 * GALLON / (FOOT * FOOT));
    check_count(w->sequence, WR_TEMPLATE_PRESSURE, "template");
    is(w->backwash_rate, 12 * GPM_FT2);
    is(w->backwash_time, 660);
    is(w->ramp_time, 90);
    is(w->bed_settle, 180);
    is(w->rinse_rate, 6 / 3600.0);
    is(w->rinse_time, 240);
    is(w->valve_travel, 45);
    check_count(w->max_simultaneous, 2, "max simultaneous");
    is(w->min_between_starts, 1800);
    check_count(w->who_first, WR_FIRST_DIRTIEST, "who first");
}

static void check_wash_and_spent_water(const struct wr_definition *d)
{
    check_count(d->wash_water.source, WR_WATER_FROM_TANK, "source");
    is(d->wash_water.max_flow, 650 * GPM);
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
    check_count(d->spent_wash.settling.law, WR_SETTLING_CLOCK, "law");
    is(d->spent_wash.settling.time, 6 * 3600);
    is(d->spent_wash.settling.start_after, 3 * 3600);
    is(d->spent_wash.settling.sludge_share, 0.12);
    check_count(d->spent_wash.outlets.count, 2, "outlets");
    check_count(d->spent_wash.outlets.items[0].kind, WR_OUTLET_RECYCLE, "kind");
    is_absent(d->spent_wash.outlets.items[0].rate);
    check_count(d->spent_wash.outlets.items[1].kind, WR_OUTLET_SEWER, "kind");
    is(d->spent_wash.outlets.items[1].rate, 30 * GPM);
    is(d->recycle.pump, 13.5 * GPM);
    check_count(d->recycle.control, WR_RECYCLE_RATIO, "control");
    is(d->recycle.max_fraction, 0.08);
}

static void test_reads_every_member(void **state)
{
    struct wr_reading reading;

    (void)state;
    read_good(&reading, "tests/input/plant.json");
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

static void test_fills_in_defaults(void **state)
{
    struct wr_reading reading;

    (void)state;
    read_good(&reading, "tests/input/least.json");
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
    is(d->raw_water.temperature, 285.15);
    is_absent(d->raw_water.suspended_solids);
    is(d->raw_water.dry_solids_per_iron, 3.0);
    is(d->raw_water.dry_solids_per_manganese, 1.6);
    check_text(d->filters.items[0].name, "F", "name");
    is_absent(d->filters.items[0].fittings_headloss);
    is(d->filters.items[0].deposit.exponent, 1);
    check_count(d->filters.items[0].start_shares.count, 0, "start shares");
    check_count(d->start_beds.how, WR_START_SPREAD, "how beds start");
    is(d->start_beds.share, 0);
    is_absent(d->wash.triggers.differential);
    check_count(d->wash.triggers.differential_as, WR_AS_CORRECTED, "differential as");
    check_count(d->wash.triggers.across, WR_ACROSS_FILTER, "across");
    is(d->wash.triggers.persistence, 120);
    is_absent(d->wash.triggers.volume);
    check_count(d->wash.sequence, WR_TEMPLATE_PRESSURE, "template");
    is(d->wash.backwash_time, 600);
    is(d->wash.ramp_time, 60);
    is(d->wash.bed_settle, 120);
    is_absent(d->wash.rinse_rate);
    is(d->wash.rinse_time, 180);
    is(d->wash.valve_travel, 60);
    check_count(d->wash.max_simultaneous, 1, "max simultaneous");
    is(d->wash.min_between_starts, 0);
    check_count(d->wash.who_first, WR_FIRST_LONGEST_WAITING, "who first");
    is_absent(d->wash_water.max_flow);
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
    wr_reading_file(&reading, "tests/input/least.json", settings, 1);
    check_true(reading.good, "good");
    is(reading.definition.storage.low_mark, 0.35);
    wr_reading_fini(&reading);
}

/* Every number bit for bit, settings included. */
static void test_there_and_back(void **state)
{
    static const char *const settings[] = {
        "/raw_water/dry_solids_per_iron=0.1",
        "/raw_water/dry_solids_per_manganese=1.7976931348623157",
        "/demand/hourly_factors/0=5e-324",
        "/demand/hourly_factors/1=0.30000000000000004",
        "/demand/hourly_factors/2=1.1234567890123457e-7",
        "/seed=9007199254740991",
        "/title=\"quotes \\\" and \\u00e9\"",
        "/note=kept",
        "/outages/-={\"unit\": \"F2\", \"from\": \"2026-03-04\"}",
    };
    struct wr_reading first;
    struct wr_reading second;

    (void)state;
    wr_reading_file(&first, "tests/input/plant.json", settings, sizeof settings / sizeof settings[0]);
    check_true(first.good, "good");
    check(first.definition.demand.hourly_factors[0], 5e-324, 0, "a setting's number");
    check_text(first.definition.title, "quotes \" and \xc3\xa9", "a setting's text");
    check_count(first.definition.outages.count, 3, "an item added");
    char *text = wr_reading_scenario_text(&first);
    wr_reading_text(&second, "again", text, strlen(text), NULL, 0);
    check_true(second.good, "good again");
    check_true(wr_definition_equal(&first.definition, &second.definition), "the same definition");
    char *again = wr_reading_scenario_text(&second);
    check_text(again, text, "the same text");
    free(again);
    free(text);
    wr_reading_fini(&first);
    wr_reading_fini(&second);
}

#define OTHER_DEPOSIT                                                                                                  \
    "/filters/0/deposit={\"observed_run\": {\"clean_differential\": \"2 psi\", "                                       \
    "\"dirty_differential\": \"8 psi\", \"rate\": \"3 gal/min/ft2\", \"hours\": \"40 h\"}}"

/* Each member changed by a setting is told from the plant without it. */
static void test_equal_sees_every_change(void **state)
{
    static const char *const settings[] = {"/title=x",
                                           "/start=2026-03-01",
                                           "/horizon=61 d",
                                           "/seed=8",
                                           "/units=us",
                                           "/demand/hourly_factors/23=0.5",
                                           "/wells/1/name=x",
                                           "/filters/0/media/1/depth=0.31 m",
                                           "/filters/0/start_shares/1=51 %",
                                           "/filters/1/deposit/observed_run/iron=1.9 mg/L",
                                           "/wash/max_simultaneous=1",
                                           "/wash/who_first=longest_waiting",
                                           "/outages=[]",
                                           "/outages/0/until=2026-03-05 18:31",
                                           "/spent_wash/tanks/-={\"volume\": \"1 m3\"}",
                                           OTHER_DEPOSIT};
    struct wr_reading plain;

    (void)state;
    read_good(&plain, "tests/input/plant.json");
    for (size_t i = 0; i < sizeof settings / sizeof settings[0]; i++) {
        struct wr_reading changed;
        wr_reading_file(&changed, "tests/input/plant.json", &settings[i], 1);
        check_true(changed.good, settings[i]);
        check_true(!wr_definition_equal(&plain.definition, &changed.definition), settings[i]);
        check_true(!wr_definition_equal(&changed.definition, &plain.definition), settings[i]);
        wr_reading_fini(&changed);
    }
    wr_reading_fini(&plain);
}

static void test_copies_own_what_they_hold(void **state)
{
    struct wr_reading reading;
    struct wr_definition copy;

    (void)state;
    read_good(&reading, "tests/input/plant.json");
    wr_definition_copy(&reading.definition, &copy);
    check_true(wr_definition_equal(&reading.definition, &copy), "the same");
    check_true(copy.wells.items != reading.definition.wells.items, "lists of its own");
    check_true(copy.wells.items[0].name != reading.definition.wells.items[0].name, "texts of its own");
    wr_reading_fini(&reading);
    check_text(copy.filters.items[0].media.items[1].medium, "crushed glass", "outlives the original");
    wr_definition_fini(&copy);
}

static void close_all(void)
{
    wr_quantities_free();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_reads_every_member),       cmocka_unit_test(test_fills_in_defaults),
        cmocka_unit_test(test_low_mark_follows_reserve), cmocka_unit_test(test_there_and_back),
        cmocka_unit_test(test_equal_sees_every_change),  cmocka_unit_test(test_copies_own_what_they_hold),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    close_all();
    return failed;
}
