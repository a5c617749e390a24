/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_RECORD_TANKS_H
#define WR_SIM_RECORD_TANKS_H

/* What the spent-wash tanks did, for a run that keeps lists: each time that one stood still and was drawn off, each
 * draw of sludge, and each time that an emergency outlet ran. SI doubles; times in s since the start. */

#include "sim/plant/simulation.h"

/* A tank from when it stands still until its decant has ended. */
struct wr_turn {
    size_t tank;
    double settles_at;
    double time_up_at; /* it has stood for the time that the plant asks */
    double clear_at;   /* its water is clear enough, foreseen; WR_NEVER where it never is */
    double drawn_from; /* WR_NEVER where the run ended before, as for the end */
    double ended_at;
    double content; /* m3 as it began to stand still */
    double clear;   /* m3 to be drawn off */
    double solids;  /* kg/m3 in what is drawn off; WR_ABSENT before */
    double lifted;  /* m3 of sludge that goes with it, foreseen */
    bool unsettled; /* drawn off as it was, in an emergency */
    double settled; /* m3 of blanket as the decant began */
    double blanket; /* m3 of blanket as it ended, before any was drawn */
    double left;    /* m3 of blanket in the tank as it filled again */
};

enum wr_draw_why {
    WR_DRAW_BY_RULE,
    WR_DRAW_FOR_ROOM, /* beyond the rule, so that the plant's largest wash fits */
    WR_DRAW_DROPPED   /* no blanket is kept: all that is left goes at the end of each decant */
};

/* Sludge that was drawn. */
struct wr_draw_record {
    size_t tank;
    enum wr_draw_why why;
    double time;
    double water;   /* m3 of sludge */
    double solids;  /* kg, dry */
    double blanket; /* m3 that lay in the tank before it */
};

/* An emergency outlet that ran. */
struct wr_emergency {
    size_t outlet, tank;
    size_t filter;  /* first in line for room as it began; WR_NOWHERE for none any more */
    bool unsettled; /* the tank was drawn off as it was */
    double from, to;
    double water; /* m3 */
};

struct wr_tank_lists {
    struct wr_turn *turns;
    size_t turn_count, turn_room;
    struct wr_draw_record *draws;
    size_t draw_count, draw_room;
    struct wr_emergency *emergencies;
    size_t emergency_count, emergency_room;
    size_t *open_turn;       /* by tank: place + 1 of the turn under way; 0 for none */
    struct wr_entry *sludge; /* by tank: all that had been drawn so far */
    size_t open_emergency;   /* place + 1; 0 for none */
    double given_before;     /* m3 that the outlet had given before it */
    bool out_of_memory;
};

/* Prepares lists for a plant. False without memory; wr_tank_lists_fini is called either way. */
bool wr_tank_lists_init(struct wr_tank_lists *lists, const struct wr_plant *plant);

/* Told of what happens to a tank, of each instant of a plant with an emergency outlet, and of the end of the run. */
void wr_tank_lists_event(struct wr_tank_lists *lists, const struct wr_simulation *simulation,
                         const struct wr_event *event);
void wr_tank_lists_instant(struct wr_tank_lists *lists, const struct wr_simulation *simulation);
void wr_tank_lists_close(struct wr_tank_lists *lists, const struct wr_simulation *simulation);

void wr_tank_lists_fini(struct wr_tank_lists *lists);

#endif
