/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wells. */
#include "sim/scenario/table.h"

/* One row a line, however long. */
/* clang-format off */
static const struct wr_parameter well_rows[] = {
    {.key = "name", .kind = WR_IS_TEXT, .offset = offsetof(struct wr_well, name), .when_absent = "W and its number in the list", .least = "1", .most = "40", .example = "W1", .meaning = "what the report calls the well"},
    {.key = "flow", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_well, flow), .quantity = WR_QUANTITY_FLOW, .required = true, .above = "0 gal/min", .most = "1e6 gal/min", .meaning = "flow while it runs", .source = WR_SANITY},
    {.key = "on_below", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_well, on_below), .quantity = WR_QUANTITY_SHARE, .required = true, .least = "0 %", .most = "100 %", .meaning = "storage level below which the well is called"},
    {.key = "off_above", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_well, off_above), .quantity = WR_QUANTITY_SHARE, .required = true, .least = "0 %", .most = "100 %", .example = "95 %", .meaning = "storage level above which the well stops, above on_below"},
};
/* clang-format on */

const struct wr_block wr_block_well = {"well", "A well of fixed speed, on and off by the level in storage.",
                                       WR_BLOCK_ROWS(well_rows), sizeof(struct wr_well)};
