/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_FLUID_BED_H
#define WR_SIM_STUDY_FLUID_BED_H

/* The bed of one group of filters in upward water: what lifts it, how far it expands, what it loses.
 *
 * Each medium is cut into slices of equal mass, coarse ones below, and each slice behaves as if alone. Gravel carries
 * the media and is left out of all that moves. */

#include "models/expansion.h"
#include "models/fluidisation.h"
#include "sim/plant/medium.h"

#include <stdbool.h>

/* The laws of expansion shown side by side. */
enum wr_bed_law { WR_BED_ERGUN, WR_BED_DHARMARAJAH_CLEASBY, WR_BED_LAWS };

struct wr_bed_law_row {
    const char *key;
    const char *words;
    wr_expansion_law *law;
};

const struct wr_bed_law_row *wr_bed_law_row(enum wr_bed_law law);

enum { WR_BED_LAYERS = 20, WR_BED_SLICES = 10 };

/* A layer of media, the same whatever the water. */
struct wr_bed_layer {
    const char *medium; /* borrowed of the definition */
    struct wr_medium_figures figures;
    double sizes[WR_BED_SLICES]; /* m, finest first */
};

struct wr_fluid_bed {
    size_t count; /* of layers, top first */
    struct wr_bed_layer layers[WR_BED_LAYERS];
    double settled;      /* m of media, gravel left out */
    const char *unknown; /* the first medium whose weight or shape nobody gave; NULL where all are known */
};

/* Makes the bed of a definition's media. Returns a status; wr_fluid_bed_fini frees what it holds, whatever came. */
enum wr_status wr_fluid_bed_init(struct wr_fluid_bed *bed, const struct wr_media *media);
void wr_fluid_bed_fini(struct wr_fluid_bed *bed);

/* True where there is something to lift and all is known of it; what follows wants such a bed. */
bool wr_fluid_bed_is_whole(const struct wr_fluid_bed *bed);

/* Headloss of one clean layer, m, at a filtration rate. */
enum wr_status wr_fluid_bed_clean_head(const struct wr_bed_layer *layer, double temperature, double rate, double *head);

/* A layer by one law. */
struct wr_layer_expansion {
    double depth;     /* m in the wash; WR_ABSENT where grains are carried off */
    double held;      /* share of the layer that the water does not lift and that lies as it lay */
    bool carries_off; /* its finest slice */
};

/* A layer of media at one temperature and rate; nothing of gravel but its fluidising rate. */
struct wr_layer_lifted {
    double
        fluidising_rate; /* m/s, by Wen and Yu for the size that 90 % is finer than; of gravel for its effective size */
    double head;         /* m that it takes to hold the layer up */
    double lost_size;    /* m: finer grains settle more slowly than the water rises */
    double lost_share;   /* of the medium's mass */
    struct wr_layer_expansion by[WR_BED_LAWS];
    double equal_size;       /* m: coarser grains settle with the finest of the medium below; WR_ABSENT without one */
    bool mixes[WR_BED_LAWS]; /* with the medium below, by bulk density */
};

/* A bed at one temperature and rate. */
struct wr_bed_lifted {
    double temperature;              /* K */
    double fluidising_rate;          /* m/s, the greatest of the layers' */
    double head;                     /* m that it takes to hold all media up */
    double expansion[WR_BED_LAWS];   /* share of the settled depth; WR_ABSENT where grains are carried off */
    double wanted_rate[WR_BED_LAWS]; /* m/s for a wanted expansion; WR_ABSENT where grains go before it is reached */
    struct wr_layer_lifted layers[WR_BED_LAYERS];
};

/* Washes a bed with water of a temperature, K, at a rate, m/s, and says what lifts it by a wanted share. */
enum wr_status wr_fluid_bed_wash(const struct wr_fluid_bed *bed, double temperature, double rate, double wanted,
                                 struct wr_bed_lifted *lifted);

#endif
