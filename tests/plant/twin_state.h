/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_PLANT_TWIN_STATE_H
#define WR_TESTS_PLANT_TWIN_STATE_H

/* What the twin knows at a step, and what its parts do for each other. */

#include "tests/plant/twin.h"

/* Relative slack within which a flow or stock fits. */
#define TWIN_SLACK 1e-9

enum twin_mode {
    TWIN_SERVING,
    TWIN_WASHING,
    TWIN_RINSING, /* to waste, since the plant has started */
    TWIN_STANDBY, /* off line until its next wash: at available head, or its wash was cut short */
    TWIN_OUT
};

struct twin_filter {
    const struct wr_group *group;
    int at_head; /* enum wr_at_available_head */
    size_t first_cell, cells;
    enum twin_mode mode;
    bool called, urgent, limited; /* limited: its available head sets its rate */
    bool standby;                 /* it comes back from an outage to stand by */
    bool held;                    /* somebody must release it */
    bool leaves;                  /* goes out of service once its wash has ended */
    double rate;                  /* m/s of feed */
    double limit;                 /* m/s it could take */
    double slope;                 /* m/(m/s) per kg/m2 of a straight deposit */
    double load;                  /* kg/m2 */
    double volume, hours;         /* m3/m2, s since the last wash */
    double above_since;           /* s; NaN while the differential is below its trigger */
    double called_at, last_start;
    size_t step, tank;                       /* of the wash; the number of tanks stands for the sewer */
    bool spills;                             /* its rinse at the plant's start found no room */
    double step_left, scale;                 /* s; of its flows */
    double rinse_left;                       /* m3 */
    double wash_flow, drain_flow, down_flow; /* m3/s over the step that comes */
    double solids_out;                       /* kg per m3 of backwash */
    double missing;                          /* m3 of its own water that it has given and not got back */
    double booked_place;                     /* m3 in the holding tank */
};

enum twin_tank_mode { TWIN_FILLING, TWIN_SETTLING, TWIN_DECANTING };

struct twin_tank {
    enum twin_tank_mode mode;
    bool out;
    double volume, level, booked, sludge; /* m3 */
    double solids;                        /* kg */
    double since;                         /* s: last wash ended, began to settle, or settled */
    size_t washes;                        /* under way into it */
    double inflow, solids_in;             /* m3/s, kg/s */
    double ready;                         /* s of stillness until it may be drawn off, clarity allowing */
    double clear;                         /* m3 above all sludge as it settles */
    double mixed;                         /* kg/m3 over its blanket as it began to settle */
    double leaves;                        /* kg/m3 in what is drawn off */
    bool spoilt;                          /* sludge stands above a fixed draw-off */
    bool dumped;                          /* drawn off as it was, in an emergency */
    double blanket, loose;                /* kg of dry solids; m3 of water that it has still to give up */
    bool draw_due;                        /* sludge was to be drawn by the calendar */
};

struct twin_well {
    bool called, runs, out;
    bool running;            /* as flows were last shared */
    double flow;             /* m3/s */
    double started, stopped; /* s */
};

struct twin_outlet {
    bool open;
    double today; /* m3 since midnight */
};

struct twin {
    const struct wr_plant *plant;
    const struct wr_definition *definition;
    double dt, now;
    bool changed; /* flows must be shared out again */
    bool again;   /* another round at the instant: its washes have started */
    struct twin_filter filters[TWIN_FILTERS];
    struct twin_tank tanks[TWIN_TANKS];
    struct twin_well wells[TWIN_WELLS];
    struct twin_outlet outlets[TWIN_OUTLETS];
    double rota_next[TWIN_ROTA]; /* s */
    size_t waiting, washing, rinsing;
    double last_start;
    double storage, wash_level, wash_booked; /* m3 */
    double storage_before;                   /* m3, a step ago */
    double holding, holding_booked;          /* m3 */
    bool refilling;
    bool window_open, attended_open;
    bool pump_out, blower_out, recycle_out;
    bool runs, starts;                        /* some well runs; some does and none did */
    bool full, empty;                         /* storage */
    double next_hour, next_minute, next_rota; /* s */
    double next_midnight, next_haul;
    double next_outage, next_tank, next_well, next_sludge;
    bool wants_room; /* the first in line waits for room */
    /* Flows, m3/s. */
    double demand, raw, recycle, out_flow, rinse, start_rinse, service, wash, down, refill;
    double capacity;   /* m3/s that filters in service can take */
    double raw_solids; /* kg/m3 in the mix of the wells that run */
    double feed_solids;
    bool mixing;   /* what the feed carries changes from step to step */
    size_t source; /* tank that gives water, the number of tanks for none */
    size_t outlet; /* that takes it, the number of outlets for none */
    struct twin_result *result;
};

static inline bool twin_fits(double flow, double room)
{
    return flow <= room * (1.0 + TWIN_SLACK);
}

/* Resistance that the deposit adds, m/(m/s). */
static inline double twin_resistance(const struct twin *twin, const struct twin_filter *filter)
{
    return filter->slope > 0.0 ? filter->slope * filter->load
                               : wr_deposit_resistance(&filter->group->deposit, filter->load, twin->plant->viscosity);
}

/* True where wash water is raw water. */
static inline bool twin_washes_raw(const struct twin *twin)
{
    return twin->definition->wash_water.source == WR_WATER_FROM_WELLS;
}

/* True where what a filter rinses goes to its tank, and not straight to the sewer. */
static inline bool twin_rinses_to_tank(const struct twin_filter *filter)
{
    return filter->mode != TWIN_WASHING || filter->group->steps[filter->step].feed_to == WR_TO_SPENT;
}

/* Beds and stocks as a run begins (twin_start.c). */
void twin_begin(struct twin *twin);

/* The calendar: demand, outages, hours, the rota, midnight, hauling (twin_clock.c). */
void twin_look_at_clock(struct twin *twin);
void twin_look_at_rota(struct twin *twin);

/* Washes and rinses at the plant's start (twin_wash.c). */
void twin_begin_wash(struct twin *twin, struct twin_filter *filter, size_t tank);
void twin_look_at_steps(struct twin *twin);
void twin_cut_washes(struct twin *twin); /* the wash pump has gone */
void twin_begin_rinses(struct twin *twin);
void twin_set_flows_of_step(struct twin_filter *filter, double wash_share, double rinse_share);
void twin_advance_wash(struct twin *twin, struct twin_filter *filter);

/* Who may start (twin_gate.c): false when memory runs out. */
bool twin_decide(struct twin *twin);
size_t twin_find_tank(const struct twin *twin, double room);

/* Spent-wash tanks (twin_tanks.c). */
void twin_look_at_tanks(struct twin *twin);
void twin_find_outlet(struct twin *twin);
void twin_advance_tanks(struct twin *twin);

/* The outlets open to an emergency: draws the tank off that has settled longest where none gives clear water. */
void twin_look_at_emergency(struct twin *twin);

static inline bool twin_settles(const struct twin *twin)
{
    return twin->definition->spent_wash.settling.law != WR_SETTLING_NONE;
}

/* Settling and sludge (twin_settling.c). */
void twin_begin_settling(struct twin *twin, struct twin_tank *tank);
bool twin_is_clear(const struct twin *twin, const struct twin_tank *tank);
void twin_begin_decant(struct twin *twin, struct twin_tank *tank);
void twin_dump(struct twin *twin, struct twin_tank *tank);
double twin_blanket(const struct twin *twin, const struct twin_tank *tank); /* m3 */
void twin_blanket_after_decant(struct twin *twin, struct twin_tank *tank);
void twin_blanket_by_calendar(struct twin *twin);
void twin_thicken(struct twin *twin); /* over a step */

/* Wells and storage (twin_wells.c). */
void twin_look_at_levels(struct twin *twin);
void twin_run_wells(struct twin *twin, double asked_by_washes, double asked_by_filters);
void twin_mix_wells(struct twin *twin);
double twin_most_throttled(const struct twin *twin);
void twin_throttle(struct twin *twin, double less);
double twin_well_flow(const struct twin *twin, size_t well, double room);
void twin_note_wells(struct twin *twin);

/* Beds: available head and triggers (twin_beds.c). */
void twin_look_at_beds(struct twin *twin);
void twin_call(struct twin *twin, struct twin_filter *filter);
void twin_advance_beds(struct twin *twin);

/* Shares out the flows for the step that comes (twin_share.c). */
void twin_share(struct twin *twin);

/* The rate, m/s, that a filter in service can take. */
double twin_limit(const struct twin *twin, const struct twin_filter *filter);

/* Solids, kg/m3, of what a tank gives over the step that comes. */
double twin_given_solids(const struct twin *twin, const struct twin_tank *tank);

/* Works out what the feed carries over the step that comes. */
void twin_mix_feed(struct twin *twin);

/* Finished water and wash water over a step (twin_stocks.c). */
void twin_advance_stocks(struct twin *twin);
double twin_wash_to_be_had(const struct twin *twin);

#endif
