/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Filters at their available head, and plants that lock.
 *
 * Heads of the plain plant's filters: 0.1 m per m/h clean and 0.27778 m per m/h and kg/m2 of load; 5 m are available.
 * The water carries 100 g/m3 here, so a filter of 10 m2 gathers 0.1 kg/m2 with each metre. */
#include "sim/plant/bed.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>

static const double exact = 1e-5;         /* s */
static const double an_hour = 1.0 / 3600; /* m3/h in m3/s */

/* Water with ten times the solids of the run from which the slope is taken. */
#define DIRTY_WATER "/raw_water/suspended_solids=100 mg/L", "/filters/0/deposit/observed_run/suspended_solids=10 mg/L"
#define MEASURED "/wash/triggers={\"differential\":\"2 m\",\"differential_as\":\"measured\",\"persistence\":\"0 s\"}"
#define NO_WATER "/wash_water/tank={\"volume\":\"100 m3\",\"start_level\":\"0 %\",\"refill_rate\":\"0.001 m3/h\"}"

/* R = a + k m, dm/dt = c h/R, hence m = m0 + 2 c h t/(R0 + sqrt(R0^2 + 2 k c h t)). */
static double load_at_constant_head(double from, double hours)
{
    const double k = 2.0 / 6 / 1.2, resistance = 0.1 + k * from, gathered = 0.1 * 5 * hours;
    return from + 2 * gathered / (resistance + sqrt(resistance * resistance + 2 * k * gathered));
}

/* Two filters share 40 m3/h and get no wash. The dirtier is at 5 m at 2 m/h from 8.64 kg/m2 on; the other takes up what
 * it leaves. */
static void flow_falls_off_along_the_curve_of_constant_head(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(DIRTY_WATER, MEASURED, NO_WATER, "/start_beds/how=given",
                            "/filters/0/start_shares=[\"99 %\", \"0 %\"]", "/horizon=35 h"));
    const double reached = (8.64 - 0.99 * 3.24) / 0.2 * HOUR;
    check(plant_case_time(&c, WR_EVENT_HEAD_REACHED, 0, 0), reached, exact,
          "available head, s: 8.64 kg/m2 at 0.2 an hour");
    const double load = wr_bed_load(&c.run.plant, plant_case_state(&c), 0);
    check_share(load, load_at_constant_head(8.64, (35 * HOUR - reached) / HOUR), 1e-4,
                "load at 35 h, kg/m2: closed form");
    check_between(load, 9.8, 10.1, "that load, kg/m2: two times 0.1 less than at an undisturbed rate");
    const double flow = plant_case_filter(&c, 0)->flow, rate = 5 / (0.1 + load / 0.6 / 6);
    check_share(flow, 10 * rate * an_hour, 0.006, "its flow, m3/s: head over resistance, within half a stretch");
    check(plant_case_state(&c)->flows.raw, 40 * an_hour, 1e-15, "raw water, m3/s: the well still runs");
    const double other = 0.2 * reached / HOUR + 0.1 * ((35 * HOUR - reached) / HOUR * 4) - (load - 8.64);
    check(wr_bed_load(&c.run.plant, plant_case_state(&c), 1), other, 1e-9, "load of the other, kg/m2: all the rest");
    check_count(c.run.record.balance.grade, WR_GRADE_OVERRUN, "grade");
    check_count(c.run.record.balance.cause, WR_LIMIT_WASH_WATER, "its cause: what the washes waited for");
    check_true(!c.run.passes, "the run fails");
    const struct wr_finding *finding = plant_case_finding(&c, WR_FINDING_HEAD_REACHED);
    check(finding->start, reached, exact, "start of the finding, s");
    check(finding->length, 35 * HOUR - reached, exact, "its length, s");
    plant_case_fini(&c);
}

/* Fittings that lose 0.3 m at 6 m/h as the square take their part of the head: 0.05 m per m/h is left for the bed. */
static void fittings_take_their_part_of_the_head(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(DIRTY_WATER, MEASURED, NO_WATER, "/filters/0/fittings_headloss=0.3 m",
                            "/start_beds/how=given", "/filters/0/start_shares=[\"99 %\", \"0 %\"]", "/horizon=35 h"));
    const double run = ((2 - 0.3 / 9) / 2 - 0.05) * 3.6, head = ((5 - 0.3 / 9) / 2 - 0.05) * 3.6;
    check(plant_case_time(&c, WR_EVENT_HEAD_REACHED, 0, 0), (head - 0.99 * run) / 0.2 * HOUR, exact,
          "available head, s: ((5 - 0.0333)/2 - 0.05)/0.27778 kg/m2");
    const double load = wr_bed_load(&c.run.plant, plant_case_state(&c), 0);
    const double rate = plant_case_filter(&c, 0)->flow * 3600 / 10;
    check_share((0.05 + load / 3.6) * rate + 0.3 / 36 * rate * rate, 5, 0.006, "head at 35 h, m: what is available");
    plant_case_fini(&c);
}

/* It leaves available head with its wash, and is as good as new. */
static void a_filter_at_available_head_is_washed(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(DIRTY_WATER, MEASURED, "/start_beds/how=given",
                            "/filters/0/start_shares=[\"99 %\", \"0 %\"]", "/horizon=33 h",
                            "/wash_water/tank={\"volume\":\"100 m3\",\"start_level\":\"0 %\",\"refill_rate\":\"1.5625 "
                            "m3/h\"}"));
    check(plant_case_wash(&c, 0, 0)->started_at, 32 * HOUR, exact, "its wash, s: 50 m3 at 1.5625 m3/h");
    const struct wr_span *span = plant_case_span(&c, WR_LIMIT_AVAILABLE_HEAD, 0, 0);
    check_true(span != NULL, "a span at available head");
    check(span->to, 32 * HOUR, exact, "its end, s");
    check_share(plant_case_wash(&c, 0, 0)->load, load_at_constant_head(8.64, 32 - (8.64 - 0.99 * 3.24) / 0.2), 1e-4,
                "its load then, kg/m2: closed form");
    check_share(plant_case_wash(&c, 0, 0)->differential, 5, 0.006, "its differential then, m: what is available");
    check_true(!plant_case_filter(&c, 0)->apart, "it runs with the others afterwards");
    check_between(wr_bed_load(&c.run.plant, plant_case_state(&c), 0), 0.15, 0.35, "load then, kg/m2: of 50 min");
    plant_case_fini(&c);
}

#define WELL(name) "{\"name\":\"" name "\",\"flow\":\"10 m3/h\",\"on_below\":\"98 %\",\"off_above\":\"99 %\"}"

/* The last filter, on four wells of 10 m3/h: at each step that its head no longer lets through, a well is dropped. */
static void the_last_filter_sheds_wells_and_is_washed(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(DIRTY_WATER, MEASURED, "/filters/0/count=1",
                            "/wells=[" WELL("A") "," WELL("B") "," WELL("C") "," WELL("D") "]", "/horizon=42 h",
                            "/wash_water/tank={\"volume\":\"100 m3\",\"start_level\":\"0 %\",\"refill_rate\":\"1.25 "
                            "m3/h\"}"));
    /* 5 m are used up at 4, 3 and 2 m/h from 4.14, 5.64 and 8.64 kg/m2 on. */
    static const double hours[] = {4.14 / 0.4, 4.14 / 0.4 + 1.5 / 0.3, 4.14 / 0.4 + 1.5 / 0.3 + 3 / 0.2};
    for (size_t i = 0; i < 3; i++) {
        check(plant_case_time(&c, WR_EVENT_HEAD_REACHED, 0, i), hours[i] * HOUR, 1e-3,
              "available head, s, at each step");
        check(plant_case_at(&c, hours[i] * HOUR - 1)->flows.raw, (4 - (double)i) * 10 * an_hour, 1e-15,
              "raw water before it, m3/s");
        check(plant_case_at(&c, hours[i] * HOUR + 1)->flows.raw, (3 - (double)i) * 10 * an_hour, 1e-15,
              "raw water after it, m3/s: a well less");
    }
    check(plant_case_held(&c, WR_LIMIT_HEAD_HOLDS_WELLS), (40 - hours[0]) * HOUR, 1e-2,
          "time in which it holds wells, s");
    check(plant_case_wash(&c, 0, 0)->started_at, 40 * HOUR, 1e-3, "its wash, s: 50 m3 at 1.25 m3/h");
    check(plant_case_at(&c, 41 * HOUR)->flows.raw, 40 * an_hour, 1e-15, "raw water afterwards, m3/s: all wells");
    check_true(plant_case_finding(&c, WR_FINDING_PLANT_LOCKED) == NULL, "the plant never locked");
    plant_case_fini(&c);
}

/* The same on one well of 40 m3/h: it is dropped, nothing flows, the tank is not refilled. Locked, and said. */
static void a_plant_locks_for_want_of_wash_water(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(DIRTY_WATER, MEASURED, "/filters/0/count=1", "/horizon=42 h",
                            "/wash_water/tank={\"volume\":\"100 m3\",\"start_level\":\"0 %\",\"refill_rate\":\"1.25 "
                            "m3/h\"}"));
    const struct wr_finding *locked = plant_case_finding(&c, WR_FINDING_PLANT_LOCKED);
    check_true(locked != NULL, "the plant is said to lock");
    check(locked->start, 4.14 / 0.4 * HOUR, exact, "when, s: 4.14 kg/m2 at 0.4 an hour");
    check(locked->length, (42 - 4.14 / 0.4) * HOUR, exact, "for how long, s: to the end");
    check_count(locked->limit, WR_LIMIT_WASH_WATER, "for what the wash waits");
    check_true(!c.run.passes, "the run fails");
    check_count(c.run.record.failed_kind, WR_FINDING_HEAD_REACHED, "the first failing finding, at the same instant");
    check(plant_case_state(&c)->flows.raw, 0, 0, "raw water, m3/s");
    plant_case_fini(&c);
}

/* Room comes free only by recycle, recycle runs only with raw flow, and the filter takes none. */
static void a_plant_locks_for_want_of_room(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(DIRTY_WATER, MEASURED, "/filters/0/count=1", "/horizon=42 h",
                            "/spent_wash={\"tanks\":[{\"volume\":\"60 m3\",\"start_level\":\"60 %\"}],\"settling\":{"
                            "\"law\":\"clock\",\"time\":\"2 h\"},\"outlets\":[{\"kind\":\"recycle\"}]}",
                            "/recycle={\"pump\":\"0.1 m3/h\"}"));
    const struct wr_finding *locked = plant_case_finding(&c, WR_FINDING_PLANT_LOCKED);
    check_true(locked != NULL, "the plant is said to lock");
    /* From 2 h on 40.1 m3/h with 4 kg/h: the load is the same, the head a little higher. */
    check_between(locked->start, 10.2 * HOUR, 4.14 / 0.4 * HOUR, "when, s");
    check_count(locked->limit, WR_LIMIT_SPENT_WASH_ROOM, "for what the wash waits");
    plant_case_fini(&c);
}

/* One filter left, a rinse of 30 m3/h, and a well of 40 that cannot run beside it: the wash under way never ends. */
static void a_plant_locks_in_a_rinse(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS("/filters/0/count=1", "/wash/rinse_time=10 min", "/wash/rinse_rate=3 m/h", "/horizon=42 h"));
    const struct wr_finding *locked = plant_case_finding(&c, WR_FINDING_PLANT_LOCKED);
    check_true(locked != NULL, "the plant is said to lock");
    check(locked->start, 20 * HOUR + 10 * MINUTE, exact, "when, s: at the begin of the rinse");
    check_count(locked->limit, WR_LIMIT_RAW_FOR_RINSE, "for what: raw water for the rinse");
    plant_case_fini(&c);
}

/* An outage that will end, storage that demand draws on, a tank that settles: none of these is a lock. */
static void what_will_change_is_no_lock(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(DIRTY_WATER, MEASURED, "/filters/0/count=2", "/horizon=15 h", NO_WATER,
                            "/filters/0/available_head=2 m", "/wells/0/flow=60 m3/h",
                            "/outages=[{\"unit\":\"F2\",\"from\":\"2026-01-05\",\"until\":\"2026-01-05 14:00\"}]"));
    check(plant_case_at(&c, 13 * HOUR)->flows.raw, 0, 0, "raw water with one filter out and one at its head, m3/s");
    check_true(plant_case_finding(&c, WR_FINDING_PLANT_LOCKED) == NULL, "not locked: the other comes back");
    check(plant_case_at(&c, 14 * HOUR + 1)->flows.raw, 60 * an_hour, 1e-15, "raw water when it does, m3/s");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(flow_falls_off_along_the_curve_of_constant_head),
        cmocka_unit_test(fittings_take_their_part_of_the_head),
        cmocka_unit_test(a_filter_at_available_head_is_washed),
        cmocka_unit_test(the_last_filter_sheds_wells_and_is_washed),
        cmocka_unit_test(a_plant_locks_for_want_of_wash_water),
        cmocka_unit_test(a_plant_locks_for_want_of_room),
        cmocka_unit_test(a_plant_locks_in_a_rinse),
        cmocka_unit_test(what_will_change_is_no_lock),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
