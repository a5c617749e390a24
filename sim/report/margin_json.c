/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/csv.h"
#include "sim/report/json.h"
#include "sim/report/report.h"
#include "sim/scenario/quantity.h"

#include <cjson/cJSON.h>
#include <math.h>

static const char *const verdict_keys[WR_VERDICTS] = {
    [WR_VERDICT_FIRM] = "firm", [WR_VERDICT_ALL_IN] = "all_in", [WR_VERDICT_RUN] = "run"};

const char *wr_report_verdict_key(enum wr_verdict verdict)
{
    return verdict_keys[verdict];
}

static double si(const struct wr_margin *margin, double value)
{
    return wr_figure_si(&margin->figure, value);
}

static void add_failure(struct cJSON *block, const struct wr_plant *plant, const struct wr_rung *rung)
{
    const bool failed = rung->finding < WR_FINDINGS;
    wr_json_word(block, "finding", failed ? wr_finding_row(rung->finding)->key : NULL);
    wr_json_word(block, "limit", failed ? wr_report_limit_key(rung->limit) : NULL);
    wr_json_word(block, "where", failed ? wr_report_where(plant, rung->where) : NULL);
    wr_json_number(block, "at_s", failed ? rung->at : WR_ABSENT);
}

static void add_side(struct cJSON *parent, const char *key, const struct wr_margins *margins,
                     const struct wr_margin *margin, const struct wr_margin_side *side)
{
    struct cJSON *block = wr_json_block(parent, key);
    const double pass = margin->now.passes ? side->near : side->far;
    const double fail = margin->now.passes ? side->far : side->near;
    char text[96];
    wr_json_flag(block, "changes", side->changes);
    wr_json_number(block, "passes_at", side->changes ? si(margin, pass) : WR_ABSENT);
    wr_json_number(block, "fails_at", side->changes ? si(margin, fail) : WR_ABSENT);
    wr_json_word(block, "passes_at_text",
                 side->changes ? wr_figure_text(pass, margin->figure.unit, text, sizeof text) : NULL);
    wr_json_flag(block, "alternates", side->returns > 0);
    wr_json_word(block, "allowed", side->is_bound ? side->refusal : NULL);
    if (side->changes)
        add_failure(wr_json_block(block, "limiting"), &margins->plant, &side->failing);
    else
        wr_json_null(block, "limiting");
    struct cJSON *list = wr_json_list(block, "ladder");
    for (size_t r = 0; r < side->rungs; r++) {
        struct cJSON *rung = wr_json_block(list, NULL);
        wr_json_number(rung, "value", si(margin, side->ladder[r].value));
        wr_json_flag(rung, "passes", side->ladder[r].passes);
        add_failure(rung, &margins->plant, &side->ladder[r].rung);
    }
}

static void add_margin(struct cJSON *list, const struct wr_margins *margins, const struct wr_margin *margin)
{
    struct cJSON *block = wr_json_block(list, NULL);
    wr_json_word(block, "of", margin->pointer);
    wr_json_word(block, "unit", wr_quantity_si_unit((enum wr_quantity)margin->figure.quantity));
    wr_json_number(block, "now", si(margin, margin->figure.value));
    wr_json_flag(block, "passes_now", margin->now.passes);
    wr_json_number(block, "away_share", margin->nearest);
    add_side(block, "more", margins, margin, &margin->up);
    add_side(block, "less", margins, margin, &margin->down);
}

static void add_map(struct cJSON *document, const struct wr_margins *margins)
{
    const struct wr_margin_map *map = &margins->map;
    if (!margins->has_map) {
        wr_json_null(document, "map");
        return;
    }
    struct cJSON *block = wr_json_block(document, "map");
    struct cJSON *x = wr_json_list(block, "x"), *y = wr_json_list(block, "y"), *states = wr_json_list(block, "passes");
    for (size_t c = 0; c < map->columns; c++) {
        struct cJSON *column = wr_json_list(states, NULL);
        wr_json_number(x, NULL, si(&margins->items[0], map->x[c]));
        for (size_t r = 0; r < map->rows; r++)
            if (map->state[c][r] < 0)
                wr_json_null(column, NULL);
            else
                wr_json_flag(column, NULL, map->state[c][r] > 0);
    }
    for (size_t r = 0; r < map->rows; r++)
        wr_json_number(y, NULL, si(&margins->items[1], map->y[r]));
    struct cJSON *boundary = wr_json_list(block, "boundary");
    for (size_t p = 0; p < map->point_count; p++) {
        struct cJSON *point = wr_json_block(boundary, NULL);
        wr_json_number(point, "x", si(&margins->items[0], map->boundary[p].x));
        wr_json_number(point, "y", si(&margins->items[1], map->boundary[p].y));
        wr_json_word(point, "limit", wr_report_limit_key(map->boundary[p].limit));
    }
}

struct cJSON *wr_report_margins_document(const struct wr_subject *subject, const struct wr_margins *margins)
{
    struct cJSON *document = wr_report_document(subject);
    wr_json_flag(document, "passes", margins->passes);
    wr_json_word(document, "judged", verdict_keys[margins->verdict]);
    wr_json_flag(document, "interrupted", margins->end == WR_RUN_STOPPED);
    if (margins->end != WR_RUN_WHOLE)
        wr_json_word(document, "fault", margins->message);
    struct cJSON *list = wr_json_list(document, "margins");
    for (size_t i = 0; i < margins->count; i++)
        add_margin(list, margins, &margins->items[margins->ranked[i]]);
    add_map(document, margins);
    wr_json_count(document, "runs", margins->runs);
    return document;
}
