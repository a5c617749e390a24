/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_PLANT_WATCH_H
#define WR_TESTS_PLANT_WATCH_H

/* What must hold at every instant of every run, whatever the plant: an observer that keeps the first breach. It judges
 * from the definition, the stocks and the flows; what the plant remembers of its own decisions is looked at only where
 * nothing else tells it. */

#include "sim/plant/simulation.h"

enum { WATCH_FILTERS = 8, WATCH_TANKS = 4, WATCH_OUTLETS = 4, WATCH_ACCOUNTS = WR_ACCOUNT_TANKS + WATCH_TANKS };

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

#endif
