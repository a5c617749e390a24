/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * The hold model: n things pending, the earliest is taken and put back at its time plus a draw of mean 1. Winner tree
 * against a plain binary heap, both calling the thing's function through a pointer and reading the same draws, made
 * beforehand. Repeats of the two alternate in one process; the table shows the medians and their ratio.
 *
 *     bench_hold [REPEATS [POPS]]
 *
 * Both must have popped the same times in the same order, or the figures mean nothing: then the exit status is 1.
 */
#include "sim/engine/philox.h"
#include "sim/engine/timers.h"
#include "tests/bench/bench.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { DRAWS = 1 << 20, MOST_REPEATS = 101 };

/* What happened in one timed run. */
struct outcome {
    uint64_t popped;
    double last; /* time of the last pop */
    double sum;  /* of the times popped: tells a different order */
    double seconds;
};

/* The draws, and the place of the next. */
struct source {
    const double *draws;
    size_t next;
};

static inline double draw(struct source *source)
{
    return source->draws[source->next++ % DRAWS];
}

/* Winner tree --------------------------------------------------------------------------------------------------------
 */

struct tree_model {
    struct wr_timers timers;
    struct source source;
    struct outcome outcome;
};

typedef void tree_act(struct tree_model *model, size_t timer, double now);

static void tree_hold(struct tree_model *model, size_t timer, double now)
{
    wr_timers_set(&model->timers, timer, now + draw(&model->source));
}

static struct outcome run_tree(const double *draws, size_t pending, uint64_t pops)
{
    struct tree_model model = {.source = {.draws = draws}};
    void *memory = bench_allocate(wr_timers_size(pending));
    wr_timers_init(&model.timers, pending, memory);
    for (size_t i = 0; i < pending; i++) {
        wr_timers_set(&model.timers, i, draw(&model.source));
    }
    tree_act *volatile act = tree_hold; /* volatile: no compiler may see through the call */
    tree_act *const called = act;
    const double start = bench_seconds();
    while (model.outcome.popped < pops) {
        size_t timer;
        const double now = wr_timers_next(&model.timers, &timer);
        model.outcome.popped++;
        model.outcome.sum += now;
        model.outcome.last = now;
        called(&model, timer, now);
    }
    model.outcome.seconds = bench_seconds() - start;
    free(memory);
    return model.outcome;
}

/* Plain heap ---------------------------------------------------------------------------------------------------------
 */

struct heap_model;
typedef void heap_act(struct heap_model *model, void *argument);

/* What an event-oriented program commonly puts in its list: when, the order of scheduling for ties, what to do. */
struct event {
    double time;
    uint64_t order;
    heap_act *act;
    void *argument;
};

struct heap_model {
    struct event *events;
    size_t length;
    uint64_t scheduled;
    double now;
    struct source source;
    struct outcome outcome;
};

static bool is_sooner(const struct event *a, const struct event *b)
{
    return a->time < b->time || (a->time == b->time && a->order < b->order);
}

static void schedule(struct heap_model *model, double time, heap_act *act, void *argument)
{
    const struct event event = {time, model->scheduled++, act, argument};
    size_t hole = model->length++;
    while (hole > 0) {
        const size_t parent = (hole - 1) / 2;
        if (!is_sooner(&event, &model->events[parent])) {
            break;
        }
        model->events[hole] = model->events[parent];
        hole = parent;
    }
    model->events[hole] = event;
}

static struct event take_first(struct heap_model *model)
{
    struct event *events = model->events;
    const struct event first = events[0];
    const struct event moved = events[--model->length];
    size_t hole = 0, child = 1;
    while (child < model->length) {
        if (child + 1 < model->length && is_sooner(&events[child + 1], &events[child])) {
            child++;
        }
        if (!is_sooner(&events[child], &moved)) {
            break;
        }
        events[hole] = events[child];
        hole = child;
        child = 2 * hole + 1;
    }
    events[hole] = moved;
    return first;
}

static void heap_hold(struct heap_model *model, void *argument)
{
    schedule(model, model->now + draw(&model->source), heap_hold, argument);
}

static struct outcome run_heap(const double *draws, size_t pending, uint64_t pops)
{
    struct heap_model model = {.source = {.draws = draws}};
    model.events = bench_allocate(pending * sizeof *model.events);
    for (size_t i = 0; i < pending; i++) {
        schedule(&model, draw(&model.source), heap_hold, NULL);
    }
    const double start = bench_seconds();
    while (model.outcome.popped < pops) {
        const struct event event = take_first(&model);
        model.now = event.time;
        model.outcome.popped++;
        model.outcome.sum += event.time;
        model.outcome.last = event.time;
        event.act(&model, event.argument);
    }
    model.outcome.seconds = bench_seconds() - start;
    free(model.events);
    return model.outcome;
}

/* Comparison ---------------------------------------------------------------------------------------------------------
 */

/* One row: interleaved repeats of both at one number pending. False when they did not do the same. */
static bool compare(const double *draws, size_t pending, uint64_t pops, size_t repeats)
{
    double tree[MOST_REPEATS], heap[MOST_REPEATS];
    for (size_t i = 0; i < repeats; i++) {
        const struct outcome a = run_tree(draws, pending, pops);
        const struct outcome b = run_heap(draws, pending, pops);
        if (a.popped != pops || b.popped != pops || a.last != b.last || a.sum != b.sum) {
            fprintf(stderr, "bench_hold: tree and heap differ at %zu pending\n", pending);
            return false;
        }
        tree[i] = a.seconds;
        heap[i] = b.seconds;
    }
    const double to_ns = 1e9 / (double)pops;
    const double tree_ns = bench_median(tree, repeats) * to_ns;
    const double heap_ns = bench_median(heap, repeats) * to_ns;
    printf("%8zu %12.2f %12.2f %8.2f\n", pending, tree_ns, heap_ns, heap_ns / tree_ns);
    return true;
}

/* Draws of an exponential distribution of mean 1, on a fixed seed. */
static double *make_draws(void)
{
    double *draws = bench_allocate(DRAWS * sizeof *draws);
    gsl_rng *rng = gsl_rng_alloc(wr_rng_philox);
    for (size_t i = 0; i < DRAWS; i++) {
        draws[i] = -log1p(-gsl_rng_uniform(rng));
    }
    gsl_rng_free(rng);
    return draws;
}

int main(int argc, char **argv)
{
    static const size_t sizes[] = {2, 10, 100, 1000, 10000};
    const size_t repeats = bench_argument(argc, argv, 1, 15, 1, MOST_REPEATS);
    const uint64_t pops = bench_argument(argc, argv, 2, 500000, 1, 1000000000);
    double *draws = make_draws();
    bool same = true;
    printf("hold model, %zu interleaved repeats of %llu pops, medians in ns a pop\n", repeats,
           (unsigned long long)pops);
    printf("%8s %12s %12s %8s\n", "pending", "winner tree", "plain heap", "ratio");
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes && same; i++) {
        same = compare(draws, sizes[i], pops, repeats);
    }
    free(draws);
    return same ? EXIT_SUCCESS : EXIT_FAILURE;
}
