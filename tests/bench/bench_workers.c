/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What threads give a study: years of scenarios/iron-four.json, four filters, each with its iron moved a little, worked
 * by one thread, by two threads, and by two processes that share nothing. What two processes gain is what the machine
 * has to give at that moment; threads should gain as much.
 *
 *     bench_workers [REPEATS [YEARS]]      1000 years: how long a thousand plant-years take
 *
 * Times are of the wall, since that is what a user waits for, so a busy machine shows in all of them; what one thread
 * used of the processor stands below. Medians of repeats by turns. A year is a run of 365 days with its record,
 * building the plant and closing its books included. Washes are counted in every way of working and must agree, year by
 * year between one thread and two: else the exit status is 1.
 */
#include "sim/scenario/read.h"
#include "sim/study/run.h"
#include "sim/study/workers.h"
#include "sim/washrota.h"
#include "tests/bench/bench.h"

#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

enum { MOST_REPEATS = 101, MOST_YEARS = 100000, PROCESSES = 2 };

static const double YEAR = 365 * 86400.0;

/* Years to be run and what they count. */
struct years {
    const struct wr_definition *definition;
    size_t first;   /* year of the first item */
    size_t *washes; /* by year */
};

static void run_year(void *context, size_t item)
{
    const struct years *years = context;
    const size_t year = years->first + item;
    struct wr_definition definition = *years->definition;
    struct wr_run run;
    definition.horizon = YEAR;
    definition.raw_water.iron *= 0.8 + 0.0004 * (double)(year % 500);
    wr_run_make(&run, &definition, &(struct wr_run_options){.stops_on_failure = false});
    years->washes[year] = run.end == WR_RUN_WHOLE ? run.record.balance.washes : 0;
    wr_run_fini(&run);
}

static double by_threads(struct years *years, size_t count, size_t threads)
{
    struct wr_workers workers = {.threads = threads};
    const double began = bench_seconds();
    if (wr_workers_each(&workers, count, run_year, years) != count)
        exit(3);
    return bench_seconds() - began;
}

static size_t sum(const size_t *washes, size_t count)
{
    size_t all = 0;
    for (size_t i = 0; i < count; i++)
        all += washes[i];
    return all;
}

/* Each process takes its part of the years and tells its washes through a pipe. */
static double by_processes(const struct years *years, size_t count, size_t *washes)
{
    int pipes[2];
    const double began = bench_seconds();
    if (pipe(pipes) != 0)
        exit(3);
    for (size_t p = 0; p < PROCESSES; p++) {
        const pid_t child = fork();
        if (child < 0)
            exit(3);
        if (child > 0)
            continue;
        struct years part = *years;
        part.first = count * p / PROCESSES;
        const size_t here = count * (p + 1) / PROCESSES - part.first;
        by_threads(&part, here, 1);
        const size_t mine = sum(part.washes + part.first, here);
        _exit(write(pipes[1], &mine, sizeof mine) == (ssize_t)sizeof mine ? 0 : 3);
    }
    *washes = 0;
    for (size_t p = 0; p < PROCESSES; p++) {
        size_t part = 0;
        if (read(pipes[0], &part, sizeof part) != (ssize_t)sizeof part)
            exit(3);
        *washes += part;
    }
    const double took = bench_seconds() - began;
    for (size_t p = 0; p < PROCESSES; p++)
        wait(NULL);
    close(pipes[0]);
    close(pipes[1]);
    return took;
}

int main(int argc, char **argv)
{
    const size_t repeats = bench_argument(argc, argv, 1, 5, 1, MOST_REPEATS);
    const size_t count = bench_argument(argc, argv, 2, 200, 2, MOST_YEARS);
    double one[MOST_REPEATS], two[MOST_REPEATS], apart[MOST_REPEATS], processor[MOST_REPEATS];
    size_t *alone = bench_allocate(count * sizeof *alone), *together = bench_allocate(count * sizeof *together);
    struct wr_reading reading;
    size_t washes = 0;
    bool agree = true;
    wr_library_open();
    wr_reading_file(&reading, WR_ROOT "/scenarios/iron-four.json", NULL, 0);
    if (!reading.good)
        return 3;
    struct years by_one = {&reading.definition, 0, alone}, by_two = {&reading.definition, 0, together};
    for (size_t r = 0; r < repeats; r++) {
        const double used = bench_processor_seconds();
        one[r] = by_threads(&by_one, count, 1);
        processor[r] = bench_processor_seconds() - used;
        two[r] = by_threads(&by_two, count, 2);
        apart[r] = by_processes(&by_one, count, &washes);
        agree = agree && memcmp(alone, together, count * sizeof *alone) == 0 && washes == sum(alone, count);
    }
    const double t1 = bench_median(one, repeats), t2 = bench_median(two, repeats), tp = bench_median(apart, repeats);
    printf("%zu years of four filters, %zu washes, medians of %zu repeats by turns, wall time\n", count,
           sum(alone, count), repeats);
    printf("%-16s %9s %12s %8s\n", "worked by", "s", "ms a year", "gain");
    printf("%-16s %9.3f %12.3f %8.2f\n", "one thread", t1, 1e3 * t1 / (double)count, 1.0);
    printf("%-16s %9.3f %12.3f %8.2f\n", "two threads", t2, 1e3 * t2 / (double)count, t1 / t2);
    printf("%-16s %9.3f %12.3f %8.2f\n", "two processes", tp, 1e3 * tp / (double)count, t1 / tp);
    printf("one thread used %.3f s of the processor\n", bench_median(processor, repeats));
    wr_reading_fini(&reading);
    wr_library_close();
    free(alone);
    free(together);
    if (!agree || washes < count)
        fputs("bench_workers: the ways of working counted other washes\n", stderr);
    return agree && washes >= count ? 0 : 1;
}
