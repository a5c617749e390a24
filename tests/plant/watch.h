/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_PLANT_WATCH_H
#define WR_TESTS_PLANT_WATCH_H

/* What must hold at every instant of every run, whatever the plant: an observer that keeps the first breach. It judges
 * from the definition, the stocks and the flows; what the plant remembers of its own decisions is looked at only where
 * nothing else tells it. */

#include "models/kynch.h"
#include "sim/plant/simulation.h"

enum { WATCH_FILTERS = 8, WATCH_TANKS = 4, WATCH_OUTLETS = 4, WATCH_ACCOUNTS = WR_ACCOUNT_TANKS + WATCH_TANKS };

/* What a spent-wash tank must give by its definition, worked out when it begins to stand still. */
struct watch_turn {
    bool stands, gives, dumped;
    double since;  /* s, when it began to stand still */
    double level;  /* m3 then */
    double solids; /* kg in suspension then */
    double mixed;  /* kg/m3 of them in the water above the blanket */
    double stays;  /* m3 when its decant ends */
    double clear;  /* m3 of water to be drawn off */
    double lifted; /* m3 of sludge that a fixed draw-off may take with it */
    double depth;  /* m of that clear water; under it new sludge: */
    double under;
    struct wr_kynch zone; /* where it settles so, and can */
    struct wr_sludge old; /* its blanket then */
    double carried;       /* kg/m3 in what leaves while it gives */
};

/* What was seen of the rules of spent wash: nothing is proved by plants that never come to them. */
struct watch_seen {
    size_t bound_blends; /* instants with recycle at its bound of solids */
    size_t dumps;        /* tanks drawn off as they were */
    size_t emergencies;  /* instants with flow in an emergency outlet */
    size_t turns;        /* decants of settled water; of them: */
    size_t late;         /* those that clarity held beyond the time asked */
    size_t zones;        /* those of zones */
    size_t lifts;        /* those that took sludge */
};

struct watch {
    const struct wr_plant *plant;
    char breach[256]; /* the first one, with its time; empty while all holds */
    struct wr_entry opening[WATCH_ACCOUNTS];
    bool washing[WATCH_FILTERS]; /* by events */
    double waited;               /* s, summed over filters in line */
    bool locked;                 /* has been told so */
    size_t starts, ends;         /* of washes */
    double then;                 /* s, of the last instant; with what stood and flowed from then on: */
    double storage, wash_tank, tanks[WATCH_TANKS];
    double storage_net, wash_tank_net, tank_nets[WATCH_TANKS];
    double tank_inflow, recycle; /* m3/s, of all tanks; and m3 since the start: */
    double came, recycled;
    struct watch_turn turns[WATCH_TANKS];
    bool packed; /* a tank held more solids than its water can as thickened sludge */
    struct watch_seen seen;
    double outlet_flows[WATCH_OUTLETS], outlet_days[WATCH_OUTLETS]; /* m3/s; m3 since midnight */
    size_t in_line;
    double wakes; /* s, when something must happen next by its own reckoning */
    const char *wakes_for;
    double starved_since; /* s; WR_NEVER */
    double highest_rate;  /* share of the approved rate, of any filter in service */
};

/* Starts a watch; the observer then tells it. */
void watch_init(struct watch *watch, const struct wr_plant *plant);
struct wr_observer watch_observer(struct watch *watch);

/* Opens the books: straight after wr_simulation_init. */
void watch_open(struct watch *watch, const struct wr_simulation *simulation);

/* Closes them: after wr_simulation_end. */
void watch_close(struct watch *watch, const struct wr_simulation *simulation);

/* Runs the plant again and holds the figures of recovered water in its answer against what the watch has seen. */
void watch_answer(struct watch *watch, const struct wr_definition *definition);

#endif
