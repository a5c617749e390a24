/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stocks: never negative, never above what holds them, moved by their flows and by nothing else. */
#include "tests/plant/watch_part.h"

static void watch_tank(struct sight at, size_t tank)
{
    const struct wr_tank *t = &wr_state_tanks(at.plant, at.state)[tank];
    const struct wr_spent_wash *spent = &at.definition->spent_wash;
    const double volume = spent->tanks.items[tank].volume, slack = WATCH_TINY * volume;
    hold_least(at, t->level, 0.0, slack, "level of a spent-wash tank");
    hold_least(at, t->free, 0.0, slack, "free room of a spent-wash tank");
    hold_most(at, t->level + t->free, volume, slack, "level and free room of a spent-wash tank");
    if (t->washes == 0 && t->mode == WR_TANK_FILLING) {
        hold_least(at, t->level + t->free, volume, slack, "level and free room with nothing booked");
        hold(at,
             spent->settling.law == WR_SETTLING_NONE || t->level <= t->sludge ||
                 t->free >= at.plant->largest_room * (1.0 - WATCH_TINY),
             "room in a tank that fills between washes", t->free, at.plant->largest_room);
    }
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        hold_least(at, t->mass[k], 0.0, WATCH_TINY, "mass in a spent-wash tank");
    hold(at, !is_out(at, WR_UNIT_TANK, tank) || t->drawn <= 0.0, "draw from a tank out of service", t->drawn, 0.0);
}

static void watch_wash_tank(struct sight at)
{
    const double volume = at.definition->wash_water.tank.volume, slack = WATCH_TINY * volume;
    const struct wr_wash_tank_state *tank = &at.state->wash_tank;
    if (at.definition->wash_water.source != WR_WATER_FROM_TANK)
        return;
    hold_least(at, tank->level, 0.0, slack, "level of the wash-water tank");
    hold_most(at, tank->level, volume, slack, "level of the wash-water tank");
    hold_least(at, tank->free, 0.0, slack, "wash water not booked");
    hold_most(at, tank->free, tank->level, slack, "wash water not booked");
}

static void watch_holding(struct sight at)
{
    const struct wr_holding_state *holding = &at.state->holding;
    const double volume = at.definition->wash.holding.volume, slack = WATCH_TINY * volume;
    if (!wr_is_given(volume))
        return;
    hold_least(at, holding->level, 0.0, slack, "level of the holding tank");
    hold_least(at, holding->free, 0.0, slack, "free room of the holding tank");
    hold_most(at, holding->level + holding->free, volume, slack, "level and free room of the holding tank");
    if (at.state->washing == 0)
        hold_least(at, holding->level + holding->free, volume, slack, "holding tank with nothing booked");
}

void watch_stocks(struct sight at)
{
    const double volume = at.definition->storage.volume;
    hold_least(at, at.state->storage.level, 0.0, WATCH_TINY * volume, "level of storage");
    hold_most(at, at.state->storage.level, volume, WATCH_TINY * volume, "level of storage");
    hold_least(at, at.state->booked, 0.0, WATCH_TINY * volume, "wash water promised");
    watch_wash_tank(at);
    watch_holding(at);
    for (size_t tank = 0; tank < at.plant->tank_count; tank++)
        watch_tank(at, tank);
}

double storage_net(struct sight at)
{
    const struct wr_flows *flows = &at.state->flows;
    const int source = at.definition->wash_water.source;
    const bool gives = source != WR_WATER_FROM_TANK && source != WR_WATER_FROM_WELLS;
    return flows->service + flows->down - flows->refill - (gives ? flows->wash : 0.0) - flows->delivered -
           flows->overflow;
}

/* Each level has moved by the flows that were told at the instant before. */
void watch_moves(struct sight at)
{
    const struct watch *watch = at.watch;
    const double time = at.now - watch->then;
    hold_near(at, at.state->storage.level, watch->storage + watch->storage_net * time,
              WATCH_TINY * at.definition->storage.volume, "storage against its flows");
    if (at.definition->wash_water.source == WR_WATER_FROM_TANK)
        hold_near(at, at.state->wash_tank.level, watch->wash_tank + watch->wash_tank_net * time,
                  WATCH_TINY * at.definition->wash_water.tank.volume, "wash-water tank against its flows");
    for (size_t i = 0; i < at.plant->tank_count; i++) {
        const struct wr_tank *tank = &wr_state_tanks(at.plant, at.state)[i];
        /* Sludge is dropped, or drawn off a blanket, at once. */
        const bool drops = tank->level <= 0.0 || at.definition->spent_wash.has_blanket;
        const double level = watch->tanks[i] + watch->tank_nets[i] * time;
        const double slack = WATCH_TINY * at.definition->spent_wash.tanks.items[i].volume;
        hold(at, fabs(tank->level - level) <= slack || (drops && tank->level < level),
             "spent-wash tank against its flows", tank->level, level);
    }
}
