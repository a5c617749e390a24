/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How bad a number may get: limits that a pencil finds, the ends of the search, and what it says beyond. */
#include "sim/study/firm.h"
#include "sim/study/margin.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>
#include <stdio.h>

#define THREE WR_ROOT "/scenarios/pressure-three.json"

/* What the issue of limits asks for: one part in a million, ten times what the search promises. */
static const double exact = 1e-6;

static struct plant_case c;
static struct wr_margins margins;

static void ask(const char *path, const char *const *settings, const char *const *of, enum wr_verdict verdict)
{
    struct wr_margin_question question = {.name = "test", .of = of, .verdict = verdict};
    while (of[question.count] != NULL)
        question.count++;
    plant_case_read(&c, path, settings);
    question.reading = &c.reading;
    wr_margins_make(&margins, &question, NULL);
}

static void fini(void)
{
    wr_margins_fini(&margins);
    plant_case_fini(&c);
}

static void check_end(const struct wr_margin *margin, double value, double expected, const char *what)
{
    check_share(wr_figure_si(&margin->figure, value), expected, exact, what);
}

/* No wash at all: two filters of 10 m2 at 6 m/h pass 120 m3/h, whatever the well could give, and storage above its
 * reserve helps for three days: 2880 m3/d + (50 % - 40 %) x 1000 m3 / 3 d. */
static void nameplate_without_washing(void **state)
{
    (void)state;
    ask(PLANT_PLAIN,
        SETTINGS("/wash/triggers/run_hours=1000 h", "/wells/0/flow=200 m3/h", "/wells/0/drive=variable",
                 "/over_approved_rate=throttle", "/filters/0/available_head=50 m", "/storage/volume=1000 m3",
                 "/storage/reserve=40 %"),
        SETTINGS("/demand/maximum_day"), WR_VERDICT_RUN);
    const struct wr_margin *margin = &margins.items[0];
    check_count(margins.end, WR_RUN_WHOLE, "end of the study");
    check_true(margins.passes && margin->up.changes && !margin->down.changes, "it passes, and less of it too");
    check_end(margin, margin->up.near, (2880 + 100.0 / 3) / DAY, "greatest day that passes, m3/s: by hand");
    check_end(margin, margin->up.far, (2880 + 100.0 / 3) / DAY, "least day that fails, m3/s: by hand");
    check_count(margin->up.failing.finding, WR_FINDING_RESERVE_USED, "what fails above");
    check_count(margin->up.returns, 0, "changes beyond");
    fini();
}

/* Two filters of 20 h of run and a wash of 10 min that call half a cycle apart, 10 h 5 min. Each wash fills the one
 * tank, which then settles and is decanted, 45 m3 at 10 m3/h: 10 min + settling + 4.5 h is at most that. */
static void spent_wash_turnover(void **state)
{
    (void)state;
    ask(PLANT_PLAIN,
        SETTINGS(
            "/start_beds/how=given", "/filters/0/start_shares=[\"50.416666666666664 %\", \"0 %\"]",
            "/spent_wash={\"tanks\": [{\"name\": \"T\", \"volume\": \"50 m3\"}], \"settling\": {\"law\": \"clock\", "
            "\"time\": \"2 h\", \"sludge_share\": \"10 %\"}, \"outlets\": [{\"kind\": \"sewer\", \"rate\": "
            "\"10 m3/h\"}]}",
            "/fails_if=[{\"finding\": \"washes_waited\"}]", "/horizon=20 d"),
        SETTINGS("/spent_wash/settling/time", "/spent_wash/outlets/0/rate"), WR_VERDICT_RUN);
    const struct wr_margin *settling = &margins.items[0], *rate = &margins.items[1];
    check_count(margins.end, WR_RUN_WHOLE, "end of the study");
    check_end(settling, settling->up.near, (10 * HOUR + 5 * MINUTE) - 10 * MINUTE - 4.5 * HOUR,
              "longest settling, s: by hand");
    check_count(settling->up.failing.limit, WR_LIMIT_SPENT_WASH_ROOM, "what limits it");
    check_end(rate, rate->down.near, 45 / ((10 * HOUR + 5 * MINUTE) - 10 * MINUTE - 2 * HOUR),
              "slowest way out, m3/s: by hand");
    check_true(margins.ranked[0] == 1, "the way out is nearer to its limit: 43 % less against 167 % more");
    fini();
}

/* Eight filters that run 10 h and take turns at one wash system wait 8 washes less 10 h and a wash each. Seven are in
 * service at every instant, so that they gather in a wait what they gather in as much of a run: washing is paced from a
 * tenth on, 7 washes = 11 h. The backwash takes 10 min of a wash. */
static void wash_system_slots(void **state)
{
    (void)state;
    ask(PLANT_PLAIN,
        SETTINGS("/filters/0/count=8", "/wash/triggers/run_hours=10 h", "/wash/bed_settle=80 min",
                 "/wash_water/tank/refill_rate=35 m3/h", "/wells/0/flow=100 m3/h", "/horizon=20 d"),
        SETTINGS("/wash/bed_settle"), WR_VERDICT_RUN);
    check_count(margins.end, WR_RUN_WHOLE, "end of the study");
    check_end(&margins.items[0], margins.items[0].up.near, 11 * HOUR / 7 - 10 * MINUTE,
              "longest stillness, s: by hand");
    check_count(margins.items[0].up.failing.finding, WR_FINDING_NOT_KEEPING_PACE, "what fails above");
    check_count(margins.items[0].up.failing.limit, WR_LIMIT_WASH_SYSTEM, "what limits it");
    fini();
}

/* On the demand itself the search is that for firm capacity. */
static void on_demand_it_is_the_firm_capacity(void **state)
{
    (void)state;
    struct wr_search firm;
    ask(THREE, NULL, SETTINGS("/demand/maximum_day", "/wells/0/flow"), WR_VERDICT_FIRM);
    check_true(wr_firm_search(&firm, &c.reading.definition), "the firm search ends");
    const struct wr_margin *margin = &margins.items[0], *well = &margins.items[1];
    check_share(wr_figure_si(&margin->figure, margin->up.near), firm.firm, 2e-5, "limit, m3/s: within firm's bracket");
    check_count(margin->up.failing.limit, firm.failing.limit, "limiting factor");
    check_true(well->up.changes && well->up.returns > 0, "pass and fail alternate with the flow of a well in steps");
    fini();
}

/* Both ends of every gap, tried by hand: one passes, the other fails. */
static void ends_of_the_gap_are_so(void **state)
{
    (void)state;
    ask(THREE, NULL, SETTINGS("/raw_water/iron", "/wells/0/flow", "/spent_wash/settling/time"), WR_VERDICT_FIRM);
    check_count(margins.end, WR_RUN_WHOLE, "end of the study");
    for (size_t i = 0; i < margins.count; i++) {
        const struct wr_margin *margin = &margins.items[i];
        const struct wr_margin_side *side = &margin->up;
        const double ends[] = {side->near, side->far};
        check_true(side->changes, "the verdict changes above");
        check_between(fabs(side->far - side->near) / side->far, 0, 1e-7, "width of the gap, share");
        for (size_t e = 0; e < 2; e++) {
            char text[96], setting[200], keep[] = "/filters/0/deposit/observed_run/iron=2.0 mg/L";
            struct plant_case again;
            struct wr_trial trial;
            struct wr_tried tried;
            snprintf(setting, sizeof setting, "%s=%s", margin->pointer,
                     wr_figure_text(ends[e], margin->figure.unit, text, sizeof text));
            plant_case_read(&again, THREE, SETTINGS(setting, keep));
            wr_trial_judge(&trial, &again.reading.definition, WR_VERDICT_FIRM);
            wr_trial_try(&trial, &tried);
            check_true(tried.rung.passes == (e == 0), "passes at the near end, fails at the far one");
            plant_case_fini(&again);
        }
    }
    fini();
}

/* What was observed stays when the raw water is moved: else more iron would make no difference to a run. */
static void observed_runs_stay(void **state)
{
    (void)state;
    ask(THREE, NULL, SETTINGS("/raw_water/iron=1 mg/L to 20 mg/L"), WR_VERDICT_FIRM);
    check_true(margins.items[0].up.changes, "more iron fails in the end, with the slope of the observed run as it was");
    check_count(margins.items[0].up.failing.limit, WR_LIMIT_SPENT_WASH_ROOM, "by room for spent wash");
    fini();
}

static void the_readers_bounds_end_the_search(void **state)
{
    (void)state;
    ask(THREE, NULL,
        SETTINGS("/storage/reserve", "/wash/max_simultaneous", "/filters/0/count", "/wash_water/tank/volume"),
        WR_VERDICT_FIRM);
    check_count(margins.end, WR_RUN_WHOLE, "end of the study");
    const struct wr_margin_side *reserve = &margins.items[0].up, *systems = &margins.items[1].down;
    check_true(reserve->is_bound && !reserve->changes, "the reserve ends at the low mark");
    check(reserve->ladder[reserve->rungs - 1].value, 45, 0, "the low mark of the scenario, %");
    check_holds(reserve->refusal, "at least the reserve", "the reader's words");
    check_holds(reserve->refusal, "/storage/low_mark", "and where they point");
    check_true(systems->is_bound && systems->rungs == 0, "one wash system is the least");
    check_holds(systems->refusal, "allowed: a whole number, at least 1", "the reader's words");
    const struct wr_margin *filters = &margins.items[2];
    check_true(filters->down.changes, "fewer filters fail");
    check(filters->down.near, 3, 0, "whole numbers: three pass");
    check(filters->down.far, 2, 0, "two do not");
    const struct wr_margin_side *tank = &margins.items[3].down;
    check_share(tank->ladder[tank->rungs - 1].value, 6031.857895, 2e-9,
                "least tank, gal: 10 min at 12 gal/min/ft2 through a circle of 8 ft, with the reader's slack");
    fini();
}

/* A plant that fails asks what would let it pass. */
static void from_a_failure_it_looks_for_a_pass(void **state)
{
    (void)state;
    ask(PLANT_PLAIN,
        SETTINGS("/demand/maximum_day=3000 m3/d", "/storage/volume=1000 m3", "/storage/reserve=40 %",
                 "/wash/triggers/run_hours=1000 h", "/filters/0/available_head=50 m"),
        SETTINGS("/demand/maximum_day"), WR_VERDICT_RUN);
    const struct wr_margin *margin = &margins.items[0];
    check_true(!margins.passes && margin->down.changes && !margin->up.changes, "it fails, and passes with less");
    check_end(margin, margin->down.far, (960 + 100.0 / 3) / DAY, "greatest day that passes, m3/s: well and storage");
    check(margin->nearest, 1 - (960 + 100.0 / 3) / 3000, 1e-6, "way to it, share");
    fini();
}

static void wrong_wishes_are_said(void **state)
{
    (void)state;
    static const char *const cases[][2] = {
        {"/raw_water/irn", "did you mean"},
        {"/title", "no number"},
        {"/wash/window", "no number"},
        {"/raw_water/suspended_solids", "left out"},
        {"/raw_water/iron=1 mg/L, 2 mg/L", "LEAST to MOST"},
        {"/raw_water/iron=1 h to 2 h", "is in"},
        {"raw_water/iron", "begins with /"},
        {"/wash/min_between_starts", "is 0 now"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        ask(THREE, NULL, SETTINGS(cases[i][0]), WR_VERDICT_FIRM);
        check_true(margins.is_wrong, cases[i][0]);
        check_holds(margins.message, cases[i][1], cases[i][0]);
        fini();
    }
}

static volatile sig_atomic_t stop;

static void stop_later(const struct wr_workers *workers, void *context)
{
    (void)context;
    stop = workers->done >= 100;
}

/* Interrupted, the numbers that are done are as they would have been. */
static void an_interruption_keeps_the_first(void **state)
{
    (void)state;
    const char *const of[] = {"/demand/maximum_day", "/wells/0/flow", "/raw_water/iron"};
    struct wr_workers workers = {.threads = 1, .stop = &stop, .tell = stop_later};
    ask(THREE, NULL, SETTINGS("/demand/maximum_day"), WR_VERDICT_FIRM);
    struct wr_margins cut;
    wr_margins_make(&cut, &(struct wr_margin_question){.name = "test", .reading = &c.reading, .of = of, .count = 3},
                    &workers);
    check_count(cut.end, WR_RUN_STOPPED, "end of the study");
    check_true(cut.count >= 1 && cut.count < 3, "some are done and some are not");
    check(cut.items[0].up.near, margins.items[0].up.near, 0, "the first limit, as without interruption");
    wr_margins_fini(&cut);
    fini();
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(nameplate_without_washing),
        cmocka_unit_test(spent_wash_turnover),
        cmocka_unit_test(wash_system_slots),
        cmocka_unit_test(on_demand_it_is_the_firm_capacity),
        cmocka_unit_test(ends_of_the_gap_are_so),
        cmocka_unit_test(observed_runs_stay),
        cmocka_unit_test(the_readers_bounds_end_the_search),
        cmocka_unit_test(from_a_failure_it_looks_for_a_pass),
        cmocka_unit_test(wrong_wishes_are_said),
        cmocka_unit_test(an_interruption_keeps_the_first),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
