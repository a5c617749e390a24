/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bounds on rounds and beats: a run that cannot go on stops, and says which timers kept firing. */
#include "sim/engine/instant.h"
#include "tests/support/check.h"

#include <stdio.h>
#include <stdlib.h>

/* A model that sets timers again each time they act, some at the same instant. */
enum { TIMERS = 12 };

struct model {
    struct wr_timers timers;
    struct wr_clock clock;
    double again[TIMERS];  /* s after its act; WR_NEVER: not again */
    uint64_t left[TIMERS]; /* how often it is still set again */
    bool acted[TIMERS];
    size_t closed;
};

static void ignore_advance(void *context, double from, double to)
{
    (void)context, (void)from, (void)to;
}

static void note_act(void *context, size_t timer, double now)
{
    struct model *model = context;
    (void)now;
    model->acted[timer] = true;
}

static void set_again(void *context, double now)
{
    struct model *model = context;
    for (size_t i = 0; i < TIMERS; i++) {
        const bool again = model->acted[i] && model->left[i] > 0;
        model->acted[i] = false;
        if (again) {
            model->left[i]--;
            wr_timers_set(&model->timers, i, now + model->again[i]);
        }
    }
}

static void count_close(void *context, double now)
{
    (void)now;
    ((struct model *)context)->closed++;
}

/* Timers named by letter: a, b, c... */
static void letter(void *context, size_t timer, char *text, size_t size)
{
    (void)context;
    snprintf(text, size, "timer %c", (char)('a' + (int)timer));
}

static struct model *make(void)
{
    struct model *model = calloc(1, sizeof *model);
    void *memory = malloc(wr_timers_size(TIMERS));
    assert_non_null(model);
    assert_non_null(memory);
    wr_timers_init(&model->timers, TIMERS, memory);
    wr_clock_init(&model->clock, 0.0, TIMERS);
    for (size_t i = 0; i < TIMERS; i++) {
        model->again[i] = WR_NEVER;
        model->left[i] = UINT64_MAX;
    }
    return model;
}

static void drop(struct model *model)
{
    free(model->timers.ranks);
    free(model);
}

static void start(struct model *model, size_t timer, double first, double again)
{
    wr_timers_set(&model->timers, timer, first);
    model->again[timer] = again;
}

static enum wr_engine_status run(struct model *model, double until)
{
    const struct wr_heart heart = {
        .context = model, .advance = ignore_advance, .act = note_act, .settle = set_again, .close = count_close};
    return wr_engine_run(&model->timers, &heart, &model->clock, until);
}

static void test_usual_bounds(void **state)
{
    (void)state;
    struct wr_clock clock;
    wr_clock_init(&clock, 8000.0, 30);
    check_count(clock.guard.most_rounds, 8 * 30 + 1000, "most rounds at an instant: 8 x timers + 1000");
    check_count(clock.guard.most_beats_per_hour, 200000 + 1000 * 30, "most beats an hour: 200000 + 1000 x timers");
    check(clock.guard.hour, 7200.0, 0.0, "start of the hour counted, s");
}

/* Two timers keep each round going; a third, which acted just before, is innocent and is not named, nor is one that
 * acted long ago. */
static void test_too_many_rounds_names_who_kept_firing(void **state)
{
    (void)state;
    struct model *model = make();
    start(model, 0, 1.0, WR_NEVER);
    start(model, 3, 10.0, WR_NEVER);
    start(model, 2, 10.0, 0.0);
    start(model, 7, 10.0, 0.0);
    check_count(run(model, 100.0), WR_ENGINE_TOO_MANY_ROUNDS, "status");
    check(model->clock.now, 10.0, 0.0, "time of the stop, s");
    check_count(model->closed, 1, "instants closed: not the one of the stop");
    check_count(model->clock.rounds, 1 + 8 * TIMERS + 1000, "rounds: one before, then the bound");
    char text[400];
    wr_engine_explain(WR_ENGINE_TOO_MANY_ROUNDS, &model->clock, letter, NULL, text, sizeof text);
    check_text(text,
               "stopped at 10 s: more than 1096 rounds at one instant; kept firing: timer c (64 of the last 128 acts), "
               "timer h (64 of the last 128 acts)",
               "message");
    drop(model);
}

/* As many rounds as are allowed are allowed, and not one more. */
static void test_rounds_up_to_the_bound_pass(void **state)
{
    (void)state;
    for (uint64_t extra = 0; extra < 2; extra++) {
        struct model *model = make();
        model->clock.guard.most_rounds = 5;
        start(model, 1, 3.0, 0.0);
        model->left[1] = 4 + extra;
        check_count(run(model, 4.0), extra ? WR_ENGINE_TOO_MANY_ROUNDS : WR_ENGINE_OK, "status of 5 rounds and of 6");
        check_count(model->clock.rounds, 5, "rounds played");
        drop(model);
    }
}

/* 1024 beats in each hour, every 3.515625 s and so exact, for ten hours: within a bound of 1024, beyond one of 1023 at
 * the last beat of the first hour. */
static void test_beats_are_counted_by_the_hour(void **state)
{
    (void)state;
    for (uint64_t most = 1023; most <= 1024; most++) {
        struct model *model = make();
        model->clock.guard.most_beats_per_hour = most;
        start(model, 4, 0.0, 3600.0 / 1024.0);
        const enum wr_engine_status status = run(model, 36000.0);
        if (most == 1024) {
            check_count(status, WR_ENGINE_OK, "status at 1024 beats an hour");
            check_count(model->clock.beats, 10240, "beats in ten hours");
        } else {
            check_count(status, WR_ENGINE_TOO_MANY_BEATS, "status at one beat too many");
            check(model->clock.now, 3600.0 * 1023.0 / 1024.0, 0.0, "time of the last beat of an hour, s");
            check_count(model->closed, 1023, "instants closed");
        }
        drop(model);
    }
}

/* A quiet timer beside a restless one: the message names the restless one first. */
static void test_too_many_beats_names_who_kept_firing(void **state)
{
    (void)state;
    struct model *model = make();
    start(model, 1, 0.0, 0.0625);
    start(model, 9, 0.0, 2.0); /* one act in 32 of the other's */
    model->clock.guard.most_beats_per_hour = 3000;
    check_count(run(model, 1e6), WR_ENGINE_TOO_MANY_BEATS, "status");
    check(model->clock.now, 3000 * 0.0625, 0.0, "time of the stop, s");
    char text[400];
    wr_engine_explain(WR_ENGINE_TOO_MANY_BEATS, &model->clock, letter, NULL, text, sizeof text);
    check_text(text,
               "stopped at 187.5 s: more than 3000 instants in one simulated hour; kept firing: "
               "timer b (124 of the last 128 acts), timer j (4 of the last 128 acts)",
               "message");
    drop(model);
}

/* A run within its bounds has nothing to explain. */
static void test_no_message_without_a_stop(void **state)
{
    (void)state;
    struct model *model = make();
    char text[40] = "left over";
    wr_engine_explain(WR_ENGINE_OK, &model->clock, letter, NULL, text, sizeof text);
    check_text(text, "", "message of a run that was not stopped");
    drop(model);
}

static void test_a_message_is_cut_to_its_room(void **state)
{
    (void)state;
    struct model *model = make();
    start(model, 0, 10.0, 0.0);
    check_count(run(model, 100.0), WR_ENGINE_TOO_MANY_ROUNDS, "status");
    char whole[400];
    wr_engine_explain(WR_ENGINE_TOO_MANY_ROUNDS, &model->clock, letter, NULL, whole, sizeof whole);
    for (size_t size = 1; size <= strlen(whole) + 1; size++) {
        char *text = malloc(size);
        assert_non_null(text);
        wr_engine_explain(WR_ENGINE_TOO_MANY_ROUNDS, &model->clock, letter, NULL, text, size);
        check_count(strlen(text), size - 1, "length of a cut message");
        check_true(strncmp(text, whole, size - 1) == 0, "a cut message is the start of the whole");
        free(text);
    }
    drop(model);
}

/* Eight at most, most frequent first, equals by number; fewer acts than are remembered are counted as they are. */
static void test_the_busiest_are_listed_in_order(void **state)
{
    (void)state;
    struct wr_clock clock;
    struct wr_firing busiest[WR_GUARD_NAMES];
    wr_clock_init(&clock, 0.0, TIMERS);
    check_count(wr_clock_busiest(&clock, busiest), 0, "timers listed before any acted");
    static const uint32_t acts[] = {11, 5, 5, 0, 9, 9, 9, 3, 4, 6, 7, 8, 10, 5, 9, 11};
    for (size_t i = 0; i < sizeof acts / sizeof *acts; i++) {
        clock.guard.last_acts[clock.guard.acts++] = acts[i];
    }
    static const struct wr_firing expected[WR_GUARD_NAMES] = {{9, 4}, {5, 3}, {11, 2}, {0, 1},
                                                              {3, 1}, {4, 1}, {6, 1},  {7, 1}};
    check_count(wr_clock_busiest(&clock, busiest), WR_GUARD_NAMES, "timers listed of ten that acted");
    for (size_t i = 0; i < WR_GUARD_NAMES; i++) {
        check_count(busiest[i].timer, expected[i].timer, "timer listed");
        check_count(busiest[i].times, expected[i].times, "its acts");
    }
}

/* Two tanks and one stream -------------------------------------------------------------------------------------------
 */

/* Two tanks, both at 1, each drained by 0.5 a second; an inflow of 0.75 goes to one of them until the other is empty,
 * and then over to that. The switches come ever faster and pile up at 8 s: in all 0.25 a second is lost of 2. */
struct tanks {
    struct wr_timers timers; /* one per tank: it is empty */
    double memory[8];
    double level[2];
    size_t filling;
    double switches[64]; /* s, the first ones */
    size_t switched;
};
static const double inflow = 0.75, drain = 0.5;

static void tanks_advance(void *context, double from, double to)
{
    struct tanks *tanks = context;
    for (size_t i = 0; i < 2; i++) {
        tanks->level[i] += ((i == tanks->filling ? inflow : 0.0) - drain) * (to - from);
    }
}

static void tanks_act(void *context, size_t timer, double now)
{
    struct tanks *tanks = context;
    tanks->level[timer] = 0.0; /* exactly */
    tanks->filling = timer;
    if (tanks->switched < 64) {
        tanks->switches[tanks->switched++] = now;
    }
}

static void tanks_settle(void *context, double now)
{
    struct tanks *tanks = context;
    const size_t draining = 1 - tanks->filling;
    wr_timers_set(&tanks->timers, tanks->filling, WR_NEVER);
    wr_timers_set(&tanks->timers, draining, now + tanks->level[draining] / drain);
}

static void tanks_close(void *context, double now)
{
    (void)context, (void)now;
}

static void tank_name(void *context, size_t timer, char *text, size_t size)
{
    (void)context;
    snprintf(text, size, "tank %zu empty", timer + 1);
}

static void test_two_tanks_are_stopped_where_their_switches_pile_up(void **state)
{
    (void)state;
    struct tanks tanks = {.level = {1.0, 1.0}, .filling = 0};
    assert_true(wr_timers_size(2) <= sizeof tanks.memory);
    wr_timers_init(&tanks.timers, 2, tanks.memory);
    tanks_settle(&tanks, 0.0);
    struct wr_clock clock;
    wr_clock_init(&clock, 0.0, 2);
    const struct wr_heart heart = {
        .context = &tanks, .advance = tanks_advance, .act = tanks_act, .settle = tanks_settle, .close = tanks_close};
    check_count(wr_engine_run(&tanks.timers, &heart, &clock, 100.0), WR_ENGINE_TOO_MANY_ROUNDS, "status");
    static const double first[] = {2.0, 5.0, 6.5, 7.25};
    for (size_t i = 0; i < sizeof first / sizeof *first; i++) {
        check(tanks.switches[i], first[i], 0.0, "one of the first switches, s, by hand");
    }
    for (size_t i = 0; i < 40; i++) {
        check(tanks.switches[i], 8.0 - ldexp(6.0, -(int)i), 1e-14, "switch i, s: 8 - 6/2^i, by hand");
    }
    check(clock.now, 8.0, 1e-14, "time of the stop, s, by hand");
    char text[400];
    wr_engine_explain(WR_ENGINE_TOO_MANY_ROUNDS, &clock, tank_name, NULL, text, sizeof text);
    check_holds(text, "more than 1016 rounds at one instant; kept firing: tank 1 empty (64 of", "message");
    check_holds(text, "tank 2 empty (64 of", "message");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_usual_bounds),
        cmocka_unit_test(test_too_many_rounds_names_who_kept_firing),
        cmocka_unit_test(test_rounds_up_to_the_bound_pass),
        cmocka_unit_test(test_beats_are_counted_by_the_hour),
        cmocka_unit_test(test_too_many_beats_names_who_kept_firing),
        cmocka_unit_test(test_no_message_without_a_stop),
        cmocka_unit_test(test_a_message_is_cut_to_its_room),
        cmocka_unit_test(test_the_busiest_are_listed_in_order),
        cmocka_unit_test(test_two_tanks_are_stopped_where_their_switches_pile_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
