/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_RECORD_SERIES_H
#define WR_SIM_RECORD_SERIES_H

/* How a stretch of a run went, point by point, for pictures.
 *
 * Between two instants flows are constant, stocks move straight, beds gather by what they are fed and sludge thickens
 * by its law, so what held at an instant says everything until the next. A series holds that and writes a row at both
 * ends of the time between and, where that is long, some rows inside. A step therefore stands as two rows of one time.
 */

#include "models/sludge.h"
#include "sim/plant/simulation.h"

/* What stands in a row first; then the levels of the spent-wash tanks, m3, then of each the volume of its blanket of
 * sludge and of the clear water that it gives or is to give, m3, then for each filter shown its differential
 * as measured and as it is judged, m, WR_ABSENT where it is not in service or has no flow. */
enum wr_series_column {
    WR_SERIES_TIME,    /* s */
    WR_SERIES_STORAGE, /* m3 */
    WR_SERIES_DEMAND,  /* m3/s, and so on */
    WR_SERIES_DELIVERED,
    WR_SERIES_RAW,
    WR_SERIES_RECYCLE,
    WR_SERIES_RECYCLE_MOST, /* its share of the raw flow allows */
    WR_SERIES_WASH_TANK,    /* m3 */
    WR_SERIES_BLEND,        /* kg/m3 of dry solids in raw water and recycle together, WR_ABSENT without flow */
    WR_SERIES_EMERGENCY,    /* m3/s out of the tanks by emergency outlets */
    WR_SERIES_COLUMNS
};

/* Filters that a series follows: no picture could show more. */
enum { WR_SERIES_FILTERS = 16 };

/* What a filter is doing. One that waits may be in service meanwhile; one that rinses does so at the plant's start. */
enum wr_deed { WR_DEED_SERVES, WR_DEED_STANDS, WR_DEED_RINSES, WR_DEED_WAITS, WR_DEED_WASHED, WR_DEED_OUT };

struct wr_stretch {
    size_t filter;
    enum wr_deed deed;
    enum wr_limit limit; /* the first reason of a wait; else WR_LIMIT_NONE */
    double began;        /* s, of the wash; else 0 */
    double from, to;     /* s, within the stretch of the run that is shown */
};

/* A bed as it stood when the instant had passed. */
struct wr_series_bed {
    double load, growth; /* kg/m2, kg/m2/s */
    double rate;         /* m/s; 0 for a filter that is not in service */
};

struct wr_series {
    double from, until, spacing; /* s */
    size_t width, filters, tanks;
    double *rows; /* of `width` numbers */
    size_t count, room;
    struct wr_stretch *stretches; /* in the order of their ends */
    size_t stretch_count, stretch_room;
    double then; /* s: what follows held from here on */
    double *held, *slopes;
    struct wr_sludge *blankets; /* by tank */
    struct wr_series_bed beds[WR_SERIES_FILTERS];
    struct wr_stretch open[WR_SERIES_FILTERS];
    bool out_of_memory;
};

/* Opens a series, of which from and until are set and from is the lesser, with a simulation that has just been made.
 * False without memory; wr_series_fini is called either way. */
bool wr_series_open(struct wr_series *series, const struct wr_simulation *simulation);

/* Told of every instant once it has passed. */
void wr_series_instant(struct wr_series *series, const struct wr_simulation *simulation);

/* After wr_simulation_end: writes what is left. */
void wr_series_close(struct wr_series *series, const struct wr_simulation *simulation);

void wr_series_fini(struct wr_series *series);

/* Columns of a tank's level, blanket and clear water, and of a filter's differential as measured and as judged. */
static inline size_t wr_series_tank(size_t tank)
{
    return WR_SERIES_COLUMNS + tank;
}

static inline size_t wr_series_blanket(const struct wr_series *series, size_t tank)
{
    return WR_SERIES_COLUMNS + series->tanks + 2 * tank;
}

static inline size_t wr_series_clear(const struct wr_series *series, size_t tank)
{
    return wr_series_blanket(series, tank) + 1;
}

static inline size_t wr_series_measured(const struct wr_series *series, size_t filter)
{
    return WR_SERIES_COLUMNS + 3 * series->tanks + 2 * filter;
}

static inline size_t wr_series_judged(const struct wr_series *series, size_t filter)
{
    return wr_series_measured(series, filter) + 1;
}

#endif
