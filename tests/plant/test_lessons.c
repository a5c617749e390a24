/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each ready plant is there to teach. The plants are invented; the figures are simulated, and each stands beside
 * the pencil figure that explains it, with the tolerance within which a pencil that knows averages can be right. */
#include "sim/study/ability.h"
#include "sim/study/firm.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <string.h>

#define SCENARIO(name) WR_ROOT "/scenarios/" name ".json"

static const double kgal_day = 3.785411784 / 86400; /* m3/s */
static const double m3_day = 1.0 / 86400;           /* m3/s */

static struct wr_firm firm;

static void search(const char *path, const char *const *settings)
{
    struct plant_case c;
    plant_case_read(&c, path, settings);
    wr_firm_make(&firm, &c.reading.definition, NULL);
    check_count(firm.end, WR_RUN_WHOLE, "end of the search");
    wr_firm_fini(&firm);
    plant_case_fini(&c);
}

/* What the plant gives with its largest well out, m3/s. */
static double without_a_well(void)
{
    for (size_t u = 0; u < firm.unit_count; u++)
        if (strncmp(firm.units[u].name, "Well", 4) == 0 && firm.units[u].has_another_way)
            return firm.units[u].firm;
    fail_msg("no well was taken out");
    return 0;
}

/* Alder Fork: is it filters that the town lacks? ------------------------------------------------------------------ */

/* Two wells of 135 gal/min fit beside the recycle pump, 388.8 thousand gal/d gross, where a fourth filter lets a third
 * run, 583.2. With a well out two run in either plant. */
static void a_fourth_filter_lifts_filter_firm_and_not_plant_firm(void **state)
{
    (void)state;
    search(SCENARIO("pressure-three"), NULL);
    const double three = firm.one_out.firm, three_wells = without_a_well(), three_plant = firm.plant_firm;
    check(three_plant, fmin(three, three_wells), 0, "plant firm of three, m3/s: the least of its units");
    check_share(three, 386 * kgal_day, 0.01, "filter firm of three, m3/s: pencil, within 1 %");
    check_count(firm.one_out.failing.limit, WR_LIMIT_WELL_DOES_NOT_FIT, "what limits three");
    search(SCENARIO("pressure-four"), NULL);
    check_between(firm.one_out.firm, 0.96 * 583.2 * kgal_day, 583.2 * kgal_day,
                  "filter firm of four, m3/s: three wells, less what washing takes");
    check_true(firm.one_out.firm > 1.4 * three, "a fourth filter lifts filter firm by nearly half");
    check_count(firm.one_out.failing.limit, WR_LIMIT_ALL_WELLS_RUNNING, "what limits four");
    check_share(without_a_well(), three_wells, 0.01, "with a well out, m3/s: no more than three filters give");
    check_between(firm.plant_firm, three_plant, 1.01 * three_plant, "plant firm, m3/s: it hardly moves");
}

/* Two wells of 150 are 300 of the 301.6 gal/min that two filters take: the pump's 13.5 finds no place beside them, and
 * tanks stay full while two wells run. */
static void bigger_wells_give_less(void **state)
{
    (void)state;
    search(SCENARIO("pressure-three"), NULL);
    const double before = firm.one_out.firm;
    search(SCENARIO("pressure-three"),
           SETTINGS("/wells/0/flow=150 gal/min", "/wells/1/flow=150 gal/min", "/wells/2/flow=150 gal/min"));
    check_true(firm.one_out.firm < 0.97 * before, "a tenth more well flow gives less");
    check_count(firm.one_out.failing.limit, WR_LIMIT_SPENT_WASH_ROOM, "what limits: room for spent wash");
    check_count(firm.one_out.failing.outlet_limit, WR_LIMIT_FILTERS_FULL, "why: recycle finds the filters full");
    check_between(firm.one_out.failing.outlet_share, 0.9, 1, "share of the wait for room in which it does");
}

/* Differentials as measured rise and fall together with the flow, so that beds of different loads call at one time; a
 * correction to the approved rate parts them, and calls sooner at a low flow. */
static void a_correction_cures_calls_that_bunch(void **state)
{
    (void)state;
    struct plant_case measured, corrected;
    plant_case_run(&measured, SCENARIO("pressure-together"), NULL);
    plant_case_run(&corrected, SCENARIO("pressure-together"), SETTINGS("/wash/triggers/differential_as=corrected"));
    const struct wr_wash_balance *bunched = &measured.run.record.balance, *cured = &corrected.run.record.balance;
    check_count(bunched->most_waiting_together, 2, "as measured: two of three wait for the third");
    check_count(bunched->grade, WR_GRADE_OVERRUN, "as measured: filters reach their available head meanwhile");
    check_count(cured->most_waiting_together, 1, "corrected: no more than one waits");
    check_true(cured->grade < WR_GRADE_PACED, "corrected: washing keeps pace");
    check_true(cured->longest_wait < bunched->longest_wait, "corrected: the longest wait is shorter");
    check_between((double)cured->washes / (double)bunched->washes, 1.5, 2.5, "the price: about twice the washes");
    plant_case_fini(&measured);
    plant_case_fini(&corrected);
}

/* Marl Bend: the fourth filter that mostly buys waiting ------------------------------------------------------------ */

static const struct wr_ability *row_of(const struct wr_ability *rows, size_t count, enum wr_limit resource)
{
    for (size_t r = 0; r < count; r++)
        if (rows[r].resource == resource)
            return &rows[r];
    fail_msg("no row for this resource");
    return NULL;
}

/* Washes a day wanted and possible by room with one filter out, at a demand in thousand gal/d. */
static void check_room(const char *path, const char *demand, double wanted, double possible)
{
    struct plant_case c;
    struct wr_ability rows[WR_ABILITY_ROWS];
    plant_case_run(&c, path, SETTINGS("/outages=[{\"unit\":\"Filter 1\",\"from\":\"2026-01-05\"}]", demand));
    const size_t count = wr_ability_table(&c.run, rows);
    const struct wr_ability *room = row_of(rows, count, WR_LIMIT_SPENT_WASH_ROOM);
    check(room->wanted, wanted, 0.05 * wanted, "washes a day wanted: pencil, within 5 %");
    check(room->possible, possible, 0.03 * possible, "washes a day possible by room: pencil, within 3 %");
    plant_case_fini(&c);
}

/* A tank's turn is filling, 10 h of settling and 8,612 gal at 41 gal/min, 3.5 h: 13.7 h, so two tanks take 3.5 washes a
 * day. Three filters at their approved rate pass 1018 thousand gal/d; one asks for a wash each 2,472 gal/ft2 or 194
 * thousand gal of raw solids: 4.8 a day once the recycle, which comes back clean, and washing are taken off. */
static void a_fourth_filter_wants_more_washes_than_there_is_room_for(void **state)
{
    (void)state;
    check_room(SCENARIO("iron-four"), "/demand/maximum_day=0.96 Mgal/d", 4.8, 3.5);
    check_room(SCENARIO("iron-four-third-tank"), "/demand/maximum_day=0.9 Mgal/d", 4.5, 5.3);
    check_room(SCENARIO("iron-four-short-settling"), "/demand/maximum_day=0.9 Mgal/d", 4.5, 4.9);
    check_room(SCENARIO("iron-three"), "/demand/maximum_day=0.64 Mgal/d", 3.2, 3.5);
}

static double washes_of(const struct plant_case *c)
{
    return (double)c->run.record.balance.washes;
}

/* The pipe stands 8 in above the floor, where a wash of 34 lb leaves a foot and a half of sludge at 0.18 %: each decant
 * takes some of it along, and what comes back loads the filters anew. A floating draw-off leaves it, and needs no
 * emergency outlet.
 */
static void a_pipe_in_the_sludge_sends_it_back(void **state)
{
    (void)state;
    struct plant_case fixed, floating;
    plant_case_run(&fixed, SCENARIO("iron-four-low-pipe"), NULL);
    plant_case_run(&floating, SCENARIO("iron-four-low-pipe"), SETTINGS("/spent_wash/settling/draw_off=floating"));
    const struct wr_finding *with_sludge = plant_case_finding(&fixed, WR_FINDING_DECANT_SPOILED);
    check_true(with_sludge != NULL && with_sludge->times > 150, "fixed: sludge goes with the decants");
    check_true(plant_case_finding(&floating, WR_FINDING_DECANT_SPOILED) == NULL, "floating: none does");
    check_between(washes_of(&fixed) / washes_of(&floating), 1.6, 2.2, "washes, of those with a floating draw-off");
    check_count(fixed.run.record.balance.grade, WR_GRADE_OVERRUN, "fixed: washing is overrun");
    check_true(floating.run.record.balance.grade < WR_GRADE_PACED && floating.run.passes, "floating: it keeps pace");
    check_true(plant_case_water(&fixed, WR_LINE_TO_SEWER) > 1000, "fixed: the emergency outlet runs, m3");
    check(plant_case_water(&floating, WR_LINE_TO_SEWER), 0, 0, "floating: it is not needed, m3");
    plant_case_fini(&fixed);
    plant_case_fini(&floating);
}

/* Nameplates say half as much again for the fourth filter; it gives a fraction of that until there is room. */
static void the_limit_moves_to_the_tanks(void **state)
{
    (void)state;
    search(SCENARIO("iron-three"), NULL);
    const double three = firm.one_out.firm, three_nameplate = firm.nameplate;
    check_between(three, 0.9 * three_nameplate, three_nameplate, "three: near its nameplate");
    search(SCENARIO("iron-four"), NULL);
    const double four = firm.one_out.firm;
    check_share(firm.nameplate, 1.5 * three_nameplate, 1e-9, "nameplate of four, m3/s: three filters left for two");
    check_count(firm.one_out.failing.limit, WR_LIMIT_SPENT_WASH_ROOM, "what limits four: room for spent wash");
    check_count(firm.lifted.limit, WR_LIMIT_SPENT_WASH_ROOM, "what is lifted");
    check_count(firm.lifted.then, WR_LIMIT_WELL_DOES_NOT_FIT, "what limits then: wells in steps, as with three");
    const double lifted = firm.lifted.firm;
    search(SCENARIO("iron-four-third-tank"), NULL);
    const double third = firm.one_out.firm;
    check_true(1.1 * three < four && 1.1 * four < third, "three filters, then four, then four with a third tank");
    check_between(third, 1.45 * three, 1.55 * three, "with a third tank: half as much again");
    check_share(third, lifted, 1e-3, "what lifting the limit promised, m3/s");
    check_count(firm.one_out.failing.limit, WR_LIMIT_WELL_DOES_NOT_FIT, "what limits with a third tank");
    search(SCENARIO("iron-four-short-settling"), NULL);
    check_share(firm.one_out.firm, third, 0.01, "settling for 6 h, m3/s: near the third tank");
}

/* As measured, beds load on at a low flow and stand at their available head when the next well starts: demands fail by
 * washing while higher ones pass. */
#define MEASURED                                                                                                       \
    "/wash/triggers={\"differential\":\"8 psi\",\"differential_as\":\"measured\",\"persistence\":\"2 min\"}"

static size_t low_flow_failures(void)
{
    size_t count = 0;
    for (size_t r = 0; r < firm.one_out.rungs; r++)
        count += firm.one_out.ladder[r].low_flow;
    return count;
}

static void check_sensible(void)
{
    const struct wr_search *s = &firm.one_out;
    check_true(!s->monotone, "pass and fail are no staircase");
    for (size_t r = 0; r < s->rungs; r++) {
        if (s->ladder[r].low_flow)
            check_true(s->ladder[r].finding != WR_FINDING_UNMET_DEMAND &&
                           s->ladder[r].finding != WR_FINDING_RESERVE_USED,
                       "low-flow failures are of the washing and not of water");
        if (s->ladder[r].demand > s->fail)
            check_true(!s->ladder[r].passes || s->ladder[r].demand < 0.8 * s->firm, "nothing passes far above it");
    }
    check_between((s->fail - s->pass) / s->fail, 0, 1e-5, "width of the bracket, share");
}

static void the_ladder_alternates_and_the_answer_stands(void **state)
{
    (void)state;
    /* As the scenario is, corrected: it fails where the second well hardly runs, passes from 428 to 588 thousand gal/d,
     * fails again at 641 and 695, and passes at 748. */
    search(SCENARIO("iron-four"), NULL);
    check_sensible();
    size_t changes = 0;
    for (size_t r = 1; r < firm.one_out.rungs; r++)
        changes += firm.one_out.ladder[r].passes != firm.one_out.ladder[r - 1].passes;
    check_count(changes, 4, "changes between pass and fail (regression): fail, pass, fail, pass, fail");
    check_share(firm.one_out.firm, 764.6 * kgal_day, 0.001, "firm capacity, m3/s (regression)");
    /* As measured and with room enough: 13 demands fail below one that passes, the answer stays. */
    search(SCENARIO("iron-four-third-tank"), NULL);
    const double third = firm.one_out.firm;
    search(SCENARIO("iron-four-third-tank"), SETTINGS(MEASURED));
    check_sensible();
    check_true(low_flow_failures() > 7, "as measured: more low-flow failures than the corrected one's seven");
    check_share(firm.one_out.firm, third, 0.005, "firm capacity as measured, m3/s: that of the corrected");
    /* As measured and short of room no demand of the ladder passes: the answer is next to nothing, and says why. */
    search(SCENARIO("iron-four"), SETTINGS(MEASURED));
    check_true(firm.one_out.firm < firm.one_out.ladder[firm.one_out.rungs - 1].demand / WR_RUNGS,
               "short of room as well: no rung passes");
    check_count(firm.one_out.failing.limit, WR_LIMIT_SPENT_WASH_ROOM, "what limits there");
}

/* Fenholm: what the roster costs ----------------------------------------------------------------------------------- */

/* 40 of 168 hours a week; a weekend is 64 hours, a run 48 h at 6 m/h with 21 h left to available head. */
static void what_the_roster_costs_and_an_urgent_trigger_returns(void **state)
{
    (void)state;
    search(SCENARIO("gravity-any-hour"), NULL);
    const double any = firm.one_out.firm;
    check_count(firm.one_out.failing.limit, WR_LIMIT_ALL_WELLS_RUNNING, "at any hour: what limits");
    check_between(any, 0.94 * 4680 * m3_day, 4680 * m3_day, "at any hour, m3/s: three wells less what washing takes");
    search(SCENARIO("gravity-day-shift"), NULL);
    const double shift = firm.one_out.firm;
    check_count(firm.one_out.failing.limit, WR_LIMIT_WINDOW, "in the day shift: what limits");
    check_between((any - shift) * DAY, 850, 1000, "what the roster costs, m3/d (regression: 934)");
    check_share(firm.lifted.firm, any, 1e-3, "with the roster lifted, m3/s: that of any hour");
    /* Between 4,284 and 4,441 m3/d some demands pass, by the hours at which urgent washes fall, and some fail. */
    search(SCENARIO("gravity-urgent"), NULL);
    check_between((firm.one_out.firm - shift) / (any - shift), 0.75, 1, "share of it that an urgent trigger returns");
    size_t above = 0;
    for (size_t r = 0; r < firm.one_out.rungs; r++)
        above += firm.one_out.ladder[r].passes && firm.one_out.ladder[r].demand > firm.one_out.fail;
    check_true(above > 0, "demands above the promise that pass again");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_pipe_in_the_sludge_sends_it_back),
        cmocka_unit_test(a_fourth_filter_lifts_filter_firm_and_not_plant_firm),
        cmocka_unit_test(bigger_wells_give_less),
        cmocka_unit_test(a_correction_cures_calls_that_bunch),
        cmocka_unit_test(a_fourth_filter_wants_more_washes_than_there_is_room_for),
        cmocka_unit_test(the_limit_moves_to_the_tanks),
        cmocka_unit_test(the_ladder_alternates_and_the_answer_stands),
        cmocka_unit_test(what_the_roster_costs_and_an_urgent_trigger_returns),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
