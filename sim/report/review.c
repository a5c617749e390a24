/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A scenario beside published guidance: a line a row, those not met first. */
#include "sim/review/review.h"
#include "sim/report/json.h"
#include "sim/report/report.h"
#include "sim/report/say.h"

#include <cjson/cJSON.h>
#include <stdio.h>
#include <string.h>

/* Text ------------------------------------------------------------------------------------------------------------ */

/* The bounds of a line: "at most 4.00 gal/min/ft2", "8.00 to 10.0 gal/min/ft2". */
static void say_bounds(struct wr_page *s, const struct wr_review_line *line, enum wr_units units)
{
    const enum wr_quantity quantity = line->row->quantity;
    if (wr_is_given(line->least) && wr_is_given(line->most)) {
        wr_page_add(s, "%s to ", wr_say_figure(quantity, line->least, units).text);
        wr_page_add(s, "%s", wr_say_figure(quantity, line->most, units).text);
    } else if (wr_is_given(line->least)) {
        wr_page_add(s, "at least %s", wr_say_figure(quantity, line->least, units).text);
    } else {
        wr_page_add(s, "at most %s", wr_say_figure(quantity, line->most, units).text);
    }
}

static void say_line(struct wr_page *page, const struct wr_plant *plant, const struct wr_review_line *line,
                     enum wr_units units)
{
    const struct wr_guidance *row = line->row;
    struct wr_page s = {0};
    wr_page_add(&s, "%s", row->words);
    if (row->by_group && plant->group_count > 1) {
        wr_page_add(&s, ", ");
        wr_report_group(&s, plant, line->group);
    }
    if (line->why == NULL) {
        wr_page_add(&s, ": %s. Guidance: ", wr_say_figure(row->quantity, line->found, units).text);
        say_bounds(&s, line, units);
    } else {
        wr_page_add(&s, ": %s", line->why);
    }
    if (row->remark != NULL && line->state != WR_REVIEW_NOT_APPLICABLE)
        wr_page_add(&s, "; %s", row->remark);
    wr_page_add(&s, ". %s, for %s.", wr_say_first(row->source).text, row->plants);
    wr_page_flow_page(page, "  - ", &s);
}

static void say_state(struct wr_page *page, const struct wr_plant *plant, const struct wr_review *review,
                      enum wr_review_state state, enum wr_units units)
{
    static const char *const heads[WR_REVIEW_STATES] = {
        [WR_REVIEW_NOT_MET] = "Not met:",
        [WR_REVIEW_MET] = "Met:",
        [WR_REVIEW_NOT_TOLD] = "To be asked, for the scenario does not hold it:",
        [WR_REVIEW_NOT_APPLICABLE] = "Not applicable:",
    };
    if (review->in_state[state] == 0)
        return;
    wr_page_flow(page, "  ", "%s", heads[state]);
    for (size_t i = 0; i < review->count; i++)
        if (review->lines[i].state == state)
            say_line(page, plant, &review->lines[i], units);
}

void wr_report_review_section(struct wr_page *page, const struct wr_plant *plant, bool whole, enum wr_units units)
{
    struct wr_review review;
    wr_review_make(&review, plant);
    const size_t *in = review.in_state;
    wr_page_heading(page, "Beside published guidance");
    wr_page_flow(page, "  ",
                 "Rules differ by place and by kind of plant: each line says whose it quotes. None makes the scenario "
                 "invalid; the local authority and a licensed engineer decide. %zu not met, %zu met, %zu to be asked, "
                 "%zu not applicable%s.",
                 in[WR_REVIEW_NOT_MET], in[WR_REVIEW_MET], in[WR_REVIEW_NOT_TOLD], in[WR_REVIEW_NOT_APPLICABLE],
                 whole ? "" : "; --all lists them all");
    for (int state = 0; state < (whole ? WR_REVIEW_STATES : WR_REVIEW_NOT_MET + 1); state++)
        say_state(page, plant, &review, (enum wr_review_state)state, units);
    wr_review_fini(&review);
}

/* Document -------------------------------------------------------------------------------------------------------- */

/* Adds a number under its key with the unit behind: "found_m3_per_s". */
static void put_figure(struct cJSON *block, const char *key, enum wr_quantity quantity, double value)
{
    const char *unit = wr_quantity_si_unit(quantity);
    char name[64];
    size_t length = (size_t)snprintf(name, sizeof name, "%s", key);
    if (quantity != WR_QUANTITY_NONE && quantity != WR_QUANTITY_SHARE) {
        length += (size_t)snprintf(name + length, sizeof name - length, "_");
        for (; *unit != '\0'; unit++)
            length += (size_t)snprintf(name + length, sizeof name - length, *unit == '/' ? "_per_" : "%c", *unit);
    }
    wr_json_number(block, name, value);
}

static void put_line(struct cJSON *list, const struct wr_plant *plant, const struct wr_review_line *line)
{
    const struct wr_guidance *row = line->row;
    struct cJSON *block = wr_json_block(list, NULL);
    wr_json_word(block, "key", row->key);
    wr_json_word(block, "words", row->words);
    wr_json_word(block, "filter_group", row->by_group ? plant->definition->filters.items[line->group].name : NULL);
    wr_json_word(block, "state", wr_review_state_key(line->state));
    put_figure(block, "found", row->quantity, line->found);
    put_figure(block, "least", row->quantity, line->least);
    put_figure(block, "most", row->quantity, line->most);
    wr_json_word(block, "holds",
                 row->holds == WR_HOLDS_BOTH    ? "both"
                 : row->holds == WR_HOLDS_LEAST ? "least"
                                                : "most");
    wr_json_word(block, "why", line->why);
    wr_json_word(block, "source", row->source);
    wr_json_word(block, "for", row->plants);
    wr_json_word(block, "remark", row->remark);
}

void wr_report_review_block(struct cJSON *document, const struct wr_plant *plant)
{
    struct wr_review review;
    wr_review_make(&review, plant);
    struct cJSON *block = wr_json_block(document, "review");
    wr_json_word(block, "who_decides", "the local authority and a licensed engineer; no row makes a scenario invalid");
    for (int state = 0; state < WR_REVIEW_STATES; state++)
        wr_json_count(block, wr_review_state_key((enum wr_review_state)state), review.in_state[state]);
    struct cJSON *list = wr_json_list(block, "rows");
    for (size_t i = 0; i < review.count; i++)
        put_line(list, plant, &review.lines[i]);
    wr_review_fini(&review);
}
