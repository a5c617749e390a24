/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wells that can be throttled, rates that may rise, wells of different water, least run and rest. Two filters of 10 m2
 * take 60 m3/h each. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>
#include <stdio.h>

static const double exact = 1e-6;         /* s */
static const double an_hour = 1.0 / 3600; /* m3/h in m3/s */

#define LEVELS "\"on_below\":\"98 %\",\"off_above\":\"99 %\""
#define FIXED(name, flow) "{\"name\":\"" name "\",\"flow\":\"" flow "\"," LEVELS "}"
#define VARIABLE(name, flow, least)                                                                                    \
    "{\"name\":\"" name "\",\"flow\":\"" flow "\",\"drive\":\"variable\",\"least_flow\":\"" least "\"," LEVELS "}"
#define F1_OUT "/outages=[{\"unit\":\"F1\",\"from\":\"2026-01-05 10:00\"}]"
#define START "/start_beds/how=given", "/filters/0/start_shares=[\"50 %\", \"0 %\"]"

/* Raw water before and after one filter of two goes out. */
static void a_well_that_does_not_fit(void **state)
{
    (void)state;
    static const struct {
        const char *wells, *rule;
        double before, after;
    } cases[] = {
        {"/wells=[" VARIABLE("A", "100 m3/h", "20 m3/h") "]", "throttle", 100, 60},
        {"/wells=[" VARIABLE("A", "200 m3/h", "20 m3/h") "]", "throttle", 120, 60},
        {"/wells=[" VARIABLE("A", "100 m3/h", "61 m3/h") "]", "throttle", 100, 0},
        {"/wells=[" VARIABLE("A", "100 m3/h", "60 m3/h") "]", "throttle", 100, 60},
        {"/wells=[" VARIABLE("A", "100 m3/h", "20 m3/h") "]", "drop_well", 100, 0},
        {"/wells=[" FIXED("A", "40 m3/h") "," VARIABLE("B", "60 m3/h", "10 m3/h") "]", "throttle", 100, 60},
        {"/wells=[" FIXED("A", "55 m3/h") "," VARIABLE("B", "60 m3/h", "10 m3/h") "]", "throttle", 115, 55},
        {"/wells=[" VARIABLE("A", "70 m3/h", "10 m3/h") "," FIXED("B", "40 m3/h") "]", "throttle", 110, 60},
        {"/wells=[" FIXED("A", "100 m3/h") "]", "rate_rises", 100, 100},
        {"/wells=[" FIXED("A", "100 m3/h") "]", "drop_well", 100, 0},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char rule[64];
        struct plant_case c;
        snprintf(rule, sizeof rule, "/over_approved_rate=%s", cases[i].rule);
        plant_case_run(&c, PLANT_PLAIN, SETTINGS(cases[i].wells, rule, F1_OUT, "/horizon=14 h"));
        check(plant_case_at(&c, 9 * HOUR)->flows.raw, cases[i].before * an_hour, 1e-15, "raw water before, m3/s");
        check(plant_case_at(&c, 12 * HOUR)->flows.raw, cases[i].after * an_hour, 1e-15, "raw water after, m3/s");
        plant_case_fini(&c);
    }
}

/* Raw water of 100 m3/h through one filter for the 10 min in which the other is washed: 10 m/h for an approved 6. */
static void the_rate_that_rises_is_reported(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS("/wells=[" FIXED("A", "100 m3/h") "]", "/over_approved_rate=rate_rises", START, "/horizon=21 h"));
    const struct wr_finding *finding = plant_case_finding(&c, WR_FINDING_APPROVED_RATE_EXCEEDED);
    check_true(finding != NULL, "a rate above the approved one is a finding");
    check(finding->start, 10 * HOUR, exact, "its start, s: the wash");
    check(finding->length, 20 * MINUTE, exact, "its length, s: two washes");
    check(finding->worst, 10 * an_hour, 1e-15, "rate reached, m/s: 100 m3/h over 10 m2");
    check_count(finding->times, 2, "times");
    plant_case_fini(&c);
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS("/wells=[" FIXED("A", "60 m3/h") "]", "/over_approved_rate=rate_rises", START, "/horizon=21 h"));
    check_true(plant_case_finding(&c, WR_FINDING_APPROVED_RATE_EXCEEDED) == NULL, "just within it there is none");
    plant_case_fini(&c);
}

#define TANK                                                                                                           \
    "/spent_wash={\"tanks\":[{\"volume\":\"500 m3\",\"start_level\":\"80 %\"}],\"settling\":{\"law\":\"none\"},"       \
    "\"outlets\":[{\"kind\":\"recycle\"}]}"

/* At the filters' limit F = 120 m3/h, or the approved capacity, recycle is min(pump, s F / (1 + s)) and raw the rest. A
 * fixed pump that is above that never runs, and then no well is throttled for it. */
static void wells_give_way_to_recycle(void **state)
{
    (void)state;
    static const struct {
        const char *recycle, *approved;
        double limit, share, pump;
        bool runs;
    } cases[] = {
        {"/recycle={\"pump\":\"5 m3/h\",\"max_fraction\":\"10 %\"}", "1000 m3/h", 120, 0.1, 5, true},
        {"/recycle={\"pump\":\"5 m3/h\",\"max_fraction\":\"10 %\"}", "88 m3/h", 88, 0.1, 5, true},
        {"/recycle={\"pump\":\"8 m3/h\",\"max_fraction\":\"10 %\"}", "88 m3/h", 88, 0.1, 8, true},
        {"/recycle={\"pump\":\"20 m3/h\",\"max_fraction\":\"10 %\"}", "1000 m3/h", 120, 0.1, 20, false},
        {"/recycle={\"pump\":\"20 m3/h\",\"max_fraction\":\"10 %\",\"control\":\"ratio\"}", "1000 m3/h", 120, 0.1, 20,
         true},
        {"/recycle={\"pump\":\"5 m3/h\",\"max_fraction\":\"10 %\",\"control\":\"ratio\"}", "1000 m3/h", 120, 0.1, 5,
         true},
        {"/recycle={\"pump\":\"50 m3/h\",\"max_fraction\":\"25 %\",\"control\":\"ratio\"}", "110 m3/h", 110, 0.25, 50,
         true},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char approved[64];
        struct plant_case c;
        snprintf(approved, sizeof approved, "/approved_capacity=%s", cases[i].approved);
        plant_case_run(
            &c, PLANT_PLAIN,
            SETTINGS("/wells=[" VARIABLE("A", "70 m3/h", "10 m3/h") "," VARIABLE("B", "70 m3/h", "10 m3/h") "]",
                     "/over_approved_rate=throttle", cases[i].recycle, approved, TANK, "/horizon=5 h"));
        const struct wr_flows *flows = &plant_case_at(&c, HOUR)->flows;
        const double recycle =
            cases[i].runs ? fmin(cases[i].pump, cases[i].share * cases[i].limit / (1 + cases[i].share)) : 0;
        check(flows->recycle, recycle * an_hour, 1e-12, "recycle, m3/s: min(pump, s F / (1 + s))");
        check(flows->raw, (cases[i].limit - recycle) * an_hour, 1e-12, "raw water, m3/s: the rest of F");
        plant_case_fini(&c);
    }
}

/* The first of two wells brings iron of 1 mg/L, the second, throttled, of 4: the mix follows what they give. */
static void raw_water_is_the_mix_of_the_wells_that_run(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wells=[{\"name\":\"A\",\"flow\":\"40 m3/h\",\"iron\":\"1 mg/L\"," LEVELS "},"
                            "{\"name\":\"B\",\"flow\":\"60 m3/h\",\"drive\":\"variable\",\"least_flow\":\"5 m3/h\","
                            "\"iron\":\"4 mg/L\",\"manganese\":\"1 mg/L\"," LEVELS "}]",
                            "/over_approved_rate=throttle", F1_OUT, "/horizon=14 h"));
    const struct wr_flows *before = &plant_case_at(&c, 9 * HOUR)->flows, *after = &plant_case_at(&c, 12 * HOUR)->flows;
    check(before->feed[WR_IRON], (40 * 1 + 60 * 4) / 100.0 / 1000, 1e-15, "iron with both at full flow, kg/m3");
    check(after->feed[WR_IRON], (40 * 1 + 20 * 4) / 60.0 / 1000, 1e-15, "iron with the second throttled, kg/m3");
    check(before->feed[WR_MANGANESE], (40 * 0.5 + 60 * 1) / 100.0 / 1000, 1e-15, "manganese at full flow, kg/m3");
    check(before->feed[WR_SOLIDS], 0.01, 1e-15, "solids, kg/m3: as given");
    plant_case_fini(&c);
}

/* What throttling for recycle takes from the second well no longer counts in the mix: 120 m3/h with 5 of recycle, clear
 * as the tank's water was at the start. */
static void the_mix_follows_wells_that_give_way(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wells=[{\"name\":\"A\",\"flow\":\"70 m3/h\",\"iron\":\"1 mg/L\"," LEVELS "},"
                            "{\"name\":\"B\",\"flow\":\"50 m3/h\",\"drive\":\"variable\",\"least_flow\":\"5 m3/h\","
                            "\"iron\":\"4 mg/L\"," LEVELS "}]",
                            "/over_approved_rate=throttle", "/recycle={\"pump\":\"5 m3/h\"}", TANK, "/horizon=4 h"));
    const struct wr_flows *flows = &plant_case_at(&c, HOUR)->flows;
    check(flows->recycle, 5 * an_hour, 1e-12, "recycle, m3/s");
    check(flows->raw_water[WR_IRON], (70 * 1 + 45 * 4) / 115.0 / 1000, 1e-15, "iron of raw water, kg/m3");
    check(flows->feed[WR_IRON], (70 * 1 + 45 * 4) / 120.0 / 1000, 1e-15, "iron of the feed, kg/m3");
    check(wr_ledger_line(&c.run.plant, plant_case_state(&c), WR_LINE_RAW, 0)->mass[WR_IRON],
          4 * (70 * 1 + 45 * 4) / 1000.0, 1e-9, "iron drawn in 4 h, kg");
    plant_case_fini(&c);
}

/* Solids follow the wells' metals where none are given: 2 kg/kg of iron here and none of manganese. */
static void solids_follow_the_wells_metals(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wells=[{\"name\":\"A\",\"flow\":\"40 m3/h\",\"iron\":\"1 mg/L\"," LEVELS "},"
                            "{\"name\":\"B\",\"flow\":\"20 m3/h\",\"iron\":\"4 mg/L\"," LEVELS "}]",
                            "/raw_water={\"temperature\":\"12 degC\",\"iron\":\"2 mg/L\",\"manganese\":\"0.5 mg/L\","
                            "\"dry_solids_per_iron\":2,\"dry_solids_per_manganese\":1.6}",
                            "/horizon=4 h"));
    const double iron = (40 * 1 + 20 * 4) / 60.0;
    check(plant_case_at(&c, HOUR)->flows.feed[WR_SOLIDS], (2 * iron + 1.6 * 0.5) / 1000, 1e-15, "solids, kg/m3");
    plant_case_fini(&c);
}

/* Storage of 100 m3 swings between 40 and 60 m3: up at 20 m3/h in 1 h, down at 20 m3/h in 1 h. */
#define SWINGS                                                                                                         \
    "/storage={\"volume\":\"100 m3\",\"start_level\":\"40 %\"}", "/demand/maximum_day=480 m3/d",                       \
        "/wash_water/tank/refill_on_below=10 %"
#define SWING_WELL(more) "/wells=[{\"flow\":\"40 m3/h\",\"on_below\":\"40 %\",\"off_above\":\"60 %\"" more "}]"

static void check_flow(const struct plant_case *c, double hour, double flow, const char *what)
{
    check(plant_case_at(c, hour * HOUR)->flows.raw, flow * an_hour, 1e-15, what);
}

static void a_well_runs_and_rests_its_least_time(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(SWING_WELL(), SWINGS, "/horizon=6 h"));
    check_flow(&c, 0.99, 40, "without least times, m3/s: runs to 1 h");
    check_flow(&c, 1.01, 0, "stands from 1 h");
    check_flow(&c, 2.01, 40, "runs again from 2 h");
    plant_case_fini(&c);
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(SWING_WELL(",\"minimum_run\":\"1.5 h\""), SWINGS, "/horizon=6 h"));
    check_flow(&c, 1.499, 40, "runs on to 1.5 h, m3/s");
    check_flow(&c, 1.501, 0, "stands from 1.5 h");
    check(plant_case_at(&c, 1.6 * HOUR)->storage, 70, 1e-9, "storage then, m3: 40 and 1.5 h at 20 m3/h");
    check_flow(&c, 2.999, 0, "stands to 3 h, m3/s");
    check_flow(&c, 3.001, 40, "runs from 3 h: 70 m3 fall to 40 in 1.5 h");
    plant_case_fini(&c);
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(SWING_WELL(",\"minimum_rest\":\"1.25 h\""), SWINGS, "/horizon=6 h"));
    check_flow(&c, 2.249, 0, "called at 2 h, rests to 2.25 h, m3/s");
    check_flow(&c, 2.251, 40, "runs from 2.25 h");
    const struct wr_span *span = plant_case_span(&c, WR_LIMIT_WELL_RESTS, WR_NOWHERE, 0);
    check_true(span != NULL, "the rest holds raw water");
    check(span->from, 2 * HOUR, exact, "from the call, s");
    check(span->to, 2.25 * HOUR, exact, "to the end of the rest, s");
    plant_case_fini(&c);
}

/* A rinse does not wake a well that must rest: it waits, and starts to the second. The well stops at 1 h and F1's rinse
 * of 10 m3 is due at 1 h 30 min. */
static void a_rinse_does_not_wake_a_well_that_rests(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(SWING_WELL(",\"minimum_rest\":\"45 min\""), SWINGS, "/wash/rinse_rate=4 m/h",
                            "/wash/rinse_time=15 min",
                            "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 01:20\"}]", "/horizon=6 h"));
    check(plant_case_wash(&c, 0, 0)->started_at, 80 * MINUTE, exact, "start of the wash, s");
    check_flow(&c, 1.7, 0, "raw water while it rests, m3/s: none for the rinse");
    check_flow(&c, 1.76, 40, "raw water after its rest, m3/s");
    check(plant_case_wash(&c, 0, 0)->ended_at, 105 * MINUTE + 15 * MINUTE, exact, "end, s: rest and rinse");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_well_that_does_not_fit),
        cmocka_unit_test(the_rate_that_rises_is_reported),
        cmocka_unit_test(wells_give_way_to_recycle),
        cmocka_unit_test(raw_water_is_the_mix_of_the_wells_that_run),
        cmocka_unit_test(the_mix_follows_wells_that_give_way),
        cmocka_unit_test(solids_follow_the_wells_metals),
        cmocka_unit_test(a_well_runs_and_rests_its_least_time),
        cmocka_unit_test(a_rinse_does_not_wake_a_well_that_rests),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
