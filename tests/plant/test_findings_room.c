/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What held the tanks' outlets while washes waited for room.
 *
 * Two filters of the plain plant, half a run apart: washes of 50 m3 at 10 and 20 h, both start-up, into a tank of 110
 * m3; the next call comes 20 h after the end of the first wash and finds no room. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <stdio.h>

static const double call = 30 * HOUR + 10 * MINUTE;

#define TANK_AND_OUTLETS(outlets)                                                                                      \
    "/spent_wash={\"tanks\":[{\"volume\":\"110 m3\"}],\"settling\":{\"law\":\"none\"},\"outlets\":[" outlets "]}",     \
        "/start_beds/how=spread", "/horizon=40 h"

/* A pump above a tenth of the raw flow never runs: the wait and the hold last to the end. */
static void a_hold_for_the_whole_wait(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(TANK_AND_OUTLETS("{\"kind\":\"recycle\"}"), "/recycle/pump=5 m3/h"));
    const struct wr_room *room = &c.run.record.room;
    check(room->waited, 40 * HOUR - call, 1e-6, "wait for room, s: from the call to the end");
    check(room->held, room->waited, 1e-6, "of it with the outlet held, s: all");
    check(room->held_by[WR_LIMIT_SHARE_OF_RAW], room->waited, 1e-6, "held by the share of raw flow, s");
    check_count(wr_room_held_most(room), WR_LIMIT_SHARE_OF_RAW, "what held it most");
    check(room->waited, plant_case_state(&c)->waits[WR_LIMIT_SPENT_WASH_ROOM].first, 1e-6,
          "wait for room, s: as the tally of first reasons has it");
    plant_case_fini(&c);
}

/* A pump of 1 m3/h has made room for half of what lacks when the call comes, and runs on: a wait without a hold. */
static void a_wait_without_a_hold(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(TANK_AND_OUTLETS("{\"kind\":\"recycle\"}"), "/recycle/pump=1 m3/h"));
    const struct wr_room *room = &c.run.record.room;
    check_between(room->waited, 9 * HOUR, 40 * HOUR - call, "wait for room, s");
    check(room->held, 0, 0, "of it with the outlet held, s");
    check_count(wr_room_held_most(room), WR_LIMIT_NONE, "what held it most: nothing");
    plant_case_fini(&c);
}

/* While the sewer takes the water in place of recycle, the way out is not held. */
static void another_outlet_runs_in_its_place(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(TANK_AND_OUTLETS("{\"kind\":\"recycle\"},{\"kind\":\"sewer\",\"rate\":\"1 m3/h\"}"),
                            "/recycle/pump=5 m3/h"));
    const struct wr_room *room = &c.run.record.room;
    check_between(room->waited, 9 * HOUR, 40 * HOUR - call, "wait for room, s");
    check(room->held, 0, 0, "of it with the way out held, s");
    plant_case_fini(&c);
}

/* An outlet that may run from noon on: held for all but one hour of the wait, by its hours. */
static void an_outlet_with_hours(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS(TANK_AND_OUTLETS("{\"kind\":\"sewer\",\"rate\":\"1 m3/h\",\"hours\":[{\"days\":\"every_day\","
                                  "\"from\":\"12:00\",\"until\":\"13:00\"}]}")));
    const struct wr_room *room = &c.run.record.room;
    check(room->waited, 40 * HOUR - call, 1e-6, "wait for room, s");
    check(room->held_by[WR_LIMIT_OUTLET_HOURS], room->waited - 1 * HOUR, 1e-6, "held by its hours, s: all but one");
    check(room->held, room->waited - 1 * HOUR, 1e-6, "held by anything, s");
    plant_case_fini(&c);
}

/* A tank that gives nothing back: the wait has no end. */
static const char *const for_ever[] = {TANK_AND_OUTLETS("{\"kind\":\"recycle\"}"), "/recycle/pump=5 m3/h"};

/* Half of the time from the call to available head spent waiting is half of the reserve. */
static void a_wait_uses_the_reserve(void **state)
{
    (void)state;
    struct plant_case c;
    char horizon[48];
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS(for_ever[0], for_ever[1], for_ever[2], for_ever[3], "/filters/0/available_head=1 m", "/horizon=20 d"));
    const double reached = plant_case_time(&c, WR_EVENT_HEAD_REACHED, 1, 0);
    const double called = plant_case_time(&c, WR_EVENT_CALLED, 1, 1);
    check_between(reached, called + 2 * HOUR, 20 * DAY, "available head, s: well after the call");
    plant_case_fini(&c);
    snprintf(horizon, sizeof horizon, "/horizon=%.17g s", (called + reached) / 2);
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS(for_ever[0], for_ever[1], for_ever[2], for_ever[3], "/filters/0/available_head=1 m", horizon));
    check_share(c.run.record.balance.worst_reserve_used, 0.5, 1e-6, "reserve used, share");
    plant_case_fini(&c);
}

/* A filter that has waited a week for room says that washing does not keep pace; before the week is over nothing does.
 */
static void a_week_of_waiting(void **state)
{
    (void)state;
    struct plant_case c;
    for (int days = 8; days <= 9; days++) {
        char horizon[32];
        snprintf(horizon, sizeof horizon, "/horizon=%d d", days);
        plant_case_run(
            &c, PLANT_PLAIN,
            SETTINGS(for_ever[0], for_ever[1], for_ever[2], for_ever[3], "/filters/0/available_head=20 m", horizon));
        check_true((plant_case_finding(&c, WR_FINDING_NOT_KEEPING_PACE) != NULL) == (days * DAY >= call + 7 * DAY),
                   horizon);
        check_between(c.run.record.balance.worst_reserve_used, 0, 0.4, "reserve used, share: it is not that");
        plant_case_fini(&c);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_hold_for_the_whole_wait),        cmocka_unit_test(a_wait_without_a_hold),
        cmocka_unit_test(another_outlet_runs_in_its_place), cmocka_unit_test(an_outlet_with_hours),
        cmocka_unit_test(a_wait_uses_the_reserve),          cmocka_unit_test(a_week_of_waiting),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
