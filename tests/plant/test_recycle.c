/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Water sent back to the filters: what lets the pump run, and what holds it. The tank has clear water from the start
 * and no settling, so it gives at once. */
#include "sim/plant/bed.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>
#include <string.h>

static const double exact = 1e-6;                  /* s, m3 */
static const double an_hour = 1.0 / 3600;          /* m3/h in m3/s */
static const double gal_min = 3.785411784e-3 / 60; /* gal/min in m3/s */

#define CLEAR_TANK(outlets)                                                                                            \
    "/spent_wash={\"tanks\":[{\"volume\":\"1000 m3\",\"start_level\":\"50 %\"}],\"settling\":{\"law\":\"none\"},"      \
    "\"outlets\":[" outlets "]}"
#define RECYCLE "{\"kind\":\"recycle\"}"
#define PUMP(flow, control, share)                                                                                     \
    "/recycle={\"pump\":\"" flow "\",\"control\":\"" control "\",\"max_fraction\":\"" share "\"}"

/* One filter of 49.5 ft2, which takes 148.5 gal/min, one well: what runs, in gal/min. */
static void what_lets_the_pump_run(void **state)
{
    (void)state;
    static const struct {
        const char *well, *recycle, *capacity;
        double flow;
        int held; /* enum wr_limit */
        const char *why;
    } cases[] = {
        {"135 gal/min", PUMP("13.5 gal/min", "fixed", "10 %"), NULL, 13.5, WR_LIMIT_NONE, "just its share, just fits"},
        {"134 gal/min", PUMP("13.401 gal/min", "fixed", "10 %"), NULL, 0, WR_LIMIT_SHARE_OF_RAW, "above its share"},
        {"134 gal/min", PUMP("13.401 gal/min", "ratio", "10 %"), NULL, 13.4, WR_LIMIT_SHARE_OF_RAW,
         "held to its share"},
        {"135 gal/min", PUMP("13.5 gal/min", "fixed", "20 %"), NULL, 13.5, WR_LIMIT_NONE, "just fits the filter"},
        {"135 gal/min", PUMP("13.501 gal/min", "fixed", "20 %"), NULL, 0, WR_LIMIT_FILTERS_FULL, "waits for filters"},
        {"135 gal/min", PUMP("20 gal/min", "ratio", "20 %"), NULL, 13.5, WR_LIMIT_FILTERS_FULL,
         "takes what they leave"},
        {"148.5 gal/min", PUMP("1 gal/min", "ratio", "20 %"), NULL, 0, WR_LIMIT_FILTERS_FULL, "wells go first"},
        {"100 gal/min", PUMP("10 gal/min", "fixed", "10 %"), "/approved_capacity=110 gal/min", 10, WR_LIMIT_NONE,
         "just the approved capacity"},
        {"100 gal/min", PUMP("10 gal/min", "fixed", "10 %"), "/approved_capacity=109.99 gal/min", 0,
         WR_LIMIT_RECYCLE_APPROVED_CAPACITY, "above the approved capacity"},
        {"100 gal/min", PUMP("10 gal/min", "ratio", "10 %"), "/approved_capacity=108 gal/min", 8,
         WR_LIMIT_RECYCLE_APPROVED_CAPACITY, "held to the approved capacity"},
        {"0.3 gal/min", PUMP("0.03 gal/min", "fixed", "10 %"), NULL, 0.03, WR_LIMIT_NONE,
         "ten percent of three tenths"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char well[64] = "/wells/0/flow=";
        struct plant_case c;
        strcat(well, cases[i].well);
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS(well, "/filters/0/count=1", "/filters/0/area=49.5 ft2",
                                "/filters/0/approved_rate=3 gal/min/ft2", "/filters/0/available_head=100 m",
                                CLEAR_TANK(RECYCLE), cases[i].recycle, "/horizon=10 h", cases[i].capacity));
        check(plant_case_water(&c, WR_LINE_RECYCLE) / (10 * HOUR), cases[i].flow * gal_min, 1e-12, cases[i].why);
        for (enum wr_limit limit = WR_LIMIT_NO_RAW_FLOW; limit <= WR_LIMIT_RECYCLE_APPROVED_CAPACITY; limit++)
            check(plant_case_state(&c)->holds[limit], (int)limit == cases[i].held ? 10 * HOUR : 0, exact,
                  "time in which a limit held the recycle, s");
        const struct wr_finding *held = plant_case_finding(&c, WR_FINDING_RECYCLE_HELD);
        check_true((held != NULL) == (cases[i].flow <= 0), "recycle that stands still is a finding");
        check_true(c.run.passes, "which fails no run");
        plant_case_fini(&c);
    }
}

/* A fixed well is not dropped for the recycle pump's sake, also while a filter is washed. */
static void a_pump_waits_while_a_filter_is_washed(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wells/0/flow=58 m3/h", CLEAR_TANK(RECYCLE), PUMP("5 m3/h", "fixed", "10 %"),
                            "/start_beds/how=given", "/filters/0/start_shares=[\"50 %\", \"0 %\"]",
                            "/wash/bed_settle=50 min", "/horizon=12 h"));
    check(plant_case_water(&c, WR_LINE_RAW), 12 * 58, exact, "raw water, m3: the well runs throughout");
    check(plant_case_water(&c, WR_LINE_RECYCLE), 11 * 5, exact, "recycled, m3: not during the wash");
    const struct wr_span *span = plant_case_span(&c, WR_LIMIT_FILTERS_FULL, WR_NOWHERE, 0);
    check_true(span != NULL, "the filter left is full then");
    check(span->from, 10 * HOUR, exact, "start of that span, s: of the wash");
    check(span->to, 11 * HOUR, exact, "its end, s: of the wash");
    plant_case_fini(&c);
}

/* Storage stops the well at 10 h; without raw flow nothing is recycled. */
static void no_recycle_without_raw_flow(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(CLEAR_TANK(RECYCLE), PUMP("4 m3/h", "fixed", "10 %"), "/demand/maximum_day=0 m3/d",
                            "/storage={\"volume\":\"2000 m3\",\"start_level\":\"50 %\"}", "/wells/0/on_below=50 %",
                            "/wells/0/off_above=72 %", "/horizon=15 h"));
    check(plant_case_water(&c, WR_LINE_RECYCLE), 40, exact, "recycled, m3: 4 m3/h until 440 m3 more are in storage");
    check(plant_case_span(&c, WR_LIMIT_NO_RAW_FLOW, WR_NOWHERE, 0)->from, 10 * HOUR, exact, "from when it is held, s");
    plant_case_fini(&c);
}

/* A rinse of 20 m3/h runs a well of 40 that storage does not call: recycle is held to its share of that. */
static void recycle_beside_a_rinse(void **state)
{
    (void)state;
    static const struct {
        const char *recycle;
        double flow;
    } cases[] = {{PUMP("4 m3/h", "fixed", "10 %"), 4},
                 {PUMP("4.1 m3/h", "fixed", "10 %"), 0},
                 {PUMP("9 m3/h", "ratio", "10 %"), 4}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS(CLEAR_TANK(RECYCLE), cases[i].recycle, "/wells/0/on_below=50 %",
                                "/wells/0/off_above=60.001 %",
                                "/storage={\"volume\":\"100000 m3\",\"start_level\":\"60 %\"}",
                                "/demand={\"maximum_day\":\"480 m3/d\",\"hourly_factors\":[0,0,0,0,0,0,0,0,0,0,0,0,1,1,"
                                "1,1,1,1,1,1,1,1,1,1]}",
                                "/start_beds/how=given", "/filters/0/start_shares=[\"99.9999 %\", \"0 %\"]",
                                "/wash/bed_settle=110 min", "/wash/rinse_time=1 h", "/wash/rinse_rate=2 m/h",
                                "/horizon=4 h", "/wash_water/tank/refill_on_below=10 %"));
        const struct plant_sample *before = plant_case_at(&c, 1.5 * HOUR), *rinse = plant_case_at(&c, 2.5 * HOUR);
        check(before->flows.raw, 0, 0, "raw water before the rinse, m3/s");
        check(before->flows.recycle, 0, 0, "recycle then, m3/s");
        check(rinse->flows.raw, 40 * an_hour, 1e-15, "raw water during the rinse, m3/s");
        check(rinse->flows.recycle, cases[i].flow * an_hour, 1e-15, "recycle then, m3/s: a tenth at most");
        check(rinse->flows.service, (20 + cases[i].flow) * an_hour, 1e-15, "service then, m3/s");
        plant_case_fini(&c);
    }
}

/* Outlets stand in order of preference: the sewer runs while recycle does not. */
static void a_later_outlet_runs_while_the_first_cannot(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wells/0/flow=58 m3/h", CLEAR_TANK(RECYCLE ",{\"kind\":\"sewer\",\"rate\":\"7 m3/h\"}"),
                            PUMP("5 m3/h", "fixed", "10 %"), "/start_beds/how=given",
                            "/filters/0/start_shares=[\"50 %\", \"0 %\"]", "/wash/bed_settle=50 min", "/horizon=12 h"));
    check(plant_case_water(&c, WR_LINE_RECYCLE), 11 * 5, exact, "recycled, m3: but for the hour of the wash");
    check(plant_case_water(&c, WR_LINE_TO_SEWER), 7, exact, "to the sewer, m3: in that hour");
    plant_case_fini(&c);
}

/* Clear water thins the feed: 10 g/m3 in 40 m3/h of raw water, none in 4 m3/h. */
static void clear_water_thins_the_feed(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(CLEAR_TANK(RECYCLE), PUMP("4 m3/h", "fixed", "10 %"), "/horizon=10 h"));
    const struct plant_sample *s = plant_case_at(&c, 5 * HOUR);
    check(s->flows.feed[WR_SOLIDS], 10e-3 * 40 / 44, 1e-15, "solids of the feed, kg/m3: mixing");
    check(s->flows.feed[WR_IRON], 2e-3 * 40 / 44, 1e-15, "iron of the feed, kg/m3");
    check(s->flows.feed[WR_MANGANESE], 0.5e-3 * 40 / 44, 1e-15, "manganese of the feed, kg/m3");
    check(c.run.record.highest_recycle_share, 0.1, 1e-12, "highest recycle as a share of raw water");
    plant_case_fini(&c);
}

/* Unsettled water carries its solids back: what one wash took out of a bed comes back into the feed. */
static void unsettled_water_thickens_the_feed(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=1",
                            "/spent_wash={\"tanks\":[{\"volume\":\"60 m3\"}],\"settling\":{\"law\":"
                            "\"none\"},\"outlets\":[{\"kind\":\"recycle\"}]}",
                            PUMP("4 m3/h", "fixed", "10 %"), "/horizon=33 h"));
    /* 20 h at 40 m3/h and 10 g/m3: 8 kg in 50 m3. No raw water during the wash; then 12.5 h of 4 m3/h. */
    const struct plant_sample *s = plant_case_at(&c, 25 * HOUR);
    const double back = 8.0 / 50;
    check(s->flows.feed[WR_SOLIDS], (40 * 10e-3 + 4 * back) / 44, 1e-12, "solids of the feed, kg/m3: mixing");
    check(plant_case_time(&c, WR_EVENT_TANK_EMPTIED, 0, 0), 20 * HOUR + 10 * MINUTE + 12.5 * HOUR, exact,
          "when the tank is empty, s");
    const struct wr_entry *line = wr_ledger_line(&c.run.plant, plant_case_state(&c), WR_LINE_RECYCLE, 0);
    check(line->mass[WR_SOLIDS], 8, 1e-9, "solids sent back, kg: all of one run");
    check(wr_bed_load(&c.run.plant, plant_case_state(&c), 0) * 10, 12.8333333333333333 * 40 * 10e-3 + 8, 1e-9,
          "solids in the bed, kg: 12 h 50 min of raw water and the run before");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_lets_the_pump_run),
        cmocka_unit_test(a_pump_waits_while_a_filter_is_washed),
        cmocka_unit_test(no_recycle_without_raw_flow),
        cmocka_unit_test(recycle_beside_a_rinse),
        cmocka_unit_test(a_later_outlet_runs_while_the_first_cannot),
        cmocka_unit_test(clear_water_thins_the_feed),
        cmocka_unit_test(unsettled_water_thickens_the_feed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
