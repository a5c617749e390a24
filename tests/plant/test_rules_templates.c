/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each sequence of a wash, with water from each source and spent wash to each way out: what it draws, sends away and
 * passes on, how long the filter is off line, and that the filter is as full as before and the books close.
 *
 * Two filters of 10 m2 are washed once each, at 10 and 20 h. Common to all: valves 1 min, three times; backwash 30 m3/h
 * for 10 min in ramps of 2 min, so 12 min and 5 m3; 2 min still; rinse 30 m3/h for 3 min, 1.5 m3. Drained and
 * filtered-down water comes back at half the backwash rate, 15 m3/h. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>
#include <stdio.h>

static const double exact = 1e-6; /* s */
static const double close = 1e-9; /* m3 */

struct sequence {
    const char *wash;                         /* template and what is its own */
    double drained, down, filled, regenerant; /* m3 */
    double first_water;                       /* min from the start of the wash to its first spent wash */
    double off_line;                          /* min */
};

enum { SEQUENCES = 4, SOURCES = 5, WAYS = 4 };

static const double backwash = 5, rinse = 1.5; /* m3 */

#define COMMON                                                                                                         \
    "\"triggers\":{\"run_hours\":\"20 h\"},\"backwash_rate\":\"3 m/h\",\"backwash_time\":\"10 "                        \
    "min\",\"ramp_time\":\"2 min\","                                                                                   \
    "\"valve_travel\":\"1 min\",\"bed_settle\":\"2 min\",\"rinse_rate\":\"3 m/h\",\"rinse_time\":\"3 min\""
#define AIR "\"drain_depth\":\"0.6 m\",\"drain_time\":\"6 min\",\"air_time\":\"4 min\""
#define DOWN "\"filter_down_depth\":\"0.3 m\",\"filter_down_time\":\"5 min\""
#define REGENERANT "\"regenerant_depth\":\"0.2 m3/m2\",\"regenerate_time\":\"8 min\""

static const struct sequence sequences[SEQUENCES] = {
    {"/wash={" COMMON ",\"template\":\"pressure\"}", 0, 0, 0, 0, 1, 3 + 12 + 2 + 3},
    {"/wash={" COMMON ",\"template\":\"pressure_air\"," AIR "}", 6, 0, 6, 0, 1, 3 + 6 + 4 + 24 + 12 + 2 + 3},
    {"/wash={" COMMON ",\"template\":\"gravity\"," AIR "," DOWN "}", 6, 3, 9, 0, 1 + 5,
     3 + 5 + 6 + 4 + 12 + 2 + 36 + 3},
    {"/wash={" COMMON ",\"template\":\"batch_regeneration\"," REGENERANT "}", 0, 0, 0, 2, 1, 3 + 12 + 2 + 8 + 3},
};

static const struct source {
    const char *settings;
    bool from_header; /* raw water, or what the filters have made: it does not come out of a stock */
    bool raw;
} sources[SOURCES] = {
    {"/wash_water={\"tank\":{\"volume\":\"1000 m3\",\"refill_rate\":\"10 m3/h\"}}", false, false},
    {"/wash_water={\"source\":\"storage\"}", false, false},
    {"/wash_water={\"source\":\"filters\"}", true, false},
    {"/wash_water={\"source\":\"wells\"}", true, true},
    {"/wash_water={\"source\":\"system\",\"draw_limit\":\"30 m3/h\"}", false, false},
};

static const struct way {
    const char *kind;
    enum wr_line line;
} ways[WAYS] = {
    {"recycle", WR_LINE_RECYCLE}, {"sewer", WR_LINE_TO_SEWER}, {"pond", WR_LINE_TO_POND}, {"haul", WR_LINE_TO_HAUL}};

static void run_sequence(struct plant_case *c, const struct sequence *s, const struct source *from, const char *spent)
{
    plant_case_run(c, PLANT_PLAIN,
                   SETTINGS(s->wash, from->settings, spent, "/start_beds/how=given",
                            "/filters/0/start_shares=[\"50 %\", \"0 %\"]", "/recycle={\"pump\":\"4 m3/h\"}",
                            "/horizon=23 h"));
}

/* What is the same wherever the spent wash goes. */
static void check_sequence(const struct plant_case *c, const struct sequence *s, const struct source *from)
{
    const double wash = backwash + s->filled + s->regenerant;
    const struct wr_group *g = &c->run.plant.groups[0];
    check(g->wash_volume, wash, close, "wash water of one wash, m3: backwash, fill and regenerant");
    check(g->room, s->drained + backwash + rinse, close, "room of one wash, m3: drained, backwash and rinse");
    check(g->off_line, s->off_line * MINUTE, exact, "time off line as planned, s: its steps");
    for (size_t f = 0; f < 2; f++) {
        const struct wr_wash_record *w = plant_case_wash(c, f, 0);
        check(w->started_at, (f == 0 ? 10 : 20) * HOUR, exact, "start of a wash, s: 20 h of run, half of it used");
        check(w->ended_at - w->started_at, s->off_line * MINUTE, exact, "time off line, s: its steps");
        check(plant_case_filter(c, f)->water, 0, 0, "water in the filter, m3: as full as before");
    }
    check(plant_case_water(c, WR_LINE_FILL), 2 * s->filled, close, "wash water into drained filters, m3");
    check(plant_case_water(c, WR_LINE_DOWN), 2 * s->down, close, "water filtered down into storage, m3");
    check(plant_case_water(c, WR_LINE_DRAINED), 2 * s->drained, close, "water drained to spent wash, m3");
    check(plant_case_water(c, WR_LINE_BACKWASH), 2 * (backwash + s->regenerant), close, "backwash and regenerant, m3");
    check(plant_case_water(c, WR_LINE_RINSE), 2 * rinse, close, "rinse, m3");
    check(plant_case_water(c, WR_LINE_RAW), 40 * 23, close, "raw water, m3: the well never stops");
    check(plant_case_water(c, WR_LINE_EFFLUENT) + plant_case_water(c, WR_LINE_REFILL),
          40 * 23 + plant_case_water(c, WR_LINE_RECYCLE) - 2 * rinse - (from->from_header ? 2 * wash : 0), close,
          "what the filters made, m3: raw water and recycle less rinses, and less washes out of the header");
    check_between(c->run.books.water_error_share, 0, 1e-12, "error of the books of water, share");
    check_between(c->run.books.solids_error_share, 0, 1e-9, "error of the books of solids, share");
    check_true(plant_case_finding(c, WR_FINDING_WASH_SHORT) == NULL, "every wash has its whole water");
    check_true(plant_case_finding(c, WR_FINDING_RINSE_SHORT) == NULL, "every rinse has its rate");
}

static bool may_go_there(const struct sequence *s, const struct way *way)
{
    return s->regenerant <= 0 || way->line != WR_LINE_RECYCLE;
}

/* Without tanks all goes to the sewer as it comes. */
static void straight_to_the_sewer(void **state)
{
    (void)state;
    for (int s = 0; s < SEQUENCES; s++)
        for (int from = 0; from < SOURCES; from++) {
            struct plant_case c;
            run_sequence(&c, &sequences[s], &sources[from], "/spent_wash={}");
            check_sequence(&c, &sequences[s], &sources[from]);
            plant_case_fini(&c);
        }
}

/* A tank that does not settle empties at 4 m3/h from the first water of a wash on, and is dry before the second wash.
 */
static void through_a_tank_that_does_not_settle(void **state)
{
    (void)state;
    for (int s = 0; s < SEQUENCES; s++)
        for (int from = 0; from < SOURCES; from++)
            for (int way = 0; way < WAYS; way++) {
                char spent[256];
                struct plant_case c;
                if (!may_go_there(&sequences[s], &ways[way]))
                    continue;
                snprintf(spent, sizeof spent,
                         "/spent_wash={\"tanks\":[{\"volume\":\"30 m3\"}],\"settling\":{\"law\":\"none\"},"
                         "\"outlets\":[{\"kind\":\"%s\"%s}]}",
                         ways[way].kind, way == 0 ? "" : ",\"rate\":\"4 m3/h\"");
                run_sequence(&c, &sequences[s], &sources[from], spent);
                check_sequence(&c, &sequences[s], &sources[from]);
                const double room = sequences[s].drained + backwash + rinse;
                const double second = fmin(room, 4 * (3 - sequences[s].first_water / 60));
                check(plant_case_water(&c, ways[way].line), room + second, close,
                      "water out, m3: one wash, and of the other 4 m3/h since its first water, or all");
                plant_case_fini(&c);
            }
}

/* A tank that settles for 2 h from 2 h after the wash gives 85 % of it before the next. */
static void through_a_tank_that_settles(void **state)
{
    (void)state;
    for (int s = 0; s < SEQUENCES; s++)
        for (int from = 0; from < SOURCES; from++)
            for (int way = 0; way < WAYS; way++) {
                char spent[256];
                struct plant_case c;
                if (!may_go_there(&sequences[s], &ways[way]))
                    continue;
                snprintf(spent, sizeof spent,
                         "/spent_wash={\"tanks\":[{\"volume\":\"30 m3\"}],\"settling\":{\"law\":\"clock\",\"time\":"
                         "\"2 h\"},\"outlets\":[{\"kind\":\"%s\"%s}]}",
                         ways[way].kind, way == 0 ? "" : ",\"rate\":\"4 m3/h\"");
                run_sequence(&c, &sequences[s], &sources[from], spent);
                check_sequence(&c, &sequences[s], &sources[from]);
                const double room = sequences[s].drained + backwash + rinse;
                const double settled = 10 * HOUR + sequences[s].off_line * MINUTE + 4 * HOUR;
                check(plant_case_water(&c, ways[way].line), 0.85 * room, close, "clear water out, m3");
                check(plant_case_water(&c, WR_LINE_SLUDGE), 0.15 * room, close, "sludge, m3");
                check(plant_case_time(&c, WR_EVENT_TANK_SETTLED, 0, 0), settled, exact, "settled, s: 2 h and 2 h");
                check(plant_case_time(&c, WR_EVENT_TANK_EMPTIED, 0, 0), settled + 0.85 * room / 4 * HOUR, exact,
                      "emptied, s: at 4 m3/h");
                plant_case_fini(&c);
            }
}

/* The steps of each sequence, in their order. */
static void steps_in_their_order(void **state)
{
    (void)state;
    static const enum wr_step_kind steps[SEQUENCES][WR_STEPS] = {
        {WR_STEP_SHUT, WR_STEP_SLOW_START, WR_STEP_BACKWASH, WR_STEP_SLOW_STOP, WR_STEP_BED_SETTLE, WR_STEP_TURN_VALVES,
         WR_STEP_RINSE, WR_STEP_RETURN},
        {WR_STEP_SHUT, WR_STEP_DRAIN, WR_STEP_AIR, WR_STEP_FILL, WR_STEP_SLOW_START, WR_STEP_BACKWASH,
         WR_STEP_SLOW_STOP, WR_STEP_BED_SETTLE, WR_STEP_TURN_VALVES, WR_STEP_RINSE, WR_STEP_RETURN},
        {WR_STEP_SHUT, WR_STEP_FILTER_DOWN, WR_STEP_DRAIN, WR_STEP_AIR, WR_STEP_SLOW_START, WR_STEP_BACKWASH,
         WR_STEP_SLOW_STOP, WR_STEP_BED_SETTLE, WR_STEP_REFILL, WR_STEP_TURN_VALVES, WR_STEP_RINSE, WR_STEP_RETURN},
        {WR_STEP_SHUT, WR_STEP_SLOW_START, WR_STEP_BACKWASH, WR_STEP_SLOW_STOP, WR_STEP_BED_SETTLE, WR_STEP_REGENERATE,
         WR_STEP_TURN_VALVES, WR_STEP_RINSE, WR_STEP_RETURN},
    };
    static const size_t counts[SEQUENCES] = {8, 11, 12, 9};
    for (int s = 0; s < SEQUENCES; s++) {
        struct plant_case c;
        run_sequence(&c, &sequences[s], &sources[0], "/spent_wash={}");
        const struct wr_group *g = &c.run.plant.groups[0];
        check_count(g->step_count, counts[s], "steps");
        for (size_t i = 0; i < g->step_count && i < counts[s]; i++)
            check_count(g->steps[i].kind, steps[s][i], "kind of a step");
        check_true(g->air == (s == 1 || s == 2), "the blower serves those with air");
        plant_case_fini(&c);
    }
}

/* While a gravity filter filters down its own water goes into storage beside the other filter's. */
static void filtered_down_water_is_made_water(void **state)
{
    (void)state;
    struct plant_case c;
    run_sequence(&c, &sequences[2], &sources[1], "/spent_wash={}");
    const struct plant_sample *down = plant_case_at(&c, 10 * HOUR + 3 * MINUTE);
    check(down->flows.service, 40 / 3600.0, 1e-15, "service then, m3/s: all raw water through the other filter");
    check(down->flows.down, 36 / 3600.0, 1e-15, "filtered down, m3/s: 3 m3 in 5 min");
    check(down->flows.to_storage, 76 / 3600.0, 1e-15, "to storage, m3/s: both");
    const struct plant_sample *wash = plant_case_at(&c, 10 * HOUR + 20 * MINUTE);
    check(wash->flows.to_storage, 10 / 3600.0, 1e-15, "to storage in the backwash, m3/s: what it draws is gone");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(straight_to_the_sewer),
        cmocka_unit_test(through_a_tank_that_does_not_settle),
        cmocka_unit_test(through_a_tank_that_settles),
        cmocka_unit_test(steps_in_their_order),
        cmocka_unit_test(filtered_down_water_is_made_water),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
