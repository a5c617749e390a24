/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spent wash water by particle classes, its sludge, the blend, and ways out of their own.
 *
 * One filter of 10 m2 takes 40 m3/h of 10 g/m3 for 20 h: 8 kg of solids. Its wash of 50 m3 ends at 20:10 and leaves 160
 * g/m3 in the tank of 100 m3, 2 m deep, so 50 m2: 1 m of water, which stands still at once. Half of the solids settle
 * at 1 m/h, half at 0.1 m/h. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include "sim/plant/bed.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static const double exact = 1e-6; /* s */
static const double close = 1e-9; /* m3, kg */
static const double wash_ends = 20 * HOUR + 10 * MINUTE;

#define SPENT(settling, sludge, outlet)                                                                                \
    "/spent_wash={\"tanks\":[{\"volume\":\"100 m3\",\"depth\":\"2 m\"}],\"settling\":{\"start_after\":\"0 "            \
    "h\"," settling "}," sludge "\"outlets\":[" outlet "]}"
#define CLASSES                                                                                                        \
    "\"law\":\"classes\",\"classes\":[{\"share\":\"50 %\",\"velocity\":\"1 m/h\"},{\"share\":\"50 "                    \
    "%\",\"velocity\":\"0.1 m/h\"}],\"clear_at\":\"40 g/m3\""
#define SEWER "{\"kind\":\"sewer\",\"rate\":\"20 m3/h\"}"
#define BLANKET(drawn) "\"sludge\":{\"fresh_solids\":\"1 %\",\"thickened_solids\":\"1 %\"," drawn "},"
#define ONE "/filters/0/count=1", "/horizon=30 h"

static const struct wr_tank *tank_of(const struct plant_case *c)
{
    return wr_state_tanks(&c->run.plant, plant_case_state(c));
}

static const struct wr_entry *line_of(const struct plant_case *c, enum wr_line kind)
{
    return wr_ledger_line(&c->run.plant, plant_case_state(c), kind, 0);
}

/* A fifth is sludge: 40 m3, 0.8 m deep, clear when half of the solids' tenth metre an hour has passed half of it. */
static void it_is_drawn_off_when_clear(void **state)
{
    (void)state;
    static const struct {
        const char *spent;
        double hours, drawn; /* h of stillness; m3 */
    } cases[] = {
        {SPENT(CLASSES ",\"sludge_share\":\"20 %\"", "", SEWER), 4, 40},
        {SPENT(CLASSES ",\"sludge_share\":\"20 %\",\"polymer_factor\":2", "", SEWER), 2, 40},
        {SPENT(CLASSES ",\"sludge_share\":\"20 %\",\"time\":\"4.5 h\"", "", SEWER), 4.5, 40},
        {SPENT(CLASSES ",\"sludge_share\":\"20 %\",\"draw_off\":\"fixed\",\"draw_height\":\"0.4 m\"", "", SEWER), 3,
         30},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN, SETTINGS(ONE, cases[i].spent));
        const double depth = cases[i].drawn / 50, slow = i == 1 ? 0.2 : 0.1;
        const double carried = 0.5 * (1 - slow * cases[i].hours / depth) * 0.16 * cases[i].drawn; /* kg */
        check(plant_case_time(&c, WR_EVENT_TANK_SETTLED, 0, 0), wash_ends + cases[i].hours * HOUR, exact,
              "drawn off from, s");
        check(plant_case_water(&c, WR_LINE_TO_SEWER), cases[i].drawn, close, "drawn off, m3");
        check(line_of(&c, WR_LINE_TO_SEWER)->mass[WR_SOLIDS], carried, close, "solids in it, kg");
        check(line_of(&c, WR_LINE_SLUDGE)->mass[WR_SOLIDS], 8 - carried, close, "solids in sludge, kg");
        check(plant_case_water(&c, WR_LINE_SLUDGE), 50 - cases[i].drawn, close, "sludge dropped, m3");
        check_true(c.run.books.closes, "the books close");
        plant_case_fini(&c);
    }
}

/* Vesilind, 1 m/h and 1 m3/kg: at 0.16 kg/m3 the interface falls straight at exp(-0.16) m/h, 0.8 m to the sludge. */
static void zones_leave_clear_water(void **state)
{
    (void)state;
    static const char *const spent =
        SPENT("\"law\":\"zone\",\"sludge_share\":\"20 "
              "%\",\"zone\":{\"velocity\":\"1 m/h\",\"hindrance\":\"1 m3/kg\",\"greatest_concentration\":\"18 g/L\"}",
              "", SEWER);
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(ONE, spent));
    check(plant_case_time(&c, WR_EVENT_TANK_SETTLED, 0, 0), wash_ends + 0.8 * exp(0.16) * HOUR, exact,
          "drawn off from, s");
    check(plant_case_water(&c, WR_LINE_TO_SEWER), 40, close, "drawn off, m3");
    check(line_of(&c, WR_LINE_TO_SEWER)->mass[WR_SOLIDS], 0, 0, "solids in it, kg");
    check(line_of(&c, WR_LINE_SLUDGE)->mass[WR_SOLIDS], 8, close, "solids in sludge, kg");
    plant_case_fini(&c);
}

/* A class that never settles is never clear: nothing leaves. */
static void what_never_clears_stays(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(ONE, SPENT(CLASSES, "", SEWER), "/spent_wash/settling/classes/1/velocity=0 m/h"));
    check_true(!isfinite(plant_case_time(&c, WR_EVENT_TANK_SETTLED, 0, 0)), "never drawn off");
    check(tank_of(&c)->level, 50, close, "in the tank, m3");
    plant_case_fini(&c);
}

/* All 8 kg would take 0.8 m3 at 10 kg/m3, so that 49.2 m3 are drawn, clear after 4.92 h, with 40 g/m3: 1.968 kg. The
 * other 6.032 kg are a blanket of 0.6032 m3 under 0.8 m3 of water. */
static void a_blanket_stays_in_the_tank(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(ONE, SPENT(CLASSES, BLANKET("\"level\":\"1 %\""), SEWER)));
    check(plant_case_time(&c, WR_EVENT_TANK_SETTLED, 0, 0), wash_ends + 4.92 * HOUR, exact, "drawn off from, s");
    check(plant_case_water(&c, WR_LINE_TO_SEWER), 49.2, close, "drawn off, m3");
    check(line_of(&c, WR_LINE_TO_SEWER)->mass[WR_SOLIDS], 1.968, close, "solids in it, kg");
    check(tank_of(&c)->blanket[WR_SOLIDS], 6.032, close, "in the blanket, kg");
    check(tank_of(&c)->level, 0.8, close, "level, m3");
    check(tank_of(&c)->free, 99.2, close, "room, m3");
    check(plant_case_water(&c, WR_LINE_SLUDGE), 0, 0, "drawn of it, m3: its level is 1 m3");
    check_true(c.run.books.closes, "the books close");
    plant_case_fini(&c);
}

static void it_is_drawn_by_each_rule(void **state)
{
    (void)state;
    static const struct {
        const char *sludge;
        enum wr_line line;
        double drawn, solids; /* m3, kg */
    } cases[] = {
        {BLANKET("\"level\":\"0.5 %\""), WR_LINE_SLUDGE, 0.6032, 6.032},
        {BLANKET("\"level\":\"0.5 %\",\"to\":\"sewer\""), WR_LINE_SLUDGE_TO_SEWER, 0.6032, 6.032},
        {BLANKET("\"drawn\":\"each_decant\",\"volume\":\"0.25 m3\",\"to\":\"haul\""), WR_LINE_SLUDGE_TO_HAUL, 0.25,
         2.5},
        /* Due at 24 h while it settles: drawn at the end of the decant. */
        {BLANKET("\"drawn\":\"by_calendar\",\"every\":\"24 h\""), WR_LINE_SLUDGE, 0.6032, 6.032},
        /* Due at 29 h, when the decant has ended. */
        {BLANKET("\"drawn\":\"by_calendar\",\"every\":\"29 h\""), WR_LINE_SLUDGE, 0.6032, 6.032},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        char spent[1024];
        snprintf(spent, sizeof spent, "%s", SPENT(CLASSES, "@", SEWER));
        char *at = strchr(spent, '@'), rest[512];
        snprintf(rest, sizeof rest, "%s", at + 1);
        snprintf(at, sizeof spent - (size_t)(at - spent), "%s%s", cases[i].sludge, rest);
        plant_case_run(&c, PLANT_PLAIN, SETTINGS(ONE, spent));
        check(line_of(&c, cases[i].line)->water, cases[i].drawn, close, "sludge drawn, m3");
        check(line_of(&c, cases[i].line)->mass[WR_SOLIDS], cases[i].solids, close, "solids in it, kg");
        check(tank_of(&c)->level, 0.8 - cases[i].drawn, close, "level, m3");
        check_true(c.run.books.closes, "the books close");
        plant_case_fini(&c);
    }
}

/* The pipe stands at 0.5 m3, 0.3 m3 below the top of the sludge if nothing were carried: the clear 49.2 m3 carry 1.968
 * kg, and of the blanket's 0.6032 m3 what stands above the pipe goes with them. */
static void sludge_above_the_pipe_spoils_the_decant(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(ONE, SPENT(CLASSES ",\"draw_off\":\"fixed\",\"draw_height\":\"0.01 m\"",
                                       BLANKET("\"level\":\"50 %\""), SEWER)));
    const double lifted = 10 * (0.6032 - 0.5); /* kg */
    check(plant_case_water(&c, WR_LINE_TO_SEWER), 49.5, close, "drawn off, m3: down to the pipe");
    check(line_of(&c, WR_LINE_TO_SEWER)->mass[WR_SOLIDS], 1.968 + lifted, close, "solids in it, kg");
    check(tank_of(&c)->blanket[WR_SOLIDS], 6.032 - lifted, close, "in the blanket, kg");
    const struct wr_finding *spoiled = plant_case_finding(&c, WR_FINDING_DECANT_SPOILED);
    check_true(spoiled != NULL, "it is a finding");
    check(spoiled->worst, (1.968 + lifted) / 49.5, close, "solids of the decant, kg/m3");
    check_true(c.run.books.closes, "the books close");
    plant_case_fini(&c);
}

/* Raw water of 10 g/m3 at 40 m3/h and recycle of 40 g/m3: 12 g/m3 together at 2 parts in 28 of it. */
static void the_blend_holds_recycle(void **state)
{
    (void)state;
    static const char *const spent = SPENT(CLASSES ",\"sludge_share\":\"20 %\"", "", "{\"kind\":\"recycle\"}");
    const double at = wash_ends + 5 * HOUR, most = 40.0 * 2 / 28 / HOUR;
    for (int fixed = 0; fixed < 2; fixed++) {
        struct plant_case c;
        plant_case_run(
            &c, PLANT_PLAIN,
            SETTINGS(ONE, spent,
                     "/recycle={\"pump\":\"20 m3/h\",\"max_fraction\":\"100 %\",\"max_blend_solids\":\"12 g/m3\"}",
                     fixed ? "/recycle/control=fixed" : "/recycle/control=ratio"));
        const struct plant_sample *sample = plant_case_at(&c, at);
        check(sample->flows.recycle, fixed ? 0 : most, 1e-12, "recycle, m3/s");
        check_true((sample->flows.held & wr_limit_bit(WR_LIMIT_BLEND_SOLIDS)) != 0, "what holds it is said");
        if (!fixed)
            check(sample->flows.feed[WR_SOLIDS], 0.012, 1e-12, "solids of the blend, kg/m3");
        plant_case_fini(&c);
    }
}

/* A plant approved for 41 m3/h: its well gives way to as much recycle as the blend takes up, and to no more. It once
 * gave way to all that the pump might have sent, and filters made less than the wash of another drew. */
static void a_well_gives_way_to_what_the_blend_takes_up(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS(ONE, SPENT(CLASSES ",\"sludge_share\":\"20 %\"", "", "{\"kind\":\"recycle\"}"),
                 "/recycle={\"pump\":\"20 m3/h\",\"max_fraction\":\"100 %\",\"max_blend_solids\":\"12 g/m3\"}",
                 "/recycle/control=ratio", "/wells/0/flow=41 m3/h", "/wells/0/drive=variable",
                 "/approved_capacity=41 m3/h", "/over_approved_rate=throttle"));
    const struct plant_sample *sample = plant_case_at(&c, wash_ends + 5 * HOUR);
    check(sample->flows.recycle + sample->flows.raw, 41.0 / HOUR, 1e-12, "raw water and recycle, m3/s");
    check_true(sample->flows.recycle > 2.0 / HOUR, "of it, a fair part is recycle");
    check(sample->flows.feed[WR_SOLIDS], 0.012, 1e-12, "solids of the blend, kg/m3");
    plant_case_fini(&c);
}

/* 2 m3 of rinse, which the tank never sees. */
static void a_rinse_may_go_its_own_way(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(ONE, SPENT("\"law\":\"none\"", "", "{\"kind\":\"sewer\",\"rate\":\"0.001 m3/h\"}"),
                            "/wash/rinse_time=3 min", "/wash/rinse_rate=4 m/h", "/wash/rinse_to=sewer",
                            "/horizon=21 h"));
    check(c.run.plant.groups[0].room, 50, close, "room booked, m3: the backwash alone");
    check(wr_ledger_line(&c.run.plant, plant_case_state(&c), WR_LINE_RINSE, 1)->water, 2, close, "to the sewer, m3");
    check(plant_case_water(&c, WR_LINE_RINSE), 2, close, "rinsed, m3");
    check_true(c.run.books.closes, "the books close");
    plant_case_fini(&c);
}

/* F2 is called at 21 h, when the only tank settles: what is in it goes to the sewer at 100 m3/h, half an hour. */
static void an_emergency_outlet_makes_room(void **state)
{
    (void)state;
    static const char *const rota = "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 "
                                    "20:00\"},{\"filter\":\"F2\",\"first\":\"2026-01-05 21:00\"}]";
    static const char *const spent = SPENT("\"law\":\"clock\",\"time\":\"10 h\"", "",
                                           "{\"kind\":\"recycle\"},"
                                           "{\"kind\":\"sewer\",\"rate\":\"100 m3/h\",\"emergency\":true}");
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/horizon=40 h", rota, spent, "/spent_wash/tanks/0/volume=60 m3",
                            "/wash/triggers/run_hours=100 h", "/recycle={\"pump\":\"1 m3/h\"}"));
    check(plant_case_time(&c, WR_EVENT_TANK_DUMPED, 0, 0), 21 * HOUR, exact, "drawn off as it is from, s");
    check(plant_case_wash(&c, 1, 0)->started_at, 21.5 * HOUR, exact, "F2 starts, s");
    check(plant_case_water(&c, WR_LINE_TO_SEWER), 50, close, "to the sewer, m3");
    check(plant_case_time(&c, WR_EVENT_TANK_SETTLED, 0, 1), 21.5 * HOUR + 10 * MINUTE + 10 * HOUR, exact,
          "the next water settles, s");
    check_true(c.run.books.closes, "the books close");
    plant_case_fini(&c);
}

/* 5 m3/m2 of backwash, 2.5 of which take all but 1/e: 1/e2 stays, and the last of it carries 0.8/2.5/e2 kg/m3. */
static void a_bed_washes_out(void **state)
{
    (void)state;
    for (int clear = 0; clear < 2; clear++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS("/filters/0/count=1", "/horizon=20.5 h", "/wash/washout_depth=2.5 m3/m2",
                                clear ? "/wash/clear_at=44 g/m3" : "/wash/clear_at=43 g/m3"));
        const struct wr_finding *finding = plant_case_finding(&c, WR_FINDING_WASH_NOT_CLEAR);
        const double served = 20 * MINUTE * 40 / HOUR * 0.01 / 10; /* kg/m2 since */
        check(wr_bed_load(&c.run.plant, plant_case_state(&c), 0) - served, 0.8 * exp(-2), close, "left in it, kg/m2");
        check_true((finding != NULL) == !clear, "a finding where it is not clear enough");
        if (finding != NULL)
            check(finding->worst, 0.8 / 2.5 * exp(-2), close, "solids in the last of it, kg/m3");
        check_true(c.run.books.closes, "the books close");
        plant_case_fini(&c);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(it_is_drawn_off_when_clear), cmocka_unit_test(zones_leave_clear_water),
        cmocka_unit_test(what_never_clears_stays),    cmocka_unit_test(a_blanket_stays_in_the_tank),
        cmocka_unit_test(it_is_drawn_by_each_rule),   cmocka_unit_test(sludge_above_the_pipe_spoils_the_decant),
        cmocka_unit_test(the_blend_holds_recycle),    cmocka_unit_test(a_well_gives_way_to_what_the_blend_takes_up),
        cmocka_unit_test(a_rinse_may_go_its_own_way), cmocka_unit_test(an_emergency_outlet_makes_room),
        cmocka_unit_test(a_bed_washes_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
