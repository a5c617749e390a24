/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Each rule of the plant by events and by the twin in fixed steps, one plant a rule: washes start in the same order,
 * off by a few steps at most and by less as the step shrinks, in proportion; volumes agree to what flows in a few
 * steps.
 *
 * Three filters of 10 m2 and their beds spread over a run of 20 h, washed with 30 m3/h for 10 min; one well of 40 m3/h.
 * Figures are odd, so that nothing falls together but what one rule brings together.
 */
#include "tests/plant/twin_pair.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>
#include <stdio.h>

#define BASE                                                                                                           \
    "/filters/0/count=3", "/start_beds/how=spread", "/wash/backwash_rate=3.1 m/h", "/wash/rinse_rate=2.3 m/h",         \
        "/wash/rinse_time=7 min", "/wash/valve_travel=1 min", "/wash/bed_settle=3 min"
#define WELL(name, flow, on, off, more)                                                                                \
    "{\"name\":\"" name "\",\"flow\":\"" flow "\",\"on_below\":\"" on "\",\"off_above\":\"" off "\"" more "}"
#define SWINGS                                                                                                         \
    "/storage={\"volume\":\"157 m3\",\"start_level\":\"50 %\"}", "/demand/maximum_day=611 m3/d",                       \
        "/wash/triggers/run_hours=7.3 h"
#define SPENT(law, outlets)                                                                                            \
    "/spent_wash={\"tanks\":[{\"name\":\"T1\",\"volume\":\"17 m3\"},{\"name\":\"T2\",\"volume\":\"19 m3\"}],"          \
    "\"settling\":{" law "},\"outlets\":[" outlets "]}"
#define CLOCK "\"law\":\"clock\",\"time\":\"2.1 h\",\"start_after\":\"33 min\""
#define NONE "\"law\":\"none\""
#define DEEP(law, more, outlets)                                                                                       \
    "/spent_wash={\"tanks\":[{\"name\":\"T1\",\"volume\":\"17 m3\",\"depth\":\"2.3 m\"},"                              \
    "{\"name\":\"T2\",\"volume\":\"19 m3\",\"depth\":\"2.1 m\"}],\"settling\":{" law "}" more ",\"outlets\":[" outlets \
    "]}"
#define PARTICLES                                                                                                      \
    "\"law\":\"classes\",\"start_after\":\"33 min\",\"clear_at\":\"23 mg/L\",\"classes\":["                            \
    "{\"share\":\"60 %\",\"velocity\":\"1.3 m/h\"},{\"share\":\"30 %\",\"velocity\":\"0.47 m/h\"},"                    \
    "{\"share\":\"10 %\",\"velocity\":\"0.07 m/h\"}]"
#define ZONES                                                                                                          \
    "\"law\":\"zone\",\"start_after\":\"33 min\",\"zone\":{\"velocity\":\"1.3 m/h\",\"hindrance\":\"0.7 m3/kg\","      \
    "\"greatest_concentration\":\"12000 mg/L\"}"
#define SLUDGE(rule) ",\"sludge\":{\"thickened_solids\":\"0.9 %\",\"thickening_time\":\"1.7 d\"," rule "}"
#define BACK "/recycle={\"pump\":\"2.3 m3/h\"}"
#define OFTEN "/wash/triggers/run_hours=7.3 h"
#define OUT(unit, from, until) "{\"unit\":\"" unit "\",\"from\":\"2026-01-0" from "\",\"until\":\"2026-01-0" until "\"}"
#define ROTA                                                                                                           \
    "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 03:10\",\"every\":\"5.3 h\"},"                              \
    "{\"filter\":\"F2\",\"first\":\"2026-01-05 04:10\",\"every\":\"7.1 h\"}]"
#define HOURS(from, until) "[{\"from\":\"" from "\",\"until\":\"" until "\"}]"
#define AIR                                                                                                            \
    "/wash/template=pressure_air", "/wash/drain_depth=0.61 m", "/wash/drain_time=6 min", "/wash/air_time=4 min",       \
        "/wash/fill_rate=1.7 m/h"

enum { MOST_SETTINGS = 24 };

struct rule {
    const char *name;
    const char *settings[MOST_SETTINGS];
};

static const struct rule rules[] = {
    {"air, drained and filled", {BASE, AIR, SPENT(CLOCK, "{\"kind\":\"sewer\",\"rate\":\"2.3 m3/h\"}")}},
    {"gravity, from storage",
     {BASE, "/wash/template=gravity", "/wash/drain_depth=0.4 m", "/wash/drain_time=5 min",
      "/wash/filter_down_depth=0.31 m", "/wash/filter_down_time=7 min", "/wash/air_time=3 min",
      "/wash_water={\"source\":\"storage\"}", "/demand/maximum_day=930 m3/d",
      "/storage={\"volume\":\"130 m3\",\"start_level\":\"31 %\",\"reserve\":\"18 %\"}",
      SPENT(NONE, "{\"kind\":\"pond\",\"rate\":\"1.7 m3/h\"}")}},
    {"regenerant held, from raw wells",
     {BASE, "/wash/template=batch_regeneration", "/wash/regenerant_depth=0.2 m3/m2", "/wash/regenerate_time=8 min",
      "/wash/holding={\"volume\":\"3.3 m3\",\"emptied_every\":\"13 h\"}", "/wash_water={\"source\":\"wells\"}"}},
    {"regenerant to the sewer, from the mains, two at a time",
     {BASE, "/wash/template=batch_regeneration", "/wash/regenerant_depth=0.2 m3/m2", "/wash/regenerate_time=8 min",
      "/wash/max_simultaneous=2", "/wash/min_between_starts=11 min", "/wash/triggers/run_hours=8.3 h",
      "/start_beds={\"how\":\"equal\"}", "/wash_water={\"source\":\"system\",\"draw_limit\":\"70 m3/h\"}"}},
    {"a wash pump for one wash and a half, two at a time",
     {BASE, "/wash/max_simultaneous=2", "/wash/triggers/run_hours=8.3 h", "/start_beds={\"how\":\"equal\"}",
      "/wash_water/max_flow=70 m3/h"}},
    {"filters wash each other, a throttled well",
     {BASE, "/wash_water={\"source\":\"filters\"}", "/over_approved_rate=throttle",
      "/wells=[" WELL("A", "131 m3/h", "60 %", "95 %", ",\"drive\":\"variable\",\"least_flow\":\"22 m3/h\"") "]",
      SWINGS, "/wash/triggers/run_hours=3.3 h"}},
    {"wash hours and urgent level",
     {BASE, "/wash/window=" HOURS("20:00", "21:00"),
      "/wash/triggers={\"run_hours\":\"9 h\",\"urgent_differential\":\"0.9 m\"}"}},
    {"rota, filters in service, one out",
     {BASE, "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 03:10\",\"every\":\"7.3 h\"}]",
      "/wash/min_filters_in_service=2", "/outages=[" OUT("F3", "5 08:00", "6 11:20") "]"}},
    {"storage lockout",
     {BASE, SWINGS, "/wash/storage_lockout=52 %", "/wells=[" WELL("A", "40 m3/h", "31 %", "83 %", "") "]"}},
    {"no wash while the plant stands still",
     {BASE, SWINGS, ROTA, "/wash/when_plant_stopped=wait", "/wells=[" WELL("A", "40 m3/h", "31 %", "83 %", "") "]"}},
    {"rinse at the next start",
     {BASE, SWINGS, ROTA, "/wash/when_plant_stopped=rinse_at_next_start",
      "/wells=[" WELL("A", "40 m3/h", "31 %", "83 %", "") "]"}},
    {"finished weak", {BASE, "/outages=[" OUT("wash pump", "5 06:43", "5 09:11") "]"}},
    {"held until attended, drained",
     {BASE, AIR, "/wash/on_interrupt=hold", "/wash/attended=" HOURS("09:30", "16:00"),
      "/outages=[" OUT("wash pump", "5 06:50", "5 07:11") "]"}},
    {"rinse at the plant's start, with spill",
     {BASE, SWINGS, "/wash/rinse_at_start=6 min", "/wells=[" WELL("A", "40 m3/h", "31 %", "83 %", "") "]",
      SPENT(NONE, "{\"kind\":\"sewer\",\"rate\":\"0.9 m3/h\"}")}},
    {"wells give way to recycle",
     {BASE, "/over_approved_rate=throttle", "/recycle={\"pump\":\"5.3 m3/h\",\"control\":\"ratio\"}",
      "/wells=[" WELL("A", "70 m3/h", "98 %", "99 %", ",\"drive\":\"variable\",\"least_flow\":\"12 m3/h\"") "]",
      "/approved_capacity=57 m3/h", SPENT(CLOCK, "{\"kind\":\"recycle\"}")}},
    {"rates rise",
     {BASE, "/over_approved_rate=rate_rises", "/filters/0/approved_rate=1.7 m/h",
      "/wells=[" WELL("A", "40 m3/h", "98 %", "99 %", "") "]"}},
    {"least run and rest, iron by well",
     {BASE, SWINGS, "/raw_water={\"iron\":\"2 mg/L\",\"manganese\":\"0.5 mg/L\"}",
      "/wash/triggers={\"differential\":\"0.83 m\"}",
      "/wells=[" WELL("A", "23 m3/h", "41 %", "57 %", ",\"minimum_run\":\"2.3 h\",\"iron\":\"1 mg/L\"") "," WELL(
          "B", "19 m3/h", "37 %", "59 %", ",\"minimum_rest\":\"1.7 h\",\"manganese\":\"1.3 mg/L\"") "]"}},
    {"leaves service at available head",
     {BASE, "/filters/0/available_head=0.9 m", "/filters/0/at_available_head=leaves_service",
      "/filters/0/deposit/observed_run/hours=7 h", "/wash/window=" HOURS("18:00", "23:00")}},
    {"alarm at available head",
     {BASE, "/filters/0/available_head=0.9 m", "/filters/0/at_available_head=alarm_only",
      "/filters/0/deposit/observed_run/hours=7 h"}},
    {"outlets' hours and volumes of the day",
     {BASE, "/recycle={\"pump\":\"1.3 m3/h\"}", "/wash/triggers/run_hours=7 h",
      SPENT(CLOCK, "{\"kind\":\"haul\",\"rate\":\"3.1 m3/h\",\"hours\":" HOURS(
                       "08:00", "16:00") ",\"daily_volume\":"
                                         "\"5.3 m3\"},{\"kind\":\"recycle\",\"hours\":" HOURS(
                                             "12:00", "15:00") "},{\"kind\":\"sewer\",\"rate\":"
                                                               "\"0.3 m3/h\"}")}},
    {"well, tank, blower and recycle pump out",
     {BASE, AIR, "/recycle={\"pump\":\"1.3 m3/h\"}", SPENT(CLOCK, "{\"kind\":\"recycle\"}"),
      "/wells=[" WELL("A", "23 m3/h", "98 %", "99 %", "") "," WELL("B", "19 m3/h", "98 %", "99 %", "") "]",
      "/outages=[" OUT("B", "5 03:00", "5 09:00") "," OUT("T1", "5 10:05", "5 21:00") "," OUT(
          "blower", "5 13:20", "5 16:10") "," OUT("recycle pump", "5 11:00", "6 05:00") "]"}},
    {"particles by classes, until clear, sludge dropped",
     {BASE, BACK, "/wash/triggers/run_hours=7.9 h", DEEP(PARTICLES, "", "{\"kind\":\"recycle\"}")}},
    {"particles by classes, a blanket drawn at each decant",
     {BASE, BACK, OFTEN,
      DEEP(PARTICLES, SLUDGE("\"drawn\":\"each_decant\",\"volume\":\"0.9 m3\""), "{\"kind\":\"recycle\"}")}},
    {"zones, a blanket drawn at its level, to the sewer",
     {BASE, BACK, OFTEN,
      DEEP(ZONES, SLUDGE("\"drawn\":\"by_level\",\"level\":\"17 %\",\"to\":\"sewer\""), "{\"kind\":\"recycle\"}")}},
    {"particles, a blanket drawn by the calendar and hauled, above a fixed pipe",
     {BASE, BACK, OFTEN,
      DEEP(PARTICLES ",\"draw_off\":\"fixed\",\"draw_height\":\"0.17 m\"",
           SLUDGE("\"drawn\":\"by_calendar\",\"every\":\"19.3 h\",\"to\":\"haul\""), "{\"kind\":\"recycle\"}")}},
    {"an emergency outlet",
     {BASE, OFTEN,
      DEEP("\"law\":\"clock\",\"time\":\"11 h\"", SLUDGE("\"drawn\":\"each_decant\",\"volume\":\"0.9 m3\""),
           "{\"kind\":\"pond\",\"rate\":\"0.7 m3/h\"},{\"kind\":\"sewer\",\"rate\":\"3.7 m3/h\",\"emergency\":true}")}},
    {"recycle bounded by the solids of the blend",
     {BASE, OFTEN, "/recycle={\"pump\":\"2.3 m3/h\",\"control\":\"ratio\",\"max_blend_solids\":\"17.3 mg/L\"}",
      DEEP("\"law\":\"classes\",\"time\":\"37 min\",\"start_after\":\"33 min\",\"classes\":["
           "{\"share\":\"50 %\",\"velocity\":\"1.3 m/h\"},{\"share\":\"50 %\",\"velocity\":\"0.07 m/h\"}]",
           "", "{\"kind\":\"recycle\"}")}},
    {"rinsed to the sewer, washed out in part",
     {BASE, OFTEN, "/wash/rinse_to=sewer", "/wash/washout_depth=0.31 m",
      DEEP(PARTICLES, "", "{\"kind\":\"pond\",\"rate\":\"1.9 m3/h\"}")}},
    {"two vessels, an outage of a cell",
     {BASE, "/filters/0/count=4", "/filters/0/cells_per_vessel=2", "/outages=[" OUT("F2", "5 06:00", "6 04:00") "]",
      "/wash/triggers/run_hours=19.3 h"}},
    {"beds given, dirtiest first, approved capacity",
     {BASE, "/start_beds={\"how\":\"given\"}", "/filters/0/start_shares=[\"91 %\",\"40 %\",\"88 %\"]",
      "/approved_capacity=31 m3/h", "/wash/who_first=dirtiest", "/wash/min_between_starts=3.7 h",
      "/wells=[" WELL("A", "23 m3/h", "98 %", "99 %", "") "," WELL("B", "19 m3/h", "98 %", "99 %", "") "," WELL(
          "C", "7 m3/h", "98 %", "99 %", "") "]"}},
};

/* Wash starts of a rule, s apart at most, at a step. */
static double compare_rule(const struct rule *rule, const struct wr_plant *plant, const struct twin_events *events,
                           double until, double step)
{
    struct twin_result twin;
    assert_true(twin_run(plant, step, until, &twin));
    const struct twin_agreement agreement = twin_compare(events, &twin, until, step);
    if (agreement.flipped) {
        fail_msg("%s, step %g s: other washes from %.1f s on", rule->name, step, agreement.at);
    }
    const double *by_twin = (const double *)&twin.volumes, *by_events = (const double *)&events->volumes;
    for (size_t i = 0; i < sizeof twin.volumes / sizeof *by_twin; i++) {
        if (fabs(by_twin[i] - by_events[i]) > 1.0 * step + 1e-6) {
            fail_msg("%s, step %g s: volume %zu is %.6f m3, by events %.6f", rule->name, step, i, by_twin[i],
                     by_events[i]);
        }
    }
    twin_result_fini(&twin);
    return agreement.worst;
}

static void test_each_rule_converges(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof rules / sizeof *rules; i++) {
        struct plant_case c;
        struct wr_plant plant;
        struct twin_events events;
        plant_case_read(&c, PLANT_PLAIN, rules[i].settings);
        check_count(wr_plant_init(&plant, &c.reading.definition), WR_OK, "status of a plant");
        twin_events_run(&events, &plant, 2.0 * DAY);
        check_between((double)events.start_count, 4, HUGE_VAL, rules[i].name);
        const double coarse = compare_rule(&rules[i], &plant, &events, 2.0 * DAY, 1.0);
        const double fine = compare_rule(&rules[i], &plant, &events, 2.0 * DAY, 0.125);
        printf("  %-56s %3zu starts, %6.3f s apart, %6.3f s in steps of 1/8 s\n", rules[i].name, events.start_count,
               coarse, fine);
        /* Within a step for each wash chance rules: where between two steps each thing falls. */
        check_between(fine, 0.0, fmax(0.4 * coarse, 0.125 * (double)events.start_count),
                      "worst difference of a start, s, against that of a step of 1 s");
        twin_events_fini(&events);
        wr_plant_fini(&plant);
        plant_case_fini(&c);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_each_rule_converges),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
