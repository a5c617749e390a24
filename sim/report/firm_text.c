/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/report.h"
#include "sim/report/say.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A gain of a smaller share than this is none. */
static const double LEAST_GAIN = 1e-4;

/* A maximum day of more firm capacities than this is told as so many of them. */
static const double SHARES_MOST = 10;

static struct wr_phrase say_flow(double flow, enum wr_units units)
{
    return wr_say(WR_QUANTITY_DAILY_FLOW, flow, units);
}

/* A flow without its unit, to as many decimals. */
static struct wr_phrase say_decimals(double flow, enum wr_units units, int decimals)
{
    struct wr_phrase phrase;
    snprintf(phrase.text, sizeof phrase.text, "%.*f", decimals, wr_quantity_shown(WR_QUANTITY_DAILY_FLOW, flow, units));
    return phrase;
}

/* Decimals that show a flow to four digits; more where it must differ from a neighbour. */
static int decimals_for(double flow, double neighbour, enum wr_units units)
{
    const double shown = wr_quantity_shown(WR_QUANTITY_DAILY_FLOW, flow, units);
    const double apart = fabs(shown - wr_quantity_shown(WR_QUANTITY_DAILY_FLOW, neighbour, units));
    int decimals = 0;
    for (double size = shown; size < 1000 && decimals < 4; size *= 10)
        decimals++;
    for (; decimals < 9 && apart > 0 && say_decimals(flow, units, decimals).text[0] != '\0'; decimals++)
        if (strcmp(say_decimals(flow, units, decimals).text, say_decimals(neighbour, units, decimals).text) != 0)
            break;
    return decimals;
}

/* The answer ------------------------------------------------------------------------------------------------------ */

/* What went wrong first at the least demand that was found to fail. */
static void say_first_failure(struct wr_page *s, const struct wr_firm *firm, enum wr_units units)
{
    const struct wr_rung *failing = &firm->one_out.failing;
    const char *where = wr_report_where(&firm->plant, failing->where);
    const int decimals = decimals_for(failing->demand, firm->one_out.pass, units);
    wr_page_add(s, " Just above, at %s %s, %s", say_decimals(failing->demand, units, decimals).text,
                wr_quantity_unit(WR_QUANTITY_DAILY_FLOW, units), wr_finding_row(failing->finding)->words);
    if (failing->finding == WR_FINDING_NOT_RETURNING && failing->at <= 0)
        wr_page_add(s, " at any time");
    else
        wr_page_add(s, failing->finding == WR_FINDING_NOT_RETURNING ? ", where it last stood on %s" : ", first on %s",
                    wr_say_moment(firm->plant.definition->start, failing->at).text);
    wr_page_add(s, "%s%s.", where != NULL ? ", at " : "", where != NULL ? where : "");
}

/* Why room for spent wash ran short: something held the way out of the tanks. */
static void say_outlets(struct wr_page *s, const struct wr_rung *failing)
{
    if (failing->limit != WR_LIMIT_SPENT_WASH_ROOM || failing->outlet_limit == WR_LIMIT_NONE)
        return;
    if (failing->outlet_share > 0)
        wr_page_add(s, " For %s of the wait for room the tanks had water to give and recycle was held:",
                    wr_say_share(failing->outlet_share).text);
    else
        wr_page_add(s, " In other hours recycle was held, which leaves less room later:");
    wr_page_add(s, " %s; %s, would lift that.", wr_limit_row(failing->outlet_limit)->words,
                wr_limit_row(failing->outlet_limit)->lift);
}

static void say_limiting(struct wr_page *s, const struct wr_firm *firm, enum wr_units units)
{
    const struct wr_search *search = &firm->one_out;
    const struct wr_rung *failing = &search->failing;
    if (!search->ever_failed) {
        wr_page_add(s, " Every demand that was tried passes, so that nothing was found to limit it.");
        return;
    }
    if (failing->limit != WR_LIMIT_NONE)
        wr_page_add(s, " What stops it from promising more: %s.", wr_limit_row(failing->limit)->words);
    if (failing->finding < WR_FINDINGS)
        say_first_failure(s, firm, units);
    say_outlets(s, failing);
    if (failing->limit != WR_LIMIT_NONE)
        wr_page_add(s, " What would lift %s: %s.", failing->outlet_limit != WR_LIMIT_NONE ? "the limit itself" : "that",
                    wr_limit_row(failing->limit)->lift);
}

static void answer_firm(struct wr_page *page, const struct wr_firm *firm, enum wr_units units)
{
    struct wr_page s = {0};
    wr_page_heading(page, "What can the plant promise with its largest filter out, and what limits it?");
    if (firm->plant.filter_count < 2)
        wr_page_add(&s, "Nothing: with %s out no filter is left. Its firm capacity is 0.", firm->unit_name);
    else if (firm->one_out.firm <= 0) {
        wr_page_add(&s, "Nothing: with %s out no demand that was tried is met on every day.", firm->unit_name);
        say_limiting(&s, firm, units);
    } else {
        wr_page_add(&s, "With %s out of service, the plant can deliver %s on every day of a repeated maximum day.",
                    firm->unit_name, say_flow(firm->one_out.firm, units).text);
        say_limiting(&s, firm, units);
    }
    wr_page_flow_page(page, "  ", &s);
}

/* What the plant could promise without its limiting factor, and what would limit it next. */
static void answer_lifted(struct wr_page *page, const struct wr_firm *firm, enum wr_units units)
{
    struct wr_page s = {0};
    if (!firm->has_lifted)
        return;
    const double gain = firm->lifted.firm - firm->one_out.firm;
    wr_page_heading(page, "And if that limit were lifted?");
    if (fabs(gain) < LEAST_GAIN * firm->one_out.firm)
        wr_page_add(&s, "With %s, the plant could deliver no more. ", wr_limit_row(firm->lifted.limit)->lift);
    else
        wr_page_add(&s, "With %s, the plant could deliver %s, %s %s. ", wr_limit_row(firm->lifted.limit)->lift,
                    say_flow(firm->lifted.firm, units).text, say_flow(fabs(gain), units).text,
                    gain >= 0 ? "more" : "less");
    if (firm->lifted.then == WR_LIMIT_NONE)
        wr_page_add(&s, "Nothing that was tried limits it then.");
    else
        wr_page_add(&s, "What limits it then: %s.", wr_limit_row(firm->lifted.then)->words);
    wr_page_flow_page(page, "  ", &s);
}

static void say_unit(struct wr_page *s, const struct wr_unit_out *unit, enum wr_units units)
{
    if (unit->has_another_way) {
        wr_page_add(s, "Without %s: %s", unit->name, say_flow(unit->firm, units).text);
        if (unit->limit != WR_LIMIT_NONE)
            wr_page_add(s, "; %s", wr_limit_row(unit->limit)->words);
        if (unit->outlet_limit != WR_LIMIT_NONE)
            wr_page_add(s, ", for most of the wait because %s", wr_limit_row(unit->outlet_limit)->words);
        wr_page_add(s, ".");
        return;
    }
    wr_page_add(s, "Without the %s, which nothing stands in for, ", unit->name);
    if (isinf(unit->lasts))
        wr_page_add(s, "the plant goes on for the whole year tried.");
    else
        wr_page_add(s, "the plant lasts %s on its maximum day, until %s.", wr_say_duration(unit->lasts).text,
                    wr_finding_row(unit->ends)->words);
}

/* Plant firm capacity: the least over units that have a second one or another way round them. */
static void answer_plant(struct wr_page *page, const struct wr_firm *firm, enum wr_units units)
{
    struct wr_page s = {0};
    wr_page_heading(page, "And with any one unit out?");
    wr_page_add(&s,
                "The plant firm capacity is %s: the least with, in turn, one unit out that something stands in for. "
                "It is set by %s.",
                say_flow(firm->plant_firm, units).text, firm->units[firm->plant_unit].name);
    wr_page_flow_page(page, "  ", &s);
    for (size_t u = 0; u < firm->unit_count; u++) {
        struct wr_page line = {0};
        say_unit(&line, &firm->units[u], units);
        wr_page_flow_page(page, "  - ", &line);
    }
}

/* The maximum day itself, where it fails below a firm capacity that covers it. */
static void say_today(struct wr_page *s, const struct wr_firm *firm)
{
    const struct wr_rung *today = &firm->today;
    if (today->passes || today->finding >= WR_FINDINGS || firm->share_used > 1)
        return;
    wr_page_add(s, " Yet that day itself fails with %s out: %s, first on %s.", firm->unit_name,
                wr_finding_row(today->finding)->words, wr_say_moment(firm->plant.definition->start, today->at).text);
    if (today->limit != WR_LIMIT_NONE)
        wr_page_add(s, " The limit: %s.", wr_limit_row(today->limit)->words);
    wr_page_add(s, " Pass and fail alternate below the firm capacity; see the search below.");
}

/* Demands below the firm capacity that fail, when the maximum day does not. */
static void say_failures_below(struct wr_page *s, const struct wr_firm *firm, enum wr_units units)
{
    const struct wr_search *search = &firm->one_out;
    size_t count = 0;
    double highest = 0;
    for (size_t r = 0; r < search->rungs; r++)
        if (!search->ladder[r].passes && search->ladder[r].demand < search->firm) {
            count++;
            highest = search->ladder[r].demand;
        }
    if (count == 0 || !firm->today.passes)
        return;
    wr_page_add(s,
                " But %s below it, the highest at %s: at a low flow washing can fail where it keeps pace at a higher "
                "one. See the search below.",
                count == 1 ? "one demand that was tried fails" : "some demands that were tried fail",
                say_flow(highest, units).text);
}

/* The maximum day as a share of firm capacity: "87.1 % of", "23.4 times". */
static struct wr_phrase say_used(double share)
{
    struct wr_phrase phrase;
    const bool is_share = share <= SHARES_MOST;
    snprintf(phrase.text, sizeof phrase.text, "%.40s %s",
             is_share ? wr_say_share(share).text : wr_say_digits(WR_QUANTITY_NONE, share, WR_UNITS_US).text,
             is_share ? "of" : "times");
    return phrase;
}

static void answer_enough(struct wr_page *page, const struct wr_firm *firm, enum wr_units units)
{
    struct wr_page s = {0};
    wr_page_heading(page, "Is that enough?");
    if (!isfinite(firm->share_used))
        wr_page_add(&s, "No. The maximum day is %s.", say_flow(firm->maximum_day, units).text);
    else
        wr_page_add(&s, "%s The maximum day of %s is %s it%s.", firm->passes ? "Yes." : "No.",
                    say_flow(firm->maximum_day, units).text, say_used(firm->share_used).text,
                    firm->share_used <= 1 ? "" : ", more than the plant can promise");
    say_today(&s, firm);
    say_failures_below(&s, firm, units);
    wr_page_flow_page(page, "  ", &s);
}

/* Figures --------------------------------------------------------------------------------------------------------- */

static void put_figure(struct wr_grid *grid, const char *words, double flow, enum wr_units units, const char *remark)
{
    wr_grid_add(grid, "%s", words);
    wr_grid_add(grid, "%s", wr_is_given(flow) ? say_flow(flow, units).text : "not given");
    wr_grid_add(grid, "%s", remark);
}

/* Why more filters promise less, where the figures above show it. */
static void say_all_in(struct wr_page *page, const struct wr_firm *firm, enum wr_units units)
{
    const double all_in = firm->all_in.firm, one_out = firm->one_out.firm;
    if (all_in <= 0 || all_in >= one_out || strcmp(say_flow(all_in, units).text, say_flow(one_out, units).text) == 0)
        return;
    wr_page_flow(page, "  ",
                 "All filters in service come out lower than one out: a filter more asks for its washes too, and both "
                 "searches end at the lowest demand found to fail for want of water, which turns on the hours at which "
                 "washes happen to fall.");
}

static void put_figures(struct wr_page *page, const struct wr_firm *firm, enum wr_units units)
{
    struct wr_grid grid = {.align = "lrl"};
    char remark[96] = "no filter firm capacity to use";
    if (isfinite(firm->share_used))
        snprintf(remark, sizeof remark, "%.60s filter firm capacity", say_used(firm->share_used).text);
    const enum wr_limit all_in = firm->all_in.ever_failed ? firm->all_in.failing.limit : WR_LIMIT_NONE;
    wr_page_heading(page, "Beside other figures");
    put_figure(&grid, "filter firm capacity", firm->one_out.firm, units, "simulated, largest filter out");
    put_figure(&grid, "plant firm capacity", firm->plant_firm, units, "simulated, the worst of one unit out in turn");
    put_figure(&grid, "all filters in service", firm->all_in.firm, units,
               all_in != WR_LIMIT_NONE ? wr_limit_row(all_in)->words : "simulated");
    put_figure(&grid, "nameplate firm capacity", firm->nameplate, units, "by pencil, as below");
    put_figure(&grid, "approved capacity", firm->approved, units, "an input: what the authority allows");
    put_figure(&grid, "maximum day", firm->maximum_day, units, remark);
    wr_page_grid(page, &grid);
    say_all_in(page, firm, units);
}

/* A term to four digits, so that the sum can be done again by hand. */
static struct wr_phrase say_term(const struct wr_term *term, enum wr_units units)
{
    static const struct {
        const char *si;
        enum wr_quantity quantity;
    } kinds[] = {{"m2", WR_QUANTITY_AREA},
                 {"m/s", WR_QUANTITY_RATE},
                 {"m3", WR_QUANTITY_VOLUME},
                 {"m3/s", WR_QUANTITY_DAILY_FLOW}};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (strcmp(term->unit, kinds[i].si) == 0)
            return wr_say_digits(kinds[i].quantity, term->value, units);
    return wr_say_digits(WR_QUANTITY_NONE, term->value, units);
}

static void put_pencil(struct wr_page *page, const struct wr_firm *firm, enum wr_units units)
{
    struct wr_grid grid = {.align = "lr"};
    wr_page_heading(page, "Nameplate firm capacity by pencil");
    for (size_t t = 0; t < firm->term_count; t++) {
        wr_grid_add(&grid, "%s", firm->terms[t].words);
        wr_grid_add(&grid, "%s", say_term(&firm->terms[t], units).text);
    }
    wr_grid_add(&grid, "= nameplate firm capacity");
    wr_grid_add(&grid, "%s", say_flow(firm->nameplate, units).text);
    wr_page_grid(page, &grid);
}

/* Ladder ---------------------------------------------------------------------------------------------------------- */

/* Rungs that pass one after the other share a line; returns the rung after the last of the line. */
static size_t put_passes(struct wr_grid *grid, const struct wr_search *search, size_t first, int decimals,
                         enum wr_units units)
{
    size_t end = first + 1;
    while (end < search->rungs && search->ladder[end].passes)
        end++;
    const struct wr_phrase from = say_decimals(search->ladder[first].demand, units, decimals);
    if (end == first + 1)
        wr_grid_add(grid, "%s", from.text);
    else
        wr_grid_add(grid, "%s to %s", from.text, say_decimals(search->ladder[end - 1].demand, units, decimals).text);
    wr_grid_add(grid, end == first + 1 ? "passes" : "all %zu pass", end - first);
    for (int c = 0; c < 3; c++)
        wr_grid_add(grid, "%s", "");
    return end;
}

static size_t put_failure(struct wr_grid *grid, const struct wr_firm *firm, size_t r, int decimals, enum wr_units units)
{
    const struct wr_rung *rung = &firm->one_out.ladder[r];
    const bool known = rung->finding < WR_FINDINGS;
    wr_grid_add(grid, "%s", say_decimals(rung->demand, units, decimals).text);
    wr_grid_add(grid, "%s", rung->low_flow ? "fails, low flow" : "fails");
    wr_grid_add(grid, "%s", known ? wr_say_moment(firm->plant.definition->start, rung->at).text : "");
    wr_grid_add(grid, "%s", known ? wr_say_key(wr_finding_row(rung->finding)->key).text : "");
    wr_grid_add(grid, "%s", rung->limit != WR_LIMIT_NONE ? wr_say_key(wr_limit_row(rung->limit)->key).text : "");
    return r + 1;
}

static void put_ladder(struct wr_page *page, const struct wr_firm *firm, enum wr_units units)
{
    const struct wr_search *search = &firm->one_out;
    struct wr_grid grid = {.align = "rllll", .heads = 1};
    const char *const heads[] = {wr_quantity_unit(WR_QUANTITY_DAILY_FLOW, units), "", "first failure", "", "limit"};
    const double top = search->ladder[search->rungs - 1].demand;
    const int decimals = decimals_for(top, top, units);
    for (size_t c = 0; c < strlen(grid.align); c++)
        wr_grid_add(&grid, "%s", heads[c]);
    for (size_t r = 0; r < search->rungs;)
        r = search->ladder[r].passes ? put_passes(&grid, search, r, decimals, units)
                                     : put_failure(&grid, firm, r, decimals, units);
    wr_page_grid(page, &grid);
}

static bool has_low_flow(const struct wr_search *search)
{
    bool has = false;
    for (size_t r = 0; r < search->rungs; r++)
        has = has || search->ladder[r].low_flow;
    return has;
}

static bool passes_above_firm(const struct wr_search *search)
{
    bool passes = false;
    for (size_t r = 0; r < search->rungs; r++)
        passes = passes || (search->ladder[r].passes && search->ladder[r].demand > search->fail);
    return passes;
}

/* Why pass and fail do not make a staircase, where they do not. */
static void say_alternation(struct wr_page *page, const struct wr_search *search)
{
    if (has_low_flow(search))
        wr_page_flow(
            page, "  ",
            "Pass and fail do not make a staircase here: some demand fails below one that passes. At a low flow "
            "filters load further before a differential calls. Such a failure is called low flow where demand "
            "was met and the reserve kept; it does not count against the firm capacity.");
    if (passes_above_firm(search))
        wr_page_flow(page, "  ",
                     "Some demands above the firm capacity pass again, by the hours at which washes happen to fall. "
                     "They are no promise: it ends at the lowest demand found to fail for want of water.");
}

static void put_search(struct wr_page *page, const struct wr_firm *firm, enum wr_units units)
{
    const struct wr_search *search = &firm->one_out;
    const char *unit = wr_quantity_unit(WR_QUANTITY_DAILY_FLOW, units);
    const int decimals = decimals_for(search->pass, search->fail, units);
    struct wr_page s = {0};
    if (search->rungs == 0)
        return;
    wr_page_heading(page, "The search");
    wr_page_add(&s, "%s of 365 days each, storage started at the lowest off level of the wells. With %s out ",
                wr_say_count(search->runs + firm->all_in.runs, "run", "runs").text, firm->unit_name);
    wr_page_add(&s, "%s %s passes", say_decimals(search->pass, units, decimals).text, unit);
    if (search->ever_failed)
        wr_page_add(&s, " and %s %s fails", say_decimals(search->fail, units, decimals).text, unit);
    wr_page_add(&s, ". Demands tried besides those that halve that gap:");
    wr_page_flow_page(page, "  ", &s);
    put_ladder(page, firm, units);
    say_alternation(page, search);
}

void wr_report_firm_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_firm *firm,
                         enum wr_units units)
{
    wr_report_title(page, subject);
    if (firm->end != WR_RUN_WHOLE) {
        wr_page_add(page, "\n");
        wr_page_flow(page, "", "A FAULT: %s. There is no answer.", firm->message);
        wr_report_caution(page);
        return;
    }
    answer_firm(page, firm, units);
    answer_lifted(page, firm, units);
    answer_plant(page, firm, units);
    answer_enough(page, firm, units);
    put_figures(page, firm, units);
    if (firm->plant.filter_count > 1)
        put_pencil(page, firm, units);
    put_search(page, firm, units);
    wr_report_derived_section(page, &firm->plant, units);
    wr_page_add(page, "\n");
    wr_page_flow(page, "", "This is a simulation of the plant described, not an approved or guaranteed capacity.");
    wr_report_caution(page);
}
