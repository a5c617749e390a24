/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The wash: what calls it, its steps and the rules by which washes start. */
#include "sim/scenario/table.h"

static const char *const differentials_as[] = {"measured", "corrected", NULL};
static const char *const acrosses[] = {"filter", "bed", NULL};
static const char *const templates[] = {"pressure", NULL};
static const char *const who_first[] = {"longest_waiting", "dirtiest", NULL};

/* One row a line, however long. */
/* clang-format off */
static const struct wr_parameter wash_rows[] = {
    {.key = "triggers", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_wash, triggers), .block = &wr_block_triggers, .required = true, .meaning = "what calls a wash, whichever comes first"},
    {.key = "template", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_wash, sequence), .choices = templates, .default_text = "pressure", .meaning = "sequence of steps: pressure, a pressure filter without air"},
    {.key = "backwash_rate", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, backwash_rate), .quantity = WR_QUANTITY_RATE, .required = true, .above = "0 m/h", .most = "300 m/h", .example = "12 gal/min/ft2", .meaning = "rate of the backwash", .source = WR_SANITY},
    {.key = "backwash_time", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, backwash_time), .quantity = WR_QUANTITY_TIME, .default_text = "10 min", .above = "0 s", .most = "1 d", .example = "10 min", .meaning = "length of the backwash at its full rate, ramps counted by their volume", .source = "default: " WR_PRACTICE},
    {.key = "ramp_time", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, ramp_time), .quantity = WR_QUANTITY_TIME, .default_text = "1 min", .least = "0 s", .most = "1 h", .example = "1 min", .meaning = "length of the slow start and of the slow stop, each at half the rate", .source = "default: " WR_PRACTICE},
    {.key = "bed_settle", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, bed_settle), .quantity = WR_QUANTITY_TIME, .default_text = "2 min", .least = "0 s", .most = "1 d", .example = "2 min", .meaning = "stillness after the backwash", .source = "default: " WR_PRACTICE},
    {.key = "rinse_rate", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, rinse_rate), .quantity = WR_QUANTITY_RATE, .when_absent = "the approved rate", .above = "0 m/h", .most = "100 m/h", .example = "3 gal/min/ft2", .meaning = "rate of the rinse, in the service direction to waste", .source = WR_SANITY},
    {.key = "rinse_time", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, rinse_time), .quantity = WR_QUANTITY_TIME, .default_text = "3 min", .least = "0 s", .most = "1 d", .example = "3 min", .meaning = "length of the rinse at that rate", .source = "default: " WR_PRACTICE},
    {.key = "valve_travel", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, valve_travel), .quantity = WR_QUANTITY_TIME, .default_text = "1 min", .least = "0 s", .most = "1 h", .example = "1 min", .meaning = "time for valves to turn: before the backwash, before the rinse and before service", .source = "default: " WR_PRACTICE},
    {.key = "max_simultaneous", .kind = WR_IS_COUNT, .offset = offsetof(struct wr_wash, max_simultaneous), .default_text = "1", .least = "1", .most = "1000", .meaning = "filters off line for a wash at one time"},
    {.key = "min_between_starts", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, min_between_starts), .quantity = WR_QUANTITY_TIME, .default_text = "0 min", .least = "0 s", .most = "365 d", .example = "30 min", .meaning = "least time from the start of one wash to that of the next", .source = WR_SANITY},
    {.key = "who_first", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_wash, who_first), .choices = who_first, .default_text = "longest_waiting", .meaning = "which of the filters that wait goes first"},
};

static const struct wr_parameter triggers_rows[] = {
    {.key = "differential", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_triggers, differential), .quantity = WR_QUANTITY_HEAD, .when_absent = "it never calls", .above = "0 psi", .most = "150 psi", .meaning = "differential that calls a wash", .source = WR_SANITY},
    {.key = "differential_as", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_triggers, differential_as), .choices = differentials_as, .default_text = "corrected", .meaning = "measured: as it is; corrected: times approved rate over the rate now, as a controller would"},
    {.key = "across", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_triggers, across), .choices = acrosses, .default_text = "filter", .meaning = "across what it is measured: filter, fittings included, or bed"},
    {.key = "persistence", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_triggers, persistence), .quantity = WR_QUANTITY_TIME, .default_text = "2 min", .least = "0 s", .most = "1 d", .example = "2 min", .meaning = "how long the differential must stay at or above its trigger", .source = "default: " WR_PRACTICE},
    {.key = "run_hours", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_triggers, run_hours), .quantity = WR_QUANTITY_TIME, .when_absent = "it never calls", .above = "0 h", .most = "365 d", .example = "72 h", .meaning = "time with flow since the last wash that calls one", .source = WR_SANITY},
    {.key = "volume", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_triggers, volume), .quantity = WR_QUANTITY_RUN_VOLUME, .when_absent = "it never calls", .above = "0 gal/ft2", .most = "1e6 gal/ft2", .meaning = "water per area since the last wash that calls one", .source = WR_SANITY},
};
/* clang-format on */

const struct wr_block wr_block_wash = {"wash", "The wash sequence and the rules by which washes start.",
                                       WR_BLOCK_ROWS(wash_rows), sizeof(struct wr_wash)};

const struct wr_block wr_block_triggers = {"triggers", "What calls a wash; whichever comes first.",
                                           WR_BLOCK_ROWS(triggers_rows), sizeof(struct wr_triggers)};
