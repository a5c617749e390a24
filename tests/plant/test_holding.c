/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spent regenerant in its holding tank.
 *
 * Two filters of 10 m2 are regenerated with 0.2 m3/m2 of regenerant, 2 m3, made up with raw water of 10 g/m3 solids.
 * The rota calls F1 at 10 h and F2 at 12 h. */
#include "sim/study/ability.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

static const double exact = 1e-6; /* s */
static const double close = 1e-9; /* m3, kg */

#define BATCH                                                                                                          \
    "/wash={\"triggers\":{\"run_hours\":\"300 h\"},\"template\":\"batch_regeneration\",\"backwash_rate\":\"3 m/h\","   \
    "\"rinse_time\":\"0 min\",\"valve_travel\":\"0 min\",\"ramp_time\":\"0 min\",\"bed_settle\":\"0 min\","            \
    "\"regenerant_depth\":\"0.2 m3/m2\",\"regenerate_time\":\"8 min\","                                                \
    "\"rota\":[{\"filter\":\"F1\",\"first\":\"2026-01-05 10:00\"},"                                                    \
    "{\"filter\":\"F2\",\"first\":\"2026-01-05 12:00\"}]}",                                                            \
        "/wash_water={\"source\":\"wells\"}"

/* Washes a day that the holding tank can take, by the table of abilities. */
static double washes_it_takes(const struct wr_run *run)
{
    struct wr_ability rows[WR_ABILITY_ROWS];
    const size_t count = wr_ability_table(run, rows);
    for (size_t r = 0; r < count; r++)
        if (rows[r].resource == WR_LIMIT_HOLDING_ROOM)
            return rows[r].possible;
    return -1;
}

static void one_wash_fits_until_it_is_hauled(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(BATCH, "/wash/holding={\"volume\":\"3 m3\",\"emptied_every\":\"15 h\"}", "/horizon=44 h"));
    const struct wr_span *span = plant_case_span(&c, WR_LIMIT_HOLDING_ROOM, 1, 0);
    check(plant_case_wash(&c, 0, 0)->started_at, 10 * HOUR, exact, "F1 starts, s");
    check_true(span != NULL, "F2 waits for room in the holding tank");
    check(span->from, 12 * HOUR, exact, "from its call, s");
    check(span->to, 15 * HOUR, exact, "to the first hauling, s");
    check(plant_case_wash(&c, 1, 0)->started_at, 15 * HOUR, exact, "F2 starts, s");
    check(plant_case_water(&c, WR_LINE_REGENERANT), 4, close, "regenerant, m3");
    check(plant_case_water(&c, WR_LINE_HOLDING_HAULED), 4, close, "hauled, m3: at 15 h and at 30 h");
    const struct wr_entry *hauled = wr_ledger_line(&c.run.plant, plant_case_state(&c), WR_LINE_HOLDING_HAULED, 0);
    check(hauled->mass[WR_SOLIDS], 0.04, close, "solids of its raw water, kg");
    check(plant_case_state(&c)->holding.free, 3, close, "room at the end, m3");
    check_true(c.run.books.closes, "the books close");
    check_count(c.run.record.balance.ever_exceeds_supply, false, "a wait before the first wash is start-up");
    check(washes_it_takes(&c.run), 24 / 15.0, 1e-12, "washes a day it can take: one of 2 m3 into 3 m3 every 15 h");
    plant_case_fini(&c);
}

static void two_fit_into_a_tank_that_holds_two(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(BATCH, "/wash/holding={\"volume\":\"4 m3\",\"emptied_every\":\"40 h\"}", "/horizon=39 h"));
    check(plant_case_wash(&c, 1, 0)->started_at, 12 * HOUR, exact, "F2 starts, s");
    check(wr_ledger_stock(&c.run.plant, plant_case_state(&c), WR_ACCOUNT_HOLDING).water, 4, close, "held, m3");
    check(plant_case_state(&c)->holding.free, 0, close, "room left, m3");
    plant_case_fini(&c);
}

/* The pump fails half way through F1's regeneration, at 10:14: what it had booked and did not send is free again, and
 * F2 finds room for its own. */
static void a_wash_cut_short_gives_room_back(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(BATCH, "/wash/holding={\"volume\":\"3 m3\",\"emptied_every\":\"40 h\"}",
                            "/outages=[{\"unit\":\"wash pump\",\"from\":\"2026-01-05 10:14\",\"until\":\"2026-01-05 "
                            "11:00\"}]",
                            "/horizon=39 h"));
    check(plant_case_wash(&c, 1, 0)->started_at, 12 * HOUR, exact, "F2 starts, s");
    check(plant_case_water(&c, WR_LINE_REGENERANT), 1 + 2, close, "regenerant, m3");
    check_true(c.run.books.closes, "the books close");
    plant_case_fini(&c);
}

static void without_one_it_goes_to_the_sewer(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(BATCH, "/horizon=39 h"));
    check(plant_case_water(&c, WR_LINE_REGENERANT), 0, 0, "held, m3");
    check(plant_case_water(&c, WR_LINE_BACKWASH), 2 * (5 + 2), close, "backwash and regenerant to the sewer, m3");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(one_wash_fits_until_it_is_hauled),
        cmocka_unit_test(two_fit_into_a_tank_that_holds_two),
        cmocka_unit_test(a_wash_cut_short_gives_room_back),
        cmocka_unit_test(without_one_it_goes_to_the_sewer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
