/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The books close on every shipped scenario, and do not when one booking is lost. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <stdlib.h>
#include <string.h>

/* A tank that settles by classes and keeps a blanket of sludge. */
#define LEDGER_SLUDGE(to)                                                                                              \
    "/spent_wash={\"tanks\":[{\"volume\":\"75 m3\",\"depth\":\"2 "                                                     \
    "m\"}],\"settling\":{\"law\":\"classes\",\"classes\":[{"                                                           \
    "\"share\":\"100 %\",\"velocity\":\"1 m/h\"}],\"time\":\"2 "                                                       \
    "h\"},\"sludge\":{\"drawn\":\"each_decant\",\"volume\":\"1 "                                                       \
    "m3\",\"to\":\"" to "\"},\"outlets\":[{\"kind\":\"sewer\",\"rate\":\"30 m3/h\"}]}"

/* Plants that move water and solids by the kinds of lines that no shipped scenario uses. */
static const char *const *const more[] = {
    /* Unsettled to the sewer, with a rinse. */
    (const char *const[]){"/spent_wash={\"tanks\":[{\"volume\":\"75 m3\"}],\"settling\":{\"law\":\"none\"},\"outlets\":"
                          "[{\"kind\":\"sewer\",\"rate\":\"60 m3/h\"}]}",
                          "/wash/rinse_time=1 h", "/wash/rinse_rate=2 m/h", "/wells/0/off_above=100 %",
                          "/storage={\"volume\":\"300 m3\",\"start_level\":\"80 %\"}",
                          "/demand={\"maximum_day\":\"480 m3/d\",\"hourly_factors\":[0,0,0,0,0,0,0,0,0,0,0,0,2,2,2,2,2,"
                          "2,2,2,2,2,2,2]}",
                          "/wash/min_between_starts=7 h", "/start_beds/how=spread", "/horizon=20 d", NULL},
    /* Storage that is full while a rinse runs the well: it runs over. */
    (const char *const[]){"/storage={\"volume\":\"1000 m3\",\"start_level\":\"96 %\"}", "/wells/0/on_below=90 %",
                          "/wells/0/off_above=100 %",
                          "/demand={\"maximum_day\":\"480 m3/d\",\"hourly_factors\":[0,0,0,0,0,0,0,0,0,0,0,0,2,2,2,2,"
                          "2,2,2,2,2,2,2,2]}",
                          "/start_beds/how=given", "/filters/0/start_shares=[\"97.5 %\", \"0 %\"]",
                          "/wash/bed_settle=110 min", "/wash/rinse_time=1 h", "/wash/rinse_rate=2 m/h", "/horizon=4 h",
                          NULL},
    /* Unsettled to a pond, and hauled away. */
    (const char *const[]){"/spent_wash={\"tanks\":[{\"volume\":\"75 m3\"}],\"settling\":{\"law\":\"none\"},\"outlets\":"
                          "[{\"kind\":\"pond\",\"rate\":\"60 m3/h\"}]}",
                          "/horizon=20 d", NULL},
    (const char *const[]){"/spent_wash={\"tanks\":[{\"volume\":\"75 m3\"}],\"settling\":{\"law\":\"none\"},\"outlets\":"
                          "[{\"kind\":\"haul\",\"rate\":\"60 m3/h\"}]}",
                          "/horizon=20 d", NULL},
    /* Regenerant made up with raw water, held and hauled away. */
    (const char *const[]){"/wash={\"triggers\":{\"run_hours\":\"20 h\"},\"template\":\"batch_regeneration\","
                          "\"backwash_rate\":\"3 m/h\",\"regenerant_depth\":\"0.2 m3/m2\",\"regenerate_time\":\"8 "
                          "min\",\"holding\":{\"volume\":\"30 m3\",\"emptied_every\":\"7 d\"}}",
                          "/wash_water={\"source\":\"wells\"}", "/horizon=20 d", NULL},
    /* A plant that starts and stops, and spills its rinses at start. */
    (const char *const[]){"/storage={\"volume\":\"100 m3\",\"start_level\":\"50 %\"}", "/wells/0/on_below=40 %",
                          "/wells/0/off_above=60 %", "/demand/maximum_day=480 m3/d", "/wash/rinse_at_start=6 min",
                          "/wash/triggers/run_hours=1 h",
                          "/spent_wash={\"tanks\":[{\"volume\":\"100 m3\",\"start_level\":\"45 %\"}],\"settling\":{"
                          "\"law\":\"none\"},\"outlets\":[{\"kind\":\"sewer\",\"rate\":\"0.01 m3/h\"}]}",
                          "/horizon=2 d", NULL},
    /* Settled by classes, with a blanket that is drawn to the sewer, and one that is hauled away. */
    (const char *const[]){LEDGER_SLUDGE("sewer"), "/horizon=20 d", NULL},
    (const char *const[]){LEDGER_SLUDGE("haul"), "/horizon=20 d", NULL},
    /* No tank. */
    (const char *const[]){"/wash/rinse_time=6 min", "/horizon=20 d", NULL},
};

enum { MORE = sizeof more / sizeof *more };

/* The scenario files, and then the plain plant as often as there are settings for it. */
static size_t scenario_count(struct plant_files *files)
{
    plant_files_find(files);
    return files->count + MORE;
}

static void read_scenario(struct plant_case *c, const struct plant_files *files, size_t number)
{
    if (number < files->count)
        plant_case_read(c, files->paths[number], NULL);
    else
        plant_case_read(c, PLANT_PLAIN, more[number - files->count]);
}

static void the_books_close_on_every_scenario(void **state)
{
    (void)state;
    struct plant_files files;
    const size_t count = scenario_count(&files);
    for (size_t i = 0; i < count; i++) {
        struct plant_case c;
        read_scenario(&c, &files, i);
        plant_case_run_with(&c, (struct wr_run_options){.keeps_lists = true});
        check_count(c.run.end, WR_RUN_WHOLE, "end of the run");
        check_true(c.run.books.closes, "the books close");
        check_between(c.run.books.water_error_share, 0, 1e-12, "error of the water's books, of throughput");
        check_between(c.run.books.worst_stock_share, 0, 1e-11, "error of the worst stock, of its own throughput");
        check_between(c.run.books.solids_error_share, 0, 1e-9, "error of the solids' books, of throughput");
        check_true(c.run.record.balance.washes > 0, "filters were washed");
        plant_case_fini(&c);
    }
    plant_files_fini(&files);
}

/* What each line gained at the first instant of the second half at which it gained anything: one booking. */
struct bookings {
    double half;
    size_t lines;
    struct wr_entry *last, *gained;
};

static bool is_nothing(const struct wr_entry *entry)
{
    return entry->water == 0 && entry->mass[0] == 0 && entry->mass[1] == 0 && entry->mass[2] == 0;
}

static void take_bookings(void *context, const struct wr_simulation *simulation)
{
    struct bookings *b = context;
    const struct wr_entry *now = wr_ledger_line(simulation->plant, simulation->state, WR_LINE_RAW, 0);
    for (size_t i = 0; i < b->lines && simulation->state->clock.now > b->half; i++) {
        if (!is_nothing(&b->gained[i]))
            continue;
        b->gained[i].water = now[i].water - b->last[i].water;
        for (int k = 0; k < WR_CONSTITUENTS; k++)
            b->gained[i].mass[k] = now[i].mass[k] - b->last[i].mass[k];
    }
    memcpy(b->last, now, b->lines * sizeof *now);
}

/* Loses one amount of one line, looks whether the books notice, and puts it back. */
static void lose(const struct wr_run *run, double *amount, double booking, size_t *lost)
{
    if (booking == 0)
        return;
    const double whole = *amount;
    *amount -= booking;
    const struct wr_balance books = wr_ledger_close(&run->plant, run->simulation.state, run->record.opening);
    check_true(!books.closes, "the books do not close without one booking of one line");
    *amount = whole;
    ++*lost;
}

/* Which kind of line a place in the books is. */
static size_t kind_at(size_t place)
{
    return place < WR_LINE_TANK ? place : WR_LINE_TANK + (place - WR_LINE_TANK) % WR_LINES_A_TANK;
}

static void one_lost_booking_is_seen(void **state)
{
    (void)state;
    struct plant_files files;
    bool water_seen[WR_LINE_KINDS] = {false}, mass_seen[WR_LINE_KINDS] = {false};
    const size_t count = scenario_count(&files);
    for (size_t i = 0; i < count; i++) {
        struct plant_case c;
        read_scenario(&c, &files, i);
        struct bookings b = {.half = c.reading.definition.horizon / 2,
                             .lines = WR_LINE_TANK + (c.reading.definition.spent_wash.tanks.count + WR_BEYOND_TANKS) *
                                                         WR_LINES_A_TANK};
        b.last = calloc(b.lines, sizeof *b.last);
        b.gained = calloc(b.lines, sizeof *b.gained);
        const struct wr_run_options options = {.also = {.context = &b, .instant = take_bookings}};
        wr_run_make(&c.run, &c.reading.definition, &options);
        c.has_run = true;
        check_count(b.lines, wr_ledger_lines(&c.run.plant), "lines");
        struct wr_entry *line = wr_ledger_line(&c.run.plant, c.run.simulation.state, WR_LINE_RAW, 0);
        for (size_t place = 0; place < b.lines; place++) {
            size_t water = 0, mass = 0;
            lose(&c.run, &line[place].water, b.gained[place].water, &water);
            for (int k = 0; k < WR_CONSTITUENTS; k++)
                lose(&c.run, &line[place].mass[k], b.gained[place].mass[k], &mass);
            water_seen[kind_at(place)] |= water > 0;
            mass_seen[kind_at(place)] |= mass == WR_CONSTITUENTS;
        }
        check_true(wr_ledger_close(&c.run.plant, c.run.simulation.state, c.run.record.opening).closes,
                   "the books close with all bookings");
        free(b.last);
        free(b.gained);
        plant_case_fini(&c);
    }
    plant_files_fini(&files);
    for (size_t kind = 0; kind < WR_LINE_KINDS; kind++) {
        const bool carries_no_water = kind == WR_LINE_CAUGHT || kind == WR_LINE_RELEASED;
        const bool carries_mass = carries_no_water || kind == WR_LINE_RAW || kind == WR_LINE_RECYCLE ||
                                  kind == WR_LINE_TO_SEWER || kind == WR_LINE_TO_POND || kind == WR_LINE_TO_HAUL ||
                                  kind == WR_LINE_SLUDGE || kind == WR_LINE_SLUDGE_TO_SEWER ||
                                  kind == WR_LINE_SLUDGE_TO_HAUL || kind == WR_LINE_BACKWASH ||
                                  kind == WR_LINE_REGENERANT || kind == WR_LINE_HOLDING_HAULED;
        check_true(water_seen[kind] == !carries_no_water, "a booking of water was lost for each kind that has any");
        check_true(mass_seen[kind] == carries_mass,
                   "a booking of every constituent was lost for each kind that has any");
    }
}

/* What a stock wins or loses by being set to its threshold is booked apart and counts as error, wherever it is. */
static void rounding_counts_as_error(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, more[0]);
    double *rounding = wr_ledger_rounding(&c.run.plant, plant_case_state(&c));
    static const size_t stocks[] = {WR_ACCOUNT_STORAGE, WR_ACCOUNT_WASH_TANK, WR_ACCOUNT_TANKS};
    for (size_t i = 0; i < 3; i++) {
        const double booked = rounding[stocks[i]];
        check_between(booked, 0, 1e-9, "rounding booked in the run, m3: next to none");
        rounding[stocks[i]] += 0.1;
        check_true(!wr_ledger_close(&c.run.plant, plant_case_state(&c), c.run.record.opening).closes,
                   "the books do not close with a tenth of a cubic metre of rounding");
        rounding[stocks[i]] = booked;
    }
    plant_case_fini(&c);
}

/* Storage is worth its start, plus what came, less what went: read off the lines by hand. */
static void turnover_adds_up_to_the_stock(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, more[0]);
    static const size_t stocks[] = {WR_ACCOUNT_STORAGE, WR_ACCOUNT_WASH_TANK, WR_ACCOUNT_TANKS};
    static const double opening[] = {240, 1000, 0};
    for (size_t i = 0; i < 3; i++) {
        struct wr_entry in, out;
        wr_ledger_turnover(&c.run.plant, plant_case_state(&c), stocks[i], &in, &out);
        check(wr_ledger_stock(&c.run.plant, plant_case_state(&c), stocks[i]).water, opening[i] + in.water - out.water,
              1e-8, "stock, m3: its start and its lines");
        check_true(in.water > 100 && out.water > 100, "water came and went");
    }
    check(plant_case_water(&c, WR_LINE_EFFLUENT) + plant_case_water(&c, WR_LINE_REFILL) +
              plant_case_water(&c, WR_LINE_RINSE),
          plant_case_water(&c, WR_LINE_RAW) + plant_case_water(&c, WR_LINE_RECYCLE), 1e-8,
          "out of the header, m3: all that came into it");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_books_close_on_every_scenario),
        cmocka_unit_test(one_lost_booking_is_seen),
        cmocka_unit_test(rounding_counts_as_error),
        cmocka_unit_test(turnover_adds_up_to_the_stock),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
