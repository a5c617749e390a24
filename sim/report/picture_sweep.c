/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The picture of a sweep: numbers over the first axis, a line for each combination of the others. */

#include "sim/report/picture.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PANELS = 3, SERIES = 6 };

static bool is_number(const struct wr_sweep *sweep, size_t figure)
{
    for (size_t p = sweep->first; p < sweep->first + sweep->count; p++)
        if (sweep->points[p].cells[figure].kind == WR_CELL_NUMBER)
            return true;
    return false;
}

bool wr_picture_of_sweep(const struct wr_sweep *sweep)
{
    for (size_t f = 0; f < sweep->figure_count; f++)
        if (is_number(sweep, f))
            return true;
    return false;
}

/* The combination of the other axes that a point is of, from 0. */
static size_t series_of(const struct wr_sweep *sweep, size_t point)
{
    size_t series = 0;
    for (size_t a = 1; !sweep->in_step && a < sweep->axis_count; a++)
        series = series * sweep->axes[a].count + wr_sweep_place(sweep, point, a);
    return series;
}

static void put_series(struct wr_page *page, const struct wr_sweep *sweep, size_t count)
{
    for (size_t s = 0; s < count; s++) {
        char name[32], words[200] = "";
        for (size_t p = 0; p < sweep->total; p++) {
            if (series_of(sweep, p) != s)
                continue;
            for (size_t a = 1; !sweep->in_step && a < sweep->axis_count; a++) {
                const size_t length = strlen(words);
                snprintf(words + length, sizeof words - length, "%s%s %s", a > 1 ? ", " : "",
                         strrchr(sweep->axes[a].pointer, '/') + 1, wr_sweep_value(sweep, p, a));
            }
            break;
        }
        snprintf(name, sizeof name, "wr_serie[%zu]", s + 1);
        wr_picture_text(page, name, words);
    }
}

/* Values of the first axis: places on it, or numbers where all are numbers in one unit. */
static bool is_scale(const struct wr_axis *axis)
{
    char unit[WR_FIGURE_UNIT], first[WR_FIGURE_UNIT];
    double value;
    if (!wr_figure_split(axis->values[0], &value, first))
        return false;
    for (size_t v = 1; v < axis->count; v++)
        if (!wr_figure_split(axis->values[v], &value, unit) || strcmp(unit, first) != 0)
            return false;
    return true;
}

static double place_on(const struct wr_axis *axis, size_t v, bool scale)
{
    char unit[WR_FIGURE_UNIT];
    double value = (double)v + 1;
    if (scale)
        wr_figure_split(axis->values[v], &value, unit);
    return value;
}

static void put_axis(struct wr_page *page, const struct wr_axis *axis, bool scale)
{
    char unit[WR_FIGURE_UNIT] = "", text[300];
    double value;
    if (scale)
        wr_figure_split(axis->values[0], &value, unit);
    snprintf(text, sizeof text, "%.200s%s%s", axis->pointer, unit[0] != '\0' ? ", " : "", unit);
    wr_picture_text(page, "wr_x", text);
    wr_page_add(page, "wr_names = %d\n$names << EOD\n", scale ? 0 : (int)axis->count);
    for (size_t v = 0; v < axis->count; v++) {
        wr_picture_value(page, place_on(axis, v, scale));
        wr_picture_field(page, axis->values[v]);
        wr_page_add(page, "\n");
    }
    wr_page_add(page, "EOD\n");
}

/* The points of one combination, so that lines run through them. */
static void put_rows_of(struct wr_page *page, const struct wr_sweep *sweep, size_t series, const size_t *panels,
                        size_t panel_count)
{
    const bool scale = is_scale(&sweep->axes[0]);
    for (size_t p = sweep->first; p < sweep->first + sweep->count; p++) {
        const struct wr_sweep_point *point = &sweep->points[p];
        if (series_of(sweep, p) != series)
            continue;
        wr_picture_value(page, place_on(&sweep->axes[0], wr_sweep_place(sweep, p, 0), scale));
        wr_page_add(page, "%zu %d ", series_of(sweep, p) + 1, point->passes ? 1 : 0);
        for (size_t f = 0; f < panel_count; f++) {
            const struct wr_cell *cell = &point->cells[panels[f]];
            wr_picture_value(page, cell->kind == WR_CELL_NUMBER ? cell->number : WR_ABSENT);
        }
        wr_page_add(page, "\n");
    }
}

void wr_picture_put_sweep(struct wr_page *page, const struct wr_drawn *drawn, size_t count)
{
    (void)count;
    const struct wr_sweep *sweep = drawn->sweep;
    size_t panels[PANELS], panel_count = 0, series = 1;
    for (size_t f = 0; f < sweep->figure_count && panel_count < PANELS; f++)
        if (is_number(sweep, f))
            panels[panel_count++] = f;
    for (size_t a = 1; !sweep->in_step && a < sweep->axis_count; a++)
        series *= sweep->axes[a].count;
    wr_page_add(page, "wr_panels = %zu\narray wr_panel[%zu]\n", panel_count, panel_count);
    for (size_t f = 0; f < panel_count; f++) {
        char name[32];
        snprintf(name, sizeof name, "wr_panel[%zu]", f + 1);
        wr_picture_text(page, name, sweep->figures[panels[f]]);
    }
    wr_page_add(page, "wr_series_all = %zu\nwr_series = %zu\narray wr_serie[%d]\n", series,
                series < SERIES ? series : (size_t)SERIES, SERIES);
    put_series(page, sweep, series < SERIES ? series : (size_t)SERIES);
    put_axis(page, &sweep->axes[0], is_scale(&sweep->axes[0]));
    wr_page_add(page, "$rows << EOD\n");
    for (size_t s = 0; s < series && s < SERIES; s++)
        put_rows_of(page, sweep, s, panels, panel_count);
    wr_page_add(page, "EOD\n");
}
