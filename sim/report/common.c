/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/json.h"
#include "sim/report/report.h"
#include "sim/report/say.h"

#include <math.h>

struct cJSON *wr_report_document(const struct wr_subject *subject)
{
    struct cJSON *document = wr_json_document();
    wr_json_count(document, "format", 1);
    struct cJSON *program = wr_json_block(document, "program");
    wr_json_word(program, "name", "washrota");
    wr_json_word(program, "version", WR_VERSION);
    struct cJSON *scenario = wr_json_block(document, "scenario");
    wr_json_word(scenario, "title", subject->definition != NULL ? subject->definition->title : NULL);
    wr_json_word(scenario, "sha256", subject->sha256);
    return document;
}

void wr_report_title(struct wr_page *page, const struct wr_subject *subject)
{
    const struct wr_definition *definition = subject->definition;
    wr_page_flow(page, "", "%s", definition->title != NULL ? definition->title : "A plant without a title");
    if (definition->question != NULL)
        wr_page_flow(page, "", "Question: %s", definition->question);
}

void wr_report_caution(struct wr_page *page)
{
    wr_page_add(page, "\n");
    wr_page_flow(
        page, "",
        "A planning and teaching aid, not a design. Verify on the plant; local codes, the permitting authority "
        "and a licensed engineer decide. Do not change setpoints on its word alone.");
}

const char *wr_report_limit_key(enum wr_limit limit)
{
    return limit == WR_LIMIT_NONE ? NULL : wr_limit_row(limit)->key;
}

const char *wr_report_where(const struct wr_plant *plant, size_t where)
{
    return where < plant->filter_count ? plant->names[where] : NULL;
}

const char *wr_report_trigger_key(enum wr_trigger trigger)
{
    static const char *const keys[] = {[WR_TRIGGER_DIFFERENTIAL] = "differential",
                                       [WR_TRIGGER_HOURS] = "run_hours",
                                       [WR_TRIGGER_VOLUME] = "volume",
                                       [WR_TRIGGER_URGENT] = "urgent",
                                       [WR_TRIGGER_ROTA] = "rota",
                                       [WR_TRIGGER_INTERRUPTED] = "interrupted"};
    return keys[trigger];
}

static void count_wait(struct wr_waits *waits, double waited)
{
    if (waited <= 0)
        return;
    waits->washes++;
    waits->longest = fmax(waits->longest, waited);
}

struct wr_waits wr_report_waits(const struct wr_run *run)
{
    struct wr_waits waits = {0};
    const struct wr_state *state = run->simulation.state;
    const struct wr_filter *filters = wr_state_filters(&run->plant, state);
    const uint32_t *line = wr_state_line(&run->plant, state);
    for (size_t w = 0; w < run->record.wash_count; w++)
        if (!run->record.washes[w].start_up)
            count_wait(&waits, run->record.washes[w].waited_for_resource);
    for (uint32_t i = 0; i < state->waiting; i++)
        if (filters[line[i]].washed)
            count_wait(&waits, filters[line[i]].wait.by_resource);
    for (int l = 0; l < WR_LIMITS; l++)
        if (wr_limit_is_resource((enum wr_limit)l))
            waits.total += state->waits[l].first;
    return waits;
}

double wr_report_unmet(const struct wr_run *run)
{
    if (run->record.findings[WR_FINDING_UNMET_DEMAND][WR_LIMITS].times == 0)
        return 0;
    const double delivered = wr_ledger_line(&run->plant, run->simulation.state, WR_LINE_DELIVERED, 0)->water;
    return fmax(0, run->simulation.state->asked - delivered);
}

void wr_report_group(struct wr_page *sentences, const struct wr_plant *plant, size_t group)
{
    const struct wr_group *g = &plant->groups[group];
    wr_page_add(sentences, "%s", plant->names[g->first]);
    if (g->count > 1)
        wr_page_add(sentences, " to %s", plant->names[g->first + g->count - 1]);
}
