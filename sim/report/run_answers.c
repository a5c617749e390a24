/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/report.h"
#include "sim/report/say.h"

#include <math.h>

/* Shares from which washing is paced, as docs/answers.md defines it; here only to say which of them was reached. */
static const double PACED_LOAD = 0.10;
static const double PACED_RESERVE = 0.5;

/* Did wash demand ever exceed supply? ----------------------------------------------------------------------------- */

/* The limit that came first for longest among those of one class, after one already said (WR_LIMITS: none yet). */
static enum wr_limit next_reason(const struct wr_run *run, bool resources, enum wr_limit after)
{
    const struct wr_tally *waits = run->simulation.state->waits;
    enum wr_limit next = WR_LIMIT_NONE;
    for (int l = 0; l < WR_LIMITS; l++) {
        const bool said = after < WR_LIMITS && (waits[l].first > waits[after].first ||
                                                (!(waits[l].first < waits[after].first) && l <= (int)after));
        if (waits[l].first <= 0 || wr_limit_is_resource((enum wr_limit)l) != resources || said)
            continue;
        if (next == WR_LIMIT_NONE || waits[l].first > waits[next].first)
            next = (enum wr_limit)l;
    }
    return next;
}

/* "no tank has room (3 h 5 min); ..." */
static void say_reasons(struct wr_page *s, const struct wr_run *run, bool resources)
{
    const enum wr_limit first = next_reason(run, resources, WR_LIMITS);
    for (enum wr_limit l = first; l != WR_LIMIT_NONE; l = next_reason(run, resources, l))
        wr_page_add(s, "%s%s (%s)", l == first ? "" : "; ", wr_limit_row(l)->words,
                    wr_say_duration(run->simulation.state->waits[l].first).text);
}

/* Recycle held back at other times leaves tanks full for the washes to come. */
static void say_held_before(struct wr_page *s, const struct wr_run *run)
{
    const struct wr_finding *f = NULL;
    while ((f = wr_record_finding(&run->record, f)) != NULL && f->kind != WR_FINDING_RECYCLE_HELD)
        continue;
    if (f != NULL && f->limit != WR_LIMIT_NONE)
        wr_page_add(s, " But in other hours, %s in all, recycle was held, which leaves less room later: %s.",
                    wr_say_duration(f->length).text, wr_limit_row(f->limit)->words);
}

/* Why room was lacking: an outlet that was held back, or tanks that settle or give what their outlet takes. */
static void say_room(struct wr_page *s, const struct wr_run *run)
{
    const struct wr_room *room = &run->record.room;
    const enum wr_limit most = wr_room_held_most(room);
    if (room->waited <= 0)
        return;
    if (most == WR_LIMIT_NONE) {
        wr_page_add(s,
                    " While they waited for room nothing held the outlet of the tanks back: the tanks were %semptying "
                    "as fast as it takes.",
                    run->plant.has_settling ? "filling, settling or " : "");
        say_held_before(s, run);
        return;
    }
    wr_page_add(s, " For %s of the wait for room the tanks had water to give and their outlet was held back: %s",
                wr_say_share(room->held / room->waited).text, wr_limit_row(most)->words);
    for (int l = 0; l < WR_LIMITS; l++)
        if (l != (int)most && room->held_by[l] > 0)
            wr_page_add(s, "; %s", wr_limit_row((enum wr_limit)l)->words);
    wr_page_add(s, ". To lift that: %s.", wr_limit_row(most)->lift);
}

static void say_rule_waits(struct wr_page *s, const struct wr_run *run)
{
    if (next_reason(run, false, WR_LIMITS) == WR_LIMIT_NONE)
        return;
    wr_page_add(s, " Washes also waited for the plant's own rules, which is no shortage: ");
    say_reasons(s, run, false);
    wr_page_add(s, ".");
}

static void say_start_up(struct wr_page *s, const struct wr_run *run)
{
    if (run->record.balance.start_up_wait > 0)
        wr_page_add(s,
                    " Waits before each filter's first wash, %s in all, come from how the run was started and are left "
                    "out.",
                    wr_say_duration(run->record.balance.start_up_wait).text);
}

static void say_exceeded(struct wr_page *s, const struct wr_run *run)
{
    const struct wr_wash_balance *b = &run->record.balance;
    const struct wr_waits waits = wr_report_waits(run);
    wr_page_add(s, "Yes. Filters had to wait for their wash %s because something was short (%s made)",
                wr_say_count(waits.washes, "time", "times").text,
                wr_say_count(b->washes, "wash was", "washes were").text);
    if (isfinite(b->first_exceeded))
        wr_page_add(s, ", first on %s", wr_say_moment(run->plant.definition->start, b->first_exceeded).text);
    wr_page_add(s, ": %s in all, over all filters, and %s at the longest. What was short: ",
                wr_say_duration(waits.total).text, wr_say_duration(waits.longest).text);
    say_reasons(s, run, true);
    wr_page_add(s, ".");
    say_room(s, run);
    if (b->most_waiting_together > 1)
        wr_page_add(s, " At most %zu filters waited at one time.", b->most_waiting_together);
}

static void answer_exceeded(struct wr_page *page, const struct wr_run *run)
{
    const struct wr_wash_balance *b = &run->record.balance;
    struct wr_page s = {0};
    wr_page_heading(page, "Did wash demand ever exceed supply?");
    if (b->ever_exceeds_supply)
        say_exceeded(&s, run);
    else if (b->washes == 0)
        wr_page_add(&s, "No. No wash was started in this run.");
    else
        wr_page_add(&s, "No. %s made, and none waited for a wash system, for wash water or for room for spent wash.",
                    wr_say_count(b->washes, "wash was", "washes were").text);
    say_rule_waits(&s, run);
    say_start_up(&s, run);
    wr_page_flow_page(page, "  ", &s);
}

/* Does washing keep pace? ----------------------------------------------------------------------------------------- */

static const struct wr_finding *finding_of(const struct wr_run *run, enum wr_finding_kind kind)
{
    const struct wr_finding *f = NULL;
    while ((f = wr_record_finding(&run->record, f)) != NULL && f->kind != kind)
        continue;
    return f;
}

static void say_first_on(struct wr_page *s, const struct wr_run *run, const struct wr_finding *f)
{
    wr_page_add(s, "%s%s", f->times > 1 ? "first on " : "on ",
                wr_say_moment(run->plant.definition->start, f->start).text);
}

static void say_overrun(struct wr_page *s, const struct wr_run *run)
{
    const struct wr_finding *head = finding_of(run, WR_FINDING_HEAD_REACHED);
    const struct wr_finding *spill = finding_of(run, WR_FINDING_SPENT_WASH_SPILLED);
    wr_page_add(s, "No. Washing is overrun:");
    if (head != NULL) {
        wr_page_add(s, " a filter reached its available head %s, ", wr_say_count(head->times, "time", "times").text);
        say_first_on(s, run, head);
        wr_page_add(s, spill != NULL ? ";" : ".");
    }
    if (spill != NULL) {
        wr_page_add(s, " spent wash water spilled, ");
        say_first_on(s, run, spill);
        wr_page_add(s, ".");
    }
    const enum wr_limit cause = run->record.balance.cause;
    if (cause != WR_LIMIT_NONE)
        wr_page_add(s, " What washes waited for most: %s. To lift that: %s.", wr_limit_row(cause)->words,
                    wr_limit_row(cause)->lift);
}

static void say_paced(struct wr_page *s, const struct wr_run *run)
{
    const struct wr_wash_balance *b = &run->record.balance;
    wr_page_add(s, "No. Washes start when something frees up and not when filters call:");
    if (b->worst_week_extra_load >= PACED_LOAD)
        wr_page_add(s, " while waiting, filters took in %s more than they held when they called, in the worst week;",
                    wr_say_share(b->worst_week_extra_load).text);
    if (b->worst_reserve_used >= PACED_RESERVE)
        wr_page_add(s, " one wait used %s of the time that the filter had left to its available head;",
                    wr_say_share(b->worst_reserve_used).text);
    if (b->worst_week_extra_load < PACED_LOAD && b->worst_reserve_used < PACED_RESERVE)
        wr_page_add(s, " for seven days on end some filter was always waiting;");
    if (b->paced_by != WR_LIMIT_NONE)
        wr_page_add(s, " most of it because %s. To lift that: %s.", wr_limit_row(b->paced_by)->words,
                    wr_limit_row(b->paced_by)->lift);
}

static void say_queues(struct wr_page *s, const struct wr_run *run)
{
    const struct wr_wash_balance *b = &run->record.balance;
    wr_page_add(
        s,
        "Yes. The queue was brief: while waiting, filters took in %s more than they held when they called, and the "
        "worst wait used %s of the time that the filter had left to its available head.",
        wr_say_share(b->extra_load).text, wr_say_share(b->worst_reserve_used).text);
}

static void answer_pace(struct wr_page *page, const struct wr_run *run)
{
    struct wr_page s = {0};
    wr_page_heading(page, "Does washing keep pace all the same?");
    switch (run->record.balance.grade) {
    case WR_GRADE_CLEAR:
        wr_page_add(&s, "Yes. Nothing that washing needs ran short.");
        break;
    case WR_GRADE_QUEUES:
        say_queues(&s, run);
        break;
    case WR_GRADE_PACED:
        say_paced(&s, run);
        break;
    case WR_GRADE_OVERRUN:
        say_overrun(&s, run);
        break;
    }
    wr_page_add(&s, " (Grade: %s.)", wr_grade_key(run->record.balance.grade));
    wr_page_flow_page(page, "  ", &s);
}

/* Is demand met? -------------------------------------------------------------------------------------------------- */

static void say_storage(struct wr_page *s, const struct wr_run *run)
{
    const struct wr_storage *storage = &run->plant.definition->storage;
    const struct wr_finding *used = finding_of(run, WR_FINDING_RESERVE_USED);
    const double least = run->record.least_storage / storage->volume;
    if (used != NULL) {
        wr_page_add(s, " Demand drew on the reserve in storage, ");
        say_first_on(s, run, used);
        wr_page_add(s, ", for %s%s: storage fell to %s, and its reserve is %s.", wr_say_duration(used->length).text,
                    used->times > 1 ? " in all" : "", wr_say_share(least).text, wr_say_share(storage->reserve).text);
        return;
    }
    if (least < 1e-9)
        wr_page_add(s, " Storage ran empty.");
    else
        wr_page_add(s, " Storage never fell below %s.", wr_say_share(least).text);
    if (storage->reserve > 0)
        wr_page_add(s, " Its reserve of %s was not touched.", wr_say_share(storage->reserve).text);
}

static void answer_demand(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    const double asked = run->simulation.state->asked;
    const struct wr_finding *unmet = finding_of(run, WR_FINDING_UNMET_DEMAND);
    struct wr_page s = {0};
    wr_page_heading(page, "Is demand met?");
    if (unmet != NULL) {
        wr_page_add(&s, "No. %s of %s was not delivered: ", wr_say_water(wr_report_unmet(run), units).text,
                    wr_say_water(asked, units).text);
        say_first_on(&s, run, unmet);
        if (unmet->times > 1)
            wr_page_add(&s, ", %s", wr_say_count(unmet->times, "time", "times").text);
        wr_page_add(&s, ", for %s%s.", wr_say_duration(unmet->length).text, unmet->times > 1 ? " in all" : "");
        if (unmet->limit != WR_LIMIT_NONE)
            wr_page_add(&s, " Cause: %s.", wr_limit_row(unmet->limit)->words);
    } else
        wr_page_add(&s, "%s All %s that was asked for was delivered.",
                    finding_of(run, WR_FINDING_RESERVE_USED) != NULL ? "Yes, but not without the reserve." : "Yes.",
                    wr_say_water(asked, units).text);
    say_storage(&s, run);
    wr_page_flow_page(page, "  ", &s);
}

/* Verdict --------------------------------------------------------------------------------------------------------- */

static void say_verdict(struct wr_page *page, const struct wr_run *run)
{
    struct wr_page s = {0};
    bool any = false;
    wr_page_add(page, "\n");
    const struct wr_finding *f = NULL;
    while ((f = wr_record_finding(&run->record, f)) != NULL) {
        if (!wr_record_fails(&run->record, f->kind))
            continue;
        wr_page_add(&s, "%s%s", any ? "; " : "This run fails: ", wr_finding_row(f->kind)->words);
        any = true;
    }
    wr_page_add(&s, any ? "." : "This run passes: nothing happened in it that fails a run.");
    wr_page_flow_page(page, "", &s);
}

/* With the wash pump out: how long the plant lasts without washing. */
static void answer_unwashed(struct wr_page *page, const struct wr_run *run)
{
    const struct wr_unwashed *u = &run->record.unwashed;
    const double start = run->plant.definition->start;
    struct wr_page s = {0};
    if (isinf(u->since))
        return;
    wr_page_heading(page, "How long does the plant last without washing?");
    if (isinf(u->lasts))
        wr_page_add(&s,
                    "For as long as it had to: from %s on, when the wash pump went out, no filter reached its "
                    "available head%s.",
                    wr_say_moment(start, u->since).text, isinf(u->until) ? " in this run" : " before it came back");
    else
        wr_page_add(&s, "%s: the wash pump went out on %s, and the first filter reached its available head on %s.",
                    wr_say_duration(u->lasts).text, wr_say_moment(start, u->since).text,
                    wr_say_moment(start, u->since + u->lasts).text);
    wr_page_flow_page(page, "  ", &s);
}

void wr_report_run_answers(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    answer_exceeded(page, run);
    answer_pace(page, run);
    answer_demand(page, run, units);
    answer_unwashed(page, run);
    say_verdict(page, run);
}
