/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The loop of one instant: who acts when, the half-open horizon, and a run cut in two. Each heart here writes what it
 * is told into a log, and what the log must hold follows from the contract in sim/engine/instant.h. */
#include "sim/engine/instant.h"
#include "sim/engine/philox.h"
#include "tests/support/check.h"

#include <stdio.h>
#include <stdlib.h>

enum { TIMERS = 8, LOG = 4096 };

/* A time to set a timer to when another has acted, or when a round is settled. */
struct order {
    size_t after; /* the timer that must act, or SETTLED */
    size_t timer;
    double time;
};
enum { SETTLED = 1000, ORDERS = 4 };

/* A heart with a script: each order is carried out once. */
struct script {
    struct wr_timers timers;
    struct wr_clock clock;
    struct order orders[ORDERS];
    size_t count; /* of orders */
    bool stop;    /* ends the run after the instant */
    char log[LOG];
};

static void write_log(struct script *script, const char *what, double a, double b)
{
    const size_t used = strlen(script->log);
    snprintf(script->log + used, LOG - used, b < 0.0 ? "%s %g; " : "%s %g-%g; ", what, a, b);
}

static void obey(struct script *script, size_t after)
{
    for (size_t i = 0; i < script->count; i++) {
        if (script->orders[i].after == after) {
            script->orders[i].after = SIZE_MAX;
            wr_timers_set(&script->timers, script->orders[i].timer, script->orders[i].time);
        }
    }
}

static void advance(void *context, double from, double to)
{
    write_log(context, "advance", from, to);
}

static void act(void *context, size_t timer, double now)
{
    struct script *script = context;
    check(now, script->clock.now, 0.0, "time of an act, s, against the clock");
    check(wr_timers_time(&script->timers, timer), WR_NEVER, 0.0, "time of a timer that acts");
    write_log(script, "act", (double)timer, -1.0);
    obey(script, timer);
}

static void settle(void *context, double now)
{
    write_log(context, "settle", now, -1.0);
    obey(context, SETTLED);
}

static void close_instant(void *context, double now)
{
    write_log(context, "close", now, -1.0);
}

/* A script of no orders, all timers stopped, the clock at a start. */
static struct script *make(double start)
{
    struct script *script = calloc(1, sizeof *script);
    void *memory = malloc(wr_timers_size(TIMERS));
    assert_non_null(script);
    assert_non_null(memory);
    wr_timers_init(&script->timers, TIMERS, memory);
    wr_clock_init(&script->clock, start, TIMERS);
    return script;
}

static void drop(struct script *script)
{
    free(script->timers.ranks);
    free(script);
}

static void give_order(struct script *script, size_t after, size_t timer, double time)
{
    assert_true(script->count < ORDERS);
    script->orders[script->count++] = (struct order){after, timer, time};
}

/* Runs to a horizon, which must succeed, and compares the log of this call and where the clock then stands. */
static void check_run_to(struct script *script, double until, double end, const char *log)
{
    script->log[0] = '\0';
    const struct wr_heart heart = {.context = script,
                                   .advance = advance,
                                   .act = act,
                                   .settle = settle,
                                   .close = close_instant,
                                   .stop = &script->stop};
    check_count(wr_engine_run(&script->timers, &heart, &script->clock, until), WR_ENGINE_OK, "status of a run");
    check(script->clock.now, end, 0.0, "time after a run, s");
    check_text(script->log, log, "log of a run");
}

static void check_run(struct script *script, double until, const char *log)
{
    check_run_to(script, until, until, log);
}

static void test_nothing_due_only_advances(void **state)
{
    (void)state;
    struct script *script = make(0.0);
    check_run(script, 10.0, "advance 0-10; ");
    check_run(script, 10.0, "");
    check_count(script->clock.beats, 0, "beats with nothing due");
    drop(script);
}

static void test_all_due_act_by_number_then_one_settle(void **state)
{
    (void)state;
    struct script *script = make(0.0);
    wr_timers_set(&script->timers, 6, 3.0);
    wr_timers_set(&script->timers, 1, 3.0);
    wr_timers_set(&script->timers, 4, 3.0);
    wr_timers_set(&script->timers, 0, 5.0);
    check_run(script, 9.0,
              "advance 0-3; act 1; act 4; act 6; settle 3; close 3; "
              "advance 3-5; act 0; settle 5; close 5; advance 5-9; ");
    check_count(script->clock.beats, 2, "beats");
    check_count(script->clock.rounds, 2, "rounds");
    drop(script);
}

/* Timers set in the past are due at once, all together, by number and not by time; time does not go back. */
static void test_past_timers_act_by_number(void **state)
{
    (void)state;
    struct script *script = make(5.0);
    wr_timers_set(&script->timers, 7, -3.0);
    wr_timers_set(&script->timers, 2, 5.0);
    wr_timers_set(&script->timers, 3, 1.0);
    check_run(script, 6.0, "act 2; act 3; act 7; settle 5; close 5; advance 5-6; ");
    drop(script);
}

static void test_settling_may_make_a_further_round(void **state)
{
    (void)state;
    struct script *script = make(0.0);
    wr_timers_set(&script->timers, 5, 2.0);
    give_order(script, SETTLED, 3, 2.0);
    check_run(script, 4.0, "advance 0-2; act 5; settle 2; act 3; settle 2; close 2; advance 2-4; ");
    check_count(script->clock.beats, 1, "beats of one instant in two rounds");
    check_count(script->clock.rounds, 2, "rounds");
    drop(script);
}

/* What an act makes due behind its own place waits for the next round, ahead of it is served in this one. */
static void test_acts_may_make_others_due(void **state)
{
    (void)state;
    struct script *script = make(0.0);
    wr_timers_set(&script->timers, 4, 2.0);
    wr_timers_set(&script->timers, 6, 2.0);
    give_order(script, 4, 1, 2.0);
    give_order(script, 4, 5, 2.0);
    give_order(script, 6, 2, 1.0);
    check_run(script, 3.0,
              "advance 0-2; act 4; act 5; act 6; settle 2; act 1; act 2; settle 2; close 2; advance 2-3; ");
    drop(script);
}

static void test_a_timer_may_set_itself_due_again(void **state)
{
    (void)state;
    struct script *script = make(0.0);
    wr_timers_set(&script->timers, 3, 2.0);
    give_order(script, 3, 3, 2.0);
    check_run(script, 3.0, "advance 0-2; act 3; settle 2; act 3; settle 2; close 2; advance 2-3; ");
    drop(script);
}

static void test_an_act_may_call_off_a_later_one(void **state)
{
    (void)state;
    struct script *script = make(0.0);
    wr_timers_set(&script->timers, 3, 2.0);
    wr_timers_set(&script->timers, 5, 2.0);
    give_order(script, 3, 5, WR_NEVER);
    check_run(script, 3.0, "advance 0-2; act 3; settle 2; close 2; advance 2-3; ");
    drop(script);
}

/* What falls at the horizon does not happen before it, and happens first when the run goes on. */
static void test_the_horizon_is_half_open(void **state)
{
    (void)state;
    struct script *script = make(0.0);
    wr_timers_set(&script->timers, 0, 0.0);
    wr_timers_set(&script->timers, 2, 7.0);
    wr_timers_set(&script->timers, 3, nextafter(7.0, 0.0));
    check_run(script, 7.0, "act 0; settle 0; close 0; advance 0-7; act 3; settle 7; close 7; advance 7-7; ");
    check(wr_timers_time(&script->timers, 2), 7.0, 0.0, "timer at the horizon, s");
    check_run(script, 8.0, "act 2; settle 7; close 7; advance 7-8; ");
    drop(script);
}

/* Asked to stop, a run closes its instant, stands there, and may be gone on with. */
static void test_a_run_may_be_stopped(void **state)
{
    (void)state;
    struct script *script = make(0.0);
    wr_timers_set(&script->timers, 2, 3.0);
    wr_timers_set(&script->timers, 1, 4.0);
    script->stop = true;
    check_run_to(script, 9.0, 3.0, "advance 0-3; act 2; settle 3; close 3; ");
    script->stop = false;
    check_run(script, 9.0, "advance 3-4; act 1; settle 4; close 4; advance 4-9; ");
    drop(script);
}

/* A run cut in two ----------------------------------------------------------------------------------------------------
 */

/* A random model, all of its state one block: who acts sets others to random times, on a grid so that ties and beats at
 * the cuts are common. */
enum { GRID_TIMERS = 12, GRID_ACTS = 20000 };

struct grid_state {
    struct wr_clock clock;
    struct wr_philox draws;
    double timers[64];
    size_t acts, instants;
    struct {
        double time;
        size_t timer;
    } acted[GRID_ACTS];
    double advanced; /* s, sum of all advances */
};

struct grid {
    struct wr_timers timers;
    struct grid_state *state;
};

static gsl_rng grid_rng(struct grid *grid)
{
    return (gsl_rng){wr_rng_philox, &grid->state->draws};
}

/* Now in one of six (a further round), else up to 8 s from now in steps of half a second. */
static double grid_time(const gsl_rng *rng, double now)
{
    return gsl_rng_uniform_int(rng, 6) ? now + 0.5 * (double)gsl_rng_uniform_int(rng, 17) : now;
}

static void grid_advance(void *context, double from, double to)
{
    struct grid *grid = context;
    check_true(from < to, "an advance has a length");
    check(from, grid->state->advanced, 0.0, "start of an advance, s, against the sum of those before");
    grid->state->advanced += to - from;
}

static void grid_act(void *context, size_t timer, double now)
{
    struct grid_state *state = ((struct grid *)context)->state;
    assert_true(state->acts < GRID_ACTS);
    state->acted[state->acts].time = now;
    state->acted[state->acts++].timer = timer;
}

static void grid_settle(void *context, double now)
{
    struct grid *grid = context;
    const gsl_rng rng = grid_rng(grid);
    for (size_t i = 0; i < 2; i++) {
        wr_timers_set(&grid->timers, gsl_rng_uniform_int(&rng, GRID_TIMERS), grid_time(&rng, now));
    }
}

static void grid_close(void *context, double now)
{
    struct grid *grid = context;
    (void)now;
    grid->state->instants++;
    /* Never stand still: the model must have something to do. */
    const gsl_rng rng = grid_rng(grid);
    wr_timers_set(&grid->timers, gsl_rng_uniform_int(&rng, GRID_TIMERS), now + 0.5);
}

static struct grid make_grid(void)
{
    struct grid grid = {.state = calloc(1, sizeof *grid.state)};
    assert_non_null(grid.state);
    assert_true(wr_timers_size(GRID_TIMERS) <= sizeof grid.state->timers);
    wr_timers_init(&grid.timers, GRID_TIMERS, grid.state->timers);
    wr_clock_init(&grid.state->clock, 0.0, GRID_TIMERS);
    gsl_rng rng = grid_rng(&grid);
    wr_philox_open(&rng, (struct wr_stream){.seed = 3});
    wr_timers_set(&grid.timers, 0, 0.0);
    return grid;
}

static void run_grid(struct grid *grid, double until)
{
    const struct wr_heart heart = {
        .context = grid, .advance = grid_advance, .act = grid_act, .settle = grid_settle, .close = grid_close};
    check_count(wr_engine_run(&grid->timers, &heart, &grid->state->clock, until), WR_ENGINE_OK, "status of a run");
}

/* Saves the state as bytes and goes on from a copy of them elsewhere. */
static void move_grid(struct grid *grid)
{
    struct grid_state *copy = malloc(sizeof *copy);
    assert_non_null(copy);
    memcpy(copy, grid->state, sizeof *copy);
    memset(grid->state, 0xEE, sizeof *copy);
    free(grid->state);
    grid->state = copy;
    wr_timers_attach(&grid->timers, GRID_TIMERS, copy->timers);
}

/* The same bytes at the end, whether a run goes through or is cut, saved and moved at horizons on the grid (where beats
 * fall), between them, and twice at one. */
static void test_a_cut_run_is_the_whole_run(void **state)
{
    (void)state;
    enum { LENGTH = 1024 }; /* s; with the cuts a sum of halves and eighths, hence exact */
    struct grid whole = make_grid(), cut = make_grid();
    run_grid(&whole, LENGTH);
    check_true(whole.state->acts > whole.state->instants && whole.state->instants > 1000, "the model is a busy one");
    check_true(whole.state->clock.rounds > whole.state->clock.beats, "the model has further rounds");
    check_count(whole.state->clock.beats, whole.state->instants, "beats against instants closed");
    double horizon = 0.0;
    for (size_t i = 0; horizon < LENGTH; i++) {
        horizon = fmin(LENGTH, horizon + 0.125 * (double)(i * i % 13));
        run_grid(&cut, horizon);
        move_grid(&cut);
    }
    check_true(memcmp(whole.state, cut.state, sizeof *whole.state) == 0, "bytes of a whole and a cut run");
    free(whole.state);
    free(cut.state);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_nothing_due_only_advances),
        cmocka_unit_test(test_all_due_act_by_number_then_one_settle),
        cmocka_unit_test(test_past_timers_act_by_number),
        cmocka_unit_test(test_settling_may_make_a_further_round),
        cmocka_unit_test(test_acts_may_make_others_due),
        cmocka_unit_test(test_a_timer_may_set_itself_due_again),
        cmocka_unit_test(test_an_act_may_call_off_a_later_one),
        cmocka_unit_test(test_the_horizon_is_half_open),
        cmocka_unit_test(test_a_run_may_be_stopped),
        cmocka_unit_test(test_a_cut_run_is_the_whole_run),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
