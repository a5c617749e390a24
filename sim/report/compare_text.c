/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Plants side by side in sentences, for readers who decide and do not run the plant. */

#include "sim/report/compare.h"
#include "sim/report/say.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A simulation that gives less than this share of what the nameplate promises more is worth a sentence. */
static const double NAMEPLATE_KEPT = 0.75;

/* A capacity that grows by more than this share was next to none, and the share says nothing. */
static const double MOST_SHARE = 3;

/* Half a month is no gain of years. */
static const double LEAST_YEARS = 0.05;

/* Where sentences on one plant against the first are gathered. */
struct telling {
    struct wr_page s;
    const struct wr_compared *first, *item;
    struct wr_against against;
    char a, x; /* their letters */
    enum wr_units units;
};

static struct wr_phrase say_flow(double flow, enum wr_units units)
{
    return wr_say(WR_QUANTITY_DAILY_FLOW, flow, units);
}

static const char *title_of(const struct wr_compared *item)
{
    return item->definition->title != NULL ? item->definition->title : "a plant without a title";
}

static const char *limit_words(enum wr_limit limit)
{
    return limit != WR_LIMIT_NONE ? wr_limit_row(limit)->words : "nothing that was tried";
}

/* Firm capacities ------------------------------------------------------------------------------------------------- */

/* "0.1831 Mgal/d (47 %) more than A's 0.3855 Mgal/d" */
static void say_change(struct telling *t, double before, double change, bool moves)
{
    if (!moves) {
        wr_page_add(&t->s, "%s as %c's %s", change == 0 ? "the same" : "practically the same", t->a,
                    say_flow(before, t->units).text);
        return;
    }
    wr_page_add(&t->s, "%s", say_flow(fabs(change), t->units).text);
    if (before > 0 && change < MOST_SHARE * before)
        wr_page_add(&t->s, " (%s)", wr_say_share(fabs(change) / before).text);
    wr_page_add(&t->s, " %s than %c's %s", change > 0 ? "more" : "less", t->a, say_flow(before, t->units).text);
}

static void say_limits(struct telling *t)
{
    const enum wr_limit before = t->first->firm.one_out.failing.limit, after = t->item->firm.one_out.failing.limit;
    if (before == after)
        wr_page_add(&t->s, " What stops it from promising more is the same as before: %s.", limit_words(after));
    else
        wr_page_add(&t->s, " What stops it moves. With %c: %s. With %c: %s.", t->a, limit_words(before), t->x,
                    limit_words(after));
    if (after != WR_LIMIT_NONE)
        wr_page_add(&t->s, " What would lift that in %c: %s.", t->x, wr_limit_row(after)->lift);
}

static void tell_filter_firm(struct telling *t)
{
    wr_page_add(&t->s, "With its largest filter out of service, %c can promise %s every day: ", t->x,
                say_flow(t->item->firm.one_out.firm, t->units).text);
    say_change(t, t->first->firm.one_out.firm, t->against.filter_firm, t->against.filter_firm_moves);
    wr_page_add(&t->s, ".");
    say_limits(t);
}

/* What a sum of filter areas would have promised, where washing or wells keep it from coming true. */
static void tell_nameplate(struct telling *t)
{
    const double promised = t->against.nameplate, found = t->against.filter_firm;
    if (!(promised > 0) || promised < 0.01 * t->item->firm.nameplate || found >= NAMEPLATE_KEPT * promised)
        return;
    wr_page_add(&t->s,
                "By the sum on the nameplate, filter area times approved rate less wash water, it would be %s more; ",
                say_flow(promised, t->units).text);
    if (!t->against.filter_firm_moves || found < 0)
        wr_page_add(&t->s, "the plant as a whole gives none of it.");
    else
        wr_page_add(&t->s, "the plant as a whole gives %s of that.", wr_say_share(found / promised).text);
}

static void say_plant_limit(struct telling *t, const struct wr_unit_out *unit)
{
    wr_page_add(&t->s, " that unit is %s: without it %s.", unit->name, limit_words(unit->limit));
}

static void tell_plant_firm(struct telling *t)
{
    const struct wr_unit_out *before = &t->first->firm.units[t->first->firm.plant_unit];
    const struct wr_unit_out *after = &t->item->firm.units[t->item->firm.plant_unit];
    wr_page_add(&t->s,
                "With whichever one unit is missed most out of service, be it a filter, a well, a pump or a tank, %c "
                "can promise %s: ",
                t->x, say_flow(t->item->firm.plant_firm, t->units).text);
    say_change(t, t->first->firm.plant_firm, t->against.plant_firm, t->against.plant_firm_moves);
    wr_page_add(&t->s, ".");
    if (before->limit == after->limit && strcmp(before->name, after->name) == 0)
        wr_page_add(&t->s, " With %c as with %c", t->a, t->x);
    else {
        wr_page_add(&t->s, " With %c", t->a);
        say_plant_limit(t, before);
        wr_page_add(&t->s, " With %c", t->x);
    }
    say_plant_limit(t, after);
    if (t->against.filter_firm_moves && t->against.filter_firm > 0 && !t->against.plant_firm_moves)
        wr_page_add(&t->s, " So the gain is there only while nothing but a filter fails: %s binds.", after->name);
}

static void tell_enough(struct telling *t)
{
    const struct wr_firm *before = &t->first->firm, *after = &t->item->firm;
    if (!isfinite(before->share_used) || !isfinite(after->share_used))
        return;
    if (before->maximum_day == after->maximum_day)
        wr_page_add(&t->s,
                    "The maximum day of %s uses %s of what %c can promise with a filter out, and %s of what %c can.",
                    say_flow(after->maximum_day, t->units).text, wr_say_share(before->share_used).text, t->a,
                    wr_say_share(after->share_used).text, t->x);
    else
        wr_page_add(&t->s, "The maximum day of %c uses %s of what it can promise with a filter out, that of %c %s.",
                    t->a, wr_say_share(before->share_used).text, t->x, wr_say_share(after->share_used).text);
    if (after->plant_firm < after->maximum_day)
        wr_page_add(&t->s, " But with %s out %c cannot promise that day.", after->units[after->plant_unit].name, t->x);
    if (!after->today.passes && after->today.finding < WR_FINDINGS && after->share_used <= 1)
        wr_page_add(&t->s, " Yet at that very day %c fails with a filter out: %s. Pass and fail alternate there.", t->x,
                    wr_finding_row(after->today.finding)->words);
}

/* Years ----------------------------------------------------------------------------------------------------------- */

/* The year of the calendar after so many years from the start, in which the maximum day is first that large. */
static int year_of(const struct wr_compared *item, double years)
{
    return wr_date_year(item->definition->start) + wr_growth_whole_years(years);
}

static void say_years(struct telling *t, const char *what, bool moves, double before, double after)
{
    const double years = after - before;
    if (!moves || fabs(years) < LEAST_YEARS)
        wr_page_add(&t->s, " for the %s it buys no time", what);
    else
        wr_page_add(&t->s, " for the %s it %s %.1f years, from %d to %d", what, years > 0 ? "buys" : "costs",
                    fabs(years), year_of(t->first, before), year_of(t->item, after));
}

static void tell_years(struct telling *t, const struct wr_comparison *comparison, size_t number)
{
    const struct wr_firm *before = &t->first->firm, *after = &t->item->firm;
    if (!wr_is_given(comparison->growth) || !(before->maximum_day > 0) || !(after->maximum_day > 0))
        return;
    wr_page_add(&t->s, "If demand grows by %s a year,", wr_say_share(comparison->growth).text);
    say_years(t, "filter firm capacity", t->against.filter_firm_moves,
              wr_comparison_lasts(comparison, 0, before->one_out.firm),
              wr_comparison_lasts(comparison, number, after->one_out.firm));
    wr_page_add(&t->s, ", and");
    say_years(t, "plant firm capacity", t->against.plant_firm_moves,
              wr_comparison_lasts(comparison, 0, before->plant_firm),
              wr_comparison_lasts(comparison, number, after->plant_firm));
    wr_page_add(&t->s, ".");
}

/* Runs ------------------------------------------------------------------------------------------------------------ */

static void say_waits(struct telling *t, const struct wr_compared *item, char letter)
{
    const struct wr_waits waits = wr_report_waits(&item->run);
    if (waits.washes == 0)
        wr_page_add(&t->s, " with %c no wash had to wait because something was short", letter);
    else
        wr_page_add(&t->s, " with %c %s had to wait because something was short, %s at the longest", letter,
                    wr_say_count(waits.washes, "wash", "washes").text, wr_say_duration(waits.longest).text);
}

/* "New: a; b. " */
static void say_findings(struct telling *t, const char *lead, const bool kinds[WR_FINDINGS], const struct wr_run *run)
{
    bool any = false;
    for (int k = 0; k < WR_FINDINGS; k++) {
        if (!kinds[k])
            continue;
        wr_page_add(&t->s, "%s%s%s", any ? "; " : lead, wr_finding_row((enum wr_finding_kind)k)->words,
                    wr_record_fails(&run->record, (enum wr_finding_kind)k) ? ", which fails a run" : "");
        any = true;
    }
    if (any)
        wr_page_add(&t->s, ".");
}

static void tell_runs(struct telling *t)
{
    const double before = t->first->definition->horizon, after = t->item->definition->horizon;
    if (before == after)
        wr_page_add(&t->s, "In a run of %s", wr_say_duration(after).text);
    else
        wr_page_add(&t->s, "In the runs, %s and %s long,", wr_say_duration(before).text, wr_say_duration(after).text);
    say_waits(t, t->first, t->a);
    wr_page_add(&t->s, ";");
    say_waits(t, t->item, t->x);
    wr_page_add(&t->s, ".");
    say_findings(t, " What happened before and no longer does: ", t->against.gone_finding, &t->first->run);
    say_findings(t, " What is new: ", t->against.new_finding, &t->item->run);
}

/* Page ------------------------------------------------------------------------------------------------------------ */

static void flow(struct wr_page *page, struct telling *t)
{
    if (t->s.length > 0)
        wr_page_flow_page(page, "  ", &t->s);
}

static void put_against(struct wr_page *page, const struct wr_comparison *comparison, size_t number,
                        enum wr_units units)
{
    struct telling t = {.first = &comparison->items[0],
                        .item = &comparison->items[number],
                        .against = wr_comparison_against(comparison, number),
                        .a = wr_compared_letter(0),
                        .x = wr_compared_letter(number),
                        .units = units};
    struct wr_page heading = {0};
    wr_page_add(&heading, "What does %c change? (%s)", t.x, t.item->name);
    char *text = wr_page_take(&heading);
    wr_page_add(page, "\n");
    wr_page_flow(page, "", "%s", text);
    free(text);
    tell_filter_firm(&t);
    flow(page, &t);
    tell_nameplate(&t);
    flow(page, &t);
    tell_plant_firm(&t);
    flow(page, &t);
    tell_enough(&t);
    flow(page, &t);
    tell_years(&t, comparison, number);
    flow(page, &t);
    tell_runs(&t);
    flow(page, &t);
}

/* "adds 0.1831 Mgal/d of filter firm capacity" */
static void say_gain(struct wr_page *s, const char *what, double change, bool moves, enum wr_units units)
{
    if (moves)
        wr_page_add(s, "%s %s of %s", change > 0 ? "adds" : "costs", say_flow(fabs(change), units).text, what);
    else
        wr_page_add(s, "leaves %s as it was", what);
}

/* One sentence a plant. */
static void put_short(struct wr_page *page, const struct wr_comparison *comparison, size_t number, enum wr_units units)
{
    const struct wr_against against = wr_comparison_against(comparison, number);
    const struct wr_firm *before = &comparison->items[0].firm, *after = &comparison->items[number].firm;
    const enum wr_limit limit = after->one_out.failing.limit;
    struct wr_page s = {0};
    wr_page_add(&s, "%c ", wr_compared_letter(number));
    if (!against.filter_firm_moves && !against.plant_firm_moves)
        wr_page_add(&s, "leaves both firm capacities as they were");
    else {
        say_gain(&s, "filter firm capacity", against.filter_firm, against.filter_firm_moves, units);
        wr_page_add(&s, " and ");
        say_gain(&s, "plant firm capacity", against.plant_firm, against.plant_firm_moves, units);
    }
    if (!against.plant_firm_moves && against.filter_firm_moves)
        wr_page_add(&s, ": there %s binds", after->units[after->plant_unit].name);
    if (limit != before->one_out.failing.limit && limit != WR_LIMIT_NONE &&
        before->one_out.failing.limit != WR_LIMIT_NONE)
        wr_page_add(&s, "; the limit with a filter out moves from \"%s\" to \"%s\"",
                    wr_say_key(wr_limit_row(before->one_out.failing.limit)->key).text,
                    wr_say_key(wr_limit_row(limit)->key).text);
    wr_page_add(&s, ".");
    wr_page_flow_page(page, "  - ", &s);
}

static void put_head(struct wr_page *page, const struct wr_comparison *comparison)
{
    wr_page_add(page, "Plants side by side\n");
    for (size_t i = 0; i < comparison->count; i++)
        wr_page_flow(page, "  ", "%c: %s (%s)", wr_compared_letter(i), title_of(&comparison->items[i]),
                     comparison->items[i].name);
}

static void put_words(struct wr_page *page)
{
    wr_page_flow(page, "  ",
                 "Filter firm capacity is what the plant delivers on every day of a repeated maximum day with its "
                 "largest filter out of service, washing keeping pace and the reserve in storage untouched. Plant firm "
                 "capacity is the least of the same with, in turn, each unit out that something stands in for: a "
                 "filter, a well, a pump, a tank. Both are simulated; a change of less than 1 %% of the filter firm "
                 "capacity counts as none.");
}

/* What the exit status says. */
static void put_verdict(struct wr_page *page, const struct wr_comparison *comparison)
{
    struct wr_page s = {0};
    const char *join = "";
    if (comparison->passes)
        wr_page_add(&s, "None of them is worse than A: no firm capacity is lower, and nothing new fails a run.");
    else
        wr_page_add(&s, "Worse than A, by a lower firm capacity or by what fails its run: ");
    for (size_t i = 1; i < comparison->count && !comparison->passes; i++)
        if (wr_comparison_against(comparison, i).is_worse) {
            wr_page_add(&s, "%s%c", join, wr_compared_letter(i));
            join = ", ";
        }
    wr_page_add(&s, comparison->passes ? "" : ".");
    wr_page_flow_page(page, "  ", &s);
}

void wr_report_compare_page(struct wr_page *page, const struct wr_comparison *comparison, enum wr_units units)
{
    put_head(page, comparison);
    wr_page_heading(page, "In short");
    for (size_t i = 1; i < comparison->count; i++)
        put_short(page, comparison, i, units);
    put_verdict(page, comparison);
    put_words(page);
    for (size_t i = 1; i < comparison->count; i++)
        put_against(page, comparison, i, units);
    wr_report_compare_table(page, comparison, units);
    wr_report_change_section(page, comparison);
    wr_page_add(page, "\n");
    wr_page_flow(page, "", "These are simulations of the plants described, not approved or guaranteed capacities.");
    wr_report_caution(page);
}
