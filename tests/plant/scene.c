/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/plant/scene.h"

#include "models/solids.h"

#include <string.h>

/* Units of the trade, exact but for psi: head of fresh water at 1000 kg/m3 under standard gravity. */
static const double gallon = 3.785411784e-3, foot = 0.3048, psi = 6894.757293168 / 9806.65, milligram_a_litre = 1e-3;
static const double minute = 60.0, hour = 3600.0, day = 86400.0;

static void point_at_lists(struct scene *scene)
{
    struct wr_definition *plant = &scene->definition;
    plant->wells.items = scene->wells;
    plant->filters.items = scene->groups;
    plant->spent_wash.tanks.items = scene->tanks;
    plant->spent_wash.outlets.items = scene->outlets;
    plant->outages.items = scene->outages;
    for (size_t i = 0; i < SCENE_GROUPS; i++) {
        scene->groups[i].media.items = scene->layers[i];
        scene->groups[i].start_shares.items = scene->shares[i];
    }
    for (size_t i = 0; i < SCENE_OUTAGES; i++) {
        scene->outages[i].unit = scene->outage_units[i];
    }
}

static void leave_out_options(struct scene *scene)
{
    struct wr_definition *plant = &scene->definition;
    plant->raw_water.suspended_solids = plant->approved_capacity = WR_ABSENT;
    plant->wash.triggers.differential = plant->wash.triggers.run_hours = plant->wash.triggers.volume = WR_ABSENT;
    plant->wash.triggers.urgent_differential = plant->wash.fill_rate = WR_ABSENT;
    plant->wash.blowers = 1;
    plant->wash.washout_depth = plant->wash.clear_at = plant->recycle.max_blend_solids = WR_ABSENT;
    plant->spent_wash.settling.clear_at = WR_ABSENT;
    plant->spent_wash.settling.polymer_factor = 1;
    plant->wash.holding = (struct wr_holding){.volume = WR_ABSENT, .emptied_every = WR_ABSENT};
    for (size_t month = 0; month < 12; month++)
        plant->wash_water.temperature[month] = WR_ABSENT;
    plant->wash.rinse_rate = plant->wash_water.max_flow = plant->recycle.pump = WR_ABSENT;
    for (size_t i = 0; i < SCENE_GROUPS; i++) {
        struct wr_filter_group *group = &scene->groups[i];
        group->diameter = group->area = group->freeboard = group->fittings_headloss = WR_ABSENT;
        group->deposit.slope = group->deposit.reference_load = WR_ABSENT;
        group->cells = 1;
        group->deposit.exponent = 1.0;
        group->deposit.observed_run = (struct wr_observed_run){.rate = WR_ABSENT,
                                                               .flow = WR_ABSENT,
                                                               .hours = WR_ABSENT,
                                                               .volume = WR_ABSENT,
                                                               .iron = WR_ABSENT,
                                                               .manganese = WR_ABSENT,
                                                               .suspended_solids = WR_ABSENT,
                                                               .temperature = WR_ABSENT};
    }
    for (size_t i = 0; i < SCENE_OUTAGES; i++) {
        scene->outages[i].until = WR_ABSENT;
    }
}

void scene_init(struct scene *scene)
{
    memset(scene, 0, sizeof *scene);
    point_at_lists(scene);
    leave_out_options(scene);
}

static char *const town_wells[] = {"W1", "W2", "W3"};
static char *const town_tanks[] = {"T1", "T2"};

/* Low at night, with a morning and an evening peak. */
static const double town_hours[24] = {0.6, 0.6, 0.6, 0.6, 0.6, 0.9, 1.3, 1.5, 1.4, 1.2, 1.1, 1.1,
                                      1.1, 1.0, 1.0, 1.0, 1.1, 1.3, 1.4, 1.2, 0.9, 0.7, 0.6, 0.6};

static void town_supply(struct scene *scene)
{
    static const double on_below[] = {0.72, 0.66, 0.58}, off_above[] = {0.95, 0.92, 0.88};
    struct wr_definition *plant = &scene->definition;
    plant->demand.maximum_day = 0.36e6 * gallon / day;
    memcpy(plant->demand.hourly_factors, town_hours, sizeof town_hours);
    plant->storage = (struct wr_storage){250000.0 * gallon, 0.88, 0.40, 0.45};
    plant->wells.count = 3;
    for (size_t i = 0; i < 3; i++) {
        scene->wells[i] = (struct wr_well){.name = town_wells[i],
                                           .flow = 135.0 * gallon / minute,
                                           .on_below = on_below[i],
                                           .off_above = off_above[i],
                                           .iron = WR_ABSENT,
                                           .manganese = WR_ABSENT};
    }
    plant->raw_water = (struct wr_raw_water){.temperature = 283.15,
                                             .iron = 2.0 * milligram_a_litre,
                                             .manganese = 0.25 * milligram_a_litre,
                                             .suspended_solids = WR_ABSENT,
                                             .dry_solids_per_iron = WR_SOLIDS_PER_IRON,
                                             .dry_solids_per_manganese = WR_SOLIDS_PER_MANGANESE};
}

static void town_filters(struct scene *scene)
{
    struct wr_filter_group *group = &scene->groups[0];
    scene->definition.filters.count = 1;
    group->name = "F";
    group->filters = 3;
    group->diameter = 8.0 * foot;
    group->approved_rate = 3.0 * gallon / minute / (foot * foot);
    group->available_head = 12.0 * psi;
    group->deposit.has_observed_run = true;
    group->deposit.observed_run.clean_differential = 2.2 * psi;
    group->deposit.observed_run.dirty_differential = 8.0 * psi;
    group->deposit.observed_run.rate = group->approved_rate;
    group->deposit.observed_run.volume = 7200.0 * gallon / (foot * foot);
}

static void town_washes(struct scene *scene)
{
    struct wr_definition *plant = &scene->definition;
    struct wr_wash *wash = &plant->wash;
    wash->triggers.differential = 8.0 * psi;
    wash->triggers.differential_as = WR_AS_CORRECTED;
    wash->triggers.persistence = 2.0 * minute;
    wash->triggers.run_hours = 72.0 * hour;
    wash->backwash_rate = 12.0 * gallon / minute / (foot * foot);
    wash->backwash_time = 10.0 * minute;
    wash->ramp_time = minute;
    wash->bed_settle = 2.0 * minute;
    wash->rinse_time = 3.0 * minute;
    wash->valve_travel = minute;
    wash->max_simultaneous = 1;
    plant->wash_water.tank = (struct wr_wash_tank){9000.0 * gallon, 1.0, 60.0 * gallon / minute, 0.95};
}

static void town_spent_wash(struct scene *scene)
{
    struct wr_definition *plant = &scene->definition;
    plant->recycle = (struct wr_recycle){.pump = 13.5 * gallon / minute,
                                         .control = WR_RECYCLE_FIXED,
                                         .max_fraction = 0.10,
                                         .max_blend_solids = WR_ABSENT};
    plant->spent_wash.tanks.count = 2;
    for (size_t i = 0; i < 2; i++) {
        scene->tanks[i] = (struct wr_spent_tank){.name = town_tanks[i], .volume = 9000.0 * gallon, .depth = WR_ABSENT};
    }
    plant->spent_wash.settling = (struct wr_settling){.law = WR_SETTLING_CLOCK,
                                                      .time = 6.0 * hour,
                                                      .start_after = 2.0 * hour,
                                                      .sludge_share = 0.15,
                                                      .polymer_factor = 1,
                                                      .clear_at = WR_ABSENT};
    plant->spent_wash.outlets.count = 1;
    scene->outlets[0] =
        (struct wr_outlet){.kind = WR_OUTLET_RECYCLE, .rate = plant->recycle.pump, .daily_volume = WR_ABSENT};
}

void scene_small_town(struct scene *scene)
{
    scene_init(scene);
    scene->definition.horizon = 365.0 * day;
    town_supply(scene);
    town_filters(scene);
    town_washes(scene);
    town_spent_wash(scene);
}
