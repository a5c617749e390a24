/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/discrete_settling.h"

#include "models/range.h"

#include <assert.h>
#include <math.h>

enum wr_status wr_discrete_check(const struct wr_discrete_mix *mix)
{
    double sum = 0;
    for (size_t i = 0; i < mix->count; i++) {
        if (!wr_is_within(mix->classes[i].share, 0, 1) || !wr_is_not_negative(mix->classes[i].velocity))
            return WR_OUT_OF_RANGE;
        sum += mix->classes[i].share;
    }
    if (fabs(sum - 1) > WR_DISCRETE_SHARE_TOLERANCE || !wr_is_positive(mix->polymer_factor))
        return WR_OUT_OF_RANGE;
    return WR_OK;
}

static double velocity_of(const struct wr_discrete_mix *mix, size_t i)
{
    return mix->classes[i].velocity * mix->polymer_factor;
}

/* When a class has left the top. Each time is compared with this one, so that rounding cannot leave a rest behind. */
static double gone_after(const struct wr_discrete_mix *mix, size_t i, double depth)
{
    double velocity = velocity_of(mix, i);
    return velocity > 0 ? depth / velocity : HUGE_VAL;
}

double wr_discrete_left(const struct wr_discrete_mix *mix, double depth, double time)
{
    assert(depth > 0 && time >= 0);
    double left = 0;
    for (size_t i = 0; i < mix->count; i++)
        left += mix->classes[i].share * (1 - fmin(1, time / gone_after(mix, i, depth)));
    return left;
}

/* The earliest time after `time` at which a class has left the top; HUGE_VAL after the last. */
static double next_gone(const struct wr_discrete_mix *mix, double depth, double time)
{
    double next = HUGE_VAL;
    for (size_t i = 0; i < mix->count; i++) {
        double gone = gone_after(mix, i, depth);
        if (gone > time)
            next = fmin(next, gone);
    }
    return next;
}

/* Where the straight line that holds from `time` to the next class gone meets the wanted share. */
static double time_on_line(const struct wr_discrete_mix *mix, double depth, double wanted, double time)
{
    double still_there = 0, fall = 0;
    for (size_t i = 0; i < mix->count; i++) {
        if (gone_after(mix, i, depth) <= time)
            continue;
        still_there += mix->classes[i].share;
        fall += mix->classes[i].share * velocity_of(mix, i);
    }
    return fmax(time, depth * (still_there - wanted) / fall);
}

double wr_discrete_time(const struct wr_discrete_mix *mix, double depth, double wanted)
{
    assert(depth > 0 && 0 <= wanted && wanted <= 1);
    double time = 0;
    while (wr_discrete_left(mix, depth, time) > wanted) {
        double next = next_gone(mix, depth, time);
        if (next == HUGE_VAL)
            return HUGE_VAL;
        if (wr_discrete_left(mix, depth, next) <= wanted)
            return fmin(next, time_on_line(mix, depth, wanted, time));
        time = next;
    }
    return time;
}

double wr_discrete_share_at(const struct wr_discrete_mix *mix, double depth, double time)
{
    assert(depth >= 0 && time >= 0);
    double share = 0;
    for (size_t i = 0; i < mix->count; i++)
        if (velocity_of(mix, i) * time <= depth)
            share += mix->classes[i].share;
    return share;
}
