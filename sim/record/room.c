/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/record/room.h"

/* Filters past their start-up that wait for room first of all. */
static size_t waiting_for_room(const struct wr_simulation *sim)
{
    const uint32_t *line = wr_state_line(sim->plant, sim->state);
    const struct wr_filter *filters = wr_state_filters(sim->plant, sim->state);
    size_t count = 0;
    for (uint32_t i = 0; i < sim->state->waiting; i++)
        count += filters[line[i]].washed && wr_limit_first(filters[line[i]].reasons) == WR_LIMIT_SPENT_WASH_ROOM;
    return count;
}

wr_limit_set wr_room_outlets_held(const struct wr_simulation *sim)
{
    const struct wr_flows *flows = &sim->state->flows;
    wr_limit_set held = 0;
    if (flows->recycle_tank == sim->plant->tank_count)
        return 0;
    if (wr_state_tanks(sim->plant, sim->state)[flows->recycle_tank].drawn > flows->recycle)
        return 0;
    for (wr_limit_set left = flows->held; left != 0; left &= left - 1)
        if (wr_limit_row(wr_limit_first(left))->holds == WR_HOLDS_OUTLET)
            held |= wr_limit_bit(wr_limit_first(left));
    return held;
}

void wr_room_instant(struct wr_room *room, const struct wr_simulation *sim)
{
    const double waited = (double)room->waiting * (wr_now(sim) - room->since);
    if (waited > 0) {
        room->waited += waited;
        room->held += room->holds != 0 ? waited : 0;
        for (wr_limit_set left = room->holds; left != 0; left &= left - 1)
            room->held_by[wr_limit_first(left)] += waited;
    }
    room->since = wr_now(sim);
    room->waiting = sim->state->waiting > 0 ? waiting_for_room(sim) : 0;
    room->holds = room->waiting > 0 ? wr_room_outlets_held(sim) : 0;
}

enum wr_limit wr_room_held_most(const struct wr_room *room)
{
    enum wr_limit most = WR_LIMIT_NONE;
    for (int l = 0; l < WR_LIMITS; l++)
        if (room->held_by[l] > (most == WR_LIMIT_NONE ? 0 : room->held_by[most]))
            most = (enum wr_limit)l;
    return most;
}
