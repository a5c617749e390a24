/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/record/keep.h"

#include "sim/plant/sound.h"

#include <assert.h>
#include <stdlib.h>

/* A list of parts that is being made. */
struct parts {
    struct wr_part *items;
    size_t count;
};

static void add(struct parts *parts, void *bytes, size_t size)
{
    assert(parts->count < WR_RECORD_PARTS);
    parts->items[parts->count++] = (struct wr_part){bytes, size};
}

#define ADD(member) add(parts, &(member), sizeof(member))
#define ADD_ARRAY(array, count) add(parts, (array), (count) * sizeof *(array))

/* Horizon and what the record is asked to keep come from who goes on; how the plant stood at the start it has when it
 * is opened. */
static void add_tallies(struct parts *parts, struct wr_record *r)
{
    ADD(r->findings);
    ADD(r->conditions);
    ADD(r->least_storage);
    ADD(r->highest_recycle_share);
    ADD(r->second_half_highest);
    ADD(r->last_at_start);
    ADD(r->holds_at_start);
    ADD(r->balance);
    ADD(r->gathered);
    ADD(r->load_at_call);
    ADD(r->week_gathered);
    ADD(r->week_load);
    ADD(r->day);
    ADD(r->someone_waits_since);
    ADD(r->last_level);
    ADD(r->last_time);
    ADD(r->room);
    ADD(r->unwashed);
    ADD(r->failed);
    ADD(r->failed_kind);
    ADD(r->failed_limit);
    ADD(r->failed_where);
    ADD(r->failed_at);
}

static void add_habits(struct parts *parts, struct wr_habits *h, const struct wr_plant *plant)
{
    ADD_ARRAY(h->rates, plant->group_count);
    ADD_ARRAY(h->idle_since, plant->group_count);
    ADD_ARRAY(h->clean_heads, plant->filter_count);
    ADD_ARRAY(h->hour, plant->well_count);
    ADD_ARRAY(h->starts, plant->well_count);
    ADD_ARRAY(h->counted, plant->well_count);
    ADD(h->all_counted);
    ADD(h->calls);
}

size_t wr_record_parts(struct wr_record *r, struct wr_part items[WR_RECORD_PARTS])
{
    struct parts list = {.items = items}, *parts = &list;
    add_tallies(parts, r);
    add_habits(parts, &r->habits, r->plant);
    ADD_ARRAY(r->filters, r->plant->filter_count);
    ADD_ARRAY(r->open_wash, r->plant->filter_count);
    ADD_ARRAY(r->washes, r->wash_count);
    ADD_ARRAY(r->spans, r->span_count);
    return list.count;
}

bool wr_record_expect(struct wr_record *r, size_t washes, size_t spans)
{
    assert(r->washes == NULL && r->spans == NULL);
    if (washes > 0)
        r->washes = calloc(washes, sizeof *r->washes);
    if (spans > 0)
        r->spans = calloc(spans, sizeof *r->spans);
    if ((washes > 0 && r->washes == NULL) || (spans > 0 && r->spans == NULL))
        return false;
    r->wash_count = r->wash_room = washes;
    r->span_count = r->span_room = spans;
    return true;
}

/* Soundness ------------------------------------------------------------------------------------------------------- */

static bool is_limit_or_none(int limit)
{
    return limit >= WR_LIMIT_NONE && limit < WR_LIMITS;
}

static bool is_place(const struct wr_record *r, size_t where)
{
    return where < r->plant->filter_count || where == WR_NOWHERE;
}

static bool findings_are_sound(const struct wr_record *r)
{
    for (unsigned k = 0; k < WR_FINDINGS; k++) {
        if (!wr_flag_is_sound(&r->conditions[k].on))
            return false;
        for (int l = 0; l <= WR_LIMITS; l++) {
            const struct wr_finding *f = &r->findings[k][l];
            if (f->times > 0 && ((unsigned)f->kind != k || !is_limit_or_none((int)f->limit) || !is_place(r, f->where)))
                return false;
        }
    }
    return wr_flag_is_sound(&r->failed) && (unsigned)r->failed_kind < WR_FINDINGS &&
           is_limit_or_none((int)r->failed_limit) && is_place(r, r->failed_where);
}

static bool washes_are_sound(const struct wr_record *r)
{
    for (size_t w = 0; w < r->wash_count; w++) {
        const struct wr_wash_record *wash = &r->washes[w];
        if (wash->filter >= r->plant->filter_count || (unsigned)wash->trigger >= WR_TRIGGER_KINDS ||
            wash->tank >= r->plant->tank_count + WR_BEYOND_TANKS || !wr_flag_is_sound(&wash->start_up))
            return false;
    }
    return true;
}

static bool spans_are_sound(const struct wr_record *r)
{
    for (size_t s = 0; s < r->span_count; s++)
        if ((unsigned)r->spans[s].limit >= WR_LIMITS || !is_place(r, r->spans[s].where))
            return false;
    return true;
}

/* A wash under way is one of the list. */
static bool open_washes_are_sound(const struct wr_record *r, const struct wr_simulation *sim)
{
    for (size_t f = 0; f < r->plant->filter_count; f++) {
        const bool is_washed = wr_state_filters(sim->plant, sim->state)[f].mode == WR_MODE_WASH;
        if (r->open_wash[f] >= r->wash_count && (r->open_wash[f] > 0 || (is_washed && r->keeps_lists)))
            return false;
    }
    return true;
}

bool wr_record_is_sound(const struct wr_record *r, const struct wr_simulation *sim)
{
    const struct wr_wash_balance *b = &r->balance;
    return findings_are_sound(r) && washes_are_sound(r) && spans_are_sound(r) && open_washes_are_sound(r, sim) &&
           (unsigned)b->grade <= WR_GRADE_OVERRUN && is_limit_or_none((int)b->paced_by) &&
           is_limit_or_none((int)b->cause) && wr_flag_is_sound(&b->ever_exceeds_supply) &&
           wr_flag_is_sound(&b->keeps_pace) && r->room.waiting <= r->plant->filter_count &&
           ((uint64_t)r->room.holds >> WR_LIMITS) == 0;
}
