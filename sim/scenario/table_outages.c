/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outages by date. */
#include "sim/scenario/table.h"

/* One row a line, however long. */
/* clang-format off */
static const struct wr_parameter outage_rows[] = {
    {.key = "unit", .kind = WR_IS_TEXT, .offset = offsetof(struct wr_outage, unit), .required = true, .least = "1", .most = "80", .example = "F1", .meaning = "what is out: the name of a filter, which takes all cells of its vessel with it, of a well or of a spent-wash tank; or wash pump, blower or recycle pump", .source = WR_SANITY},
    {.key = "from", .kind = WR_IS_DATE_IN_RUN, .offset = offsetof(struct wr_outage, from), .required = true, .meaning = "when it goes out"},
    {.key = "until", .kind = WR_IS_DATE_IN_RUN, .offset = offsetof(struct wr_outage, until), .when_absent = "never", .meaning = "when it comes back, after from"},
};
/* clang-format on */

/* What must hold between keys. */
static const char *const outage_rules[] = {"until is later than from.",
                                           "unit is a unit of this plant: a blower only where washes have air, a "
                                           "recycle pump only where an outlet is recycle.",
                                           NULL};

const struct wr_block wr_block_outage = {"outage", "A unit out of service from one date to another.",
                                         WR_BLOCK_ROWS(outage_rows), sizeof(struct wr_outage), outage_rules};
