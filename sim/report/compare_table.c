/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Plants side by side: the table of figures, and what was changed between the scenarios. */

#include "sim/report/compare.h"
#include "sim/report/say.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Figures --------------------------------------------------------------------------------------------------------- */

struct wr_phrase wr_say_flow_figure(double flow, enum wr_units units)
{
    struct wr_phrase phrase = {"not given"};
    if (!wr_is_given(flow))
        return phrase;
    phrase = wr_say(WR_QUANTITY_DAILY_FLOW, flow, units);
    phrase.text[strcspn(phrase.text, " ")] = '\0';
    return phrase;
}

static struct wr_phrase say_limit(enum wr_limit limit)
{
    return limit != WR_LIMIT_NONE ? wr_say_key(wr_limit_row(limit)->key) : (struct wr_phrase){"none found"};
}

static struct wr_phrase filter_firm(const struct wr_compared *item, enum wr_units units)
{
    return wr_say_flow_figure(item->firm.one_out.firm, units);
}

static struct wr_phrase filter_limit(const struct wr_compared *item, enum wr_units units)
{
    (void)units;
    return say_limit(item->firm.one_out.failing.limit);
}

static struct wr_phrase plant_firm(const struct wr_compared *item, enum wr_units units)
{
    return wr_say_flow_figure(item->firm.plant_firm, units);
}

static struct wr_phrase plant_unit(const struct wr_compared *item, enum wr_units units)
{
    struct wr_page name = {0};
    struct wr_phrase phrase;
    (void)units;
    wr_page_add(&name, "%s", item->firm.units[item->firm.plant_unit].name);
    char *text = wr_page_take(&name);
    phrase = wr_say_first(text);
    free(text);
    return phrase;
}

static struct wr_phrase all_in(const struct wr_compared *item, enum wr_units units)
{
    return wr_say_flow_figure(item->firm.all_in.firm, units);
}

static struct wr_phrase nameplate(const struct wr_compared *item, enum wr_units units)
{
    return wr_say_flow_figure(item->firm.nameplate, units);
}

static struct wr_phrase approved(const struct wr_compared *item, enum wr_units units)
{
    return wr_say_flow_figure(item->firm.approved, units);
}

static struct wr_phrase maximum_day(const struct wr_compared *item, enum wr_units units)
{
    return wr_say_flow_figure(item->firm.maximum_day, units);
}

static struct wr_phrase share_used(const struct wr_compared *item, enum wr_units units)
{
    (void)units;
    return isfinite(item->firm.share_used) ? wr_say_share(item->firm.share_used) : (struct wr_phrase){"no capacity"};
}

static struct wr_phrase washes(const struct wr_compared *item, enum wr_units units)
{
    (void)units;
    return wr_say_whole((double)item->run.record.balance.washes);
}

static struct wr_phrase waited(const struct wr_compared *item, enum wr_units units)
{
    (void)units;
    return wr_say_whole((double)wr_report_waits(&item->run).washes);
}

static struct wr_phrase longest(const struct wr_compared *item, enum wr_units units)
{
    const double wait = wr_report_waits(&item->run).longest;
    (void)units;
    return wait > 0 ? wr_say_duration(wait) : (struct wr_phrase){"none"};
}

/* Waits for the plant's own rules, over all filters. */
static struct wr_phrase by_rule(const struct wr_compared *item, enum wr_units units)
{
    double total = 0;
    (void)units;
    for (int l = 0; l < WR_LIMITS; l++) {
        const struct wr_limit_row *row = wr_limit_row((enum wr_limit)l);
        if (row->holds == WR_HOLDS_WASH && row->class == WR_LIMIT_RULE)
            total += item->run.simulation.state->waits[l].first;
    }
    return total > 0 ? wr_say_duration(total) : (struct wr_phrase){"none"};
}

static struct wr_phrase pace(const struct wr_compared *item, enum wr_units units)
{
    (void)units;
    return item->run.record.balance.keeps_pace ? (struct wr_phrase){"yes"} : (struct wr_phrase){"no"};
}

static struct wr_phrase least_storage(const struct wr_compared *item, enum wr_units units)
{
    (void)units;
    return wr_say_share(item->run.record.least_storage / item->definition->storage.volume);
}

static struct wr_phrase run_passes(const struct wr_compared *item, enum wr_units units)
{
    (void)units;
    return item->run.passes ? (struct wr_phrase){"passes"} : (struct wr_phrase){"fails"};
}

/* A row of the table; one that is a flow has its unit in the head. */
static const struct {
    const char *words;
    bool is_flow;
    struct wr_phrase (*say)(const struct wr_compared *item, enum wr_units units);
} rows[] = {
    {"filter firm", true, filter_firm},
    {"  what stops it", false, filter_limit},
    {"plant firm", true, plant_firm},
    {"  unit missed most", false, plant_unit},
    {"all filters in", true, all_in},
    {"nameplate", true, nameplate},
    {"approved", true, approved},
    {"maximum day", true, maximum_day},
    {"  of filter firm", false, share_used},
    {"the run", false, run_passes},
    {"  washes made", false, washes},
    {"  washes that waited", false, waited},
    {"  longest wait", false, longest},
    {"  waits by own rules", false, by_rule},
    {"  washing keeps pace", false, pace},
    {"  lowest storage", false, least_storage},
};

/* A cell of a plant, cut to its share of the page so that the words of the rows stay whole. */
static void add_cell(struct wr_grid *grid, const char *text, size_t plants)
{
    enum { WORDS = 22, GAP = 2 };
    const size_t width = (WR_PAGE_WIDTH - WORDS) / plants - GAP;
    size_t length = 0, columns = 0, cut = 0;
    for (; text[length] != '\0'; length++)
        if (((unsigned char)text[length] & 0xc0) != 0x80 && columns++ == width - 2)
            cut = length;
    if (columns > width)
        wr_grid_add(grid, "%.*s..", (int)cut, text);
    else
        wr_grid_add(grid, "%s", text);
}

void wr_report_compare_table(struct wr_page *page, const struct wr_comparison *comparison, enum wr_units units)
{
    static const char columns[] = "lllllll"; /* what is left-aligned gives way on a narrow page */
    char align[sizeof columns];
    for (size_t c = 0; c <= comparison->count; c++)
        align[c] = columns[c];
    align[comparison->count + 1] = '\0';
    struct wr_grid grid = {.align = align, .heads = 1};
    wr_page_heading(page, "Side by side");
    wr_grid_add(&grid, "flows in %s", wr_quantity_unit(WR_QUANTITY_DAILY_FLOW, units));
    for (size_t i = 0; i < comparison->count; i++)
        wr_grid_add(&grid, "%c", wr_compared_letter(i));
    for (size_t r = 0; r < sizeof rows / sizeof *rows; r++) {
        wr_grid_add(&grid, "%s", rows[r].words);
        for (size_t i = 0; i < comparison->count; i++)
            add_cell(&grid, rows[r].say(&comparison->items[i], units).text, comparison->count);
    }
    wr_page_grid(page, &grid);
}

/* Changes --------------------------------------------------------------------------------------------------------- */

/* A long block or list is cut: the document has it whole. */
enum { SHOWN_BYTES = 200 };

static void add_written(struct wr_page *s, const char *text)
{
    int length = 0;
    while (text[length] != '\0' && length < SHOWN_BYTES)
        length++;
    while (length > 0 && text[length] != '\0' && ((unsigned char)text[length] & 0xc0) == 0x80)
        length--;
    wr_page_add(s, "%.*s%s", length, text, text[length] != '\0' ? " ..." : "");
}

/* "/filters/0/count: 3 before, now 4 (how many of them)" */
static void put_change(struct wr_page *page, const struct wr_difference *change)
{
    struct wr_page s = {0};
    wr_page_add(&s, "%s: ", change->pointer);
    if (change->before == NULL && change->default_text == NULL)
        wr_page_add(&s, "added, ");
    else {
        add_written(&s, change->before != NULL ? change->before : change->default_text);
        wr_page_add(&s, "%s", change->before != NULL ? " before, now " : " by default, now ");
    }
    if (change->after != NULL)
        add_written(&s, change->after);
    else if (change->default_text != NULL)
        wr_page_add(&s, "%s by default", change->default_text);
    else
        wr_page_add(&s, "gone");
    wr_page_add(&s, " (%s)", change->meaning);
    wr_page_flow_page(page, "  - ", &s);
}

static bool put_changes(struct wr_page *page, const struct wr_compared *item, bool of_weather)
{
    bool any = false;
    for (size_t d = 0; d < item->changes.count; d++)
        if (item->changes.items[d].is_weather == of_weather) {
            put_change(page, &item->changes.items[d]);
            any = true;
        }
    return any;
}

static bool has_weather(const struct wr_compared *item)
{
    for (size_t d = 0; d < item->changes.count; d++)
        if (item->changes.items[d].is_weather)
            return true;
    return false;
}

void wr_report_change_section(struct wr_page *page, const struct wr_comparison *comparison)
{
    wr_page_heading(page, "What was changed between the scenarios");
    for (size_t i = 1; i < comparison->count; i++) {
        const struct wr_compared *item = &comparison->items[i];
        const char x = wr_compared_letter(i);
        wr_page_flow(page, "  ", "From A to %c, titles, questions and notes aside:", x);
        if (!put_changes(page, item, false))
            wr_page_flow(page, "  - ", "nothing in the plant.");
        if (!has_weather(item))
            continue;
        if (comparison->same_weather)
            wr_page_flow(page, "  ", "What %c is asked differs as written, and was set aside: it ran as A is asked.",
                         x);
        else
            wr_page_flow(page, "  ", "What %c is asked differs too, and it ran so: its run is not A's test.", x);
        put_changes(page, item, true);
    }
}
