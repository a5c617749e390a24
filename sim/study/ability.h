/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_ABILITY_H
#define WR_SIM_STUDY_ABILITY_H

/* What each resource of the wash could do in a day, beside what is wanted of it.
 *
 * Every figure is a short sum that a reader can check by hand; the terms are kept for that. Wanted is not the number of
 * calls counted, which waiting lowers, but what the filters would ask for if none ever waited. */

#include "sim/plant/settling.h"
#include "sim/study/run.h"

enum { WR_ABILITY_ROWS = 5, WR_ABILITY_TERMS = 6 };

/* A term of a sum, in SI. */
struct wr_ability_term {
    const char *words;
    double value;
    const char *unit; /* "s", "m3", "m3/s", "1" */
};

struct wr_ability {
    enum wr_limit resource;
    double wanted;   /* washes a day */
    double possible; /* washes a day that this resource alone could do, used without a gap */
    struct wr_ability_term terms[WR_ABILITY_TERMS];
    size_t term_count;
};

/* Works out the table for a run that ended whole; returns how many rows it wrote. */
size_t wr_ability_table(const struct wr_run *run, struct wr_ability rows[WR_ABILITY_ROWS]);

/* What the best outlet of the spent-wash tanks gives over a day, within its hours and its volume of the day, as a mean
 * flow, m3/s; 0 without outlets. */
double wr_outlets_flow(const struct wr_definition *definition);

/* A mean wash. */
struct wr_mean_wash {
    double off_line; /* s */
    double room;     /* m3 that it leaves, above 0 */
    double solids;   /* kg in that */
};

/* Washes a day that the spent-wash tanks and the ways out of them can take, used without a gap. The plant must have
 * tanks. */
double wr_ability_of_room(const struct wr_plant *plant, const struct wr_mean_wash *wash);

/* What one tankful of so many mean washes gives after settling: that of an empty tank, by the plant's law. */
struct wr_clearing wr_ability_tankful(const struct wr_plant *plant, size_t tank, double washes,
                                      const struct wr_mean_wash *wash);

#endif
