/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_PLANT_SCENE_H
#define WR_TESTS_PLANT_SCENE_H

/* Plants for whole runs: one scene for tests and benchmarks alike.
 *
 * A scene is a definition together with all that it points to, so there is nothing to free. It points into itself: fill
 * it where it shall stay, and do not copy it. */

#include "sim/plant/definition.h"

#include <stdint.h>

enum {
    SCENE_FILTERS = 6,
    SCENE_GROUPS = 2,
    SCENE_LAYERS = 2,
    SCENE_WELLS = 4,
    SCENE_TANKS = 3,
    SCENE_OUTLETS = 2,
    SCENE_OUTAGES = 2,
    SCENE_NAME = 16
};

struct scene {
    struct wr_definition definition;
    struct wr_well wells[SCENE_WELLS];
    struct wr_filter_group groups[SCENE_GROUPS];
    struct wr_media_layer layers[SCENE_GROUPS][SCENE_LAYERS];
    double shares[SCENE_GROUPS][SCENE_FILTERS];
    struct wr_spent_tank tanks[SCENE_TANKS];
    struct wr_outlet outlets[SCENE_OUTLETS];
    struct wr_outage outages[SCENE_OUTAGES];
    char outage_units[SCENE_OUTAGES][SCENE_NAME];
};

/* Points a definition's lists at the scene's arrays, all of no length, and marks what may be left out as absent. */
void scene_init(struct scene *scene);

/* An invented small town: three pressure filters, three wells, two settling tanks with recycle, on its maximum day. */
void scene_small_town(struct scene *scene);

/* A plant drawn at random that passes the rules for scenarios: from easy to hopeless, with every trigger, rule, tank
 * and outlet there is, over 5 to 20 days. The same for the same seed. */
void scene_random(struct scene *scene, uint64_t seed);

#endif
