/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One plant described in two ways gives one answer, and a plant twice the size gives twice the water at the same times.
 *
 * No figure is expected here but that of the other description. Answers are compared as the document that the program
 * prints, byte by byte, where both runs take the same steps, and within rounding where they do not. */
#include "sim/report/report.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#define THREE WR_ROOT "/scenarios/pressure-three.json"
#define FOUR WR_ROOT "/scenarios/pressure-four.json"

/* More demand than the town has and slow settling, so that wells step and filters wait. */
#define BUSY "/demand/maximum_day=0.52 Mgal/d", "/spent_wash/settling/time=30 h", "/horizon=40 d"

/* Whether two descriptions of a plant take the same steps, or round differently on the way. */
enum likeness { SAME_BYTES, SAME_WITHIN_ROUNDING };

static const double time_tolerance = 1e-3; /* s over a month: rounding of 1e-9 */

/* The answers of a run as text, without the scenario's name and without ability, which lists the rules given. */
static char *answers_text(const struct plant_case *c)
{
    const struct wr_subject subject = {.definition = &c->reading.definition};
    struct cJSON *document = wr_report_run_document(&subject, &c->run);
    cJSON_DeleteItemFromObject(document, "scenario");
    cJSON_DeleteItemFromObject(document, "derived");
    cJSON_DeleteItemFromObject(cJSON_GetObjectItem(cJSON_GetObjectItem(document, "answers"), "wash_balance"),
                               "ability");
    char *text = cJSON_Print(document);
    cJSON_Delete(document);
    return text;
}

static void check_same_bytes(const struct plant_case *a, const struct plant_case *b)
{
    char *text = answers_text(a), *other = answers_text(b);
    check_text(other, text, "answers of the other description, byte by byte");
    free(text);
    free(other);
}

/* Each wash of one filter in one run beside that of a filter in the other. */
static void check_same_washes(const struct plant_case *a, size_t filter, const struct plant_case *b, size_t other)
{
    const size_t washes = a->run.record.filters[filter].washes;
    check_count(b->run.record.filters[other].washes, washes, "washes of the filter");
    for (size_t n = 0; n < washes; n++) {
        const struct wr_wash_record *wash = plant_case_wash(a, filter, n), *same = plant_case_wash(b, other, n);
        check(same->called_at, wash->called_at, time_tolerance, "call, s");
        check(same->started_at, wash->started_at, time_tolerance, "start, s");
        check_count(same->trigger, wash->trigger, "what called");
        check(same->load, wash->load, 1e-7, "load, kg/m2");
    }
}

static void check_same_balance(const struct plant_case *a, const struct plant_case *b)
{
    const struct wr_wash_balance *one = &a->run.record.balance, *other = &b->run.record.balance;
    check_count(other->grade, one->grade, "grade");
    check_count(other->washes, one->washes, "washes");
    check_count(other->washes_that_waited, one->washes_that_waited, "washes that waited");
    check_count(other->most_waiting_together, one->most_waiting_together, "most waiting together");
    check(other->total_wait, one->total_wait, 0.1, "wait, s");
    check(other->extra_load, one->extra_load, 1e-7, "extra load, share");
    check(other->worst_reserve_used, one->worst_reserve_used, 1e-7, "reserve used, share");
}

/* Runs one plant in two ways; filters stand in the same places. */
static void check_alike(const char *path, const char *const *settings, const char *other_path,
                        const char *const *other_settings, enum likeness likeness)
{
    struct plant_case a, b;
    plant_case_run(&a, path, settings);
    plant_case_run(&b, other_path, other_settings);
    check_true(a.run.record.balance.washes > 0, "some washes, for the comparison to be of something");
    check_same_balance(&a, &b);
    check_count(b.run.plant.filter_count, a.run.plant.filter_count, "filters");
    for (size_t f = 0; f < a.run.plant.filter_count; f++)
        check_same_washes(&a, f, &b, f);
    if (likeness == SAME_BYTES)
        check_same_bytes(&a, &b);
    plant_case_fini(&a);
    plant_case_fini(&b);
}

static void renumbered_filters(void **state)
{
    (void)state;
    static const size_t places[3] = {1, 2, 0};
    struct plant_case a, b;
    plant_case_run(
        &a, THREE,
        SETTINGS(BUSY, "/start_beds={\"how\":\"given\"}", "/filters/0/start_shares=[\"11 %\", \"48 %\", \"79 %\"]"));
    plant_case_run(
        &b, THREE,
        SETTINGS(BUSY, "/start_beds={\"how\":\"given\"}", "/filters/0/start_shares=[\"79 %\", \"11 %\", \"48 %\"]"));
    check_true(a.run.record.balance.washes_that_waited > 0, "some washes wait");
    check_same_balance(&a, &b);
    for (size_t f = 0; f < 3; f++)
        check_same_washes(&a, f, &b, places[f]);
    plant_case_fini(&a);
    plant_case_fini(&b);
}

/* The third filter of Alder Fork as a group of its own. */
#define GROUP_OF_ONE                                                                                                   \
    "/filters/0/count=2",                                                                                              \
        "/filters/1={\"name\":\"Filter \",\"count\":1,\"diameter\":\"8 ft\",\"media\":["                               \
        "{\"medium\":\"anthracite\",\"depth\":\"18 in\",\"grain_size\":\"0.8 mm\"},"                                   \
        "{\"medium\":\"manganese-coated sand\",\"depth\":\"12 in\",\"grain_size\":\"0.5 mm\"},"                        \
        "{\"medium\":\"gravel\",\"depth\":\"6 in\",\"grain_size\":\"3 mm\"}],"                                         \
        "\"approved_rate\":\"3 gal/min/ft2\",\"available_head\":\"12 psi\",\"deposit\":{\"observed_run\":{"            \
        "\"clean_differential\":\"2.2 psi\",\"dirty_differential\":\"8 psi\",\"rate\":\"3 gal/min/ft2\","              \
        "\"hours\":\"40 h\"}}}"

static double firm_of(const char *const *settings)
{
    static struct wr_firm firm;
    struct plant_case c;
    plant_case_read(&c, THREE, settings);
    wr_firm_make(&firm, &c.reading.definition, NULL);
    check_count(firm.end, WR_RUN_WHOLE, "end of the search");
    const double answer = firm.one_out.firm;
    wr_firm_fini(&firm);
    plant_case_fini(&c);
    return answer;
}

static void three_alike_and_groups_of_two_and_one(void **state)
{
    (void)state;
    check_alike(THREE, SETTINGS(BUSY), THREE, SETTINGS(BUSY, GROUP_OF_ONE), SAME_WITHIN_ROUNDING);
    check_share(firm_of(SETTINGS(GROUP_OF_ONE)), firm_of(NULL), 2e-5, "firm capacity, m3/s: within two brackets");
}

/* Seven days later everything stands as it did, weekdays and hours too; and not a day later. */
static void a_week_later(void **state)
{
    (void)state;
    static const char *const names[] = {"pressure-three", "gravity-day-shift", "gravity-night", "gravity-urgent"};
    char path[256];
    for (size_t n = 0; n < 4; n++) {
        snprintf(path, sizeof path, "%s/scenarios/%s.json", WR_ROOT, names[n]);
        check_alike(path, NULL, path, SETTINGS("/start=2026-01-12"), SAME_BYTES);
    }
    struct plant_case a, b;
    plant_case_run(&a, WR_ROOT "/scenarios/gravity-day-shift.json", NULL);
    plant_case_run(&b, WR_ROOT "/scenarios/gravity-day-shift.json", SETTINGS("/start=2026-01-06"));
    check_true(fabs(a.run.record.balance.total_wait - b.run.record.balance.total_wait) > HOUR, "a day matters");
    plant_case_fini(&a);
    plant_case_fini(&b);
}

/* Areas, flows and volumes doubled: rates, runs and times stay, water doubles. */
static void twice_the_size(void **state)
{
    (void)state;
    struct plant_case a, b;
    char diameter[64];
    snprintf(diameter, sizeof diameter, "/filters/0/diameter=%.17g ft", 8 * sqrt(2));
    plant_case_run(&a, THREE, SETTINGS(BUSY));
    plant_case_run(&b, THREE,
                   SETTINGS(BUSY, "/demand/maximum_day=1.04 Mgal/d", diameter, "/storage/volume=500000 gal",
                            "/wells/0/flow=270 gal/min", "/wells/1/flow=270 gal/min", "/wells/2/flow=270 gal/min",
                            "/wash_water/tank/volume=18000 gal", "/wash_water/tank/refill_rate=120 gal/min",
                            "/spent_wash/tanks/0/volume=18000 gal", "/spent_wash/tanks/1/volume=18000 gal",
                            "/recycle/pump=27 gal/min"));
    check_same_balance(&a, &b);
    for (size_t f = 0; f < 3; f++)
        check_same_washes(&a, f, &b, f);
    static const enum wr_line lines[] = {WR_LINE_RAW,   WR_LINE_EFFLUENT, WR_LINE_DELIVERED, WR_LINE_BACKWASH,
                                         WR_LINE_RINSE, WR_LINE_RECYCLE,  WR_LINE_SLUDGE};
    for (size_t l = 0; l < sizeof lines / sizeof *lines; l++)
        check_share(plant_case_water(&b, lines[l]), 2 * plant_case_water(&a, lines[l]), 1e-8, "water of a line, m3");
    plant_case_fini(&a);
    plant_case_fini(&b);
}

static void equal_factors_are_none(void **state)
{
    (void)state;
    static const char ones[] = "/demand/hourly_factors=[1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1]";
    static const char others[] =
        "/demand/hourly_factors=[7,7,7,7,7,7,7,7,7,7,7,7,7,7,7,7,7,7,7,7,7,7,7,7]"; /* normalised to mean 1 */
#define CHECKED "/storage/volume=500 m3", "/filters/0/count=3", "/start_beds/how=spread", "/horizon=20 d"
    check_alike(PLANT_PLAIN, SETTINGS(CHECKED), PLANT_PLAIN, SETTINGS(CHECKED, ones), SAME_BYTES);
    check_alike(PLANT_PLAIN, SETTINGS(CHECKED), PLANT_PLAIN, SETTINGS(CHECKED, others), SAME_WITHIN_ROUNDING);
}

/* The plain plant once more, with each quantity in another unit. */
static void us_and_si(void **state)
{
    (void)state;
    struct plant_case a, b;
    char flow[128], area[128], volume[128], demand[128], rate[128], head[128], backwash[128], refill[128], tank[128],
        clean[128], dirty[128], observed[128], temperature[128];
    const double foot = 0.3048, gallon = 3.785411784e-3, psi = 6894.757293168361 / (1000 * 9.80665);
    const double gal_min = gallon / 60, gal_min_ft2 = gal_min / (foot * foot);
    snprintf(flow, sizeof flow, "/wells/0/flow=%.17g gal/min", 40.0 / 3600 / gal_min);
    snprintf(area, sizeof area, "/filters/0/area=%.17g ft2", 10 / (foot * foot));
    snprintf(volume, sizeof volume, "/storage/volume=%.17g gal", 100000 / gallon);
    snprintf(demand, sizeof demand, "/demand/maximum_day=%.17g gal/d", 960 / gallon);
    snprintf(rate, sizeof rate, "/filters/0/approved_rate=%.17g gal/min/ft2", 6.0 / 3600 / gal_min_ft2);
    snprintf(head, sizeof head, "/filters/0/available_head=%.17g ft", 5 / foot);
    snprintf(backwash, sizeof backwash, "/wash/backwash_rate=%.17g gal/min/ft2", 30.0 / 3600 / gal_min_ft2);
    snprintf(refill, sizeof refill, "/wash_water/tank/refill_rate=%.17g gal/min", 10.0 / 3600 / gal_min);
    snprintf(tank, sizeof tank, "/wash_water/tank/volume=%.17g gal", 1000 / gallon);
    snprintf(clean, sizeof clean, "/filters/0/deposit/observed_run/clean_differential=%.17g psi", 0.6 / psi);
    snprintf(dirty, sizeof dirty, "/filters/0/deposit/observed_run/dirty_differential=%.17g psi", 2.6 / psi);
    snprintf(observed, sizeof observed, "/filters/0/deposit/observed_run/rate=%.17g gal/min/ft2",
             6.0 / 3600 / gal_min_ft2);
    snprintf(temperature, sizeof temperature, "/raw_water/temperature=%.17g degF", 12 * 1.8 + 32);
#define WATCHED "/start_beds/how=spread", "/wash/triggers={\"differential\":\"1.2 m\",\"run_hours\":\"40 h\"}"
    plant_case_run(&a, PLANT_PLAIN, SETTINGS(WATCHED, "/horizon=20 d"));
    plant_case_run(&b, PLANT_PLAIN,
                   SETTINGS(WATCHED, "/units=us", "/horizon=480 h", flow, area, volume, demand, rate, head, backwash,
                            refill, tank, clean, dirty, observed, temperature));
    check_true(a.run.record.balance.washes > 20, "washes");
    check_same_balance(&a, &b);
    for (size_t f = 0; f < 2; f++)
        for (size_t n = 0; n < a.run.record.filters[f].washes; n++) {
            const struct wr_wash_record *wash = plant_case_wash(&a, f, n), *same = plant_case_wash(&b, f, n);
            check_share(same->started_at, wash->started_at, 1e-9, "start, s");
            check_share(same->load, wash->load, 1e-9, "load, kg/m2");
            check_share(same->differential, wash->differential, 1e-9, "differential, m");
        }
    for (int line = WR_LINE_RAW; line <= WR_LINE_RINSE; line++)
        check_share(plant_case_water(&b, (enum wr_line)line), plant_case_water(&a, (enum wr_line)line), 1e-9,
                    "water of a line, m3");
    plant_case_fini(&a);
    plant_case_fini(&b);
}

static void a_limit_that_never_holds(void **state)
{
    (void)state;
    static const char *const idle[] = {
        "/wash/max_simultaneous=3",
        "/wash/min_between_starts=1 s",
        "/wash/min_filters_in_service=0",
        "/wash/storage_lockout=1 %",
        "/wash/window=[{\"days\":\"every_day\",\"from\":\"00:00\",\"until\":\"24:00\"}]",
        "/wash/triggers/urgent_differential=11.9 psi",
        "/wash_water/max_flow=100000 gal/min",
        "/spent_wash/outlets/0/daily_volume=1 Mgal",
        "/spent_wash/outlets/0/hours=[{\"days\":\"every_day\",\"from\":\"00:00\",\"until\":\"24:00\"}]",
        "/approved_capacity=100000 gal/min",
        "/wells/0/minimum_rest=1 s",
    };
    for (size_t i = 0; i < sizeof idle / sizeof *idle; i++) {
        print_message("    %s\n", idle[i]);
        check_alike(THREE, SETTINGS("/horizon=60 d"), THREE, SETTINGS("/horizon=60 d", idle[i]), SAME_BYTES);
    }
}

static void a_filter_out_throughout_is_no_filter(void **state)
{
    (void)state;
    struct plant_case a, b;
    plant_case_run(&a, THREE, SETTINGS(BUSY));
    plant_case_run(&b, FOUR, SETTINGS(BUSY, "/outages=[{\"unit\":\"Filter 4\",\"from\":\"2026-01-05\"}]"));
    check_same_balance(&a, &b);
    for (size_t f = 0; f < 3; f++)
        check_same_washes(&a, f, &b, f);
    check_count(b.run.record.filters[3].washes, 0, "washes of the filter that is out");
    for (int line = WR_LINE_RAW; line < WR_LINE_KINDS; line++)
        check(plant_case_water(&b, (enum wr_line)line), plant_case_water(&a, (enum wr_line)line), 0,
              "water of a line, m3: to the last bit");
    plant_case_fini(&a);
    plant_case_fini(&b);
}

/* Wash water returned unsettled and nothing to the sewer: what the wells bring stays in beds and tank. */
static void a_closed_loop_keeps_its_manganese(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, WR_ROOT "/scenarios/small-unsettled.json", SETTINGS("/horizon=30 d"));
    const struct wr_state *s = plant_case_state(&c);
    const struct wr_plant *plant = &c.run.plant;
    const double raw = wr_ledger_line(plant, s, WR_LINE_RAW, 0)->mass[WR_MANGANESE];
    const double beds = wr_ledger_stock(plant, s, WR_ACCOUNT_BEDS).mass[WR_MANGANESE];
    const double tank = wr_ledger_stock(plant, s, WR_ACCOUNT_TANKS).mass[WR_MANGANESE];
    check_share(raw, plant_case_water(&c, WR_LINE_RAW) * 0.12e-3, 1e-9, "manganese in, kg: 0.12 mg/L of the water");
    check_share(beds + tank, raw, 1e-6, "manganese in beds and tank, kg: all of it");
    check_true(beds > 0 && tank > 0, "in both");
    check(plant_case_water(&c, WR_LINE_TO_SEWER) + plant_case_water(&c, WR_LINE_SLUDGE), 0, 0, "water lost, m3");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(renumbered_filters),
        cmocka_unit_test(three_alike_and_groups_of_two_and_one),
        cmocka_unit_test(a_week_later),
        cmocka_unit_test(twice_the_size),
        cmocka_unit_test(equal_factors_are_none),
        cmocka_unit_test(us_and_si),
        cmocka_unit_test(a_limit_that_never_holds),
        cmocka_unit_test(a_filter_out_throughout_is_no_filter),
        cmocka_unit_test(a_closed_loop_keeps_its_manganese),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
