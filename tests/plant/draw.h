/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_PLANT_DRAW_H
#define WR_TESTS_PLANT_DRAW_H

/* Draws the keys of a scenario at random. The parameter table says how each is written, which words a choice has and
 * what holds where a key is left out, so a draw names no more than its key and its figure.
 *
 * Keys that may be left out are, one time in three. A plant writes its figures in units of one kind, so that equal
 * figures stay equal. Inside tests/plant/random_*.c only. */

#include "sim/engine/philox.h"
#include "sim/scenario/parameter.h"

#include <cjson/cJSON.h>

enum { DRAFT_FILTERS = 8, DRAFT_GROUPS = 3, DRAFT_WELLS = 4, DRAFT_TANKS = 3, DRAFT_NAME = 24 };

static const double minute = 60.0, hour = 3600.0, day = 86400.0;

struct draft_group {
    size_t filters;
    double area, rate; /* m2 of one filter; m/s, approved */
};

/* What has been drawn so far and later draws go by; SI. */
struct draft {
    gsl_rng rng;
    struct wr_philox philox;
    int writing; /* enum draft_writing */
    double start, horizon;
    int source; /* of wash water */
    struct draft_group groups[DRAFT_GROUPS];
    size_t group_count, filters;
    char names[DRAFT_FILTERS][DRAFT_NAME];
    double capacity;     /* m3/s at the approved rates, all filters in service */
    double largest_area; /* m2 */
    double least_rate;   /* m/s, approved */
    double solids;       /* kg/m3 in raw water */
    double temperature;  /* K of raw water */
    double clean_head;   /* m at the approved rate, the highest of the groups */
    double least_head;   /* m available */
    int sequence;        /* enum wr_template */
    bool air;
    double peak, water, room; /* m3/s and m3, of the largest wash */
    size_t well_count, tank_count;
    char wells[DRAFT_WELLS][DRAFT_NAME], tanks[DRAFT_TANKS][DRAFT_NAME];
    bool throttles, recycles;
    int settling;       /* enum wr_settling_law */
    bool fixed;         /* draw-off */
    double draw_height; /* m */
};

enum draft_writing { DRAFT_INSIDE, DRAFT_US, DRAFT_SI, DRAFT_WRITINGS };

/* A block of the scenario that is being filled. */
struct at {
    struct draft *draft;
    cJSON *json;
    const struct wr_block *block;
};

/* Chance. */
double draw_between(struct draft *draft, double least, double most);
bool draw_one_in(struct draft *draft, unsigned long n);
size_t draw_pick(struct draft *draft, size_t least, size_t most);
/* Whole multiples of a step: people write round numbers, and round numbers make things fall together. */
double draw_round(struct draft *draft, double least, double most, double step);

/* Writes a number, count, quantity, time of the day or date (s since the start) and returns it. */
double at_put(struct at at, const char *key, double value);
/* Writes it two times in three. Returns what then holds: it, the default, or absent. */
double at_may_put(struct at at, const char *key, double value);
/* What holds where a number or quantity is left out: its default, or absent. */
double at_left_out(struct at at, const char *key);
/* Writes numbers or quantities as a list. */
void at_put_numbers(struct at at, const char *key, const double *values, size_t count);
void at_put_text(struct at at, const char *key, const char *text);
void at_put_flag(struct at at, const char *key, bool flag);
/* Draws one of the words of a choice, each as often, and writes it; its number. */
int at_choose(struct at at, const char *key);
/* Writes a given one; where it is the default it may be left out. */
void at_put_choice(struct at at, const char *key, int choice);
/* Adds a block, and a block at the end of a list. */
struct at at_block(struct at at, const char *key);
struct at at_item(struct at at, const char *key);
/* Adds one or two blocks of hours to a list, one time in `one_in`. */
void at_may_put_hours(struct at at, const char *key, unsigned long one_in);

/* Parts of a plant, in the order in which they must be drawn. */
void draw_filters(struct at root); /* and raw water */
void draw_washes(struct at root);
void draw_supply(struct at root); /* wells, storage, demand */
void draw_wash_water(struct at root);
void draw_spent_wash(struct at root); /* and recycle */
void draw_outages(struct at root);

#endif
