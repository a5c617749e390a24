/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What calls a wash, and when to the second.
 *
 * Heads of the plain plant's filters: 0.1 m per m/h clean and 0.27778 m per m/h and kg/m2 of load; the water carries
 * 10 g/m3. One filter of 10 m2 runs at 4 m/h and gathers 0.04 kg/m2 an hour; of two each half of that. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>

static const double exact = 1e-5; /* s */

#define MEASURED(head, persistence)                                                                                    \
    "/wash/triggers={\"differential\":\"" head "\",\"differential_as\":\"measured\",\"persistence\":\"" persistence    \
    "\"}"
#define CORRECTED(head, persistence)                                                                                   \
    "/wash/triggers={\"differential\":\"" head "\",\"differential_as\":\"corrected\",\"persistence\":\"" persistence   \
    "\"}"

static void each_trigger_calls_at_its_threshold(void **state)
{
    (void)state;
    static const struct {
        const char *triggers;
        enum wr_trigger trigger;
        double hours;
        const char *why;
    } cases[] = {
        {MEASURED("2 m", "0 s"), WR_TRIGGER_DIFFERENTIAL, 36, "call, h: (2/4 - 0.1)/0.27778 kg/m2"},
        {MEASURED("2 m", "2 h"), WR_TRIGGER_DIFFERENTIAL, 38, "call, h: and two hours"},
        {CORRECTED("2 m", "0 s"), WR_TRIGGER_DIFFERENTIAL, 21, "call, h: (2/6 - 0.1)/0.27778 kg/m2"},
        {CORRECTED("2 m", "90 min"), WR_TRIGGER_DIFFERENTIAL, 22.5, "call, h: and an hour and a half"},
        {"/wash/triggers={\"run_hours\":\"30 h\"}", WR_TRIGGER_HOURS, 30, "call, h: hours"},
        {"/wash/triggers={\"volume\":\"100 m3/m2\"}", WR_TRIGGER_VOLUME, 25, "call, h: 100 m at 4 m/h"},
        {"/wash/triggers={\"volume\":\"100 m3/m2\",\"run_hours\":\"24 h\",\"differential\":\"3 m\"}", WR_TRIGGER_HOURS,
         24, "call, h: the first of three, hours"},
        {"/wash/triggers={\"volume\":\"100 m3/m2\",\"run_hours\":\"26 h\",\"differential\":\"3 m\"}", WR_TRIGGER_VOLUME,
         25, "call, h: the first of three, volume"},
        {"/wash/triggers={\"volume\":\"200 m3/m2\",\"run_hours\":\"40 h\",\"differential\":\"2 "
         "m\",\"persistence\":\"0 s\",\"differential_as\":\"measured\"}",
         WR_TRIGGER_DIFFERENTIAL, 36, "call, h: the first of three, differential"},
        {"/wash/triggers={\"run_hours\":\"37 h\",\"differential\":\"2 m\",\"persistence\":\"2 "
         "h\",\"differential_as\":\"measured\"}",
         WR_TRIGGER_HOURS, 37, "call, h: hours, while the differential has not lasted"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN, SETTINGS("/filters/0/count=1", cases[i].triggers));
        check(plant_case_wash(&c, 0, 0)->called_at, cases[i].hours * HOUR, exact, cases[i].why);
        check_count(plant_case_wash(&c, 0, 0)->trigger, cases[i].trigger, "what called");
        plant_case_fini(&c);
    }
}

/* Pipes and valves lose 0.3 m at 6 m/h as the square; the clean bed then 0.05 m per m/h. */
static void the_differential_across_the_bed_leaves_fittings_out(void **state)
{
    (void)state;
    static const struct {
        const char *across;
        double hours;
        const char *why;
    } cases[] = {{"/wash/triggers/across=filter", 37.5, "call, h: ((2 - 0.13333)/4 - 0.05)/0.27778 kg/m2"},
                 {"/wash/triggers/across=bed", 40.5, "call, h: (2/4 - 0.05)/0.27778 kg/m2"}};
    for (size_t i = 0; i < 2; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS("/filters/0/count=1", "/filters/0/fittings_headloss=0.3 m", MEASURED("2 m", "0 s"),
                                cases[i].across));
        check(plant_case_wash(&c, 0, 0)->called_at, cases[i].hours * HOUR, exact, cases[i].why);
        check(plant_case_wash(&c, 0, 0)->differential, i == 0 ? 2 : 2 + 0.3 * 16 / 36, 1e-9,
              "differential across the filter at the wash, m");
        plant_case_fini(&c);
    }
}

/* The head rises with the square of the load and by 2 m at 6 m/h and 1.2 kg/m2. */
static void a_steepening_deposit_calls_where_its_curve_is(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=1", "/filters/0/deposit/exponent=2", MEASURED("2 m", "0 s")));
    check(plant_case_wash(&c, 0, 0)->called_at, 1.2 * sqrt(1.2) / 0.04 * HOUR, exact,
          "call, s: 0.4 + 2 (4/6) (load/1.2)^2 = 2 m");
    plant_case_fini(&c);
}

/* Twice one of two filters is out, for one hour and for three; at 4 m/h a head of 0.8 m is met from 0.36 kg/m2 on, at 2
 * m/h from 1.08. The other has 0.432 kg/m2 at the start. */
#define TWO_OUTAGES                                                                                                    \
    "/start_beds/how=given", "/filters/0/start_shares=[\"40 %\", \"0 %\"]",                                            \
        "/outages=[{\"unit\":\"F2\",\"from\":\"2026-01-05 10:00\",\"until\":\"2026-01-05 11:00\"},"                    \
        "{\"unit\":\"F2\",\"from\":\"2026-01-05 12:00\",\"until\":\"2026-01-05 15:00\"}]",                             \
        "/horizon=23 h"

static void a_rate_step_calls_by_the_measured_differential(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(TWO_OUTAGES, MEASURED("0.8 m", "0 s")));
    check(plant_case_time(&c, WR_EVENT_CALLED, 0, 0), 10 * HOUR, 0, "call, s: the step, at that very instant");
    plant_case_fini(&c);
}

static void persistence_broken_off_must_last_anew(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(TWO_OUTAGES, MEASURED("0.8 m", "2 h")));
    check(plant_case_time(&c, WR_EVENT_CALLED, 0, 0), 14 * HOUR, exact,
          "call, s: not the first hour, which does not last; two hours of the second");
    plant_case_fini(&c);
}

static void persistence_that_just_lasts_calls(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(TWO_OUTAGES, MEASURED("0.8 m", "59 min")));
    check(plant_case_time(&c, WR_EVENT_CALLED, 0, 0), 10 * HOUR + 59 * MINUTE, exact, "call, s");
    plant_case_fini(&c);
}

static void the_corrected_differential_sees_no_step(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(TWO_OUTAGES, CORRECTED("2 m", "0 s")));
    /* 40 % of 0.84 kg/m2; 0.02 an hour for 17 h and 0.04 for four leave 0.124 to gather at 15 h. */
    check(plant_case_time(&c, WR_EVENT_CALLED, 0, 0), 21.2 * HOUR, exact, "call, s: at 0.84 kg/m2 whatever the rate");
    plant_case_fini(&c);
}

/* Storage gains and loses 20 m3/h: the well runs for 5 h, then rests for 2 h and runs for 2 h in turn. */
#define ON_AND_OFF                                                                                                     \
    "/filters/0/count=1", "/demand/maximum_day=480 m3/d", "/storage/volume=1000 m3", "/wells/0/on_below=56 %",         \
        "/wells/0/off_above=60 %"

static void hours_count_only_with_flow(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(ON_AND_OFF, "/wash/triggers/run_hours=10 h", "/horizon=20 h"));
    check(plant_case_time(&c, WR_EVENT_CALLED, 0, 0), 16 * HOUR, exact, "call, s: 5 + 2 + 2 + 1 h of flow");
    plant_case_fini(&c);
}

static void persistence_ends_without_flow(void **state)
{
    (void)state;
    struct plant_case c;
    /* 0.16 kg/m2 after 4 h: (0.1 + 0.27778 x 0.16) 4 = 0.57778 m. */
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(ON_AND_OFF, MEASURED("0.577777777777777778 m", "90 min"), "/horizon=10 h"));
    check(plant_case_time(&c, WR_EVENT_CALLED, 0, 0), 8.5 * HOUR, exact,
          "call, s: met at 4 h, cut off at 5 h, met at 7 h again and for an hour and a half");
    plant_case_fini(&c);
}

/* A filter that was washed starts from nothing: the second run is as long as the first. */
static void runs_begin_anew_with_each_wash(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=1", MEASURED("2 m", "0 s"), "/wash/rinse_time=3 min",
                            "/wash/rinse_rate=4 m/h", "/horizon=100 h"));
    /* The rinse's own solids, 2 m3 of 10 g/m3, are in the bed when its run begins: 3 min less of service. */
    const double ended = 36 * HOUR + 13 * MINUTE;
    check(plant_case_wash(&c, 0, 0)->ended_at, ended, exact, "end of the first wash, s");
    check(plant_case_wash(&c, 0, 1)->called_at, ended + 36 * HOUR - 3 * MINUTE, exact, "second call, s");
    check(plant_case_wash(&c, 0, 1)->run_hours, 36 * HOUR - 3 * MINUTE, exact, "hours of that run, s: of service");
    check(plant_case_wash(&c, 0, 1)->run_volume, 4 * (36 - 0.05), 1e-6, "volume of that run, m3/m2");
    check(plant_case_wash(&c, 0, 1)->load, 1.44, 1e-9, "load at the second wash, kg/m2");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_trigger_calls_at_its_threshold),
        cmocka_unit_test(the_differential_across_the_bed_leaves_fittings_out),
        cmocka_unit_test(a_steepening_deposit_calls_where_its_curve_is),
        cmocka_unit_test(a_rate_step_calls_by_the_measured_differential),
        cmocka_unit_test(persistence_broken_off_must_last_anew),
        cmocka_unit_test(persistence_that_just_lasts_calls),
        cmocka_unit_test(the_corrected_differential_sees_no_step),
        cmocka_unit_test(hours_count_only_with_flow),
        cmocka_unit_test(persistence_ends_without_flow),
        cmocka_unit_test(runs_begin_anew_with_each_wash),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
