/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/explain.h"
#include "sim/report/json.h"
#include "sim/study/tank_sums.h"

#include <math.h>
#include <stdlib.h>

static void put_limits(struct cJSON *block, wr_limit_set held)
{
    struct cJSON *list = wr_json_list(block, "held_by");
    for (wr_limit_set left = held; left != 0; left &= left - 1)
        wr_json_word(list, NULL, wr_report_limit_key(wr_limit_first(left)));
}

/* Waits -------------------------------------------------------------------------------------------------------------
 */

static void put_reasons(struct cJSON *wait, const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    struct cJSON *list = wr_json_list(wait, "reasons");
    struct wr_reason *reasons;
    const size_t count = wr_explain_reasons(teller, wash, &reasons);
    for (size_t r = 0; r < count; r++) {
        struct cJSON *reason = wr_json_block(list, NULL);
        wr_json_word(reason, "limit", wr_report_limit_key(reasons[r].limit));
        wr_json_word(reason, "words", wr_limit_row(reasons[r].limit)->words);
        wr_json_number(reason, "from_s", reasons[r].from);
        wr_json_number(reason, "to_s", reasons[r].to);
    }
    free(reasons);
    struct cJSON *held = wr_json_list(wait, "held_by");
    for (int l = 0; l < WR_LIMITS; l++) {
        const double time = wr_explain_held(teller, wash, (enum wr_limit)l);
        if (time <= 0)
            continue;
        struct cJSON *row = wr_json_block(held, NULL);
        wr_json_word(row, "limit", wr_report_limit_key((enum wr_limit)l));
        wr_json_number(row, "total_s", time);
    }
}

static void put_tank(struct cJSON *list, const struct wr_teller *teller, size_t tank, double from, double to)
{
    struct wr_tank_part *parts;
    const size_t count = wr_explain_tank(teller, tank, from, to, &parts);
    for (size_t p = 0; p < count; p++) {
        struct cJSON *part = wr_json_block(list, NULL);
        const bool emptied = parts[p].doing == WR_TANK_EMPTIES;
        wr_json_word(part, "tank", wr_explain_tank_name(&teller->run->plant, tank));
        wr_json_word(part, "doing", wr_explain_doing_key(parts[p].doing));
        wr_json_number(part, "from_s", parts[p].from);
        wr_json_number(part, "to_s", parts[p].to);
        wr_json_number(part, "level_m3", parts[p].level);
        wr_json_word(part, "outlet", emptied ? wr_outlet_key(parts[p].outlet) : NULL);
        wr_json_number(part, "least_flow_m3_per_s", parts[p].least);
        wr_json_number(part, "most_flow_m3_per_s", parts[p].most);
        wr_json_number(part, "least_raw_m3_per_s", parts[p].raw_least);
        wr_json_number(part, "most_raw_m3_per_s", parts[p].raw_most);
        put_limits(part, parts[p].held);
    }
    free(parts);
}

/* The turns of tanks that stood still in that time. */
static void put_turns(struct cJSON *block, const struct wr_teller *teller, double from, double to)
{
    struct cJSON *list = wr_json_list(block, "turns");
    const struct wr_tank_lists *lists = &teller->run->record.tanks;
    for (size_t i = 0; i < lists->turn_count; i++) {
        const struct wr_turn *turn = &lists->turns[i];
        if (!(turn->settles_at < to && fmin(turn->drawn_from, turn->ended_at) > from))
            continue;
        struct cJSON *row = wr_json_block(list, NULL);
        wr_json_word(row, "tank", teller->run->plant.definition->spent_wash.tanks.items[turn->tank].name);
        wr_json_number(row, "settles_at_s", turn->settles_at);
        wr_json_number(row, "time_up_at_s", turn->time_up_at);
        wr_json_number(row, "clear_at_s", turn->clear_at);
        wr_json_number(row, "drawn_from_s", turn->drawn_from);
        wr_json_flag(row, "unsettled", turn->unsettled);
    }
}

static void put_tanks(struct cJSON *block, const struct wr_teller *teller, double from, double to)
{
    struct cJSON *list = wr_json_list(block, "tanks");
    for (size_t t = 0; t < teller->run->plant.tank_count; t++)
        put_tank(list, teller, t, from, to);
    put_turns(block, teller, from, to);
}

/* Washes ------------------------------------------------------------------------------------------------------------
 */

static void put_steps(struct cJSON *block, const struct wr_teller *teller, size_t wash)
{
    struct cJSON *list = wr_json_list(block, "steps");
    for (size_t i = 0; i < teller->diary->steps.count; i++) {
        const struct wr_diary_step *step = wr_diary_step(teller->diary, i);
        if (step->wash != wash)
            continue;
        struct cJSON *row = wr_json_block(list, NULL);
        wr_json_word(row, "step", wr_explain_step_key(step->kind));
        wr_json_number(row, "from_s", step->from);
        wr_json_number(row, "to_s", step->to);
        wr_json_number(row, "wash_water_m3", step->wash_water);
        wr_json_number(row, "feed_m3", step->feed);
        wr_json_number(row, "drained_m3", step->drained);
        wr_json_number(row, "passed_on_m3", step->down);
    }
}

static void put_water(struct cJSON *block, const struct wr_teller *teller, size_t place)
{
    const struct wr_diary_wash *wash = wr_diary_wash(teller->diary, place);
    const struct wr_wash_sums sums = wr_explain_sums(teller->diary, place);
    struct cJSON *water = wr_json_block(block, "water");
    const bool has_tank = wash->tank < teller->run->plant.tank_count;
    wr_json_number(water, "wash_water_m3", sums.wash_water);
    wr_json_number(water, "feed_m3", sums.feed);
    wr_json_number(water, "spent_m3", sums.spent);
    wr_json_word(water, "spent_to", wr_explain_tank_name(&teller->run->plant, wash->tank));
    wr_json_number(water, "tank_before_m3", has_tank ? wash->tank_before : WR_ABSENT);
    wr_json_number(water, "tank_after_m3", has_tank ? wash->tank_after : WR_ABSENT);
    wr_json_number(water, "rinse_to_sewer_m3", sums.feed_to_sewer);
    wr_json_number(water, "regenerant_held_m3", sums.to_holding);
}

static void put_standing(struct cJSON *block, const char *key, const struct wr_standing *standing)
{
    struct cJSON *stood = wr_json_block(block, key);
    wr_json_number(stood, "storage_m3", standing->storage);
    wr_json_number(stood, "wash_tank_m3", standing->wash_tank);
    wr_json_number(stood, "raw_m3_per_s", standing->raw);
    wr_json_number(stood, "recycle_m3_per_s", standing->recycle);
    wr_json_number(stood, "demand_m3_per_s", standing->demand);
    wr_json_number(stood, "highest_rate_m_per_s", standing->rate);
    wr_json_count(stood, "wells_running", standing->wells);
    wr_json_count(stood, "filters_in_service", standing->in_service);
    wr_json_count(stood, "filters_washing", standing->washing);
    wr_json_count(stood, "filters_waiting", standing->waiting);
}

static void put_call(struct cJSON *block, const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    wr_json_word(block, "filter", teller->run->plant.names[wash->filter]);
    wr_json_count(block, "wash", wash->number);
    wr_json_word(block, "called_by", wr_report_trigger_key(wash->trigger));
    wr_json_flag(block, "start_up", wash->start_up);
    wr_json_number(block, "called_s", wash->called_at);
    wr_json_number(block, "started_s", wash->started_at);
    wr_json_number(block, "ended_s", wash->ended_at);
    wr_json_number(block, "waited_s", wash->waited);
}

static void put_bed(struct cJSON *block, const struct wr_diary_wash *wash)
{
    const bool ended = isfinite(wash->ended_at);
    struct cJSON *bed = wr_json_block(block, "bed");
    wr_json_number(bed, "run_s", wash->hours);
    wr_json_number(bed, "run_volume_m", wash->volume);
    wr_json_number(bed, "load_at_call_kg_per_m2", wash->load_at_call);
    wr_json_number(bed, "load_kg_per_m2", wash->load);
    wr_json_number(bed, "load_after_kg_per_m2", ended ? wash->load_after : WR_ABSENT);
    wr_json_number(bed, "differential_at_call_m", wash->judged_at_call);
    wr_json_number(bed, "differential_at_approved_rate_m", wash->dirty);
    wr_json_number(bed, "differential_after_m", ended ? wash->clean : WR_ABSENT);
    wr_json_flag(bed, "got_less_than_its_water", wash->weak);
}

static void put_wash(struct cJSON *block, const struct wr_teller *teller, size_t place)
{
    const struct wr_diary_wash *wash = wr_diary_wash(teller->diary, place);
    const double end = wr_explain_wait_end(teller, wash);
    put_call(block, teller, wash);
    struct cJSON *wait = wr_json_block(block, "wait");
    wr_json_count(wait, "before_it_in_line", wash->ahead);
    put_reasons(wait, teller, wash);
    put_tanks(wait, teller, wash->called_at, end);
    if (isinf(wash->started_at))
        return;
    put_steps(block, teller, place);
    put_water(block, teller, place);
    struct cJSON *others = wr_json_block(block, "meanwhile");
    wr_json_count(others, "least_in_service", wash->least_in_service);
    wr_json_number(others, "highest_rate_m_per_s", wash->highest_rate);
    put_standing(others, "before", &wash->at_start);
    if (isfinite(wash->ended_at))
        put_standing(others, "after", &wash->at_end);
    put_bed(block, wash);
}

/* Other stories ------------------------------------------------------------------------------------------------------
 */

/* Washes of a filter (the number of filters for all) that were called before `to` and had not ended at `from`. */
static void put_calls(struct cJSON *block, const struct wr_teller *teller, size_t filter, double from, double to)
{
    struct cJSON *list = wr_json_list(block, "washes");
    for (size_t w = 0; w < teller->diary->washes.count; w++) {
        const struct wr_diary_wash *wash = wr_diary_wash(teller->diary, w);
        const bool meant = filter == teller->run->plant.filter_count || wash->filter == filter;
        if (!meant || wash->called_at >= to || wash->ended_at < from)
            continue;
        struct cJSON *row = wr_json_block(list, NULL);
        put_call(row, teller, wash);
        put_reasons(row, teller, wash);
    }
}

static void put_day(struct cJSON *block, const struct wr_teller *teller, size_t place)
{
    const struct wr_diary_day *day = wr_diary_day(teller->diary, place);
    wr_json_count(block, "day", place + 1);
    wr_json_number(block, "from_s", day->from);
    wr_json_number(block, "to_s", day->to);
    wr_json_count(block, "calls", day->calls);
    wr_json_count(block, "washes_started", day->washes);
    wr_json_number(block, "waited_s", day->waited);
    wr_json_number(block, "off_line_s", day->washed);
    wr_json_number(block, "raw_m3", day->raw);
    wr_json_number(block, "recycle_m3", day->recycle);
    wr_json_number(block, "wash_water_m3", day->wash_water);
    wr_json_number(block, "asked_m3", day->asked);
    wr_json_number(block, "delivered_m3", day->delivered);
    wr_json_number(block, "least_storage_m3", day->least_storage);
    wr_json_number(block, "least_storage_s", day->least_at);
    wr_json_count(block, "well_starts", day->well_starts);
    put_calls(block, teller, teller->run->plant.filter_count, day->from, day->to);
    put_tanks(block, teller, day->from, day->to);
}

static void put_finding(struct cJSON *block, const struct wr_teller *teller, const struct wr_finding *finding)
{
    wr_report_put_finding(block, teller->run, finding);
    put_standing(block, "stood", wr_diary_at(teller->diary, finding->start));
    struct cJSON *list = wr_json_list(block, "flows_held_by");
    for (size_t i = 0; i < teller->run->record.span_count; i++) {
        const struct wr_span *span = &teller->run->record.spans[i];
        if (span->where == WR_NOWHERE && span->from <= finding->start && span->to > finding->start)
            wr_json_word(list, NULL, wr_report_limit_key(span->limit));
    }
}

/* All ----------------------------------------------------------------------------------------------------------------
 */

static void put_story(struct cJSON *block, const struct wr_teller *teller, const struct wr_story *story)
{
    static const char *const kinds[] = {
        [WR_STORY_WASH] = "wash", [WR_STORY_FILTER] = "filter", [WR_STORY_DAY] = "day", [WR_STORY_FINDING] = "finding"};
    wr_json_word(block, "story", kinds[story->kind]);
    wr_json_word(block, "chosen_as", story->chosen);
    if (story->kind == WR_STORY_WASH)
        put_wash(block, teller, story->place);
    else if (story->kind == WR_STORY_DAY)
        put_day(block, teller, story->place);
    else if (story->kind == WR_STORY_FINDING)
        put_finding(block, teller, story->finding);
    else {
        wr_json_word(block, "filter", teller->run->plant.names[story->place]);
        put_calls(block, teller, story->place, 0, HUGE_VAL);
    }
}

struct cJSON *wr_report_explain_document(const struct wr_subject *subject, const struct wr_teller *teller,
                                         const struct wr_stories *stories)
{
    struct cJSON *document = wr_report_document(subject);
    if (teller->run->end != WR_RUN_WHOLE)
        wr_json_word(document, "fault", teller->run->message);
    wr_json_number(document, "horizon_s", subject->definition->horizon);
    struct cJSON *list = wr_json_list(document, "stories");
    for (size_t i = 0; i < stories->count; i++)
        put_story(wr_json_block(list, NULL), teller, &stories->items[i]);
    return document;
}
