/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/lift.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* As many as never to bind. */
enum { ENOUGH_WELLS = 4, ENOUGH_TANKS = 20, ENOUGH_WASHES = 1000 };

static const double ENOUGH_HEAD = 10;

/* A list repeated so many times, owned by the lifted definition; NULL without memory. */
static void *repeated(struct wr_lifted *lifted, const void *items, size_t count, size_t size, size_t times)
{
    char *copy = malloc(count * size * times);
    for (size_t i = 0; copy != NULL && i < times; i++)
        memcpy(copy + i * count * size, items, count * size);
    if (copy != NULL)
        lifted->owned[lifted->owned_count++] = copy;
    return copy;
}

static bool more_wells(struct wr_lifted *lifted)
{
    struct wr_wells *wells = &lifted->definition.wells;
    struct wr_well *items = repeated(lifted, wells->items, wells->count, sizeof *items, ENOUGH_WELLS);
    if (items == NULL)
        return false;
    wells->items = items;
    wells->count *= ENOUGH_WELLS;
    return true;
}

/* Wells that give just what fits, as many small ones or well-driven ones would. */
static bool fitting_wells(struct wr_lifted *lifted)
{
    struct wr_wells *wells = &lifted->definition.wells;
    struct wr_well *items = repeated(lifted, wells->items, wells->count, sizeof *items, 1);
    if (items == NULL)
        return false;
    for (size_t w = 0; w < wells->count; w++) {
        items[w].drive = WR_DRIVE_VARIABLE;
        items[w].least_flow = 0;
        items[w].minimum_rest = 0;
    }
    wells->items = items;
    lifted->definition.over_approved_rate = WR_OVER_THROTTLE;
    return true;
}

static bool rested_wells(struct wr_lifted *lifted)
{
    struct wr_wells *wells = &lifted->definition.wells;
    struct wr_well *items = repeated(lifted, wells->items, wells->count, sizeof *items, 1);
    for (size_t w = 0; items != NULL && w < wells->count; w++)
        items[w].minimum_rest = 0;
    if (items != NULL)
        wells->items = items;
    return items != NULL;
}

static bool more_tanks(struct wr_lifted *lifted)
{
    struct wr_spent_tanks *tanks = &lifted->definition.spent_wash.tanks;
    struct wr_spent_tank *items = repeated(lifted, tanks->items, tanks->count, sizeof *items, ENOUGH_TANKS);
    if (items == NULL)
        return false;
    tanks->items = items;
    tanks->count *= ENOUGH_TANKS;
    return true;
}

static bool more_head(struct wr_lifted *lifted)
{
    struct wr_filter_groups *groups = &lifted->definition.filters;
    struct wr_filter_group *items = repeated(lifted, groups->items, groups->count, sizeof *items, 1);
    for (size_t g = 0; items != NULL && g < groups->count; g++)
        items[g].available_head *= ENOUGH_HEAD;
    if (items != NULL)
        groups->items = items;
    return items != NULL;
}

/* A tank that holds washes for days, is refilled as fast as there is effluent, and whose pump gives all that is asked.
 */
static bool more_water(struct wr_lifted *lifted, const struct wr_plant *plant)
{
    double largest = 0, flow = 0;
    for (size_t g = 0; g < plant->group_count; g++) {
        largest = fmax(largest, plant->groups[g].wash_volume);
        flow = fmax(flow, plant->groups[g].peak_flow);
    }
    lifted->definition.wash_water.source = WR_WATER_FROM_TANK;
    lifted->definition.wash_water.max_flow = WR_ABSENT;
    lifted->definition.wash_water.tank = (struct wr_wash_tank){
        .volume = largest * ENOUGH_WASHES, .start_level = 1, .refill_rate = flow, .refill_on_below = 1};
    return true;
}

bool wr_lift(struct wr_lifted *lifted, const struct wr_plant *plant, enum wr_limit limit)
{
    *lifted = (struct wr_lifted){.definition = *plant->definition};
    struct wr_definition *d = &lifted->definition;
    switch (limit) {
    case WR_LIMIT_WINDOW:
        d->wash.window.count = 0;
        return true;
    case WR_LIMIT_TIME_BETWEEN_STARTS:
        d->wash.min_between_starts = 0;
        return true;
    case WR_LIMIT_FILTERS_IN_SERVICE:
        d->wash.min_filters_in_service = 0;
        return true;
    case WR_LIMIT_STORAGE_LOCKOUT:
        d->wash.storage_lockout = 0;
        return true;
    case WR_LIMIT_PLANT_STOPPED:
        d->wash.when_plant_stopped = WR_STOPPED_START_WELL;
        return true;
    case WR_LIMIT_ATTENDED_HOURS:
        d->wash.attended.count = 0;
        return true;
    case WR_LIMIT_WASH_SYSTEM:
        d->wash.max_simultaneous = ENOUGH_WASHES;
        d->wash.blowers = ENOUGH_WASHES;
        return true;
    case WR_LIMIT_BLOWER:
        d->wash.blowers = ENOUGH_WASHES;
        return true;
    case WR_LIMIT_WASH_WATER:
        return more_water(lifted, plant);
    case WR_LIMIT_SPENT_WASH_ROOM:
        return more_tanks(lifted);
    case WR_LIMIT_HOLDING_ROOM:
        d->wash.holding.volume *= ENOUGH_WASHES;
        return true;
    case WR_LIMIT_ALL_WELLS_RUNNING:
        return more_wells(lifted);
    case WR_LIMIT_WELL_DOES_NOT_FIT:
        return fitting_wells(lifted);
    case WR_LIMIT_WELL_RESTS:
        return rested_wells(lifted);
    case WR_LIMIT_HEAD_HOLDS_WELLS:
    case WR_LIMIT_AVAILABLE_HEAD:
        return more_head(lifted);
    case WR_LIMIT_APPROVED_CAPACITY:
    case WR_LIMIT_RECYCLE_APPROVED_CAPACITY:
        d->approved_capacity = WR_ABSENT;
        return true;
    default:
        return false;
    }
}

void wr_lifted_fini(struct wr_lifted *lifted)
{
    for (size_t i = 0; i < lifted->owned_count; i++)
        free(lifted->owned[i]);
    *lifted = (struct wr_lifted){0};
}
