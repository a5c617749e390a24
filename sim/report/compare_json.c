/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/compare.h"
#include "sim/report/json.h"

#include <cjson/cJSON.h>
#include <stdlib.h>

static struct wr_subject subject_of(const struct wr_compared *item)
{
    return (struct wr_subject){.definition = item->definition, .sha256 = item->sha256};
}

/* Adds a value as its author wrote it; null where nothing is written. */
static void put_written(struct cJSON *block, const char *key, const struct cJSON *value)
{
    char *text = value != NULL ? cJSON_PrintUnformatted(value) : NULL;
    if (text == NULL)
        wr_json_null(block, key);
    else
        cJSON_AddRawToObject(block, key, text);
    cJSON_free(text);
}

static void put_changes(struct cJSON *block, const struct wr_compared *item)
{
    struct cJSON *list = wr_json_list(block, "changes");
    for (size_t d = 0; d < item->changes.count; d++) {
        const struct wr_difference *change = &item->changes.items[d];
        struct cJSON *entry = wr_json_block(list, NULL);
        wr_json_word(entry, "pointer", change->pointer);
        wr_json_word(entry, "meaning", change->meaning);
        put_written(entry, "before", change->earlier);
        put_written(entry, "after", change->later);
        wr_json_word(entry, "default", change->default_text);
        wr_json_flag(entry, "asked_of_the_plant", change->is_weather);
    }
}

static void put_kinds(struct cJSON *block, const char *key, const bool kinds[WR_FINDINGS])
{
    struct cJSON *list = wr_json_list(block, key);
    for (int k = 0; k < WR_FINDINGS; k++)
        if (kinds[k])
            wr_json_word(list, NULL, wr_finding_row((enum wr_finding_kind)k)->key);
}

static void put_against(struct cJSON *block, const struct wr_comparison *comparison, size_t number)
{
    const struct wr_against against = wr_comparison_against(comparison, number);
    const struct wr_rung *first = &comparison->items[0].firm.one_out.failing;
    const struct wr_rung *failing = &comparison->items[number].firm.one_out.failing;
    struct cJSON *entry = wr_json_block(block, "against_first");
    wr_json_number(entry, "filter_firm_more_m3_per_s", against.filter_firm);
    wr_json_flag(entry, "filter_firm_moves", against.filter_firm_moves);
    wr_json_number(entry, "plant_firm_more_m3_per_s", against.plant_firm);
    wr_json_flag(entry, "plant_firm_moves", against.plant_firm_moves);
    wr_json_number(entry, "nameplate_more_m3_per_s", against.nameplate);
    wr_json_word(entry, "limit_before", wr_report_limit_key(first->limit));
    wr_json_word(entry, "limit_after", wr_report_limit_key(failing->limit));
    put_kinds(entry, "findings_new", against.new_finding);
    put_kinds(entry, "findings_gone", against.gone_finding);
    wr_json_flag(entry, "is_worse", against.is_worse);
    wr_json_number(entry, "filter_firm_years_more", against.years);
    wr_json_number(entry, "plant_firm_years_more", against.plant_years);
}

static void put_item(struct cJSON *list, const struct wr_comparison *comparison, size_t number)
{
    const struct wr_compared *item = &comparison->items[number];
    const struct wr_subject subject = subject_of(item);
    const char letter[] = {wr_compared_letter(number), '\0'};
    struct cJSON *block = wr_json_block(list, NULL);
    wr_json_word(block, "letter", letter);
    wr_json_word(block, "name", item->name);
    if (number > 0) {
        put_against(block, comparison, number);
        put_changes(block, item);
    }
    cJSON_AddItemToObject(block, "firm", wr_report_firm_document(&subject, &item->firm));
    cJSON_AddItemToObject(block, "run", wr_report_run_document(&subject, &item->run));
}

struct cJSON *wr_report_compare_document(const struct wr_comparison *comparison)
{
    const struct wr_subject subject = subject_of(&comparison->items[0]);
    struct cJSON *document = wr_report_document(&subject);
    if (comparison->end != WR_RUN_WHOLE) {
        wr_json_word(document, "fault", comparison->message);
        return document;
    }
    wr_json_flag(document, "passes", comparison->passes);
    wr_json_flag(document, "same_demand", comparison->same_weather);
    wr_json_number(document, "growth_per_year", comparison->growth);
    struct cJSON *list = wr_json_list(document, "compared");
    for (size_t i = 0; i < comparison->count; i++)
        put_item(list, comparison, i);
    return document;
}
