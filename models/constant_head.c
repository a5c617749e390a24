/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/constant_head.h"

#include <stdbool.h>

static double resistance(const struct wr_constant_head *bed, double load)
{
    return bed->linear + wr_deposit_resistance(bed->deposit, load, bed->viscosity);
}

static bool is_straight(const struct wr_constant_head *bed)
{
    return bed->deposit->exponent == 1;
}

double wr_constant_head_rate_at(const struct wr_constant_head *bed, double load)
{
    return wr_constant_head_rate(bed->head, resistance(bed, load), bed->quadratic);
}

/* Laminar throughout, straight deposit: the trapezium under R is exact, and nothing cancels over a short stretch. */
static double straight_time(const struct wr_constant_head *bed, double from, double to)
{
    double mean = (resistance(bed, from) + resistance(bed, to)) / 2;
    return (to - from) * mean / (bed->solids * bed->head);
}

/* Laminar throughout, any exponent. */
static double laminar_time(const struct wr_constant_head *bed, double from, double to)
{
    double rise =
        wr_deposit_integral(bed->deposit, to, bed->viscosity) - wr_deposit_integral(bed->deposit, from, bed->viscosity);
    return (bed->linear * (to - from) + rise) / (bed->solids * bed->head);
}

/* With a quadratic term b, straight deposit of slope k = dR/dm. With S = sqrt(R^2 + B), B = 4 b head, the time is
 *     (R^2 + R S + B asinh(R/sqrt B))/(4 k c head) from R0 to R1.
 * The differences are written as products so that short stretches and flat deposits keep their figures:
 *     R1 S1 - R0 S0 = D (R1^2 + R0^2 + B)/(R1 S1 + R0 S0), asinh(..) - asinh(..) = asinh(D/(R1 S0 + R0 S1)),
 * with D = R1^2 - R0^2 = k (to - from)(R1 + R0). */
static double fitted_time(const struct wr_constant_head *bed, double from, double to)
{
    double slope = wr_deposit_resistance(bed->deposit, 1, bed->viscosity);
    double r0 = resistance(bed, from), r1 = resistance(bed, to);
    double b = 4 * bed->quadratic * bed->head;
    double s0 = sqrt(r0 * r0 + b), s1 = sqrt(r1 * r1 + b);
    double stretch = (to - from) * (r1 + r0);
    double parabola = stretch * (1 + (r1 * r1 + r0 * r0 + b) / (r1 * s1 + r0 * s0));
    double arc = b * asinh(slope * stretch / (r1 * s0 + r0 * s1)) / slope;
    return (parabola + arc) / (4 * bed->solids * bed->head);
}

double wr_constant_head_time(const struct wr_constant_head *bed, double from, double to)
{
    assert(bed->quadratic == 0 || is_straight(bed));
    assert(0 <= from && from <= to);
    if (from == to)
        return 0;
    if (bed->deposit->slope == 0)
        return (to - from) / (bed->solids * wr_constant_head_rate_at(bed, from));
    if (bed->quadratic > 0)
        return fitted_time(bed, from, to);
    return is_straight(bed) ? straight_time(bed, from, to) : laminar_time(bed, from, to);
}

double wr_constant_head_load(const struct wr_constant_head *bed, double from, double time)
{
    assert(bed->quadratic == 0 && is_straight(bed));
    assert(from >= 0 && time >= 0);
    if (time == 0)
        return from;
    double start = resistance(bed, from);
    double slope = wr_deposit_resistance(bed->deposit, 1, bed->viscosity);
    double drive = 2 * bed->solids * bed->head * time;
    return from + drive / (start + sqrt(start * start + slope * drive));
}
