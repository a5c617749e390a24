/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Demand that grows, year by year, against what the plant can promise. */

#include "sim/report/compare.h"
#include "sim/report/json.h"
#include "sim/report/say.h"

#include <math.h>
#include <string.h>

/* Further ahead nobody plans, and a table of more lines nobody reads. */
enum { YEARS_MOST = 40 };

static const char *const names[WR_GROWTH_CAPACITIES] = {[WR_GROWTH_FILTER_FIRM] = "filter firm capacity",
                                                        [WR_GROWTH_PLANT_FIRM] = "plant firm capacity",
                                                        [WR_GROWTH_APPROVED] = "approved capacity"};

static bool has(const struct wr_growth *growth, int capacity)
{
    return wr_is_given(growth->years[capacity][0]);
}

/* Document -------------------------------------------------------------------------------------------------------- */

static void put_capacity(struct cJSON *list, const struct wr_growth *growth, int capacity)
{
    static const char *const keys[WR_GROWTH_CAPACITIES] = {[WR_GROWTH_FILTER_FIRM] = "filter_firm",
                                                           [WR_GROWTH_PLANT_FIRM] = "plant_firm",
                                                           [WR_GROWTH_APPROVED] = "approved"};
    struct cJSON *block = wr_json_block(list, NULL);
    wr_json_word(block, "capacity", keys[capacity]);
    wr_json_number(block, "capacity_m3_per_s", growth->capacity[capacity]);
    struct cJSON *reached = wr_json_list(block, "reached");
    for (size_t m = 0; has(growth, capacity) && m < WR_GROWTH_MARKS; m++) {
        struct cJSON *mark = wr_json_block(reached, NULL);
        wr_json_number(mark, "share", wr_growth_mark(m));
        wr_json_number(mark, "years", growth->years[capacity][m]);
        wr_json_number(mark, "first_year", wr_growth_first_year(growth, (enum wr_growth_capacity)capacity, m));
    }
}

/* The last year of the table: every capacity is passed, or it is far enough ahead. */
static int last_year(const struct wr_growth *growth)
{
    int last = growth->year;
    for (int c = 0; c < WR_GROWTH_CAPACITIES; c++)
        if (has(growth, c)) {
            const int year = wr_growth_first_year(growth, (enum wr_growth_capacity)c, WR_GROWTH_MARKS - 1);
            last = year > last ? year : last;
        }
    return last < growth->year + YEARS_MOST ? last : growth->year + YEARS_MOST;
}

struct cJSON *wr_report_growth_document(const struct wr_subject *subject, const struct wr_firm *firm,
                                        const struct wr_growth *growth)
{
    struct cJSON *document = wr_report_document(subject);
    if (firm->end != WR_RUN_WHOLE) {
        wr_json_word(document, "fault", firm->message);
        return document;
    }
    wr_json_flag(document, "passes", firm->passes);
    wr_json_number(document, "growth_per_year", growth->rate);
    wr_json_number(document, "first_year", growth->year);
    wr_json_number(document, "maximum_day_m3_per_s", growth->demand);
    struct cJSON *list = wr_json_list(document, "capacities");
    for (int c = 0; c < WR_GROWTH_CAPACITIES; c++)
        put_capacity(list, growth, c);
    struct cJSON *years = wr_json_list(document, "years");
    for (int year = growth->year; year <= last_year(growth); year++) {
        struct cJSON *row = wr_json_block(years, NULL);
        wr_json_number(row, "year", year);
        wr_json_number(row, "maximum_day_m3_per_s", wr_growth_after(growth->demand, growth->rate, year - growth->year));
    }
    return document;
}

/* Text ------------------------------------------------------------------------------------------------------------ */

/* "in 2030 (after 3.5 years)", "already in 2026" */
static void say_reached(struct wr_page *s, const struct wr_growth *growth, int capacity, size_t mark)
{
    const double years = growth->years[capacity][mark];
    if (years <= 0)
        wr_page_add(s, "already in %d", growth->year);
    else
        wr_page_add(s, "in %d (after %.1f years)",
                    wr_growth_first_year(growth, (enum wr_growth_capacity)capacity, mark), years);
}

static void put_answer(struct wr_page *page, const struct wr_growth *growth, int capacity, enum wr_units units)
{
    struct wr_page s = {0};
    wr_page_add(&s, "The %s ", names[capacity]);
    if (!has(growth, capacity)) {
        wr_page_add(&s, capacity == WR_GROWTH_APPROVED ? "is not given." : "is nothing: no demand is met.");
        wr_page_flow_page(page, "  - ", &s);
        return;
    }
    wr_page_add(&s, "of %s:", wr_say(WR_QUANTITY_DAILY_FLOW, growth->capacity[capacity], units).text);
    for (size_t m = 0; m < WR_GROWTH_MARKS; m++) {
        wr_page_add(&s, "%s %s of it is reached ", m > 0 ? "," : "", wr_say_share(wr_growth_mark(m)).text);
        say_reached(&s, growth, capacity, m);
    }
    wr_page_add(&s, ".");
    wr_page_flow_page(page, "  - ", &s);
}

static void put_share(struct wr_grid *grid, const struct wr_growth *growth, int capacity, double demand)
{
    wr_grid_add(grid, "%s", wr_say_share(demand / growth->capacity[capacity]).text);
}

static void put_years(struct wr_page *page, const struct wr_growth *growth, enum wr_units units)
{
    static const char *const heads[] = {"of filter firm", "of plant firm", "of approved"};
    char align[8] = "lr";
    for (int c = 0; c < WR_GROWTH_CAPACITIES; c++)
        if (has(growth, c))
            strcat(align, "r");
    struct wr_grid grid = {.align = align, .heads = 1};
    wr_page_heading(page, "Year by year");
    wr_grid_add(&grid, "year");
    wr_grid_add(&grid, "maximum day, %s", wr_quantity_unit(WR_QUANTITY_DAILY_FLOW, units));
    for (int c = 0; c < WR_GROWTH_CAPACITIES; c++)
        if (has(growth, c))
            wr_grid_add(&grid, "%s", heads[c]);
    for (int year = growth->year; year <= last_year(growth); year++) {
        const double demand = wr_growth_after(growth->demand, growth->rate, year - growth->year);
        wr_grid_add(&grid, "%d", year);
        wr_grid_add(&grid, "%s", wr_say_flow_figure(demand, units).text);
        for (int c = 0; c < WR_GROWTH_CAPACITIES; c++)
            if (has(growth, c))
                put_share(&grid, growth, c, demand);
    }
    wr_page_grid(page, &grid);
}

void wr_report_growth_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_firm *firm,
                           const struct wr_growth *growth, enum wr_units units)
{
    wr_report_title(page, subject);
    wr_page_heading(page, "When does growing demand catch up with what the plant can promise?");
    wr_page_flow(page, "  ",
                 "The maximum day is %s in %d and grows by %s every year, each on the one before. A year counts as "
                 "reaching a mark when its maximum day is at least that much.",
                 wr_say(WR_QUANTITY_DAILY_FLOW, growth->demand, units).text, growth->year,
                 wr_say_share(growth->rate).text);
    for (int c = 0; c < WR_GROWTH_CAPACITIES; c++)
        put_answer(page, growth, c, units);
    wr_page_flow(page, "  ",
                 "Filter firm capacity is what the plant delivers on every day of a repeated maximum day with its "
                 "largest filter out; plant firm capacity the least of that with any one unit out that something "
                 "stands in for. 75 and 90 %% are marks to plan ahead by; common practice, no source.");
    if (!firm->today.passes && firm->today.finding < WR_FINDINGS && firm->share_used <= 1)
        wr_page_flow(page, "  ",
                     "Yet the maximum day of %d itself fails with a filter out: %s. Pass and fail alternate below the "
                     "firm capacity, so a year below a mark is not sure to pass; ask firm at its demand.",
                     growth->year, wr_finding_row(firm->today.finding)->words);
    put_years(page, growth, units);
    wr_page_add(page, "\n");
    wr_page_flow(page, "", "This is a simulation of the plant described, not an approved or guaranteed capacity.");
    wr_report_caution(page);
}
