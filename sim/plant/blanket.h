/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_BLANKET_H
#define WR_SIM_PLANT_BLANKET_H

/* The blanket of sludge in a spent-wash tank, over many washes: it gains what each decant leaves, thickens with time,
 * and is drawn by the plant's rule. */

#include "models/sludge.h"
#include "sim/plant/simulation.h"

/* The blanket of sludge as it is now; an empty one where none is kept. */
struct wr_sludge wr_blanket_now(const struct wr_simulation *simulation, size_t tank);

/* Volume, m3, that a blanket takes now. */
double wr_blanket_volume(const struct wr_simulation *simulation, size_t tank);

/* All that a tank holds in suspension joins its blanket. */
void wr_blanket_gain(struct wr_simulation *simulation, size_t tank);

/* Takes a volume, m3, out of the blanket into suspension: sludge that stands above a fixed draw-off goes with the
 * decant. */
void wr_blanket_lift(struct wr_simulation *simulation, size_t tank, double volume);

/* After a decant: draws what the plant's rule says, and so much that the plant's largest wash fits. */
void wr_blanket_draw(struct wr_simulation *simulation, size_t tank);

/* The calendar's draw has come: at once in a tank that holds nothing else, else after its next decant. */
void wr_blanket_calendar(struct wr_simulation *simulation);

/* Sets the calendar's first draw. */
void wr_blanket_start(struct wr_simulation *simulation);

#endif
