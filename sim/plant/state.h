/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_STATE_H
#define WR_SIM_PLANT_STATE_H

/* What changes while a plant runs: one block of bytes, numbers in place of pointers, every accumulator inside.
 *
 * Saving a run is writing the block. The arrays stand behind the head of the block at the places that the plant's
 * layout gives; the functions at the end find them. SI doubles. */

#include "sim/engine/instant.h"
#include "sim/plant/limits.h"
#include "sim/plant/plant.h"

#include <stdint.h>

/* What a bed has taken since its last wash. For a filter that shares its group's rate the group counts up for all of
 * them and the filter keeps how far the group had come when it joined (see sim/plant/bed.h). */
struct wr_bed {
    double load[WR_CONSTITUENTS]; /* kg/m2 */
    double volume;                /* m3/m2 */
    double hours;                 /* s with flow */
};

enum wr_mode {
    WR_MODE_SERVICE,
    WR_MODE_WASH,
    WR_MODE_START_RINSE, /* runs to waste, since the plant has started */
    WR_MODE_HELD,        /* off line until its next wash: that was cut short, or it has come to available head */
    WR_MODE_OUT
};

/* Triggers that are watched; a rota's and an interrupted wash's calls come from elsewhere. */
enum wr_trigger {
    WR_TRIGGER_DIFFERENTIAL,
    WR_TRIGGER_HOURS,
    WR_TRIGGER_VOLUME,
    WR_TRIGGER_URGENT,
    WR_TRIGGERS,
    WR_TRIGGER_ROTA = WR_TRIGGERS,
    WR_TRIGGER_INTERRUPTED,
    WR_TRIGGER_KINDS
};

/* A wait for a wash, from the call on. */
struct wr_wait {
    double total;          /* s */
    double by_resource;    /* s in which the first reason was a resource */
    double gathered;       /* kg/m2 of solids taken in that time */
    double load_at_call;   /* kg/m2 */
    double volume_at_call; /* m3/m2 */
};

struct wr_filter {
    enum wr_mode mode;
    enum wr_trigger trigger; /* what called */
    bool called;             /* for a wash: latched until the wash starts */
    bool above;              /* differential at or above its trigger, persistence running */
    bool apart;              /* at available head, with a flow of its own */
    bool outage_waits;       /* goes out of service when its wash has ended */
    bool stands_by;          /* comes back from an outage off line, as it went */
    bool urgent;             /* past the urgent level: the window does not hold it */
    bool weak;               /* this wash has been cut short */
    bool interrupted;        /* held by an interrupted wash until somebody attends */
    bool alarmed;            /* at available head in a plant that only gives alarm */
    bool washed;             /* has had its first wash: waits before that are start-up */
    uint32_t step;           /* of the wash */
    uint32_t tank;           /* that takes its spent wash; from the number of tanks on: see enum wr_beyond_tanks */
    double flow;             /* m3/s of a rinse or of a filter apart; shared ones follow their group's rate */
    double wash_flow;        /* m3/s of wash water it gets now */
    double given;            /* m3 of backwash water it has had in this wash */
    double regenerant;       /* m3 of room in the holding tank that it has booked and not yet filled */
    double water;            /* m3 above (below: less) what it holds when full */
    double limit_rate;       /* m/s while apart: its rate over this stretch at available head */
    double stretch_load;     /* kg/m2 at which that rate is worked out again */
    struct wr_bed bed;
    double load_at_wash[WR_CONSTITUENTS]; /* kg/m2 when the backwash began, before it when the wash did */
    double rinse_left;                    /* m3 */
    double lasts_at;                      /* s: when its differential has lasted, while above */
    double called_at;                     /* s */
    double wash_started_at;               /* s, of the last wash; before the run for a filter not yet washed */
    double reason_since[WR_LIMITS];       /* s; where the reason holds */
    wr_limit_set reasons;                 /* why it waits */
    wr_limit_set led;                     /* of these, which have been the first reason since they hold */
    struct wr_wait wait;
};

/* Where spent wash goes that goes into no tank, as places after the last tank's number. */
enum wr_beyond_tanks { WR_BEYOND_SEWER, WR_BEYOND_SPILL, WR_BEYOND_TANKS };

/* The filters of a group that run at one rate. */
struct wr_pack {
    struct wr_bed sum; /* what one member would have taken since the run began */
    double rate;       /* m/s */
    uint32_t members;
    uint32_t above;                  /* members whose persistence runs */
    bool stale;                      /* the places below must be looked up again */
    int32_t dirtiest;                /* member of the highest load; -1 for none */
    int32_t next[WR_TRIGGERS];       /* member, not called, that meets this trigger first; -1 for none */
    double judged_rate;              /* m/s, above zero, for which the two below hold; 0 before any */
    double thresholds[WR_TRIGGERS];  /* in what each trigger counts */
    double head_load;                /* kg/m2 at which the head is what is available */
    double armed_rate, armed_solids; /* m/s and kg/m3 at which its timers were set; WR_NEVER when they must be anew */
};

enum wr_tank_mode { WR_TANK_FILLING, WR_TANK_SETTLING, WR_TANK_DECANTING };

/* A spent-wash tank. Without settling it stays in the filling mode and empties through its outlets meanwhile. */
struct wr_tank {
    enum wr_tank_mode mode;
    bool empty;                      /* without settling, pinned: gives what comes */
    uint32_t washes;                 /* that are under way into it */
    double level;                    /* m3 */
    double free;                     /* m3 of room not booked */
    double sludge;                   /* m3 that stay when its decant ends; from the last decant while it fills */
    double ready;                    /* s of stillness until it may be drawn off, foreseen when it begins */
    double clears;                   /* s of it until that water is clear enough, whatever time is asked */
    double carried;                  /* share of its suspended solids that goes with the water above the sludge */
    double clear, lifted;            /* m3 of that water, and of sludge that a fixed draw-off takes with it */
    bool dumped;                     /* drawn off unsettled, in an emergency */
    double blanket[WR_CONSTITUENTS]; /* kg in the blanket of sludge */
    double excess;                   /* m3 of water that it had still to give up at the time below */
    double thickened_at;             /* s */
    bool draw_due;                   /* by the calendar, after the next decant */
    double mass[WR_CONSTITUENTS];    /* kg */
    double since;                    /* s: last wash ended, or settled */
    double inflow;                   /* m3/s */
    double backwash, drained; /* m3/s of it from the wash water and from the filters themselves; the rest is rinse */
    double mass_in[WR_CONSTITUENTS]; /* kg/s out of the beds */
    bool closed;                     /* out of service */
    double to[WR_OUTLET_KINDS];      /* m3/s to each kind of outlet */
    double drawn;                    /* m3/s, their sum */
    double armed_drawn;              /* m3/s at which its timer was set while it decants; WR_NEVER: set it anew */
    double out[WR_CONSTITUENTS];     /* kg/m3 in what leaves */
};

/* How storage is pinned. */
enum wr_pin { WR_PIN_NONE, WR_PIN_EMPTY, WR_PIN_FULL };

/* The flows that hold until the next instant, m3/s. */
struct wr_flows {
    double demand, delivered;
    double raw, recycle, rinse, service;
    double start_rinse;                /* of the rinse: of filters that rinse since the plant has started */
    double refill, wash;               /* into and out of the wash-water tank */
    double down;                       /* out of filters that filter down, into storage */
    double overflow;                   /* finished water that storage cannot take */
    double spill;                      /* spent wash that no tank has room for */
    double feed[WR_CONSTITUENTS];      /* kg/m3 to the filters */
    double raw_water[WR_CONSTITUENTS]; /* kg/m3 out of the wells that run */
    double to_storage;                 /* what is left for storage; below 0 while a wash draws on it */
    double capacity;                   /* that the filters in service can take */
    double approved;                   /* what their approved rates alone would let them take */
    uint32_t recycle_tank;             /* that gives the recycle; the number of tanks for none */
    wr_limit_set held;                 /* what holds a flow */
};

/* What must be worked out again at an instant besides what demand moves (what storage gains, what is delivered, and
 * when storage comes to its next level): a set. To ask for too much is never wrong. */
enum wr_again {
    WR_AGAIN_TIMERS = 1, /* all timers */
    WR_AGAIN_DRAWS = 2,  /* what washes draw from a stock and send to the tanks, and when that stock is used up */
    WR_AGAIN_FLOWS = 4,  /* every flow and all timers */
    WR_AGAIN_CALLS = 8   /* timers of calls and of available head */
};

/* What the wells that run depend on besides their own latches, m3/s, and what came of it when they were last shared. */
struct wr_wells_share {
    double capacity, approved, direct, asked; /* asked is below 0 after wells were throttled */
    double raw, raw_water[WR_CONSTITUENTS];   /* m3/s, and kg/m3 in it */
    wr_limit_set held;
    bool all_wanted; /* every well that was wanted gave its whole flow, and no other any */
    bool stands;     /* no well has been called, released, taken out or let rest since */
};

/* How long a limit held, s. */
struct wr_tally {
    double total; /* with others or alone */
    double first; /* as the first reason of a wait */
    double alone; /* with no other reason */
};

struct wr_storage_state {
    double level; /* m3 */
    enum wr_pin pin;
    bool below_reserve, below_low_mark, below_lockout;
    double next_below, next_above; /* m3: the next levels that mean something */
    double armed;                  /* m3: the level its timer stands for */
    double armed_net;              /* m3/s, net inflow at which that was set; WR_NEVER when it must be set anew */
};

struct wr_wash_tank_state {
    double level; /* m3 */
    double free;  /* m3 not booked */
    bool refilling;
    bool full;    /* pinned: the refill follows the draw */
    double armed; /* m3 */
    bool armed_free;
};

/* The tank for spent regenerant. */
struct wr_holding_state {
    double level;                 /* m3 */
    double free;                  /* m3 of room not booked */
    double mass[WR_CONSTITUENTS]; /* kg */
};

/* Head of the block. */
struct wr_state {
    struct wr_clock clock;
    double settled_at; /* s up to which stocks and books have been brought */
    double demand;     /* m3/s now */
    double asked;      /* m3 of demand since the run began */
    struct wr_storage_state storage;
    struct wr_wash_tank_state wash_tank;
    struct wr_holding_state holding;
    struct wr_flows flows;
    unsigned again; /* set of enum wr_again: what has moved since they were shared */
    struct wr_wells_share wells_share;
    uint32_t washing;    /* filters off line for a wash */
    uint32_t rinsing;    /* filters that rinse since the plant has started */
    uint32_t air_washes; /* of them with air scour */
    double booked;       /* m3 of wash water promised to washes and not yet drawn */
    bool wash_pump_out, blower_out, recycle_pump_out;
    bool window_open, attended_open;     /* wash hours and attended hours */
    bool wants_room;                     /* the first in line waits for room for its spent wash */
    uint32_t lone;                       /* filters that keep figures of their own: in a wash, apart or out */
    uint32_t waiting;                    /* filters in the line of calls */
    uint32_t well_starts;                /* of all wells */
    double last_start;                   /* s, of the last wash */
    double limit_since[WR_LIMITS];       /* s; flows that are held */
    wr_limit_set held;                   /* as last noted */
    struct wr_tally waits[WR_LIMITS];    /* of washes, without the start-up */
    struct wr_tally start_up[WR_LIMITS]; /* waits before each filter's first wash */
    double holds[WR_LIMITS];             /* s for which a flow was held */
    uint64_t events;                     /* told so far */
    bool locked;                         /* no filter serves and nothing under way can change that */
    double stood_since;                  /* s, from when on only clocks could; WR_NEVER */
};

/* Asks for what a set of enum wr_again has to be worked out again at this instant. */
static inline void wr_state_again(struct wr_state *state, unsigned again)
{
    state->again |= again;
}

static inline void *wr_state_at(const struct wr_state *state, size_t place)
{
    return (char *)(uintptr_t)state + place;
}

static inline struct wr_pack *wr_state_packs(const struct wr_plant *plant, const struct wr_state *state)
{
    return wr_state_at(state, plant->layout.packs);
}

static inline struct wr_filter *wr_state_filters(const struct wr_plant *plant, const struct wr_state *state)
{
    return wr_state_at(state, plant->layout.filters);
}

/* Filters that keep figures of their own, in no order, state->lone of them. */
static inline uint32_t *wr_state_lone(const struct wr_plant *plant, const struct wr_state *state)
{
    return wr_state_at(state, plant->layout.lone);
}

/* Filters in the order of their turn, state->waiting of them. */
static inline uint32_t *wr_state_line(const struct wr_plant *plant, const struct wr_state *state)
{
    return wr_state_at(state, plant->layout.line);
}

static inline struct wr_tank *wr_state_tanks(const struct wr_plant *plant, const struct wr_state *state)
{
    return wr_state_at(state, plant->layout.tanks);
}

/* A well: what the level in storage asks of it, what it may do, and what it gives. */
struct wr_well_state {
    bool called;  /* by storage */
    bool wanted;  /* called, or held running by its least run, and neither out nor resting */
    bool rests;   /* stopped less than its least rest ago */
    bool runs;    /* by the flows just shared */
    bool running; /* as last noted */
    bool out;
    double flow;             /* m3/s */
    double started, stopped; /* s, the last time */
    uint32_t starts;
};

/* An outlet's day. */
struct wr_outlet_state {
    bool open;                     /* by its hours */
    bool spent;                    /* it has had its volume of the day */
    double changes;                /* s, when its hours next begin or end */
    double today;                  /* m3 since midnight */
    double flow;                   /* m3/s now */
    double given;                  /* m3 since the run began */
    double worst_day, peak, hours; /* m3, m3/s, s of flow */
};

static inline struct wr_outlet_state *wr_state_outlets(const struct wr_plant *plant, const struct wr_state *state)
{
    return wr_state_at(state, plant->layout.outlets);
}

static inline struct wr_well_state *wr_state_wells(const struct wr_plant *plant, const struct wr_state *state)
{
    return wr_state_at(state, plant->layout.wells);
}

/* By outage: whether it has begun and ended. */
enum wr_outage_stage { WR_OUTAGE_AHEAD, WR_OUTAGE_ON, WR_OUTAGE_OVER };

static inline uint8_t *wr_state_outages(const struct wr_plant *plant, const struct wr_state *state)
{
    return wr_state_at(state, plant->layout.outages);
}

#endif
