/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Numbers and sizes of filters for a wanted flow: the pencil's list, and what a simulation makes of it. */

#include "sim/report/json.h"
#include "sim/report/report.h"
#include "sim/report/say.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>

/* Text ------------------------------------------------------------------------------------------------------------- */

static struct wr_phrase say_size(const struct wr_size_row *row, enum wr_units units)
{
    return wr_is_given(row->diameter) ? wr_say(WR_QUANTITY_LENGTH, row->diameter, units)
                                      : wr_say(WR_QUANTITY_AREA, row->area, units);
}

static void put_heads(struct wr_grid *grid, const char *const *heads, size_t columns)
{
    for (size_t c = 0; c < columns; c++)
        wr_grid_add(grid, "%s", heads[c]);
}

static void put_flows(struct wr_page *page, const struct wr_size *size, enum wr_units units)
{
    struct wr_grid grid = {.align = "rrrrrrrr", .heads = 2};
    const char *flow = wr_quantity_unit(WR_QUANTITY_FLOW, units), *rate = wr_quantity_unit(WR_QUANTITY_RATE, units);
    const char *area = wr_quantity_unit(WR_QUANTITY_AREA, units);
    put_heads(&grid, (const char *const[]){"filters", "size", "area", "in all", "one out", "net", "rate", "one out"},
              8);
    put_heads(&grid, (const char *const[]){"", "", area, area, flow, flow, rate, rate}, 8);
    for (size_t r = 0; r < size->count; r++) {
        const struct wr_size_row *row = &size->rows[r];
        wr_grid_add(&grid, "%zu", row->filters);
        if (!row->is_in_series) {
            wr_grid_add(&grid, "%s", "none is large enough");
            for (int c = 2; c < 8; c++)
                wr_grid_add(&grid, "%s", "-");
            continue;
        }
        wr_grid_add(&grid, "%s", say_size(row, units).text);
        wr_grid_add(&grid, "%s", wr_say_bare(WR_QUANTITY_AREA, row->area, units).text);
        wr_grid_add(&grid, "%s", wr_say_bare(WR_QUANTITY_AREA, row->area * (double)row->filters, units).text);
        wr_grid_add(&grid, "%s", wr_say_bare(WR_QUANTITY_FLOW, row->left, units).text);
        wr_grid_add(&grid, "%s", wr_say_bare(WR_QUANTITY_FLOW, row->net, units).text);
        wr_grid_add(&grid, "%s", wr_say_bare(WR_QUANTITY_RATE, row->rate, units).text);
        wr_grid_add(&grid, "%s", wr_say_bare(WR_QUANTITY_RATE, row->rate_left, units).text);
    }
    wr_page_grid(page, &grid);
}

/* Whether the others can supply a wash, and what is left of them then. */
static struct wr_phrase say_supply(const struct wr_size_row *row, double spare, enum wr_units units)
{
    struct wr_phrase phrase;
    if (spare < -1e-9 * row->left)
        snprintf(phrase.text, sizeof phrase.text, "no");
    else if (spare < 0.01 * row->left)
        snprintf(phrase.text, sizeof phrase.text, "just");
    else
        snprintf(phrase.text, sizeof phrase.text, "yes, %.40s left", wr_say_bare(WR_QUANTITY_FLOW, spare, units).text);
    return phrase;
}

static void put_washes(struct wr_page *page, const struct wr_size *size, enum wr_units units)
{
    struct wr_grid grid = {.align = "rrrrrrrll", .heads = 2};
    const char *flow = wr_quantity_unit(WR_QUANTITY_FLOW, units), *room = wr_quantity_unit(WR_QUANTITY_VOLUME, units);
    put_heads(&grid,
              (const char *const[]){"filters", "backwash", "washes", "wash tank", "of two", "spent wash", "of two",
                                    "others", "with one"},
              9);
    put_heads(&grid, (const char *const[]){"", flow, "a day", room, room, room, room, "supply it?", "out?"}, 9);
    for (size_t r = 0; r < size->count; r++) {
        const struct wr_size_row *row = &size->rows[r];
        if (!row->is_in_series)
            continue;
        wr_grid_add(&grid, "%zu", row->filters);
        wr_grid_add(&grid, "%s", wr_say_bare(WR_QUANTITY_FLOW, row->backwash, units).text);
        wr_grid_add(&grid, "%s", wr_say_few(row->washes).text);
        for (int washes = 1; washes <= 2; washes++)
            wr_grid_add(&grid, "%s", wr_say_bare(WR_QUANTITY_VOLUME, washes * row->wash, units).text);
        for (int washes = 1; washes <= 2; washes++)
            wr_grid_add(&grid, "%s", wr_say_bare(WR_QUANTITY_VOLUME, washes * row->spent, units).text);
        wr_grid_add(&grid, "%s", say_supply(row, row->spare, units).text);
        wr_grid_add(&grid, "%s", say_supply(row, row->spare_left, units).text);
    }
    wr_page_grid(page, &grid);
}

static void put_simulated(struct wr_page *page, const struct wr_size *size, enum wr_units units)
{
    struct wr_grid grid = {.align = "rrrrl", .heads = 1};
    struct wr_page s = {0};
    wr_page_heading(page, "And by simulation?");
    wr_page_add(&s,
                "The filter firm capacity of the scenario with each row's filters, everything else as it is written");
    if (size->grows_wash_tank)
        wr_page_add(&s, ", but for a wash-water tank that holds at least two washes");
    if (size->grows_spent_tanks)
        wr_page_add(&s, "%s spent-wash tanks that hold at least one each",
                    size->grows_wash_tank ? ", and" : ", but for");
    wr_page_add(&s, ". What binds may be a well, a tank or an hour: then a larger filter gives no more.");
    wr_page_flow_page(page, "  ", &s);
    wr_page_add(page, "\n");
    put_heads(&grid, (const char *const[]){"filters", "size", "firm", "of wanted", "what stops it"}, 5);
    for (size_t r = 0; r < size->count; r++) {
        const struct wr_size_row *row = &size->rows[r];
        if (!row->is_tried && row->refusal[0] == '\0')
            continue;
        wr_grid_add(&grid, "%zu", row->filters);
        wr_grid_add(&grid, "%s", say_size(row, units).text);
        if (!row->is_tried) {
            wr_grid_add(&grid, "%s", "-");
            wr_grid_add(&grid, "%s", "-");
            wr_grid_add(&grid, "%s", "refused, see below");
            continue;
        }
        const enum wr_limit limit = row->search.failing.limit;
        wr_grid_add(&grid, "%s", wr_say(WR_QUANTITY_DAILY_FLOW, row->search.firm, units).text);
        wr_grid_add(&grid, "%.0f %%", 100 * row->search.firm / size->need.flow);
        wr_grid_add(&grid, "%s",
                    limit == WR_LIMIT_NONE ? "nothing that was tried" : wr_say_key(wr_limit_row(limit)->key).text);
    }
    wr_page_grid(page, &grid);
    for (size_t r = 0; r < size->count; r++)
        if (size->rows[r].refusal[0] != '\0')
            wr_page_flow(page, "  - ", "%zu filters are refused: %s.", size->rows[r].filters, size->rows[r].refusal);
}

static void say_need(struct wr_page *page, const struct wr_size *size, enum wr_units units)
{
    const struct wr_size_need *need = &size->need;
    struct wr_page s = {0};
    wr_page_add(&s, "Sizing by the pencil, a first list: steady averages of the scenario's bed and wash.");
    wr_page_add(&s, " %s is to come, net of washes, through the filters left at an approved rate of %s.",
                wr_say(WR_QUANTITY_DAILY_FLOW, need->flow, units).text,
                wr_say(WR_QUANTITY_RATE, need->approved_rate, units).text);
    if (isfinite(need->run))
        wr_page_add(&s, " A run at that rate lasts %s; its wash takes %s of wash water and %s with its rinse.",
                    wr_say_duration(need->run).text, wr_say(WR_QUANTITY_RUN_VOLUME, need->wash_depth, units).text,
                    wr_say(WR_QUANTITY_RUN_VOLUME, need->spent_depth, units).text);
    else
        wr_page_add(&s, " No trigger ever ends a run at that rate, so that washes take nothing here.");
    wr_page_add(&s,
                " For each number of filters stands the smallest of an invented series of sizes (%s); what the wells "
                "give, waits, and tanks that are full at the wrong hour are not in it.",
                !need->round                 ? "whole steps of area"
                : need->units == WR_UNITS_SI ? "vessels in steps of 0.2 m to 4.2 m"
                                             : "vessels in half feet to 6 ft and whole feet to 14 ft");
    wr_page_flow_page(page, "  ", &s);
}

static void say_wells(struct wr_page *page, const struct wr_size *size, enum wr_units units)
{
    struct wr_page s = {0};
    wr_page_add(&s, "The scenario's wells give %s in all and %s with the largest out.",
                wr_say(WR_QUANTITY_FLOW, size->wells, units).text,
                wr_say(WR_QUANTITY_FLOW, size->wells_left, units).text);
    if (size->wells < size->need.flow)
        wr_page_add(&s, " That is less than is wanted, %s: no filter helps before there are more wells.",
                    wr_say(WR_QUANTITY_FLOW, size->need.flow, units).text);
    else if (size->wells_left < size->need.flow)
        wr_page_add(&s, " With a well out the wells bind before any of these filters: wanted is %s.",
                    wr_say(WR_QUANTITY_FLOW, size->need.flow, units).text);
    wr_page_flow_page(page, "  ", &s);
}

void wr_report_size_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_size *size,
                         enum wr_units units)
{
    wr_report_title(page, subject);
    wr_page_heading(page, "Which filters would give that with one of them out?");
    say_need(page, size, units);
    wr_page_add(page, "\n");
    put_flows(page, size, units);
    wr_page_flow(page, "  ",
                 "One out: what may pass the filters left. Net: of it, after the water of washes. Rates: at the wanted "
                 "flow, all "
                 "in and one out.");
    wr_page_heading(page, "And what do their washes want?");
    put_washes(page, size, units);
    wr_page_flow(
        page, "  ",
        "Washes a day: of the filters left, at the wanted flow. Wash tank, spent wash: room for one wash, and for two. "
        "The others supply it where what may pass them covers the backwash; where not, it comes out of a tank, "
        "which is to be full again before the next. While they supply it they give no more than what is left. Of two "
        "filters out, one washed, tells the last column.");
    if (size->simulated)
        put_simulated(page, size, units);
    wr_page_heading(page, "What else to look at");
    say_wells(page, size, units);
    if (!size->simulated)
        wr_page_flow(page, "  ", "With --simulate each row's firm capacity is searched as firm does.");
    if (size->end == WR_RUN_STOPPED)
        wr_report_interrupted(page, size->tried, size->count, "To go on, give the same call with fewer --count.");
    wr_report_caution(page);
}

/* Document --------------------------------------------------------------------------------------------------------- */

static void add_row(struct cJSON *list, const struct wr_size *size, const struct wr_size_row *row)
{
    struct cJSON *block = wr_json_block(list, NULL);
    const double none = WR_ABSENT;
    const bool is = row->is_in_series;
    wr_json_count(block, "filters", row->filters);
    wr_json_flag(block, "in_series", is);
    wr_json_number(block, "area_needed_m2", row->needed);
    wr_json_number(block, "diameter_m", is ? row->diameter : none);
    wr_json_number(block, "area_m2", is ? row->area : none);
    wr_json_number(block, "one_out_m3_per_s", is ? row->left : none);
    wr_json_number(block, "net_m3_per_s", is ? row->net : none);
    wr_json_number(block, "rate_m_per_s", is ? row->rate : none);
    wr_json_number(block, "rate_one_out_m_per_s", is ? row->rate_left : none);
    wr_json_number(block, "backwash_m3_per_s", is ? row->backwash : none);
    wr_json_number(block, "wash_m3", is ? row->wash : none);
    wr_json_number(block, "spent_wash_m3", is ? row->spent : none);
    wr_json_number(block, "washes_per_day", is ? row->washes : none);
    wr_json_number(block, "others_spare_m3_per_s", is ? row->spare : none);
    wr_json_number(block, "others_spare_one_out_m3_per_s", is ? row->spare_left : none);
    if (!size->simulated)
        return;
    wr_json_number(block, "filter_firm_m3_per_s", row->is_tried ? row->search.firm : none);
    wr_json_word(block, "limit", row->is_tried ? wr_report_limit_key(row->search.failing.limit) : NULL);
    wr_json_word(block, "refused", row->refusal[0] != '\0' ? row->refusal : NULL);
}

struct cJSON *wr_report_size_document(const struct wr_subject *subject, const struct wr_size *size)
{
    struct cJSON *document = wr_report_document(subject);
    wr_json_flag(document, "passes", wr_size_passes(size));
    wr_json_number(document, "wanted_m3_per_s", size->need.flow);
    wr_json_number(document, "approved_rate_m_per_s", size->need.approved_rate);
    wr_json_number(document, "run_s", size->need.run);
    wr_json_number(document, "wells_m3_per_s", size->wells);
    wr_json_number(document, "wells_one_out_m3_per_s", size->wells_left);
    wr_json_flag(document, "simulated", size->simulated);
    wr_json_flag(document, "interrupted", size->end == WR_RUN_STOPPED);
    if (size->end != WR_RUN_WHOLE)
        wr_json_word(document, "fault", size->message);
    struct cJSON *list = wr_json_list(document, "rows");
    for (size_t r = 0; r < size->count; r++)
        add_row(list, size, &size->rows[r]);
    return document;
}
