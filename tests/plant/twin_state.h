/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_PLANT_TWIN_STATE_H
#define WR_TESTS_PLANT_TWIN_STATE_H

/* What the twin knows at a step; between twin.c, which goes through time, and twin_share.c, which shares out flows. */

#include "tests/plant/twin.h"

/* Relative slack within which a flow or stock fits. */
#define TWIN_SLACK 1e-9

enum twin_mode { TWIN_SERVING, TWIN_WASHING, TWIN_OUT };

struct twin_filter {
    const struct wr_group *group;
    enum twin_mode mode;
    bool called, limited; /* limited: its available head sets its rate */
    bool leaves;          /* goes out of service once its wash has ended */
    double rate;          /* m/s of feed */
    double limit;         /* m/s it could take */
    double slope;         /* m/(m/s) per kg/m2 of a straight deposit */
    double load;          /* kg/m2 */
    double volume, hours; /* m3/m2, s since the last wash */
    double above_since;   /* s; NaN while the differential is below its trigger */
    double called_at, last_start;
    size_t step, tank; /* of the wash; the number of tanks stands for the sewer */
    double step_left;  /* s */
    double rinse_left; /* m3 */
    double wash_flow;  /* m3/s */
    double solids_out; /* kg per m3 of backwash */
};

enum twin_tank_mode { TWIN_FILLING, TWIN_SETTLING, TWIN_DECANTING };

struct twin_tank {
    enum twin_tank_mode mode;
    double volume, level, booked, sludge; /* m3 */
    double solids;                        /* kg */
    double since;                         /* s: last wash ended, began to settle, or settled */
    size_t washes;                        /* under way into it */
    double inflow, solids_in;             /* m3/s, kg/s */
};

struct twin {
    const struct wr_plant *plant;
    const struct wr_definition *definition;
    double dt, now;
    bool changed; /* flows must be shared out again */
    struct twin_filter filters[TWIN_FILTERS];
    struct twin_tank tanks[TWIN_TANKS];
    bool wells_called[TWIN_WELLS];
    size_t waiting, washing;
    double last_start;
    double storage, wash_level, wash_booked; /* m3 */
    bool refilling;
    double next_hour, next_outage, next_tank; /* s */
    /* Flows, m3/s. */
    double demand, raw, recycle, sewer, rinse, service, wash;
    double to_sewer_direct; /* spent wash of a plant without tanks */
    double feed_solids;     /* kg/m3 */
    bool mixing;            /* it changes from step to step */
    size_t source;          /* tank that gives recycle or sewer flow */
    struct twin_result *result;
};

/* Shares out the flows for the step that comes. */
void twin_share(struct twin *twin);

/* Works out what the feed carries over the step that comes. */
void twin_mix_feed(struct twin *twin);

/* Resistance that the deposit adds, m/(m/s). */
static inline double twin_resistance(const struct twin *twin, const struct twin_filter *filter)
{
    return filter->slope > 0.0 ? filter->slope * filter->load
                               : wr_deposit_resistance(&filter->group->deposit, filter->load, twin->plant->viscosity);
}

#endif
