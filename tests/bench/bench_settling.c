/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What settling adds to a run: a year of scenarios/iron-four.json with tanks that settle by the clock, by classes of
 * particles and in zones, and by classes with a blanket of sludge. All in one run, by turns; medians of repeats, times
 * of the processor, building the plant and closing its books included.
 *
 *     bench_settling [REPEATS [DAYS]]
 *
 * Velocities are invented. Each way must start two washes a day, else the exit status is 1. Aimed at: classes add at
 * most half to the time by the clock.
 */
#include "sim/scenario/read.h"
#include "sim/study/run.h"
#include "sim/washrota.h"
#include "tests/bench/bench.h"

enum { MOST_REPEATS = 101 };

#define TANKS                                                                                                          \
    "{\"tanks\":[{\"volume\":\"11500 gal\",\"depth\":\"9 ft\"},{\"volume\":\"11500 gal\",\"depth\":\"9 ft\"}],"
#define OUTLETS "\"outlets\":[{\"kind\":\"recycle\"},{\"kind\":\"sewer\",\"rate\":\"30 gal/min\"}]}"
#define CLASSES                                                                                                        \
    "\"settling\":{\"law\":\"classes\",\"clear_at\":\"20 mg/L\",\"start_after\":\"2 h\",\"classes\":["                 \
    "{\"share\":\"70 %\",\"velocity\":\"1.2 m/h\"},{\"share\":\"25 %\",\"velocity\":\"0.4 m/h\"},"                     \
    "{\"share\":\"5 %\",\"velocity\":\"0.1 m/h\"}]},"

static const struct {
    const char *name, *setting;
} ways[] = {
    {"by the clock", "/spent_wash=" TANKS "\"settling\":{\"law\":\"clock\",\"time\":\"6 h\"}," OUTLETS},
    {"by classes", "/spent_wash=" TANKS CLASSES OUTLETS},
    {"in zones", "/spent_wash=" TANKS "\"settling\":{\"law\":\"zone\",\"zone\":{\"velocity\":\"1.5 m/h\","
                 "\"hindrance\":\"0.7 m3/kg\",\"greatest_concentration\":\"12000 mg/L\"}}," OUTLETS},
    {"by classes, blanket", "/spent_wash=" TANKS CLASSES "\"sludge\":{\"drawn\":\"by_level\"}," OUTLETS},
};

enum { WAYS = sizeof ways / sizeof *ways };

static void fail(const char *what)
{
    fprintf(stderr, "bench_settling: %s\n", what);
    exit(3);
}

static void read_way(struct wr_reading *reading, const char *setting, size_t days)
{
    char horizon[64];
    snprintf(horizon, sizeof horizon, "/horizon=%zu d", days);
    const char *const settings[] = {setting, horizon};
    wr_reading_file(reading, WR_ROOT "/scenarios/iron-four.json", settings, 2);
    if (!reading->good) {
        fputs(wr_reading_complaints_text(reading), stderr);
        fail("the plant has complaints");
    }
}

struct measured {
    double seconds[MOST_REPEATS];
    size_t instants, washes;
};

static void measure(struct measured *measured, const struct wr_definition *definition, size_t repeat)
{
    struct wr_run run;
    const struct wr_run_options options = {.keeps_lists = true};
    const double start = bench_processor_seconds();
    wr_run_make(&run, definition, &options);
    measured->seconds[repeat] = bench_processor_seconds() - start;
    if (run.end != WR_RUN_WHOLE) {
        fail(run.message);
    }
    measured->instants = (size_t)run.simulation.state->clock.beats;
    measured->washes = run.record.balance.washes;
    wr_run_fini(&run);
}

static bool print_ways(struct measured *measured, size_t repeats, size_t days)
{
    bool washes = true;
    const double clock = bench_median(measured[0].seconds, repeats);
    printf("%zu days of four filters, medians of %zu repeats by turns\n", days, repeats);
    printf("%-20s %9s %8s %9s %12s\n", "settling", "instants", "washes", "ms", "to the clock");
    for (size_t i = 0; i < WAYS; i++) {
        const double seconds = bench_median(measured[i].seconds, repeats);
        printf("%-20s %9zu %8zu %9.3f %12.2f\n", ways[i].name, measured[i].instants, measured[i].washes, 1e3 * seconds,
               seconds / clock);
        washes = washes && measured[i].washes >= days * 2;
    }
    return washes;
}

int main(int argc, char **argv)
{
    static struct wr_reading readings[WAYS];
    static struct measured measured[WAYS];
    const size_t repeats = bench_argument(argc, argv, 1, 25, 1, MOST_REPEATS);
    const size_t days = bench_argument(argc, argv, 2, 365, 1, 3650);
    wr_library_open();
    for (size_t i = 0; i < WAYS; i++) {
        read_way(&readings[i], ways[i].setting, days);
    }
    for (size_t repeat = 0; repeat < repeats; repeat++) {
        for (size_t i = 0; i < WAYS; i++) {
            measure(&measured[i], &readings[i].definition, repeat);
        }
    }
    const bool washes = print_ways(measured, repeats, days);
    for (size_t i = 0; i < WAYS; i++) {
        wr_reading_fini(&readings[i]);
    }
    wr_library_close();
    if (!washes) {
        fputs("bench_settling: too few washes\n", stderr);
    }
    return washes ? EXIT_SUCCESS : EXIT_FAILURE;
}
