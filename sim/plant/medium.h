/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_MEDIUM_H
#define WR_SIM_PLANT_MEDIUM_H

/* A layer of media with all its figures: those of the scenario, and the known medium's where it says nothing. */

#include "models/grain_curve.h"
#include "models/headloss.h"
#include "sim/plant/definition.h"

struct wr_medium_figures {
    struct wr_layer layer;       /* for the clean headloss */
    struct wr_grain_curve curve; /* borrows `sieves` */
    struct wr_sieve *sieves;     /* owned; NULL without a sieve table */
    double d90;                  /* m */
    double density;              /* kg/m3; WR_ABSENT for a medium that has none */
    double sphericity;           /* WR_ABSENT for a medium that has none */
    bool is_support;             /* gravel, which carries the media and lies still in a wash */
};

/* Fills the figures of a layer. Returns WR_OK, WR_NO_MEMORY, or WR_OUT_OF_RANGE where the reader's rules were not kept;
 * wr_medium_figures_fini frees what they hold, whatever came. */
enum wr_status wr_medium_figures_init(struct wr_medium_figures *figures, const struct wr_media_layer *layer);
void wr_medium_figures_fini(struct wr_medium_figures *figures);

#endif
