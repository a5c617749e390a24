/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/sound.h"

#include "sim/plant/bed.h"

#include <math.h>
#include <string.h>

bool wr_flag_is_sound(const bool *flag)
{
    unsigned char byte;
    memcpy(&byte, flag, 1);
    return byte <= 1;
}

static bool flags_are_sound(const bool *const *flags, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (!wr_flag_is_sound(flags[i]))
            return false;
    return true;
}

#define FLAGS_ARE_SOUND(...)                                                                                           \
    flags_are_sound((const bool *const[]){__VA_ARGS__}, sizeof((const bool *const[]){__VA_ARGS__}) / sizeof(bool *))

/* Limits of washes, or of flows: a reason of the other kind would be told of a filter that is none. */
static bool is_set_of(wr_limit_set set, bool of_washes)
{
    if (((uint64_t)set >> WR_LIMITS) != 0)
        return false;
    for (; set != 0; set &= set - 1)
        if ((wr_limit_row(wr_limit_first(set))->holds == WR_HOLDS_WASH) != of_washes)
            return false;
    return true;
}

static bool are_numbers(const double *numbers, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (isnan(numbers[i]))
            return false;
    return true;
}

/* Clock and timers ------------------------------------------------------------------------------------------------ */

static bool clock_is_sound(const struct wr_clock *clock, const struct wr_clock *fresh, size_t timers, double horizon)
{
    for (size_t i = 0; i < WR_GUARD_REMEMBERS; i++)
        if (clock->guard.last_acts[i] >= timers)
            return false;
    return clock->now >= 0 && clock->now <= horizon && isfinite(clock->guard.hour) &&
           clock->guard.most_rounds == fresh->guard.most_rounds &&
           clock->guard.most_beats_per_hour == fresh->guard.most_beats_per_hour;
}

/* Every node holds the winner of the two below it. */
static bool timers_are_sound(const struct wr_plant *plant, const struct wr_state *state)
{
    struct wr_timers timers;
    wr_timers_attach(&timers, plant->timers.count, wr_state_at(state, plant->layout.timers));
    for (size_t i = 0; i < timers.leaves; i++) {
        const double time = wr_timers_ranked(timers.ranks[i]);
        if (i < timers.count ? isnan(time) : time != WR_NEVER)
            return false;
    }
    for (size_t node = timers.leaves - 1; node > 0; node--) {
        const bool above_leaves = 2 * node >= timers.leaves;
        const uint32_t left = above_leaves ? (uint32_t)(2 * node - timers.leaves) : timers.winners[2 * node];
        const uint32_t right = above_leaves ? left + 1 : timers.winners[2 * node + 1];
        const bool right_wins = timers.ranks[right] < timers.ranks[left];
        if (timers.winners[node] != (right_wins ? right : left))
            return false;
    }
    return true;
}

/* Filters --------------------------------------------------------------------------------------------------------- */

static bool filter_is_sound(const struct wr_plant *plant, const struct wr_filter *f, size_t filter)
{
    if (!FLAGS_ARE_SOUND(&f->called, &f->above, &f->apart, &f->outage_waits, &f->urgent, &f->weak, &f->interrupted,
                         &f->alarmed, &f->washed, &f->stands_by))
        return false;
    const struct wr_group *g = &plant->groups[plant->group_of[filter]];
    const bool has_step = f->mode != WR_MODE_WASH || f->step < g->step_count;
    return (unsigned)f->mode <= WR_MODE_OUT && (unsigned)f->trigger < WR_TRIGGER_KINDS && has_step &&
           !(f->called && f->above) && f->step < WR_STEPS && f->tank < plant->tank_count + WR_BEYOND_TANKS &&
           is_set_of(f->reasons, true) && is_set_of(f->led, true) && are_numbers(f->bed.load, WR_CONSTITUENTS) &&
           are_numbers(&f->flow, 1) && are_numbers(&f->called_at, 1) && are_numbers(&f->wash_started_at, 1);
}

/* True when a list has `count` different filters. */
static bool lists_each_once(const uint32_t *list, uint32_t count, size_t filters)
{
    for (uint32_t i = 0; i < count; i++) {
        if (list[i] >= filters)
            return false;
        for (uint32_t before = 0; before < i; before++)
            if (list[before] == list[i])
                return false;
    }
    return true;
}

/* Filters are in their pack or among the lone, and in line when they have called, unless out. */
static bool lists_are_sound(const struct wr_plant *plant, const struct wr_state *state)
{
    const struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state), *line = wr_state_line(plant, state);
    size_t in_packs = 0, in_line = 0;
    if (state->lone > plant->filter_count || state->waiting > plant->filter_count ||
        !lists_each_once(lone, state->lone, plant->filter_count) ||
        !lists_each_once(line, state->waiting, plant->filter_count))
        return false;
    for (size_t f = 0; f < plant->filter_count; f++) {
        in_packs += wr_bed_in_pack(&filters[f]);
        in_line += filters[f].called && filters[f].mode != WR_MODE_OUT;
    }
    for (uint32_t i = 0; i < state->lone; i++)
        if (wr_bed_in_pack(&filters[lone[i]]))
            return false;
    for (uint32_t i = 0; i < state->waiting; i++)
        if (!filters[line[i]].called || filters[line[i]].mode == WR_MODE_OUT)
            return false;
    return in_packs + state->lone == plant->filter_count && in_line == state->waiting;
}

/* -1 or a member of the pack. One that never had a member has not been looked through: its places tell nothing, but are
 * filters all the same. */
static bool is_member_or_none(const struct wr_plant *plant, const struct wr_state *state, size_t group, int32_t place)
{
    const struct wr_group *g = &plant->groups[group];
    if (place < 0 || (size_t)place >= plant->filter_count)
        return place == -1;
    return wr_state_packs(plant, state)[group].members == 0 ||
           ((size_t)place >= g->first && (size_t)place < g->first + g->count &&
            wr_bed_in_pack(&wr_state_filters(plant, state)[place]));
}

/* Who meets a trigger next is one that can. */
static bool may_be_next(const struct wr_plant *plant, const struct wr_state *state, size_t group, int trigger)
{
    const struct wr_pack *pack = &wr_state_packs(plant, state)[group];
    const int32_t next = pack->next[trigger];
    return is_member_or_none(plant, state, group, next) &&
           (next == -1 || pack->members == 0 || wr_bed_can_meet(&wr_state_filters(plant, state)[next], trigger));
}

static bool pack_is_sound(const struct wr_plant *plant, const struct wr_state *state, size_t group)
{
    const struct wr_pack *pack = &wr_state_packs(plant, state)[group];
    const struct wr_group *g = &plant->groups[group];
    uint32_t members = 0, above = 0;
    if (!FLAGS_ARE_SOUND(&pack->stale))
        return false;
    for (size_t f = g->first; f < g->first + g->count; f++) {
        const struct wr_filter *filter = &wr_state_filters(plant, state)[f];
        members += wr_bed_in_pack(filter);
        above += wr_bed_in_pack(filter) && filter->above;
    }
    if (pack->members != members || pack->above != above)
        return false;
    for (int t = 0; t < WR_TRIGGERS; t++)
        if (!pack->stale && !may_be_next(plant, state, group, t))
            return false;
    return (pack->stale || is_member_or_none(plant, state, group, pack->dirtiest)) && are_numbers(&pack->rate, 1) &&
           are_numbers(pack->sum.load, WR_CONSTITUENTS) && are_numbers(&pack->judged_rate, 1) &&
           are_numbers(pack->thresholds, WR_TRIGGERS);
}

static bool filters_are_sound(const struct wr_plant *plant, const struct wr_state *state)
{
    for (size_t f = 0; f < plant->filter_count; f++)
        if (!filter_is_sound(plant, &wr_state_filters(plant, state)[f], f))
            return false;
    if (!lists_are_sound(plant, state))
        return false;
    for (size_t g = 0; g < plant->group_count; g++)
        if (!pack_is_sound(plant, state, g))
            return false;
    return true;
}

/* Water ----------------------------------------------------------------------------------------------------------- */

static bool tank_is_sound(const struct wr_tank *t, double now)
{
    const double numbers[] = {t->level,   t->free,  t->sludge, t->ready, t->clears,
                              t->carried, t->clear, t->lifted, t->since, t->drawn};
    return (unsigned)t->mode <= WR_TANK_DECANTING && FLAGS_ARE_SOUND(&t->empty, &t->dumped, &t->draw_due, &t->closed) &&
           are_numbers(numbers, sizeof numbers / sizeof *numbers) && are_numbers(t->mass, WR_CONSTITUENTS) &&
           are_numbers(t->blanket, WR_CONSTITUENTS) && t->excess >= 0 && t->thickened_at >= 0 && t->thickened_at <= now;
}

static bool units_are_sound(const struct wr_plant *plant, const struct wr_state *state)
{
    for (size_t i = 0; i < plant->tank_count; i++)
        if (!tank_is_sound(&wr_state_tanks(plant, state)[i], state->clock.now))
            return false;
    for (size_t i = 0; i < plant->well_count; i++) {
        const struct wr_well_state *w = &wr_state_wells(plant, state)[i];
        if (!FLAGS_ARE_SOUND(&w->called, &w->wanted, &w->rests, &w->runs, &w->running, &w->out) ||
            !are_numbers((const double[]){w->flow, w->started, w->stopped}, 3))
            return false;
    }
    for (size_t i = 0; i < plant->outlet_count; i++) {
        const struct wr_outlet_state *o = &wr_state_outlets(plant, state)[i];
        if (!FLAGS_ARE_SOUND(&o->open, &o->spent) ||
            !are_numbers((const double[]){o->changes, o->today, o->given, o->flow}, 4))
            return false;
    }
    for (size_t i = 0; i < plant->outage_count; i++)
        if (wr_state_outages(plant, state)[i] > WR_OUTAGE_OVER)
            return false;
    return true;
}

static bool head_is_sound(const struct wr_plant *plant, const struct wr_state *s)
{
    return FLAGS_ARE_SOUND(&s->storage.below_reserve, &s->storage.below_low_mark, &s->storage.below_lockout,
                           &s->wash_tank.refilling, &s->wash_tank.full, &s->wash_tank.armed_free,
                           &s->wells_share.all_wanted, &s->wells_share.stands, &s->wash_pump_out, &s->blower_out,
                           &s->recycle_pump_out, &s->window_open, &s->attended_open, &s->wants_room, &s->locked) &&
           (unsigned)s->storage.pin <= WR_PIN_FULL && s->flows.recycle_tank <= plant->tank_count &&
           s->washing <= plant->filter_count && s->rinsing <= plant->filter_count && s->air_washes <= s->washing &&
           is_set_of(s->held, false) && is_set_of(s->flows.held, false) && is_set_of(s->wells_share.held, false) &&
           s->settled_at >= 0 && s->settled_at <= s->clock.now && are_numbers(&s->storage.level, 1) &&
           are_numbers(&s->wash_tank.level, 1) && are_numbers(&s->demand, 1);
}

bool wr_state_is_sound(const struct wr_simulation *fresh, const struct wr_state *state, double horizon)
{
    const struct wr_plant *plant = fresh->plant;
    return clock_is_sound(&state->clock, &fresh->state->clock, plant->timers.count, horizon) &&
           timers_are_sound(plant, state) && head_is_sound(plant, state) && units_are_sound(plant, state) &&
           filters_are_sound(plant, state);
}
