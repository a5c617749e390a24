/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/settling.h"

#include "models/constants.h"
#include "models/root.h"

#include <math.h>

/* Where Reynolds numbers are looked for. */
static const double REYNOLDS_LEAST = 1e-9, REYNOLDS_MOST = 1e6;

/* What the settling of one grain hangs on. */
struct fall {
    wr_drag_law *drag;
    double sphericity;
    double weight; /* C_D R^2, or C_D/R where the rate is known */
};

/* By the logarithm of R, over many decades of which the root is looked for. */
static double drag_less_weight(double log_reynolds, void *context)
{
    const struct fall *fall = context;
    const double reynolds = exp(log_reynolds);
    return fall->drag(reynolds, fall->sphericity) * reynolds * reynolds / fall->weight - 1;
}

static double drag_less_weight_at_rate(double log_reynolds, void *context)
{
    const struct fall *fall = context;
    const double reynolds = exp(log_reynolds);
    return fall->drag(reynolds, fall->sphericity) / reynolds / fall->weight - 1;
}

enum wr_status wr_settling_velocity(const struct wr_grain *grain, struct wr_water water, wr_drag_law *drag,
                                    double *velocity)
{
    if (!wr_is_grain(grain, water))
        return WR_OUT_OF_RANGE;
    const double d = grain->size, mu = water.viscosity;
    struct fall fall = {drag, grain->sphericity,
                        4.0 / 3 * WR_GRAVITY * (grain->density - water.density) * water.density * d * d * d /
                            (mu * mu)};
    double log_reynolds;
    const enum wr_status status =
        wr_root_between(drag_less_weight, &fall, log(REYNOLDS_LEAST), log(REYNOLDS_MOST), &log_reynolds);
    if (status == WR_OK)
        *velocity = exp(log_reynolds) * mu / (water.density * d);
    return status;
}

enum wr_status wr_settling_size(const struct wr_grain *grain, struct wr_water water, wr_drag_law *drag, double rate,
                                double *size)
{
    if (!wr_is_grain(grain, water) || !wr_is_positive(rate))
        return WR_OUT_OF_RANGE;
    /* The size falls out of C_D/R, since R holds it once and the rate is known. */
    struct fall fall = {drag, grain->sphericity,
                        4.0 / 3 * WR_GRAVITY * (grain->density - water.density) * water.viscosity /
                            (water.density * water.density * rate * rate * rate)};
    double log_reynolds;
    const double per_size = rate * water.density / water.viscosity;
    const enum wr_status status =
        wr_root_between(drag_less_weight_at_rate, &fall, log(1e-8 * per_size), log(per_size), &log_reynolds);
    if (status == WR_OK)
        *size = exp(log_reynolds) / per_size;
    return status;
}
