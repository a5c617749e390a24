/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Demand on the finished water. */
#include "sim/scenario/table.h"

/* One row a line, however long. */
/* clang-format off */
static const struct wr_parameter demand_rows[] = {
    {.key = "maximum_day", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_demand, maximum_day), .quantity = WR_QUANTITY_DAILY_FLOW, .required = true, .least = "0 Mgal/d", .most = "1000 Mgal/d", .meaning = "mean demand of the maximum day, which the run repeats", .source = WR_SANITY},
    {.key = "hourly_factors", .kind = WR_IS_NUMBERS, .offset = offsetof(struct wr_demand, hourly_factors), .length = 24, .default_text = "1", .least = "0", .most = "100", .meaning = "demand of each hour of the day over the mean, midnight first; scaled to a mean of 1", .source = "default: even; " WR_SANITY},
};
/* clang-format on */

/* What must hold between keys. */
static const char *const demand_rules[] = {"The mean of hourly_factors is above 0.", NULL};

const struct wr_block wr_block_demand = {"demand", "What the town draws.", WR_BLOCK_ROWS(demand_rows),
                                         sizeof(struct wr_demand), demand_rules};
