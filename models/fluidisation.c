/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/fluidisation.h"

#include "models/constants.h"

#include <math.h>

enum wr_status wr_galileo(const struct wr_grain *grain, struct wr_water water, double *number)
{
    if (!wr_is_grain(grain, water))
        return WR_OUT_OF_RANGE;
    const double d = grain->size, mu = water.viscosity;
    *number = d * d * d * water.density * (grain->density - water.density) * WR_GRAVITY / (mu * mu);
    return WR_OK;
}

enum wr_status wr_fluidising_rate(const struct wr_grain *grain, struct wr_water water, double *rate)
{
    double galileo;
    const enum wr_status status = wr_galileo(grain, water, &galileo);
    if (status != WR_OK)
        return status;
    /* The difference of the source, turned so that nothing cancels for fine grains. */
    const double part = 0.0408 * galileo;
    const double reynolds = part / (sqrt(33.7 * 33.7 + part) + 33.7);
    *rate = reynolds * water.viscosity / (water.density * grain->size);
    return WR_OK;
}

enum wr_status wr_fluidised_head(double depth, double porosity, const struct wr_grain *grain, struct wr_water water,
                                 double *head)
{
    if (!wr_is_not_negative(depth) || !(porosity > 0 && porosity < 1) || !wr_is_grain(grain, water))
        return WR_OUT_OF_RANGE;
    *head = depth * (1 - porosity) * (grain->density / water.density - 1);
    return WR_OK;
}
