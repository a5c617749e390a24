/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/medium.h"

#include "models/media.h"
#include "sim/plant/build.h"

#include <math.h>
#include <stdlib.h>

/* Uniformity of a medium that neither scenario nor table knows: illustrative. */
static const double UNIFORMITY = 1.5;

/* The coarse size of a log-normal grain curve goes with this power of its uniformity (models/grain_curve.h). */
static const double COARSE_EXPONENT = 1.67;

/* Specific gravity is told over water of this density, kg/m3. */
static const double WATER_DENSITY = 1000;

static enum wr_status take_sieves(struct wr_medium_figures *figures, const struct wr_sieve_rows *rows)
{
    if (rows->count == 0)
        return WR_OK;
    figures->sieves = calloc(rows->count, sizeof *figures->sieves);
    if (figures->sieves == NULL)
        return WR_NO_MEMORY;
    for (size_t i = 0; i < rows->count; i++)
        figures->sieves[i] = (struct wr_sieve){rows->items[i].opening, rows->items[i].passing};
    figures->curve.sieves = figures->sieves;
    figures->curve.count = rows->count;
    return wr_grain_curve_size(&figures->curve, 0.1, &figures->layer.grain_size);
}

enum wr_status wr_medium_figures_init(struct wr_medium_figures *figures, const struct wr_media_layer *layer)
{
    static const struct wr_medium unknown = {.viscous_constant = WR_ABSENT,
                                             .inertial_constant = WR_ABSENT,
                                             .porosity = WR_ABSENT,
                                             .specific_gravity = WR_ABSENT,
                                             .sphericity = WR_ABSENT,
                                             .uniformity = WR_ABSENT};
    const struct wr_medium *found = wr_medium_find(layer->medium);
    const struct wr_medium *known = found != NULL ? found : &unknown;
    *figures = (struct wr_medium_figures){
        .layer = {.depth = layer->depth,
                  .grain_size = layer->grain_size,
                  .porosity = wr_given_or(layer->porosity, known->porosity),
                  .viscous_constant = wr_given_or(layer->viscous_constant, known->viscous_constant),
                  .inertial_constant = wr_given_or(layer->inertial_constant, known->inertial_constant)},
        .density = WATER_DENSITY * wr_given_or(layer->specific_gravity, known->specific_gravity),
        .sphericity = wr_given_or(layer->sphericity, known->sphericity),
        .is_support = known->is_support};
    enum wr_status status = take_sieves(figures, &layer->sieves);
    if (status != WR_OK)
        return status;
    figures->curve.effective_size = figures->layer.grain_size;
    const double from_coarse_size = pow(layer->coarse_size / layer->grain_size, 1 / COARSE_EXPONENT);
    figures->curve.uniformity =
        wr_given_or(layer->uniformity, wr_given_or(from_coarse_size, wr_given_or(known->uniformity, UNIFORMITY)));
    figures->d90 = layer->coarse_size;
    return wr_is_given(layer->coarse_size) ? WR_OK : wr_grain_curve_size(&figures->curve, 0.9, &figures->d90);
}

void wr_medium_figures_fini(struct wr_medium_figures *figures)
{
    free(figures->sieves);
    *figures = (struct wr_medium_figures){0};
}
