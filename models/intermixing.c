/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/intermixing.h"

#include "models/range.h"

#include <math.h>

enum wr_status wr_bulk_density(double density, double porosity, struct wr_water water, double *bulk)
{
    if (!wr_is_positive(density) || !(porosity > 0 && porosity < 1) || !wr_is_positive(water.density))
        return WR_OUT_OF_RANGE;
    *bulk = porosity * water.density + (1 - porosity) * density;
    return WR_OK;
}

enum wr_status wr_equal_settling_size(double size, double density, double other_density, struct wr_water water,
                                      double *other_size)
{
    if (!wr_is_positive(size) || !wr_is_positive(water.density) || !wr_is_positive(density - water.density) ||
        !wr_is_positive(other_density - water.density))
        return WR_OUT_OF_RANGE;
    *other_size = size * pow((density - water.density) / (other_density - water.density), 0.667);
    return WR_OK;
}
