/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_KYNCH_H
#define WR_MODELS_KYNCH_H

/* Kynch's exact solution for a water that settles in zones, mixed when it came to rest.
 *
 * The interface under the clear water first falls straight, at v(C0). From the floor rises what is thicker: a face from
 * C0 to C* (none when C0 lies beyond the inflection of the flux; then C* = C0), and behind it a fan of concentrations
 * that travel at f'(C), up to the concentration Cb at which the fan meets a bed of the greatest concentration. Once
 * face and interface meet the fall slows down, and it ends where the bed is reached:
 *     C*:  f'(C*) (C* - C0) = f(C*) - f(C0),    s = -f'(C*)
 *     straight until t1 = H/(v(C0) + s):        h = H - v(C0) t
 *     then, by the C just under the interface:  t = C0 H/(C^2 |v'(C)|),  h = |f'(C)| t
 *     Cb:  f(Cb) + f'(Cb) (greatest - Cb) = 0;  at last h = H C0/greatest
 * Where the water has no such Cb, or C* lies beyond it, one face goes from C0 to the bed, s = f(C0)/(greatest - C0),
 * and the fall is straight to its end. */

#include "models/zone_settling.h"

/* One settling, with what follows from its start. */
struct wr_kynch {
    struct wr_zone zone;
    double solids;         /* C0, kg/m3 */
    double depth;          /* H, m */
    double fall;           /* v(C0), m/s */
    double flux;           /* f(C0), kg/m2/s */
    double face;           /* C*, kg/m3, that first meets the interface; the greatest where the bed does */
    double straight_until; /* t1, s */
    double bed;            /* Cb, kg/m3; HUGE_VAL or full where the fall never ends */
    double fall_until;     /* s at which the fall ends, HUGE_VAL where it never does */
};

/* Solves a settling.
 * Given: zone that passes wr_zone_check; solids C0, kg/m3, above zero and below wr_zone_greatest; depth H, m, above
 * zero.
 * Returns: settling; WR_OUT_OF_RANGE when a value is outside its range or the numbers of the law are too far apart for
 * doubles; WR_NO_MEMORY.
 * Neglects: what the laws of models/zone_settling.h neglect; inflow and draws while it stands.
 * Scatter: that of the constants.
 * Source: G. J. Kynch, 1952, A theory of sedimentation, Trans. Faraday Soc. 48, 166; the bed of greatest concentration
 * is the same theory with a flux that drops to nothing there.
 * Pinned by: tests/published/test_kynch.c, tests/unit/test_models_kynch.c */
enum wr_status wr_kynch_solve(const struct wr_zone *zone, double solids, double depth, struct wr_kynch *settling);

/* Height of the interface over the floor after a time.
 * Given: settling; time, s, zero or more.
 * Returns: m, from depth to depth x C0/greatest; WR_OUT_OF_RANGE and WR_NO_MEMORY as wr_kynch_solve.
 * Neglects, scatter, source, pinned by: as wr_kynch_solve. */
enum wr_status wr_kynch_height(const struct wr_kynch *settling, double time, double *height);

/* Time at which the interface has fallen to a height: the inverse of wr_kynch_height.
 * Given: settling; height, m, zero or more.
 * Returns: time, s, zero at the depth and above; HUGE_VAL below the bed, or at zero where there is none;
 * WR_OUT_OF_RANGE and WR_NO_MEMORY as wr_kynch_solve.
 * Neglects, scatter, source, pinned by: as wr_kynch_solve. */
enum wr_status wr_kynch_time(const struct wr_kynch *settling, double height, double *time);

#endif
