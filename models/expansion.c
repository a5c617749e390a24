/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/expansion.h"

#include "models/constants.h"
#include "models/root.h"

#include <math.h>

static bool is_asked(const struct wr_grain *grain, struct wr_water water, double porosity)
{
    return wr_is_grain(grain, water) && porosity > 0 && porosity <= WR_POROSITY_MOST;
}

static double buoyancy(const struct wr_grain *grain, struct wr_water water)
{
    return (grain->density - water.density) * WR_GRAVITY;
}

enum wr_status wr_expansion_ergun(const struct wr_grain *grain, struct wr_water water, double porosity, double *rate)
{
    if (!is_asked(grain, water, porosity))
        return WR_OUT_OF_RANGE;
    const double pores = porosity * porosity * porosity, d = grain->size;
    const double linear = grain->viscous_constant * water.viscosity * (1 - porosity) / (pores * d * d);
    const double quadratic = grain->inertial_constant * water.density / (pores * d);
    const double weight = buoyancy(grain, water);
    *rate = 2 * weight / (linear + sqrt(linear * linear + 4 * quadratic * weight));
    return WR_OK;
}

/* log A of Dharmarajah and Cleasby, without the part of shape, less what it must be. */
static double excess_of_log_a(double x, void *context)
{
    const double wanted = *(const double *)context, x2 = x * x;
    return 0.56543 + 1.09348 * x + 0.17971 * x2 - 0.00392 * x2 * x2 - wanted;
}

enum wr_status wr_expansion_dharmarajah_cleasby(const struct wr_grain *grain, struct wr_water water, double porosity,
                                                double *rate)
{
    if (!is_asked(grain, water, porosity))
        return WR_OUT_OF_RANGE;
    const double grains = 1 - porosity, pores = porosity * porosity * porosity;
    const double surface = 6 / (grain->sphericity * grain->size), shape = log10(grain->sphericity);
    const double a = pores / (grains * grains) * water.density * buoyancy(grain, water) /
                     (surface * surface * surface * water.viscosity * water.viscosity);
    double wanted = log10(a) + 1.5 * shape * shape, log_b;
    const enum wr_status status = wr_root_between(excess_of_log_a, &wanted, -4, 5, &log_b);
    if (status == WR_OK)
        *rate = exp(log_b * log(10)) * surface * water.viscosity * grains / water.density;
    return status;
}

/* By the logarithm of R. */
static double excess_of_drag(double log_reynolds, void *context)
{
    const double reynolds = exp(log_reynolds);
    return (18 * reynolds + 2.7 * pow(reynolds, 1.687)) / *(const double *)context - 1;
}

enum wr_status wr_expansion_wen_yu(const struct wr_grain *grain, struct wr_water water, double porosity, double *rate)
{
    if (!is_asked(grain, water, porosity))
        return WR_OUT_OF_RANGE;
    const double d = grain->size, mu = water.viscosity;
    double weight = pow(porosity, 4.7) * d * d * d * water.density * buoyancy(grain, water) / (mu * mu), log_reynolds;
    const enum wr_status status = wr_root_between(excess_of_drag, &weight, log(1e-6), log(1e5), &log_reynolds);
    if (status == WR_OK)
        *rate = exp(log_reynolds) * mu / (water.density * d);
    return status;
}

/* A question to a law: at which porosity does it give this rate? */
struct question {
    wr_expansion_law *law;
    const struct wr_grain *grain;
    struct wr_water water;
    double rate;
};

static double excess_of_rate(double porosity, void *context)
{
    const struct question *q = context;
    double rate;
    return q->law(q->grain, q->water, porosity, &rate) == WR_OK ? rate / q->rate - 1 : (double)NAN;
}

enum wr_status wr_expanded_porosity(wr_expansion_law *law, const struct wr_grain *grain, struct wr_water water,
                                    double settled, double rate, double *porosity)
{
    double least, most;
    if (!wr_is_not_negative(rate) || !(settled > 0 && settled < WR_POROSITY_MOST) ||
        law(grain, water, settled, &least) != WR_OK || law(grain, water, WR_POROSITY_MOST, &most) != WR_OK)
        return WR_OUT_OF_RANGE;
    if (rate > most)
        return WR_CARRIED_OFF;
    if (rate <= least) {
        *porosity = settled;
        return WR_OK;
    }
    struct question question = {law, grain, water, rate};
    return wr_root_between(excess_of_rate, &question, settled, WR_POROSITY_MOST, porosity);
}

enum wr_status wr_expansion_richardson_zaki(double rate, double velocity, double reynolds, double *porosity)
{
    if (!wr_is_positive(rate) || !wr_is_positive(velocity) || !wr_is_positive(reynolds))
        return WR_OUT_OF_RANGE;
    if (rate >= velocity)
        return WR_CARRIED_OFF;
    *porosity = pow(rate / velocity, 0.2247 * pow(reynolds, 0.1));
    return WR_OK;
}

enum wr_status wr_expanded_depth(const struct wr_slice *slices, size_t count, double *depth)
{
    double sum = 0;
    for (size_t i = 0; i < count; i++) {
        const struct wr_slice *slice = &slices[i];
        if (!wr_is_not_negative(slice->depth) || !(slice->settled > 0 && slice->settled < 1) ||
            !(slice->expanded > 0 && slice->expanded < 1))
            return WR_OUT_OF_RANGE;
        sum += slice->depth * (1 - slice->settled) / (1 - fmax(slice->expanded, slice->settled));
    }
    *depth = sum;
    return WR_OK;
}
