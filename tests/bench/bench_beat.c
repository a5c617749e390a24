/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a beat costs in the engine alone: the loop of one instant over a fixed set of timers, each beat one act and half
 * of all timers set anew (in a plant every beat moves the flows, and with them every filter's next call). The heart
 * does nothing else, and its times come from a table made beforehand. Medians of repeats, in ns a beat.
 *
 *     bench_beat [REPEATS [BEATS]]
 *
 * Beats are instants; their number is counted by the clock and by the heart, and must agree: else the exit status is 1.
 */
#include "sim/engine/instant.h"
#include "sim/engine/philox.h"
#include "tests/bench/bench.h"

enum { DRAWS = 1 << 18, MOST_REPEATS = 101, MOST_TIMERS = 512 };

struct model {
    struct wr_timers timers;
    const double *draws; /* s */
    size_t next_draw;
    bool together; /* set by one call, not one by one */
    size_t acted;
    uint64_t acts, closed;
};

static double draw_time(struct model *model, double now)
{
    return now + model->draws[model->next_draw++ % DRAWS];
}

static void advance(void *context, double from, double to)
{
    (void)context, (void)from, (void)to;
}

static void act(void *context, size_t timer, double now)
{
    (void)now;
    struct model *model = context;
    model->acted = timer;
    model->acts++;
}

/* Sets the timer that acted and the upper or the lower half of all, by turns. */
static void settle(void *context, double now)
{
    struct model *model = context;
    struct wr_timers *timers = &model->timers;
    const size_t half = timers->count / 2, first = model->acts & 1 ? half : 0;
    wr_timers_set(timers, model->acted, draw_time(model, now));
    double times[MOST_TIMERS / 2];
    for (size_t i = 0; i < half; i++) {
        times[i] = draw_time(model, now);
    }
    if (model->together) {
        wr_timers_set_range(timers, first, half, times);
        return;
    }
    for (size_t i = 0; i < half; i++) {
        wr_timers_set(timers, first + i, times[i]);
    }
}

static void close_instant(void *context, double now)
{
    (void)now;
    struct model *model = context;
    model->closed++;
}

/* Runs about `beats` beats; returns ns a beat, or a negative number when the counts do not agree. */
static double run(const double *draws, size_t timers, double beats, bool together)
{
    struct model model = {.draws = draws, .together = together};
    void *memory = bench_allocate(wr_timers_size(timers));
    wr_timers_init(&model.timers, timers, memory);
    for (size_t i = 0; i < timers; i++) {
        wr_timers_set(&model.timers, i, draw_time(&model, 0.0));
    }
    const struct wr_heart heart = {
        .context = &model, .advance = advance, .act = act, .settle = settle, .close = close_instant};
    struct wr_clock clock;
    wr_clock_init(&clock, 0.0, timers);
    clock.guard.most_beats_per_hour = UINT64_MAX;
    const double start = bench_seconds();
    /* Timers come due at one per mean draw (1 s) each. */
    const enum wr_engine_status status = wr_engine_run(&model.timers, &heart, &clock, beats / (double)timers);
    const double seconds = bench_seconds() - start;
    free(memory);
    const bool agrees = status == WR_ENGINE_OK && clock.beats == model.closed && model.acts >= model.closed;
    return agrees && clock.beats > 0 ? 1e9 * seconds / (double)clock.beats : -1.0;
}

int main(int argc, char **argv)
{
    static const size_t sizes[] = {8, 30, 128, MOST_TIMERS};
    const size_t repeats = bench_argument(argc, argv, 1, 15, 1, MOST_REPEATS);
    const size_t beats = bench_argument(argc, argv, 2, 200000, 1, 1000000000);
    double *draws = bench_allocate(DRAWS * sizeof *draws);
    gsl_rng *rng = gsl_rng_alloc(wr_rng_philox);
    for (size_t i = 0; i < DRAWS; i++) {
        draws[i] = -log1p(-gsl_rng_uniform(rng));
    }
    gsl_rng_free(rng);
    printf("beats with half of the timers set anew, %zu repeats of about %zu, medians in ns a beat\n", repeats, beats);
    printf("%8s %12s %12s %12s\n", "timers", "sets a beat", "one by one", "together");
    bool agrees = true;
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        double single[MOST_REPEATS], together[MOST_REPEATS];
        for (size_t j = 0; j < repeats; j++) {
            single[j] = run(draws, sizes[i], (double)beats, false);
            together[j] = run(draws, sizes[i], (double)beats, true);
            agrees = agrees && single[j] >= 0.0 && together[j] >= 0.0;
        }
        printf("%8zu %12zu %12.1f %12.1f\n", sizes[i], sizes[i] / 2 + 2, bench_median(single, repeats),
               bench_median(together, repeats));
    }
    free(draws);
    if (!agrees) {
        fputs("bench_beat: beats counted by clock and heart differ\n", stderr);
    }
    return agrees ? EXIT_SUCCESS : EXIT_FAILURE;
}
