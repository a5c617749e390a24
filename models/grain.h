/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_GRAIN_H
#define WR_MODELS_GRAIN_H

/* A grain of filter medium as the laws of fluidisation and settling see it. */

#include "models/range.h"
#include "models/water.h"

struct wr_grain {
    double size;              /* m, by sieve, above zero */
    double density;           /* kg/m3, above the water's */
    double sphericity;        /* above zero, up to one */
    double viscous_constant;  /* k_V of Ergun's equation, above zero */
    double inertial_constant; /* k_I of Ergun's equation, zero or more */
};

/* True when grain and water are within these ranges. */
static inline bool wr_is_grain(const struct wr_grain *grain, struct wr_water water)
{
    return wr_is_positive(grain->size) && wr_is_positive(grain->density) && wr_is_positive(water.density) &&
           wr_is_positive(water.viscosity) && grain->density > water.density && grain->sphericity > 0 &&
           grain->sphericity <= 1 && wr_is_positive(grain->viscous_constant) &&
           wr_is_not_negative(grain->inertial_constant);
}

#endif
