/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The search for firm capacity: its figure by pencil, its limiting factor, its ladder and its bracket. */
#include "sim/study/firm.h"
#include "tests/plant/search.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>

#define THREE WR_ROOT "/scenarios/pressure-three.json"
#define FOUR WR_ROOT "/scenarios/pressure-four.json"

static const double kgal_day = 3.785411784 / 86400; /* m3/s */

static struct wr_firm firm, three_firm;
static struct plant_case three;

/* Several tests look at one search. */
static int search_three(void **state)
{
    (void)state;
    plant_case_read(&three, THREE, NULL);
    wr_firm_make(&three_firm, &three.reading.definition, NULL);
    return three_firm.end == WR_RUN_WHOLE ? 0 : -1;
}

static int fini_three(void **state)
{
    (void)state;
    wr_firm_fini(&three_firm);
    plant_case_fini(&three);
    return 0;
}

static void search(struct plant_case *c, const char *path, const char *const *settings)
{
    plant_case_read(c, path, settings);
    wr_firm_make(&firm, &c->reading.definition, NULL);
    check_count(firm.end, WR_RUN_WHOLE, "end of the search");
}

static void fini(struct plant_case *c)
{
    wr_firm_fini(&firm);
    plant_case_fini(c);
}

/* By pencil, thousand gallons a day: two wells of 135 gal/min 388.8; less 1.07 washes of 6.48; plus what comes back of
 * them, 1.07 x 5.51; less one well dropped during washes, 1.9: 386 */
static void three_filters_by_pencil(void **state)
{
    (void)state;
    check_share(three_firm.one_out.firm, 386 * kgal_day, 0.01, "firm capacity, m3/s: pencil check within 1 %");
    check(three_firm.maximum_day, 360 * kgal_day, 1e-12, "maximum day, m3/s");
    check(three_firm.share_used, three_firm.maximum_day / three_firm.one_out.firm, 1e-12, "share used");
    check_true(three_firm.passes, "the maximum day is within the firm capacity");
    check_count(three_firm.one_out.failing.limit, WR_LIMIT_WELL_DOES_NOT_FIT, "limiting factor: wells in steps");
    check_count(three_firm.all_in.failing.limit, WR_LIMIT_ALL_WELLS_RUNNING, "limiting factor with all in service");
    check_true(three_firm.all_in.firm > 1.3 * three_firm.one_out.firm && three_firm.all_in.firm < 583.2 * kgal_day,
               "all in service: far above, below what three wells give");
    check_count(three_firm.unit_out, 0, "filter out: the first of equals");
    check_text(three_firm.unit_name, "Filter 1", "its name");
    check_search_of(&three_firm.one_out, &three.reading.definition, "Filter 1");
    check_search_of(&three_firm.all_in, &three.reading.definition, NULL);
}

/* 2 x 50.265 ft2 x 3 gal/min/ft2 x 1440 min; runs of 40 h; 129 gal/ft2 of backwash and rinse a wash. */
static void the_nameplate_by_its_terms(void **state)
{
    (void)state;
    const double area = 50.26548245743669 * 0.3048 * 0.3048, gross = 434.2937684, water = 6.484247237;
    static const char *const keys[] = {"area_left",      "approved_rate",  "gross",
                                       "washes_per_day", "water_per_wash", "wash_water"};
    const double values[] = {2 * area,
                             3 * kgal_day * 1.44 / (0.3048 * 0.3048),
                             gross * kgal_day,
                             1.2,
                             water * 3.785411784,
                             1.2 * water * kgal_day};
    check_count(three_firm.term_count, 6, "terms");
    for (size_t t = 0; t < 6; t++) {
        check_text(three_firm.terms[t].key, keys[t], "key of a term");
        check_share(three_firm.terms[t].value, values[t], 1e-9, "value of a term, SI: by hand");
    }
    check_share(three_firm.nameplate, (gross - 1.2 * water) * kgal_day, 1e-9, "nameplate, m3/s: gross less wash water");
}

static void a_fourth_filter_lifts_it(void **state)
{
    (void)state;
    struct plant_case c;
    search(&c, FOUR, NULL);
    check_between(firm.one_out.firm, 1.4 * three_firm.one_out.firm, 583.2 * kgal_day,
                  "firm capacity of four, m3/s: within three wells");
    check_share(firm.one_out.firm, three_firm.all_in.firm, 1e-4,
                "firm capacity of four, m3/s: that of three with none out");
    check_count(firm.one_out.failing.limit, WR_LIMIT_ALL_WELLS_RUNNING, "limiting factor: now the wells");
    check_search_of(&firm.one_out, &c.reading.definition, "Filter 1");
    fini(&c);
}

/* The rung of an even step, the first being 1. */
static const struct wr_rung *step_of(const struct wr_search *s, int step)
{
    const double demand = s->ladder[s->rungs - 1].demand * step / WR_RUNGS;
    const struct wr_rung *rung = s->ladder;
    while (rung->demand < demand * (1 - 1e-9))
        rung++;
    return rung;
}

/* Lifting the limit lifts the answer; lifting another does not. */
static void lifting_what_limits(void **state)
{
    (void)state;
    struct plant_case c;
    search(&c, THREE,
           SETTINGS("/filters/0/approved_rate=4.2 gal/min/ft2", "/wash/rinse_rate=3 gal/min/ft2",
                    "/filters/0/available_head=20 psi"));
    check_true(firm.one_out.firm > 1.3 * 386 * kgal_day, "a rate at which the third well fits lifts it");
    fini(&c);
    search(&c, THREE, SETTINGS("/approved_capacity=148.5 gal/min"));
    check_between(firm.one_out.firm, 0.95 * 194.4 * kgal_day, 194.4 * kgal_day,
                  "firm capacity, m3/s: of one well beside the recycle pump");
    check_true(step_of(&firm.one_out, 8)->passes && !step_of(&firm.one_out, 9)->passes,
               "182 passes, 205 thousand gal/d fails");
    check_count(step_of(&firm.one_out, 9)->limit, WR_LIMIT_APPROVED_CAPACITY, "what limits there");
    fini(&c);
    search(&c, THREE,
           SETTINGS("/demand/maximum_day=0.40 Mgal/d", "/wash_water/tank/refill_rate=200 gal/min",
                    "/storage/volume=500000 gal"));
    check_true(!firm.passes, "a maximum day above the firm capacity fails");
    check_share(firm.one_out.firm, 386 * kgal_day, 0.01,
                "firm capacity, m3/s: whatever the maximum day is, and no more with more refill and storage");
    fini(&c);
}

/* The largest filter is the one that takes most, wherever it stands. */
static void the_largest_filter_is_out(void **state)
{
    (void)state;
    struct plant_case c;
    search(&c, PLANT_PLAIN,
           SETTINGS("/filters/1={\"name\":\"G\",\"count\":1,\"area\":\"8 m2\",\"approved_rate\":\"9 m/h\","
                    "\"available_head\":\"50 m\",\"deposit\":{\"observed_run\":{\"clean_differential\":\"0.6 m\","
                    "\"dirty_differential\":\"2.6 m\",\"rate\":\"6 m/h\",\"hours\":\"20 h\"}}}",
                    "/wash_water/tank/refill_rate=30 m3/h"));
    check_text(firm.unit_name, "G1", "filter out: 72 m3/h against 60");
    check_share(firm.terms[2].value, 2 * 60.0 / 3600, 1e-12, "area left x rate, m3/s");
    fini(&c);
}

/* High iron: at low flow beds load on for days between heads judged, at high flow room for spent wash runs short. */
#define HIGH_IRON                                                                                                      \
    "/raw_water/iron=6 mg/L", "/raw_water/manganese=0.4 mg/L", "/filters/0/diameter=10 ft",                            \
        "/filters/0/deposit/observed_run/iron=2 mg/L", "/filters/0/deposit/observed_run/manganese=0.25 mg/L",          \
        "/wash_water/tank={\"volume\":\"20000 gal\",\"refill_rate\":\"120 gal/min\"}",                                 \
        "/spent_wash/tanks=[{\"volume\":\"11500 gal\"},{\"volume\":\"11500 gal\"}]", "/spent_wash/settling/time=10 h", \
        "/recycle={\"pump\":\"41 gal/min\"}", "/storage/volume=600000 gal", "/wells/0/flow=215 gal/min",               \
        "/wells/1/flow=215 gal/min", "/wells/2/flow=215 gal/min", "/wells/0/on_below=78 %", "/wells/1/on_below=74 %",  \
        "/wells/2/on_below=68 %"

static void low_flow_failures_stand_apart(void **state)
{
    (void)state;
    struct plant_case c;
    size_t low = 0;
    search(&c, THREE, SETTINGS(HIGH_IRON));
    for (size_t r = 0; r < firm.one_out.rungs; r++)
        low += firm.one_out.ladder[r].low_flow;
    check_true(low > 0, "some rungs fail at low flow, for the next check to see");
    check_true(!firm.one_out.monotone, "pass and fail are no staircase");
    check_search_of(&firm.one_out, &c.reading.definition, "Filter 1");
    check_search_of(&firm.all_in, &c.reading.definition, NULL);
    check_true(firm.one_out.firm > 0, "low-flow failures do not bring the answer to nothing");
    fini(&c);
}

/* A plant that fails at any demand. */
static void nothing_passes(void **state)
{
    (void)state;
    struct plant_case c;
    search(&c, PLANT_PLAIN,
           SETTINGS("/wash_water/tank={\"volume\":\"50 m3\",\"start_level\":\"0 %\",\"refill_rate\":\"0.001 m3/h\"}",
                    "/raw_water/suspended_solids=100 mg/L", "/filters/0/available_head=1 m"));
    check(firm.one_out.firm, 0, 0, "firm capacity, m3/s: none");
    check(firm.one_out.pass, 0, 0, "lower end of the bracket, m3/s");
    check_true(firm.one_out.ever_failed, "everything failed");
    check(firm.share_used, WR_NEVER, 0, "share used: beyond any");
    check_true(!firm.passes, "it fails");
    fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(three_filters_by_pencil),
        cmocka_unit_test(the_nameplate_by_its_terms),
        cmocka_unit_test(a_fourth_filter_lifts_it),
        cmocka_unit_test(lifting_what_limits),
        cmocka_unit_test(the_largest_filter_is_out),
        cmocka_unit_test(low_flow_failures_stand_apart),
        cmocka_unit_test(nothing_passes),
    };
    return cmocka_run_group_tests(tests, search_three, fini_three);
}
