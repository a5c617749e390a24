/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_PLANT_PROPERTIES_H
#define WR_TESTS_PLANT_PROPERTIES_H

/* Plants drawn at random, each run under a watch. */

#include "tests/plant/watch.h"

#include <stdbool.h>
#include <stddef.h>

/* What plants did: nothing is proved by plants that do nothing. */
struct property_totals {
    unsigned long long plants, beats, washes, waited, locked, overflowed, over_rate;
    struct watch_seen spent; /* summed, of spent wash */
};

/* Draws the plant of a seed, runs it under watch and adds to the totals. False where it breaks a rule; then `breach`
 * says which, when and by how much. */
bool properties_hold(unsigned long long seed, struct property_totals *totals, char *breach, size_t size);

/* Says the totals in two lines on standard output. */
void property_totals_print(const struct property_totals *totals);

#endif
