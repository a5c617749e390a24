/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The line of filters that wait for their wash in the twin, and what holds the first of them. */
#include "tests/plant/twin_state.h"

#include <stdlib.h>

/* The line ----------------------------------------------------------------------------------------------------------
 */

static bool comes_before(const struct twin *twin, const struct twin_filter *a, const struct twin_filter *b)
{
    if (a->urgent != b->urgent) {
        return a->urgent;
    }
    if (twin->definition->wash.who_first == WR_FIRST_DIRTIEST) {
        if (fabs(a->load - b->load) > TWIN_SLACK * fmax(a->load, b->load)) {
            return a->load > b->load;
        }
    } else if (a->called_at != b->called_at) {
        return a->called_at < b->called_at;
    }
    return a->last_start < b->last_start;
}

static struct twin_filter *find_first(struct twin *twin)
{
    struct twin_filter *first = NULL;
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        if (filter->called && filter->mode != TWIN_OUT && (!first || comes_before(twin, filter, first))) {
            first = filter;
        }
    }
    return first;
}

/* Own rules ---------------------------------------------------------------------------------------------------------
 */

static size_t others_in_service(const struct twin *twin, const struct twin_filter *filter)
{
    size_t count = 0;
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        count += &twin->filters[i] != filter && twin->filters[i].mode == TWIN_SERVING;
    }
    return count;
}

/* No well is called, or must run on, that could run. */
static bool stands_still(const struct twin *twin)
{
    for (size_t i = 0; i < twin->plant->well_count; i++) {
        const struct twin_well *well = &twin->wells[i];
        const struct wr_well *rules = &twin->definition->wells.items[i];
        const bool rests = !well->running && twin->now < well->stopped + rules->minimum_rest;
        const bool runs_on = well->running && twin->now < well->started + rules->minimum_run;
        if (!well->out && (well->called ? !rests : runs_on)) {
            return false;
        }
    }
    return true;
}

/* What falls through the level is seen a step late, as all else is: what else happens at the level may use it. */
static bool is_locked_out(const struct twin *twin)
{
    const double level = twin->definition->wash.storage_lockout * twin->definition->storage.volume;
    return fmax(twin->storage, twin->storage_before) < level * (1.0 - TWIN_SLACK);
}

static bool do_rules_hold(const struct twin *twin, const struct twin_filter *filter)
{
    const struct wr_wash *wash = &twin->definition->wash;
    return (!twin->window_open && !filter->urgent) || twin->now < twin->last_start + wash->min_between_starts ||
           others_in_service(twin, filter) < wash->min_filters_in_service || is_locked_out(twin) ||
           (wash->when_plant_stopped == WR_STOPPED_WAIT && stands_still(twin)) ||
           (filter->held && !twin->attended_open);
}

/* Resources ---------------------------------------------------------------------------------------------------------
 */

static bool does_wash_system_hold(const struct twin *twin, const struct twin_filter *filter)
{
    const struct wr_wash *wash = &twin->definition->wash;
    size_t with_air = 0;
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        with_air += twin->filters[i].mode == TWIN_WASHING && twin->filters[i].group->air;
    }
    return twin->washing >= wash->max_simultaneous ||
           (filter->group->air && (twin->blower_out || with_air >= wash->blowers)) || twin->pump_out;
}

/* What the wells that are not out give, m3/s, in their order, within some room and the approved capacity. */
static double flow_of_wells(const struct twin *twin, double room)
{
    const double limit = fmin(room, twin->plant->approved_capacity);
    double flow = 0.0;
    for (size_t i = 0; i < twin->plant->well_count; i++) {
        flow += twin->wells[i].out ? 0.0 : twin_well_flow(twin, i, limit - flow);
    }
    return flow;
}

/* What the filters other than one could make at the instant, m3/s: of the wells that fit into them, in their order. */
static double made_without(struct twin *twin, const struct twin_filter *filter)
{
    double capacity = 0.0;
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        const struct twin_filter *other = &twin->filters[i];
        capacity += other != filter && other->mode == TWIN_SERVING ? twin_limit(twin, other) * other->group->area : 0.0;
    }
    return flow_of_wells(twin, capacity);
}

/* A tank, or storage above its reserve, that holds the whole wash; a source that only flows holds none and needs none.
 */
static bool has_volume(const struct twin *twin, const struct twin_filter *filter)
{
    const struct wr_storage *storage = &twin->definition->storage;
    const double needed = filter->group->wash_volume * (1.0 - TWIN_SLACK);
    switch (twin->definition->wash_water.source) {
    case WR_WATER_FROM_TANK:
        return twin->wash_level - twin->wash_booked >= needed;
    case WR_WATER_FROM_STORAGE:
        return twin->storage - storage->reserve * storage->volume - twin->wash_booked >= needed;
    default:
        return true;
    }
}

/* A flow for this wash beside those under way, from what makes it and through what carries it. */
static bool has_flow(struct twin *twin, const struct twin_filter *filter)
{
    const struct wr_wash_water *water = &twin->definition->wash_water;
    double peak = filter->group->peak_flow;
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        peak += twin->filters[i].mode == TWIN_WASHING ? twin->filters[i].group->peak_flow : 0.0;
    }
    if (wr_is_given(water->max_flow) && !twin_fits(peak, water->max_flow)) {
        return false;
    }
    switch (water->source) {
    case WR_WATER_FROM_FILTERS:
        return twin_fits(peak, made_without(twin, filter));
    case WR_WATER_FROM_WELLS:
        return twin_fits(peak, flow_of_wells(twin, HUGE_VAL));
    case WR_WATER_FROM_SYSTEM:
        return twin_fits(peak, water->draw_limit);
    default:
        return true;
    }
}

/* The tank with the least room that is enough, of those that fill. */
size_t twin_find_tank(const struct twin *twin, double room)
{
    size_t best = twin->plant->tank_count;
    double least = HUGE_VAL;
    for (size_t i = 0; i < twin->plant->tank_count; i++) {
        const struct twin_tank *tank = &twin->tanks[i];
        const double free = tank->volume - tank->level - tank->booked;
        if (tank->mode == TWIN_FILLING && !tank->out && free >= room * (1.0 - TWIN_SLACK) && free < least) {
            best = i;
            least = free;
        }
    }
    return best;
}

static bool has_room(const struct twin *twin, const struct twin_filter *filter, size_t tank)
{
    const struct wr_holding *holding = &twin->definition->wash.holding;
    if (twin->plant->tank_count > 0 && tank == twin->plant->tank_count) {
        return false;
    }
    return !wr_is_given(holding->volume) ||
           twin_fits(filter->group->held_volume, holding->volume - twin->holding - twin->holding_booked);
}

/* Starts ------------------------------------------------------------------------------------------------------------
 */

static bool list_start(struct twin *twin, const struct twin_filter *filter)
{
    struct twin_result *result = twin->result;
    if (result->start_count == result->start_room) {
        const size_t room = 2 * result->start_room + 64;
        struct twin_start *starts = realloc(result->starts, room * sizeof *starts);
        if (!starts) {
            return false;
        }
        result->starts = starts;
        result->start_room = room;
    }
    result->starts[result->start_count++] = (struct twin_start){twin->now, (size_t)(filter - twin->filters)};
    return true;
}

/* Starts what may start, the first in line first. False when memory runs out. */
static bool start_washes(struct twin *twin)
{
    twin->wants_room = false;
    while (twin->waiting > 0) {
        struct twin_filter *filter = find_first(twin);
        if (!filter) {
            return true;
        }
        const bool volume = has_volume(twin, filter);
        const size_t tank = twin_find_tank(twin, filter->group->room);
        twin->refilling = twin->refilling || !volume;
        twin->wants_room = twin->plant->tank_count > 0 && tank == twin->plant->tank_count;
        if (do_rules_hold(twin, filter) || does_wash_system_hold(twin, filter) || !volume || !has_flow(twin, filter) ||
            !has_room(twin, filter, tank)) {
            return true;
        }
        if (!list_start(twin, filter)) {
            return false;
        }
        twin_begin_wash(twin, filter, tank);
    }
    return true;
}

bool twin_decide(struct twin *twin)
{
    const bool wanted_room = twin->wants_room;
    if (!start_washes(twin)) {
        return false;
    }
    twin_look_at_emergency(twin);
    twin->changed = twin->changed || twin->wants_room != wanted_room;
    return true;
}
