/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A whole small plant, end to end, against a printed design example: scenarios/small-unsettled.json.
 *
 * UFC 3-280-04 (US Department of Defense, 17 December 2003, public domain), appendix B: five wells
 * of 6 gal/min, suspended solids 50 mg/L, one 48 in pressure filter washed twice a day at 15 gal/min/ft2 for 10 min,
 * the wash water returned unsettled through an equalisation tank. A design, not a measured plant. "Printed" stands
 * there; "derived" follows from printed figures by the arithmetic named; there is nothing here that this program
 * computed.
 *
 * The wash water returns unsettled, so solids have no sink: run k carries k times the first run's. The example does not
 * say so; a faithful simulation must show it. */
#include "sim/plant/bed.h"
#include "sim/study/firm.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#define SCENARIO WR_ROOT "/scenarios/small-unsettled.json"

static const double gallon = 3.785411784e-3; /* m3 */
static const double pound = 0.45359237;      /* kg */
static const double foot = 0.3048;           /* m */
static const double kpa = 1e3 / 9806.65;     /* m of water, as conventional metres are reckoned */

/* Washed twice a day by the clock, as printed, whatever the head: 15 min of each wash the filter is off line. */
#define TWICE_A_DAY "/wash/triggers={\"run_hours\":\"12 h\"}", "/filters/0/available_head=150 psi"

static void the_plant_is_the_printed_one(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, SCENARIO, NULL);
    const struct wr_group *g = &c.run.plant.groups[0];
    check(g->area / (foot * foot), 12.57, 0.005, "filter area, ft2: printed, B, 48 in vessel");
    check(g->wash_volume / gallon, 1885, 0.5, "wash water of one wash, gal: printed, B, 15 x 12.57 x 10");
    check(2 * g->wash_volume / gallon / (30 * 1440), 0.0873, 5e-5,
          "two washes a day of well flow: derived, 3770/43,200");
    check(g->clean_linear * 30 * gallon / 60 / g->area / kpa, 3.43, 1e-9, "clean bed at 30 gal/min, kPa: printed, B");
    check(c.reading.definition.wash.triggers.differential / kpa, 68.9, 1e-9, "trigger across the bed, kPa: printed, B");
    const double slope = g->deposit.slope / kpa / 1000; /* at the rate of 30 gal/min */
    check(g->deposit.reference_rate * g->area * 60 / gallon, 30, 1e-9, "flow at which the slope is taken, gal/min");
    check(slope, 0.0187, 5e-5, "slope, kPa per g/m2: derived, (68.9 - 3.43)/3502");
    plant_case_fini(&c);
}

static void the_first_run_is_the_printed_one(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, SCENARIO, NULL);
    const struct wr_wash_record *first = plant_case_wash(&c, 0, 0);
    const double area = c.run.plant.groups[0].area;
    check(first->called_at, 12 * HOUR, 60,
          "first trigger, s: twice a day, printed; a consistency check, since the "
          "slope is taken from it");
    check_count(first->trigger, WR_TRIGGER_DIFFERENTIAL, "what called");
    check(first->differential / kpa, 68.9, 0.01, "differential then, kPa: printed, B");
    check(first->load, 3.502, 5e-4, "its solids, kg/m2: derived, 50 mg/L x 30 gal/min x 12 h on 12.57 ft2");
    check(2 * first->load * area / pound, 18.0, 0.05, "solids of a day, lb: printed, B, raw water only");
    check(2 * first->load / pound * foot * foot, 1.43, 0.005, "solids of a day, lb/ft2: printed, B");
    plant_case_fini(&c);
}

static void a_day_with_returned_wash_water_is_the_printed_one(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, SCENARIO, SETTINGS(TWICE_A_DAY));
    const double area = c.run.plant.groups[0].area;
    for (size_t n = 1; n < 10; n++) {
        const double daily = 2 * plant_case_wash(&c, 0, n)->run_volume * area / gallon;
        check(daily, 46970, 1, "water through the filter in two runs, gal: printed, B, 43,200 and two washes");
        check(daily / 1440, 32.62, 0.005, "its mean, gal/min: derived, 46,970/1440 (33.0 is printed, rounded up)");
    }
    const struct plant_sample *returned = plant_case_at(&c, 13 * HOUR);
    check(returned->flows.recycle * 60 / gallon, 3, 1e-9, "returned, gal/min: a tenth of the wells");
    const double back = (returned->flows.feed[WR_SOLIDS] * 33 - 50e-3 * 30) / 3;
    check(back * 1e3, 573, 0.5, "solids of the first spent wash, mg/L: derived, 3.502 kg/m2 in 1885 gal");
    plant_case_fini(&c);
}

/* All that a wash takes comes back within the next run: its solids and another run's of raw water. */
static void solids_have_no_sink(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, SCENARIO, SETTINGS(TWICE_A_DAY));
    check_count(c.run.record.balance.washes, 13, "washes in 7 d: one every 12 h 15 min");
    for (size_t n = 0; n < 13; n++)
        check_share(plant_case_wash(&c, 0, n)->load, 3.502 * (double)(n + 1), 2e-4,
                    "load of run k, kg/m2: k times the first");
    const struct wr_plant *plant = &c.run.plant;
    const struct wr_state *s = plant_case_state(&c);
    const double held = wr_ledger_stock(plant, s, WR_ACCOUNT_BEDS).mass[WR_SOLIDS] +
                        wr_ledger_stock(plant, s, WR_ACCOUNT_TANKS).mass[WR_SOLIDS];
    check_share(held, wr_ledger_line(plant, s, WR_LINE_RAW, 0)->mass[WR_SOLIDS], 1e-9,
                "solids in bed and tank, kg: all that ever came");
    check_true(c.run.books.closes, "the books close");
    plant_case_fini(&c);
}

/* By its differential it is washed oftener and oftener, until its tank has no room for the next wash. */
static void runs_grow_shorter_by_the_differential(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, SCENARIO, NULL);
    const struct wr_wash_record *first = plant_case_wash(&c, 0, 0), *second = plant_case_wash(&c, 0, 1);
    check_true(second->run_hours < 0.5 * first->run_hours, "the second run ends before half the first run's hours");
    check_true(c.run.record.balance.ever_exceeds_supply, "in a week washes come to wait");
    check_count(c.run.record.balance.cause, WR_LIMIT_SPENT_WASH_ROOM, "for room");
    check_true(!c.run.passes, "the run fails");
    check_true(c.run.books.closes, "the books close");
    plant_case_fini(&c);
}

static void one_filter_has_no_firm_capacity(void **state)
{
    (void)state;
    static struct wr_firm firm;
    struct plant_case c;
    plant_case_read(&c, SCENARIO, NULL);
    wr_firm_make(&firm, &c.reading.definition, NULL);
    check_count(firm.end, WR_RUN_WHOLE, "end of the search");
    check(firm.one_out.firm, 0, 0, "firm capacity, m3/s: no filter is left");
    check(firm.one_out.pass, 0, 0, "lower end of the bracket, m3/s");
    check(firm.one_out.fail, 0, 0, "upper end of the bracket, m3/s");
    check(firm.nameplate, 0, 0, "nameplate, m3/s");
    check_count(firm.one_out.failing.limit, WR_LIMIT_NO_FILTER_IN_SERVICE, "limiting factor");
    check(firm.share_used, WR_NEVER, 0, "share used: beyond any");
    check_true(!firm.passes, "it fails");
    wr_firm_fini(&firm);
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_plant_is_the_printed_one),
        cmocka_unit_test(the_first_run_is_the_printed_one),
        cmocka_unit_test(a_day_with_returned_wash_water_is_the_printed_one),
        cmocka_unit_test(solids_have_no_sink),
        cmocka_unit_test(runs_grow_shorter_by_the_differential),
        cmocka_unit_test(one_filter_has_no_firm_capacity),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
