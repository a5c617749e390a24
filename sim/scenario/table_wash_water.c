/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Backwash water. */
#include "sim/scenario/table.h"

static const char *const sources[] = {"tank", "storage", "filters", "wells", "system", NULL};

/* One row a line, however long. */
/* clang-format off */
static const struct wr_parameter wash_water_rows[] = {
    {.key = "source", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_wash_water, source), .choices = sources, .default_text = "tank", .meaning = "where it comes from: tank, a tank of its own; storage, above its reserve; filters, those still in service; wells, raw water; system, the pressure of the town's mains"},
    {.key = "max_flow", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash_water, max_flow), .quantity = WR_QUANTITY_FLOW, .when_absent = "whatever the wash takes", .above = "0 gal/min", .most = "1e6 gal/min", .example = "650 gal/min", .meaning = "greatest flow that the source gives, by its pump or pipes", .source = WR_SANITY},
    {.key = "draw_limit", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash_water, draw_limit), .quantity = WR_QUANTITY_FLOW, .above = "0 gal/min", .most = "1e6 gal/min", .example = "650 gal/min", .meaning = "greatest flow that may be drawn from the mains; needed where source is system, and only there", .source = WR_SANITY},
    {.key = "tank", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_wash_water, tank), .block = &wr_block_wash_tank, .meaning = "the tank; needed where source is tank, and only there"},
};

static const struct wr_parameter wash_tank_rows[] = {
    {.key = "volume", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash_tank, volume), .quantity = WR_QUANTITY_VOLUME, .required = true, .above = "0 gal", .most = "100 Mgal", .meaning = "volume of the tank", .source = WR_SANITY},
    {.key = "start_level", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash_tank, start_level), .quantity = WR_QUANTITY_SHARE, .default_text = "100 %", .least = "0 %", .most = "100 %", .meaning = "level when the run starts, of the volume"},
    {.key = "refill_rate", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash_tank, refill_rate), .quantity = WR_QUANTITY_FLOW, .required = true, .above = "0 gal/min", .most = "1e6 gal/min", .example = "60 gal/min", .meaning = "flow from the effluent that refills it", .source = WR_SANITY},
    {.key = "refill_on_below", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash_tank, refill_on_below), .quantity = WR_QUANTITY_SHARE, .default_text = "100 %", .above = "0 %", .most = "100 %", .example = "90 %", .meaning = "level below which refilling starts; it stops when the tank is full"},
};
/* clang-format on */

const struct wr_block wr_block_wash_water = {"wash water", "Where backwash water comes from.",
                                             WR_BLOCK_ROWS(wash_water_rows), sizeof(struct wr_wash_water)};

const struct wr_block wr_block_wash_tank = {"wash tank", "The tank that gives backwash water.",
                                            WR_BLOCK_ROWS(wash_tank_rows), sizeof(struct wr_wash_tank)};
