/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/fittings.h"

#include "models/range.h"

enum wr_status wr_fittings_coefficient(double head, double rate, double *coefficient)
{
    if (!wr_is_not_negative(head) || !wr_is_positive(rate))
        return WR_OUT_OF_RANGE;
    *coefficient = head / rate / rate;
    return WR_OK;
}
