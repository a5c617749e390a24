/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/variant.h"

#include "sim/scenario/text.h"

#include <cjson/cJSON.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Writes into an observed run a figure of the raw water that it leaves out. */
static void pin(cJSON *observed, const cJSON *raw_water, const char *key)
{
    const cJSON *figure = cJSON_GetObjectItemCaseSensitive(raw_water, key);
    if (figure != NULL && cJSON_GetObjectItemCaseSensitive(observed, key) == NULL)
        cJSON_AddItemToObject(observed, key, cJSON_Duplicate(figure, true));
}

char *wr_base_text(const struct wr_reading *reading)
{
    static const char *const keys[] = {"iron", "manganese", "suspended_solids", "temperature"};
    struct wr_reading pinned = {.tree = cJSON_Duplicate(reading->tree, true)};
    const cJSON *raw_water = cJSON_GetObjectItemCaseSensitive(pinned.tree, "raw_water"), *group;
    cJSON_ArrayForEach(group, cJSON_GetObjectItemCaseSensitive(pinned.tree, "filters"))
    {
        const cJSON *deposit = cJSON_GetObjectItemCaseSensitive(group, "deposit");
        cJSON *observed = cJSON_GetObjectItemCaseSensitive(deposit, "observed_run");
        for (size_t k = 0; observed != NULL && k < sizeof keys / sizeof *keys; k++)
            pin(observed, raw_water, keys[k]);
    }
    char *text = wr_reading_scenario_text(&pinned);
    cJSON_Delete(pinned.tree);
    return text;
}

void wr_variant_read(struct wr_variant *variant, const struct wr_base *base, const char *const *settings, size_t count)
{
    wr_reading_text(&variant->reading, base->name, base->text, strlen(base->text), settings, count);
    variant->is_allowed = variant->reading.good;
}

void wr_variant_refusal(const struct wr_variant *variant, const char *pointer, char *words, size_t size)
{
    words[0] = '\0';
    if (variant->reading.complaint_count == 0)
        return;
    const struct wr_complaint *complaint = &variant->reading.complaints[0];
    const char *allowed = strstr(complaint->message, "allowed: ");
    if (allowed != NULL && strcmp(complaint->pointer, pointer) == 0)
        snprintf(words, size, "%s", allowed);
    else
        snprintf(words, size, "%s: %s", complaint->pointer, complaint->message);
}

struct judging {
    struct wr_variant *const *variants;
    enum wr_verdict verdict;
};

static void judge(void *context, size_t item)
{
    const struct judging *judging = context;
    struct wr_variant *variant = judging->variants[item];
    if (!variant->is_allowed)
        return;
    const enum wr_status status = wr_trial_judge(&variant->trial, &variant->reading.definition, judging->verdict);
    if (status == WR_OK) {
        wr_trial_try(&variant->trial, &variant->tried);
        return;
    }
    variant->tried = (struct wr_tried){.end = status == WR_NO_MEMORY ? WR_RUN_NO_MEMORY : WR_RUN_BAD_PLANT};
    snprintf(variant->tried.message, sizeof variant->tried.message, "%s", wr_status_text(status));
}

size_t wr_variants_judge(struct wr_variant *const *variants, size_t count, enum wr_verdict verdict,
                         struct wr_workers *workers)
{
    struct judging judging = {variants, verdict};
    return wr_workers_each(workers, count, judge, &judging);
}

void wr_variant_fini(struct wr_variant *variant)
{
    wr_reading_fini(&variant->reading);
}
