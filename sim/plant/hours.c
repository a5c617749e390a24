/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/hours.h"

#include <math.h>

static const double DAY = 86400;
static const double WEEK = 7 * 86400.0;

/* 1970-01-01 was a Thursday: four days after the Monday on which the weeks of this file begin. */
static const double MONDAY = 3 * 86400.0;

/* True when hours begin on a day of the week, Monday 0. */
static bool begin_on(const struct wr_hours *h, int day)
{
    switch (h->days) {
    case WR_DAYS_EVERY_DAY:
        return true;
    case WR_DAYS_WEEKDAYS:
        return day < 5;
    case WR_DAYS_WEEKENDS:
        return day >= 5;
    default:
        return day == h->days - WR_DAYS_MONDAY;
    }
}

static double length_of(const struct wr_hours *h)
{
    return h->until > h->from ? h->until - h->from : h->until + DAY - h->from;
}

/* Time of the week, s since Monday 00:00. */
static double time_of_week(double start, double now)
{
    const double time = fmod(start + MONDAY + now, WEEK);
    return time < 0 ? time + WEEK : time;
}

bool wr_hours_are_open(const struct wr_hours_list *hours, double start, double now)
{
    const double time = time_of_week(start, now);
    for (size_t i = 0; i < hours->count; i++)
        for (int day = 0; day < 7; day++) {
            const double begins = day * DAY + hours->items[i].from;
            const double since = time >= begins ? time - begins : time - begins + WEEK;
            if (begin_on(&hours->items[i], day) && since < length_of(&hours->items[i]))
                return true;
        }
    return hours->count == 0;
}

double wr_hours_next_change(const struct wr_hours_list *hours, double start, double now)
{
    /* Counted from a whole week boundary, so that a change always falls on the same double. */
    const double week = floor((start + MONDAY + now) / WEEK) * WEEK - MONDAY - start;
    double next = HUGE_VAL;
    for (size_t i = 0; i < hours->count; i++)
        for (int day = -7; day < 14; day++) {
            if (!begin_on(&hours->items[i], (day + 7) % 7))
                continue;
            const double begins = week + day * DAY + hours->items[i].from;
            const double ends = begins + length_of(&hours->items[i]);
            if (begins > now)
                next = fmin(next, begins);
            if (ends > now)
                next = fmin(next, ends);
        }
    return next;
}

double wr_hours_share(const struct wr_hours_list *hours)
{
    if (hours->count == 0)
        return 1;
    double open = 0;
    for (double time = 0, next = 0; time < WEEK; time = next) {
        next = fmin(WEEK, wr_hours_next_change(hours, -MONDAY, time));
        if (wr_hours_are_open(hours, -MONDAY, time))
            open += next - time;
    }
    return open / WEEK;
}
