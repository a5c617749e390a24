/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a whole plant costs: that of scenarios/iron-four.json, and the same plant enlarged to 16, 64 and 256 filters in
 * one group. Demand, storage, wells, tanks and pumps grow in size with the filters, the washes at one time in number.
 * Everything is on: record, lists of washes and spans, habits, books.
 *
 *     bench_plant [REPEATS [DAYS]]        a table: instants, washes, plant-years a second; medians of repeats
 *     bench_plant count FILTERS DAYS      one run for a counter of instructions: prints instants and washes
 *
 * A counter shall count within wr_simulation_run alone; tests/bench/bench.sh has one do so. Times are of the processor
 * and of whole runs, building the plant and closing its books included, reading the scenario left out. Instants are
 * counted by the clock and by an observer, wash starts by the record and by an observer, and must agree, and each
 * filter must have been washed once in two days: else the exit status is 1.
 */
#include "sim/scenario/read.h"
#include "sim/study/run.h"
#include "sim/washrota.h"
#include "tests/bench/bench.h"

#include <string.h>

enum { MOST_REPEATS = 101, MOST_FILTERS = 1024, MOST_DAYS = 3650, SETTING_SIZE = 64 };

static const double YEAR = 365 * 86400.0;

/* What grows with the filters, as the scenario has it for four. */
static const struct {
    const char *pointer;
    double size;
    const char *unit;
} grown[] = {{"/demand/maximum_day", 0.70, "Mgal/d"},
             {"/storage/volume", 600000, "gal"},
             {"/wells/0/flow", 215, "gal/min"},
             {"/wells/1/flow", 215, "gal/min"},
             {"/wells/2/flow", 215, "gal/min"},
             {"/wells/3/flow", 215, "gal/min"},
             {"/wash_water/tank/volume", 20000, "gal"},
             {"/wash_water/tank/refill_rate", 120, "gal/min"},
             {"/spent_wash/tanks/0/volume", 11500, "gal"},
             {"/spent_wash/tanks/1/volume", 11500, "gal"},
             {"/recycle/pump", 41, "gal/min"}};

enum { GROWN = sizeof grown / sizeof *grown };

static void fail(const char *what)
{
    fprintf(stderr, "bench_plant: %s\n", what);
    exit(3);
}

/* Reads the plant with so many filters, a multiple of four, for so many days. */
static void read_plant(struct wr_reading *reading, size_t filters, size_t days)
{
    char texts[GROWN + 3][SETTING_SIZE];
    const char *settings[GROWN + 3];
    const double times = (double)filters / 4;
    for (size_t i = 0; i < GROWN; i++) {
        snprintf(texts[i], SETTING_SIZE, "%s=%.17g %s", grown[i].pointer, grown[i].size * times, grown[i].unit);
    }
    snprintf(texts[GROWN], SETTING_SIZE, "/filters/0/count=%zu", filters);
    snprintf(texts[GROWN + 1], SETTING_SIZE, "/wash/max_simultaneous=%zu", filters / 4);
    snprintf(texts[GROWN + 2], SETTING_SIZE, "/horizon=%zu d", days);
    for (size_t i = 0; i < GROWN + 3; i++) {
        settings[i] = texts[i];
    }
    wr_reading_file(reading, WR_ROOT "/scenarios/iron-four.json", settings, GROWN + 3);
    if (!reading->good) {
        fputs(wr_reading_complaints_text(reading), stderr);
        fail("the plant has complaints");
    }
}

struct measured {
    double seconds; /* of the processor, for one run */
    size_t instants, washes;
    bool agrees;
};

/* What an observer counts for itself. */
struct counted {
    size_t instants, washes;
};

static void count_event(void *context, const struct wr_simulation *simulation, const struct wr_event *event)
{
    (void)simulation;
    ((struct counted *)context)->washes += event->kind == WR_EVENT_WASH_STARTED;
}

static void count_instant(void *context, const struct wr_simulation *simulation)
{
    (void)simulation;
    ((struct counted *)context)->instants++;
}

static struct measured run(const struct wr_definition *definition)
{
    struct wr_run run;
    struct counted counted = {0};
    const struct wr_run_options options = {.keeps_lists = true, .also = {&counted, count_event, count_instant}};
    const double start = bench_processor_seconds();
    wr_run_make(&run, definition, &options);
    struct measured measured = {.seconds = bench_processor_seconds() - start};
    if (run.end != WR_RUN_WHOLE) {
        fail(run.message);
    }
    measured.instants = (size_t)run.simulation.state->clock.beats;
    measured.washes = run.record.balance.washes;
    const double half_days = definition->horizon / (2 * 86400);
    measured.agrees = counted.instants == measured.instants && counted.washes == measured.washes &&
                      measured.washes == run.record.wash_count &&
                      (double)measured.washes >= half_days * (double)run.plant.filter_count;
    wr_run_fini(&run);
    return measured;
}

/* One run, its counts on one line. */
static bool count(size_t filters, size_t days)
{
    struct wr_reading reading;
    read_plant(&reading, filters, days);
    const struct measured measured = run(&reading.definition);
    printf("%zu %zu\n", measured.instants, measured.washes);
    wr_reading_fini(&reading);
    return measured.agrees;
}

/* One row of the table. */
static bool measure(size_t filters, size_t days, size_t repeats)
{
    struct wr_reading reading;
    struct measured measured = {0};
    double seconds[MOST_REPEATS];
    bool agrees = true;
    read_plant(&reading, filters, days);
    for (size_t i = 0; i < repeats; i++) {
        measured = run(&reading.definition);
        seconds[i] = measured.seconds;
        agrees = agrees && measured.agrees;
    }
    const double median = bench_median(seconds, repeats);
    printf("%8zu %10zu %10zu %16.1f %14.0f %12.2f\n", filters, measured.instants, measured.washes,
           reading.definition.horizon / YEAR / median, 1e9 * median / (double)measured.instants,
           1e6 * median / (double)measured.washes);
    wr_reading_fini(&reading);
    return agrees;
}

int main(int argc, char **argv)
{
    static const size_t sizes[] = {4, 16, 64, 256};
    bool agrees = true;
    wr_library_open();
    if (argc == 4 && strcmp(argv[1], "count") == 0) {
        const size_t filters = bench_argument(argc, argv, 2, 4, 4, MOST_FILTERS);
        agrees = count(filters, bench_argument(argc, argv, 3, 30, 1, MOST_DAYS));
    } else {
        const size_t repeats = bench_argument(argc, argv, 1, 9, 1, MOST_REPEATS);
        const size_t days = bench_argument(argc, argv, 2, 365, 1, MOST_DAYS);
        printf("%zu days of a plant, everything on, medians of %zu repeats\n", days, repeats);
        printf("%8s %10s %10s %16s %14s %12s\n", "filters", "instants", "washes", "plant-years a s", "ns an instant",
               "us a wash");
        for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
            agrees = measure(sizes[i], days, repeats) && agrees;
        }
    }
    wr_library_close();
    if (!agrees) {
        fputs("bench_plant: instants or washes are not what they should be\n", stderr);
    }
    return agrees ? EXIT_SUCCESS : EXIT_FAILURE;
}
