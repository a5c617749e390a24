/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/record/diary_part.h"

#include "sim/record/room.h"

/* A tank that gives water once it has settled, or without settling whenever it holds any. */
static enum wr_tank_doing with_water_to_give(const struct wr_tank *tank, bool is_next)
{
    if (tank->drawn > 0)
        return WR_TANK_EMPTIES;
    return is_next ? WR_TANK_HELD : WR_TANK_WAITS;
}

static enum wr_tank_doing doing_of(const struct wr_simulation *sim, size_t t)
{
    const struct wr_tank *tank = &wr_state_tanks(sim->plant, sim->state)[t];
    const bool is_next = sim->state->flows.recycle_tank == t;
    if (tank->closed)
        return WR_TANK_OUT;
    if (tank->mode == WR_TANK_SETTLING)
        return WR_TANK_SETTLES;
    if (tank->mode == WR_TANK_DECANTING || tank->drawn > 0 || (is_next && tank->level > 0))
        return with_water_to_give(tank, is_next);
    if (tank->washes > 0)
        return WR_TANK_TAKES;
    return tank->level > 0 ? WR_TANK_STANDS : WR_TANK_EMPTY;
}

static int outlet_of(const struct wr_tank *tank)
{
    int kind = 0;
    while (kind + 1 < WR_OUTLET_KINDS && tank->to[kind] <= 0)
        kind++;
    return kind;
}

static struct wr_diary_tank tank_now(const struct wr_simulation *sim, size_t t)
{
    const struct wr_tank *tank = &wr_state_tanks(sim->plant, sim->state)[t];
    const enum wr_tank_doing doing = doing_of(sim, t);
    const bool gives = doing == WR_TANK_EMPTIES || doing == WR_TANK_HELD;
    return (struct wr_diary_tank){.tank = t,
                                  .doing = doing,
                                  .outlet = outlet_of(tank),
                                  .held = gives ? wr_room_outlets_held(sim) : 0,
                                  .from = wr_now(sim),
                                  .level = tank->level,
                                  .flow = tank->drawn,
                                  .raw = sim->state->flows.raw};
}

/* True while nothing changes that a reader would be told of. */
static bool goes_on(const struct wr_diary_tank *was, const struct wr_diary_tank *now)
{
    const bool same_raw = !(was->raw < now->raw) && !(was->raw > now->raw);
    const bool same_flow = !(was->flow < now->flow) && !(was->flow > now->flow);
    return was->doing == now->doing && was->held == now->held && same_flow &&
           (same_raw || (now->held & wr_limit_bit(WR_LIMIT_SHARE_OF_RAW)) == 0);
}

static void end_one(struct wr_diary *diary, struct wr_diary_tank *was, double now)
{
    was->to = now;
    if (was->to > was->from)
        wr_diary_add(diary, &diary->tanks, was, sizeof *was);
}

void wr_diary_tanks_begin(struct wr_diary *diary, const struct wr_simulation *sim)
{
    for (size_t t = 0; t < sim->plant->tank_count; t++)
        diary->now[t] = tank_now(sim, t);
}

void wr_diary_tanks(struct wr_diary *diary, const struct wr_simulation *sim)
{
    for (size_t t = 0; t < sim->plant->tank_count; t++) {
        const struct wr_diary_tank now = tank_now(sim, t);
        if (goes_on(&diary->now[t], &now))
            continue;
        end_one(diary, &diary->now[t], now.from);
        diary->now[t] = now;
    }
}

void wr_diary_tanks_end(struct wr_diary *diary, double now)
{
    for (size_t t = 0; t < diary->record->plant->tank_count; t++)
        end_one(diary, &diary->now[t], now);
}
