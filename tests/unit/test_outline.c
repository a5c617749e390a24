/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plant in a few sums, by pencil from the figures of its scenario. */
#include "sim/study/outline.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

static const double gallon = 3.785411784e-3, foot = 0.3048;

static struct wr_outline outline(const char *path, const char *const *settings)
{
    struct plant_case c;
    struct wr_plant plant;
    plant_case_read(&c, path, settings);
    check_count(wr_plant_init(&plant, &c.reading.definition), WR_OK, "the plant is built");
    const struct wr_outline o = wr_outline_of(&plant);
    wr_plant_fini(&plant);
    plant_case_fini(&c);
    return o;
}

/* Alder Fork: three filters of 8 ft at 3 gal/min/ft2, three wells of 135 gal/min, 250,000 gal with a reserve of 40 %.
 */
static void three_pressure_filters(void **state)
{
    (void)state;
    const struct wr_outline o = outline(WR_ROOT "/scenarios/pressure-three.json", NULL);
    const double area = 3.14159265358979 * 16 * foot * foot, gpm = gallon / 60;
    check(o.area, 3 * area, 1e-9, "area, m2: three circles of 8 ft");
    check(o.area_left, 2 * area, 1e-9, "with one out");
    check(o.approved_flow / gpm, 452.39, 0.005, "approved, gal/min: 150.8 each");
    check(o.approved_flow_left / gpm, 301.59, 0.005, "with one out");
    check(o.demand / gpm, 250, 1e-9, "maximum day, gal/min: 360,000/1440");
    check(o.rate / (gpm / foot / foot), 250 / 150.796, 1e-4, "rate, gal/min/ft2");
    check(o.rate_left / (gpm / foot / foot), 250 / 100.531, 1e-4, "with one out");
    check(o.wells_flow / gpm, 405, 1e-9, "wells, gal/min: 3 x 135");
    check(o.wells_flow_left / gpm, 270, 1e-9, "with one out");
    check(o.wells_fit / gpm, 405, 1e-9, "wells that fit, gal/min: all");
    check(o.wells_fit_left / gpm, 270, 1e-9, "with a filter out two of 135 in 301.6");
    check(o.storage_lasts / HOUR, 250.0 / 15, 1e-9, "storage lasts, h: 250,000 at 15,000 an hour");
    check(o.above_reserve_lasts / HOUR, 10, 1e-9, "above the reserve, h: 60 % of it");
}

/* The same plant's washes: called after 72 h, so one a day; 12 gal/min/ft2 for 10 min, 3 min of rinse. */
static void its_washes(void **state)
{
    (void)state;
    const struct wr_outline o = outline(WR_ROOT "/scenarios/pressure-three.json", NULL);
    check(o.washes, 1, 1e-9, "washes a day: three filters every three days");
    check(o.between_washes, DAY, 1e-6, "between them, s");
    check(o.busy, 19.0 / 1440, 1e-9, "wash system busy: 19 min off line a day");
    check(o.wash_water / gallon, 6031.86, 0.01, "wash water a day, gal: 50.2655 ft2 x 120");
    check(o.spent_wash / gallon, 6484.25, 0.01, "spent wash a day, gal: and 150.8 x 3");
    check(o.wash_share, 6484.25 / 360000, 1e-7, "share of the maximum day");
    check(o.wash_flow / (gallon / 60), 603.19, 0.005, "a wash draws, gal/min");
    check(o.tank_washes, 9000 / 6031.86, 1e-5, "washes in the tank of 9,000 gal");
    check(o.refill_time / MINUTE, 6031.86 / 60, 1e-3, "refill of a wash, min, at 60 gal/min");
    check(o.spent_washes, 2, 0, "washes in two tanks of 9,000 gal");
    check(o.tank_share, 6484.25 / 9000, 1e-6, "of a tank");
    check(o.turn / MINUTE, 360 + 0.85 * 6484.25 / 13.5, 1e-2, "settled and emptied, min");
    check(o.room_washes, 13.5 * 1440 / (0.85 * 6484.25), 1e-5, "washes a day that the recycle pump empties");
    check(o.recycle_needs / (gallon / 60), 135, 1e-9, "raw water that the recycle pump needs, gal/min");
    check_true(!wr_is_given(o.source_flow), "no bound on the source's flow");
}

static void what_there_is_none_of(void **state)
{
    (void)state;
    const struct wr_outline none =
        outline(WR_ROOT "/scenarios/self-washing.json", SETTINGS("/demand/maximum_day=0 m3/d"));
    check_true(!wr_is_given(none.tank_washes) && !wr_is_given(none.refill_time), "no wash-water tank");
    check_true(!wr_is_given(none.spent_washes) && !wr_is_given(none.turn) && !wr_is_given(none.room_washes),
               "no spent-wash tank");
    check_true(isinf(none.storage_lasts), "storage lasts for ever without demand");
    check(none.washes, 0, 0, "washes a day without flow");
    check_true(isinf(none.between_washes), "time between none");

    const struct wr_outline one = outline(PLANT_PLAIN, SETTINGS("/filters/0/count=1"));
    check(one.area_left, 0, 0, "area left of one filter");
    check_true(isinf(one.rate_left), "rate through none");

    const struct wr_outline bound =
        outline(WR_ROOT "/scenarios/pressure-three.json", SETTINGS("/wash_water/max_flow=700 gal/min"));
    check(bound.source_flow / (gallon / 60), 700, 1e-9, "the source's bound, gal/min");
}

/* Wells in steps beside 301.6 gal/min of filters: a later, smaller one may fit; a throttled one takes what is left. */
static void wells_in_steps(void **state)
{
    (void)state;
    const double gpm = gallon / 60;
    const struct wr_outline smaller = outline(WR_ROOT "/scenarios/pressure-three.json",
                                              SETTINGS("/wells/0/flow=200 gal/min", "/wells/2/flow=100 gal/min"));
    check(smaller.wells_fit_left / gpm, 300, 1e-9, "200 and 100, gal/min: 135 between them does not fit");
    const struct wr_outline throttled = outline(WR_ROOT "/scenarios/pressure-three.json",
                                                SETTINGS("/over_approved_rate=throttle", "/wells/2/drive=variable"));
    check(throttled.wells_fit_left / gpm, 301.593, 1e-3, "two, and what is left of the third, gal/min");
    const struct wr_outline allowed =
        outline(WR_ROOT "/scenarios/pressure-three.json", SETTINGS("/approved_capacity=0.3 Mgal/d")); /* 208 gal/min */
    check(allowed.wells_fit / gpm, 135, 1e-9, "one within the approved capacity, gal/min");
    const struct wr_outline rising =
        outline(WR_ROOT "/scenarios/pressure-three.json", SETTINGS("/over_approved_rate=rate_rises"));
    check(rising.wells_fit_left / gpm, 405, 1e-9, "all where the rate may rise, gal/min");
}

/* Eight cells in four vessels: the vessel goes out whole. */
static void a_vessel_goes_out_whole(void **state)
{
    (void)state;
    const struct wr_outline o = outline(PLANT_PLAIN, SETTINGS("/filters/0/count=8", "/filters/0/cells_per_vessel=2"));
    check(o.area_left / o.area, 0.75, 1e-12, "share of the area that is left");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(three_pressure_filters),  cmocka_unit_test(its_washes),
        cmocka_unit_test(what_there_is_none_of),   cmocka_unit_test(wells_in_steps),
        cmocka_unit_test(a_vessel_goes_out_whole),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
