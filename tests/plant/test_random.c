/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plants drawn at random, each watched at every instant of some days. The seeds are fixed, so the test fails never by
 * chance: a plant either breaks a rule or it does not. More or other plants: build/tests/random_plants. */
#include "tests/plant/properties.h"
#include "tests/plant/random_plant.h"
#include "tests/support/check.h"

#include "sim/plant/simulation.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#ifdef WR_SANITIZED
enum { PLANTS = 200 };
#else
enum { PLANTS = 3000 };
#endif

static void test_random_plants_keep_the_rules(void **context)
{
    (void)context;
    struct property_totals totals = {0};
    size_t bad = 0;
    for (unsigned seed = 1; seed <= PLANTS && bad < 20; seed++) {
        char breach[256];
        if (properties_hold(seed, &totals, breach, sizeof breach))
            continue;
        print_error("seed %u: %s\n", seed, breach);
        bad++;
    }
    property_totals_print(&totals);
    check_count(bad, 0, "plants that break a rule");
    /* Nothing is proved by plants that do nothing. */
    check_true(totals.washes > 5 * totals.plants, "washes a plant, more than five");
    check_true(totals.waited > totals.plants / 4 && totals.waited < totals.plants, "a fair part of the plants wait");
    check_true(totals.over_rate > 0 && totals.locked > 0 && totals.overflowed > 0, "plants in each plight");
    const struct watch_seen *spent = &totals.spent;
    check_true(PLANTS < 1000 || spent->bound_blends > totals.plants, "instants with a blend at its bound");
    check_true(spent->emergencies > totals.plants, "instants with an emergency outlet");
    check_true(spent->turns > totals.plants && spent->dumps > totals.plants / 10, "tanks drawn off, settled and not");
    check_true(spent->late > totals.plants / 10 && spent->zones > totals.plants / 10 &&
                   spent->lifts > totals.plants / 10,
               "tanks of each law, and some that lift sludge");
}

/* Runs to the end in the given parts; the state's bytes, which the caller frees. */
static struct wr_state *state_after(const struct wr_plant *plant, size_t parts)
{
    struct wr_simulation simulation;
    assert_true(wr_simulation_init(&simulation, plant, NULL));
    for (size_t i = 1; i <= parts; i++) {
        const double until =
            i == parts ? plant->definition->horizon : plant->definition->horizon * (double)i / (double)parts;
        check_count(wr_simulation_run(&simulation, until), WR_ENGINE_OK, "status of a run");
    }
    wr_simulation_end(&simulation);
    return simulation.state;
}

/* A run that is cut at arbitrary times ends in the same bytes as one that is not. */
static void test_random_plants_may_be_cut(void **context)
{
    (void)context;
    for (unsigned long long seed = 1; seed <= PLANTS / 20; seed++) {
        struct wr_reading reading;
        struct wr_plant plant;
        assert_true(random_plant_read(&reading, seed));
        check_count(wr_plant_init(&plant, &reading.definition), WR_OK, "status of a plant");
        struct wr_state *whole = state_after(&plant, 1), *cut = state_after(&plant, 7);
        if (memcmp(whole, cut, plant.layout.size) != 0)
            fail_msg("seed %llu: a run in seven parts ends in other bytes", seed);
        free(whole);
        free(cut);
        wr_plant_fini(&plant);
        wr_reading_fini(&reading);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_random_plants_keep_the_rules),
        cmocka_unit_test(test_random_plants_may_be_cut),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
