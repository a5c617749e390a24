/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finished-water storage. */
#include "sim/scenario/table.h"

/* One row a line, however long. */
/* clang-format off */
static const struct wr_parameter storage_rows[] = {
    {.key = "volume", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_storage, volume), .quantity = WR_QUANTITY_VOLUME, .required = true, .above = "0 gal", .most = "1000 Mgal", .example = "250000 gal", .meaning = "volume of the storage", .source = WR_SANITY},
    {.key = "start_level", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_storage, start_level), .quantity = WR_QUANTITY_SHARE, .default_text = "90 %", .least = "0 %", .most = "100 %", .meaning = "level when the run starts, of the volume", .source = WR_CHOSEN "; " WR_BY_MEANING},
    {.key = "reserve", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_storage, reserve), .quantity = WR_QUANTITY_SHARE, .default_text = "0 %", .least = "0 %", .below = "100 %", .meaning = "level kept for fire, contact and emergency, which no wash may draw", .source = WR_NONE_OF_IT "; " WR_BY_MEANING},
    {.key = "low_mark", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_storage, low_mark), .quantity = WR_QUANTITY_SHARE, .when_absent = "the reserve", .least = "0 %", .most = "100 %", .meaning = "level below which low storage is noted, at or above the reserve", .source = WR_BY_MEANING},
};
/* clang-format on */

/* What must hold between keys. */
static const char *const storage_rules[] = {
    "low_mark is at least reserve.",
    "Where wash water comes from storage, what storage holds above its reserve is at least the wash water of one wash.",
    NULL};

const struct wr_block wr_block_storage = {"storage", "Finished water between the filters and the town.",
                                          WR_BLOCK_ROWS(storage_rows), sizeof(struct wr_storage), storage_rules};
