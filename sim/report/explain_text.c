/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/explain.h"
#include "sim/report/say.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* A count with its noun, or "no" and the noun. */
static struct wr_phrase say_some(size_t count, const char *one, const char *many)
{
    struct wr_phrase phrase;
    if (count > 0)
        return wr_say_count(count, one, many);
    snprintf(phrase.text, sizeof phrase.text, "no %s", one);
    return phrase;
}

/* A filter ----------------------------------------------------------------------------------------------------------
 */

void wr_explain_put_filter(struct wr_page *page, const struct wr_teller *teller, size_t filter)
{
    const struct wr_filter_record *record = &teller->run->record.filters[filter];
    struct wr_page s = {0};
    size_t shown = 0;
    wr_page_add(&s, "%s in this run", wr_say_count(record->washes, "wash", "washes").text);
    if (record->runs > 0)
        wr_page_add(&s, ", after runs of %s with flow on average",
                    wr_say_duration(record->run_hours / (double)record->runs).text);
    if (record->waited > 0)
        wr_page_add(&s, ". After its first wash it waited %s in all.", wr_say_duration(record->waited).text);
    else
        wr_page_add(&s, ". After its first wash it never had to wait.");
    wr_page_flow_page(page, "  ", &s);
    for (size_t w = 0; w < teller->diary->washes.count; w++) {
        const struct wr_diary_wash *wash = wr_diary_wash(teller->diary, w);
        if (wash->filter != filter || ++shown > 12)
            continue;
        wr_explain_say_in_short(&s, teller, wash);
        wr_page_flow_page(page, "  - ", &s);
    }
    if (shown > 12)
        wr_page_flow(page, "  ", "... and %zu more, which the document of --json lists.", shown - 12);
}

/* A day -------------------------------------------------------------------------------------------------------------
 */

static void put_day_water(struct wr_page *page, const struct wr_teller *teller, const struct wr_diary_day *day)
{
    const double start = teller->run->plant.definition->start;
    struct wr_page s = {0};
    wr_page_add(&s, "The wells gave %s, with %s; washes took %s of wash water.",
                wr_say_water(day->raw, teller->units).text,
                say_some(day->well_starts, "well start", "well starts").text,
                wr_say_water(day->wash_water, teller->units).text);
    if (teller->run->plant.has_recycle)
        wr_page_add(&s, " Recycle brought back %s.", wr_say_water(day->recycle, teller->units).text);
    wr_page_add(&s, " %s of the %s asked for was delivered. Storage was lowest on %s, at %s.",
                wr_say_water(day->delivered, teller->units).text, wr_say_water(day->asked, teller->units).text,
                wr_say_moment(start, day->least_at).text,
                wr_say_share(day->least_storage / teller->run->plant.definition->storage.volume).text);
    wr_page_flow_page(page, "  ", &s);
}

void wr_explain_put_day(struct wr_page *page, const struct wr_teller *teller, size_t place)
{
    const struct wr_diary_day *day = wr_diary_day(teller->diary, place);
    struct wr_page s = {0};
    if (day->calls > 1)
        wr_page_add(&s, "Filters called for a wash %zu times", day->calls);
    else
        wr_page_add(&s, "%s for a wash", day->calls == 1 ? "One filter called" : "No filter called");
    wr_page_add(&s, ", and %s started.", say_some(day->washes, "wash", "washes").text);
    if (day->waited > 0)
        wr_page_add(&s, " Over all filters they waited %s.", wr_say_duration(day->waited).text);
    if (day->washed > 0)
        wr_page_add(&s, " For washes they were off line %s in all.", wr_say_duration(day->washed).text);
    wr_page_flow_page(page, "  ", &s);
    for (size_t w = 0; w < teller->diary->washes.count; w++) {
        const struct wr_diary_wash *wash = wr_diary_wash(teller->diary, w);
        if (wash->called_at >= day->to || wash->ended_at < day->from)
            continue;
        wr_explain_say_in_short(&s, teller, wash);
        wr_page_flow_page(page, "  - ", &s);
    }
    if (teller->run->plant.tank_count > 0) {
        wr_page_add(&s, "The spent-wash tanks through the day:");
        wr_explain_say_tanks(&s, teller, day->from, day->to);
        wr_explain_say_turns(&s, teller, day->from, day->to);
        wr_explain_say_sludge(&s, teller, day->from, day->to);
        wr_page_flow_page(page, "  ", &s);
    }
    put_day_water(page, teller, day);
}

/* A finding ---------------------------------------------------------------------------------------------------------
 */

/* What held flows at a time, in the words of the table. */
static void say_flows_held(struct wr_page *s, const struct wr_teller *teller, double time)
{
    bool any = false;
    for (size_t i = 0; i < teller->run->record.span_count; i++) {
        const struct wr_span *span = &teller->run->record.spans[i];
        if (span->where != WR_NOWHERE || span->from > time || span->to <= time)
            continue;
        wr_page_add(s, "%s%s (since ", any ? "; " : " What held flows back then: ", wr_limit_row(span->limit)->words);
        wr_explain_say_clock(s, teller, span->from, time);
        wr_page_add(s, ")");
        any = true;
    }
    wr_page_add(s, any ? "." : " Nothing held any flow back then.");
}

static void say_who_is_off_line(struct wr_page *s, const struct wr_teller *teller, double time)
{
    for (size_t w = 0; w < teller->diary->washes.count; w++) {
        const struct wr_diary_wash *wash = wr_diary_wash(teller->diary, w);
        const double end = wr_explain_wait_end(teller, wash);
        if (wash->started_at <= time && wash->ended_at > time && !wash->interrupted)
            wr_page_add(s, " %s was being washed.", teller->run->plant.names[wash->filter]);
        else if (wash->called_at <= time - 0.5 && end > time)
            wr_page_add(s, " %s had waited for its wash for %s.", teller->run->plant.names[wash->filter],
                        wr_say_duration(time - wash->called_at).text);
        else if (wash->called_at <= time && end > time)
            wr_page_add(s, " %s had just called.", teller->run->plant.names[wash->filter]);
    }
}

static void put_standing(struct wr_page *page, const struct wr_teller *teller, double time)
{
    const struct wr_standing *standing = wr_diary_at(teller->diary, time);
    const enum wr_units units = teller->units;
    struct wr_page s = {0};
    wr_page_add(
        &s, "How the plant stood on %s: ", wr_say_moment(teller->run->plant.definition->start, standing->time).text);
    if (standing->wells > 0)
        wr_page_add(&s, "%s gave %s", wr_say_count(standing->wells, "well", "wells").text,
                    wr_say(WR_QUANTITY_FLOW, standing->raw, units).text);
    else
        wr_page_add(&s, "no well ran");
    if (teller->run->plant.has_recycle)
        wr_page_add(&s, ", recycle %s", wr_say(WR_QUANTITY_FLOW, standing->recycle, units).text);
    wr_page_add(&s, ", and demand asked for %s; %s in service", wr_say(WR_QUANTITY_FLOW, standing->demand, units).text,
                say_some(standing->in_service, "filter was", "filters were").text);
    if (standing->rate > 0)
        wr_page_add(&s, ", the fastest at %s", wr_say(WR_QUANTITY_RATE, standing->rate, units).text);
    wr_page_add(&s, "; storage stood at %s.",
                wr_say_share(standing->storage / teller->run->plant.definition->storage.volume).text);
    say_who_is_off_line(&s, teller, time);
    say_flows_held(&s, teller, time);
    wr_page_flow_page(page, "  ", &s);
}

/* The wash of a filter that had been called and not yet ended at a time; the number of washes for none. */
static size_t wash_at(const struct wr_teller *teller, size_t filter, double time)
{
    for (size_t w = 0; w < teller->diary->washes.count; w++) {
        const struct wr_diary_wash *wash = wr_diary_wash(teller->diary, w);
        const double end = wash->interrupted ? wash->at_end.time : wash->ended_at;
        if (wash->filter == filter && wash->called_at <= time && end >= time)
            return w;
    }
    return teller->diary->washes.count;
}

/* The wash in whose wait a limit held a filter longest at one stretch; the number of washes for none. */
static size_t wash_of_longest_span(const struct wr_teller *teller, enum wr_limit limit)
{
    const struct wr_span *longest = NULL;
    for (size_t i = 0; i < teller->run->record.span_count; i++) {
        const struct wr_span *span = &teller->run->record.spans[i];
        if (span->limit == limit && span->where != WR_NOWHERE &&
            (longest == NULL || span->to - span->from > longest->to - longest->from))
            longest = span;
    }
    for (size_t w = 0; longest != NULL && w < teller->diary->washes.count; w++) {
        const struct wr_diary_wash *wash = wr_diary_wash(teller->diary, w);
        if (wash->filter == longest->where && wash->called_at <= longest->from && !wash->start_up &&
            wr_explain_wait_end(teller, wash) >= longest->to)
            return w;
    }
    return teller->diary->washes.count;
}

/* The wash that a finding is told by: that of the longest stretch of a wait, or that of the filter at fault. */
static size_t wash_of_finding(const struct wr_teller *teller, const struct wr_finding *finding, const char **which)
{
    switch (finding->kind) {
    case WR_FINDING_WASHES_WAITED:
    case WR_FINDING_DEFERRED_BY_RULE:
        *which = "The longest of these stretches was in this wait:";
        return wash_of_longest_span(teller, finding->limit);
    case WR_FINDING_HEAD_REACHED:
    case WR_FINDING_WASH_SHORT:
    case WR_FINDING_WASH_NOT_CLEAR:
        *which = finding->times > 1 ? "The first time it was this wash; from its call:" : "That wash, from its call:";
        return wash_at(teller, finding->where, finding->start);
    default:
        return teller->diary->washes.count;
    }
}

void wr_explain_put_finding(struct wr_page *page, const struct wr_teller *teller, const struct wr_finding *finding)
{
    const char *which = "";
    const size_t wash = wash_of_finding(teller, finding, &which);
    struct wr_page s = {0};
    wr_report_say_finding(&s, teller->run, finding, teller->units);
    wr_page_flow_page(page, "  ", &s);
    if (finding->kind == WR_FINDING_DECANT_SPOILED && wr_explain_say_decant(&s, teller, finding->start))
        wr_page_flow_page(page, "  ", &s);
    put_standing(page, teller, finding->start);
    if (wash == teller->diary->washes.count)
        return;
    wr_page_flow(page, "  ", "%s", which);
    wr_explain_put_wash(page, teller, wash);
}

/* All ---------------------------------------------------------------------------------------------------------------
 */

static void put_heading(struct wr_page *page, const struct wr_teller *teller, const struct wr_story *story)
{
    struct wr_page s = {0};
    switch (story->kind) {
    case WR_STORY_WASH: {
        const struct wr_diary_wash *wash = wr_diary_wash(teller->diary, story->place);
        wr_page_add(&s, "%s, wash %zu", teller->run->plant.names[wash->filter], wash->number);
        break;
    }
    case WR_STORY_FILTER:
        wr_page_add(&s, "%s", teller->run->plant.names[story->place]);
        break;
    case WR_STORY_DAY:
        wr_page_add(&s, "Day %zu", story->place + 1);
        break;
    default:
        wr_page_add(&s, "Finding: %s", wr_say_key(wr_finding_row(story->finding->kind)->key).text);
    }
    if (story->chosen != NULL)
        wr_page_add(&s, " (%s)", story->chosen);
    char *heading = wr_page_take(&s);
    wr_page_heading(page, heading);
    free(heading);
}

static void put_story(struct wr_page *page, const struct wr_teller *teller, const struct wr_story *story)
{
    put_heading(page, teller, story);
    if (story->kind == WR_STORY_WASH)
        wr_explain_put_wash(page, teller, story->place);
    else if (story->kind == WR_STORY_FILTER)
        wr_explain_put_filter(page, teller, story->place);
    else if (story->kind == WR_STORY_DAY)
        wr_explain_put_day(page, teller, story->place);
    else
        wr_explain_put_finding(page, teller, story->finding);
}

void wr_report_explain_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_teller *teller,
                            const struct wr_stories *stories)
{
    wr_report_title(page, subject);
    if (teller->run->end != WR_RUN_WHOLE)
        wr_page_flow(page, "", "A FAULT: %s. What follows was noted before and is not to be relied on.",
                     teller->run->message);
    if (subject->whole_horizon > 0)
        wr_page_flow(page, "", "The run was ended on %s, as asked; what came later in it is not told.",
                     wr_say_moment(subject->definition->start, subject->definition->horizon).text);
    for (size_t i = 0; i < stories->count; i++)
        put_story(page, teller, &stories->items[i]);
    wr_report_caution(page);
}
