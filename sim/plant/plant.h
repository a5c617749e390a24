/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_PLANT_H
#define WR_SIM_PLANT_PLANT_H

/* The plant as built from its definition: what follows from the author's figures, worked out once.
 *
 * Constant after wr_plant_init and shared by threads. SI doubles; heads in metres of water. */

#include "models/deposit.h"
#include "models/discrete_settling.h"
#include "models/sludge.h"
#include "models/status.h"
#include "models/zone_settling.h"
#include "sim/plant/definition.h"
#include "sim/plant/limits.h"

#include <stddef.h>

/* What water carries, dry and by mass. Solids stand for all that clogs a bed, iron and manganese included. */
enum wr_constituent { WR_SOLIDS, WR_IRON, WR_MANGANESE, WR_CONSTITUENTS };

/* What a filter does in one step of its wash. */
enum wr_step_kind {
    WR_STEP_SHUT,        /* inlet and outlet close, waste opens */
    WR_STEP_FILTER_DOWN, /* inlet closes: the water above the bed still goes into service */
    WR_STEP_DRAIN,       /* water above the bed goes to waste */
    WR_STEP_AIR,         /* air scour */
    WR_STEP_FILL,        /* wash water refills the filter slowly */
    WR_STEP_SLOW_START,  /* backwash at half rate */
    WR_STEP_BACKWASH,    /* backwash at full rate */
    WR_STEP_SLOW_STOP,   /* backwash at half rate */
    WR_STEP_BED_SETTLE,  /* still */
    WR_STEP_REGENERATE,  /* regenerant through the bed, to the sewer or a holding tank */
    WR_STEP_REFILL,      /* wash water refills the filter from below */
    WR_STEP_TURN_VALVES, /* to the service direction, to waste */
    WR_STEP_RINSE,       /* feed through the bed to waste */
    WR_STEP_RETURN,      /* waste closes, outlet opens */
    WR_STEPS
};

/* Where the water of a step goes. */
enum wr_step_to { WR_TO_SPENT, WR_TO_FILTER, WR_TO_SEWER, WR_TO_HOLDING };

struct wr_step {
    enum wr_step_kind kind;
    double duration;    /* s; of a rinse at its whole flow */
    double wash_flow;   /* m3/s of wash water */
    enum wr_step_to to; /* where that goes */
    double feed_flow;   /* m3/s of feed to waste */
    enum wr_step_to feed_to;
    double drain_flow; /* m3/s of the filter's own water to the spent wash */
    double down_flow;  /* m3/s of the filter's own water into service */
};

/* Filters that are alike, ready to run. */
struct wr_group {
    size_t first, count; /* filters first .. first + count - 1 */
    size_t train;
    double area;               /* m2 of one filter */
    double approved_rate;      /* m/s */
    double available_head;     /* m */
    double clean_linear;       /* m per m/s, clean bed at the water's viscosity */
    double clean_quadratic;    /* m per (m/s)2, clean bed */
    double fittings_quadratic; /* m per (m/s)2, pipes and valves */
    struct wr_deposit deposit;
    double called_load;    /* kg/m2 from which a filter at its available head meets the differential trigger */
    double urgent_load;    /* the same for the urgent level */
    double full_rate_load; /* kg/m2 up to which its available head gives a filter its approved rate */
    struct wr_step steps[WR_STEPS];
    size_t step_count;
    struct wr_step start_rinse; /* of no length where filters do not rinse at the plant's start */
    double wash_volume;         /* m3 of wash water a wash takes */
    double backwash_volume;     /* m3 of it that carries out what the bed holds */
    double released;            /* share of what the bed holds that a whole wash carries out */
    double peak_flow;           /* m3/s of wash water at most */
    double room;                /* m3 a wash sends to the spent-wash tank */
    double held_volume;         /* m3 of regenerant it sends to the holding tank */
    double off_line;            /* s from the start of a wash to service at undisturbed flows */
    bool air;                   /* it needs the blower */
};

/* One entry of the timers, by class: order at one instant is the order of these numbers. A class begins at its number
 * and ends before that of the next; what a plant cannot have is of none. */
struct wr_timer_map {
    size_t signal;       /* demand changes */
    size_t outages;      /* one each: begins or ends */
    size_t tanks;        /* one each: starts to settle, has settled, is emptied */
    size_t steps;        /* one a filter: a wash step ends */
    size_t storage;      /* storage crosses a level */
    size_t wash_water;   /* the wash-water tank crosses a level, or water for the first in line has come */
    size_t rooms;        /* one a tank: room for the first in line */
    size_t wells;        /* one each: its least run or rest has passed */
    size_t start;        /* the plant has started: filters rinse; none where they do not */
    size_t window;       /* wash hours begin or end */
    size_t attended;     /* attended hours begin or end */
    size_t outlets;      /* one each: its hours begin or end, or it has had its volume of the day */
    size_t midnight;     /* the outlets' volumes of the day begin anew */
    size_t holding;      /* the holding tank is hauled away; none without it */
    size_t sludge;       /* sludge is drawn by the calendar; none where it is not */
    size_t gap;          /* time between starts has passed */
    size_t overtakes;    /* a filter in line is dirtier than the first; none where that counts for nothing */
    size_t mixing;       /* water sent back unsettled has changed; none with settling */
    size_t heads;        /* one a group: the next filter reaches its available head */
    size_t stretches;    /* one a filter: its flow at available head is worked out again */
    size_t rota;         /* one an entry: its next start */
    size_t calls;        /* one a group: the next filter meets a trigger */
    size_t filter_calls; /* one a filter: persistence has passed, or a filter with its own flow meets a trigger */
    size_t count;
};

/* What an outage takes out. */
enum wr_unit_kind {
    WR_UNIT_FILTER,
    WR_UNIT_WELL,
    WR_UNIT_TANK,
    WR_UNIT_WASH_PUMP,
    WR_UNIT_BLOWER,
    WR_UNIT_RECYCLE_PUMP
};

struct wr_unit {
    enum wr_unit_kind kind;
    size_t number; /* filter, well or tank; 0 for the others */
};

/* A signal that repeats every day: demand over the maximum day. */
struct wr_signal {
    double values[24];
    int lasts[24]; /* hours from each until the value differs; 0 when it never does */
    double phase;  /* s of the day at the start of the run */
};

/* Scratch space that the sharing of flows needs for one taker of service flow. */
#define WR_TAKER_BYTES 40

/* Where the arrays of a state stand in its block, in bytes. */
struct wr_layout {
    size_t timers, packs, filters, line, lone, takers, tanks, wells, outlets, outages, lines, rounding, size;
};

struct wr_plant {
    const struct wr_definition *definition; /* borrowed */
    size_t train_count;
    size_t group_count, filter_count, well_count, tank_count, outlet_count, outage_count, rota_count;
    struct wr_group *groups;
    size_t *group_of;                      /* by filter */
    char **names;                          /* by filter */
    struct wr_unit *units;                 /* by outage */
    size_t *rota_of;                       /* by rota entry: the filter */
    double viscosity;                      /* Pa s of the water in service */
    double raw[WR_CONSTITUENTS];           /* kg/m3 in raw water, mean of the wells by their flows */
    double (*well_water)[WR_CONSTITUENTS]; /* by well */
    struct wr_signal demand;               /* m3/s */
    double largest_room;                   /* m3, of the plant's largest wash */
    double wash_flow;                      /* m3/s that pump, pipes or mains give to all washes; WR_NEVER for any */
    double approved_capacity;              /* m3/s of raw plus recycle; INFINITY where none is given */
    bool has_recycle, has_settling, has_emergency;
    struct wr_sludge_law sludge;      /* where a blanket is kept */
    struct wr_discrete_mix particles; /* where they settle by classes; owned */
    struct wr_zone zone;              /* where they settle together */
    bool has_well_times;              /* some well has a least run or rest */
    double clocks_round;              /* s in which everything that repeats has come round */
    bool has_daily_volumes;           /* of some outlet */
    bool flows_may_stand;             /* no flow moves by time alone while beds and storage are within their limits */
    struct wr_timer_map timers;
    struct wr_layout layout;
};

/* Builds the plant of a definition, which must have passed the reader's rules and outlive the plant.
 * Returns WR_OK, or the status of the first model that could not be worked out; then nothing is kept. */
enum wr_status wr_plant_init(struct wr_plant *plant, const struct wr_definition *definition);

/* Frees what wr_plant_init made. */
void wr_plant_fini(struct wr_plant *plant);

/* Dry solids, kg/m3, in the last of a backwash at the waste sample tap, of a filter whose bed held a load, kg/m2, at
 * the start of the wash and was given so much water, m3. The author must have said how beds wash out. */
double wr_plant_last_of_wash(const struct wr_plant *plant, size_t filter, double load, double given);

#endif
