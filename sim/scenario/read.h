/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_READ_H
#define WR_SIM_SCENARIO_READ_H

/* Reads a scenario: JSON text in, a plant's definition out, or every complaint about it at once. Main thread only. */

#include <stdbool.h>
#include <stddef.h>

#include "sim/plant/definition.h"

struct cJSON;

/* Something wrong with a scenario. */
struct wr_complaint {
    size_t line;   /* in the file, from 1; 0 when the value came from a setting or there is no text */
    size_t column; /* in bytes, from 1; 0 likewise */
    char *setting; /* the setting to blame, as it was written; NULL for the file */
    char *pointer; /* RFC 6901, "" for the whole */
    char *message; /* "found ...; allowed: ..." */
};

/* What came of reading. Free with wr_reading_fini. */
struct wr_reading {
    char *file;                      /* its name in complaints */
    struct cJSON *tree;              /* with settings applied; NULL when the text is not JSON */
    struct wr_definition definition; /* whole only when good */
    bool good;                       /* there is no complaint */
    struct wr_complaint *complaints; /* in the order of the file, those about settings last */
    size_t complaint_count;
    size_t complaints_left_out; /* further ones, beyond the first few hundred */
};

/* Reads the scenario at `path`, then applies `settings`, texts "POINTER=VALUE" (RFC 6901; VALUE is JSON where it parses
 * as JSON, else text), in their order, and checks all. Initialises `*reading` whatever happens: look at `good`. */
void wr_reading_file(struct wr_reading *reading, const char *path, const char *const *settings, size_t setting_count);

/* The same from `length` bytes of `text`, called `name` in complaints. */
void wr_reading_text(struct wr_reading *reading, const char *name, const char *text, size_t length,
                     const char *const *settings, size_t setting_count);

/* Frees all that `*reading` owns, its definition included. */
void wr_reading_fini(struct wr_reading *reading);

/* All complaints, one a line: "plant.json:12: /wash/backwash_rate: found ...; allowed: ...". The caller frees it. */
char *wr_reading_complaints_text(const struct wr_reading *reading);

/* The scenario with its settings applied as JSON text, every number exact, so that reading it again gives the same
 * definition. The caller frees it. NULL when the text was not JSON. */
char *wr_reading_scenario_text(const struct wr_reading *reading);

#endif
