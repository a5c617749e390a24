/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/json.h"
#include "sim/report/report.h"

#include <cjson/cJSON.h>
#include <math.h>

static const char *finding_key(const struct wr_rung *rung)
{
    return rung->finding < WR_FINDINGS ? wr_finding_row(rung->finding)->key : NULL;
}

/* What a failed demand failed by; all null for one that passes. */
static void add_failure(struct cJSON *block, const struct wr_plant *plant, const struct wr_rung *rung)
{
    const bool failed = finding_key(rung) != NULL;
    wr_json_word(block, "limit", wr_report_limit_key(rung->limit));
    wr_json_word(block, "where", failed ? wr_report_where(plant, rung->where) : NULL);
    wr_json_number(block, "at_s", failed ? rung->at : WR_ABSENT);
    wr_json_word(block, "finding", finding_key(rung));
    wr_json_word(block, "held_outlets_by", failed ? wr_report_limit_key(rung->outlet_limit) : NULL);
    wr_json_number(block, "held_outlets_share",
                   failed && rung->limit == WR_LIMIT_SPENT_WASH_ROOM ? rung->outlet_share : WR_ABSENT);
}

static void add_limiting(struct cJSON *document, const char *key, const struct wr_plant *plant,
                         const struct wr_search *search)
{
    if (search->ever_failed)
        add_failure(wr_json_block(document, key), plant, &search->failing);
    else
        wr_json_null(document, key);
}

static void add_bracket(struct cJSON *document, const char *key, const struct wr_search *search)
{
    struct cJSON *bracket = wr_json_list(document, key);
    wr_json_number(bracket, NULL, search->pass);
    wr_json_number(bracket, NULL, search->ever_failed ? search->fail : WR_ABSENT);
}

static void add_ladder(struct cJSON *document, const char *key, const struct wr_plant *plant,
                       const struct wr_search *search)
{
    struct cJSON *list = wr_json_list(document, key);
    for (size_t r = 0; r < search->rungs; r++) {
        const struct wr_rung *rung = &search->ladder[r];
        struct cJSON *block = wr_json_block(list, NULL);
        wr_json_number(block, "demand_m3_per_s", rung->demand);
        wr_json_flag(block, "passes", rung->passes);
        wr_json_flag(block, "low_flow_failure", rung->low_flow);
        add_failure(block, plant, rung);
    }
}

static void add_nameplate(struct cJSON *document, const struct wr_firm *firm)
{
    wr_json_number(document, "nameplate_m3_per_s", firm->nameplate);
    struct cJSON *list = wr_json_list(document, "nameplate_terms");
    for (size_t t = 0; t < firm->term_count; t++) {
        struct cJSON *term = wr_json_block(list, NULL);
        wr_json_word(term, "term", firm->terms[t].key);
        wr_json_word(term, "words", firm->terms[t].words);
        wr_json_number(term, "value", firm->terms[t].value);
        wr_json_word(term, "unit", firm->terms[t].unit);
    }
}

static void add_lifted(struct cJSON *document, const struct wr_firm *firm)
{
    struct cJSON *list = wr_json_list(document, "if_lifted");
    if (!firm->has_lifted)
        return;
    struct cJSON *block = wr_json_block(list, NULL);
    wr_json_word(block, "limit", wr_report_limit_key(firm->lifted.limit));
    wr_json_number(block, "filter_firm_m3_per_s", firm->lifted.firm);
    wr_json_word(block, "then_limiting", wr_report_limit_key(firm->lifted.then));
}

/* Each unit out in turn: firm capacity where something stands in for it, else how long the plant lasts. */
static void add_units(struct cJSON *document, const struct wr_firm *firm)
{
    struct cJSON *list = wr_json_list(document, "units_out");
    for (size_t u = 0; u < firm->unit_count; u++) {
        const struct wr_unit_out *unit = &firm->units[u];
        struct cJSON *block = wr_json_block(list, NULL);
        wr_json_word(block, "unit", unit->name);
        wr_json_flag(block, "has_another_way", unit->has_another_way);
        wr_json_number(block, "firm_m3_per_s", unit->has_another_way ? unit->firm : WR_ABSENT);
        wr_json_word(block, "limit", unit->has_another_way ? wr_report_limit_key(unit->limit) : NULL);
        wr_json_number(block, "lasts_s", unit->has_another_way || isinf(unit->lasts) ? WR_ABSENT : unit->lasts);
        wr_json_word(block, "ends_by", unit->ends < WR_FINDINGS ? wr_finding_row(unit->ends)->key : NULL);
    }
}

struct cJSON *wr_report_firm_document(const struct wr_subject *subject, const struct wr_firm *firm)
{
    struct cJSON *document = wr_report_document(subject);
    wr_json_number(document, "seed", subject->definition->seed);
    if (firm->end != WR_RUN_WHOLE) {
        wr_json_word(document, "fault", firm->message);
        return document;
    }
    wr_json_flag(document, "passes", firm->passes);
    wr_json_number(document, "filter_firm_m3_per_s", firm->one_out.firm);
    add_bracket(document, "bracket_m3_per_s", &firm->one_out);
    wr_json_word(document, "unit_out", firm->unit_name);
    add_limiting(document, "limiting", &firm->plant, &firm->one_out);
    add_lifted(document, firm);
    add_ladder(document, "ladder", &firm->plant, &firm->one_out);
    wr_json_flag(document, "monotone", firm->one_out.monotone);
    add_nameplate(document, firm);
    wr_json_number(document, "plant_firm_m3_per_s", firm->plant_firm);
    wr_json_word(document, "plant_firm_unit_out", firm->units[firm->plant_unit].name);
    add_units(document, firm);
    wr_json_number(document, "all_in_service_m3_per_s", firm->all_in.firm);
    add_bracket(document, "all_in_service_bracket_m3_per_s", &firm->all_in);
    add_limiting(document, "all_in_service_limiting", &firm->plant, &firm->all_in);
    wr_json_number(document, "approved_m3_per_s", firm->approved);
    wr_json_number(document, "maximum_day_m3_per_s", firm->maximum_day);
    wr_json_number(document, "share_used", firm->share_used);
    struct cJSON *today = wr_json_block(document, "maximum_day_with_unit_out");
    wr_json_flag(today, "passes", firm->today.passes);
    add_failure(today, &firm->plant, &firm->today);
    wr_json_number(document, "share_of_approved_used",
                   wr_is_given(firm->approved) ? firm->maximum_day / firm->approved : WR_ABSENT);
    wr_json_count(document, "runs", firm->one_out.runs + firm->all_in.runs);
    wr_report_derived_block(document, &firm->plant);
    return document;
}
