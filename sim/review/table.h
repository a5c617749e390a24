/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_REVIEW_TABLE_H
#define WR_SIM_REVIEW_TABLE_H

/* The rows of guidance. Inside sim/review/ only. */

#include "sim/review/guidance.h"

struct wr_review_row {
    struct wr_guidance guidance;
    wr_find *find;
};

extern const struct wr_review_row wr_review_rows[];
extern const size_t wr_review_row_count;

#endif
