/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/record/list.h"
#include "sim/report/explain.h"
#include "sim/report/say.h"

#include <math.h>
#include <stdlib.h>

/* Reasons, from spans --------------------------------------------------------------------------------------------- */

double wr_explain_wait_end(const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    return isfinite(wash->started_at) ? wash->started_at : wr_now(&teller->run->simulation);
}

/* True for a span of this wash's wait. */
static bool is_of_wait(const struct wr_teller *teller, const struct wr_diary_wash *wash, const struct wr_span *span)
{
    return span->where == wash->filter && wr_limit_row(span->limit)->holds == WR_HOLDS_WASH &&
           span->to > wash->called_at && span->from < wr_explain_wait_end(teller, wash);
}

static int compare_times(const void *a, const void *b)
{
    const double ta = *(const double *)a, tb = *(const double *)b;
    return (ta > tb) - (ta < tb);
}

/* Times at which a reason of the wait begins or ends, in order. */
static size_t times_of(const struct wr_teller *teller, const struct wr_diary_wash *wash, double **times)
{
    size_t count = 0, room = 0;
    *times = NULL;
    for (size_t s = 0; s < teller->run->record.span_count; s++) {
        const struct wr_span *span = &teller->run->record.spans[s];
        if (!is_of_wait(teller, wash, span))
            continue;
        for (int end = 0; end < 2; end++) {
            double *grown = wr_list_grown(*times, count, &room, sizeof *grown);
            if (grown == NULL)
                abort();
            *times = grown;
            (*times)[count++] = end == 0 ? fmax(span->from, wash->called_at) : span->to;
        }
    }
    if (count > 0)
        qsort(*times, count, sizeof **times, compare_times);
    return count;
}

/* The first reason between two such times. */
static enum wr_limit reason_at(const struct wr_teller *teller, const struct wr_diary_wash *wash, double from, double to)
{
    wr_limit_set held = 0;
    for (size_t s = 0; s < teller->run->record.span_count; s++) {
        const struct wr_span *span = &teller->run->record.spans[s];
        if (is_of_wait(teller, wash, span) && span->from <= from && span->to >= to)
            held |= wr_limit_bit(span->limit);
    }
    return wr_limit_first(held);
}

size_t wr_explain_reasons(const struct wr_teller *teller, const struct wr_diary_wash *wash, struct wr_reason **reasons)
{
    double *times;
    const size_t ends = times_of(teller, wash, &times);
    size_t count = 0;
    *reasons = calloc(ends + 1, sizeof **reasons);
    if (*reasons == NULL)
        abort();
    for (size_t t = 0; t + 1 < ends; t++) {
        if (times[t + 1] <= times[t])
            continue;
        const enum wr_limit limit = reason_at(teller, wash, times[t], times[t + 1]);
        if (limit == WR_LIMIT_NONE)
            continue;
        struct wr_reason *last = count > 0 ? &(*reasons)[count - 1] : NULL;
        if (last != NULL && last->limit == limit && last->to >= times[t])
            last->to = times[t + 1];
        else
            (*reasons)[count++] = (struct wr_reason){limit, times[t], times[t + 1]};
    }
    free(times);
    return count;
}

double wr_explain_held(const struct wr_teller *teller, const struct wr_diary_wash *wash, enum wr_limit limit)
{
    double held = 0;
    for (size_t s = 0; s < teller->run->record.span_count; s++) {
        const struct wr_span *span = &teller->run->record.spans[s];
        if (span->limit == limit && is_of_wait(teller, wash, span))
            held += span->to - fmax(span->from, wash->called_at);
    }
    return held;
}

/* Figures beside a reason ----------------------------------------------------------------------------------------- */

static const struct wr_group *group_of(const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    return &teller->run->plant.groups[teller->run->plant.group_of[wash->filter]];
}

/* How the plant stood as a stretch began; NULL where that was not noted at that very time. */
static const struct wr_standing *standing_at(const struct wr_teller *teller, const struct wr_reason *reason)
{
    const struct wr_standing *standing = wr_diary_at(teller->diary, reason->from);
    return standing->time < reason->from || standing->time > reason->from ? NULL : standing;
}

/* Who was being washed, and until when. */
static void say_who_is_washed(struct wr_page *s, const struct wr_teller *teller, const struct wr_reason *reason)
{
    size_t said = 0;
    for (size_t w = 0; w < teller->diary->washes.count && said < 4; w++) {
        const struct wr_diary_wash *other = wr_diary_wash(teller->diary, w);
        const double ended = other->interrupted ? other->at_end.time : other->ended_at;
        if (!(other->started_at < reason->to && ended > reason->from))
            continue;
        wr_page_add(s, "%s%s", said++ == 0 ? ": " : "; ", teller->run->plant.names[other->filter]);
        if (isfinite(ended)) {
            wr_page_add(s, " until ");
            wr_explain_say_clock(s, teller, ended, reason->from);
        }
    }
}

/* What a wash draws at most, and what the source's pump, pipes or mains give to all of them. */
static void say_wash_flow(struct wr_page *s, const struct wr_teller *teller, const struct wr_group *g)
{
    const double most = teller->run->plant.wash_flow;
    wr_page_add(s, "a wash draws up to %s", wr_say(WR_QUANTITY_FLOW, g->peak_flow, teller->units).text);
    if (isfinite(most))
        wr_page_add(s, ", and all of them together may draw %s", wr_say(WR_QUANTITY_FLOW, most, teller->units).text);
}

/* What tank or storage held; false where there is none, or where that was not noted. */
static bool say_wash_stock(struct wr_page *s, const struct wr_teller *teller, const struct wr_group *g,
                           const struct wr_standing *standing)
{
    const struct wr_definition *d = teller->run->plant.definition;
    const enum wr_units units = teller->units;
    const bool from_tank = d->wash_water.source == WR_WATER_FROM_TANK;
    if (standing == NULL || (!from_tank && d->wash_water.source != WR_WATER_FROM_STORAGE))
        return false;
    if (from_tank)
        wr_page_add(s,
                    ": its tank held %s not promised to another wash, a wash takes %s, and the refill gives at most %s",
                    wr_say(WR_QUANTITY_VOLUME, fmax(0, standing->wash_free), units).text,
                    wr_say(WR_QUANTITY_VOLUME, g->wash_volume, units).text,
                    wr_say(WR_QUANTITY_FLOW, d->wash_water.tank.refill_rate, units).text);
    else
        wr_page_add(s, ": storage stood at %s, of which %s is reserve, and a wash takes %s",
                    wr_say_share(standing->storage / d->storage.volume).text, wr_say_share(d->storage.reserve).text,
                    wr_say(WR_QUANTITY_VOLUME, g->wash_volume, units).text);
    return true;
}

static void say_wash_water(struct wr_page *s, const struct wr_teller *teller, const struct wr_diary_wash *wash,
                           const struct wr_standing *standing)
{
    const struct wr_group *g = group_of(teller, wash);
    const bool has_said = say_wash_stock(s, teller, g, standing);
    if (has_said && !isfinite(teller->run->plant.wash_flow))
        return;
    wr_page_add(s, has_said ? "; " : ": ");
    say_wash_flow(s, teller, g);
}

static void say_figures(struct wr_page *s, const struct wr_teller *teller, const struct wr_diary_wash *wash,
                        const struct wr_reason *reason)
{
    const struct wr_definition *d = teller->run->plant.definition;
    const struct wr_standing *standing = standing_at(teller, reason);
    switch (reason->limit) {
    case WR_LIMIT_TIME_BETWEEN_STARTS:
        wr_page_add(s, ": %s", wr_say_duration(d->wash.min_between_starts).text);
        break;
    case WR_LIMIT_FILTERS_IN_SERVICE:
        wr_page_add(s, ": %zu must serve", d->wash.min_filters_in_service);
        if (standing != NULL)
            wr_page_add(s, " beside it, and %zu served with it", standing->in_service);
        break;
    case WR_LIMIT_STORAGE_LOCKOUT:
        if (standing != NULL)
            wr_page_add(s, ": it stood at %s, and none starts below %s",
                        wr_say_share(standing->storage / d->storage.volume).text,
                        wr_say_share(d->wash.storage_lockout).text);
        break;
    case WR_LIMIT_WASH_SYSTEM:
    case WR_LIMIT_BLOWER:
        say_who_is_washed(s, teller, reason);
        break;
    case WR_LIMIT_WASH_WATER:
        say_wash_water(s, teller, wash, standing);
        break;
    case WR_LIMIT_SPENT_WASH_ROOM:
        wr_page_add(s, ": a wash sends %s",
                    wr_say(WR_QUANTITY_VOLUME, group_of(teller, wash)->room, teller->units).text);
        break;
    case WR_LIMIT_HOLDING_ROOM:
        wr_page_add(s, ": a wash sends %s",
                    wr_say(WR_QUANTITY_VOLUME, group_of(teller, wash)->held_volume, teller->units).text);
        break;
    default:
        break;
    }
}

/* The wait in words ------------------------------------------------------------------------------------------------ */

/* More stretches than a reader follows one by one: then each reason has one line. */
enum { STRETCHES_SHOWN = 8 };

static void put_stretch(struct wr_page *page, const struct wr_teller *teller, const struct wr_diary_wash *wash,
                        const struct wr_reason *reason)
{
    struct wr_page s = {0};
    wr_page_add(&s, "From ");
    wr_explain_say_clock(&s, teller, reason->from, wash->called_at);
    wr_page_add(&s, " to ");
    wr_explain_say_clock(&s, teller, reason->to, reason->from);
    wr_page_add(&s, " (%s) because %s", wr_say_duration(reason->to - reason->from).text,
                wr_limit_row(reason->limit)->words);
    say_figures(&s, teller, wash, reason);
    wr_page_add(&s, ".");
    wr_page_flow_page(page, "  - ", &s);
}

/* One line a reason, the longest time as the first one. */
static void put_sums(struct wr_page *page, const struct wr_reason *reasons, size_t count)
{
    double sums[WR_LIMITS] = {0};
    size_t times[WR_LIMITS] = {0};
    for (size_t r = 0; r < count; r++) {
        sums[reasons[r].limit] += reasons[r].to - reasons[r].from;
        times[reasons[r].limit]++;
    }
    for (int shown = 0; shown < WR_LIMITS; shown++) {
        int most = 0;
        for (int l = 1; l < WR_LIMITS; l++)
            most = sums[l] > sums[most] ? l : most;
        if (sums[most] <= 0)
            return;
        wr_page_flow(page, "  - ", "%s in all, %s, because %s.", wr_say_duration(sums[most]).text,
                     wr_say_count(times[most], "time", "times").text, wr_limit_row((enum wr_limit)most)->words);
        sums[most] = 0;
    }
}

/* What held it too, though something before it in the order of reasons did as well. */
static void put_others(struct wr_page *page, const struct wr_teller *teller, const struct wr_diary_wash *wash,
                       const struct wr_reason *reasons, size_t count)
{
    struct wr_page s = {0};
    for (int l = 0; l < WR_LIMITS; l++) {
        double first = 0;
        for (size_t r = 0; r < count; r++)
            first += reasons[r].limit == (enum wr_limit)l ? reasons[r].to - reasons[r].from : 0;
        const double also = wr_explain_held(teller, wash, (enum wr_limit)l) - first;
        if (also > 0.5)
            wr_page_add(&s, "%s%s (for %s of that time)", s.length == 0 ? "Besides: " : "; ",
                        wr_limit_row((enum wr_limit)l)->words, wr_say_duration(also).text);
    }
    if (s.length == 0)
        return;
    wr_page_add(&s, ".");
    wr_page_flow_page(page, "  ", &s);
}

/* What the tanks did while there was no room, if that was the reason of some of the wait. */
static void put_tanks(struct wr_page *page, const struct wr_teller *teller, const struct wr_reason *reasons,
                      size_t count)
{
    struct wr_page s = {0};
    size_t first = 0, last = count;
    while (first < count && reasons[first].limit != WR_LIMIT_SPENT_WASH_ROOM)
        first++;
    while (last > first && reasons[last - 1].limit != WR_LIMIT_SPENT_WASH_ROOM)
        last--;
    if (first == last)
        return;
    wr_page_add(&s, "Why there was no room:");
    wr_explain_say_tanks(&s, teller, reasons[first].from, reasons[last - 1].to);
    wr_explain_say_turns(&s, teller, reasons[first].from, reasons[last - 1].to);
    wr_page_flow_page(page, "  ", &s);
}

static void put_how_long(struct wr_page *page, const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    struct wr_page s = {0};
    const bool came = isfinite(wash->started_at);
    wr_page_add(&s, "It waited %s, ", wr_say_duration(wash->waited).text);
    if (came) {
        wr_page_add(&s, "until ");
        wr_explain_say_clock(&s, teller, wash->started_at, wash->called_at);
    } else
        wr_page_add(&s, "and still waited at the end of the run");
    if (wash->ahead > 0)
        wr_page_add(&s, ". As it called, %s before it in line, %s first",
                    wr_say_count(wash->ahead, "filter was", "filters were").text,
                    teller->run->plant.names[wash->first]);
    if (wash->start_up)
        wr_page_add(&s, ". This was its first wash, and such a wait comes from how the run was started");
    if (wash->urgent)
        wr_page_add(&s, ". In the end it was urgent, and wash hours no longer held it");
    wr_page_add(&s, ".");
    wr_page_flow_page(page, "  ", &s);
}

void wr_explain_put_wait(struct wr_page *page, const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    struct wr_reason *reasons;
    if (wash->waited <= 0)
        return;
    const size_t count = wr_explain_reasons(teller, wash, &reasons);
    put_how_long(page, teller, wash);
    if (count > STRETCHES_SHOWN)
        put_sums(page, reasons, count);
    for (size_t r = 0; r < count && count <= STRETCHES_SHOWN; r++)
        put_stretch(page, teller, wash, &reasons[r]);
    put_others(page, teller, wash, reasons, count);
    put_tanks(page, teller, reasons, count);
    free(reasons);
}
