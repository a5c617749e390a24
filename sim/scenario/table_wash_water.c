/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Backwash water. */
#include "sim/scenario/table.h"

static const char *const sources[] = {"tank", "storage", "filters", "wells", "system", NULL};

/* One row a line, however long. */
/* clang-format off */
static const struct wr_parameter wash_water_rows[] = {
    {.key = "source", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_wash_water, source), .choices = sources, .default_text = "tank", .meaning = "where backwash water comes from: tank, a tank of its own; storage, above its reserve; filters, those still in service; wells, raw water; system, the pressure of the town's mains", .source = WR_CHOSEN},
    {.key = "max_flow", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash_water, max_flow), .quantity = WR_QUANTITY_FLOW, .when_absent = "whatever the wash takes", .above = "0 gal/min", .most = "1e6 gal/min", .example = "650 gal/min", .meaning = "greatest flow that the source gives to all washes together, by its pump or pipes", .source = WR_SANITY},
    {.key = "draw_limit", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash_water, draw_limit), .quantity = WR_QUANTITY_FLOW, .when_absent = "needed where source is system, and only there", .above = "0 gal/min", .most = "1e6 gal/min", .example = "650 gal/min", .meaning = "greatest flow that may be drawn from the mains", .source = WR_SANITY},
    {.key = "temperature", .kind = WR_IS_NUMBERS, .offset = offsetof(struct wr_wash_water, temperature), .length = 12, .quantity = WR_QUANTITY_TEMPERATURE, .when_absent = "the raw water's temperature", .least = "0 degC", .most = "40 degC", .meaning = "temperature of the wash water by month, January first: cold water lifts a bed at a lower rate", .source = WR_SANITY},
    {.key = "tank", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_wash_water, tank), .block = &wr_block_wash_tank, .when_absent = "needed where source is tank, and only there", .meaning = "the tank of wash water"},
};

static const struct wr_parameter wash_tank_rows[] = {
    {.key = "volume", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash_tank, volume), .quantity = WR_QUANTITY_VOLUME, .required = true, .above = "0 gal", .most = "100 Mgal", .meaning = "volume of the tank", .source = WR_SANITY},
    {.key = "start_level", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash_tank, start_level), .quantity = WR_QUANTITY_SHARE, .default_text = "100 %", .least = "0 %", .most = "100 %", .meaning = "level when the run starts, of the volume", .source = WR_CHOSEN "; " WR_BY_MEANING},
    {.key = "refill_rate", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash_tank, refill_rate), .quantity = WR_QUANTITY_FLOW, .required = true, .above = "0 gal/min", .most = "1e6 gal/min", .example = "60 gal/min", .meaning = "flow from the effluent that refills it", .source = WR_SANITY},
    {.key = "refill_on_below", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash_tank, refill_on_below), .quantity = WR_QUANTITY_SHARE, .default_text = "100 %", .above = "0 %", .most = "100 %", .example = "90 %", .meaning = "level below which refilling starts; it stops when the tank is full", .source = WR_CHOSEN "; " WR_BY_MEANING},
};
/* clang-format on */

/* What must hold between keys. */
static const char *const wash_water_rules[] = {
    "tank is given where source is tank, draw_limit where it is system, and both only there.",
    "max_flow, draw_limit and, where source is filters or wells, what these can give at most, are at least the "
    "greatest flow of wash water in one wash.",
    NULL};

static const char *const wash_tank_rules[] = {
    "volume is at least the wash water of one wash, of the filter that takes most.", NULL};

const struct wr_block wr_block_wash_water = {"wash water", "Where backwash water comes from.",
                                             WR_BLOCK_ROWS(wash_water_rows), sizeof(struct wr_wash_water),
                                             wash_water_rules};

const struct wr_block wr_block_wash_tank = {"wash tank", "The tank that gives backwash water.",
                                            WR_BLOCK_ROWS(wash_tank_rows), sizeof(struct wr_wash_tank),
                                            wash_tank_rules};
