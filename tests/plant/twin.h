/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_PLANT_TWIN_H
#define WR_TESTS_PLANT_TWIN_H

/* A plant in fixed steps: an independent voice on the event simulation.
 *
 * At each whole step it looks at the clock, the levels and the beds, starts the washes that the rules allow, shares out
 * the flows, and goes one step on with them (explicit Euler). What falls between two steps is seen at the later one, so
 * everything is late by less than a step and the whole converges at first order. It shares no code with sim/plant/ but
 * the figures of the plant as built, and is written from the rules of the plant alone (docs/order-of-events.md,
 * docs/scenario.md). It is meant to be quick, as a rival in benchmarks should be: flows are shared out again only when
 * something has changed. */

#include "sim/plant/plant.h"

#include <stdint.h>

enum { TWIN_FILTERS = 256, TWIN_WELLS = 16, TWIN_TANKS = 8, TWIN_OUTLETS = 8, TWIN_OUTAGES = 64, TWIN_ROTA = 64 };

/* A wash that began. */
struct twin_start {
    double time; /* s */
    size_t filter;
};

/* Volumes of water since the start, m3. */
struct twin_volumes {
    double raw, recycled;
    double delivered, overflow; /* finished water */
    double sewer, pond, hauled; /* out of the spent-wash tanks */
    double sludge, spilled;
    double rinsed, washed, filled; /* feed and wash water through beds to waste, and into drained filters */
    double drained, down, held;    /* filters' own water to waste and to service; regenerant to holding */
};

struct twin_result {
    struct twin_start *starts; /* in order; owned */
    size_t start_count, start_room;
    struct twin_volumes volumes;
    double storage, wash_tank, tanks[TWIN_TANKS]; /* m3 at the end */
    uint64_t steps;
};

/* Runs a plant of at most the numbers above from 0 to `until` (s) in steps of dt (s, above zero; a power of two keeps
 * times exact). Washes that start before `until` are listed. False when memory runs out, or the plant is too large or
 * has rules beyond the twin; free the result with twin_result_fini either way. */
bool twin_run(const struct wr_plant *plant, double dt, double until, struct twin_result *result);

void twin_result_fini(struct twin_result *result);

#endif
