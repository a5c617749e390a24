/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each row of guidance is met at its bound and not just beyond it, and speaks to its kind of plant alone. Bounds are
 * those that the sources of the table in sim/review/table.c print; what is made of a scenario is worked out beside. */
#include "sim/review/review.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <string.h>

#define PRESSURE WR_ROOT "/scenarios/pressure-three.json"
#define GRAVITY WR_ROOT "/scenarios/gravity-any-hour.json"
#define OWN WR_ROOT "/scenarios/self-washing.json"

/* A row at a bound and just beyond it. */
struct bound {
    const char *key, *scenario;
    const char *met[4], *not_met[4];
};

static const struct bound bounds[] = {
    /* 2 x 50.265 ft2 x 3 gal/min/ft2 are 301.6 gal/min, 0.43429 Mgal/d. */
    {"firm_capacity", PRESSURE, {"/demand/maximum_day=0.4342 Mgal/d"}, {"/demand/maximum_day=0.4344 Mgal/d"}},
    {"pressure_filters_one_out",
     PRESSURE,
     {"/demand/maximum_day=0.4342 Mgal/d"},
     {"/demand/maximum_day=0.4344 Mgal/d"}},
    {"pressure_filter_count", PRESSURE, {"/filters/0/count=2"}, {"/filters/0/count=1"}},
    {"gravity_filter_count", GRAVITY, {"/filters/0/count=2"}, {"/filters/0/count=1"}},
    /* 3 x 12 m2 x 6 m/h are 5184 m3/d. */
    {"gravity_filters_one_out", GRAVITY, {"/demand/maximum_day=5183 m3/d"}, {"/demand/maximum_day=5185 m3/d"}},
    /* 0.65143 Mgal/d through all; there a run of 40 h asks for 1.8 washes of 6,484 gal, 0.01167 Mgal/d. */
    {"capacity_with_wash_water", PRESSURE, {"/demand/maximum_day=0.639 Mgal/d"}, {"/demand/maximum_day=0.641 Mgal/d"}},
    {"pressure_filter_rate",
     PRESSURE,
     {"/filters/0/approved_rate=4 gal/min/ft2"},
     {"/filters/0/approved_rate=4.01 gal/min/ft2"}},
    {"gravity_filter_rate",
     GRAVITY,
     {"/filters/0/approved_rate=4 gal/min/ft2"},
     {"/filters/0/approved_rate=4.01 gal/min/ft2"}},
    {"greensand_rate",
     PRESSURE,
     {"/filters/0/media/1/medium=greensand"},
     {"/filters/0/media/1/medium=greensand", "/filters/0/approved_rate=3.01 gal/min/ft2"}},
    {"iron_pressure_filter_rate",
     PRESSURE,
     {"/filters/0/approved_rate=3 gal/min/ft2"},
     {"/filters/0/approved_rate=3.01 gal/min/ft2"}},
    {"gravity_terminal_head",
     GRAVITY,
     {"/filters/0/available_head=12 ft", "/wash/triggers/differential=10 ft"},
     {"/filters/0/available_head=12 ft", "/wash/triggers/differential=10.1 ft"}},
    {"pressure_terminal_head",
     PRESSURE,
     {"/filters/0/available_head=40 ft", "/wash/triggers/differential=30 ft"},
     {"/filters/0/available_head=40 ft", "/wash/triggers/differential=30.1 ft"}},
    {"anthracite_size", PRESSURE, {"/filters/0/media/0/grain_size=0.8 mm"}, {"/filters/0/media/0/grain_size=0.81 mm"}},
    {"anthracite_cap",
     PRESSURE,
     {"/filters/0/media/1/medium=greensand", "/filters/0/media/0/depth=6 in"},
     {"/filters/0/media/1/medium=greensand", "/filters/0/media/0/depth=5.9 in"}},
    /* 12 in of 0.5 mm are 609.6; the rest of 1000 is 312.3 mm of 0.8 mm. */
    {"depth_over_size", PRESSURE, {"/filters/0/media/0/depth=313 mm"}, {"/filters/0/media/0/depth=312 mm"}},
    {"run_length", PRESSURE, {"/wash/triggers/run_hours=6 h"}, {"/wash/triggers/run_hours=5.9 h"}},
    /* 250 gal/min through 150.8 ft2 are 1.6579 gal/min/ft2: 5,000 gal/ft2 in 50.27 h. */
    {"run_volume", PRESSURE, {"/wash/triggers/run_hours=50.3 h"}, {"/wash/triggers/run_hours=50.2 h"}},
    /* 72 h of that rate are 291.8 m: 2.7 kg/m2 from 9.253 mg/L, were that not stopped by its headloss. */
    {"iron_load",
     PRESSURE,
     {"/raw_water/iron=9.2 mg/L", "/raw_water/suspended_solids=1 mg/L"},
     {"/raw_water/iron=9.3 mg/L", "/raw_water/suspended_solids=1 mg/L"}},
    {"wash_volume", PRESSURE, {"/wash/backwash_rate=20 gal/min/ft2"}, {"/wash/backwash_rate=20.1 gal/min/ft2"}},
    {"wash_volume", PRESSURE, {"/wash/backwash_rate=10 gal/min/ft2"}, {"/wash/backwash_rate=9.9 gal/min/ft2"}},
    /* 3 x 6,484 gal in 5 % of 0.36 Mgal/d: a wash every 25.94 h. */
    {"wash_share", PRESSURE, {"/wash/triggers/run_hours=26 h"}, {"/wash/triggers/run_hours=25.9 h"}},
    /* In 4 %: every 32.42 h. */
    {"wash_share_survey", PRESSURE, {"/wash/triggers/run_hours=32.5 h"}, {"/wash/triggers/run_hours=32.3 h"}},
    {"greensand_wash_rate",
     PRESSURE,
     {"/filters/0/media/1/medium=greensand", "/wash/backwash_rate=10 gal/min/ft2"},
     {"/filters/0/media/1/medium=greensand", "/wash/backwash_rate=10.1 gal/min/ft2"}},
    {"coated_wash_rate", PRESSURE, {"/wash/backwash_rate=15 gal/min/ft2"}, {"/wash/backwash_rate=14.9 gal/min/ft2"}},
    {"wash_rate",
     PRESSURE,
     {"/filters/0/media/1/medium=sand", "/wash/backwash_rate=15 gal/min/ft2"},
     {"/filters/0/media/1/medium=sand", "/wash/backwash_rate=14.9 gal/min/ft2"}},
    {"wash_rate_with_air",
     GRAVITY,
     {"/wash/air_time=4 min", "/wash/backwash_rate=8 gal/min/ft2"},
     {"/wash/air_time=4 min", "/wash/backwash_rate=8.1 gal/min/ft2"}},
    /* At 12 C the law that expands less does so by a half at 21.65 gal/min/ft2 (a regression). */
    {"wash_expansion",
     PRESSURE,
     {"/wash/backwash_rate=21.7 gal/min/ft2", "/wash/backwash_time=5 min"},
     {"/wash/backwash_rate=21.6 gal/min/ft2", "/wash/backwash_time=5 min"}},
    /* 7 min of 15 gal/min/ft2 through 50.265 ft2 are 5,278 gal. */
    {"wash_store",
     PRESSURE,
     {"/wash_water/tank/volume=5280 gal", "/wash/backwash_time=8 min"},
     {"/wash_water/tank/volume=5276 gal", "/wash/backwash_time=8 min"}},
    {"wash_from_others",
     OWN,
     {"/filters/0/count=3", "/wash/backwash_rate=4 gal/min/ft2"},
     {"/filters/0/count=2", "/wash/backwash_rate=2 gal/min/ft2"}},
    /* With one out 2.487 gal/min/ft2 fill 7,200 gal/ft2 in no less than 40 h, called by hours here: two filters, 24 h,
     * a wash every 12 h, 6,032 gal in it are 8.378 gal/min. */
    {"wash_tank_refill",
     PRESSURE,
     {"/wash/triggers/run_hours=24 h", "/wash_water/tank/refill_rate=8.4 gal/min"},
     {"/wash/triggers/run_hours=24 h", "/wash_water/tank/refill_rate=8.3 gal/min"}},
    {"spare_wash",
     PRESSURE, /* twice 6,031.9 gal */
     {"/wash_water/tank/volume=12064 gal"},
     {"/wash_water/tank/volume=12063 gal"}},
    /* Recycle's pump over the least well, while less than its bound. */
    {"recycle_share",
     PRESSURE,
     {"/recycle/max_fraction=10 %"},
     {"/recycle/max_fraction=10.1 %", "/recycle/pump=14 gal/min"}},
    {"recycle_target", PRESSURE, {"/recycle/pump=6.75 gal/min"}, {"/recycle/pump=6.8 gal/min"}},
    {"settling_before_recycle", PRESSURE, {"/spent_wash/settling/time=4 h"}, {"/spent_wash/settling/time=3.9 h"}},
    {"recycle_in_design_flow",
     PRESSURE, /* three wells of 135 and 13.5 gal/min */
     {"/approved_capacity=418.5 gal/min"},
     {"/approved_capacity=418 gal/min"}},
    {"other_outlet",
     PRESSURE,
     {"/spent_wash/outlets=[{\"kind\": \"recycle\"}, {\"kind\": \"sewer\", \"rate\": \"10 gal/min\"}]"},
     {"/recycle/pump=13 gal/min"}},
    {"two_washes_held",
     PRESSURE, /* 2 x 50.265 ft2 x 300 gal/ft2 are 30,159 gal */
     {"/filters/0/count=2", "/spent_wash/tanks/0/volume=15080 gal", "/spent_wash/tanks/1/volume=15080 gal"},
     {"/filters/0/count=2", "/spent_wash/tanks/0/volume=15079 gal", "/spent_wash/tanks/1/volume=15079 gal"}},
};

/* The state of a row in a scenario with at most three settings, of its first group. */
static enum wr_review_state state_of(const char *key, const char *scenario, const char *const *changes, double *found)
{
    struct plant_case c;
    struct wr_plant plant;
    struct wr_review review;
    enum wr_review_state state = WR_REVIEW_STATES;
    /* Alder Fork with room for any wash that is tried. */
    const char *settings[6] = {"/wash_water/tank/volume=20000 gal", "/spent_wash/tanks/0/volume=20000 gal"};
    const bool is_roomy = strcmp(scenario, PRESSURE) == 0;
    for (size_t i = 0; changes[i] != NULL; i++)
        settings[i + 2] = changes[i];
    plant_case_read(&c, scenario, is_roomy ? settings : changes);
    check_count(wr_plant_init(&plant, &c.reading.definition), WR_OK, key);
    wr_review_make(&review, &plant);
    for (size_t i = review.count; i-- > 0;)
        if (strcmp(review.lines[i].row->key, key) == 0) {
            state = review.lines[i].state;
            *found = review.lines[i].found;
        }
    wr_review_fini(&review);
    wr_plant_fini(&plant);
    plant_case_fini(&c);
    return state;
}

static void each_row_is_met_at_its_bound_and_not_beyond(void **state)
{
    (void)state;
    double found;
    for (size_t i = 0; i < sizeof bounds / sizeof *bounds; i++) {
        const struct bound *b = &bounds[i];
        check_text(wr_review_state_key(state_of(b->key, b->scenario, b->met, &found)), "met", b->key);
        check_text(wr_review_state_key(state_of(b->key, b->scenario, b->not_met, &found)), "not_met", b->key);
    }
}

/* Rows without a bound to try: what they ask is not in a scenario. And rows that go with others. */
static const char *const no_bound[] = {"air_scour",       "detention",     "chlorine_and_ammonia",
                                       "finished_water",  "drying_filter", "recycle_approved",
                                       "recycle_records", "direct_draw",   "inflow_over_wash"};

static void every_row_is_tried(void **state)
{
    (void)state;
    const struct wr_guidance *row;
    for (size_t r = 0; (row = wr_guidance_at(r)) != NULL; r++) {
        bool tried = false;
        for (size_t i = 0; i < sizeof bounds / sizeof *bounds; i++)
            tried = tried || strcmp(bounds[i].key, row->key) == 0;
        for (size_t i = 0; i < sizeof no_bound / sizeof *no_bound; i++)
            tried = tried || strcmp(no_bound[i], row->key) == 0;
        check_true(tried, row->key);
        check_true(strlen(row->source) > 0 && strlen(row->plants) > 0, row->key);
    }
}

/* Six filters that wash each other, at 3 gal/min/ft2: five give 15 gal/min/ft2 of one. UFC 3-280-04, 8-3.2.2. */
static void a_draw_from_filtrate(void **state)
{
    (void)state;
    double found;
    const char *const none[] = {NULL};
    check_text(wr_review_state_key(state_of("direct_draw", PRESSURE, none, &found)), "not_applicable", "from a tank");
    check_text(wr_review_state_key(state_of("inflow_over_wash", PRESSURE, none, &found)), "not_applicable",
               "from a tank");
    check_true(state_of("direct_draw", OWN, none, &found) <= WR_REVIEW_MET, "from the filters");
    check_true(found > 0 && found <= 1, "what a self-washing plant draws is no more than its filters give");
    check_true(state_of("inflow_over_wash", OWN, none, &found) <= WR_REVIEW_MET, "from the filters");
}

struct scope {
    const char *key, *scenario, *change, *expected;
};

static const struct scope scopes[] = {
    {"greensand_rate", PRESSURE, NULL, "not_applicable"}, /* its sand is coated, and no greensand */
    {"greensand_rate", PRESSURE, "/filters/0/media/1/medium=greensand", "met"},
    {"greensand_rate", PRESSURE, "/filters/0/media/1/medium=sand", "not_applicable"},
    {"greensand_wash_rate", PRESSURE, NULL, "not_applicable"},
    {"coated_wash_rate", PRESSURE, NULL, "not_met"}, /* 12 gal/min/ft2 */
    {"coated_wash_rate", PRESSURE, "/filters/0/media/1/medium=greensand", "not_applicable"},
    {"wash_rate", PRESSURE, NULL, "not_applicable"}, /* its medium has a rate of its own */
    {"anthracite_size", PRESSURE, "/filters/0/media/0/medium=sand", "not_applicable"},
    {"pressure_filter_rate", GRAVITY, NULL, "not_applicable"},
    {"pressure_filter_count", GRAVITY, NULL, "not_applicable"},
    {"gravity_filter_rate", PRESSURE, NULL, "not_applicable"},
    {"recycle_share", GRAVITY, NULL, "not_applicable"}, /* to the sewer */
    {"wash_tank_refill", GRAVITY, NULL, "not_applicable"},
    {"two_washes_held", PRESSURE, NULL, "not_applicable"}, /* three filters */
    {"air_scour", PRESSURE, NULL, "not_applicable"},
    {"air_scour", GRAVITY, "/wash/air_time=4 min", "not_told"},
    {"detention", PRESSURE, NULL, "not_told"},
    {"finished_water", PRESSURE, NULL, "not_told"},
    {"chlorine_and_ammonia", PRESSURE, NULL, "not_told"},
    {"chlorine_and_ammonia", PRESSURE, "/filters/0/media/1/medium=sand", "not_applicable"},
    {"recycle_approved", PRESSURE, NULL, "not_told"},
    {"recycle_records", GRAVITY, NULL, "not_applicable"},
    {"drying_filter", PRESSURE, NULL, "not_applicable"},
    {"run_volume", WR_ROOT "/scenarios/iron-three.json", NULL, "not_met"}, /* its runs are short */
    {"run_volume", WR_ROOT "/scenarios/iron-four.json", NULL, "not_met"},
    {"run_length", WR_ROOT "/scenarios/iron-four.json", NULL, "met"},
};

static void rows_speak_to_their_kind_of_plant(void **state)
{
    (void)state;
    double found;
    for (size_t i = 0; i < sizeof scopes / sizeof *scopes; i++) {
        const char *const changes[] = {scopes[i].change, NULL};
        check_text(wr_review_state_key(state_of(scopes[i].key, scopes[i].scenario, changes, &found)),
                   scopes[i].expected, scopes[i].key);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_row_is_met_at_its_bound_and_not_beyond),
        cmocka_unit_test(every_row_is_tried),
        cmocka_unit_test(a_draw_from_filtrate),
        cmocka_unit_test(rows_speak_to_their_kind_of_plant),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
