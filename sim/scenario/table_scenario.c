/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The root of a scenario. */
#include "sim/scenario/table.h"

static const char *const units[] = {"us", "si", NULL};
static const char *const over_approved_rate[] = {"drop_well", "throttle", "rate_rises", NULL};
/* In the order of enum wr_fails_if, called as the findings are. */
static const char *const findings[] = {"washes_waited",
                                       "deferred_by_rule",
                                       "storage_low",
                                       "rinse_short",
                                       "recycle_held",
                                       "finished_water_overflowed",
                                       "approved_rate_exceeded",
                                       "clean_differential_rising",
                                       NULL};
static const char *const flow_splits[] = {"rate_controlled", NULL};

/* One row a line, however long. */
/* clang-format off */
static const struct wr_parameter scenario_rows[] = {
    {.key = "format", .kind = WR_IS_FORMAT, .required = true, .example = "1", .meaning = "version of this format"},
    {.key = "title", .kind = WR_IS_TEXT, .offset = offsetof(struct wr_definition, title), .when_absent = "none", .most = "200", .meaning = "what the report calls the scenario", .source = WR_SANITY},
    {.key = "question", .kind = WR_IS_TEXT, .offset = offsetof(struct wr_definition, question), .when_absent = "none", .most = "1000", .meaning = "what the scenario is to answer, in words", .source = WR_SANITY},
    {.key = "start", .kind = WR_IS_DATE, .offset = offsetof(struct wr_definition, start), .default_text = "2026-01-05", .meaning = "local standard time at which the run starts", .source = "default: chosen here, a Monday"},
    {.key = "horizon", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_definition, horizon), .quantity = WR_QUANTITY_TIME, .default_text = "30 d", .above = "0 s", .most = "3653 d", .example = "30 d", .meaning = "length of the run", .source = WR_CHOSEN "; limit: ten years"},
    {.key = "seed", .kind = WR_IS_WHOLE, .offset = offsetof(struct wr_definition, seed), .default_text = "1", .least = "0", .most = "9007199254740992", .meaning = "what random draws start from; nothing in a run is drawn by chance so far", .source = WR_CHOSEN "; limit: whole numbers that a double holds, 2^53"},
    {.key = "units", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_definition, units), .choices = units, .default_text = "us", .meaning = "units of the text report: us or si", .source = WR_CHOSEN},
    {.key = "demand", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_definition, demand), .block = &wr_block_demand, .required = true, .meaning = "demand on the finished water"},
    {.key = "storage", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_definition, storage), .block = &wr_block_storage, .required = true, .meaning = "finished-water storage"},
    {.key = "wells", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_definition, wells), .block = &wr_block_well, .required = true, .least = "1", .most = "1000", .meaning = "wells, which feed the filters", .source = WR_SANITY},
    {.key = "raw_water", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_definition, raw_water), .block = &wr_block_raw_water, .required = true, .meaning = "water of all wells together"},
    {.key = "filters", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_definition, filters), .block = &wr_block_filter_group, .required = true, .least = "1", .most = "1000", .meaning = "groups of filters that are alike", .source = "limit: 1000 filters in all"},
    {.key = "start_beds", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_definition, start_beds), .block = &wr_block_start_beds, .meaning = "where the beds stand when the run starts"},
    {.key = "flow_split", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_definition, flow_split), .choices = flow_splits, .default_text = "rate_controlled", .meaning = "how flow is shared among filters in service: rate_controlled, the same rate through each", .source = WR_CHOSEN},
    {.key = "over_approved_rate", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_definition, over_approved_rate), .choices = over_approved_rate, .default_text = "drop_well", .meaning = "where running wells would push the filters over their approved rate: drop_well, a well stops; throttle, wells of variable speed give less; rate_rises, the rate rises, and that is reported", .source = WR_CHOSEN},
    {.key = "wash", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_definition, wash), .block = &wr_block_wash, .required = true, .meaning = "what calls a wash, how it runs and by which rules"},
    {.key = "wash_water", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_definition, wash_water), .block = &wr_block_wash_water, .required = true, .meaning = "where backwash water comes from"},
    {.key = "spent_wash", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_definition, spent_wash), .block = &wr_block_spent_wash, .when_absent = "to the sewer as it comes", .meaning = "where spent wash water goes"},
    {.key = "recycle", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_definition, recycle), .block = &wr_block_recycle, .meaning = "sending spent wash water back to the head of the filters"},
    {.key = "outages", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_definition, outages), .block = &wr_block_outage, .when_absent = "none", .most = "1000", .meaning = "units out of service by date", .source = WR_SANITY},
    {.key = "approved_capacity", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_definition, approved_capacity), .quantity = WR_QUANTITY_DAILY_FLOW, .when_absent = "no limit", .above = "0 Mgal/d", .most = "1000 Mgal/d", .meaning = "raw plus recycle that the authority allows the plant", .source = WR_SANITY},
    {.key = "fails_if", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_definition, fails_if), .block = &wr_block_fails_if, .when_absent = "nothing more", .most = "20", .meaning = "findings that fail a run, besides those that always do", .source = WR_SANITY},
};

static const struct wr_parameter fails_if_rows[] = {
    {.key = "finding", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_fails_if_entry, finding), .choices = findings, .required = true, .meaning = "the finding: washes_waited, washes waited; deferred_by_rule, the plant's own rule made them wait; storage_low, storage was below its low mark; rinse_short, a rinse got less than its rate; recycle_held, recycle was held back; finished_water_overflowed, storage was full and water was lost; approved_rate_exceeded, filters ran above their approved rate; clean_differential_rising, beds get less clean from wash to wash"},
};
/* clang-format on */

/* What must hold between keys. */
static const char *const scenario_rules[] = {
    "There are at most 1000 filters, all groups together.",
    "over_approved_rate is throttle only where the drive of some well is variable.",
    "No two filters, wells or spent-wash tanks have the same name, and no well or tank is called as a unit of another "
    "kind is, or wash pump, blower or recycle pump.",
    NULL};

const struct wr_block wr_block_scenario = {"scenario", "The plant and its run.", WR_BLOCK_ROWS(scenario_rows),
                                           sizeof(struct wr_definition), scenario_rules};

const struct wr_block wr_block_fails_if = {"fails if", "A finding that fails a run.", WR_BLOCK_ROWS(fails_if_rows),
                                           sizeof(struct wr_fails_if_entry), NULL};
