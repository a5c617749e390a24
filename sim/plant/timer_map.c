/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/timer_map.h"

#include "sim/plant/build.h"

#include <stdio.h>

static size_t take(size_t *next, size_t count)
{
    const size_t first = *next;
    *next += count;
    return first;
}

/* What a plant cannot have takes no timer: every set of one goes up the whole tree, and few trees are lower. */
void wr_build_timers(struct wr_plant *plant)
{
    const struct wr_definition *d = plant->definition;
    struct wr_timer_map *map = &plant->timers;
    size_t next = 0;
    map->signal = take(&next, 1);
    map->outages = take(&next, plant->outage_count);
    map->tanks = take(&next, plant->tank_count);
    map->steps = take(&next, plant->filter_count);
    map->storage = take(&next, 1);
    map->wash_water = take(&next, 1);
    map->rooms = take(&next, plant->tank_count);
    map->wells = take(&next, plant->well_count);
    map->start = take(&next, d->wash.rinse_at_start > 0);
    map->window = take(&next, 1);
    map->attended = take(&next, 1);
    map->outlets = take(&next, plant->outlet_count);
    map->midnight = take(&next, 1);
    map->holding = take(&next, wr_is_given(d->wash.holding.volume));
    map->sludge = take(&next, d->spent_wash.has_blanket && d->spent_wash.sludge.drawn == WR_SLUDGE_BY_CALENDAR);
    map->gap = take(&next, 1);
    map->overtakes = take(&next, d->wash.who_first == WR_FIRST_DIRTIEST);
    map->mixing = take(&next, !plant->has_settling);
    map->heads = take(&next, plant->group_count);
    map->stretches = take(&next, plant->filter_count);
    map->rota = take(&next, plant->rota_count);
    map->calls = take(&next, plant->group_count);
    map->filter_calls = take(&next, plant->filter_count);
    map->count = next;
}

void wr_plant_timer_name(const struct wr_plant *plant, size_t timer, char *text, size_t size)
{
    const struct wr_timer_map *m = &plant->timers;
    const struct wr_spent_tanks *tanks = &plant->definition->spent_wash.tanks;
    const struct wr_filter_groups *groups = &plant->definition->filters;
    if (timer == m->signal)
        snprintf(text, size, "demand changes");
    else if (timer < m->tanks)
        snprintf(text, size, "outage of %s", plant->definition->outages.items[timer - m->outages].unit);
    else if (timer < m->steps)
        snprintf(text, size, "spent-wash tank %s", tanks->items[timer - m->tanks].name);
    else if (timer < m->storage)
        snprintf(text, size, "wash step of %s", plant->names[timer - m->steps]);
    else if (timer == m->storage)
        snprintf(text, size, "storage level");
    else if (timer == m->wash_water)
        snprintf(text, size, "wash water");
    else if (timer < m->wells)
        snprintf(text, size, "room in spent-wash tank %s", tanks->items[timer - m->rooms].name);
    else if (timer < m->start)
        snprintf(text, size, "least run or rest of %s", plant->definition->wells.items[timer - m->wells].name);
    else if (timer < m->window)
        snprintf(text, size, "rinses at the plant's start");
    else if (timer == m->window)
        snprintf(text, size, "wash hours");
    else if (timer == m->attended)
        snprintf(text, size, "attended hours");
    else if (timer < m->midnight)
        snprintf(text, size, "outlet %zu of spent wash", timer - m->outlets + 1);
    else if (timer == m->midnight)
        snprintf(text, size, "midnight");
    else if (timer < m->sludge)
        snprintf(text, size, "hauling of spent regenerant");
    else if (timer < m->gap)
        snprintf(text, size, "draw of sludge");
    else if (timer == m->gap)
        snprintf(text, size, "time between wash starts");
    else if (timer < m->mixing)
        snprintf(text, size, "the dirtiest in line");
    else if (timer < m->heads)
        snprintf(text, size, "mix of unsettled spent wash");
    else if (timer < m->stretches)
        snprintf(text, size, "available head of group %s", groups->items[timer - m->heads].name);
    else if (timer < m->rota)
        snprintf(text, size, "available head of %s", plant->names[timer - m->stretches]);
    else if (timer < m->calls)
        snprintf(text, size, "rota of %s", plant->names[plant->rota_of[timer - m->rota]]);
    else if (timer < m->filter_calls)
        snprintf(text, size, "wash trigger of group %s", groups->items[timer - m->calls].name);
    else
        snprintf(text, size, "wash trigger of %s", plant->names[timer - m->filter_calls]);
}
