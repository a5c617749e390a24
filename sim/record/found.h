/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_RECORD_FOUND_H
#define WR_SIM_RECORD_FOUND_H

/* Limits behind findings. For record.c and found.c alone. */

#include "sim/record/record.h"

/* What can hold recycle. */
static inline wr_limit_set wr_record_recycle_limits(void)
{
    return wr_limit_bit(WR_LIMIT_NO_RAW_FLOW) | wr_limit_bit(WR_LIMIT_SHARE_OF_RAW) |
           wr_limit_bit(WR_LIMIT_FILTERS_FULL) | wr_limit_bit(WR_LIMIT_RECYCLE_APPROVED_CAPACITY) |
           wr_limit_bit(WR_LIMIT_BLEND_SOLIDS) | wr_limit_bit(WR_LIMIT_RECYCLE_PUMP_OUT);
}

/* What washes waited for longest, as first reason; with rules or only resources. */
enum wr_limit wr_record_held_washes(const struct wr_simulation *sim, bool rules_too);

#endif
