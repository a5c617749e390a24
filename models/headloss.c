/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/headloss.h"

#include "models/constants.h"
#include "models/drag.h"
#include "models/range.h"

#include <math.h>

static bool is_porosity(double porosity)
{
    return porosity > 0 && porosity < 1;
}

static bool is_water(struct wr_water water)
{
    return wr_is_positive(water.density) && wr_is_positive(water.viscosity);
}

static bool is_layer(const struct wr_layer *layer)
{
    return wr_is_not_negative(layer->depth) && wr_is_positive(layer->grain_size) && is_porosity(layer->porosity) &&
           wr_is_not_negative(layer->viscous_constant) && wr_is_not_negative(layer->inertial_constant);
}

enum wr_status wr_headloss_clean(const struct wr_layer *layers, size_t count, struct wr_water water, double *linear,
                                 double *quadratic)
{
    if (!is_water(water))
        return WR_OUT_OF_RANGE;
    double viscous = 0, inertial = 0;
    for (size_t i = 0; i < count; i++) {
        const struct wr_layer *layer = &layers[i];
        if (!is_layer(layer))
            return WR_OUT_OF_RANGE;
        double pores = layer->porosity * layer->porosity * layer->porosity;
        double grains = 1 - layer->porosity;
        viscous +=
            layer->viscous_constant * grains * grains * layer->depth / (pores * layer->grain_size * layer->grain_size);
        inertial += layer->inertial_constant * grains * layer->depth / (pores * layer->grain_size);
    }
    *linear = viscous * water.viscosity / (water.density * WR_GRAVITY);
    *quadratic = inertial / WR_GRAVITY;
    return WR_OK;
}

static bool is_sorted_bed(const struct wr_sorted_bed *bed)
{
    for (size_t i = 0; i < bed->count; i++)
        if (!wr_is_within(bed->grains[i].share, 0, 1) || !wr_is_positive(bed->grains[i].size))
            return false;
    return wr_is_not_negative(bed->depth) && is_porosity(bed->porosity) && bed->sphericity > 0 && bed->sphericity <= 1;
}

enum wr_status wr_headloss_rose(const struct wr_sorted_bed *bed, double rate, struct wr_water water, double *head)
{
    if (!is_sorted_bed(bed) || !wr_is_positive(rate) || !is_water(water))
        return WR_OUT_OF_RANGE;
    double sum = 0;
    for (size_t i = 0; i < bed->count; i++) {
        double size = bed->grains[i].size;
        double reynolds = bed->sphericity * size * rate * water.density / water.viscosity;
        sum += wr_drag_rose(reynolds, bed->sphericity) * bed->grains[i].share / size;
    }
    double pores = bed->porosity * bed->porosity;
    *head = 1.067 * rate * rate * bed->depth / (bed->sphericity * WR_GRAVITY * pores * pores) * sum;
    return WR_OK;
}

enum wr_status wr_headloss_erdim(const struct wr_layer *layer, double rate, struct wr_water water, double *head)
{
    if (!is_layer(layer) || !wr_is_positive(rate) || !is_water(water))
        return WR_OUT_OF_RANGE;
    const double e = layer->porosity, d = layer->grain_size;
    const double factor = 160 + 2.81 * pow(water.density * rate * d / (water.viscosity * (1 - e)), 0.904);
    const double loss = factor * water.viscosity * rate * layer->depth * (1 - e) * (1 - e) / (d * d * e * e * e);
    *head = loss / (water.density * WR_GRAVITY);
    return WR_OK;
}
