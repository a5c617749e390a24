/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spent-wash tanks: when they settle, in which order they give, what stays as sludge, and tanks that do not settle.
 * A wash gives 50 m3 in 10 min. */
#include "sim/plant/bed.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>

static const double exact = 1e-6; /* s, m3 */

#define TANKS(tanks, settling, rate)                                                                                   \
    "/spent_wash={\"tanks\":[" tanks "],\"settling\":{" settling "},\"outlets\":[{\"kind\":\"sewer\",\"rate\":\"" rate \
    "\"}]}"
#define CLOCK(time, after)                                                                                             \
    "\"law\":\"clock\",\"time\":\"" time "\",\"start_after\":\"" after "\",\"sludge_share\":\"20 %\""
#define SHARES(shares) "/start_beds/how=given", "/filters/0/start_shares=[" shares "]"

/* Room for four washes and one wash in it: it must not wait for more, or part-full tanks lock each other. */
static void a_part_full_tank_settles_after_a_while(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(TANKS("{\"volume\":\"200 m3\"}", CLOCK("6 h", "3 h"), "8 m3/h"),
                            SHARES("\"50 %\", \"0 %\""), "/horizon=27 h"));
    const double washed = 10 * HOUR + 10 * MINUTE;
    check(plant_case_time(&c, WR_EVENT_TANK_SETTLES, 0, 0), washed + 3 * HOUR, exact, "it starts to settle, s");
    check(plant_case_time(&c, WR_EVENT_TANK_SETTLED, 0, 0), washed + 9 * HOUR, exact, "it has settled, s");
    check(plant_case_time(&c, WR_EVENT_TANK_EMPTIED, 0, 0), washed + 14 * HOUR, exact, "its 40 m3 are gone, s");
    check(plant_case_wash(&c, 1, 0)->called_at, 20 * HOUR, exact, "second call, s");
    check(plant_case_wash(&c, 1, 0)->started_at, washed + 14 * HOUR, exact, "second wash, s: when it fills again");
    check(plant_case_water(&c, WR_LINE_SLUDGE), 10, exact, "sludge, m3: a fifth");
    check(plant_case_water(&c, WR_LINE_TO_SEWER), 40, exact, "to the sewer, m3: the rest");
    plant_case_fini(&c);
}

/* The wait begins with the end of the last wash, not with that of the first. */
static void another_wash_puts_settling_off(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(TANKS("{\"volume\":\"200 m3\"}", CLOCK("6 h", "1 h"), "8 m3/h"),
                            SHARES("\"50 %\", \"46 %\""), "/wash/bed_settle=50 min", "/wash/max_simultaneous=2",
                            "/horizon=14 h"));
    /* Washes from 10:00 to 11:00 and from 10:48 to 11:48. */
    check(plant_case_wash(&c, 1, 0)->started_at, 10.8 * HOUR, exact, "second wash, s");
    check(plant_case_time(&c, WR_EVENT_TANK_SETTLES, 0, 0), 12.8 * HOUR, exact, "it settles, s: an hour after it");
    plant_case_fini(&c);
}

/* A tank settles at once when the plant's largest wash no longer fits, though a smaller one would. */
static void a_tank_settles_when_the_largest_wash_no_longer_fits(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/1={\"name\":\"G\",\"count\":1,\"area\":\"20 m2\",\"approved_rate\":\"6 m/h\","
                            "\"available_head\":\"5 m\",\"deposit\":{\"observed_run\":{\"clean_differential\":"
                            "\"0.6 m\",\"dirty_differential\":\"2.6 m\",\"rate\":\"6 m/h\",\"hours\":\"20 h\"}},"
                            "\"start_shares\":[\"0 %\"]}",
                            TANKS("{\"volume\":\"180 m3\"}", CLOCK("6 h", "48 h"), "30 m3/h"),
                            SHARES("\"50 %\", \"40 %\""), "/horizon=31 h"));
    const double second = 12 * HOUR + 10 * MINUTE;
    check(plant_case_time(&c, WR_EVENT_TANK_SETTLES, 0, 0), second, exact, "it settles, s: 80 m3 left, 100 wanted");
    check(plant_case_time(&c, WR_EVENT_TANK_EMPTIED, 0, 0), second + 6 * HOUR + 80.0 / 30 * HOUR, exact,
          "its 80 m3 are gone, s");
    check(plant_case_wash(&c, 2, 0)->started_at, second + 6 * HOUR + 80.0 / 30 * HOUR, exact, "the large wash, s");
    check(plant_case_time(&c, WR_EVENT_TANK_SETTLES, 0, 1), plant_case_wash(&c, 2, 0)->ended_at, exact,
          "it settles again, s: at the end of the large wash");
    plant_case_fini(&c);
}

static void a_tank_part_full_from_the_start(void **state)
{
    (void)state;
    static const struct {
        const char *tank;
        double settles;
        double level;
    } cases[] = {
        {TANKS("{\"volume\":\"100 m3\",\"start_level\":\"30 %\"}", CLOCK("6 h", "2 h"), "8 m3/h"), 2 * HOUR, 30},
        {TANKS("{\"volume\":\"100 m3\",\"start_level\":\"50 %\"}", CLOCK("6 h", "2 h"), "8 m3/h"), 2 * HOUR, 50},
        {TANKS("{\"volume\":\"100 m3\",\"start_level\":\"60 %\"}", CLOCK("6 h", "2 h"), "8 m3/h"), 0, 60}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN, SETTINGS(cases[i].tank, "/horizon=19 h"));
        check(plant_case_time(&c, WR_EVENT_TANK_SETTLES, 0, 0), cases[i].settles, exact,
              "it settles, s: after its wait, or at once where a wash of 50 m3 does not fit");
        check(plant_case_time(&c, WR_EVENT_TANK_EMPTIED, 0, 0),
              cases[i].settles + 6 * HOUR + cases[i].level * 0.8 / 8 * HOUR, exact, "four fifths of it are gone, s");
        plant_case_fini(&c);
    }
}

/* The second tank is the fuller and takes the first wash; it has settled first and gives first. */
static void the_oldest_settled_gives_first(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(TANKS("{\"volume\":\"60 m3\"},{\"volume\":\"55 m3\"}", CLOCK("6 h", "2 h"), "4 m3/h"),
                            SHARES("\"50 %\", \"40 %\""), "/horizon=40 h"));
    const double first = 10 * HOUR + 10 * MINUTE + 6 * HOUR, second = first + 2 * HOUR;
    check(plant_case_time(&c, WR_EVENT_TANK_SETTLED, 1, 0), first, exact, "the second tank has settled, s");
    check(plant_case_time(&c, WR_EVENT_TANK_SETTLED, 0, 0), second, exact, "the first tank has settled, s");
    check(plant_case_time(&c, WR_EVENT_TANK_EMPTIED, 1, 0), first + 10 * HOUR, exact, "the older is empty, s");
    check(plant_case_at(&c, first + 9.9 * HOUR)->tanks[0].level, 50, exact, "level of the younger till then, m3");
    check(plant_case_time(&c, WR_EVENT_TANK_EMPTIED, 0, 0), first + 20 * HOUR, exact, "the younger is empty, s");
    plant_case_fini(&c);
}

/* Settling by the clock leaves all solids in the sludge. */
static void settled_solids_stay_in_the_sludge(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(TANKS("{\"volume\":\"60 m3\"}", CLOCK("2 h", "2 h"), "20 m3/h"), "/filters/0/count=1",
                            "/horizon=25 h"));
    const struct wr_plant *plant = &c.run.plant;
    const struct wr_entry *sludge = wr_ledger_line(plant, plant_case_state(&c), WR_LINE_SLUDGE, 0);
    check(sludge->water, 10, exact, "sludge, m3: a fifth of a wash");
    check(sludge->mass[WR_SOLIDS], 20 * 40 * 10e-3, 1e-9, "its solids, kg: 20 h of 40 m3/h at 10 g/m3");
    check(sludge->mass[WR_IRON], 20 * 40 * 2e-3, 1e-9, "its iron, kg: at 2 g/m3");
    check(sludge->mass[WR_MANGANESE], 20 * 40 * 0.5e-3, 1e-9, "its manganese, kg: at 0.5 g/m3");
    check(wr_ledger_line(plant, plant_case_state(&c), WR_LINE_TO_SEWER, 0)->mass[WR_SOLIDS], 0, 0, "solids drawn, kg");
    check(c.run.books.solids_error_share, 0, 1e-12, "error of the solids' books");
    plant_case_fini(&c);
}

/* Filled at 300 and drained at 60 m3/h over 50 m3 of clear water, whose mix is
 *     c = c_in (1 - (V0/V)^(in/(in - out))),  V = V0 + (in - out) t,
 * from V dc/dt = in (c_in - c). What leaves is brought up to date whenever the mix has moved by a hundredth. */
static void an_unsettled_tank_mixes_what_comes_and_goes(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(TANKS("{\"volume\":\"200 m3\",\"start_level\":\"30 %\"}", "\"law\":\"none\"", "60 m3/h"),
                            SHARES("\"99.1666666666666666 %\", \"0 %\""), "/horizon=0.333333333333333333 h"));
    /* The wash starts at 10 min, when 60 m3 have become 50, and ends at the horizon. */
    const struct wr_wash_record *wash = plant_case_wash(&c, 0, 0);
    const struct wr_tank *tank = &wr_state_tanks(&c.run.plant, plant_case_state(&c))[0];
    const double in = wash->load * 10 / 50, mix = in * (1 - pow(50.0 / 90, 1.25));
    check(wash->started_at, 10 * MINUTE, exact, "the wash, s");
    check(tank->level, 90, 1e-5, "level after it, m3");
    check_share(tank->mass[WR_SOLIDS] / tank->level, mix, 0.005, "solids of the mix, kg/m3: closed form");
    const struct wr_entry *drawn = wr_ledger_line(&c.run.plant, plant_case_state(&c), WR_LINE_TO_SEWER, 0);
    check(drawn->mass[WR_SOLIDS] + tank->mass[WR_SOLIDS], wash->load * 10, 4e-5,
          "solids drawn and in the tank, kg: all that the wash took");
    plant_case_fini(&c);
}

/* An empty tank gives what comes as it comes, and a fuller stream fills it. */
static void an_empty_tank_passes_what_comes(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(TANKS("{\"volume\":\"60 m3\"}", "\"law\":\"none\"", "70 m3/h"), "/wash/rinse_time=30 min",
                            "/wash/rinse_rate=3 m/h", SHARES("\"50 %\", \"0 %\""), "/wash/backwash_rate=10 m/h",
                            "/wash/backwash_time=20 min", "/horizon=13 h"));
    /* 100 m3/h in for 20 min, 70 out: 10 m3, which a rinse of 30 in and 70 out uses up in a quarter of an hour. */
    const double backwashed = 10 * HOUR + 20 * MINUTE, dry = backwashed + 10.0 / 40 * HOUR;
    check(plant_case_at(&c, backwashed)->tanks[0].level, 10, exact, "level after the backwash, m3");
    check(plant_case_time(&c, WR_EVENT_TANK_EMPTIED, 0, 0), dry, exact, "it is empty, s: in the midst of the rinse");
    check(plant_case_at(&c, dry + 1)->tanks[0].level, 0, 0, "level from then on, m3");
    check(plant_case_water(&c, WR_LINE_TO_SEWER), 100.0 / 3 + 15, exact, "drawn, m3: backwash and rinse");
    check(c.run.books.solids_error_share, 0, 1e-12, "error of the solids' books");
    const struct wr_entry *drawn = wr_ledger_line(&c.run.plant, plant_case_state(&c), WR_LINE_TO_SEWER, 0);
    check(drawn->mass[WR_SOLIDS], plant_case_wash(&c, 0, 0)->load * 10, 4e-5,
          "solids drawn, kg: all of the bed's, to the steps of its mix");
    plant_case_fini(&c);
}

/* Room in a tank without settling comes free while it empties: two washes at one instant, a tank of a wash and a half.
 */
static void room_comes_free_while_it_empties(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(TANKS("{\"volume\":\"75 m3\"}", "\"law\":\"none\"", "5 m3/h"), "/wash/max_simultaneous=2",
                            "/horizon=26 h"));
    check(plant_case_wash(&c, 1, 0)->started_at, 25 * HOUR, exact, "second wash, s: 25 m3 at 5 m3/h");
    check(plant_case_at(&c, 25 * HOUR)->tanks[0].level, 25, exact, "level then, m3: 50 less 25");
    check(plant_case_at(&c, 25 * HOUR)->tanks[0].free, 0, exact, "room not booked then, m3: none");
    check(plant_case_at(&c, 25 * HOUR + 10 * MINUTE)->tanks[0].level, 75 - 5.0 / 6, exact, "level at its end, m3");
    plant_case_fini(&c);
}

/* Without tanks spent wash goes to the sewer as it comes, and so do its solids. */
static void without_tanks_to_the_sewer(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS("/wash/rinse_time=6 min", "/filters/0/count=1", "/horizon=22 h"));
    const struct wr_plant *plant = &c.run.plant;
    struct wr_entry in, out;
    wr_ledger_turnover(plant, plant_case_state(&c), WR_ACCOUNT_SEWER, &in, &out);
    check(in.water, 50 + 6, exact, "to the sewer, m3: backwash and rinse");
    check(in.mass[WR_SOLIDS], 20 * 40 * 10e-3, 1e-9, "its solids, kg: all of one run");
    check(out.water, 0, 0, "out of the sewer, m3");
    check(wr_bed_load(plant, plant_case_state(&c), 0), 11.0 / 6 * 40 * 10e-3 / 10, 1e-9,
          "load afterwards, kg/m2: what rinse and service brought in 110 min");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_part_full_tank_settles_after_a_while),
        cmocka_unit_test(another_wash_puts_settling_off),
        cmocka_unit_test(a_tank_settles_when_the_largest_wash_no_longer_fits),
        cmocka_unit_test(a_tank_part_full_from_the_start),
        cmocka_unit_test(the_oldest_settled_gives_first),
        cmocka_unit_test(settled_solids_stay_in_the_sludge),
        cmocka_unit_test(an_unsettled_tank_mixes_what_comes_and_goes),
        cmocka_unit_test(an_empty_tank_passes_what_comes),
        cmocka_unit_test(room_comes_free_while_it_empties),
        cmocka_unit_test(without_tanks_to_the_sewer),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
