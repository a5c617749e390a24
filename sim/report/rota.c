/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/json.h"
#include "sim/report/report.h"
#include "sim/report/say.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A share as a reader would say it, also where there is none. */
static struct wr_phrase say_part(double share)
{
    return share > 0 ? wr_say_share(share) : (struct wr_phrase){"0 %"};
}

/* The table -------------------------------------------------------------------------------------------------------- */

static struct wr_phrase say_measure(const struct wr_rota_room *room, int measure, enum wr_units units)
{
    struct wr_phrase phrase;
    switch (measure) {
    case WR_ROTA_FAILS:
        return wr_say_count(room->fails, "start", "starts");
    case WR_ROTA_LONGEST:
        return wr_say_duration(room->longest_wait);
    case WR_ROTA_MEAN:
        return wr_say_duration(room->mean_wait);
    case WR_ROTA_START_UP:
        return wr_say_duration(room->start_up_wait);
    case WR_ROTA_RESERVE:
        return say_part(room->reserve_used);
    case WR_ROTA_WATER:
        return say_part(room->wash_water);
    case WR_ROTA_TANK:
        return say_part(room->tank_room);
    case WR_ROTA_WASHES:
        snprintf(phrase.text, sizeof phrase.text, "%.2f", room->washes);
        return phrase;
    default:
        return wr_is_given(room->firm) ? wr_say(WR_QUANTITY_DAILY_FLOW, room->firm, units) : (struct wr_phrase){"-"};
    }
}

static const char *const measures[] = {[WR_ROTA_FAILS] = "something else fails from",
                                       [WR_ROTA_LONGEST] = "longest wait",
                                       [WR_ROTA_MEAN] = "mean wait of a wash",
                                       [WR_ROTA_START_UP] = "waits before first washes",
                                       [WR_ROTA_RESERVE] = "reserve used by one wait",
                                       [WR_ROTA_WATER] = "least wash water in hand",
                                       [WR_ROTA_TANK] = "time with room for a whole wash",
                                       [WR_ROTA_WASHES] = "washes a day",
                                       [WR_ROTA_FIRM] = "filter firm capacity"};

static struct wr_phrase say_slow(const struct wr_rota_room *room, int measure, enum wr_units units)
{
    (void)measure, (void)units;
    return wr_say_count(room->slow, "start", "starts");
}

static void put_row(struct wr_grid *grid, const struct wr_rota_search *rota, const char *words,
                    struct wr_phrase (*say)(const struct wr_rota_room *, int, enum wr_units), int measure,
                    enum wr_units units)
{
    wr_grid_add(grid, "%s", words);
    wr_grid_add(grid, "%s", say(&rota->today.room, measure, units).text);
    for (size_t b = 0; b < rota->best_count; b++)
        wr_grid_add(grid, "%s", say(&rota->tries[rota->best[b]].room, measure, units).text);
}

static void put_table(struct wr_page *page, const struct wr_rota_search *rota, enum wr_units units)
{
    char align[] = "lrrrr";
    align[2 + rota->best_count] = '\0';
    struct wr_grid grid = {.align = align, .heads = 1};
    wr_page_heading(page, "Today's rota beside the best that were found");
    wr_grid_add(&grid, "the worst over the starts");
    wr_grid_add(&grid, "today");
    for (size_t b = 0; b < rota->best_count; b++)
        wr_grid_add(&grid, "%zu", b + 1);
    put_row(&grid, rota, "washing does not keep pace from", say_slow, WR_ROTA_FAILS, units);
    for (int m = 0; m <= WR_ROTA_FIRM; m++)
        put_row(&grid, rota, measures[m], say_measure, m, units);
    wr_page_grid(page, &grid);
}

/* The best --------------------------------------------------------------------------------------------------------- */

/* Why a rota is better than today's, or is not: the first measure in which they differ. */
static void say_why(struct wr_page *s, const struct wr_rota_search *rota, const struct wr_rota_try *candidate,
                    enum wr_units units)
{
    int which;
    const int order = wr_rota_compare(&candidate->room, &rota->today.room, rota->for_firm, &which);
    if (which == WR_ROTA_ALIKE) {
        wr_page_add(s, "As good as today's in every measure.");
        return;
    }
    wr_page_add(s, "%s than today's: %s %s instead of %s.", order < 0 ? "Better" : "Worse", measures[which],
                say_measure(&candidate->room, which, units).text, say_measure(&rota->today.room, which, units).text);
    if (which != WR_ROTA_FIRM && wr_is_given(candidate->room.firm) && wr_is_given(rota->today.room.firm) &&
        fabs(candidate->room.firm - rota->today.room.firm) > 1e-3 * rota->today.room.firm)
        wr_page_add(s, " It %s filter firm capacity from %s to %s.",
                    candidate->room.firm > rota->today.room.firm ? "lifts" : "lowers",
                    say_measure(&rota->today.room, WR_ROTA_FIRM, units).text,
                    say_measure(&candidate->room, WR_ROTA_FIRM, units).text);
}

static const char dated[] = "/wash/rota=";

/* A dated rota in words. */
static void put_dated(struct wr_page *page, const char *text)
{
    struct cJSON *list = cJSON_Parse(text);
    const struct cJSON *entry, *first = list != NULL ? list->child : NULL;
    struct wr_page s = {0};
    const char *every = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(first, "every"));
    wr_page_add(&s, "/wash/rota, every %s:", wr_say_duration(every != NULL ? 60 * strtod(every, NULL) : 0).text);
    cJSON_ArrayForEach(entry, list)
    {
        wr_page_add(&s, "%s %s first on %s", entry == first ? "" : ";",
                    cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(entry, "filter")),
                    cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(entry, "first")));
    }
    cJSON_Delete(list);
    wr_page_flow_page(page, "       ", &s);
}

static void put_best(struct wr_page *page, const struct wr_rota_search *rota, const struct wr_definition *definition,
                     size_t place, enum wr_units units)
{
    const struct wr_rota_try *candidate = &rota->tries[rota->best[place]];
    struct wr_page s = {0};
    char lead[32], *settings[WR_ROTA_AXES];
    snprintf(lead, sizeof lead, "  %zu. ", place + 1);
    say_why(&s, rota, candidate, units);
    if (candidate->room.fails == 0 && candidate->firm_limit != WR_LIMIT_NONE)
        wr_page_add(&s, " What limits its firm capacity: %s.", wr_limit_row(candidate->firm_limit)->words);
    wr_page_add(&s, " Setpoints:");
    wr_page_flow_page(page, lead, &s);
    const size_t count = wr_rota_settings(rota, candidate, definition, settings);
    for (size_t i = 0; i < count; i++) {
        if (strncmp(settings[i], dated, sizeof dated - 1) == 0)
            put_dated(page, settings[i] + sizeof dated - 1);
        else
            wr_page_flow(page, "       ", "%s", settings[i]);
        free(settings[i]);
    }
}

/* How far the best may be from the best there is ------------------------------------------------------------------- */

static void put_bounds(struct wr_page *page, const struct wr_rota_search *rota)
{
    struct wr_page s = {0};
    const struct wr_rota_room *best = &rota->tries[rota->best[0]].room;
    wr_page_heading(page, "How far may the best be from the best there is?");
    if (rota->unavoidable >= 60)
        wr_page_add(
            &s,
            "Within these bounds %s of waiting for each wash is unavoidable: filters call sooner than %s lets a "
            "round of washes be made (the ability table of run has the terms), whatever the order. The best "
            "found waits %s, mean of all washes. ",
            wr_say_duration(rota->unavoidable).text, wr_say_key(wr_report_limit_key(rota->unavoidable_by)).text,
            wr_say_duration(best->mean_wait).text);
    else if (best->longest_wait < 30)
        wr_page_add(&s, "In waiting it cannot be bettered: no wash waits, from any of the starts. ");
    else
        wr_page_add(&s, "No resource makes waiting unavoidable on average, so that up to %s a wash might be gained. ",
                    wr_say_duration(best->mean_wait).text);
    bool smooth = false;
    for (size_t a = 0; a < rota->axis_count; a++)
        smooth = smooth || rota->smooth[a];
    if (rota->whole_grid)
        wr_page_add(&s, "All %zu combinations of the values were tried%s. ", rota->grid,
                    smooth ? ", ranges at seven levels, and then smaller steps around the best" : "");
    else
        wr_page_add(
            &s,
            "Of more combinations than could be tried %zu were, at random within the bounds and then around the "
            "best: a better one may be among the others; --tries takes more. ",
            rota->count);
    wr_page_add(&s, "What lies between values that were tried is not known.");
    wr_page_flow_page(page, "  ", &s);
}

bool wr_report_rota_passes(const struct wr_rota_search *rota)
{
    return rota->best_count > 0 && rota->tries[rota->best[0]].room.fails == 0 &&
           rota->tries[rota->best[0]].room.slow == 0;
}

void wr_report_rota_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_rota_search *rota,
                         enum wr_units units)
{
    struct wr_page s = {0};
    wr_report_title(page, subject);
    wr_page_heading(page, rota->for_firm ? "Which rota lets the plant promise most?" : "Which rota leaves most room?");
    wr_page_add(&s, "%zu were tried, each run from %zu starts: the scenario's own", rota->count, rota->starts);
    wr_page_add(&s, rota->starts > 1 ? ", and others with other beds and on other days. " : ". ");
    wr_page_add(&s,
                "What counts, in this order: %snothing that fails a run but the pace of washing, which waits tell; the "
                "longest wait and the mean, for rules and resources alike; waits before the first washes; the reserve "
                "that a wait uses up; wash water and tank "
                "room in hand; fewer washes.",
                rota->for_firm ? "the filter firm capacity; " : "");
    wr_page_flow_page(page, "  ", &s);
    if (rota->best_count == 0)
        wr_page_flow(page, "  ", "The scenario allows none of what was tried%s%s.",
                     rota->refusal[0] != '\0' ? "; the first: " : "", rota->refusal);
    else {
        put_table(page, rota, units);
        int which;
        wr_page_heading(page, "The best, and the setpoints to try");
        if (wr_rota_compare(&rota->tries[rota->best[0]].room, &rota->today.room, rota->for_firm, &which) >= 0)
            wr_page_flow(page, "  ", "Nothing that was tried is better than today's rota.");
        for (size_t b = 0; b < rota->best_count; b++)
            put_best(page, rota, subject->definition, b, units);
        wr_page_flow(page, "  ",
                     "Verify on the plant before a setpoint is changed, one at a time, and watch the first washes: the "
                     "slope of headloss, the wells and the demand of the day are not those of the scenario.");
        put_bounds(page, rota);
    }
    if (rota->end == WR_RUN_STOPPED)
        wr_report_interrupted(page, rota->count, rota->most,
                              "The best of these are shown. To go on, give the same call again, or one with narrower "
                              "bounds or fewer --tries.");
    wr_report_caution(page);
}

/* The document ----------------------------------------------------------------------------------------------------- */

static void add_try(struct cJSON *block, const struct wr_rota_try *candidate)
{
    const struct wr_rota_room *room = &candidate->room;
    wr_json_count(block, "fails_from_starts", room->fails);
    wr_json_count(block, "does_not_keep_pace_from_starts", room->slow);
    wr_json_number(block, "longest_wait_s", room->longest_wait);
    wr_json_number(block, "mean_wait_s", room->mean_wait);
    wr_json_number(block, "start_up_wait_s", room->start_up_wait);
    wr_json_number(block, "reserve_used", room->reserve_used);
    wr_json_number(block, "least_wash_water_share", room->wash_water);
    wr_json_number(block, "time_with_tank_room_share", room->tank_room);
    wr_json_number(block, "washes_per_day", room->washes);
    wr_json_number(block, "filter_firm_m3_per_s", room->firm);
    wr_json_number(block, "unavoidable_wait_s", candidate->unavoidable);
}

static void add_best(struct cJSON *list, const struct wr_rota_search *rota, const struct wr_definition *definition,
                     size_t place)
{
    static const char *const keys[] = {"fails_from_starts", "longest_wait", "mean_wait", "start_up_wait",
                                       "reserve_used",      "wash_water",   "tank_room", "washes",
                                       "filter_firm",       "alike"};
    const struct wr_rota_try *candidate = &rota->tries[place];
    struct cJSON *block = wr_json_block(list, NULL), *texts = wr_json_list(block, "settings");
    char *settings[WR_ROTA_AXES];
    int which;
    const size_t count = wr_rota_settings(rota, candidate, definition, settings);
    for (size_t i = 0; i < count; i++) {
        wr_json_word(texts, NULL, settings[i]);
        free(settings[i]);
    }
    const int order = wr_rota_compare(&candidate->room, &rota->today.room, rota->for_firm, &which);
    wr_json_flag(block, "better_than_today", order < 0);
    wr_json_word(block, "differs_by", keys[which]);
    add_try(block, candidate);
}

struct cJSON *wr_report_rota_document(const struct wr_subject *subject, const struct wr_rota_search *rota)
{
    struct cJSON *document = wr_report_document(subject);
    wr_json_flag(document, "passes", wr_report_rota_passes(rota));
    wr_json_word(document, "for", rota->for_firm ? "firm" : "room");
    wr_json_flag(document, "interrupted", rota->end == WR_RUN_STOPPED);
    if (rota->end != WR_RUN_WHOLE)
        wr_json_word(document, "fault", rota->message);
    wr_json_count(document, "starts", rota->starts);
    wr_json_count(document, "tried", rota->count);
    wr_json_flag(document, "whole_grid", rota->whole_grid);
    wr_json_number(document, "unavoidable_wait_s", rota->unavoidable);
    wr_json_word(document, "unavoidable_by", wr_report_limit_key(rota->unavoidable_by));
    add_try(wr_json_block(document, "today"), &rota->today);
    struct cJSON *list = wr_json_list(document, "best");
    for (size_t b = 0; b < rota->best_count; b++)
        add_best(list, rota, subject->definition, rota->best[b]);
    return document;
}
