/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Thousands of plants drawn at random, each watched at every instant of some days. The seeds are fixed, so the test
 * fails never by chance: a plant either breaks a rule or it does not. More or other plants:
 *
 *     WR_RANDOM_PLANTS=100000 WR_RANDOM_FIRST=20000 ctest -R plant.random
 *
 * A breach names the seed and the simulated time.
 */
#include "tests/plant/scene.h"
#include "tests/plant/watch.h"
#include "tests/support/check.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#ifdef WR_SANITIZED
enum { PLANTS = 400 };
#else
enum { PLANTS = 10000 };
#endif

/* Instants in a day that no plant of this size comes near unless a switch goes back and forth: a regression, the most
 * among 300,000 plants being less than half of it. */
static const double MOST_BEATS_A_DAY = 6000.0;

static unsigned long long from_environment(const char *name, unsigned long long otherwise)
{
    const char *text = getenv(name);
    return text ? strtoull(text, NULL, 10) : otherwise;
}

struct totals {
    unsigned long long plants, beats, washes, waited, locked, overflowed;
};

/* Runs a plant under watch; the text of what went wrong, or an empty one. */
static void run(const struct wr_plant *plant, struct watch *watch, struct totals *totals)
{
    struct wr_simulation simulation;
    const double horizon = plant->definition->horizon;
    watch_init(watch, plant);
    const struct wr_observer observer = watch_observer(watch);
    if (!wr_simulation_init(&simulation, plant, &observer)) {
        fail_msg("out of memory");
    }
    watch_open(watch, &simulation);
    const enum wr_engine_status status = wr_simulation_run(&simulation, horizon);
    if (status != WR_ENGINE_OK) {
        wr_simulation_explain(&simulation, status, watch->breach, sizeof watch->breach);
    } else {
        wr_simulation_end(&simulation);
        watch_close(watch, &simulation);
    }
    const struct wr_state *state = simulation.state;
    if ((double)state->clock.beats > MOST_BEATS_A_DAY * horizon / 86400.0 && watch->breach[0] == '\0') {
        snprintf(watch->breach, sizeof watch->breach, "%.0f instants a day",
                 (double)state->clock.beats / horizon * 86400.0);
    }
    totals->plants++;
    totals->beats += state->clock.beats;
    totals->washes += watch->starts;
    totals->waited += watch->waited > 0.0;
    totals->locked += state->locked;
    totals->overflowed += wr_ledger_line(plant, state, WR_LINE_OVERFLOW, 0)->water > 0.0;
    wr_simulation_fini(&simulation);
}

static bool run_seed(unsigned long long seed, struct totals *totals)
{
    struct scene scene;
    struct wr_plant plant;
    struct watch watch;
    scene_random(&scene, seed);
    const enum wr_status status = wr_plant_init(&plant, &scene.definition);
    if (status != WR_OK) {
        fprintf(stderr, "seed %llu: %s\n", seed, wr_status_text(status));
        return false;
    }
    run(&plant, &watch, totals);
    wr_plant_fini(&plant);
    if (watch.breach[0] != '\0') {
        fprintf(stderr, "seed %llu: %s\n", seed, watch.breach);
    }
    return watch.breach[0] == '\0';
}

static void test_random_plants_keep_the_rules(void **context)
{
    (void)context;
    const unsigned long long first = from_environment("WR_RANDOM_FIRST", 1);
    const unsigned long long count = from_environment("WR_RANDOM_PLANTS", PLANTS);
    struct totals totals = {0};
    unsigned long long bad = 0;
    for (unsigned long long seed = first; seed < first + count && bad < 20; seed++) {
        bad += !run_seed(seed, &totals);
    }
    printf("%llu plants: %llu instants, %llu washes; plants with waits %llu, locked %llu, with overflow %llu\n",
           totals.plants, totals.beats, totals.washes, totals.waited, totals.locked, totals.overflowed);
    check_count(bad, 0, "plants that break a rule");
    /* Nothing is proved by plants that do nothing. */
    check_true(totals.washes > 10 * totals.plants, "washes a plant, more than ten");
    check_true(totals.waited > totals.plants / 4 && totals.waited < totals.plants, "a fair part of the plants wait");
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
        struct scene scene;
        struct wr_plant plant;
        scene_random(&scene, seed);
        check_count(wr_plant_init(&plant, &scene.definition), WR_OK, "status of a plant");
        struct wr_state *whole = state_after(&plant, 1), *cut = state_after(&plant, 7);
        if (memcmp(whole, cut, plant.layout.size) != 0) {
            fail_msg("seed %llu: a run in seven parts ends in other bytes", seed);
        }
        free(whole);
        free(cut);
        wr_plant_fini(&plant);
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
