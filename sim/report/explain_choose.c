/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/explain.h"
#include "sim/report/say.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void add(struct wr_stories *stories, struct wr_story story)
{
    if (stories->count < WR_STORIES)
        stories->items[stories->count++] = story;
}

/* Worst of each kind ------------------------------------------------------------------------------------------------
 */

/* The wash of the longest wait, of one filter or of all (the number of filters); start-up counts only where there is
 * nothing else. The number of washes where there is none. */
static size_t longest_wait(const struct wr_teller *teller, size_t filter)
{
    const struct wr_diary *diary = teller->diary;
    size_t longest = diary->washes.count;
    for (size_t w = 0; w < diary->washes.count; w++) {
        const struct wr_diary_wash *wash = wr_diary_wash(diary, w);
        const struct wr_diary_wash *best = longest < diary->washes.count ? wr_diary_wash(diary, longest) : NULL;
        if (filter < teller->run->plant.filter_count && wash->filter != filter)
            continue;
        if (best == NULL || (best->start_up && !wash->start_up) ||
            (best->start_up == wash->start_up && wash->waited > best->waited))
            longest = w;
    }
    return longest;
}

/* The day of most washes, and of those the one with the longest waits. */
static size_t busiest_day(const struct wr_teller *teller)
{
    size_t busiest = 0;
    for (size_t d = 1; d < teller->diary->days.count; d++) {
        const struct wr_diary_day *day = wr_diary_day(teller->diary, d), *best = wr_diary_day(teller->diary, busiest);
        if (day->washes > best->washes || (day->washes == best->washes && day->waited > best->waited))
            busiest = d;
    }
    return busiest;
}

/* The finding of a class that fails the run, else that which lasted longest. Waits have a story of their own. */
static const struct wr_finding *worst_finding(const struct wr_run *run, enum wr_finding_class class)
{
    const struct wr_finding *worst = NULL, *f = NULL;
    while ((f = wr_record_finding(&run->record, f)) != NULL) {
        if (wr_finding_row(f->kind)->class != class || f->kind == WR_FINDING_WASHES_WAITED ||
            f->kind == WR_FINDING_DEFERRED_BY_RULE)
            continue;
        const bool fails = wr_record_fails(&run->record, f->kind);
        const bool worst_fails = worst != NULL && wr_record_fails(&run->record, worst->kind);
        if (worst == NULL || (fails && !worst_fails) || (fails == worst_fails && f->length > worst->length))
            worst = f;
    }
    return worst;
}

static void choose_worst(struct wr_stories *stories, const struct wr_teller *teller)
{
    const size_t wash = longest_wait(teller, teller->run->plant.filter_count);
    if (wash < teller->diary->washes.count)
        add(stories, (struct wr_story){.kind = WR_STORY_WASH,
                                       .place = wash,
                                       .chosen = wr_diary_wash(teller->diary, wash)->waited > 0
                                                     ? "the longest wait of the run"
                                                     : "the first after start-up, since none waited"});
    for (int class = 0; class <= WR_CLASS_NOTE; class ++) {
        const struct wr_finding *finding = worst_finding(teller->run, (enum wr_finding_class) class);
        static const char *const why[] = {[WR_CLASS_APPROVAL] = "the worst finding that touches the approval",
                                          [WR_CLASS_OPERATION] = "the worst finding on operation",
                                          [WR_CLASS_NOTE] = "the longest of the findings to note"};
        if (finding != NULL)
            add(stories, (struct wr_story){.kind = WR_STORY_FINDING, .finding = finding, .chosen = why[class]});
    }
    if (teller->diary->days.count > 0)
        add(stories,
            (struct wr_story){.kind = WR_STORY_DAY, .place = busiest_day(teller), .chosen = "the day of most washes"});
}

/* What was asked about ----------------------------------------------------------------------------------------------
 */

static bool find_filter(const struct wr_teller *teller, const char *name, size_t *filter, char *fault, size_t size)
{
    const struct wr_plant *plant = &teller->run->plant;
    for (*filter = 0; *filter < plant->filter_count; ++*filter)
        if (strcmp(plant->names[*filter], name) == 0)
            return true;
    snprintf(fault, size, "there is no filter \"%s\": filters are \"%s\" to \"%s\"", name, plant->names[0],
             plant->names[plant->filter_count - 1]);
    return false;
}

static bool choose_wash(struct wr_stories *stories, const struct wr_teller *teller, size_t filter, size_t number,
                        char *fault, size_t size)
{
    size_t washes = 0;
    for (size_t w = 0; w < teller->diary->washes.count; w++) {
        const struct wr_diary_wash *wash = wr_diary_wash(teller->diary, w);
        if (wash->filter != filter)
            continue;
        washes++;
        if (wash->number == number)
            add(stories, (struct wr_story){.kind = WR_STORY_WASH, .place = w});
    }
    if (stories->count > 0)
        return true;
    snprintf(fault, size, "there is no wash %zu of %s: it called for %s in this run", number,
             teller->run->plant.names[filter], wr_say_count(washes, "wash", "washes").text);
    return false;
}

/* A filter's washes that waited or were under way on a day. */
static bool choose_filter_day(struct wr_stories *stories, const struct wr_teller *teller, size_t filter, size_t day,
                              char *fault, size_t size)
{
    const struct wr_diary_day *d = wr_diary_day(teller->diary, day);
    for (size_t w = 0; w < teller->diary->washes.count; w++) {
        const struct wr_diary_wash *wash = wr_diary_wash(teller->diary, w);
        if (wash->filter == filter && wash->called_at < d->to && wash->ended_at >= d->from)
            add(stories, (struct wr_story){.kind = WR_STORY_WASH, .place = w});
    }
    if (stories->count == 0)
        snprintf(fault, size, "%s did not call, wait or get washed on day %zu", teller->run->plant.names[filter],
                 day + 1);
    return stories->count > 0;
}

static bool choose_finding(struct wr_stories *stories, const struct wr_teller *teller, const char *key, char *fault,
                           size_t size)
{
    const struct wr_finding *f = NULL;
    bool is_kind = false;
    for (int k = 0; k < WR_FINDINGS; k++)
        is_kind = is_kind || strcmp(wr_finding_row((enum wr_finding_kind)k)->key, key) == 0;
    while ((f = wr_record_finding(&teller->run->record, f)) != NULL)
        if (strcmp(wr_finding_row(f->kind)->key, key) == 0)
            add(stories, (struct wr_story){.kind = WR_STORY_FINDING, .finding = f});
    if (stories->count > 0)
        return true;
    snprintf(fault, size, is_kind ? "this run has no finding %s" : "there is no kind of finding \"%s\"", key);
    const size_t length = strlen(fault);
    const char *before = "; it has ";
    for (f = NULL; (f = wr_record_finding(&teller->run->record, f)) != NULL;) {
        const size_t used = strlen(fault);
        if (strstr(fault + length, wr_finding_row(f->kind)->key) == NULL)
            snprintf(fault + used, size - used, "%s%s", before, wr_finding_row(f->kind)->key);
        before = ", ";
    }
    return false;
}

static bool choose_filter(struct wr_stories *stories, const struct wr_teller *teller, size_t filter)
{
    const size_t wash = longest_wait(teller, filter);
    add(stories, (struct wr_story){.kind = WR_STORY_FILTER, .place = filter});
    if (wash < teller->diary->washes.count)
        add(stories, (struct wr_story){.kind = WR_STORY_WASH,
                                       .place = wash,
                                       .chosen = wr_diary_wash(teller->diary, wash)->waited > 0 ? "its longest wait"
                                                                                                : "its first wash"});
    return true;
}

bool wr_stories_choose(struct wr_stories *stories, const struct wr_teller *teller, const struct wr_asked *asked,
                       char *fault, size_t size)
{
    size_t filter = teller->run->plant.filter_count;
    *stories = (struct wr_stories){.count = 0};
    if (asked->filter != NULL && !find_filter(teller, asked->filter, &filter, fault, size))
        return false;
    if (asked->day > teller->diary->days.count) {
        snprintf(fault, size, "there is no day %zu: the run has %s", asked->day,
                 wr_say_count(teller->diary->days.count, "day", "days").text);
        return false;
    }
    if (asked->finding != NULL)
        return choose_finding(stories, teller, asked->finding, fault, size);
    if (asked->filter != NULL && asked->wash > 0)
        return choose_wash(stories, teller, filter, asked->wash, fault, size);
    if (asked->filter != NULL && asked->day > 0)
        return choose_filter_day(stories, teller, filter, asked->day - 1, fault, size);
    if (asked->filter != NULL)
        return choose_filter(stories, teller, filter);
    if (asked->day > 0)
        add(stories, (struct wr_story){.kind = WR_STORY_DAY, .place = asked->day - 1});
    else
        choose_worst(stories, teller);
    return true;
}
