/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * A year of a small town with three filters: by events, and by the twin in fixed steps of a minute and of a second. All
 * on one core, in one run, by turns; medians of repeats.
 *
 *     bench_twin [REPEATS [DAYS]]
 *
 * The event simulation tells an observer that does nothing. Times are of the processor, so that what else runs on the
 * machine counts little. Wash starts are counted in each; where a count is off by more than one in fifty (each wash
 * begins a few steps late, and one decision that falls the other way splits the histories), the exit status is 1.
 * Aimed at: 300 times faster than the twin at a second, 5 times faster than at a minute.
 */
#include "sim/plant/simulation.h"
#include "tests/bench/bench.h"
#include "tests/plant/scene.h"
#include "tests/plant/twin.h"

#include <math.h>

enum { MOST_REPEATS = 101, EVENTS_A_REPEAT = 20 };

static const double DAY = 86400.0, MINUTE = 60.0, SECOND = 1.0;

static void ignore_event(void *context, const struct wr_simulation *simulation, const struct wr_event *event)
{
    (void)simulation;
    *(size_t *)context += event->kind == WR_EVENT_WASH_STARTED;
}

static void ignore_instant(void *context, const struct wr_simulation *simulation)
{
    (void)context, (void)simulation;
}

struct measured {
    double seconds; /* of one run */
    size_t washes;
    double beats, rounds; /* of the event simulation; steps of the twin */
};

static void fail(const char *what)
{
    fprintf(stderr, "bench_twin: %s\n", what);
    exit(3);
}

/* One run by events, the mean of some straight after each other: one is too short for the clock to see well. */
static struct measured run_events(const struct wr_plant *plant, double until)
{
    struct measured measured = {0};
    const double start = bench_processor_seconds();
    for (int i = 0; i < EVENTS_A_REPEAT; i++) {
        struct wr_simulation simulation;
        measured.washes = 0;
        const struct wr_observer observer = {
            .context = &measured.washes, .event = ignore_event, .instant = ignore_instant};
        if (!wr_simulation_init(&simulation, plant, &observer)) {
            fail("out of memory");
        }
        if (wr_simulation_run(&simulation, until) != WR_ENGINE_OK) {
            fail("the event run stopped");
        }
        wr_simulation_end(&simulation);
        measured.beats = (double)simulation.state->clock.beats;
        measured.rounds = (double)simulation.state->clock.rounds;
        wr_simulation_fini(&simulation);
    }
    measured.seconds = (bench_processor_seconds() - start) / EVENTS_A_REPEAT;
    return measured;
}

static struct measured run_twin(const struct wr_plant *plant, double until, double step)
{
    struct twin_result result;
    const double start = bench_processor_seconds();
    if (!twin_run(plant, step, until, &result)) {
        fail("the twin stopped");
    }
    const struct measured measured = {bench_processor_seconds() - start, result.start_count, (double)result.steps, 0.0};
    twin_result_fini(&result);
    return measured;
}

/* Prints a row; true when the counts agree. */
static bool print_twin(const char *name, struct measured twin, struct measured events, size_t filters)
{
    printf("%-16s %10.1f %10.1f %14.2f %8zu %10.1f\n", name, 1e3 * twin.seconds, 1e9 * twin.seconds / twin.beats,
           1e9 * twin.seconds / twin.beats / (double)filters, twin.washes, twin.seconds / events.seconds);
    const double apart = fabs((double)twin.washes - (double)events.washes);
    if (apart > 1.0 + 0.02 * (double)events.washes) {
        fprintf(stderr, "bench_twin: wash starts of %s and of the event run differ\n", name);
        return false;
    }
    return true;
}

int main(int argc, char **argv)
{
    const size_t repeats = bench_argument(argc, argv, 1, 5, 1, MOST_REPEATS);
    const size_t days = bench_argument(argc, argv, 2, 365, 1, 3650);
    static struct scene town;
    struct wr_plant plant;
    scene_small_town(&town);
    if (wr_plant_init(&plant, &town.definition) != WR_OK) {
        fail("the town cannot be built");
    }
    const double until = (double)days * DAY;
    double events_seconds[MOST_REPEATS], minute_seconds[MOST_REPEATS], second_seconds[MOST_REPEATS];
    struct measured events = {0}, minute = {0}, second = {0};
    for (size_t i = 0; i < repeats; i++) {
        events = run_events(&plant, until);
        events_seconds[i] = events.seconds;
        minute = run_twin(&plant, until, MINUTE);
        minute_seconds[i] = minute.seconds;
        second = run_twin(&plant, until, SECOND);
        second_seconds[i] = second.seconds;
    }
    events.seconds = bench_median(events_seconds, repeats);
    minute.seconds = bench_median(minute_seconds, repeats);
    second.seconds = bench_median(second_seconds, repeats);
    printf("%zu days of %zu filters, medians of %zu repeats by turns\n", days, plant.filter_count, repeats);
    printf("by events: %.3f ms, %.0f instants, %.0f rounds, %.0f ns an instant, %zu washes\n", 1e3 * events.seconds,
           events.beats, events.rounds, 1e9 * events.seconds / events.beats, events.washes);
    printf("%-16s %10s %10s %14s %8s %10s\n", "in fixed steps", "ms", "ns a step", "ns filter-step", "washes",
           "to events");
    const bool minute_agrees = print_twin("twin at 1 min", minute, events, plant.filter_count);
    const bool second_agrees = print_twin("twin at 1 s", second, events, plant.filter_count);
    wr_plant_fini(&plant);
    return minute_agrees && second_agrees ? EXIT_SUCCESS : EXIT_FAILURE;
}
