/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_PLANT_RANDOM_PLANT_H
#define WR_TESTS_PLANT_RANDOM_PLANT_H

/* Plants drawn at random, from easy to hopeless, with every key and every word that a scenario may have; most over 5 to
 * 20 days. They pass the reader's rules. A key that is new in the parameter table wants its draw in random_*.c: a test
 * counts what occurs.
 *
 *     struct wr_reading reading;
 *     random_plant_read(&reading, seed);
 *     ... reading.definition ...
 *     wr_reading_fini(&reading);
 */

#include "sim/scenario/read.h"

#include <stdint.h>

/* The scenario of a seed as JSON text, the same for the same seed; the caller frees it. Main thread only. */
char *random_plant_text(uint64_t seed);

/* Draws and reads it. False, with complaints in `*reading`, where it does not pass: a fault of the draws. */
bool random_plant_read(struct wr_reading *reading, uint64_t seed);

#endif
