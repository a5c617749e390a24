/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/washout.h"

#include "models/range.h"

#include <assert.h>
#include <math.h>

enum wr_status wr_washout_check(const struct wr_washout *washout)
{
    return wr_is_not_negative(washout->load) && wr_is_positive(washout->e_fold) ? WR_OK : WR_OUT_OF_RANGE;
}

double wr_washout_left(const struct wr_washout *washout, double volume)
{
    assert(volume >= 0);
    return exp(-volume / washout->e_fold);
}

double wr_washout_solids(const struct wr_washout *washout, double volume)
{
    return washout->load / washout->e_fold * wr_washout_left(washout, volume);
}

double wr_washout_mean(const struct wr_washout *washout, double from, double to)
{
    assert(0 <= from && from <= to);
    double stretch = (to - from) / washout->e_fold;
    double start = wr_washout_solids(washout, from);
    return stretch > 0 ? start * -expm1(-stretch) / stretch : start;
}

double wr_washout_volume(const struct wr_washout *washout, double solids)
{
    assert(solids >= 0);
    double first = wr_washout_solids(washout, 0);
    if (first <= solids)
        return 0;
    return solids > 0 ? washout->e_fold * log(first / solids) : HUGE_VAL;
}

static bool is_sample(const struct wr_washout_sample *sample)
{
    return wr_is_not_negative(sample->volume) && wr_is_positive(sample->solids);
}

enum wr_status wr_washout_from_samples(const struct wr_washout_sample *first, const struct wr_washout_sample *second,
                                       double *e_fold)
{
    if (!is_sample(first) || !is_sample(second) || first->volume >= second->volume || first->solids <= second->solids)
        return WR_OUT_OF_RANGE;
    *e_fold = (second->volume - first->volume) / log(first->solids / second->solids);
    return WR_OK;
}
