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
    ADD(r->condition_since);
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
    ADD_ARRAY(r->tanks.open_turn, r->plant->tank_count);
    ADD_ARRAY(r->tanks.sludge, r->plant->tank_count);
    ADD(r->tanks.open_emergency);
    ADD(r->tanks.given_before);
    ADD_ARRAY(r->washes, r->wash_count);
    ADD_ARRAY(r->spans, r->span_count);
    ADD_ARRAY(r->tanks.turns, r->tanks.turn_count);
    ADD_ARRAY(r->tanks.draws, r->tanks.draw_count);
    ADD_ARRAY(r->tanks.emergencies, r->tanks.emergency_count);
    return list.count;
}

void wr_record_counts(const struct wr_record *r, uint64_t counts[WR_RECORD_LISTS])
{
    counts[WR_LIST_WASHES] = r->wash_count;
    counts[WR_LIST_SPANS] = r->span_count;
    counts[WR_LIST_TURNS] = r->tanks.turn_count;
    counts[WR_LIST_DRAWS] = r->tanks.draw_count;
    counts[WR_LIST_EMERGENCIES] = r->tanks.emergency_count;
}

size_t wr_record_item_size(enum wr_record_list list)
{
    static const size_t sizes[] = {[WR_LIST_WASHES] = sizeof(struct wr_wash_record),
                                   [WR_LIST_SPANS] = sizeof(struct wr_span),
                                   [WR_LIST_TURNS] = sizeof(struct wr_turn),
                                   [WR_LIST_DRAWS] = sizeof(struct wr_draw_record),
                                   [WR_LIST_EMERGENCIES] = sizeof(struct wr_emergency)};
    return sizes[list];
}

/* Room for `wanted` items of a list in the place of none. */
static bool expect(void **items, size_t *count, size_t *room, uint64_t wanted, enum wr_record_list list)
{
    assert(*items == NULL);
    if (wanted == 0)
        return true;
    *items = calloc(wanted, wr_record_item_size(list));
    if (*items == NULL)
        return false;
    *count = *room = wanted;
    return true;
}

#define EXPECT(items, count, room, list) expect((void **)&(items), &(count), &(room), counts[list], list)

bool wr_record_expect(struct wr_record *r, const uint64_t counts[WR_RECORD_LISTS])
{
    struct wr_tank_lists *t = &r->tanks;
    return EXPECT(r->washes, r->wash_count, r->wash_room, WR_LIST_WASHES) &&
           EXPECT(r->spans, r->span_count, r->span_room, WR_LIST_SPANS) &&
           EXPECT(t->turns, t->turn_count, t->turn_room, WR_LIST_TURNS) &&
           EXPECT(t->draws, t->draw_count, t->draw_room, WR_LIST_DRAWS) &&
           EXPECT(t->emergencies, t->emergency_count, t->emergency_room, WR_LIST_EMERGENCIES);
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
    if (r->conditions >> WR_FINDINGS != 0)
        return false;
    for (unsigned k = 0; k < WR_FINDINGS; k++) {
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

/* Waits and filters held by their head have a filter, flows have none. */
static bool span_is_sound(const struct wr_record *r, const struct wr_span *span)
{
    if ((unsigned)span->limit >= WR_LIMITS || !is_place(r, span->where))
        return false;
    const enum wr_holds holds = wr_limit_row(span->limit)->holds;
    return (holds == WR_HOLDS_WASH || holds == WR_HOLDS_FILTER) == (span->where != WR_NOWHERE);
}

static bool spans_are_sound(const struct wr_record *r)
{
    for (size_t s = 0; s < r->span_count; s++)
        if (!span_is_sound(r, &r->spans[s]))
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

static bool turns_are_sound(const struct wr_record *r)
{
    const struct wr_tank_lists *t = &r->tanks;
    for (size_t i = 0; i < t->turn_count; i++)
        if (t->turns[i].tank >= r->plant->tank_count || !wr_flag_is_sound(&t->turns[i].unsettled))
            return false;
    for (size_t i = 0; i < r->plant->tank_count; i++)
        if (t->open_turn[i] > t->turn_count)
            return false;
    return true;
}

static bool draws_are_sound(const struct wr_record *r)
{
    for (size_t i = 0; i < r->tanks.draw_count; i++)
        if (r->tanks.draws[i].tank >= r->plant->tank_count || (unsigned)r->tanks.draws[i].why > WR_DRAW_DROPPED)
            return false;
    return true;
}

static bool emergencies_are_sound(const struct wr_record *r)
{
    for (size_t i = 0; i < r->tanks.emergency_count; i++) {
        const struct wr_emergency *e = &r->tanks.emergencies[i];
        if (e->outlet >= r->plant->outlet_count || e->tank >= r->plant->tank_count || !is_place(r, e->filter) ||
            !wr_flag_is_sound(&e->unsettled))
            return false;
    }
    return r->tanks.open_emergency <= r->tanks.emergency_count;
}

bool wr_record_is_sound(const struct wr_record *r, const struct wr_simulation *sim)
{
    const struct wr_wash_balance *b = &r->balance;
    return findings_are_sound(r) && washes_are_sound(r) && spans_are_sound(r) && open_washes_are_sound(r, sim) &&
           turns_are_sound(r) && draws_are_sound(r) && emergencies_are_sound(r) &&
           (unsigned)b->grade <= WR_GRADE_OVERRUN && is_limit_or_none((int)b->paced_by) &&
           is_limit_or_none((int)b->cause) && wr_flag_is_sound(&b->ever_exceeds_supply) &&
           wr_flag_is_sound(&b->keeps_pace) && r->room.waiting <= r->plant->filter_count &&
           ((uint64_t)r->room.holds >> WR_LIMITS) == 0;
}
