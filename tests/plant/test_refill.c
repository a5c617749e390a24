/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The wash-water tank: when it is refilled and by how much. A wash takes 50 m3 in 10 min. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

static const double exact = 1e-6;         /* s, m3 */
static const double an_hour = 1.0 / 3600; /* m3/h in m3/s */

/* Refilling starts when the level falls through its mark and goes on to the brim. */
static void refill_starts_below_its_mark_and_stops_at_full(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=2", "/start_beds/how=given",
                            "/filters/0/start_shares=[\"0 %\", \"50 %\"]",
                            "/wash_water/tank={\"volume\":\"100 m3\",\"refill_rate\":\"12 m3/h\",\"refill_on_below\":"
                            "\"90 %\"}",
                            "/horizon=19 h"));
    /* 10 h: 300 m3/h out; 90 m3 after 2 min; 8 min more at 12 m3/h in; full from 51.6 m3 at 12 m3/h. */
    const double on = 10 * HOUR + 2 * MINUTE, full = 10 * HOUR + 10 * MINUTE + (100 - 51.6) / 12 * HOUR;
    check(plant_case_at(&c, on - 1)->flows.refill, 0, 0, "refill above the mark, m3/s");
    check(plant_case_at(&c, on + 1)->flows.refill, 12 * an_hour, 1e-15, "refill from the mark on, m3/s: its pump");
    check(plant_case_at(&c, 10 * HOUR + 11 * MINUTE)->wash_level, 51.6, exact, "level after the wash, m3");
    check(plant_case_at(&c, full - 1e-3)->flows.refill, 12 * an_hour, 1e-15, "refill just before it is full, m3/s");
    check(plant_case_at(&c, full + 1e-3)->flows.refill, 0, 0, "refill just after, m3/s");
    check(plant_case_at(&c, full + 1e-3)->wash_level, 100, 0, "level then, m3: exactly full");
    plant_case_fini(&c);
}

/* A tank that is refilled whenever it is not full follows a draw that the refill can match: it stays full, and the
 * plant has no more instants than one whose refill has nothing to do. */
static void a_full_tank_follows_the_draw(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wash/backwash_rate=3 m/h", "/wash/backwash_time=100 min",
                            "/wash_water/tank={\"volume\":\"100 m3\",\"refill_rate\":\"35 m3/h\"}", "/horizon=30 h"));
    const struct plant_sample *during = plant_case_at(&c, 20 * HOUR + 30 * MINUTE);
    check(during->flows.refill, 30 * an_hour, 1e-15, "refill during the wash, m3/s: the draw, not the pump");
    check(during->wash_level, 100, 0, "level during the wash, m3: full");
    check(plant_case_state(&c)->wash_tank.level, 100, 0, "level at the end, m3: full");
    check(plant_case_water(&c, WR_LINE_REFILL), 100, exact, "water given in all, m3: two washes of 50");
    /* Calls at 20 h, two washes of 100 min one after the other: ends at 21:40 and 23:20. */
    check_between((double)plant_case_state(&c)->clock.beats, 3, 5, "instants: a call and two ends of washes");
    plant_case_fini(&c);
}

/* Where the pump is larger than the effluent the tank gets all effluent and storage none. */
static void a_large_pump_takes_the_whole_effluent(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/start_beds/how=given", "/filters/0/start_shares=[\"0 %\", \"50 %\"]",
                            "/wash_water/tank={\"volume\":\"100 m3\",\"refill_rate\":\"500 m3/h\"}", "/horizon=19 h"));
    const struct plant_sample *during = plant_case_at(&c, 10 * HOUR + 5 * MINUTE);
    check(during->flows.refill, 40 * an_hour, 1e-15, "refill, m3/s: all that the filters give");
    check(during->flows.service - during->flows.refill, 0, 0, "to storage, m3/s: nothing");
    /* 50 m3 less 40 m3/h x 10 min are missing after the wash. */
    const double full = 10 * HOUR + 10 * MINUTE + (50 - 40.0 / 6) / 40 * HOUR;
    check(plant_case_at(&c, full - 1e-3)->flows.refill, 40 * an_hour, 1e-15, "refill just before it is full, m3/s");
    check(plant_case_at(&c, full + 1e-3)->flows.refill, 0, 0, "refill just after, m3/s");
    plant_case_fini(&c);
}

/* A tank that waits for a low mark to refill would keep the first in line waiting above that mark for ever. */
static void a_waiting_wash_calls_for_water(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/start_beds/how=given", "/filters/0/start_shares=[\"0 %\", \"50 %\"]",
                            "/wash_water/tank={\"volume\":\"75 m3\",\"refill_rate\":\"10 m3/h\",\"refill_on_below\":"
                            "\"20 %\"}"));
    check(plant_case_wash(&c, 1, 0)->started_at, 10 * HOUR, exact, "first wash, s");
    check(plant_case_at(&c, 15 * HOUR)->flows.refill, 0, 0, "refill at 25 m3, m3/s: none above the mark of 15");
    check(plant_case_at(&c, 15 * HOUR)->wash_level, 25, exact, "level then, m3");
    check(plant_case_at(&c, 21 * HOUR)->flows.refill, 10 * an_hour, 1e-15, "refill once a filter waits, m3/s");
    check(plant_case_wash(&c, 0, 0)->started_at, 22.5 * HOUR, exact, "second wash, s: 25 m3 more at 10 m3/h");
    plant_case_fini(&c);
}

/* The first in line waits while the tank stands full, its water booked by the wash under way: nothing can be refilled
 * until that wash draws. It must not stall the program, and the tank is refilled from the first draw on. */
static void a_full_but_booked_tank_waits_for_the_draw(void **state)
{
    (void)state;
    static const char *const marks[] = {"/wash_water/tank/refill_on_below=20 %",
                                        "/wash_water/tank/refill_on_below=90 %",
                                        "/wash_water/tank/refill_on_below=100 %"};
    for (size_t m = 0; m < sizeof marks / sizeof *marks; m++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS("/wash/valve_travel=3 min", "/wash/max_simultaneous=2", "/wash_water/tank/volume=75 m3",
                                marks[m], "/horizon=30 h"));
        check(plant_case_wash(&c, 0, 0)->started_at, 20 * HOUR, exact, "first wash, s");
        check(plant_case_at(&c, 20 * HOUR + 1)->flows.refill, 0, 0, "refill before the draw, m3/s: the tank is full");
        check(plant_case_wash(&c, 1, 0)->started_at, 22.5 * HOUR + 3 * MINUTE, exact,
              "second wash, s: 25 m3 more at 10 m3/h from the first draw on");
        check_between((double)plant_case_state(&c)->clock.rounds, 8, 60, "rounds, over all instants");
        plant_case_fini(&c);
    }
}

/* The one that waited for the full tank's water goes out of service: the mark rules again. */
static void who_leaves_the_line_leaves_no_refill_behind(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wash/valve_travel=3 min", "/wash/max_simultaneous=2", "/wash_water/tank/volume=75 m3",
                            "/wash_water/tank/refill_on_below=20 %", "/horizon=23 h",
                            "/outages=[{\"unit\":\"F2\",\"from\":\"2026-01-05 20:01\"}]"));
    check(plant_case_wash(&c, 0, 0)->started_at, 20 * HOUR, exact, "wash, s");
    check(plant_case_water(&c, WR_LINE_REFILL), 0, 0, "refilled, m3: nothing above the mark of 15");
    check(plant_case_state(&c)->wash_tank.level, 25, exact, "level at the end, m3");
    plant_case_fini(&c);
}

/* Without effluent there is no refill: the well is stopped by a full storage from 19 h to 21 h, filters stand still. */
static void no_effluent_no_refill(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/start_beds/how=given", "/filters/0/start_shares=[\"0 %\", \"60 %\"]",
                            "/demand={\"maximum_day\":\"240 m3/d\",\"hourly_factors\":[1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,"
                            "1,1,1,1,1,1,1,1]}",
                            "/storage={\"volume\":\"1000 m3\",\"start_level\":\"50 %\"}", "/wells/0/on_below=73 %",
                            "/wells/0/off_above=75 %",
                            "/wash_water/tank={\"volume\":\"50 m3\",\"refill_rate\":\"5 m3/h\"}", "/horizon=20 h"));
    /* 8 h: the second filter's wash. Storage gains 30 m3/h up to 8 h, then 25 until 75 % at 8 + 10/25 h. */
    const double off = (8 + 10.0 / 25) * HOUR, on = off + 20.0 / 10 * HOUR;
    check(plant_case_wash(&c, 1, 0)->started_at, 8 * HOUR, exact, "wash, s");
    check(plant_case_at(&c, off - 1)->flows.refill, 5 * an_hour, 1e-15, "refill while the well runs, m3/s");
    check(plant_case_at(&c, off + 1)->flows.raw, 0, 0, "raw once storage is at its off level, m3/s");
    check(plant_case_at(&c, off + 1)->flows.refill, 0, 0, "refill then, m3/s");
    check(plant_case_at(&c, on - 1)->flows.refill, 0, 0, "refill until storage is at its on level, m3/s");
    check(plant_case_at(&c, on + 1)->flows.refill, 5 * an_hour, 1e-15, "refill from then on, m3/s");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(refill_starts_below_its_mark_and_stops_at_full),
        cmocka_unit_test(a_full_tank_follows_the_draw),
        cmocka_unit_test(a_large_pump_takes_the_whole_effluent),
        cmocka_unit_test(a_waiting_wash_calls_for_water),
        cmocka_unit_test(a_full_but_booked_tank_waits_for_the_draw),
        cmocka_unit_test(who_leaves_the_line_leaves_no_refill_behind),
        cmocka_unit_test(no_effluent_no_refill),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
