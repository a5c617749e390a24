/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spent wash water and its ways out. */
#include "sim/scenario/table.h"

static const char *const laws[] = {"none", "clock", NULL};
static const char *const outlets[] = {"recycle", "sewer", "pond", "haul", NULL};
static const char *const controls[] = {"fixed", "ratio", NULL};

/* One row a line, however long. */
/* clang-format off */
static const struct wr_parameter spent_wash_rows[] = {
    {.key = "tanks", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_spent_wash, tanks), .block = &wr_block_spent_tank, .when_absent = "to the sewer as it comes", .most = "100", .meaning = "tanks that take spent wash water, each wash whole into one", .source = WR_SANITY},
    {.key = "settling", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_spent_wash, settling), .block = &wr_block_settling, .when_absent = "it does not", .meaning = "how spent wash water settles in the tanks"},
    {.key = "outlets", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_spent_wash, outlets), .block = &wr_block_outlet, .when_absent = "none", .most = "20", .meaning = "ways out of the tanks in order of preference: one runs only while those before it cannot", .source = WR_SANITY},
};

static const struct wr_parameter spent_tank_rows[] = {
    {.key = "name", .kind = WR_IS_TEXT, .offset = offsetof(struct wr_spent_tank, name), .when_absent = "T and its number in the list", .least = "1", .most = "40", .example = "T1", .meaning = "what the report calls the tank", .source = WR_SANITY},
    {.key = "volume", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_spent_tank, volume), .quantity = WR_QUANTITY_VOLUME, .required = true, .above = "0 gal", .most = "100 Mgal", .meaning = "volume of the tank", .source = WR_SANITY},
    {.key = "start_level", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_spent_tank, start_level), .quantity = WR_QUANTITY_SHARE, .default_text = "0 %", .least = "0 %", .most = "100 %", .example = "0 %", .meaning = "level of clear water when the run starts, of the volume", .source = WR_NONE_OF_IT "; " WR_BY_MEANING},
};

static const struct wr_parameter settling_rows[] = {
    {.key = "law", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_settling, law), .choices = laws, .required = true, .meaning = "law by which it settles: none, it leaves as it came; clock, after a time all solids are in the sludge"},
    {.key = "time", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_settling, time), .quantity = WR_QUANTITY_TIME, .when_absent = "needed where law is clock", .least = "0 s", .most = "365 d", .example = "6 h", .meaning = "time without inflow until it has settled", .source = WR_SANITY},
    {.key = "start_after", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_settling, start_after), .quantity = WR_QUANTITY_TIME, .default_text = "2 h", .least = "0 s", .most = "365 d", .example = "2 h", .meaning = "time after its last wash at which a part-full tank starts to settle", .source = "default: illustrative; " WR_SANITY},
    {.key = "sludge_share", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_settling, sludge_share), .quantity = WR_QUANTITY_SHARE, .default_text = "15 %", .least = "0 %", .below = "100 %", .example = "15 %", .meaning = "share of the content that is sludge when settling ends", .source = "default: the settled part cuts waste by about 85 %, " WR_PRACTICE "; " WR_BY_MEANING},
};

static const struct wr_parameter outlet_rows[] = {
    {.key = "kind", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_outlet, kind), .choices = outlets, .required = true, .meaning = "where it leads: recycle, by the recycle pump to the head of the filters; sewer, pond or haul, off the plant, each booked apart"},
    {.key = "rate", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_outlet, rate), .quantity = WR_QUANTITY_FLOW, .when_absent = "the recycle pump's, for recycle", .above = "0 gal/min", .most = "1e6 gal/min", .example = "30 gal/min", .meaning = "flow while it runs", .source = WR_SANITY},
    {.key = "hours", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_outlet, hours), .block = &wr_block_hours, .when_absent = "always", .most = "100", .meaning = "hours in which it may run", .source = WR_SANITY},
    {.key = "daily_volume", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_outlet, daily_volume), .quantity = WR_QUANTITY_VOLUME, .when_absent = "no bound", .above = "0 gal", .most = "1000 Mgal", .meaning = "greatest volume a day, from midnight to midnight", .source = WR_SANITY},
};

static const struct wr_parameter recycle_rows[] = {
    {.key = "pump", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_recycle, pump), .quantity = WR_QUANTITY_FLOW, .when_absent = "needed where an outlet is recycle", .above = "0 gal/min", .most = "1e6 gal/min", .example = "13.5 gal/min", .meaning = "flow of the recycle pump", .source = WR_SANITY},
    {.key = "control", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_recycle, control), .choices = controls, .default_text = "fixed", .meaning = "how the pump keeps within its limits: fixed, it runs whole or waits; ratio, it gives as much as they allow", .source = WR_CHOSEN},
    {.key = "max_fraction", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_recycle, max_fraction), .quantity = WR_QUANTITY_SHARE, .default_text = "10 %", .above = "0 %", .most = "100 %", .meaning = "greatest share that recycle may be of the raw flow of the instant", .source = "default: " WR_PRACTICE "; " WR_BY_MEANING},
};
/* clang-format on */

/* What must hold between keys. */
static const char *const spent_wash_rules[] = {
    "Tanks have at least one outlet.",
    "The largest tank holds all that one wash sends to it: its backwash, its rinse and, where the template drains the "
    "filter, the drained water.",
    NULL};

static const char *const settling_rules[] = {"time is given where law is clock, and is more than 0.", NULL};

static const char *const outlet_rules[] = {
    "rate is given where there are tanks, but never for recycle, whose flow is the pump in /recycle.",
    "With template batch_regeneration nothing is recycled.", NULL};

static const char *const recycle_rules[] = {"pump is given where an outlet is recycle.", NULL};

const struct wr_block wr_block_spent_wash = {"spent wash", "Where spent wash water goes.",
                                             WR_BLOCK_ROWS(spent_wash_rows), sizeof(struct wr_spent_wash),
                                             spent_wash_rules};

const struct wr_block wr_block_spent_tank = {"spent-wash tank", "A tank that takes spent wash water.",
                                             WR_BLOCK_ROWS(spent_tank_rows), sizeof(struct wr_spent_tank), NULL};

const struct wr_block wr_block_settling = {"settling", "How spent wash water settles in its tanks.",
                                           WR_BLOCK_ROWS(settling_rows), sizeof(struct wr_settling), settling_rules};

const struct wr_block wr_block_outlet = {"outlet", "A way out of the spent-wash tanks.", WR_BLOCK_ROWS(outlet_rows),
                                         sizeof(struct wr_outlet), outlet_rules};

const struct wr_block wr_block_recycle = {"recycle", "Sending spent wash water back to the head of the filters.",
                                          WR_BLOCK_ROWS(recycle_rows), sizeof(struct wr_recycle), recycle_rules};
