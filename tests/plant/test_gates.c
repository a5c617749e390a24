/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a wash waits for: every reason alone and with every other, and released to the second.
 *
 * Two filters call at one instant, after 20 h of run. The first starts and takes something; the second waits until all
 * has come back. How long each thing takes to come back is set by one figure of the plant:
 *
 *     time between starts   the rule itself
 *     wash system           one at a time, and the length of a wash
 *     wash water            the tank holds a wash and a half: half a wash over the refill
 *     room                  the tank holds a wash and a half and empties while it fills: half a wash over the way out
 *
 * The expected figures follow by adding up. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>
#include <stdio.h>

enum { GATES = 4 };

static const enum wr_limit limits[GATES] = {WR_LIMIT_TIME_BETWEEN_STARTS, WR_LIMIT_WASH_SYSTEM, WR_LIMIT_WASH_WATER,
                                            WR_LIMIT_SPENT_WASH_ROOM};

static const double call = 20 * HOUR;
static const double exact = 1e-6; /* s */

/* Half a wash, m3: what is missing for a second one beside the first. */
static const double half = 25;

/* Runs the plant in which each gate holds for so many hours; 0 for a gate that does not hold. */
static void run_gates(struct plant_case *c, const double *hours)
{
    char gap[64], many[64], settle[64], water[96], refill[64], spent[256];
    const double wash = hours[1] > 0 ? hours[1] : 0.5;
    snprintf(gap, sizeof gap, "/wash/min_between_starts=%.17g h", hours[0]);
    snprintf(many, sizeof many, "/wash/max_simultaneous=%d", hours[1] > 0 ? 1 : 2);
    snprintf(settle, sizeof settle, "/wash/bed_settle=%.17g min", wash * 60 - 10);
    snprintf(water, sizeof water, "/wash_water/tank/volume=%s m3", hours[2] > 0 ? "75" : "1000");
    snprintf(refill, sizeof refill, "/wash_water/tank/refill_rate=%.17g m3/h", hours[2] > 0 ? half / hours[2] : 10);
    snprintf(spent, sizeof spent,
             "/spent_wash={\"tanks\":[{\"volume\":\"%s m3\"}],\"settling\":{\"law\":\"none\"},"
             "\"outlets\":[{\"kind\":\"sewer\",\"rate\":\"%.17g m3/h\"}]}",
             hours[3] > 0 ? "75" : "1000", hours[3] > 0 ? half / hours[3] : 10);
    plant_case_run(c, PLANT_PLAIN, SETTINGS("/horizon=39 h", gap, many, settle, water, refill, spent));
}

/* Hours for which a gate is the first reason: while it holds and none before it does. */
static double hours_first(const double *hours, int gate)
{
    double before = 0;
    for (int g = 0; g < gate; g++)
        before = fmax(before, hours[g]);
    return fmax(0, hours[gate] - before);
}

/* Hours for which a gate holds and no other does. */
static double hours_alone(const double *hours, int gate)
{
    double others = 0;
    for (int g = 0; g < GATES; g++)
        if (g != gate)
            others = fmax(others, hours[g]);
    return fmax(0, hours[gate] - others);
}

static void check_gates(const double *hours)
{
    struct plant_case c;
    double longest = 0;
    run_gates(&c, hours);
    for (int g = 0; g < GATES; g++) {
        const struct wr_span *span = plant_case_span(&c, limits[g], 1, 0);
        const struct wr_tally *tally = &plant_case_state(&c)->start_up[limits[g]];
        longest = fmax(longest, hours[g]);
        check_true((span != NULL) == (hours[g] > 0), "a span of each gate that holds, and of no other");
        check(tally->total, hours[g] * HOUR, exact, "time a gate held the wash, s: half a wash over its flow");
        check(tally->first, hours_first(hours, g) * HOUR, exact, "time it was the first reason, s: order of the gates");
        check(tally->alone, hours_alone(hours, g) * HOUR, exact, "time it was the only reason, s");
        if (span == NULL)
            continue;
        check(span->from, call, exact, "begin of a gate's span, s: the call");
        check(span->to, call + hours[g] * HOUR, exact, "release of a gate, s");
        check_true(plant_case_span(&c, limits[g], 1, 1) == NULL, "each gate holds once");
        check_true(plant_case_span(&c, limits[g], 0, 0) == NULL, "the first to call waits for nothing");
    }
    check(plant_case_wash(&c, 0, 0)->started_at, call, exact, "first wash, s: at its call");
    check(plant_case_wash(&c, 1, 0)->called_at, call, exact, "second call, s: at the same instant");
    check(plant_case_wash(&c, 1, 0)->started_at, call + longest * HOUR, exact, "second wash, s: at the last release");
    plant_case_fini(&c);
}

static void each_gate_alone(void **state)
{
    (void)state;
    for (int g = 0; g < GATES; g++) {
        double hours[GATES] = {0};
        hours[g] = 3.25;
        check_gates(hours);
    }
}

static void each_pair_either_way_round(void **state)
{
    (void)state;
    for (int a = 0; a < GATES; a++)
        for (int b = 0; b < GATES; b++) {
            double hours[GATES] = {0};
            if (a == b)
                continue;
            hours[a] = 1.75;
            hours[b] = 4.5;
            check_gates(hours);
        }
}

static void each_three_and_all_four_in_every_order(void **state)
{
    (void)state;
    static const double lengths[GATES] = {1.5, 2.25, 3, 3.75};
    for (int order = 0; order < 256; order++) {
        const int places[GATES] = {order & 3, (order >> 2) & 3, (order >> 4) & 3, (order >> 6) & 3};
        int seen = 0;
        for (int g = 0; g < GATES; g++)
            seen |= 1 << places[g];
        for (int without = -1; without < GATES && seen == 15; without++) {
            double hours[GATES];
            for (int g = 0; g < GATES; g++)
                hours[g] = g == without ? 0 : lengths[places[g]];
            check_gates(hours);
        }
    }
}

/* Two gates that open at one instant: either order of the bits of a double, one wash. */
static void two_gates_open_at_one_instant(void **state)
{
    (void)state;
    for (int a = 0; a < GATES; a++)
        for (int b = 0; b < a; b++) {
            double hours[GATES] = {0};
            hours[a] = hours[b] = 2.5;
            check_gates(hours);
        }
}

/* Demand changes on the hour: 3 h after the first start an instant falls two seconds before the rule allows the next.
 */
static void nothing_that_happens_meanwhile_opens_a_gate(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wash/min_between_starts=10802 s", "/wash/max_simultaneous=2", "/horizon=30 h",
                            "/demand/hourly_factors=[1,2,1,2,1,2,1,2,1,2,1,2,1,2,1,2,1,2,1,2,1,2,1,2]"));
    check(plant_case_at(&c, call + 3 * HOUR)->time, call + 3 * HOUR, 0, "an instant just before the release, s");
    check(plant_case_wash(&c, 1, 0)->started_at, call + 10802, exact, "second wash, s: at the release");
    plant_case_fini(&c);
}

static void no_gate_no_wait(void **state)
{
    (void)state;
    check_gates((const double[GATES]){0, 0, 0, 0});
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_gate_alone),
        cmocka_unit_test(each_pair_either_way_round),
        cmocka_unit_test(each_three_and_all_four_in_every_order),
        cmocka_unit_test(two_gates_open_at_one_instant),
        cmocka_unit_test(nothing_that_happens_meanwhile_opens_a_gate),
        cmocka_unit_test(no_gate_no_wait),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
