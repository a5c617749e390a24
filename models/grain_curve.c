/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/grain_curve.h"

#include "models/range.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

static bool is_table(const struct wr_sieve *sieves, size_t count)
{
    if (count < 2)
        return false;
    for (size_t i = 0; i < count; i++)
        if (!wr_is_positive(sieves[i].opening) || !wr_is_within(sieves[i].passing, 0, 1) ||
            (i > 0 && (sieves[i].opening <= sieves[i - 1].opening || sieves[i].passing <= sieves[i - 1].passing)))
            return false;
    return true;
}

static bool is_curve(const struct wr_grain_curve *curve)
{
    if (curve->count > 0)
        return is_table(curve->sieves, curve->count);
    return wr_is_positive(curve->effective_size) && wr_is_within(curve->uniformity, 1, 1e3);
}

/* Quantiles of the normal curve from which effective size and uniformity are counted. */
static double spread_between_10_and_60(void)
{
    return gsl_cdf_ugaussian_Pinv(0.6) - gsl_cdf_ugaussian_Pinv(0.1);
}

enum wr_status wr_grain_curve_size(const struct wr_grain_curve *curve, double share, double *size)
{
    if (!is_curve(curve) || !(share > 0 && share < 1))
        return WR_OUT_OF_RANGE;
    if (curve->count == 0) {
        const double z = gsl_cdf_ugaussian_Pinv(share) - gsl_cdf_ugaussian_Pinv(0.1);
        *size = curve->effective_size * exp(log(curve->uniformity) * z / spread_between_10_and_60());
        return WR_OK;
    }
    const struct wr_sieve *sieves = curve->sieves;
    if (!wr_is_within(share, sieves[0].passing, sieves[curve->count - 1].passing))
        return WR_OUT_OF_RANGE;
    size_t i = 1;
    while (share > sieves[i].passing)
        i++;
    const double part = (share - sieves[i - 1].passing) / (sieves[i].passing - sieves[i - 1].passing);
    *size = sieves[i - 1].opening * exp(part * log(sieves[i].opening / sieves[i - 1].opening));
    return WR_OK;
}

enum wr_status wr_grain_curve_passing(const struct wr_grain_curve *curve, double size, double *share)
{
    if (!is_curve(curve) || !wr_is_positive(size))
        return WR_OUT_OF_RANGE;
    if (curve->count == 0) {
        const double steps = log(size / curve->effective_size) / log(curve->uniformity);
        if (curve->uniformity <= 1)
            *share = size > curve->effective_size ? 1 : 0;
        else
            *share = gsl_cdf_ugaussian_P(gsl_cdf_ugaussian_Pinv(0.1) + steps * spread_between_10_and_60());
        return WR_OK;
    }
    const struct wr_sieve *sieves = curve->sieves;
    size_t i = 0;
    while (i < curve->count && size > sieves[i].opening)
        i++;
    if (i == 0 || i == curve->count)
        *share = sieves[i == 0 ? 0 : i - 1].passing;
    else
        *share = sieves[i - 1].passing + (sieves[i].passing - sieves[i - 1].passing) *
                                             log(size / sieves[i - 1].opening) /
                                             log(sieves[i].opening / sieves[i - 1].opening);
    return WR_OK;
}
