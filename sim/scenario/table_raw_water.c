/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Raw water. */
#include "sim/scenario/table.h"

/* One row a line, however long. */
/* clang-format off */
static const struct wr_parameter raw_water_rows[] = {
    {.key = "temperature", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_raw_water, temperature), .quantity = WR_QUANTITY_TEMPERATURE, .default_text = "12 degC", .least = "0 degC", .most = "40 degC", .meaning = "temperature of the raw water", .source = "default: illustrative; " WR_SANITY},
    {.key = "iron", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_raw_water, iron), .quantity = WR_QUANTITY_CONCENTRATION, .required = true, .least = "0 mg/L", .most = "1000 mg/L", .meaning = "total iron, for every well that gives none of its own", .source = WR_SANITY},
    {.key = "manganese", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_raw_water, manganese), .quantity = WR_QUANTITY_CONCENTRATION, .required = true, .least = "0 mg/L", .most = "1000 mg/L", .example = "0.25 mg/L", .meaning = "total manganese, for every well that gives none of its own", .source = WR_SANITY},
    {.key = "suspended_solids", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_raw_water, suspended_solids), .quantity = WR_QUANTITY_CONCENTRATION, .when_absent = "worked out from iron and manganese", .least = "0 mg/L", .most = "10000 mg/L", .example = "6.4 mg/L", .meaning = "dry solids that clog the filters, the same for every well, in place of those worked out from iron and manganese", .source = WR_SANITY},
    {.key = "dry_solids_per_iron", .kind = WR_IS_NUMBER, .offset = offsetof(struct wr_raw_water, dry_solids_per_iron), .default_text = "3.0", .least = "0", .most = "20", .meaning = "dry solids per gram of iron, g/g", .source = "default: inside 2.7 to 4.1, EPA residuals tables 2005-06 and Water Sci. Technol. 64(2) 361; " WR_SANITY},
    {.key = "dry_solids_per_manganese", .kind = WR_IS_NUMBER, .offset = offsetof(struct wr_raw_water, dry_solids_per_manganese), .default_text = "1.6", .least = "0", .most = "20", .meaning = "dry solids per gram of manganese, g/g", .source = "default: 1.58 as manganese dioxide, rounded; " WR_SANITY},
};
/* clang-format on */

const struct wr_block wr_block_raw_water = {"raw water", "Water of all wells together.", WR_BLOCK_ROWS(raw_water_rows),
                                            sizeof(struct wr_raw_water), NULL};
