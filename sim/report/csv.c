/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/csv.h"

#include "sim/report/number.h"
#include "sim/scenario/quantity.h"
#include "sim/study/tank_sums.h"

#include <math.h>
#include <string.h>

/* Fields ---------------------------------------------------------------------------------------------------------- */

/* A line being written. */
struct record {
    FILE *out;
    size_t fields;
};

static void begin_field(struct record *record)
{
    if (record->fields++ > 0)
        fputc(',', record->out);
}

/* A text, in quotes where it needs them; NULL is an empty field. */
static void put_text(struct record *record, const char *text)
{
    begin_field(record);
    if (text == NULL)
        return;
    if (strpbrk(text, ",\"\r\n") == NULL) {
        fputs(text, record->out);
        return;
    }
    fputc('"', record->out);
    for (; *text != '\0'; text++) {
        if (*text == '"')
            fputc('"', record->out);
        fputc(*text, record->out);
    }
    fputc('"', record->out);
}

static void put_number(struct record *record, double value)
{
    put_text(record, wr_number_text(value).text);
}

static void put_flag(struct record *record, bool flag)
{
    put_text(record, flag ? "true" : "false");
}

static void end_record(struct record *record)
{
    fputs("\r\n", record->out);
    record->fields = 0;
}

static void put_heads(struct record *record, const char *const *heads, size_t count)
{
    for (size_t i = 0; i < count; i++)
        put_text(record, heads[i]);
    end_record(record);
}

/* Washes ---------------------------------------------------------------------------------------------------------- */

static const char *tank_name(const struct wr_plant *plant, size_t tank)
{
    return tank < plant->tank_count ? plant->definition->spent_wash.tanks.items[tank].name : "sewer";
}

static void put_wash(struct record *record, const struct wr_run *run, const struct wr_wash_record *wash)
{
    char date[32];
    put_text(record, run->plant.names[wash->filter]);
    put_text(record, wr_date_text(run->plant.definition->start + wash->started_at, date, sizeof date));
    put_text(record, wr_report_trigger_key(wash->trigger));
    put_flag(record, wash->start_up);
    put_number(record, wash->called_at);
    put_number(record, wash->started_at);
    put_number(record, wash->ended_at);
    put_number(record, wash->waited);
    put_number(record, wash->waited_for_resource);
    put_number(record, wash->load);
    put_number(record, wash->run_hours);
    put_number(record, wash->run_volume);
    put_number(record, wash->differential);
    put_number(record, wash->last_of_wash);
    put_text(record, isfinite(wash->ended_at) ? tank_name(&run->plant, wash->tank) : NULL);
    end_record(record);
}

void wr_csv_washes(FILE *out, const struct wr_run *run)
{
    static const char *const heads[] = {"filter",
                                        "started",
                                        "called_by",
                                        "start_up",
                                        "called_s",
                                        "started_s",
                                        "ended_s",
                                        "waited_s",
                                        "waited_for_resource_s",
                                        "load_kg_per_m2",
                                        "run_s",
                                        "run_volume_m",
                                        "differential_m",
                                        "end_of_backwash_kg_per_m3",
                                        "spent_wash_to"};
    struct record record = {.out = out};
    put_heads(&record, heads, sizeof heads / sizeof *heads);
    for (size_t w = 0; w < run->record.wash_count; w++)
        put_wash(&record, run, &run->record.washes[w]);
}

/* Spans ----------------------------------------------------------------------------------------------------------- */

void wr_csv_spans(FILE *out, const struct wr_run *run)
{
    static const char *const heads[] = {"limit", "where", "from_s", "to_s", "length_s"};
    struct record record = {.out = out};
    put_heads(&record, heads, sizeof heads / sizeof *heads);
    for (size_t i = 0; i < run->record.span_count; i++) {
        const struct wr_span *span = &run->record.spans[i];
        put_text(&record, wr_report_limit_key(span->limit));
        put_text(&record, wr_report_where(&run->plant, span->where));
        put_number(&record, span->from);
        put_number(&record, span->to);
        put_number(&record, span->to - span->from);
        end_record(&record);
    }
}

/* Tanks ----------------------------------------------------------------------------------------------------------- */

void wr_csv_tanks(FILE *out, const struct wr_run *run)
{
    static const char *const heads[] = {"tank",
                                        "settles_s",
                                        "time_up_s",
                                        "clear_s",
                                        "drawn_from_s",
                                        "ended_s",
                                        "held_by",
                                        "content_m3",
                                        "clear_m3",
                                        "sludge_with_it_m3",
                                        "decant_solids_kg_per_m3",
                                        "unsettled",
                                        "blanket_as_it_began_m3",
                                        "blanket_as_it_ended_m3",
                                        "blanket_left_m3"};
    struct record record = {.out = out};
    put_heads(&record, heads, sizeof heads / sizeof *heads);
    for (size_t i = 0; i < run->record.tanks.turn_count; i++) {
        const struct wr_turn *turn = &run->record.tanks.turns[i];
        const bool drawn = isfinite(turn->drawn_from), ended = isfinite(turn->ended_at);
        put_text(&record, tank_name(&run->plant, turn->tank));
        put_number(&record, turn->settles_at);
        put_number(&record, turn->time_up_at);
        put_number(&record, turn->clear_at);
        put_number(&record, turn->drawn_from);
        put_number(&record, turn->ended_at);
        put_text(&record, wr_turn_held_by_key(turn));
        put_number(&record, turn->content);
        put_number(&record, turn->clear);
        put_number(&record, turn->lifted);
        put_number(&record, turn->solids);
        put_flag(&record, turn->unsettled);
        put_number(&record, drawn ? turn->settled : WR_ABSENT);
        put_number(&record, ended ? turn->blanket : WR_ABSENT);
        put_number(&record, ended ? turn->left : WR_ABSENT);
        end_record(&record);
    }
}

void wr_csv_sludge(FILE *out, const struct wr_run *run)
{
    static const char *const heads[] = {"tank", "at_s", "why", "to", "water_m3", "dry_solids_kg", "blanket_m3"};
    struct record record = {.out = out};
    put_heads(&record, heads, sizeof heads / sizeof *heads);
    for (size_t i = 0; i < run->record.tanks.draw_count; i++) {
        const struct wr_draw_record *draw = &run->record.tanks.draws[i];
        put_text(&record, tank_name(&run->plant, draw->tank));
        put_number(&record, draw->time);
        put_text(&record, wr_draw_why_key(draw->why));
        put_text(&record, wr_draw_to_key(&run->plant));
        put_number(&record, draw->water);
        put_number(&record, draw->solids);
        put_number(&record, draw->blanket);
        end_record(&record);
    }
}

void wr_csv_emergency(FILE *out, const struct wr_run *run)
{
    static const char *const heads[] = {"outlet", "tank", "filter_waiting", "unsettled", "from_s", "to_s", "water_m3"};
    struct record record = {.out = out};
    put_heads(&record, heads, sizeof heads / sizeof *heads);
    for (size_t i = 0; i < run->record.tanks.emergency_count; i++) {
        const struct wr_emergency *used = &run->record.tanks.emergencies[i];
        put_text(&record, wr_outlet_key(run->plant.definition->spent_wash.outlets.items[used->outlet].kind));
        put_text(&record, tank_name(&run->plant, used->tank));
        put_text(&record, wr_report_where(&run->plant, used->filter));
        put_flag(&record, used->unsettled);
        put_number(&record, used->from);
        put_number(&record, used->to);
        put_number(&record, used->water);
        end_record(&record);
    }
}

/* Ladder ---------------------------------------------------------------------------------------------------------- */

static void put_rung(struct record *record, const struct wr_plant *plant, const char *out_of_service,
                     const struct wr_rung *rung)
{
    const bool failed = rung->finding < WR_FINDINGS;
    put_text(record, out_of_service);
    put_number(record, rung->demand);
    put_flag(record, rung->passes);
    put_flag(record, rung->low_flow);
    put_text(record, failed ? wr_finding_row(rung->finding)->key : NULL);
    put_text(record, failed ? wr_report_limit_key(rung->limit) : NULL);
    put_text(record, failed ? wr_report_where(plant, rung->where) : NULL);
    put_number(record, failed ? rung->at : WR_ABSENT);
    end_record(record);
}

void wr_csv_ladder(FILE *out, const struct wr_firm *firm)
{
    static const char *const heads[] = {"unit_out", "demand_m3_per_s", "passes", "low_flow_failure",
                                        "finding",  "limit",           "where",  "at_s"};
    struct record record = {.out = out};
    put_heads(&record, heads, sizeof heads / sizeof *heads);
    for (size_t r = 0; r < firm->one_out.rungs; r++)
        put_rung(&record, &firm->plant, firm->unit_name, &firm->one_out.ladder[r]);
    for (size_t r = 0; r < firm->all_in.rungs; r++)
        put_rung(&record, &firm->plant, NULL, &firm->all_in.ladder[r]);
}

/* Margins --------------------------------------------------------------------------------------------------------- */

static void put_mark(struct record *record, const struct wr_margins *margins, const struct wr_margin *margin,
                     const struct wr_mark_tried *mark)
{
    const bool failed = mark->rung.finding < WR_FINDINGS;
    put_text(record, margin->pointer);
    put_number(record, wr_figure_si(&margin->figure, mark->value));
    put_text(record, wr_quantity_si_unit((enum wr_quantity)margin->figure.quantity));
    put_flag(record, mark->passes);
    put_text(record, failed ? wr_finding_row(mark->rung.finding)->key : NULL);
    put_text(record, failed ? wr_report_limit_key(mark->rung.limit) : NULL);
    put_text(record, failed ? wr_report_where(&margins->plant, mark->rung.where) : NULL);
    put_number(record, failed ? mark->rung.at : WR_ABSENT);
    end_record(record);
}

void wr_csv_margins(FILE *out, const struct wr_margins *margins)
{
    static const char *const heads[] = {"number", "value_si", "unit", "passes", "finding", "limit", "where", "at_s"};
    struct record record = {.out = out};
    put_heads(&record, heads, sizeof heads / sizeof *heads);
    for (size_t i = 0; i < margins->count; i++) {
        const struct wr_margin *margin = &margins->items[i];
        for (size_t r = margin->down.rungs; r-- > 0;)
            put_mark(&record, margins, margin, &margin->down.ladder[r]);
        put_mark(&record, margins, margin, &margin->now);
        for (size_t r = 0; r < margin->up.rungs; r++)
            put_mark(&record, margins, margin, &margin->up.ladder[r]);
    }
}

void wr_csv_map(FILE *out, const struct wr_margins *margins)
{
    const struct wr_margin_map *map = &margins->map;
    struct record record = {.out = out};
    char numbers[2][300];
    for (size_t i = 0; i < 2; i++)
        snprintf(numbers[i], sizeof numbers[i], "%.200s (%s)", margins->items[i].pointer,
                 wr_quantity_si_unit((enum wr_quantity)margins->items[i].figure.quantity));
    const char *const heads[] = {numbers[0], numbers[1], "passes", "limit"};
    put_heads(&record, heads, sizeof heads / sizeof *heads);
    for (size_t c = 0; c < map->columns; c++)
        for (size_t r = 0; r < map->rows; r++) {
            put_number(&record, wr_figure_si(&margins->items[0].figure, map->x[c]));
            put_number(&record, wr_figure_si(&margins->items[1].figure, map->y[r]));
            put_text(&record, map->state[c][r] < 0 ? NULL : map->state[c][r] > 0 ? "true" : "false");
            put_text(&record, map->state[c][r] == 0 ? wr_report_limit_key(map->limit[c][r]) : NULL);
            end_record(&record);
        }
}

/* Sweeps ---------------------------------------------------------------------------------------------------------- */

static void put_cell(struct record *record, const struct wr_cell *cell)
{
    if (cell->kind == WR_CELL_NUMBER)
        put_number(record, cell->number);
    else if (cell->kind == WR_CELL_FLAG)
        put_flag(record, cell->flag);
    else
        put_text(record, cell->word);
}

void wr_csv_sweep(FILE *out, const struct wr_sweep *sweep)
{
    struct record record = {.out = out};
    for (size_t a = 0; a < sweep->axis_count; a++)
        put_text(&record, sweep->axes[a].pointer);
    put_text(&record, "passes");
    for (size_t f = 0; f < sweep->figure_count; f++)
        put_text(&record, sweep->figures[f]);
    put_text(&record, "refused");
    end_record(&record);
    for (size_t p = sweep->first; p < sweep->first + sweep->count; p++) {
        const struct wr_sweep_point *point = &sweep->points[p];
        for (size_t a = 0; a < sweep->axis_count; a++)
            put_text(&record, wr_sweep_value(sweep, p, a));
        put_text(&record, !point->is_answered ? NULL : point->passes ? "true" : "false");
        for (size_t f = 0; f < sweep->figure_count; f++)
            put_cell(&record, &point->cells[f]);
        put_text(&record, point->refusal);
        end_record(&record);
    }
}
