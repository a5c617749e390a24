/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The event simulation against the twin, which goes in fixed steps and shares no code with it.
 *
 * The twin sees everything late by less than a step, and each wash starts from what it saw before. So its wash starts
 * must be those of the event simulation, in the same order, off by a few steps at most, and off by less as the step
 * shrinks, in proportion. This holds as long as no decision falls the other way: two filters that call within a step of
 * each other, or a tank that empties within a step of a call, may change places, and from then on the two histories
 * differ. Here are towns with none; test_twin_rules.c has a plant for each rule, test_twin_random.c has random plants.
 */
#include "tests/plant/scene.h"
#include "tests/plant/twin_pair.h"
#include "tests/support/check.h"

#include <math.h>
#include <stdio.h>

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
static void check_town(const struct scene *town, double until, size_t step_count, double least_starts)
{
    static const double steps[] = {1.0, 1.0 / 16.0, 1.0 / 256.0};
    struct twin_events events;
    struct wr_plant plant;
    double before = HUGE_VAL;
    check_count(wr_plant_init(&plant, &town->definition), WR_OK, "status of the town");
    twin_events_run(&events, &plant, until);
    check_between((double)events.start_count, least_starts, HUGE_VAL, "wash starts to compare");
    for (size_t i = 0; i < step_count; i++) {
        struct twin_result twin;
        assert_true(twin_run(&plant, steps[i], until, &twin));
        const struct twin_agreement agreement = twin_compare(&events, &twin, until, steps[i]);
        printf("  step 1/%-3.0f s: %zu of %zu starts, worst %.4f s = %.2f steps\n", 1.0 / steps[i], agreement.compared,
               events.start_count, agreement.worst, agreement.worst / steps[i]);
        check_count(twin.start_count, events.start_count, "wash starts, twin against events");
        check_count(agreement.compared, events.start_count, "wash starts of the same filters in order");
        check_between(agreement.worst, 0.0, 24.0 * steps[i], "worst difference of a start, s");
        check_between(agreement.worst, 0.0, before / 4.0, "worst difference against that of 16 times the step, s");
        check_volumes(&twin.volumes, &events.volumes, 1.0 * steps[i]);
        before = agreement.worst;
        twin_result_fini(&twin);
    }
    twin_events_fini(&events);
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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_small_town_converges),
        cmocka_unit_test(test_busy_town_converges),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
