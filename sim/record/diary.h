/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_RECORD_DIARY_H
#define WR_SIM_RECORD_DIARY_H

/* What a story of a run is told from: each wash from its call on, its steps, what each spent-wash tank was doing, how
 * the plant stood whenever that changed, and each day's sums.
 *
 * A diary is kept only where one is asked for. It reads flows as they were shared and reasons as the plant told them,
 * and judges nothing. SI doubles; times in s since the start. */

#include "sim/record/record.h"

/* How the plant stood: the flows held from then on, or where a wash or a call is meant, until then. */
struct wr_standing {
    double time;
    double storage, wash_tank, wash_free; /* m3 */
    double raw, recycle, service, demand; /* m3/s */
    double delivered;                     /* m3/s */
    double rate;                          /* m/s, of the filter that ran fastest */
    size_t wells, in_service, washing, waiting;
    wr_limit_set reasons; /* of all who waited */
    uint32_t conditions;  /* findings that lasted then, one bit each */
    size_t findings;      /* so far */
};

/* One wash from its call on. */
struct wr_diary_wash {
    size_t filter, number; /* the filter's washes count from 1 */
    enum wr_trigger trigger;
    bool start_up, urgent, weak, interrupted;
    size_t ahead, first;                    /* filters before it in line at the call, and the first of them */
    double called_at, started_at, ended_at; /* WR_NEVER for what did not come in the run */
    double rate_at_call, judged_at_call;    /* m/s; m, WR_ABSENT without flow */
    double load_at_call;                    /* kg/m2 */
    double waited;                          /* s */
    double load, hours, volume;             /* as it started: kg/m2, s, m3/m2 */
    double load_after;                      /* kg/m2 */
    double measured;                        /* m, as it started */
    double dirty, clean;                    /* m at the approved rate, as it started and ended */
    size_t tank;                            /* the number of tanks and more: see enum wr_beyond_tanks */
    double tank_before, tank_after;         /* m3 in that tank */
    double highest_rate;                    /* m/s, of any other filter while it lasted */
    size_t least_in_service;                /* filters that served meanwhile */
    struct wr_standing at_call, at_start, at_end;
};

/* One step of a wash; volumes in m3. */
struct wr_diary_step {
    size_t wash; /* its place in the list of washes */
    enum wr_step_kind kind;
    enum wr_step_to goes_to, feed_goes_to; /* its wash water, and the filters' feed that it takes */
    bool wants_water;
    double from, to;
    double wash_water, feed, drained, down;
};

enum wr_tank_doing {
    WR_TANK_EMPTY,
    WR_TANK_STANDS, /* part full, with no wash under way into it */
    WR_TANK_TAKES,  /* the spent wash of a wash under way */
    WR_TANK_SETTLES,
    WR_TANK_EMPTIES,
    WR_TANK_HELD,  /* it has water to give and its outlet is held back */
    WR_TANK_WAITS, /* it has water to give after another tank's */
    WR_TANK_OUT,
    WR_TANK_DOINGS
};

/* What a tank did for a while. */
struct wr_diary_tank {
    size_t tank;
    enum wr_tank_doing doing;
    int outlet;        /* enum wr_outlet_kind, of one that is emptied */
    wr_limit_set held; /* what held its outlet, wholly or in part */
    double from, to;
    double level; /* m3, at from */
    double flow;  /* m3/s out of it */
    double raw;   /* m3/s, at from */
};

/* A calendar day of the run: the first and the last may be cut. */
struct wr_diary_day {
    double from, to;
    double raw, recycle, delivered, asked, wash_water; /* m3 */
    double least_storage, least_at;                    /* m3, s */
    double waited, washed;                             /* s, over all filters */
    size_t calls, washes, well_starts;
};

/* What a filter in a wash takes and gives until the next instant, m3/s. */
struct wr_diary_flows {
    size_t filter;
    double wash_water, feed, drained, down;
};

/* Items of one kind. */
struct wr_diary_list {
    void *items;
    size_t count, room;
};

struct wr_diary {
    const struct wr_record *record; /* of the same run; borrowed */
    struct wr_diary_list washes, steps, tanks, standings, days;
    size_t *open_wash, *open_step, *numbers; /* by filter: place + 1 in its list, 0 for none; washes so far */
    struct wr_diary_tank *now;               /* by tank */
    struct wr_diary_flows *busy;             /* of filters in a wash, busy_count of them */
    size_t busy_count;
    double then;           /* s up to which volumes are counted */
    struct wr_flows flows; /* since then */
    size_t washing, waiting;
    double midnight;  /* s, of the day that is counted */
    uint32_t *starts; /* by well */
    bool out_of_memory;
};

/* Opens a diary with a simulation that has just been made and the record of its run. False without memory;
 * wr_diary_fini is called either way. */
bool wr_diary_open(struct wr_diary *diary, const struct wr_simulation *simulation, const struct wr_record *record);

/* Told after the record of what happens, of each instant, and of the end of the run. */
void wr_diary_event(struct wr_diary *diary, const struct wr_simulation *simulation, const struct wr_event *event);
void wr_diary_instant(struct wr_diary *diary, const struct wr_simulation *simulation);
void wr_diary_close(struct wr_diary *diary, const struct wr_simulation *simulation);

void wr_diary_fini(struct wr_diary *diary);

static inline const struct wr_diary_wash *wr_diary_wash(const struct wr_diary *diary, size_t place)
{
    return &((const struct wr_diary_wash *)diary->washes.items)[place];
}

static inline const struct wr_diary_step *wr_diary_step(const struct wr_diary *diary, size_t place)
{
    return &((const struct wr_diary_step *)diary->steps.items)[place];
}

static inline const struct wr_diary_tank *wr_diary_tank(const struct wr_diary *diary, size_t place)
{
    return &((const struct wr_diary_tank *)diary->tanks.items)[place];
}

static inline const struct wr_diary_day *wr_diary_day(const struct wr_diary *diary, size_t place)
{
    return &((const struct wr_diary_day *)diary->days.items)[place];
}

/* How the plant stood at a time: the last that was noted at or before it. */
const struct wr_standing *wr_diary_at(const struct wr_diary *diary, double time);

#endif
