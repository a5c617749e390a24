/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ways out of the spent-wash tanks: hours, volumes of a day, order of preference. The tank holds 400 m3 of clear water
 * at the start and is not dry before the end. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

static const double exact = 1e-6;         /* s */
static const double close = 1e-9;         /* m3 */
static const double an_hour = 1.0 / 3600; /* m3/h in m3/s */

#define OUTLETS(outlets)                                                                                               \
    "/spent_wash={\"tanks\":[{\"volume\":\"1000 m3\",\"start_level\":\"40 %\"}],\"settling\":{\"law\":\"none\"},"      \
    "\"outlets\":[" outlets "]}"
#define HOURS(from, until) "\"hours\":[{\"from\":\"" from "\",\"until\":\"" until "\"}]"
#define SETTLES                                                                                                        \
    "/spent_wash/settling={\"law\":\"clock\",\"time\":\"1 h\",\"start_after\":\"0 h\",\"sludge_share\":\"10 %\"}"
#define NO_WASH "/wash/triggers/run_hours=300 h"

static const struct wr_outlet_state *outlet(const struct plant_case *c, size_t number)
{
    return &wr_state_outlets(&c->run.plant, plant_case_state(c))[number];
}

static void check_span(const struct plant_case *c, enum wr_limit limit, size_t nth, double from, double to)
{
    const struct wr_span *span = plant_case_span(c, limit, WR_NOWHERE, nth);
    check_true(span != NULL, "a span of what holds the outlet");
    check(span->from, from, exact, "held from, s");
    check(span->to, to, exact, "held to, s");
}

static void an_outlet_keeps_its_hours(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(OUTLETS("{\"kind\":\"pond\",\"rate\":\"6 m3/h\"," HOURS("07:30", "16:00") "}"), NO_WASH,
                            "/horizon=2 d"));
    check(plant_case_water(&c, WR_LINE_TO_POND), 2 * 8.5 * 6, close, "to the pond, m3: two days");
    check_span(&c, WR_LIMIT_OUTLET_HOURS, 0, 0, 7.5 * HOUR);
    check_span(&c, WR_LIMIT_OUTLET_HOURS, 1, 16 * HOUR, 31.5 * HOUR);
    check_span(&c, WR_LIMIT_OUTLET_HOURS, 2, 40 * HOUR, 48 * HOUR);
    check(outlet(&c, 0)->worst_day, 8.5 * 6, close, "worst day, m3");
    check(outlet(&c, 0)->peak, 6 * an_hour, 1e-15, "peak, m3/s");
    check(outlet(&c, 0)->hours, 17 * HOUR, exact, "time it ran, s");
    plant_case_fini(&c);
}

/* Hours over midnight belong to the day they begin on: Monday to Friday from 22 to 4 h. The run starts on a Monday. */
static void hours_over_midnight_on_weekdays(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS(OUTLETS("{\"kind\":\"sewer\",\"rate\":\"2 m3/h\",\"hours\":[{\"days\":\"weekdays\",\"from\":"
                         "\"22:00\",\"until\":\"04:00\"}]}"),
                 NO_WASH, "/horizon=8 d"));
    check_span(&c, WR_LIMIT_OUTLET_HOURS, 0, 0, 22 * HOUR);
    check_span(&c, WR_LIMIT_OUTLET_HOURS, 1, 28 * HOUR, 46 * HOUR);
    check_span(&c, WR_LIMIT_OUTLET_HOURS, 5, 5 * DAY + 4 * HOUR, 7 * DAY + 22 * HOUR);
    check(plant_case_water(&c, WR_LINE_TO_SEWER), 5 * 6 * 2 + 2 * 2, close, "to the sewer, m3: five nights and 2 h");
    check(outlet(&c, 0)->worst_day, 6 * 2, close, "worst day, m3: 4 h and 2 h of one calendar day");
    plant_case_fini(&c);
}

/* 60 m3 a day at 5 m3/h are gone in 12 h; at midnight the day's volume begins anew. */
static void an_outlet_has_its_volume_of_the_day(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(OUTLETS("{\"kind\":\"haul\",\"rate\":\"5 m3/h\",\"daily_volume\":\"60 m3\"}"), NO_WASH,
                            "/horizon=3 d"));
    for (size_t day = 0; day < 3; day++)
        check_span(&c, WR_LIMIT_OUTLET_DAILY_VOLUME, day, (double)day * DAY + 12 * HOUR, (double)(day + 1) * DAY);
    check(plant_case_water(&c, WR_LINE_TO_HAUL), 180, close, "hauled, m3");
    check(outlet(&c, 0)->worst_day, 60, close, "worst day, m3: its bound");
    plant_case_fini(&c);
}

/* The same of settled water, where at most instants the outlets go on as they were: not so at midnight. */
static void a_day_of_settled_water_begins_anew(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(OUTLETS("{\"kind\":\"haul\",\"rate\":\"5 m3/h\",\"daily_volume\":\"60 m3\"}"), SETTLES,
                            NO_WASH, "/horizon=3 d"));
    for (size_t day = 0; day < 3; day++)
        check_span(&c, WR_LIMIT_OUTLET_DAILY_VOLUME, day, (double)day * DAY + (day == 0 ? 13 : 12) * HOUR,
                   (double)(day + 1) * DAY);
    check(plant_case_water(&c, WR_LINE_TO_HAUL), 180, close, "hauled, m3");
    plant_case_fini(&c);
}

/* The day ends at midnight wherever the run starts in it: from 20 h on, 4 h at 5 m3/h, then 12 h. */
static void the_first_day_is_short(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(OUTLETS("{\"kind\":\"haul\",\"rate\":\"5 m3/h\",\"daily_volume\":\"60 m3\"}"), NO_WASH,
                            "/start=2026-01-05 20:00", "/horizon=1 d"));
    check_span(&c, WR_LIMIT_OUTLET_DAILY_VOLUME, 0, 16 * HOUR, 24 * HOUR);
    check(plant_case_water(&c, WR_LINE_TO_HAUL), 80, close, "hauled, m3");
    plant_case_fini(&c);
}

/* Volume of the day used up at the very end of its hours, and at midnight: no wait of no length, no second too much. */
static void volume_and_hours_end_together(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(OUTLETS("{\"kind\":\"haul\",\"rate\":\"5 m3/h\",\"daily_volume\":\"40 m3\"," HOURS(
                                "08:00", "16:00") "}"),
                            NO_WASH, "/horizon=2 d"));
    check(plant_case_held(&c, WR_LIMIT_OUTLET_DAILY_VOLUME), 0, exact, "time its volume held it, s: its hours do");
    check(plant_case_water(&c, WR_LINE_TO_HAUL), 80, close, "hauled, m3");
    plant_case_fini(&c);
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(OUTLETS("{\"kind\":\"haul\",\"rate\":\"5 m3/h\",\"daily_volume\":\"120 m3\"}"), NO_WASH,
                            "/horizon=2 d"));
    check(plant_case_held(&c, WR_LIMIT_OUTLET_DAILY_VOLUME), 0, exact, "time its volume held it, s: a new day");
    check(plant_case_water(&c, WR_LINE_TO_HAUL), 240, close, "hauled, m3");
    plant_case_fini(&c);
}

/* A truck by day up to 30 m3, the sewer else: and back at the next day's hours. */
static void the_next_runs_while_the_first_may_not(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(OUTLETS("{\"kind\":\"haul\",\"rate\":\"5 m3/h\",\"daily_volume\":\"30 m3\"," HOURS(
                                "06:00", "18:00") "},{\"kind\":\"sewer\",\"rate\":\"1 m3/h\"}"),
                            NO_WASH, "/horizon=2 d"));
    check(plant_case_water(&c, WR_LINE_TO_HAUL), 60, close, "hauled, m3: 6 h a day");
    check(plant_case_water(&c, WR_LINE_TO_SEWER), 2 * 18, close, "to the sewer, m3: 18 h a day");
    check_span(&c, WR_LIMIT_OUTLET_HOURS, 0, 0, 6 * HOUR);
    check_span(&c, WR_LIMIT_OUTLET_DAILY_VOLUME, 0, 12 * HOUR, 18 * HOUR);
    check_span(&c, WR_LIMIT_OUTLET_HOURS, 1, 18 * HOUR, 30 * HOUR);
    check(outlet(&c, 1)->worst_day, 18, close, "worst day to the sewer, m3");
    plant_case_fini(&c);
}

/* Recycle is held by its share of the raw flow, then there is none to take a share of: each time the sewer runs. */
static void the_sewer_runs_while_recycle_is_held(void **state)
{
    (void)state;
    static const struct {
        const char *recycle;
        double recycled, sewered; /* m3/h */
        enum wr_limit holds;
    } cases[] = {
        {"/recycle={\"pump\":\"4 m3/h\"}", 4, 0, WR_LIMIT_NONE},
        {"/recycle={\"pump\":\"4.1 m3/h\"}", 0, 3, WR_LIMIT_SHARE_OF_RAW},
        {"/recycle={\"pump\":\"4.1 m3/h\",\"control\":\"ratio\"}", 4, 0, WR_LIMIT_SHARE_OF_RAW},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS(OUTLETS("{\"kind\":\"recycle\"},{\"kind\":\"sewer\",\"rate\":\"3 m3/h\"}"),
                                cases[i].recycle, NO_WASH, "/outages=[{\"unit\":\"W1\",\"from\":\"2026-01-05 10:00\"}]",
                                "/horizon=12 h"));
        check(plant_case_water(&c, WR_LINE_RECYCLE), 10 * cases[i].recycled, close, "recycled, m3");
        check(plant_case_water(&c, WR_LINE_TO_SEWER), 10 * cases[i].sewered + 2 * 3, close, "to the sewer, m3");
        check_span(&c, WR_LIMIT_NO_RAW_FLOW, 0, 10 * HOUR, 12 * HOUR);
        if (cases[i].holds != WR_LIMIT_NONE)
            check_span(&c, cases[i].holds, 0, 0, 10 * HOUR);
        plant_case_fini(&c);
    }
}

/* Recycle too keeps hours and a volume of the day. */
static void recycle_keeps_hours_and_volume(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(OUTLETS("{\"kind\":\"recycle\",\"daily_volume\":\"20 m3\"," HOURS("06:00", "18:00") "}"),
                            "/recycle={\"pump\":\"4 m3/h\"}", NO_WASH, "/horizon=2 d"));
    check(plant_case_water(&c, WR_LINE_RECYCLE), 40, close, "recycled, m3: 20 a day");
    check_span(&c, WR_LIMIT_OUTLET_DAILY_VOLUME, 0, 11 * HOUR, 18 * HOUR);
    check_span(&c, WR_LIMIT_OUTLET_HOURS, 1, 18 * HOUR, 30 * HOUR);
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(an_outlet_keeps_its_hours),
        cmocka_unit_test(hours_over_midnight_on_weekdays),
        cmocka_unit_test(an_outlet_has_its_volume_of_the_day),
        cmocka_unit_test(a_day_of_settled_water_begins_anew),
        cmocka_unit_test(the_first_day_is_short),
        cmocka_unit_test(volume_and_hours_end_together),
        cmocka_unit_test(the_next_runs_while_the_first_may_not),
        cmocka_unit_test(the_sewer_runs_while_recycle_is_held),
        cmocka_unit_test(recycle_keeps_hours_and_volume),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
