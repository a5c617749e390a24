/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/report.h"
#include "sim/report/say.h"
#include "sim/study/largest.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A value of the number asked about, in the units of the report. */
static struct wr_phrase say_value(const struct wr_margin *margin, double value, enum wr_units units)
{
    const enum wr_quantity quantity = (enum wr_quantity)margin->figure.quantity;
    if (margin->figure.is_whole)
        return wr_say_whole(value);
    return wr_say_digits(quantity, wr_figure_si(&margin->figure, value), units);
}

/* What judges, to go on from "judged by". */
void wr_report_verdict(struct wr_page *s, enum wr_verdict verdict, const struct wr_plant *plant)
{
    if (verdict == WR_VERDICT_RUN)
        wr_page_add(s, "the scenario's own run, from its start to its horizon");
    else
        wr_page_add(s, "the maximum day on every day of a year, with %s%s, as firm tries a demand",
                    verdict == WR_VERDICT_FIRM ? plant->names[wr_largest_filter(plant)] : "every unit",
                    verdict == WR_VERDICT_FIRM ? " out of service" : " in service");
}

/* What went wrong first, to go on from "just above, ". */
void wr_report_failure(struct wr_page *s, const struct wr_plant *plant, const struct wr_rung *rung)
{
    const char *where = wr_report_where(plant, rung->where);
    if (rung->finding >= WR_FINDINGS)
        return;
    wr_page_add(s, "%s", wr_finding_row(rung->finding)->words);
    if (rung->finding == WR_FINDING_NOT_RETURNING && rung->at <= 0)
        wr_page_add(s, " at any time");
    else
        wr_page_add(s, rung->finding == WR_FINDING_NOT_RETURNING ? ", where it last stood on %s" : ", first on %s",
                    wr_say_moment(plant->definition->start, rung->at).text);
    wr_page_add(s, "%s%s", where != NULL ? ", at " : "", where != NULL ? where : "");
    if (rung->limit != WR_LIMIT_NONE)
        wr_page_add(s, ". What stops it there: %s. What would lift that: %s", wr_limit_row(rung->limit)->words,
                    wr_limit_row(rung->limit)->lift);
    wr_page_add(s, ".");
}

/* The way between two values as a share of the first: "37 % more". */
static void say_way(struct wr_page *s, double from, double to)
{
    if (from > 0)
        wr_page_add(s, " (%s %s)", wr_say_share(fabs(to - from) / from).text, to > from ? "more" : "less");
}

static void say_end_of_ladder(struct wr_page *s, const struct wr_margin *margin, const struct wr_margin_side *side,
                              bool up, enum wr_units units)
{
    const double last = side->rungs > 0 ? side->ladder[side->rungs - 1].value : margin->figure.value;
    wr_page_add(s, "%s %s %s, ", margin->now.passes ? "it passes" : "it fails", up ? "up to" : "down to",
                say_value(margin, last, units).text);
    if (side->is_bound)
        wr_page_add(s, "beyond which the scenario does not go; %s.", side->refusal);
    else
        wr_page_add(s, "the %s that was tried.", up ? "most" : "least");
}

static void say_side(struct wr_page *s, const struct wr_margins *margins, const struct wr_margin *margin, bool up,
                     enum wr_units units)
{
    const struct wr_margin_side *side = up ? &margin->up : &margin->down;
    wr_page_add(s, " %s: ", up ? "More" : "Less");
    if (side->rungs == 0 && !side->is_bound) {
        wr_page_add(s, "not tried.");
        return;
    }
    if (!side->changes) {
        say_end_of_ladder(s, margin, side, up, units);
        return;
    }
    const double pass = margin->now.passes ? side->near : side->far;
    wr_page_add(s, "it passes %s %s", margin->now.passes ? (up ? "up to" : "down to") : "from",
                say_value(margin, pass, units).text);
    say_way(s, margin->figure.value, pass);
    wr_page_add(s, "%s. Just %s, ",
                margin->now.passes ? ""
                : up               ? " up"
                                   : " down",
                up == margin->now.passes ? "above" : "below");
    wr_report_failure(s, &margins->plant, &side->failing);
    if (side->returns > 0)
        wr_page_add(s, " Beyond, pass and fail alternate: %s on the ladder.",
                    wr_say_count(side->returns, "further change", "further changes").text);
}

/* The ladder from the least value to the most: + passes, - fails, in brackets the value of now. */
static void put_strip(struct wr_page *page, const struct wr_margin *margin, enum wr_units units)
{
    char strip[2 * WR_MARGIN_RUNGS + 4];
    size_t length = 0;
    for (size_t r = margin->down.rungs; r-- > 0;)
        strip[length++] = margin->down.ladder[r].passes ? '+' : '-';
    strip[length++] = '(';
    strip[length++] = margin->now.passes ? '+' : '-';
    strip[length++] = ')';
    for (size_t r = 0; r < margin->up.rungs; r++)
        strip[length++] = margin->up.ladder[r].passes ? '+' : '-';
    strip[length] = '\0';
    const double now = margin->figure.value;
    const double least = margin->down.rungs > 0 ? margin->down.ladder[margin->down.rungs - 1].value : now;
    const double most = margin->up.rungs > 0 ? margin->up.ladder[margin->up.rungs - 1].value : now;
    wr_page_add(page, "     %s  ", say_value(margin, least, units).text);
    wr_page_add(page, "%s  %s\n", strip, say_value(margin, most, units).text);
}

static void put_margin(struct wr_page *page, const struct wr_margins *margins, size_t place, enum wr_units units)
{
    const struct wr_margin *margin = &margins->items[margins->ranked[place]];
    struct wr_page s = {0};
    char lead[32];
    snprintf(lead, sizeof lead, "  %zu. ", place + 1);
    wr_page_add(&s, "%s is %s%s.", margin->pointer, say_value(margin, margin->figure.value, units).text,
                margin->figure.is_default ? " where the scenario leaves it out" : "");
    say_side(&s, margins, margin, true, units);
    say_side(&s, margins, margin, false, units);
    wr_page_flow_page(page, lead, &s);
    put_strip(page, margin, units);
}

static const struct wr_margin_side *nearer(const struct wr_margin *margin)
{
    const double now = margin->figure.value;
    if (!margin->up.changes || !margin->down.changes)
        return margin->up.changes ? &margin->up : &margin->down;
    return margin->up.far - now <= now - margin->down.far ? &margin->up : &margin->down;
}

static void put_row(struct wr_grid *grid, const struct wr_margin *margin, enum wr_units units)
{
    const struct wr_margin_side *side = nearer(margin);
    wr_grid_add(grid, "%s", margin->pointer);
    wr_grid_add(grid, "%s", say_value(margin, margin->figure.value, units).text);
    if (!side->changes) {
        wr_grid_add(grid, "none found");
        wr_grid_add(grid, " ");
        wr_grid_add(grid, " ");
        return;
    }
    wr_grid_add(grid, "%s", say_value(margin, margin->now.passes ? side->near : side->far, units).text);
    wr_grid_add(grid, "%s%s", side->far > margin->figure.value ? "+" : "-", wr_say_share(margin->nearest).text);
    const char *key = wr_report_limit_key(side->failing.limit);
    wr_grid_add(grid, "%s",
                key != NULL                           ? wr_say_key(key).text
                : side->failing.finding < WR_FINDINGS ? wr_say_key(wr_finding_row(side->failing.finding)->key).text
                                                      : "");
}

static void put_table(struct wr_page *page, const struct wr_margins *margins, enum wr_units units)
{
    struct wr_grid grid = {.align = "lrrrl", .heads = 1};
    wr_page_heading(page, "Nearest to its limit first");
    wr_grid_add(&grid, "number");
    wr_grid_add(&grid, "now");
    wr_grid_add(&grid, margins->passes ? "passes to" : "passes from");
    wr_grid_add(&grid, "away");
    wr_grid_add(&grid, "what stops it");
    for (size_t i = 0; i < margins->count; i++)
        put_row(&grid, &margins->items[margins->ranked[i]], units);
    wr_page_grid(page, &grid);
}

/* The map as letters, the second number upwards. */
static void put_map(struct wr_page *page, const struct wr_margins *margins, enum wr_units units)
{
    const struct wr_margin_map *map = &margins->map;
    const struct wr_margin *x = &margins->items[0], *y = &margins->items[1];
    if (!margins->has_map || map->columns == 0)
        return;
    wr_page_heading(page, "Both together");
    wr_page_flow(page, "  ", "+ passes, - fails, blank where the scenario allows none. Upwards: %s. To the right: %s.",
                 y->pointer, x->pointer);
    for (size_t r = map->rows; r-- > 0;) {
        wr_page_add(page, "  %14s |", say_value(y, map->y[r], units).text);
        for (size_t c = 0; c < map->columns; c++)
            wr_page_add(page, " %c", map->state[c][r] < 0 ? ' ' : map->state[c][r] > 0 ? '+' : '-');
        wr_page_add(page, "\n");
    }
    wr_page_add(page, "  %14s  %s", "", say_value(x, map->x[0], units).text);
    wr_page_add(page, " to %s\n", say_value(x, map->x[map->columns - 1], units).text);
}

void wr_report_interrupted(struct wr_page *page, size_t done, size_t asked, const char *how_to_go_on)
{
    wr_page_heading(page, "Interrupted");
    wr_page_flow(page, "  ", "%zu of %zu are done and kept. %s", done, asked, how_to_go_on);
}

static bool moves_raw_water(const struct wr_margins *margins)
{
    static const char raw_water[] = "/raw_water/";
    for (size_t i = 0; i < margins->count; i++)
        if (strncmp(margins->items[i].pointer, raw_water, sizeof raw_water - 1) == 0)
            return true;
    return false;
}

void wr_report_margins_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_margins *margins,
                            enum wr_units units)
{
    struct wr_page s = {0};
    wr_report_title(page, subject);
    wr_page_heading(page, margins->passes ? "How bad may each number get before the plant no longer passes?"
                                          : "What would each number have to be for the plant to pass?");
    wr_page_add(&s, "As it stands the plant %s, judged by ", margins->passes ? "passes" : "fails");
    wr_report_verdict(&s, margins->verdict, &margins->plant);
    wr_page_add(&s, ".");
    if (!margins->passes && margins->count > 0) {
        wr_page_add(&s, " What goes wrong: ");
        wr_report_failure(&s, &margins->plant, &margins->items[0].now.rung);
    }
    wr_page_add(&s, " Each number was moved alone, everything else as written%s.",
                moves_raw_water(margins) ? ", observed runs among it" : "");
    wr_page_flow_page(page, "  ", &s);
    if (margins->count > 1)
        put_table(page, margins, units);
    if (margins->count > 0)
        wr_page_heading(page, "Each number, more and less");
    for (size_t i = 0; i < margins->count; i++)
        put_margin(page, margins, i, units);
    if (margins->count > 0)
        wr_page_flow(page, "  ",
                     "Under each: the values tried, from the least to the most; + passes, - fails, in "
                     "brackets as it stands. Limits are found to 1 part in ten million.");
    put_map(page, margins, units);
    if (margins->end == WR_RUN_STOPPED)
        wr_report_interrupted(page, margins->count, margins->asked,
                              "To go on, ask for the others with the same options.");
    wr_report_caution(page);
}
