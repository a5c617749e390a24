/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_PLANT_H
#define WR_SIM_PLANT_PLANT_H

/* The plant as built from its definition: what follows from the author's figures, worked out once.
 *
 * Constant after wr_plant_init and shared by threads. SI doubles; heads in metres of water. */

#include "models/deposit.h"
#include "models/status.h"
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
    WR_STEP_REGENERATE,  /* regenerant through the bed, to the sewer */
    WR_STEP_REFILL,      /* wash water refills the filter from below */
    WR_STEP_TURN_VALVES, /* to the service direction, to waste */
    WR_STEP_RINSE,       /* feed through the bed to waste */
    WR_STEP_RETURN,      /* waste closes, outlet opens */
    WR_STEPS
};

/* Where the water of a step goes. */
enum wr_step_to { WR_TO_SPENT, WR_TO_FILTER, WR_TO_SEWER };

struct wr_step {
    enum wr_step_kind kind;
    double duration;    /* s; of a rinse at its whole flow */
    double wash_flow;   /* m3/s of wash water */
    enum wr_step_to to; /* where that goes */
    double feed_flow;   /* m3/s of feed to the spent wash */
    double drain_flow;  /* m3/s of the filter's own water to the spent wash */
    double down_flow;   /* m3/s of the filter's own water into service */
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
    double wash_volume;     /* m3 of wash water a wash takes */
    double backwash_volume; /* m3 of it that carries out what the bed holds */
    double peak_flow;       /* m3/s of wash water at most */
    double room;            /* m3 a wash sends to the spent-wash tank */
    double off_line;        /* s from the start of a wash to service at undisturbed flows */
    bool air;               /* it needs the blower */
};

/* One entry of the timers, by class: order at one instant is the order of these numbers. */
struct wr_timer_map {
    size_t signal;       /* demand changes */
    size_t outages;      /* one each: begins or ends */
    size_t tanks;        /* one each: starts to settle, has settled, is emptied */
    size_t steps;        /* one a filter: a wash step ends */
    size_t storage;      /* storage crosses a level */
    size_t wash_water;   /* the wash-water tank crosses a level, or water for the first in line has come */
    size_t rooms;        /* one a tank: room for the first in line */
    size_t wells;        /* one each: its least run or rest has passed */
    size_t window;       /* wash hours begin or end */
    size_t attended;     /* attended hours begin or end */
    size_t outlets;      /* one each: its hours begin or end, or it has had its volume of the day */
    size_t midnight;     /* the outlets' volumes of the day begin anew */
    size_t gap;          /* time between starts has passed */
    size_t mixing;       /* water sent back unsettled has changed */
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
    double approved_capacity;              /* m3/s of raw plus recycle; INFINITY where none is given */
    bool has_recycle, has_settling;
    struct wr_timer_map timers;
    struct wr_layout layout;
};

/* Builds the plant of a definition, which must have passed the reader's rules and outlive the plant.
 * Returns WR_OK, or the status of the first model that could not be worked out; then nothing is kept. */
enum wr_status wr_plant_init(struct wr_plant *plant, const struct wr_definition *definition);

/* Frees what wr_plant_init made. */
void wr_plant_fini(struct wr_plant *plant);

/* Head across a filter of the group, m, at the given solids load (kg/m2) and rate (m/s); 0 at no flow.
 * With bed_only the fittings are left out. */
double wr_group_head(const struct wr_group *group, double viscosity, double load, double rate, bool bed_only);

/* Load, kg/m2, at which the filter's head at the given rate reaches head; 0 or less when a clean bed is past it. */
double wr_group_load_at_head(const struct wr_group *group, double viscosity, double head, double rate, bool bed_only);

/* Finds a unit by its name: a filter, well or tank, or "wash pump", "blower", "recycle pump". False when there is none.
 */
bool wr_plant_unit(const struct wr_plant *plant, const char *name, struct wr_unit *unit);

/* First and number of filters that stand in one vessel with a filter. */
void wr_plant_vessel(const struct wr_plant *plant, size_t filter, size_t *first, size_t *count);

/* True when two filters stand in one vessel; a filter stands in its own. */
bool wr_plant_shares_vessel(const struct wr_plant *plant, size_t a, size_t b);

/* True when an outage takes a filter out, be it by another cell of its vessel. */
bool wr_plant_outage_takes(const struct wr_plant *plant, size_t outage, size_t filter);

/* Rate at available head, m/s, that a filter of the given load (kg/m2) holds until *end, the load at which it is worked
 * out again: its resistance has then risen by a hundredth. The rate is that of the mid resistance, which for a straight
 * deposit law and no quadratic terms passes exactly the volume of true constant head over the stretch. */
double wr_group_stretch(const struct wr_group *group, double viscosity, double load, double *end);

/* Load, kg/m2, at which the plant's differential trigger is met at the given rate; INFINITY without such a trigger. */
double wr_plant_trigger_load(const struct wr_plant *plant, const struct wr_group *group, double rate);

/* The same for the urgent level. */
double wr_plant_urgent_load(const struct wr_plant *plant, const struct wr_group *group, double rate);

/* Rate each filter would have on the maximum day with every unit named in the outages' start out, m/s. */
double wr_plant_mean_rate(const struct wr_plant *plant);

/* Time, s, of a whole filter run of the group at a steady rate, m/s, and dry solids in its feed, kg/m3, until its first
 * trigger; WR_NEVER when none is met. */
double wr_plant_run_time(const struct wr_plant *plant, const struct wr_group *group, double rate, double solids);

/* Name of a timer for messages, written to text. */
void wr_plant_timer_name(const struct wr_plant *plant, size_t timer, char *text, size_t size);

#endif
