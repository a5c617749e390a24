/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Pictures of filters: what each was doing, and its differential. */

#include "sim/report/number.h"
#include "sim/report/picture.h"
#include "sim/report/say.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* What a filter is doing, as the picture tells it apart; waits by what they are for. */
enum kind { SERVES, STANDS, RINSES, WASHED, OUT, WAITS_RULE, WAITS_SYSTEM, WAITS_WATER, WAITS_ROOM, KINDS };

/* Name of a kind's block of data, its letter in a picture of characters, and its words. */
static const struct {
    const char *block, *letter, *words;
} kinds[KINDS] = {
    [SERVES] = {"serves", ".", "serves"},
    [STANDS] = {"stands", " ", "has no flow"},
    [RINSES] = {"rinses", "i", "rinses at the plant's start"},
    [WASHED] = {"washed", "W", "is washed"},
    [OUT] = {"out", "x", "is out of service"},
    [WAITS_RULE] = {"rule", "-", "waits for a rule of the plant"},
    [WAITS_SYSTEM] = {"system", "s", "waits for the wash system"},
    [WAITS_WATER] = {"water", "w", "waits for wash water"},
    [WAITS_ROOM] = {"room", "r", "waits for room for its spent wash"},
};

static enum kind kind_of(const struct wr_stretch *stretch)
{
    static const enum kind plain[] = {[WR_DEED_SERVES] = SERVES,
                                      [WR_DEED_STANDS] = STANDS,
                                      [WR_DEED_RINSES] = RINSES,
                                      [WR_DEED_WASHED] = WASHED,
                                      [WR_DEED_OUT] = OUT};
    if (stretch->deed != WR_DEED_WAITS)
        return plain[stretch->deed];
    switch (stretch->limit) {
    case WR_LIMIT_WASH_SYSTEM:
    case WR_LIMIT_BLOWER:
    case WR_LIMIT_WASH_PUMP_OUT:
        return WAITS_SYSTEM;
    case WR_LIMIT_WASH_WATER:
        return WAITS_WATER;
    case WR_LIMIT_SPENT_WASH_ROOM:
        return WAITS_ROOM;
    default:
        return WAITS_RULE;
    }
}

static void put_names(struct wr_page *page, const struct wr_drawn *drawn)
{
    const size_t shown = drawn->series->filters;
    wr_page_add(page, "wr_filters = %zu\nwr_filters_all = %zu\narray wr_filter[%zu]\n", shown,
                drawn->run->plant.filter_count, shown);
    for (size_t f = 0; f < shown; f++) {
        char name[32];
        snprintf(name, sizeof name, "wr_filter[%zu]", f + 1);
        wr_picture_text(page, name, drawn->run->plant.names[f]);
    }
}

/* A row of a block: from, to, filter. */
static void put_bar(struct wr_page *page, const struct wr_drawn *drawn, size_t filter, double from, double to)
{
    wr_picture_value(page, wr_picture_day(drawn->definition, from));
    wr_picture_value(page, wr_picture_day(drawn->definition, to));
    wr_page_add(page, "%zu\n", filter + 1);
}

static void put_bars(struct wr_page *page, const struct wr_drawn *drawn, enum kind kind)
{
    const struct wr_series *series = drawn->series;
    size_t bars = 0;
    wr_page_add(page, "$%s << EOD\n", kinds[kind].block);
    for (size_t s = 0; s < series->stretch_count; s++)
        if (kind_of(&series->stretches[s]) == kind) {
            put_bar(page, drawn, series->stretches[s].filter, series->stretches[s].from, series->stretches[s].to);
            bars++;
        }
    wr_page_add(page, "EOD\nwr_%s = %zu\n", kinds[kind].block, bars);
}

/* Stretches at available head, which a filter may spend in service or waiting. */
static void put_at_head(struct wr_page *page, const struct wr_drawn *drawn)
{
    const struct wr_record *record = &drawn->run->record;
    size_t bars = 0;
    wr_page_add(page, "$head << EOD\n");
    for (size_t s = 0; s < record->span_count; s++) {
        const struct wr_span *span = &record->spans[s];
        const double from = fmax(span->from, drawn->series->from), to = fmin(span->to, drawn->series->until);
        if (span->limit != WR_LIMIT_AVAILABLE_HEAD || to <= from || span->where >= drawn->series->filters)
            continue;
        put_bar(page, drawn, span->where, from, to);
        bars++;
    }
    wr_page_add(page, "EOD\nwr_head = %zu\n", bars);
}

/* What the pointer says over a wash or a wait: its middle, its filter, words. */
static void put_hover(struct wr_page *page, const struct wr_drawn *drawn)
{
    wr_page_add(page, "$hover << EOD\n");
    for (size_t s = 0; s < drawn->series->stretch_count; s++) {
        const struct wr_stretch *stretch = &drawn->series->stretches[s];
        if (stretch->deed < WR_DEED_WAITS)
            continue;
        struct wr_page words = {0};
        wr_page_add(&words, "%s %s from %s", drawn->run->plant.names[stretch->filter], kinds[kind_of(stretch)].words,
                    wr_say_moment(drawn->definition->start, stretch->from).text);
        wr_page_add(&words, " for %s", wr_say_duration(stretch->to - stretch->from).text);
        char *text = wr_page_take(&words);
        wr_picture_value(page, wr_picture_day(drawn->definition, (stretch->from + stretch->to) / 2));
        wr_page_add(page, "%zu ", stretch->filter + 1);
        wr_picture_field(page, text);
        wr_page_add(page, "\n");
        free(text);
    }
    wr_page_add(page, "EOD\n");
}

/* Characters ------------------------------------------------------------------------------------------------------ */

/* Columns of a picture of characters. */
enum { COLUMNS = 96 };

/* What fills a column: a wash wherever there is one, else what took most of its time. */
static enum kind kind_in(const struct wr_series *series, size_t filter, double from, double to)
{
    double time[KINDS] = {0};
    for (size_t s = 0; s < series->stretch_count; s++) {
        const struct wr_stretch *stretch = &series->stretches[s];
        const double part = fmin(to, stretch->to) - fmax(from, stretch->from);
        if (stretch->filter == filter && part > 0)
            time[kind_of(stretch)] += part;
    }
    enum kind most = SERVES;
    for (int k = 0; k < KINDS; k++)
        if (time[k] > time[most])
            most = (enum kind)k;
    return time[WASHED] > 0 ? WASHED : most;
}

static void put_characters(struct wr_page *page, const struct wr_drawn *drawn)
{
    const struct wr_series *series = drawn->series;
    const double wide = (series->until - series->from) / COLUMNS;
    wr_page_add(page, "wr_columns = %d\n$characters << EOD\n", COLUMNS);
    for (size_t f = 0; f < series->filters; f++)
        for (int c = 0; c < COLUMNS; c++) {
            const double from = series->from + c * wide;
            wr_page_add(page, "%d %zu ", c, f + 1);
            wr_picture_field(page, kinds[kind_in(series, f, from, from + wide)].letter);
            wr_page_add(page, "\n");
        }
    wr_page_add(page, "EOD\n");
}

/* Washes that fall into the stretch, and what filters waited in it. */
static void put_sums(struct wr_page *page, const struct wr_drawn *drawn)
{
    double resource = 0, rule = 0;
    size_t washes = 0;
    for (size_t s = 0; s < drawn->series->stretch_count; s++) {
        const struct wr_stretch *stretch = &drawn->series->stretches[s];
        const enum kind kind = kind_of(stretch);
        washes += kind == WASHED;
        rule += kind == WAITS_RULE ? stretch->to - stretch->from : 0;
        resource += kind > WAITS_RULE ? stretch->to - stretch->from : 0;
    }
    struct wr_page words = {0};
    wr_page_add(&words, "%s; ", wr_say_count(washes, "wash", "washes").text);
    if (resource > 0)
        wr_page_add(&words, "filters waited %s for what was short", wr_say_duration(resource).text);
    if (rule > 0)
        wr_page_add(&words, "%s%s by rule", resource > 0 ? ", " : "filters waited ", wr_say_duration(rule).text);
    if (resource <= 0 && rule <= 0)
        wr_page_add(&words, "no filter waited");
    char *text = wr_page_take(&words);
    wr_picture_text(page, "wr_sums", text);
    free(text);
}

void wr_picture_put_filters(struct wr_page *page, const struct wr_drawn *drawn, size_t count)
{
    (void)count;
    put_names(page, drawn);
    put_sums(page, drawn);
    for (int k = 0; k < KINDS; k++)
        put_bars(page, drawn, (enum kind)k);
    put_at_head(page, drawn);
    put_hover(page, drawn);
    put_characters(page, drawn);
}

/* Differentials --------------------------------------------------------------------------------------------------- */

static void put_rows(struct wr_page *page, const struct wr_drawn *drawn)
{
    const struct wr_series *series = drawn->series;
    wr_page_add(page, "$rows << EOD\n");
    for (size_t i = 0; i < series->count; i++) {
        const double *row = &series->rows[i * series->width];
        wr_picture_value(page, wr_picture_day(drawn->definition, row[WR_SERIES_TIME]));
        for (size_t f = 0; f < series->filters; f++) {
            wr_picture_value(page,
                             wr_quantity_shown(WR_QUANTITY_HEAD, row[wr_series_measured(series, f)], drawn->units));
            wr_picture_value(page, wr_quantity_shown(WR_QUANTITY_HEAD, row[wr_series_judged(series, f)], drawn->units));
        }
        wr_page_add(page, "\n");
    }
    wr_page_add(page, "EOD\n");
}

static double head_shown(double head, enum wr_units units)
{
    return wr_is_given(head) ? wr_quantity_shown(WR_QUANTITY_HEAD, head, units) : WR_ABSENT;
}

void wr_picture_put_differential(struct wr_page *page, const struct wr_drawn *drawn, size_t count)
{
    (void)count;
    const struct wr_plant *plant = &drawn->run->plant;
    const struct wr_triggers *triggers = &drawn->definition->wash.triggers;
    const bool corrected = triggers->differential_as == WR_AS_CORRECTED;
    put_names(page, drawn);
    wr_picture_text(page, "wr_unit", wr_quantity_unit(WR_QUANTITY_HEAD, drawn->units));
    wr_picture_number(page, "wr_trigger", head_shown(triggers->differential, drawn->units));
    wr_picture_number(page, "wr_urgent", head_shown(triggers->urgent_differential, drawn->units));
    wr_page_add(page, "wr_corrected = %d\nwr_apart = %d\n", corrected, corrected || triggers->across == WR_ACROSS_BED);
    wr_picture_text(page, "wr_judged",
                    corrected                           ? "corrected"
                    : triggers->across == WR_ACROSS_BED ? "across the bed"
                                                        : "as measured");
    wr_page_add(page, "array wr_available[%zu]\n", drawn->series->filters);
    for (size_t f = 0; f < drawn->series->filters; f++)
        wr_page_add(page, "wr_available[%zu] = %s\n", f + 1,
                    wr_number_text(head_shown(plant->groups[plant->group_of[f]].available_head, drawn->units)).text);
    put_bars(page, drawn, WASHED);
    put_rows(page, drawn);
}
