/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/json.h"
#include "sim/report/report.h"
#include "sim/report/say.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

void wr_report_put_finding(struct cJSON *block, const struct wr_run *run, const struct wr_finding *f)
{
    const struct wr_finding_row *row = wr_finding_row(f->kind);
    const char *unit = wr_finding_unit_text(row->unit);
    wr_json_word(block, "kind", row->key);
    wr_json_word(block, "class", wr_finding_class_key(row->class));
    wr_json_flag(block, "fails", wr_record_fails(&run->record, f->kind));
    wr_json_word(block, "limit", wr_report_limit_key(f->limit));
    wr_json_word(block, "where", wr_report_where(&run->plant, f->where));
    wr_json_number(block, "start_s", f->start);
    wr_json_number(block, "length_s", f->length);
    wr_json_count(block, "times", f->times);
    wr_json_number(block, "worst", unit[0] != '\0' ? f->worst : WR_ABSENT);
    wr_json_word(block, "unit", unit);
}

void wr_report_finding_list(struct cJSON *document, const struct wr_run *run)
{
    struct cJSON *list = wr_json_list(document, "findings");
    const struct wr_finding *f = NULL;
    while ((f = wr_record_finding(&run->record, f)) != NULL)
        wr_report_put_finding(wr_json_block(list, NULL), run, f);
}

static struct wr_phrase say_worst(const struct wr_finding *f, enum wr_units units)
{
    switch (wr_finding_row(f->kind)->unit) {
    case WR_UNIT_FLOW:
        return wr_say(WR_QUANTITY_FLOW, f->worst, units);
    case WR_UNIT_VOLUME:
        return wr_say(WR_QUANTITY_VOLUME, f->worst, units);
    case WR_UNIT_SHARE:
        return wr_say_share(f->worst);
    case WR_UNIT_TIME:
        return wr_say_duration(f->worst);
    case WR_UNIT_RATE:
        return wr_say(WR_QUANTITY_RATE, f->worst, units);
    case WR_UNIT_HEAD:
        return wr_say(WR_QUANTITY_HEAD, f->worst, units);
    case WR_UNIT_CONCENTRATION:
        return wr_say(WR_QUANTITY_CONCENTRATION, f->worst, units);
    case WR_UNIT_COUNT: {
        struct wr_phrase count;
        snprintf(count.text, sizeof count.text, "%.0f", f->worst);
        return count;
    }
    default:
        return (struct wr_phrase){""};
    }
}

/* When, how often and how long. */
static void say_when(struct wr_page *s, const struct wr_run *run, const struct wr_finding *f)
{
    const double start = run->plant.definition->start;
    char date[32];
    wr_date_text(start + f->start, date, sizeof date);
    wr_page_add(s, "%s %s (%.10s)", f->times > 1 ? "first on" : "on", wr_say_moment(start, f->start).text, date);
    if (f->times > 1)
        wr_page_add(s, ", %s", wr_say_count(f->times, "time", "times").text);
    if (f->length > 0)
        wr_page_add(s, "%s %s%s", f->times > 1 ? "," : " for", wr_say_duration(f->length).text,
                    f->times > 1 ? " in all" : "");
}

/* A wait gives its limit as the reason; other findings say what held water back. */
void wr_report_say_finding(struct wr_page *s, const struct wr_run *run, const struct wr_finding *f, enum wr_units units)
{
    const struct wr_finding_row *row = wr_finding_row(f->kind);
    const bool is_wait = f->kind == WR_FINDING_WASHES_WAITED || f->kind == WR_FINDING_DEFERRED_BY_RULE;
    const char *where = wr_report_where(&run->plant, f->where);
    wr_page_add(s, "%s", wr_say_first(row->words).text);
    if (is_wait && f->limit != WR_LIMIT_NONE)
        wr_page_add(s, " because %s", wr_limit_row(f->limit)->words);
    wr_page_add(s, f->kind == WR_FINDING_NOT_RETURNING ? ": it last stood there " : ": ");
    say_when(s, run, f);
    if (where != NULL)
        wr_page_add(s, ", %s %s", f->times > 1 ? "at first" : "at", where);
    if (row->unit != WR_UNIT_NONE)
        wr_page_add(s, "; %s: %s", row->worst, say_worst(f, units).text);
    wr_page_add(s, ".");
    if (!is_wait && f->limit != WR_LIMIT_NONE)
        wr_page_add(s, " Cause: %s.", wr_limit_row(f->limit)->words);
}

/* Findings of one kind of weight; false where there is none. */
static bool list_findings(struct wr_page *page, const struct wr_run *run, enum wr_units units, bool failing)
{
    bool any = false;
    const struct wr_finding *f = NULL;
    while ((f = wr_record_finding(&run->record, f)) != NULL) {
        if (wr_record_fails(&run->record, f->kind) != failing)
            continue;
        struct wr_page sentences = {0};
        wr_report_say_finding(&sentences, run, f, units);
        wr_page_flow_page(page, failing ? "  ! " : "  - ", &sentences);
        any = true;
    }
    return any;
}

void wr_report_finding_section(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    wr_page_heading(page, "Findings (those marked ! fail the run)");
    const bool failing = list_findings(page, run, units, true);
    if (!list_findings(page, run, units, false) && !failing)
        wr_page_flow(page, "  ", "None.");
}
