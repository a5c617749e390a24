/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/vessel.h"

#include "models/constants.h"
#include "models/range.h"

enum wr_status wr_vessel_area(double diameter, double *area)
{
    if (!wr_is_positive(diameter))
        return WR_OUT_OF_RANGE;
    *area = WR_PI * diameter * diameter / 4;
    return WR_OK;
}
