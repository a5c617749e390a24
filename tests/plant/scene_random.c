/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/headloss.h"
#include "models/solids.h"
#include "models/vessel.h"
#include "sim/engine/philox.h"
#include "tests/plant/scene.h"

#include <assert.h>
#include <stdio.h>

static const double minute = 60.0, hour = 3600.0, day = 86400.0;

/* What is being drawn, and sizes that later draws go by. */
struct draft {
    struct scene *scene;
    gsl_rng rng;
    size_t filters;
    double capacity;     /* m3/s at the approved rates, all filters in service */
    double largest_area; /* m2 */
    double wash_volume;  /* m3, of the largest wash */
    double largest_room; /* m3, backwash and rinse */
    double least_rate;   /* m/s, approved */
    double clean_head;   /* m at the approved rate, the highest of the groups */
    double least_head;   /* m available */
};

static double between(struct draft *draft, double least, double most)
{
    return least + (most - least) * gsl_rng_uniform(&draft->rng);
}

static bool one_in(struct draft *draft, unsigned long n)
{
    return gsl_rng_uniform_int(&draft->rng, n) == 0;
}

static size_t pick(struct draft *draft, size_t least, size_t most)
{
    return least + gsl_rng_uniform_int(&draft->rng, (unsigned long)(most - least + 1));
}

/* Whole multiples of a step: people write round numbers, and round numbers make things fall together. */
static double round_between(struct draft *draft, double least, double most, double step)
{
    return step * floor(between(draft, least, most) / step + 0.5);
}

static void draw_raw_water(struct draft *draft)
{
    struct wr_raw_water *raw = &draft->scene->definition.raw_water;
    raw->temperature = round_between(draft, 276.15, 300.15, 0.5);
    raw->iron = between(draft, 0.3e-3, one_in(draft, 2) ? 12e-3 : 4e-3);
    raw->manganese = between(draft, 0.0, 0.6e-3);
    raw->dry_solids_per_iron = WR_SOLIDS_PER_IRON;
    raw->dry_solids_per_manganese = WR_SOLIDS_PER_MANGANESE;
    if (one_in(draft, 4)) {
        raw->suspended_solids = between(draft, 1e-3, 30e-3);
    }
}

/* Draws a bed and returns its clean head at the approved rate, m. */
static double draw_media(struct draft *draft, struct wr_filter_group *group)
{
    struct wr_layer layers[SCENE_LAYERS];
    group->media.count = pick(draft, 1, SCENE_LAYERS);
    for (size_t i = 0; i < group->media.count; i++) {
        const struct wr_media_layer layer = {.medium = "sand",
                                             .depth = round_between(draft, 0.2, 0.6, 0.05),
                                             .grain_size = between(draft, 0.4e-3, 1.2e-3),
                                             .porosity = between(draft, 0.4, 0.52),
                                             .viscous_constant = between(draft, 110, 240),
                                             .inertial_constant = between(draft, 2, 5)};
        group->media.items[i] = layer;
        layers[i] = (struct wr_layer){layer.depth, layer.grain_size, layer.porosity, layer.viscous_constant,
                                      layer.inertial_constant};
    }
    struct wr_water water;
    double linear = 0.0, quadratic = 0.0;
    const bool fine = wr_water_at(draft->scene->definition.raw_water.temperature, &water) == WR_OK &&
                      wr_headloss_clean(layers, group->media.count, water, &linear, &quadratic) == WR_OK;
    assert(fine);
    (void)fine;
    return wr_headloss_at(linear, quadratic, group->approved_rate);
}

/* A run that was observed, at the approved rate or a flow near it; its clean head is above what bed and fittings give
 * at that rate. Returns the clean head at the approved rate, not less than it is. */
static double draw_observed_run(struct draft *draft, struct wr_filter_group *group, double area, double known_head)
{
    struct wr_observed_run *run = &group->deposit.observed_run;
    const struct wr_raw_water *raw = &draft->scene->definition.raw_water;
    double share = 1.0;
    group->deposit.has_observed_run = true;
    if (one_in(draft, 3)) {
        share = between(draft, 0.7, 1.2);
        run->flow = share * group->approved_rate * area;
    } else {
        run->rate = group->approved_rate;
    }
    run->clean_differential = (1.15 * known_head + between(draft, 0.1, 1.0)) * fmax(share, share * share);
    run->dirty_differential = run->clean_differential + between(draft, 1.0, 6.0);
    const double solids =
        wr_is_given(raw->suspended_solids) ? raw->suspended_solids : 3.0 * raw->iron + 1.6 * raw->manganese;
    const double volume = between(draft, 0.3, 2.5) / solids; /* that is 0.3 to 2.5 kg/m2 */
    if (one_in(draft, 2)) {
        run->hours = volume / (share * group->approved_rate);
    } else {
        run->volume = volume;
    }
    if (one_in(draft, 3)) {
        run->temperature = raw->temperature + between(draft, -3.0, 5.0);
    }
    return run->clean_differential / fmin(share, share * share) * 1.2;
}

static void draw_deposit(struct draft *draft, struct wr_filter_group *group, double area)
{
    double head = one_in(draft, 2) ? draw_media(draft, group) : 0.0;
    if (one_in(draft, 3)) {
        group->fittings_headloss = between(draft, 0.0, 0.4);
        head += group->fittings_headloss;
    }
    if (one_in(draft, 3)) {
        group->deposit.exponent = round_between(draft, 1.0, 3.0, 0.5);
    }
    if (group->media.count == 0 || one_in(draft, 2)) {
        head = draw_observed_run(draft, group, area, head);
    } else {
        group->deposit.slope = between(draft, 0.3, 6.0);
        group->deposit.reference_load = between(draft, 0.5, 3.0);
    }
    group->available_head = head + between(draft, 1.0, 8.0);
    draft->clean_head = fmax(draft->clean_head, head);
    draft->least_head = fmin(draft->least_head, group->available_head);
}

static void draw_group(struct draft *draft, size_t number, size_t filters)
{
    struct wr_filter_group *group = &draft->scene->groups[number];
    group->name = number == 0 ? "F" : "G";
    group->filters = filters;
    double area = round_between(draft, 1.0, 12.0, 0.5);
    if (one_in(draft, 2)) {
        group->diameter = round_between(draft, 1.2, 3.6, 0.1);
        const enum wr_status status = wr_vessel_area(group->diameter, &area);
        assert(status == WR_OK);
        (void)status;
    } else {
        group->area = area;
    }
    group->approved_rate = round_between(draft, 3.0, 12.0, 0.5) / hour;
    draw_deposit(draft, group, area);
    group->start_shares.count = filters;
    for (size_t i = 0; i < filters; i++) {
        group->start_shares.items[i] = round_between(draft, 0.0, 1.0, 0.1);
    }
    draft->capacity += (double)filters * area * group->approved_rate;
    draft->largest_area = fmax(draft->largest_area, area);
    draft->least_rate = fmin(draft->least_rate, group->approved_rate);
}

static void draw_filters(struct draft *draft)
{
    struct wr_definition *plant = &draft->scene->definition;
    draft->filters = pick(draft, 1, SCENE_FILTERS);
    plant->filters.count = draft->filters > 1 && one_in(draft, 3) ? 2 : 1;
    const size_t second = plant->filters.count == 2 ? pick(draft, 1, draft->filters - 1) : 0;
    draft->least_rate = draft->least_head = HUGE_VAL;
    draw_group(draft, 0, draft->filters - second);
    if (second > 0) {
        draw_group(draft, 1, second);
    }
    plant->start_beds.how = (int)pick(draft, WR_START_SPREAD, WR_START_GIVEN);
    plant->start_beds.share = round_between(draft, 0.0, 1.0, 0.1);
}

static void draw_triggers(struct draft *draft)
{
    struct wr_triggers *triggers = &draft->scene->definition.wash.triggers;
    const size_t which = pick(draft, 1, 7);
    if (which & 1) {
        triggers->differential = fmin(draft->least_head, draft->clean_head + between(draft, 0.1, 4.0));
        triggers->differential_as = one_in(draft, 2) ? WR_AS_CORRECTED : WR_AS_MEASURED;
        triggers->across = one_in(draft, 3) ? WR_ACROSS_BED : WR_ACROSS_FILTER;
        triggers->persistence = one_in(draft, 2) ? 0.0 : round_between(draft, 30.0, 1800.0, 30.0);
    }
    if (which & 2) {
        triggers->run_hours = round_between(draft, 6.0 * hour, 72.0 * hour, hour);
    }
    if (which & 4) {
        triggers->volume = round_between(draft, 20.0, 250.0, 5.0);
    }
}

static void draw_washes(struct draft *draft)
{
    struct wr_wash *wash = &draft->scene->definition.wash;
    wash->backwash_rate = round_between(draft, 20.0, 50.0, 1.0) / hour;
    wash->backwash_time = round_between(draft, 4.0 * minute, 15.0 * minute, 30.0);
    wash->ramp_time = one_in(draft, 3) ? 0.0 : round_between(draft, 10.0, 90.0, 10.0);
    wash->bed_settle = one_in(draft, 3) ? 0.0 : round_between(draft, minute, 10.0 * minute, minute);
    if (one_in(draft, 2)) {
        wash->rinse_rate = between(draft, 0.3, 1.0) * draft->least_rate;
    }
    wash->rinse_time = one_in(draft, 4) ? 0.0 : round_between(draft, minute, 20.0 * minute, minute);
    wash->valve_travel = one_in(draft, 4) ? 0.0 : round_between(draft, 15.0, 120.0, 15.0);
    wash->max_simultaneous = pick(draft, 1, 3);
    wash->min_between_starts = one_in(draft, 2) ? 0.0 : round_between(draft, minute, 6.0 * hour, minute);
    wash->who_first = one_in(draft, 2) ? WR_FIRST_DIRTIEST : WR_FIRST_LONGEST_WAITING;
    draft->wash_volume = wash->backwash_rate * wash->backwash_time * draft->largest_area;
    /* No group's approved rate is above 12 m/h. */
    const double rinse = wr_is_given(wash->rinse_rate) ? wash->rinse_rate : 12.0 / hour;
    draft->largest_room = draft->wash_volume + rinse * wash->rinse_time * draft->largest_area;
}

static void draw_wash_water(struct draft *draft)
{
    struct wr_wash_water *water = &draft->scene->definition.wash_water;
    water->tank.volume = draft->wash_volume * (one_in(draft, 4) ? 1.0 : between(draft, 1.0, 3.5));
    water->tank.start_level = round_between(draft, 0.0, 1.0, 0.1);
    water->tank.refill_rate = draft->wash_volume / round_between(draft, 0.2 * hour, 6.0 * hour, 0.1 * hour);
    water->tank.refill_on_below = one_in(draft, 2) ? 1.0 : round_between(draft, 0.2, 0.95, 0.05);
    if (one_in(draft, 2)) {
        water->max_flow = 2.0 * draft->wash_volume / minute;
    }
}

static void draw_outlets(struct draft *draft)
{
    struct wr_definition *plant = &draft->scene->definition;
    const size_t which = pick(draft, 0, 3);
    const struct wr_outlet sewer = {.kind = WR_OUTLET_SEWER,
                                    .rate = draft->largest_room / between(draft, 0.5 * hour, 20.0 * hour),
                                    .daily_volume = WR_ABSENT};
    plant->recycle.pump = between(draft, 0.01, 0.25) * draft->capacity;
    plant->recycle.control = one_in(draft, 2) ? WR_RECYCLE_RATIO : WR_RECYCLE_FIXED;
    plant->recycle.max_fraction = round_between(draft, 0.05, 0.25, 0.05);
    const struct wr_outlet recycle = {
        .kind = WR_OUTLET_RECYCLE, .rate = plant->recycle.pump, .daily_volume = WR_ABSENT};
    draft->scene->outlets[0] = which & 1 ? recycle : sewer;
    draft->scene->outlets[1] = which & 1 ? sewer : recycle;
    plant->spent_wash.outlets.count = which & 2 ? 2 : 1;
    if (which == 0) { /* to the sewer only */
        plant->recycle.pump = WR_ABSENT;
    }
}

static void draw_spent_wash(struct draft *draft)
{
    static char *const names[] = {"T1", "T2", "T3"};
    struct wr_spent_wash *spent = &draft->scene->definition.spent_wash;
    spent->tanks.count = pick(draft, 0, SCENE_TANKS);
    if (spent->tanks.count == 0) {
        return;
    }
    for (size_t i = 0; i < spent->tanks.count; i++) {
        const double size = one_in(draft, 4) ? 1.0 : between(draft, 1.0, 3.0);
        spent->tanks.items[i] =
            (struct wr_spent_tank){.name = names[i],
                                   .volume = size * draft->largest_room,
                                   .start_level = one_in(draft, 2) ? 0.0 : round_between(draft, 0.0, 1.0, 0.1),
                                   .depth = WR_ABSENT};
    }
    if (one_in(draft, 2)) {
        spent->settling = (struct wr_settling){
            .law = WR_SETTLING_CLOCK,
            .time = round_between(draft, 0.5 * hour, 10.0 * hour, 0.5 * hour),
            .start_after = one_in(draft, 4) ? 0.0 : round_between(draft, 5.0 * minute, 5.0 * hour, 5.0 * minute),
            .sludge_share = one_in(draft, 4) ? 0.0 : between(draft, 0.02, 0.4),
            .polymer_factor = 1,
            .clear_at = WR_ABSENT};
    }
    draw_outlets(draft);
}

static void draw_storage(struct draft *draft)
{
    struct wr_storage *storage = &draft->scene->definition.storage;
    storage->volume = draft->capacity * (one_in(draft, 4) ? between(draft, 0.3 * hour, 3.0 * hour)
                                                          : between(draft, 3.0 * hour, 48.0 * hour));
    storage->start_level = round_between(draft, 0.0, 1.0, 0.05);
    storage->reserve = round_between(draft, 0.0, 0.5, 0.05);
    storage->low_mark = fmin(1.0, storage->reserve + round_between(draft, 0.0, 0.2, 0.05));
}

static void draw_wells(struct draft *draft)
{
    static char *const names[] = {"W1", "W2", "W3", "W4"};
    struct wr_wells *wells = &draft->scene->definition.wells;
    wells->count = pick(draft, 1, SCENE_WELLS);
    const double mean = draft->capacity * between(draft, 0.4, 1.6) / (double)wells->count;
    for (size_t i = 0; i < wells->count; i++) {
        const double on_below = round_between(draft, 0.2, 0.9, 0.05);
        wells->items[i] = (struct wr_well){.name = names[i],
                                           .flow = mean * (one_in(draft, 2) ? 1.0 : between(draft, 0.6, 1.4)),
                                           .iron = WR_ABSENT,
                                           .manganese = WR_ABSENT,
                                           .on_below = on_below,
                                           .off_above = fmin(1.0, on_below + between(draft, 0.02, 0.4))};
    }
}

static void draw_demand(struct draft *draft)
{
    struct wr_demand *demand = &draft->scene->definition.demand;
    demand->maximum_day = draft->capacity * between(draft, 0.05, one_in(draft, 3) ? 2.0 : 0.9);
    const size_t shape = pick(draft, 0, 2);
    for (size_t i = 0; i < 24; i++) {
        demand->hourly_factors[i] = shape == 0   ? 1.0
                                    : shape == 1 ? round_between(draft, 0.5, 1.5, 0.1)
                                                 : round_between(draft, -1.0, 3.0, 0.5);
        demand->hourly_factors[i] = fmax(0.0, demand->hourly_factors[i]);
    }
    demand->hourly_factors[8] = 1.2; /* never all zero */
}

static void draw_outages(struct draft *draft)
{
    struct wr_definition *plant = &draft->scene->definition;
    plant->outages.count = one_in(draft, 2) ? 0 : pick(draft, 1, draft->filters < 2 ? 1 : SCENE_OUTAGES);
    const size_t first = pick(draft, 0, draft->filters - 1), in_group = draft->scene->groups[0].filters;
    for (size_t i = 0; i < plant->outages.count; i++) {
        const size_t filter = (first + i) % draft->filters;
        struct wr_outage *outage = &draft->scene->outages[i];
        snprintf(outage->unit, SCENE_NAME, "%c%zu", filter < in_group ? 'F' : 'G',
                 filter < in_group ? filter + 1 : filter - in_group + 1);
        outage->from = one_in(draft, 3) ? 0.0 : round_between(draft, 0.0, plant->horizon, 10.0 * minute);
        outage->until =
            one_in(draft, 3) ? WR_ABSENT : outage->from + round_between(draft, 10.0 * minute, 6.0 * day, 10.0 * minute);
    }
}

void scene_random(struct scene *scene, uint64_t seed)
{
    struct wr_philox philox;
    struct draft draft = {.scene = scene, .rng = {wr_rng_philox, &philox}};
    wr_philox_open(&draft.rng, (struct wr_stream){.seed = seed});
    scene_init(scene);
    scene->definition.start = round_between(&draft, 0.0, day, hour);
    scene->definition.horizon = round_between(&draft, 5.0 * day, 20.0 * day, hour);
    draw_raw_water(&draft);
    draw_filters(&draft);
    draw_triggers(&draft);
    draw_washes(&draft);
    draw_wash_water(&draft);
    draw_spent_wash(&draft);
    draw_storage(&draft);
    draw_wells(&draft);
    draw_demand(&draft);
    draw_outages(&draft);
    if (one_in(&draft, 4)) {
        scene->definition.approved_capacity = between(&draft, 0.3, 1.1) * draft.capacity;
    }
}
