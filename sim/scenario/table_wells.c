/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wells. */
#include "sim/scenario/table.h"

static const char *const drives[] = {"fixed", "variable", NULL};

/* One row a line, however long. */
/* clang-format off */
static const struct wr_parameter well_rows[] = {
    {.key = "name", .kind = WR_IS_TEXT, .offset = offsetof(struct wr_well, name), .when_absent = "W and its number in the list", .least = "1", .most = "40", .example = "W1", .meaning = "what the report calls the well", .source = WR_SANITY},
    {.key = "flow", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_well, flow), .quantity = WR_QUANTITY_FLOW, .required = true, .above = "0 gal/min", .most = "1e6 gal/min", .meaning = "flow while it runs, at full speed", .source = WR_SANITY},
    {.key = "drive", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_well, drive), .choices = drives, .default_text = "fixed", .meaning = "how its pump runs: fixed, its whole flow or none; variable, it can be throttled down to least_flow", .source = WR_CHOSEN},
    {.key = "least_flow", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_well, least_flow), .quantity = WR_QUANTITY_FLOW, .default_text = "0 gal/min", .least = "0 gal/min", .most = "1e6 gal/min", .example = "60 gal/min", .meaning = "least flow while it runs, where drive is variable", .source = WR_NONE_OF_IT "; " WR_SANITY},
    {.key = "on_below", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_well, on_below), .quantity = WR_QUANTITY_SHARE, .required = true, .least = "0 %", .most = "100 %", .meaning = "storage level below which the well is called", .source = WR_BY_MEANING},
    {.key = "off_above", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_well, off_above), .quantity = WR_QUANTITY_SHARE, .required = true, .least = "0 %", .most = "100 %", .example = "95 %", .meaning = "storage level above which the well stops, above on_below", .source = WR_BY_MEANING},
    {.key = "minimum_run", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_well, minimum_run), .quantity = WR_QUANTITY_TIME, .default_text = "0 min", .least = "0 s", .most = "30 d", .example = "30 min", .meaning = "time it runs once started, unless its flow no longer fits", .source = WR_NONE_OF_IT "; " WR_SANITY},
    {.key = "minimum_rest", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_well, minimum_rest), .quantity = WR_QUANTITY_TIME, .default_text = "0 min", .least = "0 s", .most = "30 d", .example = "15 min", .meaning = "time it stands once stopped", .source = WR_NONE_OF_IT "; " WR_SANITY},
    {.key = "iron", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_well, iron), .quantity = WR_QUANTITY_CONCENTRATION, .when_absent = "the raw water's", .least = "0 mg/L", .most = "1000 mg/L", .meaning = "total iron of this well", .source = WR_SANITY},
    {.key = "manganese", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_well, manganese), .quantity = WR_QUANTITY_CONCENTRATION, .when_absent = "the raw water's", .least = "0 mg/L", .most = "1000 mg/L", .example = "0.25 mg/L", .meaning = "total manganese of this well", .source = WR_SANITY},
};
/* clang-format on */

/* What must hold between keys. */
static const char *const well_rules[] = {"off_above is more than on_below.",
                                         "There is a least_flow only where drive is variable, and it is at most flow.",
                                         NULL};

const struct wr_block wr_block_well = {"well", "A well, on and off by the level in storage.", WR_BLOCK_ROWS(well_rows),
                                       sizeof(struct wr_well), well_rules};
