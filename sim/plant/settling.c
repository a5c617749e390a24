/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/settling.h"

#include "models/discrete_settling.h"
#include "models/kynch.h"
#include "sim/engine/timers.h"
#include "sim/plant/extreme.h"

#include <math.h>

/* What a law judges: water of a depth above the sludge, mixed when it begins to stand still. */
struct column {
    const struct wr_plant *plant;
    const struct wr_settling *settling;
    double depth;  /* m of it that would be drawn off */
    double under;  /* m of it that would stay, new sludge among it */
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
    clearing->clears = wr_discrete_time(&c->plant->particles, c->depth, wanted_share(c));
    clearing->time = wr_greater(clearing->time, clearing->clears);
    clearing->left = isfinite(clearing->time) ? wr_discrete_left(&c->plant->particles, c->depth, clearing->time) : 1;
}

/* The water above the interface is clear; a water as thick as its bed parts with none. */
static void by_zone(const struct column *c, struct wr_clearing *clearing)
{
    struct wr_kynch settling;
    double falls = WR_NEVER;
    clearing->time = least_time(c->settling);
    clearing->left = 0;
    if (c->depth <= 0 || c->solids <= 0)
        return;
    if (c->solids < wr_zone_greatest(&c->plant->zone) &&
        wr_kynch_solve(&c->plant->zone, c->solids, c->depth + c->under, &settling) == WR_OK &&
        wr_kynch_time(&settling, c->under, &falls) != WR_OK)
        falls = WR_NEVER;
    clearing->clears = falls;
    clearing->time = wr_greater(clearing->time, falls);
}

static void (*const laws[])(const struct column *column,
                            struct wr_clearing *clearing) = {[WR_SETTLING_NONE] = by_clock,
                                                             [WR_SETTLING_CLOCK] = by_clock,
                                                             [WR_SETTLING_CLASSES] = by_classes,
                                                             [WR_SETTLING_ZONE] = by_zone};

/* Dry solids, kg/m3, of new sludge: fresh, and no thicker than a bed that settles together becomes. */
static double thickest(const struct wr_plant *plant)
{
    const double fresh = plant->sludge.first_solids;
    const bool by_zones = plant->definition->spent_wash.settling.law == WR_SETTLING_ZONE;
    return by_zones ? wr_lesser(fresh, 0.95 * wr_zone_greatest(&plant->zone)) : fresh;
}

/* Sludge that will stand in the tank, m3: its blanket and all that is still in suspension, or the share that the author
 * gives where none is kept. */
static double sludge_of(const struct wr_plant *plant, const struct wr_still *still)
{
    if (!plant->definition->spent_wash.has_blanket)
        return plant->definition->spent_wash.settling.sludge_share * still->level;
    return wr_lesser(still->level, still->blanket + still->solids / thickest(plant));
}

struct wr_clearing wr_settling_foresee(const struct wr_plant *plant, const struct wr_still *still)
{
    const struct wr_settling *settling = &plant->definition->spent_wash.settling;
    const struct wr_spent_tank *tank = &plant->definition->spent_wash.tanks.items[still->tank];
    const double area = wr_is_given(tank->depth) ? tank->volume / tank->depth : 1;
    const bool fixed = settling->draw_off == WR_DRAW_FIXED;
    const double pipe = fixed ? settling->draw_height * area : 0, sludge = sludge_of(plant, still);
    struct wr_clearing clearing = {.bottom = wr_lesser(still->level, wr_greater(sludge, pipe))};
    if (fixed && plant->definition->spent_wash.has_blanket && sludge > pipe) {
        clearing.bottom = pipe;
        clearing.lifted = sludge - pipe;
    }
    clearing.clear = still->level - clearing.bottom - clearing.lifted;
    const double water = still->level - still->blanket;
    const struct column column = {.plant = plant,
                                  .settling = settling,
                                  .depth = clearing.clear / area,
                                  .under = wr_greater(0, clearing.bottom + clearing.lifted - still->blanket) / area,
                                  .solids = water > 0 ? still->solids / water : 0};
    laws[settling->law](&column, &clearing);
    return clearing;
}
