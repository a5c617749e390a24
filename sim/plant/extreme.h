/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_EXTREME_H
#define WR_SIM_PLANT_EXTREME_H

/* The lesser and the greater of two numbers, for what is worked out at every instant: fmin and fmax must look for what
 * is not a number and so are calls into a library. Neither argument may be NaN. */

static inline double wr_lesser(double a, double b)
{
    return a < b ? a : b;
}

static inline double wr_greater(double a, double b)
{
    return a > b ? a : b;
}

#endif
