/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A wash has its whole water in hand and its whole room kept when it starts, and exactly enough is enough. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <stdio.h>

static const double exact = 1e-6; /* s, m3 */

/* Two spent-wash tanks that settle, emptied to the sewer at 30 m3/h. */
#define TWO_TANKS(first, second)                                                                                       \
    "/spent_wash={\"tanks\":[{\"volume\":\"" first "\"},{\"volume\":\"" second "\"}],"                                 \
    "\"settling\":{\"law\":\"clock\",\"time\":\"2 h\",\"start_after\":\"1 h\",\"sludge_share\":\"20 %\"},"             \
    "\"outlets\":[{\"kind\":\"sewer\",\"rate\":\"30 m3/h\"}]}"

/* Six filters that call together, with water for 2.6 washes and room for 4.8, as often as they like. */
static void no_tank_is_promised_twice(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=6", "/wash/max_simultaneous=6", "/wash/rinse_time=6 min",
                            "/wash/valve_travel=1 min",
                            "/wash_water/tank={\"volume\":\"130 m3\",\"refill_rate\":"
                            "\"35 m3/h\",\"refill_on_below\":\"60 %\"}",
                            TWO_TANKS("150 m3", "120 m3"), "/wells/0/flow=80 m3/h", "/horizon=60 d"));
    for (size_t i = 0; i < c.told.sample_count; i++) {
        const struct plant_sample *s = &c.told.samples[i];
        check_between(s->wash_level, -exact, 130 + exact, "wash-water tank, m3: within its walls");
        check_between(s->wash_free, -exact, s->wash_level + exact, "its water not booked, m3: within its level");
        check_between(s->tanks[0].level, -exact, 150 + exact, "first spent-wash tank, m3: within its walls");
        check_between(s->tanks[1].level, -exact, 120 + exact, "second spent-wash tank, m3: within its walls");
    }
    check_between((double)c.run.record.balance.washes, 300, 420, "washes in 60 d, six filters of at least 20 h a run");
    size_t under_way = 0;
    for (size_t f = 0; f < 6; f++)
        under_way += plant_case_filter(&c, f)->mode == WR_MODE_WASH;
    check_count(under_way, 0, "washes under way at the end, for the next check");
    check(plant_case_water(&c, WR_LINE_BACKWASH), 50 * (double)c.run.record.balance.washes, 1e-6,
          "wash water given, m3: 50 a wash");
    check(plant_case_water(&c, WR_LINE_RINSE), 6 * (double)c.run.record.balance.washes, 1e-6,
          "rinse water given, m3: 6 m/h x 10 m2 x 6 min a wash");
    plant_case_fini(&c);
}

/* Of the tanks with room the one with the least; a wash and its rinse stay with it. */
static void a_wash_takes_the_tank_with_the_least_room(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=3", "/wash/max_simultaneous=3", "/wash/rinse_time=6 min",
                            TWO_TANKS("120 m3", "60 m3"), "/wells/0/flow=30 m3/h", "/horizon=21 h",
                            "/wash/rinse_rate=3 m/h"));
    check_count(plant_case_wash(&c, 0, 0)->tank, 1, "first wash: the smaller tank, where 53 m3 fit");
    check_count(plant_case_wash(&c, 1, 0)->tank, 0, "second: the larger one");
    check_count(plant_case_wash(&c, 2, 0)->tank, 0, "third: the larger one has 67 m3 left");
    const struct wr_plant *plant = &c.run.plant;
    const struct wr_state *s = plant_case_state(&c);
    check(wr_ledger_line(plant, s, WR_LINE_BACKWASH, 1)->water, 50, exact, "wash water in the smaller tank, m3");
    check(wr_ledger_line(plant, s, WR_LINE_RINSE, 1)->water, 3, exact, "rinse water in the smaller tank, m3");
    check(wr_ledger_line(plant, s, WR_LINE_BACKWASH, 0)->water, 100, exact, "wash water in the larger tank, m3");
    check(wr_ledger_line(plant, s, WR_LINE_RINSE, 0)->water, 6, exact, "rinse water in the larger tank, m3");
    plant_case_fini(&c);
}

/* Sizes in the units of the trade, whose doubles seldom come out round: tank and room hold exactly one wash. */
static void run_exact(struct plant_case *c, double diameter_ft, double volume, double room)
{
    char diameter[64], tank[160], spent[320];
    snprintf(diameter, sizeof diameter, "/filters/0/diameter=%.17g ft", diameter_ft);
    snprintf(tank, sizeof tank, "/wash_water/tank={\"volume\":\"%.17g gal\",\"refill_rate\":\"%.17g gal/h\"}", volume,
             volume / 5);
    snprintf(spent, sizeof spent,
             "/spent_wash={\"tanks\":[{\"volume\":\"%.17g gal\"}],\"settling\":{\"law\":\"clock\",\"time\":\"1 h\"},"
             "\"outlets\":[{\"kind\":\"sewer\",\"rate\":\"%.17g gal/h\"}]}",
             room, room * 0.85);
    plant_case_read(c, WR_ROOT "/scenarios/pressure-three.json",
                    SETTINGS(diameter, tank, spent, "/filters/0/count=2", "/wash/max_simultaneous=2",
                             "/wash/backwash_time=10 min", "/wash/ramp_time=0 min", "/wash/bed_settle=0 min",
                             "/wash/valve_travel=0 min", "/wash/rinse_time=15 min", "/wash/rinse_rate=0.2 gal/min/ft2",
                             "/start_beds={\"how\":\"equal\"}", "/wash/triggers={\"run_hours\":\"30 h\"}",
                             "/wells/0/flow=13 gal/min", "/wells/1/flow=1 gal/min", "/wells/2/flow=1 gal/min",
                             "/demand/maximum_day=1000 gal/d", "/wells/0/off_above=100 %", "/horizon=6 d",
                             "/storage/volume=100 Mgal"));
    c->reading.definition.wells.items[0].flow = volume / 2.5 * 3.785411784e-3 / 3600; /* twice the refill */
    c->reading.definition.filters.items[0].available_head = 1e3;
    plant_case_run_with(c, (struct wr_run_options){.keeps_lists = true});
}

static void exactly_enough_is_enough(void **state)
{
    (void)state;
    static const double pi = 3.14159265358979323846;
    for (double diameter = 3; diameter <= 14; diameter += 0.25) {
        struct plant_case c;
        const double area = pi / 4 * diameter * diameter, wash = 120 * area, room = wash + 3 * area;
        run_exact(&c, diameter, wash, room);
        check_count(c.run.end, WR_RUN_WHOLE, "end of the run");
        const struct wr_wash_record *first = plant_case_wash(&c, 0, 0), *second = plant_case_wash(&c, 1, 0);
        check(first->waited, 0, 0, "wait of the first, s: a tank of exactly one wash has one in hand");
        check(first->started_at, 30 * HOUR, exact, "its wash, s: at its call");
        check(second->started_at, 35 * HOUR, exact, "second wash, s: when the tank holds a whole wash again");
        check_count(plant_case_count(&c, WR_EVENT_TANK_SETTLES, 0), c.run.record.wash_count,
                    "a tank of exactly one wash settles after each");
        plant_case_fini(&c);
    }
}

/* Less than enough by half of what counts as rounding still is enough, and the books close over it. */
static void within_rounding_is_enough(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wash_water/tank/volume=49.999999975 m3", TWO_TANKS("49.999999975 m3", "49.999999975 m3"),
                            "/wash_water/tank/refill_rate=20 m3/h", "/horizon=10 d"));
    check(plant_case_wash(&c, 0, 0)->waited, 0, 0, "wait of the first, s");
    check(plant_case_wash(&c, 1, 0)->waited, 2.5 * HOUR, 1e-3, "wait of the second, s: 50 m3 at 20 m3/h");
    check_true(c.run.books.closes, "the books close");
    plant_case_fini(&c);
}

/* And a wash that is short by more waits. */
static void short_by_a_litre_waits(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wash_water/tank={\"volume\":\"100 m3\",\"start_level\":\"49.999 %\","
                            "\"refill_on_below\":\"10 %\",\"refill_rate\":\"36 m3/h\"}"));
    check(plant_case_wash(&c, 0, 0)->waited, 0.1, exact, "wait of the first, s: a litre at 36 m3/h");
    check_count(plant_case_count(&c, WR_EVENT_CALLED, 0), plant_case_count(&c, WR_EVENT_CALLED, 1), "calls, as many");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_tank_is_promised_twice), cmocka_unit_test(a_wash_takes_the_tank_with_the_least_room),
        cmocka_unit_test(exactly_enough_is_enough),  cmocka_unit_test(within_rounding_is_enough),
        cmocka_unit_test(short_by_a_litre_waits),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
