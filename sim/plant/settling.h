/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_SETTLING_H
#define WR_SIM_PLANT_SETTLING_H

/* Settling in a spent-wash tank that stands still, behind one table of laws.
 *
 * When a tank begins to stand still, all that will come is known: what it holds, how thick its blanket is, and that
 * nothing comes or goes. So a law says at once when it may be drawn off and what that water carries; nothing is stepped
 * while it stands. Settling that goes on during the decant is left out, which is on the safe side. */

#include "sim/plant/plant.h"

struct wr_clearing {
    double time;   /* s of stillness until clear water may be drawn off; WR_NEVER when it never clears */
    double clears; /* s of stillness until it is clear enough, whatever time is asked; WR_NEVER for never */
    double left;   /* share of the suspended solids that the water above the sludge still carries then */
    double clear;  /* m3 of that water */
    double lifted; /* m3 of sludge above a fixed draw-off, which goes with it */
    double bottom; /* m3 that stay in the tank when the decant ends */
};

/* A tank that begins to stand still. */
struct wr_still {
    size_t tank;
    double level;   /* m3 */
    double blanket; /* m3 of it that a blanket of sludge takes; 0 where none is kept */
    double solids;  /* kg in suspension, mixed over the rest */
};

/* What a tank that begins to stand still will give. */
struct wr_clearing wr_settling_foresee(const struct wr_plant *plant, const struct wr_still *still);

#endif
