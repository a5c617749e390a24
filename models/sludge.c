/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/sludge.h"

#include "models/range.h"

#include <assert.h>
#include <math.h>

enum wr_status wr_sludge_check(const struct wr_sludge_law *law)
{
    bool fit = wr_is_positive(law->first_solids) && wr_is_positive(law->last_solids) &&
               law->first_solids <= law->last_solids && wr_is_positive(law->time_constant);
    return fit ? WR_OK : WR_OUT_OF_RANGE;
}

/* Volume that the blanket tends to. */
static double last_volume(const struct wr_sludge_law *law, const struct wr_sludge *sludge)
{
    return sludge->solids / law->last_solids;
}

double wr_sludge_volume(const struct wr_sludge_law *law, const struct wr_sludge *sludge)
{
    return last_volume(law, sludge) + sludge->excess;
}

void wr_sludge_thicken(const struct wr_sludge_law *law, struct wr_sludge *sludge, double time)
{
    assert(time >= 0);
    sludge->excess *= exp(-time / law->time_constant);
}

void wr_sludge_add(const struct wr_sludge_law *law, struct wr_sludge *sludge, double solids)
{
    assert(solids >= 0);
    sludge->solids += solids;
    sludge->excess += solids * (law->last_solids - law->first_solids) / (law->first_solids * law->last_solids);
}

enum wr_status wr_sludge_draw(const struct wr_sludge_law *law, struct wr_sludge *sludge, double volume, double *solids)
{
    double whole = wr_sludge_volume(law, sludge);
    if (!wr_is_within(volume, 0, whole))
        return WR_OUT_OF_RANGE;
    double share = whole > 0 ? volume / whole : 0;
    *solids = sludge->solids * share;
    sludge->solids -= *solids;
    sludge->excess -= sludge->excess * share;
    return WR_OK;
}

double wr_sludge_time(const struct wr_sludge_law *law, const struct wr_sludge *sludge, double volume)
{
    assert(volume >= 0);
    if (wr_sludge_volume(law, sludge) <= volume)
        return 0;
    double room = volume - last_volume(law, sludge);
    if (room <= 0)
        return HUGE_VAL;
    return law->time_constant * log(sludge->excess / room);
}

enum wr_status wr_sludge_best_recovery(double solids, double sludge_solids, double *share)
{
    if (!wr_is_positive(sludge_solids) || !wr_is_within(solids, 0, sludge_solids))
        return WR_OUT_OF_RANGE;
    *share = 1 - solids / sludge_solids;
    return WR_OK;
}
