/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What a whole plant costs: that of scenarios/iron-four.json, and the same plant enlarged to 16, 64 and 256 filters in
 * one group. Demand, storage, wells, tanks and pumps grow in size with the filters, the washes at one time in number.
 * Everything is on: record, lists of washes and spans, habits, books.
 *
 *     bench_plant [REPEATS [DAYS]]              a table: plant-years a second, by events and by the twin in fixed steps
 *     bench_plant count FILTERS DAYS [apart]    one run for a counter of instructions: prints instants and washes
 *
 * Times are of the processor and of whole runs, building the plant and closing its books included, reading the scenario
 * left out; medians of repeats by turns with the twin's. The twin runs a twelfth of the days in steps of a minute, and
 * a day in steps of a second, or it would take all day; it keeps no record. `apart` lets no two washes start close
 * together, so that none share an instant. A counter shall count within wr_simulation_run alone; tests/bench/bench.sh
 * has one do so, and no observer of the bench's own is there to be counted.
 *
 * In the table instants are counted by the clock and by an observer, wash starts by the record, its list and an
 * observer, and must agree; each filter must have been washed once in two days, and the twin in steps of a minute must
 * have started as many washes as the events in the same days, to one in twenty: else the exit status is 1.
 */
#include "sim/scenario/read.h"
#include "sim/study/run.h"
#include "sim/washrota.h"
#include "tests/bench/bench.h"
#include "tests/plant/twin.h"

#include <math.h>
#include <string.h>

enum { MOST_REPEATS = 101, MOST_FILTERS = 1024, MOST_DAYS = 3650, SETTING_SIZE = 64 };

static const double DAY = 86400.0, YEAR = 365 * 86400.0, MINUTE = 60.0, SECOND = 1.0;

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

/* Time between two starts where washes are kept apart, s, over the number of filters: a third of what they need. */
static const double APART = 9600;

/* Reads the plant with so many filters, a multiple of four, for so many days. */
static void read_plant(struct wr_reading *reading, size_t filters, size_t days, bool apart)
{
    char texts[GROWN + 4][SETTING_SIZE];
    const char *settings[GROWN + 4];
    const double times = (double)filters / 4;
    for (size_t i = 0; i < GROWN; i++) {
        snprintf(texts[i], SETTING_SIZE, "%s=%.17g %s", grown[i].pointer, grown[i].size * times, grown[i].unit);
    }
    snprintf(texts[GROWN], SETTING_SIZE, "/filters/0/count=%zu", filters);
    snprintf(texts[GROWN + 1], SETTING_SIZE, "/wash/max_simultaneous=%zu", filters / 4);
    snprintf(texts[GROWN + 2], SETTING_SIZE, "/horizon=%zu d", days);
    snprintf(texts[GROWN + 3], SETTING_SIZE, "/wash/min_between_starts=%.17g s", apart ? APART / (double)filters : 0);
    for (size_t i = 0; i < GROWN + 4; i++) {
        settings[i] = texts[i];
    }
    wr_reading_file(reading, WR_ROOT "/scenarios/iron-four.json", settings, GROWN + 4);
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

/* One run, with an observer that counts beside the record or with the record alone. */
static struct measured run(const struct wr_definition *definition, bool observed)
{
    struct wr_run run;
    struct counted counted = {0};
    struct wr_run_options options = {.keeps_lists = true};
    if (observed) {
        options.also = (struct wr_observer){.context = &counted, .event = count_event, .instant = count_instant};
    }
    const double start = bench_processor_seconds();
    wr_run_make(&run, definition, &options);
    struct measured measured = {.seconds = bench_processor_seconds() - start};
    if (run.end != WR_RUN_WHOLE) {
        fail(run.message);
    }
    measured.instants = (size_t)run.simulation.state->clock.beats;
    measured.washes = run.record.balance.washes;
    const double half_days = definition->horizon / (2 * DAY);
    const bool as_observed = counted.instants == measured.instants && counted.washes == measured.washes;
    measured.agrees = (as_observed || !observed) && measured.washes == run.record.wash_count &&
                      (double)measured.washes >= half_days * (double)run.plant.filter_count;
    wr_run_fini(&run);
    return measured;
}

/* One run, its counts on one line. */
static bool count(size_t filters, size_t days, bool apart)
{
    struct wr_reading reading;
    read_plant(&reading, filters, days, apart);
    const struct measured measured = run(&reading.definition, false);
    printf("%zu %zu\n", measured.instants, measured.washes);
    wr_reading_fini(&reading);
    return measured.agrees;
}

/* The twin's plant-years in a second of the processor, and the washes it began. */
static double run_twin(const struct wr_definition *definition, double step, double until, size_t *washes)
{
    struct wr_plant plant;
    struct twin_result result;
    if (wr_plant_init(&plant, definition) != WR_OK) {
        fail("the plant cannot be built");
    }
    const double start = bench_processor_seconds();
    if (!twin_run(&plant, step, until, &result)) {
        fail("the twin stopped");
    }
    const double seconds = bench_processor_seconds() - start;
    *washes = result.start_count;
    twin_result_fini(&result);
    wr_plant_fini(&plant);
    return until / YEAR / seconds;
}

/* True when the twin began as many washes as the events in the same time. */
static bool twin_agrees(struct wr_definition *definition, double until, size_t twin_washes)
{
    const double horizon = definition->horizon;
    definition->horizon = until;
    const double washes = (double)run(definition, true).washes;
    definition->horizon = horizon;
    if (fabs((double)twin_washes - washes) <= 1 + washes / 20) {
        return true;
    }
    fprintf(stderr, "bench_plant: the twin began %zu washes, the events %.0f\n", twin_washes, washes);
    return false;
}

/* One row of the table. */
static bool measure(size_t filters, size_t days, size_t repeats)
{
    struct wr_reading reading;
    struct measured measured = {0};
    double years[MOST_REPEATS], minute[MOST_REPEATS], second[MOST_REPEATS];
    bool agrees = true;
    size_t minute_washes = 0, second_washes = 0;
    read_plant(&reading, filters, days, false);
    const double minute_until = fmax(2 * DAY, floor((double)days / 12) * DAY);
    for (size_t i = 0; i < repeats; i++) {
        measured = run(&reading.definition, true);
        years[i] = reading.definition.horizon / YEAR / measured.seconds;
        agrees = agrees && measured.agrees;
        minute[i] = run_twin(&reading.definition, MINUTE, minute_until, &minute_washes);
        second[i] = run_twin(&reading.definition, SECOND, DAY, &second_washes);
    }
    agrees = twin_agrees(&reading.definition, minute_until, minute_washes) && agrees;
    const double by_events = bench_median(years, repeats), by_minute = bench_median(minute, repeats),
                 by_second = bench_median(second, repeats);
    printf("%8zu %9zu %8zu %11.2f %12.0f %10.2f %13.3f %13.4f %9.0f %9.0f\n", filters, measured.instants,
           measured.washes, by_events, 1e9 * reading.definition.horizon / YEAR / by_events / (double)measured.instants,
           1e6 * reading.definition.horizon / YEAR / by_events / (double)measured.washes, by_minute, by_second,
           by_events / by_minute, by_events / by_second);
    wr_reading_fini(&reading);
    return agrees;
}

static bool measure_all(size_t repeats, size_t days)
{
    static const size_t sizes[] = {4, 16, 64, 256};
    bool agrees = true;
    printf("%zu days of a plant with everything on, medians of %zu repeats by turns\n", days, repeats);
    printf("%8s %9s %8s %11s %12s %10s %13s %13s %9s %9s\n", "", "", "", "plant-years", "ns", "us", "twin at 1 min",
           "twin at 1 s", "ratio to", "ratio to");
    printf("%8s %9s %8s %11s %12s %10s %13s %13s %9s %9s\n", "filters", "instants", "washes", "a second", "an instant",
           "a wash", "years a s", "years a s", "1 min", "1 s");
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        agrees = measure(sizes[i], days, repeats) && agrees;
    }
    return agrees;
}

int main(int argc, char **argv)
{
    bool agrees;
    wr_library_open();
    if (argc >= 4 && strcmp(argv[1], "count") == 0) {
        const size_t filters = bench_argument(argc, argv, 2, 4, 4, MOST_FILTERS);
        const bool apart = argc == 5 && strcmp(argv[4], "apart") == 0;
        agrees = count(filters, bench_argument(argc, argv, 3, 30, 1, MOST_DAYS), apart);
    } else {
        const size_t repeats = bench_argument(argc, argv, 1, 5, 1, MOST_REPEATS);
        agrees = measure_all(repeats, bench_argument(argc, argv, 2, 365, 4, MOST_DAYS));
    }
    wr_library_close();
    if (!agrees) {
        fputs("bench_plant: instants or washes are not what they should be\n", stderr);
    }
    return agrees ? EXIT_SUCCESS : EXIT_FAILURE;
}
