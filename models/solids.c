/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/solids.h"

#include "models/range.h"

enum wr_status wr_solids_from_metals(const struct wr_metals *metals, double *solids)
{
    if (!wr_is_not_negative(metals->iron) || !wr_is_not_negative(metals->solids_per_iron) ||
        !wr_is_not_negative(metals->manganese) || !wr_is_not_negative(metals->solids_per_manganese))
        return WR_OUT_OF_RANGE;
    *solids = metals->iron * metals->solids_per_iron + metals->manganese * metals->solids_per_manganese;
    return WR_OK;
}
