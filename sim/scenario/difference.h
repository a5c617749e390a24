/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_DIFFERENCE_H
#define WR_SIM_SCENARIO_DIFFERENCE_H

/* What was changed between two scenarios: their trees walked side by side, by the parameter table. Main thread only. */

#include <stdbool.h>
#include <stddef.h>

struct cJSON;

/* One value that differs. */
struct wr_difference {
    char *pointer;                       /* RFC 6901, in the later scenario; of what is gone, in the earlier one */
    const char *meaning;                 /* of its key, a phrase of the parameter table; "order of the list" */
    char *before, *after;                /* as written, blocks on one line; NULL where nothing is written */
    const char *default_text;            /* what holds where nothing is written; NULL for nothing */
    const struct cJSON *earlier, *later; /* the values; NULL where nothing is written; borrowed from the trees */
    bool is_weather; /* it is of what the plant is asked, not of the plant: start, horizon, seed, demand */
};

struct wr_differences {
    struct wr_difference *items;
    size_t count;
};

/* Lists what differs between the trees of two good scenarios, in the order of the table. The same quantity in other
 * units, or a default written out, is no difference; nor are title, question, units of the report and notes, which no
 * answer depends on. Items of a list are paired by their names where all have one of their own, else by their places;
 * one without a pair is added or gone as a whole. Free with wr_differences_fini. */
void wr_differences_find(struct wr_differences *differences, const struct cJSON *before, const struct cJSON *after);

void wr_differences_fini(struct wr_differences *differences);

/* True for a key at the root that says what the plant is asked: "start", "horizon", "seed", "demand". */
bool wr_key_is_weather(const char *key);

#endif
