/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Scenarios side by side: read again under one demand, asked, and told apart. */

#include "sim/report/compare.h"
#include "sim/handles.h"
#include "sim/report/json.h"
#include "sim/scenario/quantity.h"

#include <assert.h>
#include <cjson/cJSON.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Gives a tree the start, horizon, seed and demand of another. */
static void take_weather(struct cJSON *tree, const struct cJSON *from)
{
    for (struct cJSON *child = tree->child, *next; child != NULL; child = next) {
        next = child->next;
        if (wr_key_is_weather(child->string))
            cJSON_Delete(cJSON_DetachItemViaPointer(tree, child));
    }
    const struct cJSON *child;
    cJSON_ArrayForEach(child, from)
    {
        if (wr_key_is_weather(child->string))
            cJSON_AddItemToObject(tree, child->string, cJSON_Duplicate(child, 1));
    }
}

_Static_assert((int)WR_COMPARED_SCENARIOS == (int)WR_COMPARED_MOST, "the public bound is that of the study");

/* The scenario read anew under what another asks of its plant. */
static struct wr_scenario *under_weather_of(const struct wr_scenario *scenario, const struct wr_scenario *first)
{
    struct wr_reading changed = {.tree = cJSON_Duplicate(scenario->reading.tree, 1)};
    take_weather(changed.tree, first->reading.tree);
    char *text = wr_reading_scenario_text(&changed);
    struct wr_scenario *again = wr_scenario_open_text(scenario->reading.file, text, strlen(text), NULL, 0);
    free(text);
    cJSON_Delete(changed.tree);
    return again;
}

/* The first that cannot be read; NULL where all can. */
static const struct wr_scenario *find_bad(const struct wr_scenario *const *scenarios, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!scenarios[i]->reading.good)
            return scenarios[i];
    return NULL;
}

/* Frees scenarios that were read again. */
static void close_all(struct wr_scenario **scenarios, size_t count)
{
    for (size_t i = 0; scenarios != NULL && i < count; i++)
        wr_scenario_close(scenarios[i]);
    free(scenarios);
}

/* The scenarios as they will be run; NULL without memory. */
static struct wr_scenario **read_again(const struct wr_scenario *const *scenarios, size_t count)
{
    struct wr_scenario **again = calloc(count, sizeof(struct wr_scenario *));
    bool good = again != NULL;
    for (size_t i = 0; good && i < count; i++) {
        again[i] = under_weather_of(scenarios[i], scenarios[0]);
        good = again[i] != NULL;
    }
    if (good)
        return again;
    close_all(again, count);
    return NULL;
}

/* Fills in what the comparison works on. */
static void name_items(struct wr_answer *answer, const struct wr_named_scenario *named, size_t count)
{
    struct wr_comparison *comparison = &answer->comparison;
    comparison->items = calloc(count, sizeof *comparison->items);
    for (size_t i = 0; comparison->items != NULL && i < count; i++) {
        const struct wr_scenario *run_as = answer->run_as_count > 0 ? answer->run_as[i] : named[i].scenario;
        struct wr_compared *item = &comparison->items[i];
        item->name = named[i].name;
        item->text = wr_scenario_text(run_as);
        item->sha256 = wr_scenario_sha256(run_as);
        item->definition = &run_as->reading.definition;
        if (i > 0)
            wr_differences_find(&item->changes, named[0].scenario->reading.tree, named[i].scenario->reading.tree);
        comparison->count++;
    }
}

/* What was asked, for the run folder. */
static void note_asked(struct wr_answer *answer, bool as_written)
{
    const struct wr_comparison *comparison = &answer->comparison;
    answer->asked = wr_json_document();
    wr_json_flag(answer->asked, "as_written", as_written);
    wr_json_number(answer->asked, "growth_per_year", comparison->growth);
    struct cJSON *list = wr_json_list(answer->asked, "names");
    for (size_t i = 0; i < comparison->count; i++)
        wr_json_word(list, NULL, comparison->items[i].name);
}

/* Begins an answer about the first of the scenarios, or about the first that is not good as written or as run. */
static struct wr_answer *begin(const struct wr_scenario *const *scenarios, size_t count, bool as_written)
{
    const struct wr_scenario *bad = find_bad(scenarios, count);
    struct wr_scenario **run_as = NULL;
    if (bad == NULL && !as_written) {
        run_as = read_again(scenarios, count);
        if (run_as == NULL)
            return NULL;
        bad = find_bad((const struct wr_scenario *const *)run_as, count);
    }
    struct wr_answer *answer = wr_answer_begin(bad != NULL ? bad : scenarios[0], WR_QUESTION_COMPARE);
    if (answer == NULL) {
        close_all(run_as, count);
        return NULL;
    }
    answer->run_as = run_as;
    answer->run_as_count = run_as != NULL ? count : 0;
    return answer;
}

struct wr_answer *wr_scenarios_compare(const struct wr_named_scenario *named, size_t count, bool as_written,
                                       double growth)
{
    const struct wr_scenario *scenarios[WR_COMPARED_MOST];
    assert(count >= 1 && count <= WR_COMPARED_MOST);
    for (size_t i = 0; i < count; i++)
        scenarios[i] = named[i].scenario;
    struct wr_answer *answer = begin(scenarios, count, as_written);
    if (answer == NULL || !answer->worked)
        return answer;
    answer->comparison.same_weather = !as_written;
    answer->comparison.growth = growth > 0 ? growth : WR_ABSENT;
    name_items(answer, named, count);
    if (answer->comparison.items == NULL) {
        wr_answer_close(answer);
        return NULL;
    }
    note_asked(answer, as_written);
    struct wr_workers workers = wr_scenario_workers(scenarios[0]);
    wr_comparison_make(&answer->comparison, &workers);
    wr_answer_end(answer, answer->comparison.end, answer->comparison.message, answer->comparison.passes);
    answer->document = wr_report_compare_document(&answer->comparison);
    return answer;
}

bool wr_growth_read(const char *text, double *growth, char *fault, size_t size)
{
    /* Slower growth cannot be told from none, and faster is a slip of the pen. */
    static const double most = 0.5;
    double value;
    char found[256];
    if (wr_quantity_read(WR_QUANTITY_SHARE, text, &value, found, sizeof found) && value > 0 && value <= most) {
        *growth = value;
        return true;
    }
    snprintf(fault, size, "growth is a share a year such as \"2 %%\", above 0 %% and at most 50 %%, not \"%s\"", text);
    return false;
}

struct wr_answer *wr_scenario_growth(const struct wr_scenario *scenario, double growth)
{
    struct wr_answer *answer = wr_answer_begin(scenario, WR_QUESTION_GROWTH);
    if (answer == NULL || !answer->worked)
        return answer;
    const struct wr_subject subject = wr_scenario_subject(scenario);
    struct wr_workers workers = wr_scenario_workers(scenario);
    wr_firm_make(&answer->firm, subject.definition, &workers);
    answer->growth = wr_growth_of(&answer->firm, growth);
    answer->asked = wr_json_document();
    wr_json_number(answer->asked, "growth_per_year", growth);
    wr_answer_end(answer, answer->firm.end, answer->firm.message, answer->firm.passes);
    answer->document = wr_report_growth_document(&subject, &answer->firm, &answer->growth);
    return answer;
}
