/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outages of every kind of unit, to the second; outages of one unit that meet at an instant; vessels of several cells.
 */
#include "sim/plant/bed.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <stdio.h>

static const double exact = 1e-6;         /* s */
static const double an_hour = 1.0 / 3600; /* m3/h in m3/s */

#define OUT(unit, from, until)                                                                                         \
    "{\"unit\":\"" unit "\",\"from\":\"2026-01-05 " from "\",\"until\":\"2026-01-05 " until "\"}"
#define WELL(name, flow) "{\"name\":\"" name "\",\"flow\":\"" flow "\",\"on_below\":\"98 %\",\"off_above\":\"99 %\"}"
#define START "/start_beds/how=given", "/filters/0/start_shares=[\"50 %\", \"0 %\"]"
/* 5 min of draining, 14 of air, 1 of fill and 10 of backwash. */
#define AIR_WASH                                                                                                       \
    "/wash/template=pressure_air", "/wash/drain_depth=0.5 m", "/wash/drain_time=5 min", "/wash/air_time=14 min",       \
        "/wash/fill_rate=30 m/h"
#define SPENT(tanks, outlets)                                                                                          \
    "/spent_wash={\"tanks\":[" tanks "],\"settling\":{\"law\":\"none\"},\"outlets\":[" outlets "]}"

static void a_well_stands_still_while_it_is_out(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wells=[" WELL("A", "25 m3/h") "," WELL("B", "15 m3/h") "]",
                            "/outages=[" OUT("A", "02:00", "05:30") "]", "/horizon=8 h"));
    check(plant_case_time(&c, WR_EVENT_UNIT_OUT, 0, 0), 2 * HOUR, 0, "it goes, s");
    check(plant_case_time(&c, WR_EVENT_UNIT_BACK, 0, 0), 5.5 * HOUR, 0, "it comes back, s");
    check(plant_case_at(&c, 3 * HOUR)->flows.raw, 15 * an_hour, 1e-15, "raw water meanwhile, m3/s");
    check(plant_case_water(&c, WR_LINE_RAW), 8 * 40 - 3.5 * 25, 1e-9, "raw water, m3");
    plant_case_fini(&c);
}

/* A wash pump or blower that is out holds the call; a blower, unlike a pump, lets a wash under way go on. */
static void a_wash_under_way_goes_on_without_the_blower(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(START, AIR_WASH, "/outages=[" OUT("blower", "10:10", "20:30") "]", "/horizon=22 h"));
    check(plant_case_wash(&c, 0, 0)->ended_at, 10.5 * HOUR, exact, "end of the wash under way, s");
    check(plant_case_wash(&c, 1, 0)->started_at, 20.5 * HOUR, exact, "the other wash, s: the blower is back");
    check_true(plant_case_finding(&c, WR_FINDING_WASH_SHORT) == NULL, "no wash is short");
    plant_case_fini(&c);
}

/* One blower for two wash systems: the second air wash waits for the first to end. */
static void one_blower_serves_one_wash_at_a_time(void **state)
{
    (void)state;
    static const char *const blowers[] = {"/wash/blowers=1", "/wash/blowers=2"};
    for (int n = 0; n < 2; n++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN, SETTINGS(AIR_WASH, "/wash/max_simultaneous=2", blowers[n], "/horizon=23 h"));
        check(plant_case_wash(&c, 1, 0)->started_at, (n == 0 ? 20.5 : 20) * HOUR, exact, "second wash, s");
        check(plant_case_held(&c, WR_LIMIT_BLOWER), n == 0 ? 0.5 * HOUR : 0, exact, "time it waited, s");
        plant_case_fini(&c);
    }
}

/* Without its pump recycle stands still and the sewer takes over until it is back. */
static void the_next_outlet_runs_while_the_recycle_pump_is_out(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS(
            START, SPENT("{\"volume\":\"100 m3\"}", "{\"kind\":\"recycle\"},{\"kind\":\"sewer\",\"rate\":\"3 m3/h\"}"),
            "/recycle={\"pump\":\"4 m3/h\"}", "/outages=[" OUT("recycle pump", "11:00", "13:00") "]", "/horizon=15 h"));
    check(plant_case_water(&c, WR_LINE_TO_SEWER), 2 * 3, 1e-9, "to the sewer, m3: 2 h");
    check(plant_case_water(&c, WR_LINE_RECYCLE), 3 * 4, 1e-9, "recycled, m3: 1 h before and 2 h after");
    const struct wr_span *span = plant_case_span(&c, WR_LIMIT_RECYCLE_PUMP_OUT, WR_NOWHERE, 0);
    check_true(span != NULL, "what held recycle");
    check(span->from, 11 * HOUR, exact, "from, s");
    check(span->to, 13 * HOUR, exact, "to, s");
    plant_case_fini(&c);
}

/* A tank that is out takes no new wash and gives no water; one that is filled goes on being filled. */
static void a_tank_that_is_out_neither_takes_nor_gives(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(START,
                            SPENT("{\"name\":\"T1\",\"volume\":\"100 m3\"},{\"name\":\"T2\",\"volume\":\"200 m3\"}",
                                  "{\"kind\":\"sewer\",\"rate\":\"6 m3/h\"}"),
                            "/outages=[" OUT("T1", "10:05", "21:00") "]", "/horizon=24 h"));
    check_count(plant_case_wash(&c, 0, 0)->tank, 0, "tank of the first wash: the smaller room that is enough");
    check_count(plant_case_wash(&c, 1, 0)->tank, 1, "tank of the second: the other is out");
    const struct plant_sample *filled = plant_case_at(&c, 10.5 * HOUR);
    check(filled->tanks[0].level, 50 - 0.5, 1e-9, "level of the first after its wash, m3: 5 min at 6 m3/h are gone");
    check(plant_case_at(&c, 20 * HOUR - 1)->tanks[0].level, 49.5, 1e-9, "level at 20 h, m3: nothing leaves");
    check(plant_case_water(&c, WR_LINE_TO_SEWER), 0.5 + 4 * 6, 1e-9, "to the sewer, m3: 5 min, and from 20 h on");
    plant_case_fini(&c);
}

/* All cells of a vessel go and come together, whichever of them is named, also for two outages that overlap. */
static void cells_of_a_vessel_go_together(void **state)
{
    (void)state;
    static const char *const outages[] = {"/outages=[" OUT("F3", "05:00", "09:00") "]",
                                          "/outages=[" OUT("F4", "05:00", "09:00") "]",
                                          "/outages=[" OUT("F3", "05:00", "07:00") "," OUT("F4", "06:00", "09:00") "]",
                                          "/outages=[" OUT("F4", "07:00", "09:00") "," OUT("F3", "05:00", "07:00") "]"};
    for (size_t i = 0; i < sizeof outages / sizeof *outages; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS("/filters/0/count=6", "/filters/0/cells_per_vessel=2", outages[i], "/horizon=12 h"));
        for (size_t f = 0; f < 6; f++) {
            const bool goes = f == 2 || f == 3;
            check_count(plant_case_count(&c, WR_EVENT_OUT, f), goes, "times a cell goes out");
            check_count(plant_case_count(&c, WR_EVENT_BACK, f), goes, "times it comes back");
            check(wr_bed_now(&c.run.plant, plant_case_state(&c), f).hours, (goes ? 8 : 12) * HOUR, exact,
                  "hours of its run, s");
        }
        check(plant_case_time(&c, WR_EVENT_OUT, 3, 0), 5 * HOUR, 0, "a cell goes, s");
        check(plant_case_time(&c, WR_EVENT_BACK, 2, 0), 9 * HOUR, 0, "a cell comes back, s");
        plant_case_fini(&c);
    }
}

/* While one cell is washed the other goes at once, the one washed after its wash. */
static void a_cell_being_washed_follows_its_vessel(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=4", "/filters/0/cells_per_vessel=2", "/start_beds/how=given",
                            "/filters/0/start_shares=[\"50 %\", \"0 %\", \"0 %\", \"0 %\"]", "/wash/bed_settle=50 min",
                            "/outages=[" OUT("F2", "10:30", "14:00") "]", "/horizon=19 h"));
    check(plant_case_time(&c, WR_EVENT_OUT, 1, 0), 10.5 * HOUR, 0, "the cell in service goes, s");
    check(plant_case_time(&c, WR_EVENT_OUT, 0, 0), 11 * HOUR, exact, "the cell being washed goes, s");
    check(plant_case_time(&c, WR_EVENT_BACK, 0, 0), 14 * HOUR, 0, "it comes back, s");
    check(plant_case_time(&c, WR_EVENT_BACK, 1, 0), 14 * HOUR, 0, "the other comes back, s");
    plant_case_fini(&c);
}

/* An outage that begins as another of the same unit ends goes on in it, in either order of the list. */
static void one_outage_follows_another(void **state)
{
    (void)state;
    static const char *const units[] = {"F1", "W1", "wash pump", "T1"};
    for (size_t u = 0; u < sizeof units / sizeof *units; u++)
        for (int order = 0; order < 2; order++) {
            char outages[512];
            struct plant_case c;
            snprintf(outages, sizeof outages,
                     "/outages=[{\"unit\":\"%s\",\"from\":\"2026-01-05 %s\",\"until\":\"2026-01-05 %s\"},"
                     "{\"unit\":\"%s\",\"from\":\"2026-01-05 %s\",\"until\":\"2026-01-05 %s\"}]",
                     units[u], order == 0 ? "03:00" : "04:00", order == 0 ? "04:00" : "05:00", units[u],
                     order == 0 ? "04:00" : "03:00", order == 0 ? "05:00" : "04:00");
            plant_case_run(
                &c, PLANT_PLAIN,
                SETTINGS(outages,
                         SPENT("{\"name\":\"T1\",\"volume\":\"100 m3\"}", "{\"kind\":\"sewer\",\"rate\":\"6 m3/h\"}"),
                         "/horizon=8 h"));
            size_t out = 0, back = 0;
            double went = 0, came = 0;
            for (size_t i = 0; i < c.told.event_count; i++) {
                const struct wr_event *event = &c.told.events[i];
                if (event->kind == WR_EVENT_OUT || event->kind == WR_EVENT_UNIT_OUT) {
                    went = event->time;
                    out++;
                }
                if (event->kind == WR_EVENT_BACK || event->kind == WR_EVENT_UNIT_BACK) {
                    came = event->time;
                    back++;
                }
            }
            check_count(out, 1, "times the unit goes out");
            check_count(back, 1, "times it comes back");
            check(went, 3 * HOUR, 0, "it goes, s");
            check(came, 5 * HOUR, 0, "it comes back, s");
            plant_case_fini(&c);
        }
}

/* Two outages that begin, and end, at one instant. */
static void two_outages_alike_are_one(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS("/outages=[" OUT("F1", "03:00", "05:00") "," OUT("F1", "03:00", "05:00") "]", "/horizon=8 h"));
    check_count(plant_case_count(&c, WR_EVENT_OUT, 0), 1, "times it goes");
    check_count(plant_case_count(&c, WR_EVENT_BACK, 0), 1, "times it comes back");
    check(wr_bed_now(&c.run.plant, plant_case_state(&c), 0).hours, 6 * HOUR, exact, "hours of its run, s");
    plant_case_fini(&c);
}

/* Over before the run starts: the filter serves from the first, and its bed is spread with the others'. */
static void an_outage_that_is_past_is_none(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/outages=[{\"unit\":\"F2\",\"from\":\"2026-01-03\",\"until\":\"2026-01-04\"},"
                            "{\"unit\":\"F1\",\"from\":\"2026-01-03\",\"until\":\"2026-01-05 00:00\"}]",
                            "/start_beds/how=spread", "/horizon=21 h"));
    for (size_t f = 0; f < 2; f++) {
        check_count(plant_case_count(&c, WR_EVENT_OUT, f), 0, "times a filter goes out");
        check_count(plant_case_count(&c, WR_EVENT_BACK, f), 0, "times it comes back");
    }
    check(plant_case_wash(&c, 1, 0)->started_at, 10 * HOUR, exact, "wash of F2, s: half of its run was used");
    check(plant_case_wash(&c, 0, 0)->started_at, 20 * HOUR, exact, "wash of F1, s: none of its run was");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_well_stands_still_while_it_is_out),
        cmocka_unit_test(a_wash_under_way_goes_on_without_the_blower),
        cmocka_unit_test(one_blower_serves_one_wash_at_a_time),
        cmocka_unit_test(the_next_outlet_runs_while_the_recycle_pump_is_out),
        cmocka_unit_test(a_tank_that_is_out_neither_takes_nor_gives),
        cmocka_unit_test(cells_of_a_vessel_go_together),
        cmocka_unit_test(a_cell_being_washed_follows_its_vessel),
        cmocka_unit_test(one_outage_follows_another),
        cmocka_unit_test(two_outages_alike_are_one),
        cmocka_unit_test(an_outage_that_is_past_is_none),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
