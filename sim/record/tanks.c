/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/record/tanks.h"

#include "sim/plant/blanket.h"
#include "sim/record/list.h"

#include <math.h>
#include <string.h>

static const struct wr_tank *tank_of(const struct wr_simulation *sim, size_t tank)
{
    return &wr_state_tanks(sim->plant, sim->state)[tank];
}

/* Turns ----------------------------------------------------------------------------------------------------------- */

static struct wr_turn *open_turn(const struct wr_tank_lists *lists, size_t tank)
{
    const size_t place = lists->open_turn[tank];
    return place > 0 ? &lists->turns[place - 1] : NULL;
}

static void tank_settles(struct wr_tank_lists *lists, const struct wr_simulation *sim, size_t tank)
{
    const struct wr_tank *t = tank_of(sim, tank);
    const double asked = sim->plant->definition->spent_wash.settling.time, now = wr_now(sim);
    struct wr_turn *turns = wr_list_grown(lists->turns, lists->turn_count, &lists->turn_room, sizeof *turns);
    if (turns == NULL) {
        lists->out_of_memory = true;
        return;
    }
    lists->turns = turns;
    turns[lists->turn_count++] = (struct wr_turn){.tank = tank,
                                                  .settles_at = now,
                                                  .time_up_at = now + (wr_is_given(asked) ? asked : 0),
                                                  .clear_at = now + t->clears,
                                                  .drawn_from = WR_NEVER,
                                                  .ended_at = WR_NEVER,
                                                  .content = t->level,
                                                  .clear = t->clear,
                                                  .solids = WR_ABSENT,
                                                  .lifted = t->lifted};
    lists->open_turn[tank] = lists->turn_count;
}

static void tank_settled(const struct wr_tank_lists *lists, const struct wr_simulation *sim, size_t tank)
{
    const struct wr_tank *t = tank_of(sim, tank);
    struct wr_turn *turn = open_turn(lists, tank);
    if (turn == NULL)
        return;
    turn->drawn_from = wr_now(sim);
    turn->clear = t->level - t->sludge - t->lifted;
    turn->lifted = t->lifted;
    turn->solids = t->level > t->sludge ? t->out[WR_SOLIDS] : WR_ABSENT;
    turn->unsettled = t->dumped;
    turn->settled = wr_blanket_volume(sim, tank);
}

/* Sludge ---------------------------------------------------------------------------------------------------------- */

/* All sludge that has left a tank so far, wherever to. */
static struct wr_entry sludge_of(const struct wr_simulation *sim, size_t tank)
{
    static const enum wr_line lines[] = {WR_LINE_SLUDGE, WR_LINE_SLUDGE_TO_SEWER, WR_LINE_SLUDGE_TO_HAUL};
    struct wr_entry sum = {0};
    for (size_t l = 0; l < sizeof lines / sizeof *lines; l++) {
        const struct wr_entry *line = wr_ledger_line(sim->plant, sim->state, lines[l], tank);
        sum.water += line->water;
        for (int k = 0; k < WR_CONSTITUENTS; k++)
            sum.mass[k] += line->mass[k];
    }
    return sum;
}

/* Sludge that was booked since the last look. Returns its volume, m3. */
static double sludge_drawn(struct wr_tank_lists *lists, const struct wr_simulation *sim, size_t tank,
                           enum wr_draw_why why)
{
    const struct wr_entry all = sludge_of(sim, tank), before = lists->sludge[tank];
    const double water = all.water - before.water;
    if (water <= 0)
        return 0;
    struct wr_draw_record *draws = wr_list_grown(lists->draws, lists->draw_count, &lists->draw_room, sizeof *draws);
    if (draws == NULL) {
        lists->out_of_memory = true;
        return 0;
    }
    lists->draws = draws;
    draws[lists->draw_count++] = (struct wr_draw_record){.tank = tank,
                                                         .why = why,
                                                         .time = wr_now(sim),
                                                         .water = water,
                                                         .solids = all.mass[WR_SOLIDS] - before.mass[WR_SOLIDS],
                                                         .blanket = wr_blanket_volume(sim, tank) + water};
    lists->sludge[tank] = all;
    return water;
}

/* The decant has ended, and what the plant's rule draws has been drawn. */
static void tank_emptied(struct wr_tank_lists *lists, const struct wr_simulation *sim, size_t tank)
{
    struct wr_turn *turn = open_turn(lists, tank);
    if (!sim->plant->definition->spent_wash.has_blanket)
        sludge_drawn(lists, sim, tank, WR_DRAW_DROPPED);
    if (turn == NULL)
        return;
    turn->ended_at = wr_now(sim);
    turn->left = wr_blanket_volume(sim, tank);
    turn->blanket = turn->left;
    for (size_t d = lists->draw_count; d-- > 0 && lists->draws[d].time >= turn->ended_at;)
        if (lists->draws[d].tank == tank && lists->draws[d].why != WR_DRAW_DROPPED)
            turn->blanket += lists->draws[d].water;
    lists->open_turn[tank] = 0;
}

void wr_tank_lists_event(struct wr_tank_lists *lists, const struct wr_simulation *sim, const struct wr_event *event)
{
    switch (event->kind) {
    case WR_EVENT_TANK_SETTLES:
        tank_settles(lists, sim, event->where);
        break;
    case WR_EVENT_TANK_SETTLED:
        tank_settled(lists, sim, event->where);
        break;
    case WR_EVENT_SLUDGE_DRAWN:
        sludge_drawn(lists, sim, event->where, WR_DRAW_BY_RULE);
        break;
    case WR_EVENT_SLUDGE_FOR_ROOM:
        sludge_drawn(lists, sim, event->where, WR_DRAW_FOR_ROOM);
        break;
    case WR_EVENT_TANK_EMPTIED:
        tank_emptied(lists, sim, event->where);
        break;
    default:
        break;
    }
}

/* Emergency outlets ----------------------------------------------------------------------------------------------- */

/* The emergency outlet that runs; the number of outlets for none. */
static size_t running_emergency(const struct wr_simulation *sim)
{
    const struct wr_outlet_state *outlets = wr_state_outlets(sim->plant, sim->state);
    size_t outlet = 0;
    while (outlet < sim->plant->outlet_count &&
           !(sim->plant->definition->spent_wash.outlets.items[outlet].emergency && outlets[outlet].flow > 0))
        outlet++;
    return outlet;
}

static void emergency_ends(struct wr_tank_lists *lists, const struct wr_simulation *sim)
{
    if (lists->open_emergency == 0)
        return;
    struct wr_emergency *open = &lists->emergencies[lists->open_emergency - 1];
    open->to = wr_now(sim);
    open->water = wr_state_outlets(sim->plant, sim->state)[open->outlet].given - lists->given_before;
    lists->open_emergency = 0;
}

static void emergency_begins(struct wr_tank_lists *lists, const struct wr_simulation *sim, size_t outlet, size_t tank)
{
    struct wr_emergency *emergencies =
        wr_list_grown(lists->emergencies, lists->emergency_count, &lists->emergency_room, sizeof *emergencies);
    if (emergencies == NULL) {
        lists->out_of_memory = true;
        return;
    }
    lists->emergencies = emergencies;
    emergencies[lists->emergency_count++] =
        (struct wr_emergency){.outlet = outlet,
                              .tank = tank,
                              .filter = sim->state->wants_room ? wr_state_line(sim->plant, sim->state)[0] : WR_NOWHERE,
                              .unsettled = tank_of(sim, tank)->dumped,
                              .from = wr_now(sim),
                              .to = WR_NEVER};
    lists->open_emergency = lists->emergency_count;
    lists->given_before = wr_state_outlets(sim->plant, sim->state)[outlet].given;
}

void wr_tank_lists_instant(struct wr_tank_lists *lists, const struct wr_simulation *sim)
{
    const size_t outlet = running_emergency(sim), tank = sim->state->flows.recycle_tank;
    const struct wr_emergency *open = lists->open_emergency > 0 ? &lists->emergencies[lists->open_emergency - 1] : NULL;
    if (open != NULL && open->outlet == outlet && open->tank == tank)
        return;
    emergency_ends(lists, sim);
    if (outlet < sim->plant->outlet_count)
        emergency_begins(lists, sim, outlet, tank);
}

/* Lists ----------------------------------------------------------------------------------------------------------- */

bool wr_tank_lists_init(struct wr_tank_lists *lists, const struct wr_plant *plant)
{
    *lists = (struct wr_tank_lists){.turns = NULL};
    lists->open_turn = calloc(plant->tank_count + 1, sizeof *lists->open_turn);
    lists->sludge = calloc(plant->tank_count + 1, sizeof *lists->sludge);
    return lists->open_turn != NULL && lists->sludge != NULL;
}

void wr_tank_lists_close(struct wr_tank_lists *lists, const struct wr_simulation *sim)
{
    emergency_ends(lists, sim);
}

void wr_tank_lists_fini(struct wr_tank_lists *lists)
{
    free(lists->turns);
    free(lists->draws);
    free(lists->emergencies);
    free(lists->open_turn);
    free(lists->sludge);
    *lists = (struct wr_tank_lists){.turns = NULL};
}
