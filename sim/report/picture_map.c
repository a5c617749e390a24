/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The picture of a map of two numbers. */

#include "sim/report/picture.h"
#include "sim/report/say.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static double shown(const struct wr_margin *margin, double value, enum wr_units units)
{
    if (margin->figure.unit[0] == '\0')
        return value;
    return wr_quantity_shown((enum wr_quantity)margin->figure.quantity, wr_figure_si(&margin->figure, value), units);
}

/* "/raw_water/iron, mg/L" */
static void put_axis(struct wr_page *page, const char *name, const struct wr_margin *margin, enum wr_units units)
{
    char text[300];
    const bool bare = margin->figure.unit[0] == '\0';
    snprintf(text, sizeof text, "%.200s%s%s", margin->pointer, bare ? "" : ", ",
             bare ? "" : wr_quantity_unit((enum wr_quantity)margin->figure.quantity, units));
    wr_picture_text(page, name, text);
}

static void put_cells(struct wr_page *page, const struct wr_margins *margins, enum wr_units units)
{
    const struct wr_margin_map *map = &margins->map;
    wr_page_add(page, "$cells << EOD\n");
    for (size_t c = 0; c < map->columns; c++)
        for (size_t r = 0; r < map->rows; r++) {
            wr_picture_value(page, shown(&margins->items[0], map->x[c], units));
            wr_picture_value(page, shown(&margins->items[1], map->y[r], units));
            wr_page_add(page, "%d\n", map->state[c][r]);
        }
    wr_page_add(page, "EOD\n");
}

static size_t limit_number(enum wr_limit limit, size_t numbers[WR_LIMITS + 1], size_t *count)
{
    size_t *number = &numbers[limit == WR_LIMIT_NONE ? WR_LIMITS : (size_t)limit];
    if (*number == 0)
        *number = ++*count;
    return *number;
}

static size_t points_of_column(const struct wr_margin_map *map, size_t first)
{
    size_t count = 0;
    while (first + count < map->point_count && map->boundary[first + count].x <= map->boundary[first].x)
        count++;
    return count;
}

/* Points of the boundary, and lines between those of neighbouring columns where each has as many. */
static void put_boundary(struct wr_page *page, const struct wr_margins *margins, enum wr_units units)
{
    const struct wr_margin_map *map = &margins->map;
    size_t numbers[WR_LIMITS + 1] = {0}, limits = 0;
    struct wr_page words = {0}, lines = {0};
    wr_page_add(page, "$boundary << EOD\n");
    for (size_t p = 0; p < map->point_count; p++) {
        const struct wr_map_point *point = &map->boundary[p];
        const size_t before = limits, number = limit_number(point->limit, numbers, &limits);
        wr_picture_value(page, shown(&margins->items[0], point->x, units));
        wr_picture_value(page, shown(&margins->items[1], point->y, units));
        wr_page_add(page, "%zu\n", number);
        if (limits > before) {
            char name[32];
            snprintf(name, sizeof name, "wr_limit[%zu]", limits);
            wr_picture_text(&words, name,
                            point->limit == WR_LIMIT_NONE ? "no limit named" : wr_limit_row(point->limit)->words);
        }
    }
    wr_page_add(page, "EOD\n");
    const double step = map->columns > 1 ? map->x[1] - map->x[0] : 0;
    for (size_t first = 0; first < map->point_count;) {
        const size_t here = points_of_column(map, first), next = first + here;
        const bool follows = next < map->point_count && map->boundary[next].x - map->boundary[first].x < 1.5 * step;
        for (size_t k = 0; follows && points_of_column(map, next) == here && k < here; k++) {
            wr_picture_value(&lines, shown(&margins->items[0], map->boundary[first + k].x, units));
            wr_picture_value(&lines, shown(&margins->items[1], map->boundary[first + k].y, units));
            wr_page_add(&lines, "\n");
            wr_picture_value(&lines, shown(&margins->items[0], map->boundary[next + k].x, units));
            wr_picture_value(&lines, shown(&margins->items[1], map->boundary[next + k].y, units));
            wr_page_add(&lines, "\n\n");
        }
        first = next;
    }
    char *line_text = wr_page_take(&lines), *word_text = wr_page_take(&words);
    wr_page_add(page, "$lines << EOD\n%sEOD\nwr_limits = %zu\narray wr_limit[%zu]\n%s", line_text, limits,
                limits > 0 ? limits : 1, word_text);
    free(line_text);
    free(word_text);
}

void wr_picture_put_map(struct wr_page *page, const struct wr_drawn *drawn, size_t count)
{
    (void)count;
    const struct wr_margins *margins = drawn->margins;
    const struct wr_margin *x = &margins->items[0], *y = &margins->items[1];
    const struct wr_margin_map *map = &margins->map;
    struct wr_page judged = {0};
    wr_report_verdict(&judged, margins->verdict, &margins->plant);
    char *words = wr_page_take(&judged);
    wr_picture_text(page, "wr_judged", words);
    free(words);
    put_axis(page, "wr_x", x, drawn->units);
    put_axis(page, "wr_y", y, drawn->units);
    wr_picture_number(page, "wr_now_x", shown(x, x->figure.value, drawn->units));
    wr_picture_number(page, "wr_now_y", shown(y, y->figure.value, drawn->units));
    wr_picture_number(page, "wr_least_x", shown(x, map->x[0], drawn->units));
    wr_picture_number(page, "wr_most_x", shown(x, map->x[map->columns - 1], drawn->units));
    wr_picture_number(page, "wr_least_y", shown(y, map->y[0], drawn->units));
    wr_picture_number(page, "wr_most_y", shown(y, map->y[map->rows - 1], drawn->units));
    wr_page_add(page, "wr_columns = %zu\nwr_rows = %zu\n", map->columns, map->rows);
    put_cells(page, margins, drawn->units);
    put_boundary(page, margins, drawn->units);
}
