/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The event simulation against the twin, which goes in fixed steps and shares no code with it.
 *
 * The twin sees everything late by less than a step, and each wash starts from what it saw before. So its wash starts
 * must be those of the event simulation, in the same order, off by a few steps at most, and off by less as the step
 * shrinks, in proportion. This holds as long as no decision falls the other way: two filters that call within a step of
 * each other, or a tank that empties within a step of a call, may change places, and from then on the two histories
 * differ. On random plants such flips are counted.
 *
 * At available head the event simulation holds rates over stretches in which resistance rises by a hundredth; that is
 * its own error, which no step of the twin takes away. There starts are compared up to the first such stretch.
 */
#include "sim/plant/simulation.h"
#include "tests/plant/scene.h"
#include "tests/plant/twin.h"
#include "tests/support/check.h"

#include <math.h>
#include <stdio.h>

enum { MOST_STARTS = 4096 };

/* Wash starts of an event simulation. */
struct starts {
    struct twin_start list[MOST_STARTS];
    size_t count;
    double head_reached; /* s, the first time that a filter reached its available head */
};

static void see_event(void *context, const struct wr_simulation *simulation, const struct wr_event *event)
{
    (void)simulation;
    struct starts *starts = context;
    if (event->kind == WR_EVENT_WASH_STARTED) {
        assert_true(starts->count < MOST_STARTS);
        starts->list[starts->count++] = (struct twin_start){event->time, event->where};
    } else if (event->kind == WR_EVENT_HEAD_REACHED) {
        starts->head_reached = fmin(starts->head_reached, event->time);
    }
}

static double line_water(const struct wr_simulation *simulation, enum wr_line line)
{
    double water = 0.0;
    for (size_t tank = 0; tank < simulation->plant->tank_count + WR_BEYOND_TANKS; tank++) {
        if (tank < simulation->plant->tank_count || line < WR_LINE_TANK) {
            water += wr_ledger_line(simulation->plant, simulation->state, line, tank)->water;
        }
        if (line < WR_LINE_TANK) {
            break;
        }
    }
    return water;
}

/* Runs a plant's events for a time, s; with volumes also what the twin counts. */
static void run_events(const struct wr_plant *plant, double until, struct starts *starts, struct twin_volumes *volumes)
{
    struct wr_simulation simulation;
    const struct wr_observer observer = {.context = starts, .event = see_event};
    starts->count = 0;
    starts->head_reached = WR_NEVER;
    assert_true(wr_simulation_init(&simulation, plant, &observer));
    check_count(wr_simulation_run(&simulation, until), WR_ENGINE_OK, "status of an event run");
    wr_simulation_end(&simulation);
    if (volumes) {
        struct wr_entry spilled, none;
        wr_ledger_turnover(plant, simulation.state, WR_ACCOUNT_SPILL, &spilled, &none);
        *volumes = (struct twin_volumes){.raw = line_water(&simulation, WR_LINE_RAW),
                                         .recycled = line_water(&simulation, WR_LINE_RECYCLE),
                                         .delivered = line_water(&simulation, WR_LINE_DELIVERED),
                                         .overflow = line_water(&simulation, WR_LINE_OVERFLOW),
                                         .sewer = line_water(&simulation, WR_LINE_TO_SEWER),
                                         .sludge = line_water(&simulation, WR_LINE_SLUDGE),
                                         .spilled = spilled.water};
    }
    wr_simulation_fini(&simulation);
}

/* How far two lists of starts go together. */
struct agreement {
    size_t compared; /* starts of the same filters, before `until` */
    double worst;    /* s between them */
    bool flipped;    /* then another filter, or a time that no few steps explain */
};

/* Compares starts before a time. Those that differ by more than `most` (s) count as flipped. */
static struct agreement compare(const struct starts *events, const struct twin_result *twin, double until, double most)
{
    struct agreement agreement = {0};
    for (size_t i = 0; i < events->count && events->list[i].time < until; i++) {
        const bool there = i < twin->start_count && twin->starts[i].filter == events->list[i].filter;
        const double off = there ? fabs(twin->starts[i].time - events->list[i].time) : WR_NEVER;
        if (off > most) {
            /* A start within reach of the end may fall behind it. */
            agreement.flipped = events->list[i].time < until - most;
            return agreement;
        }
        agreement.compared++;
        agreement.worst = fmax(agreement.worst, off);
    }
    const size_t next = agreement.compared;
    agreement.flipped = next < twin->start_count && twin->starts[next].time < until - most;
    return agreement;
}

/* The small town -----------------------------------------------------------------------------------------------------
 */

static void check_volumes(const struct twin_volumes *twin, const struct twin_volumes *events, double tolerance)
{
    check(twin->raw, events->raw, tolerance, "raw water, m3, twin against events");
    check(twin->recycled, events->recycled, tolerance, "recycled water, m3, twin against events");
    check(twin->delivered, events->delivered, tolerance, "delivered water, m3, twin against events");
    check(twin->overflow, events->overflow, tolerance, "overflow, m3, twin against events");
    check(twin->sewer, events->sewer, tolerance, "water to sewer, m3, twin against events");
    check(twin->sludge, events->sludge, tolerance, "sludge, m3, twin against events");
    check(twin->spilled, events->spilled, tolerance, "spill, m3, twin against events");
}

#ifdef WR_SANITIZED
enum { TOWN_STEPS = 2 };
#else
enum { TOWN_STEPS = 3 };
#endif

/* All starts of a town agree, to a few steps, at first order. Each start comes from a chain of events before it, each
 * seen late by up to a step: so the bound grows with the number of washes. */
static void check_town(const struct scene *town, double until, size_t step_count, size_t least_starts)
{
    static const double steps[] = {1.0, 1.0 / 16.0, 1.0 / 256.0};
    static struct starts events;
    struct twin_volumes volumes;
    struct wr_plant plant;
    double before = WR_NEVER;
    check_count(wr_plant_init(&plant, &town->definition), WR_OK, "status of the town");
    run_events(&plant, until, &events, &volumes);
    check_between((double)events.count, (double)least_starts, MOST_STARTS, "wash starts to compare");
    for (size_t i = 0; i < step_count; i++) {
        struct twin_result twin;
        assert_true(twin_run(&plant, steps[i], until, &twin));
        const struct agreement agreement = compare(&events, &twin, until, 3600.0);
        printf("  step 1/%-3.0f s: %zu of %zu starts, worst %.4f s = %.2f steps\n", 1.0 / steps[i], agreement.compared,
               events.count, agreement.worst, agreement.worst / steps[i]);
        check_count(twin.start_count, events.count, "wash starts, twin against events");
        check_count(agreement.compared, events.count, "wash starts of the same filters in order");
        check_between(agreement.worst, 0.0, 24.0 * steps[i], "worst difference of a start, s");
        check_between(agreement.worst, 0.0, before / 4.0, "worst difference against that of 16 times the step, s");
        check_volumes(&twin.volumes, &volumes, 1.0 * steps[i]);
        before = agreement.worst;
        twin_result_fini(&twin);
    }
    wr_plant_fini(&plant);
}

static void test_small_town_converges(void **state)
{
    (void)state;
    static struct scene town;
    scene_small_town(&town);
    check_town(&town, 14.0 * 86400.0, TOWN_STEPS, 10);
}

/* One filter out, more iron and as much demand as the others bear: filters wait for room and for water. */
static void test_busy_town_converges(void **state)
{
    (void)state;
    static struct scene town;
    scene_small_town(&town);
    town.definition.outages.count = 1;
    snprintf(town.outage_units[0], SCENE_NAME, "F2");
    town.groups[0].deposit.observed_run.iron = town.definition.raw_water.iron;
    town.definition.raw_water.iron *= 3.0;
    town.wells[0].flow *= 0.97;
    town.definition.wash.triggers.differential_as = WR_AS_MEASURED;
    town.definition.wash.triggers.persistence = 0.0;
    town.definition.start_beds.how = WR_START_EQUAL;
    check_town(&town, 14.0 * 86400.0, 2, 20);
}

/* Random plants ------------------------------------------------------------------------------------------------------
 */

#ifdef WR_SANITIZED
enum { RANDOM_PLANTS = 6, MOST_FLIPS = 1, LEAST_COMPARED = 10 };
#else
enum { RANDOM_PLANTS = 100, MOST_FLIPS = 2, LEAST_COMPARED = 300 };
#endif

/* Sums over random plants at one step. */
struct tally {
    size_t compared, flips;
    double worst; /* steps */
};

static void compare_random(unsigned long long seed, const double *steps, struct tally *tallies, size_t count)
{
    static struct scene scene;
    static struct starts events;
    struct wr_plant plant;
    scene_random(&scene, seed);
    check_count(wr_plant_init(&plant, &scene.definition), WR_OK, "status of a plant");
    run_events(&plant, 3.0 * 86400.0, &events, NULL);
    double until = fmin(3.0 * 86400.0, events.head_reached);
    /* Nothing more is learnt after the last start but one hour, in which the twin may list one too many. */
    until = fmin(until, events.count > 0 ? events.list[events.count - 1].time + 3600.0 : 0.0);
    for (size_t i = 0; i < count; i++) {
        struct twin_result twin;
        assert_true(twin_run(&plant, steps[i], until, &twin));
        const struct agreement agreement = compare(&events, &twin, until, 60.0 * steps[i]);
        tallies[i].compared += agreement.compared;
        tallies[i].flips += agreement.flipped;
        tallies[i].worst = fmax(tallies[i].worst, agreement.worst / steps[i]);
        if (agreement.flipped) {
            printf("  seed %llu, step 1/%.0f s: flipped after %zu starts\n", seed, 1.0 / steps[i], agreement.compared);
        }
        twin_result_fini(&twin);
    }
    wr_plant_fini(&plant);
}

static void test_random_plants_agree(void **state)
{
    (void)state;
    static const double steps[] = {1.0, 1.0 / 16.0};
    struct tally tallies[2] = {0};
    for (unsigned long long seed = 1; seed <= RANDOM_PLANTS; seed++) {
        compare_random(seed, steps, tallies, 2);
    }
    for (size_t i = 0; i < 2; i++) {
        printf("  step 1/%-3.0f s: %zu starts compared, worst %.1f steps, %zu flips\n", 1.0 / steps[i],
               tallies[i].compared, tallies[i].worst, tallies[i].flips);
        check_between((double)tallies[i].flips, 0.0, MOST_FLIPS, "flipped decisions (regression)");
        check_true(tallies[i].compared >= LEAST_COMPARED, "random plants wash often enough to compare");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_small_town_converges),
        cmocka_unit_test(test_busy_town_converges),
        cmocka_unit_test(test_random_plants_agree),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
