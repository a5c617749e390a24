/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Plants drawn at random from every rule there is, by events and by the twin in steps of 1 s: washes start in the same
 * order at the same times, up to the first decision that falls the other way. Each such decision wants a reason: one
 * that no reason explains fails the test, for then the two programs follow different rules. More or other plants, or a
 * longer time:
 *
 *     WR_TWIN_PLANTS=1000 WR_TWIN_DAYS=14 WR_TWIN_FIRST=1 build/tests/plant_twin_random
 */
#include "tests/plant/random_plant.h"
#include "tests/plant/twin_pair.h"
#include "tests/support/check.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#ifdef WR_SANITIZED
enum { PLANTS = 24, DAYS = 3, LEAST_COMPARED = 50 };
#else
enum { PLANTS = 150, DAYS = 3, LEAST_COMPARED = 500 };
#endif

static unsigned long from_environment(const char *name, unsigned long otherwise)
{
    const char *text = getenv(name);
    return text ? strtoul(text, NULL, 10) : otherwise;
}

struct totals {
    unsigned long plants, broken, beyond, compared, starts, why[TWIN_WHYS];
    double worst; /* s */
};

static const char *const reasons[TWIN_WHYS] = {
    [TWIN_AGREES] = "agree to the end",
    [TWIN_BY_STEP] = "part by the step",
    [TWIN_BY_HEAD] = "part after available head was reached",
    [TWIN_BY_MIX] = "part after water came back unsettled",
    [TWIN_BY_TIE] = "part in a tie",
    [TWIN_UNEXPLAINED] = "part without a reason",
};

static void compare_plant(const struct wr_definition *definition, unsigned long seed, double until,
                          struct totals *totals)
{
    struct wr_plant plant;
    struct twin_events events;
    struct twin_agreement agreement;
    enum twin_why why = TWIN_AGREES;
    check_count(wr_plant_init(&plant, definition), WR_OK, "status of a plant");
    twin_events_run(&events, &plant, until);
    if (events.fault[0] != '\0') {
        print_error("seed %lu: %s\n", seed, events.fault);
        totals->broken++;
    } else if (!twin_explain(definition, &events, until, &agreement, &why)) {
        totals->beyond++;
    } else {
        totals->why[why]++;
        totals->starts += events.start_count;
        totals->compared += agreement.compared;
        totals->worst = fmax(totals->worst, agreement.worst);
    }
    if (why == TWIN_UNEXPLAINED) {
        print_error("seed %lu: other washes from %.0f s on, after %zu alike\n", seed, agreement.at, agreement.compared);
    }
    twin_events_fini(&events);
    wr_plant_fini(&plant);
}

static void print_totals(const struct totals *totals, unsigned long days)
{
    printf("%lu plants over %lu days: %lu of %lu wash starts compared, worst %.1f s apart\n", totals->plants, days,
           totals->compared, totals->starts, totals->worst);
    for (int why = 0; why < TWIN_WHYS; why++) {
        printf("  %6lu %s\n", totals->why[why], reasons[why]);
    }
    printf("  %6lu beyond the twin\n  %6lu event runs that broke off\n", totals->beyond, totals->broken);
}

static void test_random_plants_agree(void **state)
{
    (void)state;
    const unsigned long first = from_environment("WR_TWIN_FIRST", 1),
                        count = from_environment("WR_TWIN_PLANTS", PLANTS);
    const unsigned long days = from_environment("WR_TWIN_DAYS", DAYS);
    struct totals totals = {.plants = count};
    for (unsigned long seed = first; seed < first + count; seed++) {
        struct wr_reading reading;
        check_true(random_plant_read(&reading, seed), "a plant that passes the reader's rules");
        compare_plant(&reading.definition, seed, 86400.0 * (double)days, &totals);
        wr_reading_fini(&reading);
    }
    print_totals(&totals, days);
    check_count(totals.why[TWIN_UNEXPLAINED], 0, "plants that part without a reason");
    check_count(totals.beyond, 0, "plants beyond the twin");
    check_count(totals.broken, 0, "event runs that broke off");
    check_true(totals.why[TWIN_AGREES] * 5 >= count * 4, "four plants in five agree to the end");
    check_true(totals.compared >= LEAST_COMPARED || count < PLANTS, "plants wash often enough to compare");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_random_plants_agree),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
