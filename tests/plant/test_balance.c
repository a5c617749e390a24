/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The wash balance: grades, each by the smallest plant that has it, and its measures against hand arithmetic.
 *
 * Three filters, runs of 10 h and washes of b: each waits 3 b - (10 h + b). One is always being washed, so the two
 * others run at 2 m/h and gather 0.02 kg/m2 an hour, in a wait as in a run: the extra load is wait/10 h. At 2 m/h the
 * head is 0.2 m clean and rises by 1 m with each 1.8 kg/m2. */
#include "tests/plant/scene.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <stdio.h>

static const double exact = 1e-6; /* s */

/* In step with its rota from the start: calls at 0.1, 5.3 and 10 h. */
#define THREE                                                                                                          \
    "/filters/0/count=3", "/wash/triggers/run_hours=10 h", "/start_beds/how=given",                                    \
        "/filters/0/start_shares=[\"99 %\", \"47 %\", \"0 %\"]"

/* Washes of such a length that each waits for so many hours. */
static const char *wash_for_wait(char *text, size_t size, double hours)
{
    snprintf(text, size, "/wash/bed_settle=%.17g min", (10 + hours) / 2 * 60 - 10);
    return text;
}

static void check_plain_answers(const struct plant_case *c, enum wr_grade grade, bool exceeds, bool keeps_pace)
{
    check_count(c->run.record.balance.grade, grade, "grade");
    check_text(wr_grade_key(grade), wr_grade_key(c->run.record.balance.grade), "its key");
    check_true(c->run.record.balance.ever_exceeds_supply == exceeds, "whether wash demand ever exceeded supply");
    check_true(c->run.record.balance.keeps_pace == keeps_pace, "whether washing keeps pace all the same");
}

static void clear_where_no_filter_waits(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS("/start_beds/how=spread", "/horizon=10 d"));
    check_plain_answers(&c, WR_GRADE_CLEAR, false, true);
    check_true(c.run.record.balance.washes > 15 && c.run.record.balance.washes_that_waited == 0,
               "washes without a wait");
    check(c.run.record.balance.extra_load, 0, 0, "extra load");
    check_true(c.run.passes, "the run passes");
    plant_case_fini(&c);
}

static void queues_where_some_wait_briefly(void **state)
{
    (void)state;
    char settle[64];
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(THREE, wash_for_wait(settle, sizeof settle, 0.4), "/horizon=10 d"));
    const struct wr_wash_balance *b = &c.run.record.balance;
    check_plain_answers(&c, WR_GRADE_QUEUES, true, true);
    check(b->longest_wait, 0.4 * HOUR, exact, "longest wait, s: 3 x 5.2 - 15.2 h");
    check(b->total_wait, 0.4 * HOUR * (double)b->washes_that_waited, 1e-3, "all waits, s: alike");
    check(b->extra_load, 0.04, 1e-9, "extra load: 0.4 h of 10 h at one rate");
    check(b->worst_week_extra_load, 0.04, 1e-9, "extra load of the worst week: the same");
    check(b->worst_reserve_used, 0.4 / 422, 1e-9, "reserve used: 0.4 h of (8.64 - 0.2)/0.02 h to 5 m");
    check(b->first_exceeded, 15.3 * HOUR, exact, "when demand first exceeded supply, s: the first call after a wash");
    check_count(b->most_waiting_together, 1, "most waiting together");
    check_count(b->paced_by, WR_LIMIT_NONE, "what paces it: nothing");
    check_true(c.run.passes, "the run passes");
    plant_case_fini(&c);
}

static void paced_from_a_tenth_of_extra_load_on(void **state)
{
    (void)state;
    static const struct {
        double wait;
        enum wr_grade grade;
    } cases[] = {{0.99, WR_GRADE_QUEUES}, {1.01, WR_GRADE_PACED}, {2, WR_GRADE_PACED}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char settle[64], horizon[64];
        struct plant_case c;
        /* A wash starts at 0.1 h and every (10 + wait)/2 h: an hour after one of them no wait is open. */
        snprintf(horizon, sizeof horizon, "/horizon=%.17g h", 1.1 + 44 * (10 + cases[i].wait) / 2);
        plant_case_run(&c, PLANT_PLAIN, SETTINGS(THREE, wash_for_wait(settle, sizeof settle, cases[i].wait), horizon));
        const bool paced = cases[i].grade == WR_GRADE_PACED;
        check_plain_answers(&c, cases[i].grade, true, !paced);
        check(c.run.record.balance.extra_load, cases[i].wait / 10, 1e-9, "extra load");
        check_count(c.run.record.balance.paced_by, paced ? WR_LIMIT_WASH_SYSTEM : WR_LIMIT_NONE, "what paces it");
        const struct wr_finding *finding = plant_case_finding(&c, WR_FINDING_NOT_KEEPING_PACE);
        check_true((finding != NULL) == paced, "not keeping pace is a finding");
        check_true(c.run.passes == !paced, "which fails the run");
        if (finding != NULL) {
            check_between(finding->start, 7 * DAY, 7 * DAY + 6 * HOUR, "its start, s: once seven days are seen");
            check(finding->worst, cases[i].wait / 10, 1e-9, "its worst, share");
            check_count(finding->limit, WR_LIMIT_WASH_SYSTEM, "its limit");
        }
        plant_case_fini(&c);
    }
}

/* A run shorter than a week is judged as a whole. */
static void a_short_run_is_judged_whole(void **state)
{
    (void)state;
    char settle[64];
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(THREE, wash_for_wait(settle, sizeof settle, 2), "/horizon=5 d"));
    check_plain_answers(&c, WR_GRADE_PACED, true, false);
    check(plant_case_finding(&c, WR_FINDING_NOT_KEEPING_PACE)->start, 5 * DAY, 0, "start of the finding, s: its end");
    plant_case_fini(&c);
}

/* Waits of 0.4 h, and an available head that is reached a little more or less than 0.8 h after the call. */
static void paced_from_half_the_reserve_on(void **state)
{
    (void)state;
    static const struct {
        double hours;
        enum wr_grade grade;
    } cases[] = {{0.81, WR_GRADE_QUEUES}, {0.79, WR_GRADE_PACED}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        char settle[64], head[64];
        struct plant_case c;
        snprintf(head, sizeof head, "/filters/0/available_head=%.17g m",
                 2 * (0.1 + (0.2 + 0.02 * cases[i].hours) / 0.6 / 6));
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS(THREE, wash_for_wait(settle, sizeof settle, 0.4), head, "/horizon=10 d"));
        check_plain_answers(&c, cases[i].grade, true, cases[i].grade == WR_GRADE_QUEUES);
        check(c.run.record.balance.worst_reserve_used, 0.4 / cases[i].hours, 1e-6, "reserve used: 0.4 h of it");
        check(c.run.record.balance.extra_load, 0.04, 1e-9, "extra load: far from a tenth");
        plant_case_fini(&c);
    }
}

/* Twenty-eight filters, runs of 25 h, washes of 1 h: each waits 2 h, 8 % of its run, and two wait at every instant. The
 * first to wait after a wash of its own calls at 51 h. */
static void paced_where_someone_always_waits(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=28", "/wash/triggers/run_hours=25 h", "/wash/bed_settle=50 min",
                            "/wash/backwash_rate=3 m/h", "/horizon=12 d"));
    check_plain_answers(&c, WR_GRADE_PACED, true, false);
    check(c.run.record.balance.worst_week_extra_load, 0.08, 1e-9, "extra load of the worst week: 2 h of 25 h");
    check(c.run.record.balance.worst_reserve_used, 0, 0.01, "reserve used: next to none");
    check_count(c.run.record.balance.most_waiting_together, 2, "most waiting together");
    check(plant_case_finding(&c, WR_FINDING_NOT_KEEPING_PACE)->start, 51 * HOUR + 7 * DAY, exact,
          "start of the finding, s: seven days after the first such call");
    plant_case_fini(&c);
}

/* Overrun: the same wait, and an available head reached after 0.3 h. */
static void overrun_where_a_filter_reaches_available_head(void **state)
{
    (void)state;
    char settle[64], head[64];
    struct plant_case c;
    snprintf(head, sizeof head, "/filters/0/available_head=%.17g m", 2 * (0.1 + (0.2 + 0.02 * 0.3) / 0.6 / 6));
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(THREE, wash_for_wait(settle, sizeof settle, 0.4), head, "/horizon=10 d"));
    check_plain_answers(&c, WR_GRADE_OVERRUN, true, false);
    check_count(c.run.record.balance.cause, WR_LIMIT_WASH_SYSTEM, "its cause");
    check(plant_case_time(&c, WR_EVENT_HEAD_REACHED, 2, 0), 10.3 * HOUR + 2 * MINUTE, exact,
          "available head first, s: two minutes later for six at 4/3 m/h");
    check_true(!c.run.passes, "the run fails");
    plant_case_fini(&c);
}

/* The plant's own rule makes the same waits as the wash system would: deferred, in no grade. So it does where the one
 * wash system is busy for the first hour of them. */
static void check_deferred(const char *systems)
{
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS(THREE, "/wash/min_between_starts=6 h", systems, "/wash/bed_settle=50 min", "/horizon=10 d"));
    check_plain_answers(&c, WR_GRADE_CLEAR, false, true);
    const struct wr_wash_balance *b = &c.run.record.balance;
    check(b->longest_wait, 7 * HOUR, exact, "longest wait, s: 3 x 6 - (10 + 1) h");
    check(b->extra_load, 0, 0, "extra load: counts waits for resources");
    check(b->worst_reserve_used, 0, 0, "reserve used: likewise");
    const struct wr_finding *deferred = plant_case_finding(&c, WR_FINDING_DEFERRED_BY_RULE);
    check_true(deferred != NULL, "deferred by rule is a finding");
    check_count(deferred->limit, WR_LIMIT_TIME_BETWEEN_STARTS, "the rule");
    check_count(wr_finding_row(deferred->kind)->class, WR_CLASS_NOTE, "its class");
    check_true(plant_case_finding(&c, WR_FINDING_WASHES_WAITED) == NULL, "none waited for a resource");
    check_true(c.run.passes, "the run passes");
    plant_case_fini(&c);
}

static void waits_for_a_rule_make_no_grade(void **state)
{
    (void)state;
    check_deferred("/wash/max_simultaneous=3");
    check_deferred("/wash/max_simultaneous=1");
}

static void a_rule_is_the_cause_of_an_overrun(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(THREE, "/wash/min_between_starts=6 h", "/wash/bed_settle=50 min", "/horizon=10 d",
                            "/filters/0/available_head=0.29 m"));
    check_plain_answers(&c, WR_GRADE_OVERRUN, false, false);
    check_count(c.run.record.balance.cause, WR_LIMIT_TIME_BETWEEN_STARTS, "its cause: the rule");
    plant_case_fini(&c);
}

/* A wait that is first for the rule and then for the wash system counts in the measures from then on: 2 h of rule after
 * each start, then the rest. Washes of 6 h, waits of 2 h from 4 h after a start on: all for the wash system. A gap of 5
 * h takes the first of the two. */
static void only_time_for_a_resource_counts(void **state)
{
    (void)state;
    char settle[64];
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS(THREE, wash_for_wait(settle, sizeof settle, 2), "/wash/min_between_starts=5 h", "/horizon=10 d"));
    const struct wr_wash_balance *b = &c.run.record.balance;
    const struct wr_state *s = plant_case_state(&c);
    const double waits = (double)b->washes_that_waited;
    check(b->longest_wait, 2 * HOUR, exact, "longest wait, s");
    check(b->extra_load, 0.1, 1e-3, "extra load: of one hour of the two");
    check(b->worst_reserve_used, 1 / 422.0, 1e-6, "reserve used: of one hour of the two");
    check(s->waits[WR_LIMIT_TIME_BETWEEN_STARTS].first / waits, 1 * HOUR, 1e-2 * HOUR, "first for the rule, s a wait");
    check(s->waits[WR_LIMIT_WASH_SYSTEM].first / waits, 1 * HOUR, 1e-2 * HOUR, "first for the system, s a wait");
    check(s->waits[WR_LIMIT_WASH_SYSTEM].total / waits, 2 * HOUR, 1e-2 * HOUR, "for the system at all, s a wait");
    plant_case_fini(&c);
}

/* First reasons add up to all waits, of the start-up and after it. */
static void check_sums(const struct wr_run *run)
{
    const struct wr_state *s = run->simulation.state;
    double first = 0, start_up = 0;
    for (int l = 0; l < WR_LIMITS; l++) {
        first += s->waits[l].first;
        start_up += s->start_up[l].first;
        check_true(s->waits[l].total >= s->waits[l].first && s->waits[l].first >= s->waits[l].alone,
                   "a limit's time, its time as the first reason and its time alone stand in this order");
    }
    check(first, run->record.balance.total_wait, 1e-6 + 1e-9 * first, "first reasons, s: all waits");
    check(start_up, run->record.balance.start_up_wait, 1e-6 + 1e-9 * start_up, "of the start-up, s: all its waits");
    double waited = 0;
    for (size_t f = 0; f < run->plant.filter_count; f++)
        waited += run->record.filters[f].waited;
    check_true(waited <= run->record.balance.total_wait * (1 + 1e-9), "waits of washes begun, s: within all waits");
}

static void first_reasons_add_up(void **state)
{
    (void)state;
    static struct scene scene;
    struct plant_files files;
    plant_files_find(&files);
    for (size_t i = 0; i < files.count; i++) {
        struct plant_case c;
        plant_case_run(&c, files.paths[i], NULL);
        check_sums(&c.run);
        plant_case_fini(&c);
    }
    plant_files_fini(&files);
    size_t waited = 0;
    for (uint64_t seed = 1; seed <= 200; seed++) {
        struct wr_run run;
        scene_random(&scene, seed);
        wr_run_make(&run, &scene.definition, &(struct wr_run_options){.keeps_lists = true});
        check_count(run.end, WR_RUN_WHOLE, "end of the run");
        check_sums(&run);
        waited += run.record.balance.washes_that_waited;
        wr_run_fini(&run);
    }
    check_true(waited > 500, "random plants wait often");
}

/* Tallies of one filter: complete runs only, the first wash apart. */
static void a_filter_is_reported_by_complete_runs(void **state)
{
    (void)state;
    char settle[64];
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(THREE, wash_for_wait(settle, sizeof settle, 2), "/horizon=5 d"));
    const struct wr_filter_record *f = &c.run.record.filters[1];
    check_count(f->runs, f->washes - 1, "complete runs: one less than washes");
    check(f->run_hours / (double)f->runs, 12 * HOUR, exact, "mean run, s: 10 h and the wait of 2");
    check(f->shortest_run, 12 * HOUR, exact, "shortest run, s");
    check(f->run_volume / (double)f->runs, 24, 1e-6, "mean run volume, m3/m2: 12 h at 2 m/h");
    check(f->waited, 2 * HOUR * (double)f->runs, 1e-3, "its waits, s");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(clear_where_no_filter_waits),
        cmocka_unit_test(queues_where_some_wait_briefly),
        cmocka_unit_test(paced_from_a_tenth_of_extra_load_on),
        cmocka_unit_test(a_short_run_is_judged_whole),
        cmocka_unit_test(paced_from_half_the_reserve_on),
        cmocka_unit_test(paced_where_someone_always_waits),
        cmocka_unit_test(overrun_where_a_filter_reaches_available_head),
        cmocka_unit_test(waits_for_a_rule_make_no_grade),
        cmocka_unit_test(a_rule_is_the_cause_of_an_overrun),
        cmocka_unit_test(only_time_for_a_resource_counts),
        cmocka_unit_test(first_reasons_add_up),
        cmocka_unit_test(a_filter_is_reported_by_complete_runs),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
