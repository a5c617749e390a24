/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/flocculent_column.h"

#include "models/range.h"

#include <math.h>
#include <stdbool.h>

static bool is_rising_from_zero(const double *values, size_t count)
{
    double before = 0;
    for (size_t i = 0; i < count; i++) {
        if (!wr_is_positive(values[i]) || values[i] <= before)
            return false;
        before = values[i];
    }
    return count > 0;
}

enum wr_status wr_flocculent_check(const struct wr_flocculent_table *table)
{
    if (!is_rising_from_zero(table->depths, table->depth_count) ||
        !is_rising_from_zero(table->times, table->time_count))
        return WR_OUT_OF_RANGE;
    for (size_t port = 0; port < table->depth_count; port++) {
        double before = 0;
        for (size_t round = 0; round < table->time_count; round++) {
            double removal = table->removal[port * table->time_count + round];
            if (!wr_is_within(removal, before, 1))
                return WR_OUT_OF_RANGE;
            before = removal;
        }
    }
    return WR_OK;
}

/* Removal at a port after a round; rounds are counted from one here, and zero is the start. */
static double at_port(const struct wr_flocculent_table *table, size_t port, size_t round)
{
    return round > 0 ? table->removal[port * table->time_count + round - 1] : 0;
}

/* The integral over depth at a round, by trapezia, which are exact for straight lines. Nothing has been removed at the
 * start, not even at the surface. */
static double mean_at_round(const struct wr_flocculent_table *table, double depth, size_t round)
{
    if (round == 0)
        return 0;
    double sum = 0, top = 0, at_top = 1;
    for (size_t port = 0; port < table->depth_count && top < depth; port++) {
        double bottom = table->depths[port], at_bottom = at_port(table, port, round);
        if (bottom > depth) {
            at_bottom = at_top + (at_bottom - at_top) * (depth - top) / (bottom - top);
            bottom = depth;
        }
        sum += (bottom - top) * (at_top + at_bottom) / 2;
        top = bottom;
        at_top = at_bottom;
    }
    return sum / depth;
}

static double time_of_round(const struct wr_flocculent_table *table, size_t round)
{
    return round > 0 ? table->times[round - 1] : 0;
}

static bool is_in_column(const struct wr_flocculent_table *table, double depth)
{
    return wr_is_positive(depth) && depth <= table->depths[table->depth_count - 1];
}

enum wr_status wr_flocculent_removal(const struct wr_flocculent_table *table, double depth, double time,
                                     double *removal)
{
    if (!is_in_column(table, depth) || !wr_is_within(time, 0, table->times[table->time_count - 1]))
        return WR_OUT_OF_RANGE;
    size_t round = 1;
    while (time_of_round(table, round) < time)
        round++;
    double before = mean_at_round(table, depth, round - 1), after = mean_at_round(table, depth, round);
    double start = time_of_round(table, round - 1), end = time_of_round(table, round);
    *removal = before + (after - before) * (time - start) / (end - start);
    return WR_OK;
}

enum wr_status wr_flocculent_time(const struct wr_flocculent_table *table, double depth, double wanted, double *time)
{
    if (!is_in_column(table, depth) || !wr_is_within(wanted, 0, 1))
        return WR_OUT_OF_RANGE;
    double before = 0, reached = wanted > 0 ? HUGE_VAL : 0;
    for (size_t round = 1; round <= table->time_count && reached == HUGE_VAL; round++) {
        double after = mean_at_round(table, depth, round);
        double start = time_of_round(table, round - 1), end = time_of_round(table, round);
        if (after >= wanted)
            reached = start + (end - start) * (wanted - before) / (after - before);
        before = after;
    }
    *time = reached;
    return WR_OK;
}
