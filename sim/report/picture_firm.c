/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Pictures of firm capacities: the ladder of demands, and capacities side by side. */

#include "sim/report/picture.h"
#include "sim/report/say.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static double shown(double flow, enum wr_units units)
{
    return wr_is_given(flow) ? wr_quantity_shown(WR_QUANTITY_DAILY_FLOW, flow, units) : WR_ABSENT;
}

/* The ladder ------------------------------------------------------------------------------------------------------ */

/* The row of the picture that a rung stands in: 1 where it passes, then one for each limit that a failure was laid to.
 */
static size_t row_of(const struct wr_rung *rung, const size_t rows_of[WR_LIMITS + 1])
{
    return rung->passes ? 1 : rows_of[rung->limit == WR_LIMIT_NONE ? WR_LIMITS : rung->limit];
}

static void name_row(struct wr_page *page, size_t row, const char *words)
{
    char variable[40];
    snprintf(variable, sizeof variable, "wr_row[%zu]", row);
    wr_picture_text(page, variable, words);
}

/* Numbers the limits that the rungs of a search failed by, in the order in which they come. */
static void number_rows(const struct wr_search *search, size_t rows_of[WR_LIMITS + 1], size_t *rows)
{
    for (size_t r = 0; r < search->rungs; r++) {
        const struct wr_rung *rung = &search->ladder[r];
        size_t *row = &rows_of[rung->limit == WR_LIMIT_NONE ? WR_LIMITS : rung->limit];
        if (!rung->passes && *row == 0)
            *row = ++*rows;
    }
}

/* Demand, row, and 0 for a rung that passes, 1 for a capacity failure, 2 for a low-flow failure. */
static void put_rungs(struct wr_page *page, const char *block, const struct wr_search *search,
                      const size_t rows_of[WR_LIMITS + 1], enum wr_units units)
{
    wr_page_add(page, "$%s << EOD\n", block);
    for (size_t r = 0; r < search->rungs; r++) {
        const struct wr_rung *rung = &search->ladder[r];
        wr_picture_value(page, shown(rung->demand, units));
        wr_page_add(page, "%zu %d\n", row_of(rung, rows_of), rung->passes ? 0 : rung->low_flow ? 2 : 1);
    }
    wr_page_add(page, "EOD\n");
}

void wr_picture_put_ladder(struct wr_page *page, const struct wr_drawn *drawn, size_t count)
{
    (void)count;
    const struct wr_firm *firm = drawn->firm;
    size_t rows_of[WR_LIMITS + 1] = {0}, rows = 1;
    number_rows(&firm->one_out, rows_of, &rows);
    number_rows(&firm->all_in, rows_of, &rows);
    wr_page_add(page, "wr_rows = %zu\narray wr_row[%zu]\n", rows, rows);
    name_row(page, 1, "passes");
    for (int l = 0; l <= WR_LIMITS; l++)
        if (rows_of[l] > 0)
            name_row(page, rows_of[l], l < WR_LIMITS ? wr_limit_row((enum wr_limit)l)->words : "fails");
    wr_picture_text(page, "wr_unit", wr_quantity_unit(WR_QUANTITY_DAILY_FLOW, drawn->units));
    wr_picture_text(page, "wr_unit_out", firm->unit_name);
    wr_picture_number(page, "wr_firm", shown(firm->one_out.firm, drawn->units));
    wr_picture_text(page, "wr_firm_text", wr_say(WR_QUANTITY_DAILY_FLOW, firm->one_out.firm, drawn->units).text);
    wr_picture_number(page, "wr_maximum_day", shown(firm->maximum_day, drawn->units));
    wr_picture_text(page, "wr_maximum_day_text", wr_say(WR_QUANTITY_DAILY_FLOW, firm->maximum_day, drawn->units).text);
    size_t low_flow = 0;
    for (size_t r = 0; r < firm->one_out.rungs; r++)
        low_flow += firm->one_out.ladder[r].low_flow;
    wr_page_add(page, "wr_low_flow = %zu\n", low_flow);
    put_rungs(page, "out", &firm->one_out, rows_of, drawn->units);
    put_rungs(page, "all", &firm->all_in, rows_of, drawn->units);
}

/* Capacities ------------------------------------------------------------------------------------------------------ */

static void put_plant(struct wr_page *page, size_t place, const struct wr_definition *definition)
{
    char variable[40];
    snprintf(variable, sizeof variable, "wr_town[%zu]", place);
    wr_picture_text(page, variable, definition->title != NULL ? definition->title : "A plant without a title");
}

/* A row: plant, kind, share of the nameplate in percent, the figure in words. */
static void put_capacity(struct wr_page *page, size_t place, int kind, double flow, const struct wr_drawn *drawn)
{
    wr_page_add(page, "%zu %d ", place, kind);
    wr_picture_value(page, 100 * flow / drawn->firm->nameplate);
    wr_picture_field(page, wr_say(WR_QUANTITY_DAILY_FLOW, flow, drawn->units).text);
    wr_page_add(page, "\n");
}

void wr_picture_put_capacities(struct wr_page *page, const struct wr_drawn *drawn, size_t count)
{
    wr_page_add(page, "wr_plants = %zu\narray wr_town[%zu]\n", count, count);
    for (size_t i = 0; i < count; i++)
        put_plant(page, i + 1, drawn[i].definition);
    wr_page_add(page, "$capacities << EOD\n");
    for (size_t i = 0; i < count; i++) {
        const struct wr_firm *firm = drawn[i].firm;
        const double flows[] = {firm->nameplate, firm->one_out.firm, firm->plant_firm, firm->maximum_day};
        for (int kind = 0; kind < 4; kind++)
            put_capacity(page, i + 1, kind, flows[kind], &drawn[i]);
    }
    wr_page_add(page, "EOD\n");
}
