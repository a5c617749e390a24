/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Firm capacities of plants drawn at random: nothing that was tried below a promise fails, but what is listed as a
 * failure at a low flow. With WR_FIRM_PLANTS as many plants,
 * each named before it is searched. */
#include "sim/plant/plant.h"
#include "sim/study/firm.h"
#include "sim/study/largest.h"
#include "tests/plant/random_plant.h"
#include "tests/plant/search.h"
#include "tests/support/check.h"

#include <stdlib.h>

#ifdef WR_SANITIZED
enum { PLANTS = 20, LEAST_PROMISES = 2 };
#else
enum { PLANTS = 60, LEAST_PROMISES = 12 };
#endif

static size_t promises, alternating, listed;

/* A plant that breaks down before it is searched has a status, and no search. */
static void search_one(uint64_t seed)
{
    struct wr_reading reading;
    struct wr_search search;
    struct wr_plant plant;
    assert_true(random_plant_read(&reading, seed));
    check_count(wr_plant_init(&plant, &reading.definition), WR_OK, "status of a plant");
    check_true(wr_firm_search(&search, &reading.definition), "the search ends");
    if (search.rungs > 0 && search.ever_failed && search.firm > 0) {
        check_search_of(&search, &reading.definition, plant.names[wr_largest_filter(&plant)]);
        promises++;
        alternating += !search.monotone;
    }
    for (size_t r = 0; r < search.rungs; r++) {
        const struct wr_rung *rung = &search.ladder[r];
        check_true(rung->passes || rung->low_flow || rung->demand >= search.fail,
                   "a demand that was tried below the promise passes, or fails at a low flow");
        listed += rung->low_flow;
    }
    wr_plant_fini(&plant);
    wr_reading_fini(&reading);
}

static void no_promise_has_an_unlisted_failure_below(void **state)
{
    (void)state;
    const char *wanted = getenv("WR_FIRM_PLANTS");
    const uint64_t plants = wanted != NULL ? strtoul(wanted, NULL, 10) : PLANTS;
    for (uint64_t seed = 1; seed <= plants; seed++) {
        if (wanted != NULL)
            print_message("seed %lu\n", (unsigned long)seed);
        search_one(seed);
    }
    print_message("%zu plants with a promise, %zu of them no staircase, %zu low-flow failures listed\n", promises,
                  alternating, listed);
    check_true(promises >= LEAST_PROMISES || plants < PLANTS, "a fair part of the plants can promise something");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_promise_has_an_unlisted_failure_below),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
