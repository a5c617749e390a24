/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_RECORD_ROOM_H
#define WR_SIM_RECORD_ROOM_H

/* Why room for spent wash was lacking: what held the tanks' outlets while washes waited for room.
 *
 * Times are in s over all filters that waited for room first of all, start-up left out, as wr_tally.first is. */

#include "sim/plant/simulation.h"

struct wr_room {
    double waited;             /* for room */
    double held;               /* of it, with the way out of the tanks held back by something */
    double held_by[WR_LIMITS]; /* by what; these may overlap */
    /* As the last instant left it. */
    double since;
    size_t waiting;
    wr_limit_set holds;
};

/* Looks at an instant, or at the end of the run. */
void wr_room_instant(struct wr_room *room, const struct wr_simulation *simulation);

/* What holds the way out of the tanks now; nothing while an outlet other than recycle runs in its place. */
wr_limit_set wr_room_outlets_held(const struct wr_simulation *simulation);

/* What held the outlets longest while washes waited for room; WR_LIMIT_NONE where nothing did. */
enum wr_limit wr_room_held_most(const struct wr_room *room);

#endif
