/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/settling.h"

#include "models/discrete_settling.h"
#include "models/zone_settling.h"
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
    clearing->time = wr_greater(clearing->time, wr_discrete_time(&c->plant->particles, c->depth, wanted_share(c)));
    clearing->left = isfinite(clearing->time) ? wr_discrete_left(&c->plant->particles, c->depth, clearing->time) : 1;
}

/* Mean concentration of a column above a height, kg/m3. */
static double mean_above(const struct wr_zone_column *column, double height)
{
    const double cell = column->depth / (double)column->cells, above = column->depth - height;
    double load = 0;
    for (size_t i = 0; i < column->cells; i++)
        load += column->solids[i] * wr_greater(0, wr_lesser(cell, above - (double)i * cell));
    return load / above;
}

/* No tank is left alone for longer. */
static const double LONGEST = 30 * 86400.0; /* s */

/* The column is let settle ahead: nothing will come or go while the tank stands. Without a wanted clarity the interface
 * is where the water is half as thick as it was. */
static void by_zone(const struct column *c, struct wr_clearing *clearing)
{
    double cells[WR_ZONE_CELLS];
    struct wr_zone_column still = {.depth = c->depth + c->under, .solids = cells, .cells = WR_ZONE_CELLS};
    const struct wr_zone *zone = &c->plant->zone;
    const struct wr_zone_wait wait = {.clarity =
                                          wr_is_given(c->settling->clear_at) ? c->settling->clear_at : c->solids / 2,
                                      .height = c->under,
                                      .longest = LONGEST};
    clearing->time = least_time(c->settling);
    clearing->left = 0;
    if (c->depth <= 0 || c->solids <= 0)
        return;
    wr_zone_fill(&still, wr_lesser(c->solids, wr_zone_greatest(zone)));
    const double falls = wr_zone_time(zone, &still, &wait);
    if (falls < clearing->time)
        wr_zone_advance(zone, &still, clearing->time - falls);
    clearing->time = wr_greater(clearing->time, falls);
    clearing->left = isfinite(falls) ? mean_above(&still, c->under) / c->solids : 1;
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
