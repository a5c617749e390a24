/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The search for a rota: what a pencil says that it must find, and what it must say that it cannot. */
#include "sim/study/rota.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <stdlib.h>
#include <string.h>

#define DAY_SHIFT WR_ROOT "/scenarios/gravity-day-shift.json"

static struct plant_case c;
static struct wr_rota_search rota;

static void ask(const char *path, const char *const *settings, const char *const *bounds, bool for_firm, size_t threads,
                size_t tries)
{
    struct wr_rota_question question = {.name = "test", .bounds = bounds, .for_firm = for_firm, .tries = tries};
    struct wr_workers workers = {.threads = threads};
    while (bounds[question.bound_count] != NULL)
        question.bound_count++;
    plant_case_read(&c, path, settings);
    question.reading = &c.reading;
    wr_rota_make(&rota, &question, &workers);
}

static void fini(void)
{
    wr_rota_fini(&rota);
    plant_case_fini(&c);
}

/* Six filters of 12 h of run and a wash of 1.5 h fit into a cycle of 13.5 h, one start every 2 h 15 min, so that no
 * wash need wait. A time of 3 h between starts makes a cycle of 18 h of it: a wait of 4.5 h. */
static void six_filters_need_not_wait(void **state)
{
    (void)state;
    ask(PLANT_PLAIN,
        SETTINGS("/filters/0/count=6", "/wash/triggers/run_hours=12 h", "/wash/bed_settle=80 min",
                 "/wash_water/tank/refill_rate=35 m3/h", "/wells/0/flow=100 m3/h", "/horizon=10 d",
                 "/wash/min_between_starts=3 h"),
        SETTINGS("/wash/min_between_starts=0.5 h to 4 h", "/wash/who_first=longest_waiting, dirtiest"), false, 1, 0);
    check_count(rota.end, WR_RUN_WHOLE, "end of the search");
    check_count(rota.starts, 4, "starts: as written, equal beds, two at random");
    check(rota.today.room.longest_wait, 4.5 * HOUR, 1e-3, "wait of today, s: 6 x 3 h - 13.5 h");
    check_true(rota.best_count > 0 && rota.tries[rota.best[0]].is_allowed, "a best");
    const struct wr_rota_try *best = &rota.tries[rota.best[0]];
    check(best->room.longest_wait, 0, 1e-3, "longest wait of the best, s, from any start");
    check_between(best->values[0], 0.5, 2.25, "its time between starts, h: at most 13.5 h / 6");
    check(rota.unavoidable, 0, 1e-9, "unavoidable wait, s: six washes of 1.5 h are less than a cycle");
    fini();
}

/* Eight filters of 10 h of run and a wash of 2 h: a round of washes takes 16 h, and filters call after 12 h. Whatever
 * the order and the gaps, 4 h are waited. */
static void eight_filters_must_wait_four_hours(void **state)
{
    (void)state;
    ask(PLANT_PLAIN,
        SETTINGS("/filters/0/count=8", "/wash/triggers/run_hours=10 h", "/wash/bed_settle=110 min",
                 "/wash_water/tank/refill_rate=35 m3/h", "/wells/0/flow=100 m3/h", "/horizon=10 d"),
        SETTINGS("/wash/min_between_starts=0 h to 3 h", "/wash/who_first=longest_waiting, dirtiest"), false, 1, 0);
    check_count(rota.end, WR_RUN_WHOLE, "end of the search");
    check(rota.unavoidable, 4 * HOUR, 1e-6, "unavoidable wait, s: 8 x 2 h - (10 h + 2 h)");
    check_count(rota.unavoidable_by, WR_LIMIT_WASH_SYSTEM, "what makes it so");
    check(rota.tries[rota.best[0]].room.longest_wait, 4 * HOUR, 1e-3, "longest wait of the best, s: no less");
    check_true(rota.tries[rota.best[0]].room.slow > 0, "and washing does not keep pace");
    fini();
}

/* On the plant that is washed in the day shift it finds what the urgent override of the scenario next to it gives. */
static void the_day_shift_finds_its_override(void **state)
{
    (void)state;
    struct plant_case urgent;
    struct wr_search firm;
    plant_case_read(&urgent, WR_ROOT "/scenarios/gravity-urgent.json", NULL);
    check_true(wr_firm_search(&firm, &urgent.reading.definition), "the firm search ends");
    ask(DAY_SHIFT, NULL, SETTINGS("/wash/triggers/urgent_differential=1.55 m to 1.85 m in 4"), true, 1, 0);
    check_count(rota.end, WR_RUN_WHOLE, "end of the search");
    check_true(rota.whole_grid && rota.count == 4, "the whole grid");
    const struct wr_rota_room *best = &rota.tries[rota.best[0]].room;
    check_true(best->firm >= firm.firm, "as much firm capacity as the override gives, m3/s, or more");
    check_true(best->firm > 1.2 * rota.today.room.firm, "a fifth more than today");
    check_true(best->longest_wait < rota.today.room.longest_wait, "with less waiting");
    plant_case_fini(&urgent);
    fini();
}

/* More combinations than tries: some at random, the same ones every time and by any number of threads. */
static void tries_do_not_depend_on_threads(void **state)
{
    (void)state;
    static const char *const bounds[] = {"every=24 h to 72 h",
                                         "first=0 h to 24 h",
                                         "/wash/min_between_starts=0 h to 4 h",
                                         "/wash/who_first=longest_waiting, dirtiest",
                                         "/wash/triggers/run_hours=48 h to 96 h",
                                         NULL};
    struct wr_rota_try *tries[2];
    size_t counts[2];
    for (size_t i = 0; i < 2; i++) {
        ask(DAY_SHIFT, SETTINGS("/horizon=7 d"), bounds, false, i == 0 ? 1 : 3, 60);
        check_count(rota.end, WR_RUN_WHOLE, "end of the search");
        check_true(!rota.whole_grid, "not the whole grid");
        counts[i] = rota.count;
        tries[i] = calloc(rota.count, sizeof **tries);
        memcpy(tries[i], rota.tries, rota.count * sizeof **tries);
        fini();
    }
    check_count(counts[0], counts[1], "tries");
    for (size_t t = 0; t < counts[0]; t++) {
        for (size_t a = 0; a < 5; a++)
            check(tries[1][t].values[a], tries[0][t].values[a], 0, "a setpoint");
        check(tries[1][t].room.longest_wait, tries[0][t].room.longest_wait, 0, "its longest wait, s");
    }
    free(tries[0]);
    free(tries[1]);
}

/* A dated rota spreads the filters over its time, and its settings read back. */
static void a_dated_rota_is_spread(void **state)
{
    (void)state;
    ask(DAY_SHIFT, SETTINGS("/horizon=7 d"), SETTINGS("every=48 h to 49 h in 2", "first=2 h to 3 h in 2"), false, 1, 0);
    char *settings[WR_ROTA_AXES];
    check_count(wr_rota_settings(&rota, &rota.tries[0], &c.reading.definition, settings), 1, "settings");
    check_holds(settings[0], "{\"filter\":\"Filter 1\",\"first\":\"2026-01-05 02:00\",\"every\":\"2880 min\"}",
                "the first");
    check_holds(settings[0], "{\"filter\":\"Filter 4\",\"first\":\"2026-01-06 14:00\"",
                "the fourth: 2 h + 3/4 of 48 h");
    struct plant_case again;
    plant_case_read(&again, DAY_SHIFT, SETTINGS(settings[0]));
    check_count(again.reading.definition.wash.rota.count, 4, "entries read back");
    plant_case_fini(&again);
    free(settings[0]);
    fini();
}

static void wrong_bounds_are_said(void **state)
{
    (void)state;
    static const char *const cases[][2] = {
        {"/wash/min_between_start=0 h to 1 h", "unknown key"},
        {"/wash/min_between_starts", "within which bounds"},
        {"evry=1 h to 2 h", "no pointer and no time"},
        {"every=1 m to 2 m", "no pointer and no time"},
        {"first=1 h to 2 h", "wants every="},
        {"/wash/min_between_starts=1 h to 2 min", "same unit"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ask(DAY_SHIFT, NULL, SETTINGS(cases[i][0]), false, 1, 0);
        check_true(rota.is_wrong, cases[i][0]);
        check_holds(rota.message, cases[i][1], cases[i][0]);
        fini();
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(six_filters_need_not_wait),        cmocka_unit_test(eight_filters_must_wait_four_hours),
        cmocka_unit_test(the_day_shift_finds_its_override), cmocka_unit_test(tries_do_not_depend_on_threads),
        cmocka_unit_test(a_dated_rota_is_spread),           cmocka_unit_test(wrong_bounds_are_said),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
