/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/json.h"
#include "sim/report/report.h"
#include "sim/study/ability.h"

#include <cjson/cJSON.h>
#include <math.h>

/* What held the tanks' outlets while washes waited for room first of all. */
static void add_held_outlets(struct cJSON *held, const struct wr_room *room)
{
    struct cJSON *list = wr_json_list(held, "held_outlets_by");
    for (int l = 0; l < WR_LIMITS; l++) {
        if (room->held_by[l] <= 0)
            continue;
        struct cJSON *by = wr_json_block(list, NULL);
        wr_json_word(by, "limit", wr_limit_row((enum wr_limit)l)->key);
        wr_json_number(by, "total_s", room->held_by[l]);
    }
    wr_json_number(held, "held_outlets_s", room->held);
}

/* How long each limit held washes. First reasons add up to the total wait; start-up is apart. */
static void add_held_by(struct cJSON *balance, const struct wr_run *run)
{
    const struct wr_state *state = run->simulation.state;
    struct cJSON *list = wr_json_list(balance, "held_by");
    for (int l = 0; l < WR_LIMITS; l++) {
        const struct wr_tally *wait = &state->waits[l], *start_up = &state->start_up[l];
        if (wait->total <= 0 && start_up->total <= 0)
            continue;
        struct cJSON *held = wr_json_block(list, NULL);
        wr_json_word(held, "limit", wr_limit_row((enum wr_limit)l)->key);
        wr_json_flag(held, "is_resource", wr_limit_is_resource((enum wr_limit)l));
        wr_json_number(held, "total_s", wait->total);
        wr_json_number(held, "alone_s", wait->alone);
        wr_json_number(held, "first_s", wait->first);
        wr_json_number(held, "start_up_s", start_up->total);
        if (l == WR_LIMIT_SPENT_WASH_ROOM)
            add_held_outlets(held, &run->record.room);
    }
}

static void add_ability(struct cJSON *balance, const struct wr_run *run)
{
    struct wr_ability rows[WR_ABILITY_ROWS];
    const size_t count = wr_ability_table(run, rows);
    struct cJSON *list = wr_json_list(balance, "ability");
    for (size_t r = 0; r < count; r++) {
        struct cJSON *ability = wr_json_block(list, NULL);
        wr_json_word(ability, "resource", wr_limit_row(rows[r].resource)->key);
        wr_json_number(ability, "wanted_per_day", rows[r].wanted);
        wr_json_number(ability, "possible_per_day", rows[r].possible);
        struct cJSON *terms = wr_json_list(ability, "terms");
        for (size_t t = 0; t < rows[r].term_count; t++) {
            struct cJSON *term = wr_json_block(terms, NULL);
            wr_json_word(term, "words", rows[r].terms[t].words);
            wr_json_number(term, "value", rows[r].terms[t].value);
            wr_json_word(term, "unit", rows[r].terms[t].unit);
        }
    }
}

static void add_balance(struct cJSON *answers, const struct wr_run *run)
{
    const struct wr_wash_balance *b = &run->record.balance;
    const struct wr_waits waits = wr_report_waits(run);
    struct cJSON *balance = wr_json_block(answers, "wash_balance");
    wr_json_word(balance, "grade", wr_grade_key(b->grade));
    wr_json_flag(balance, "ever_exceeds_supply", b->ever_exceeds_supply);
    wr_json_flag(balance, "keeps_pace", b->keeps_pace);
    wr_json_word(balance, "paced_by", wr_report_limit_key(b->paced_by));
    wr_json_word(balance, "overrun_cause", wr_report_limit_key(b->cause));
    wr_json_count(balance, "washes", b->washes);
    wr_json_count(balance, "washes_that_waited", b->washes_that_waited);
    wr_json_count(balance, "washes_that_waited_for_resource", waits.washes);
    wr_json_number(balance, "longest_wait_s", b->longest_wait);
    wr_json_number(balance, "longest_wait_for_resource_s", waits.longest);
    wr_json_number(balance, "total_wait_s", b->total_wait);
    wr_json_number(balance, "total_wait_for_resource_s", waits.total);
    wr_json_number(balance, "start_up_wait_s", b->start_up_wait);
    wr_json_number(balance, "worst_reserve_used", b->worst_reserve_used);
    wr_json_number(balance, "extra_load", b->extra_load);
    wr_json_number(balance, "worst_week_extra_load", b->worst_week_extra_load);
    wr_json_count(balance, "most_waiting_together", b->most_waiting_together);
    wr_json_number(balance, "first_exceeded_s", b->first_exceeded);
    add_ability(balance, run);
    add_held_by(balance, run);
}

/* How long the plant lasts while the wash pump is out; null where it never is. */
static void add_unwashed(struct cJSON *answers, const struct wr_run *run)
{
    const struct wr_unwashed *u = &run->record.unwashed;
    if (isinf(u->since)) {
        wr_json_null(answers, "without_washing");
        return;
    }
    struct cJSON *block = wr_json_block(answers, "without_washing");
    wr_json_number(block, "since_s", u->since);
    wr_json_number(block, "until_s", u->until);
    wr_json_number(block, "lasts_s", u->lasts);
}

static void add_demand(struct cJSON *answers, const struct wr_run *run)
{
    const struct wr_state *state = run->simulation.state;
    const struct wr_storage *storage = &run->plant.definition->storage;
    const double delivered = wr_ledger_line(&run->plant, state, WR_LINE_DELIVERED, 0)->water;
    struct cJSON *demand = wr_json_block(answers, "demand");
    wr_json_number(demand, "asked_m3", state->asked);
    wr_json_number(demand, "delivered_m3", delivered);
    wr_json_number(demand, "unmet_m3", wr_report_unmet(run));
    wr_json_number(demand, "least_storage_m3", run->record.least_storage);
    wr_json_number(demand, "least_storage_share", run->record.least_storage / storage->volume);
    wr_json_number(demand, "reserve_m3", storage->reserve * storage->volume);
}

/* Means are over complete runs; null where there was none. */
static double mean_of(double sum, size_t count)
{
    return count > 0 ? sum / (double)count : WR_ABSENT;
}

static void add_filters(struct cJSON *document, const struct wr_run *run)
{
    struct cJSON *list = wr_json_list(document, "filters");
    for (size_t f = 0; f < run->plant.filter_count; f++) {
        const struct wr_filter_record *r = &run->record.filters[f];
        struct cJSON *filter = wr_json_block(list, NULL);
        wr_json_word(filter, "name", run->plant.names[f]);
        wr_json_count(filter, "train", run->plant.groups[run->plant.group_of[f]].train + 1);
        wr_json_count(filter, "washes", r->washes);
        wr_json_count(filter, "runs", r->runs);
        wr_json_number(filter, "mean_run_s", mean_of(r->run_hours, r->runs));
        wr_json_number(filter, "shortest_run_s", r->shortest_run);
        if (wr_is_given(run->plant.definition->wash.washout_depth))
            wr_json_number(filter, "most_solids_at_end_of_backwash_kg_per_m3", r->last_of_wash);
        wr_json_number(filter, "differential_at_wash_m", mean_of(r->differential, r->washes));
        wr_json_number(filter, "unit_run_volume_m", mean_of(r->run_volume, r->runs));
        wr_json_number(filter, "waited_s", r->waited);
        wr_json_number(filter, "start_up_wait_s", r->start_up_wait);
    }
}

static bool is_whole(const struct wr_run *run)
{
    return run->end == WR_RUN_WHOLE || run->end == WR_RUN_ENGINE || run->end == WR_RUN_BOOKS_OPEN;
}

struct cJSON *wr_report_run_document(const struct wr_subject *subject, const struct wr_run *run)
{
    struct cJSON *document = wr_report_document(subject);
    wr_json_number(document, "horizon_s", subject->definition->horizon);
    if (subject->whole_horizon > 0)
        wr_json_number(document, "scenario_horizon_s", subject->whole_horizon);
    wr_json_number(document, "seed", subject->definition->seed);
    if (run->end != WR_RUN_WHOLE)
        wr_json_word(document, "fault", run->message);
    if (!is_whole(run))
        return document;
    struct cJSON *answers = wr_json_block(document, "answers");
    wr_json_flag(answers, "passes", run->passes);
    add_balance(answers, run);
    add_demand(answers, run);
    add_unwashed(answers, run);
    add_filters(document, run);
    wr_report_account_blocks(document, run);
    wr_report_finding_list(document, run);
    wr_report_derived_block(document, &run->plant);
    return document;
}
