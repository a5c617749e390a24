/* SPDX-License-Identifier: GPL-3.0-or-later */

/* The picture of a comparison: firm capacities of plants under one another, in flows. */

#include "sim/report/compare.h"
#include "sim/report/picture.h"

#include <stdio.h>
#include <stdlib.h>

static void name_plant(struct wr_page *page, const struct wr_compared *item, size_t number)
{
    char variable[40];
    struct wr_page words = {0};
    const char *title = item->definition->title;
    snprintf(variable, sizeof variable, "wr_town[%zu]", number + 1);
    wr_page_add(&words, "%c: %s (%s)", wr_compared_letter(number), title != NULL ? title : "a plant without a title",
                item->name);
    char *text = wr_page_take(&words);
    wr_picture_text(page, variable, text);
    free(text);
}

/* A row: plant, kind, flow, and the figure in words with what is to be said of it. */
static void put_bar(struct wr_page *page, size_t number, int kind, double flow, enum wr_units units,
                    struct wr_page *remark)
{
    char *words = wr_page_take(remark);
    struct wr_page field = {0};
    wr_page_add(&field, "%s%s", wr_say(WR_QUANTITY_DAILY_FLOW, flow, units).text, words);
    char *text = wr_page_take(&field);
    wr_page_add(page, "%zu %d ", number + 1, kind);
    wr_picture_value(page, wr_quantity_shown(WR_QUANTITY_DAILY_FLOW, flow, units));
    wr_picture_field(page, text);
    wr_page_add(page, "\n");
    free(text);
    free(words);
}

static void add_limit(struct wr_page *remark, enum wr_limit limit)
{
    if (limit != WR_LIMIT_NONE)
        wr_page_add(remark, ": %s", wr_say_key(wr_limit_row(limit)->key).text);
}

static void put_plant(struct wr_page *page, const struct wr_compared *item, size_t number, enum wr_units units)
{
    const struct wr_firm *firm = &item->firm;
    const struct wr_unit_out *unit = &firm->units[firm->plant_unit];
    struct wr_page remark = {0};
    add_limit(&remark, firm->one_out.failing.limit);
    put_bar(page, number, 0, firm->one_out.firm, units, &remark);
    wr_page_add(&remark, " without %s", unit->name);
    add_limit(&remark, unit->limit);
    put_bar(page, number, 1, firm->plant_firm, units, &remark);
    put_bar(page, number, 2, firm->maximum_day, units, &remark);
}

void wr_picture_put_compare(struct wr_page *page, const struct wr_drawn *drawn, size_t count)
{
    const struct wr_comparison *comparison = drawn->comparison;
    (void)count;
    wr_picture_text(page, "wr_unit", wr_quantity_unit(WR_QUANTITY_DAILY_FLOW, drawn->units));
    wr_page_add(page, "wr_plants = %zu\narray wr_town[%zu]\n", comparison->count, comparison->count);
    for (size_t i = 0; i < comparison->count; i++)
        name_plant(page, &comparison->items[i], i);
    wr_page_add(page, "$capacities << EOD\n");
    for (size_t i = 0; i < comparison->count; i++)
        put_plant(page, &comparison->items[i], i, drawn->units);
    wr_page_add(page, "EOD\n");
}
