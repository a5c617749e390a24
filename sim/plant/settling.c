/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/settling.h"

#include "models/discrete_settling.h"
#include "sim/plant/blanket.h"
#include "sim/plant/extreme.h"

#include <math.h>

/* What a law judges: water of a depth above the sludge, mixed when it begins to stand still. */
struct column {
    const struct wr_plant *plant;
    const struct wr_settling *settling;
    double depth;  /* m */
    double solids; /* kg/m3 */
};

/* Least time of stillness that the author asks for, s. */
static double least_time(const struct wr_settling *settling)
{
    return wr_is_given(settling->time) ? settling->time : 0;
}

/* Share of the solids at which the water may be drawn off. */
static double wanted_share(const struct column *c)
{
    return wr_is_given(c->settling->clear_at) && c->solids > 0 ? wr_lesser(1, c->settling->clear_at / c->solids) : 1;
}

static void by_clock(const struct column *c, struct wr_clearing *clearing)
{
    clearing->time = least_time(c->settling);
    clearing->left = 0;
}

static void by_classes(const struct column *c, struct wr_clearing *clearing)
{
    clearing->time = least_time(c->settling);
    clearing->left = 0;
    if (c->depth <= 0)
        return; /* nothing stands above the sludge */
    clearing->time = wr_greater(clearing->time, wr_discrete_time(&c->plant->particles, c->depth, wanted_share(c)));
    clearing->left = isfinite(clearing->time) ? wr_discrete_left(&c->plant->particles, c->depth, clearing->time) : 1;
}

static void (*const laws[])(const struct column *column, struct wr_clearing *clearing) = {
    [WR_SETTLING_NONE] = by_clock, [WR_SETTLING_CLOCK] = by_clock, [WR_SETTLING_CLASSES] = by_classes};

/* Sludge that will stand in the tank, m3: its blanket and all that is still in suspension, or the share that the author
 * gives where none is kept. */
static double sludge_of(const struct wr_simulation *sim, size_t tank)
{
    const struct wr_tank *t = &wr_state_tanks(sim->plant, sim->state)[tank];
    if (!sim->plant->definition->spent_wash.has_blanket)
        return sim->plant->definition->spent_wash.settling.sludge_share * t->level;
    return wr_lesser(t->level, wr_blanket_volume(sim, tank) + t->mass[WR_SOLIDS] / sim->plant->sludge.first_solids);
}

double wr_settling_mixed(const struct wr_simulation *sim, size_t tank, int constituent)
{
    const struct wr_tank *t = &wr_state_tanks(sim->plant, sim->state)[tank];
    const double blanket = sim->plant->definition->spent_wash.has_blanket ? wr_blanket_volume(sim, tank) : 0;
    const double water = t->level - blanket;
    return water > 0 ? t->mass[constituent] / water : 0;
}

struct wr_clearing wr_settling_foresee(const struct wr_simulation *sim, size_t tank)
{
    const struct wr_settling *settling = &sim->plant->definition->spent_wash.settling;
    const struct wr_spent_tank *definition = &sim->plant->definition->spent_wash.tanks.items[tank];
    const struct wr_tank *t = &wr_state_tanks(sim->plant, sim->state)[tank];
    const double area = wr_is_given(definition->depth) ? definition->volume / definition->depth : 1;
    const double pipe = settling->draw_off == WR_DRAW_FIXED ? settling->draw_height * area : 0;
    const double sludge = sludge_of(sim, tank);
    struct wr_clearing clearing = {.bottom = wr_lesser(t->level, wr_greater(sludge, pipe))};
    if (settling->draw_off == WR_DRAW_FIXED && sim->plant->definition->spent_wash.has_blanket && sludge > pipe) {
        clearing.bottom = pipe;
        clearing.lifted = sludge - pipe;
    }
    clearing.clear = t->level - clearing.bottom - clearing.lifted;
    const struct column column = {.plant = sim->plant,
                                  .settling = settling,
                                  .depth = clearing.clear / area,
                                  .solids = wr_settling_mixed(sim, tank, WR_SOLIDS)};
    laws[settling->law](&column, &clearing);
    return clearing;
}
