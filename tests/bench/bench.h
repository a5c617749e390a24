/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_BENCH_H
#define WR_TESTS_BENCH_H

/* What the benchmarks share. In a header, so that each benchmark is one source file. */

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

/* A clock that never goes back, s. */
static inline double bench_seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* Time of the processor that this program has used, s: what else runs on the machine counts little. */
static inline double bench_processor_seconds(void)
{
    struct timespec used;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &used);
    return (double)used.tv_sec + 1e-9 * (double)used.tv_nsec;
}

/* Memory, or the end of the program. */
static inline void *bench_allocate(size_t size)
{
    void *memory = malloc(size);
    if (!memory) {
        fputs("bench: out of memory\n", stderr);
        exit(3);
    }
    return memory;
}

static inline int bench_compare(const void *a, const void *b)
{
    const double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The median of `count` values, which it sorts; the upper of the middle two if the count is even. */
static inline double bench_median(double *values, size_t count)
{
    qsort(values, count, sizeof *values, bench_compare);
    return values[count / 2];
}

/* The whole number at a place of the command line, or `otherwise` if there is none; ends the program on anything else
 * than a number from least to most. */
static inline size_t bench_argument(int argc, char **argv, int place, size_t otherwise, size_t least, size_t most)
{
    if (place >= argc) {
        return otherwise;
    }
    char *end;
    const unsigned long long value = strtoull(argv[place], &end, 10);
    if (*end != '\0' || end == argv[place] || value < least || value > most) {
        fprintf(stderr, "bench: argument %d must be a whole number from %zu to %zu\n", place, least, most);
        exit(2);
    }
    return (size_t)value;
}

#endif
