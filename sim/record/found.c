/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was found, and the limit that is behind it. */
#include "sim/record/found.h"

/* Limits that hold raw water back, of which one is laid the blame when finished water runs short. */
static const enum wr_limit raw_limits[] = {WR_LIMIT_WELL_DOES_NOT_FIT, WR_LIMIT_ALL_WELLS_RUNNING,
                                           WR_LIMIT_HEAD_HOLDS_WELLS, WR_LIMIT_NO_FILTER_IN_SERVICE,
                                           WR_LIMIT_APPROVED_CAPACITY};

/* What held raw water longest since storage last stood where it started. */
static enum wr_limit what_held_raw(const struct wr_record *r, const struct wr_simulation *sim)
{
    enum wr_limit longest = WR_LIMIT_NONE;
    double most = 0;
    for (size_t i = 0; i < sizeof raw_limits / sizeof *raw_limits; i++) {
        const enum wr_limit limit = raw_limits[i];
        const double held = sim->state->holds[limit] - r->holds_at_start[limit];
        if (held > most) {
            most = held;
            longest = limit;
        }
    }
    for (size_t i = 0; i < sizeof raw_limits / sizeof *raw_limits && longest == WR_LIMIT_NONE; i++)
        if ((sim->state->flows.held & wr_limit_bit(raw_limits[i])) != 0)
            longest = raw_limits[i];
    return longest;
}

enum wr_limit wr_record_held_washes(const struct wr_simulation *sim, bool rules_too)
{
    enum wr_limit longest = WR_LIMIT_NONE;
    double most = 0;
    for (int l = 0; l < WR_LIMITS; l++) {
        const enum wr_limit limit = (enum wr_limit)l;
        const double held = sim->state->waits[limit].first + sim->state->start_up[limit].first;
        if (wr_limit_row(limit)->holds != WR_HOLDS_WASH || (!rules_too && !wr_limit_is_resource(limit)) || held <= most)
            continue;
        most = held;
        longest = limit;
    }
    return longest;
}

static enum wr_limit limit_behind(const struct wr_record *r, const struct wr_simulation *sim, enum wr_finding_kind kind,
                                  enum wr_limit given)
{
    switch (kind) {
    case WR_FINDING_UNMET_DEMAND:
    case WR_FINDING_RESERVE_USED:
    case WR_FINDING_NOT_RETURNING:
    case WR_FINDING_STORAGE_LOW:
        return what_held_raw(r, sim);
    case WR_FINDING_HEAD_REACHED: {
        const enum wr_limit held = wr_record_held_washes(sim, true);
        return held != WR_LIMIT_NONE ? held : WR_LIMIT_AVAILABLE_HEAD;
    }
    case WR_FINDING_NOT_KEEPING_PACE:
        return wr_record_held_washes(sim, false);
    case WR_FINDING_PLANT_LOCKED:
        return sim->state->washing > 0 ? WR_LIMIT_RAW_FOR_RINSE : wr_record_held_washes(sim, true);
    case WR_FINDING_SPENT_WASH_SPILLED:
        return WR_LIMIT_SPENT_WASH_ROOM;
    case WR_FINDING_RECYCLE_HELD:
        return wr_limit_first(sim->state->flows.held & wr_record_recycle_limits());
    default:
        return given;
    }
}

bool wr_record_fails(const struct wr_record *r, enum wr_finding_kind kind)
{
    static const enum wr_finding_kind kinds[] = {[WR_FAILS_IF_WASHES_WAITED] = WR_FINDING_WASHES_WAITED,
                                                 [WR_FAILS_IF_DEFERRED_BY_RULE] = WR_FINDING_DEFERRED_BY_RULE,
                                                 [WR_FAILS_IF_STORAGE_LOW] = WR_FINDING_STORAGE_LOW,
                                                 [WR_FAILS_IF_RINSE_SHORT] = WR_FINDING_RINSE_SHORT,
                                                 [WR_FAILS_IF_RECYCLE_HELD] = WR_FINDING_RECYCLE_HELD,
                                                 [WR_FAILS_IF_OVERFLOWED] = WR_FINDING_FINISHED_WATER_OVERFLOWED,
                                                 [WR_FAILS_IF_APPROVED_RATE_EXCEEDED] =
                                                     WR_FINDING_APPROVED_RATE_EXCEEDED,
                                                 [WR_FAILS_IF_CLEAN_HEAD_RISING] = WR_FINDING_CLEAN_HEAD_RISING};
    const struct wr_fails_if_list *list = &r->plant->definition->fails_if;
    bool fails = wr_finding_row(kind)->fails;
    for (size_t i = 0; i < list->count; i++)
        fails = fails || kinds[list->items[i].finding] == kind;
    return fails;
}

struct wr_finding *wr_record_found(struct wr_record *r, const struct wr_simulation *sim, enum wr_finding_kind kind,
                                   enum wr_limit given, size_t where, double start)
{
    const bool is_first_failure = wr_record_fails(r, kind) && !r->failed;
    struct wr_finding *finding = &r->findings[kind][given == WR_LIMIT_NONE ? WR_LIMITS : given];
    if (finding->times == 0)
        *finding = (struct wr_finding){
            .kind = kind, .limit = limit_behind(r, sim, kind, given), .where = where, .start = start};
    finding->times++;
    if (is_first_failure) {
        r->failed = true;
        r->failed_kind = kind;
        r->failed_limit = finding->limit;
        r->failed_where = where;
        r->failed_at = start;
    }
    return finding;
}

const struct wr_finding *wr_record_finding(const struct wr_record *record, const struct wr_finding *after)
{
    const struct wr_finding *first = &record->findings[0][0], *end = first + WR_FINDINGS * (WR_LIMITS + 1);
    for (const struct wr_finding *f = after == NULL ? first : after + 1; f < end; f++)
        if (f->times > 0)
            return f;
    return NULL;
}
