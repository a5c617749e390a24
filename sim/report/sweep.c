/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/csv.h"
#include "sim/report/json.h"
#include "sim/report/number.h"
#include "sim/report/report.h"
#include "sim/report/say.h"

#include <cjson/cJSON.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A page of points is as many as a reader looks through; all of them are in the table and the document. */
enum { POINTS_SHOWN = 200 };

/* Taking figures --------------------------------------------------------------------------------------------------- */

static void take_cell(struct wr_cell *cell, const struct cJSON *item)
{
    if (cJSON_IsNumber(item) || cJSON_IsRaw(item)) {
        cell->number = wr_json_number_of(item);
        cell->kind = wr_is_given(cell->number) ? WR_CELL_NUMBER : WR_CELL_NONE;
    } else if (cJSON_IsBool(item)) {
        cell->kind = WR_CELL_FLAG;
        cell->flag = cJSON_IsTrue(item);
    } else if (cJSON_IsString(item)) {
        cell->kind = WR_CELL_WORD;
        cell->word = malloc(strlen(item->valuestring) + 1);
        if (cell->word == NULL)
            abort();
        memcpy(cell->word, item->valuestring, strlen(item->valuestring) + 1);
    }
}

void wr_report_sweep_take(const struct wr_sweep *sweep, struct wr_sweep_point *point, const struct wr_sweep_made *made)
{
    const struct wr_subject subject = {.definition = made->definition};
    struct cJSON *document =
        made->run != NULL ? wr_report_run_document(&subject, made->run) : wr_report_firm_document(&subject, made->firm);
    for (size_t f = 0; f < sweep->figure_count; f++)
        take_cell(&point->cells[f], wr_json_find(document, sweep->figures[f]));
    cJSON_Delete(document);
}

bool wr_report_sweep_has(const struct wr_sweep *sweep, size_t figure)
{
    bool any_answered = false;
    for (size_t p = sweep->first; p < sweep->first + sweep->count; p++) {
        any_answered = any_answered || sweep->points[p].is_answered;
        if (sweep->points[p].cells[figure].kind != WR_CELL_NONE)
            return true;
    }
    return !any_answered;
}

/* Units in keys ---------------------------------------------------------------------------------------------------- */

/* What a figure measures, by the unit at the end of its key; the key without it is written to `name`. */
static enum wr_quantity quantity_of(const char *pointer, char *name, size_t size)
{
    static const struct {
        const char *end;
        enum wr_quantity quantity;
    } ends[] = {{"_m3_per_s", WR_QUANTITY_DAILY_FLOW},
                {"_m_per_s", WR_QUANTITY_RATE},
                {"_kg_per_m2", WR_QUANTITY_LOAD},
                {"_m3", WR_QUANTITY_VOLUME},
                {"_m2", WR_QUANTITY_AREA},
                {"_kg", WR_QUANTITY_MASS},
                {"_m", WR_QUANTITY_HEAD},
                {"_s", WR_QUANTITY_TIME}};
    const char *key = strrchr(pointer, '/');
    snprintf(name, size, "%s", key != NULL ? key + 1 : pointer);
    const size_t length = strlen(name);
    for (size_t e = 0; e < sizeof ends / sizeof *ends; e++) {
        const size_t end = strlen(ends[e].end);
        if (length > end && strcmp(name + length - end, ends[e].end) == 0) {
            name[length - end] = '\0';
            return ends[e].quantity;
        }
    }
    return WR_QUANTITY_NONE;
}

static struct wr_phrase say_cell(const struct wr_cell *cell, enum wr_quantity quantity, enum wr_units units)
{
    struct wr_phrase phrase = {"-"};
    if (cell->kind == WR_CELL_FLAG)
        snprintf(phrase.text, sizeof phrase.text, "%s", cell->flag ? "yes" : "no");
    else if (cell->kind == WR_CELL_WORD)
        return wr_say_key(cell->word);
    else if (cell->kind == WR_CELL_NUMBER && quantity == WR_QUANTITY_TIME)
        return wr_say_duration(cell->number);
    else if (cell->kind == WR_CELL_NUMBER && quantity == WR_QUANTITY_NONE)
        snprintf(phrase.text, sizeof phrase.text, "%.4g", cell->number);
    else if (cell->kind == WR_CELL_NUMBER)
        return wr_say_digits(quantity, cell->number, units);
    return phrase;
}

/* The report ------------------------------------------------------------------------------------------------------- */

static void put_point(struct wr_grid *grid, const struct wr_sweep *sweep, size_t place, enum wr_units units)
{
    const struct wr_sweep_point *point = &sweep->points[place];
    for (size_t a = 0; a < sweep->axis_count; a++)
        wr_grid_add(grid, "%s", wr_sweep_value(sweep, place, a));
    wr_grid_add(grid, "%s", !point->is_answered ? "refused" : point->passes ? "yes" : "no");
    for (size_t f = 0; f < sweep->figure_count; f++) {
        char name[64];
        wr_grid_add(grid, "%s",
                    say_cell(&point->cells[f], quantity_of(sweep->figures[f], name, sizeof name), units).text);
    }
}

static void put_points(struct wr_page *page, const struct wr_sweep *sweep, enum wr_units units)
{
    char align[64] = "";
    struct wr_grid grid = {.align = align, .heads = 1};
    const size_t shown = sweep->count < POINTS_SHOWN ? sweep->count : POINTS_SHOWN;
    for (size_t a = 0; a < sweep->axis_count; a++) {
        const char *key = strrchr(sweep->axes[a].pointer, '/');
        wr_grid_add(&grid, "%s", wr_say_key(key + 1).text);
        strcat(align, "l");
    }
    wr_grid_add(&grid, "passes");
    strcat(align, "l");
    for (size_t f = 0; f < sweep->figure_count; f++) {
        char name[64];
        quantity_of(sweep->figures[f], name, sizeof name);
        wr_grid_add(&grid, "%s", wr_say_key(name).text);
        strcat(align, "r");
    }
    for (size_t p = 0; p < shown; p++)
        put_point(&grid, sweep, sweep->first + p, units);
    wr_page_grid(page, &grid);
    if (shown < sweep->count)
        wr_page_flow(page, "  ", "The first %zu of %zu points; all are in the table of --csv or of a run folder.",
                     shown, sweep->count);
}

static size_t count_passing(const struct wr_sweep *sweep, size_t *refused, const char **why)
{
    size_t passing = 0;
    *refused = 0;
    *why = NULL;
    for (size_t p = sweep->first; p < sweep->first + sweep->count; p++) {
        passing += sweep->points[p].passes;
        if (!sweep->points[p].is_answered) {
            ++*refused;
            if (*why == NULL)
                *why = sweep->points[p].refusal;
        }
    }
    return passing;
}

void wr_report_sweep_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_sweep *sweep,
                          enum wr_units units)
{
    struct wr_page s = {0};
    size_t refused;
    const char *why;
    const size_t passing = count_passing(sweep, &refused, &why);
    wr_report_title(page, subject);
    wr_page_heading(page, sweep->ask == WR_SWEEP_RUN ? "The run at each point" : "The firm capacity at each point");
    wr_page_add(&s, "%zu of %zu points pass", passing, sweep->count);
    for (size_t a = 0; a < sweep->axis_count; a++)
        wr_page_add(&s, "%s %s",
                    a == 0           ? "; moved:"
                    : sweep->in_step ? " in step with"
                                     : " crossed with",
                    sweep->axes[a].pointer);
    wr_page_add(&s, ". Everything else is as written, observed runs among it.");
    if (refused > 0)
        wr_page_add(&s, " The scenario does not allow %zu of them; the first: %s.", refused, why);
    wr_page_flow_page(page, "  ", &s);
    wr_page_add(page, "\n");
    put_points(page, sweep, units);
    if (sweep->end == WR_RUN_STOPPED) {
        char go_on[80];
        snprintf(go_on, sizeof go_on, "To go on, give the same call with --skip %zu.", sweep->first + sweep->count);
        wr_report_interrupted(page, sweep->count, sweep->total - sweep->first, go_on);
    }
    wr_report_caution(page);
}

/* The document ----------------------------------------------------------------------------------------------------- */

static void add_cell(struct cJSON *list, const struct wr_cell *cell)
{
    if (cell->kind == WR_CELL_NUMBER)
        wr_json_number(list, NULL, cell->number);
    else if (cell->kind == WR_CELL_FLAG)
        wr_json_flag(list, NULL, cell->flag);
    else
        wr_json_word(list, NULL, cell->word);
}

static void add_point(struct cJSON *list, const struct wr_sweep *sweep, size_t place)
{
    const struct wr_sweep_point *point = &sweep->points[place];
    struct cJSON *block = wr_json_block(list, NULL), *at = wr_json_list(block, "at");
    for (size_t a = 0; a < sweep->axis_count; a++)
        wr_json_word(at, NULL, wr_sweep_value(sweep, place, a));
    if (point->is_answered)
        wr_json_flag(block, "passes", point->passes);
    else
        wr_json_null(block, "passes");
    struct cJSON *figures = wr_json_list(block, "figures");
    for (size_t f = 0; f < sweep->figure_count; f++)
        add_cell(figures, &point->cells[f]);
    wr_json_word(block, "refused", point->refusal);
}

bool wr_report_sweep_passes(const struct wr_sweep *sweep)
{
    size_t refused;
    const char *why;
    return count_passing(sweep, &refused, &why) == sweep->count;
}

struct cJSON *wr_report_sweep_document(const struct wr_subject *subject, const struct wr_sweep *sweep)
{
    struct cJSON *document = wr_report_document(subject);
    wr_json_flag(document, "passes", wr_report_sweep_passes(sweep));
    wr_json_word(document, "ask", sweep->ask == WR_SWEEP_RUN ? "run" : "firm");
    wr_json_flag(document, "interrupted", sweep->end == WR_RUN_STOPPED);
    if (sweep->end != WR_RUN_WHOLE)
        wr_json_word(document, "fault", sweep->message);
    wr_json_flag(document, "in_step", sweep->in_step);
    struct cJSON *axes = wr_json_list(document, "axes"), *figures = wr_json_list(document, "figures");
    for (size_t a = 0; a < sweep->axis_count; a++)
        wr_json_word(axes, NULL, sweep->axes[a].pointer);
    for (size_t f = 0; f < sweep->figure_count; f++)
        wr_json_word(figures, NULL, sweep->figures[f]);
    wr_json_count(document, "points_in_all", sweep->total);
    wr_json_count(document, "skipped", sweep->first);
    struct cJSON *points = wr_json_list(document, "points");
    for (size_t p = sweep->first; p < sweep->first + sweep->count; p++)
        add_point(points, sweep, p);
    return document;
}
