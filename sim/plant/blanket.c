/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/blanket.h"

#include "sim/plant/extreme.h"

static const struct wr_sludge_definition *rules_of(const struct wr_simulation *sim)
{
    return &sim->plant->definition->spent_wash.sludge;
}

static struct wr_tank *tank_at(const struct wr_simulation *sim, size_t tank)
{
    return &wr_state_tanks(sim->plant, sim->state)[tank];
}

static double volume_of(const struct wr_simulation *sim, size_t tank)
{
    return sim->plant->definition->spent_wash.tanks.items[tank].volume;
}

struct wr_sludge wr_blanket_now(const struct wr_simulation *sim, size_t tank)
{
    const struct wr_tank *t = tank_at(sim, tank);
    struct wr_sludge blanket = {.solids = t->blanket[WR_SOLIDS], .excess = t->excess};
    if (!sim->plant->definition->spent_wash.has_blanket)
        return (struct wr_sludge){0};
    wr_sludge_thicken(&sim->plant->sludge, &blanket, wr_now(sim) - t->thickened_at);
    return blanket;
}

double wr_blanket_volume(const struct wr_simulation *sim, size_t tank)
{
    const struct wr_sludge blanket = wr_blanket_now(sim, tank);
    return wr_lesser(tank_at(sim, tank)->level, wr_sludge_volume(&sim->plant->sludge, &blanket));
}

void wr_blanket_gain(struct wr_simulation *sim, size_t tank)
{
    struct wr_tank *t = tank_at(sim, tank);
    struct wr_sludge blanket = wr_blanket_now(sim, tank);
    wr_sludge_add(&sim->plant->sludge, &blanket, wr_greater(0, t->mass[WR_SOLIDS]));
    t->excess = blanket.excess;
    t->thickened_at = wr_now(sim);
    for (int k = 0; k < WR_CONSTITUENTS; k++) {
        t->blanket[k] += t->mass[k];
        t->mass[k] = 0;
    }
}

/* Takes a share of the blanket. */
static void take(struct wr_simulation *sim, size_t tank, double share, double *mass)
{
    struct wr_tank *t = tank_at(sim, tank);
    t->excess = wr_blanket_now(sim, tank).excess * (1 - share);
    t->thickened_at = wr_now(sim);
    for (int k = 0; k < WR_CONSTITUENTS; k++) {
        const double part = t->blanket[k] * share;
        mass[k] += part;
        t->blanket[k] -= part;
    }
}

void wr_blanket_lift(struct wr_simulation *sim, size_t tank, double volume)
{
    const double all = wr_blanket_volume(sim, tank);
    if (all > 0)
        take(sim, tank, wr_lesser(1, volume / all), tank_at(sim, tank)->mass);
}

/* Draws a volume, m3, or all that there is, and tells why. */
static void draw(struct wr_simulation *sim, size_t tank, double volume, enum wr_event_kind why)
{
    static const enum wr_line lines[] = {[WR_SLUDGE_TO_BED] = WR_LINE_SLUDGE,
                                         [WR_SLUDGE_TO_SEWER] = WR_LINE_SLUDGE_TO_SEWER,
                                         [WR_SLUDGE_TO_HAUL] = WR_LINE_SLUDGE_TO_HAUL};
    struct wr_tank *t = tank_at(sim, tank);
    struct wr_entry *line = wr_ledger_line(sim->plant, sim->state, lines[rules_of(sim)->to], tank);
    const double all = wr_blanket_volume(sim, tank), drawn = wr_lesser(volume, all);
    if (drawn <= 0)
        return;
    take(sim, tank, drawn / all, line->mass);
    line->water += drawn;
    t->level -= drawn;
    t->sludge -= drawn;
    t->free += drawn;
    wr_tell(sim, why, tank);
}

void wr_blanket_draw(struct wr_simulation *sim, size_t tank)
{
    const struct wr_sludge_definition *rules = rules_of(sim);
    struct wr_tank *t = tank_at(sim, tank);
    const double all = wr_blanket_volume(sim, tank);
    const bool is_due = (rules->drawn == WR_SLUDGE_BY_LEVEL && all >= rules->level * volume_of(sim, tank)) ||
                        (rules->drawn == WR_SLUDGE_BY_CALENDAR && t->draw_due);
    if (is_due)
        draw(sim, tank, all, WR_EVENT_SLUDGE_DRAWN);
    else if (rules->drawn == WR_SLUDGE_EACH_DECANT)
        draw(sim, tank, rules->volume, WR_EVENT_SLUDGE_DRAWN);
    t->draw_due = false;
    draw(sim, tank, sim->plant->largest_room - t->free, WR_EVENT_SLUDGE_FOR_ROOM);
}

static void arm(struct wr_simulation *sim)
{
    const struct wr_sludge_definition *rules = rules_of(sim);
    if (sim->plant->definition->spent_wash.has_blanket && rules->drawn == WR_SLUDGE_BY_CALENDAR)
        wr_timers_set(&sim->timers, sim->plant->timers.sludge, wr_now(sim) + rules->every);
}

void wr_blanket_calendar(struct wr_simulation *sim)
{
    for (size_t tank = 0; tank < sim->plant->tank_count; tank++) {
        struct wr_tank *t = tank_at(sim, tank);
        if (t->mode == WR_TANK_FILLING && t->washes == 0 && t->level <= t->sludge)
            draw(sim, tank, wr_blanket_volume(sim, tank), WR_EVENT_SLUDGE_DRAWN);
        else
            t->draw_due = true;
    }
    arm(sim);
}

void wr_blanket_start(struct wr_simulation *sim)
{
    arm(sim);
}
