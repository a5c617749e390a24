/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_ROTA_HUNT_H
#define WR_SIM_STUDY_ROTA_HUNT_H

/* A search for a rota under way. For rota.c and rota_*.c alone. */

#include <gsl/gsl_rng.h>

#include "sim/study/rota.h"
#include "sim/study/variant.h"

/* Levels of a range that does not say how many values it wants. */
enum { WR_ROTA_LEVELS = 7 };

struct wr_rota_hunt {
    struct wr_rota_search *rota;
    struct wr_workers *workers;
    struct wr_base base;
    const struct wr_definition *definition;
    gsl_rng *rng;
    char *starts[WR_ROTA_STARTS][WR_ROTA_AXES]; /* settings of each start; NULL after the last */
    double shift[WR_ROTA_STARTS];               /* s by which it begins later */
};

/* True for a bound of a place of the scenario; the others bound a dated rota. */
static inline bool wr_rota_is_place(const struct wr_axis *axis)
{
    return axis->pointer[0] == '/';
}

/* Reads the bounds of a question. False, with the search's message, where they are none. */
bool wr_rota_bounds_read(struct wr_rota_hunt *hunt, const struct wr_rota_question *question);

/* Lists the starts from which each candidate is run, the scenario's own first, as far as the scenario allows them. */
void wr_rota_starts_list(struct wr_rota_hunt *hunt);

/* Frees the settings of the starts. */
void wr_rota_starts_fini(struct wr_rota_hunt *hunt);

/* The settings that make a candidate of a run which begins `shift` s later. Returns how many; the caller frees them. */
size_t wr_rota_settings_from(const struct wr_rota_search *rota, const struct wr_rota_try *candidate,
                             const struct wr_definition *definition, double shift, char *settings[WR_ROTA_AXES]);

/* Works candidates; false when the search must end. Only those that are `done` count. */
bool wr_rota_tries_work(struct wr_rota_hunt *hunt, struct wr_rota_try **candidates, size_t count, bool with_firm,
                        size_t *done);

/* True when the first of two tries is allowed and leaves more room, or promises more where that is asked. */
bool wr_rota_is_better(const struct wr_rota_search *rota, const struct wr_rota_try *a, const struct wr_rota_try *b);

#endif
