/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_CONSTANT_HEAD_H
#define WR_MODELS_CONSTANT_HEAD_H

/* A filter at its available head: the rate falls off as the bed loads, in closed form. Arguments outside their ranges
 * are a programmer's mistake here and asserted. */

#include "models/deposit.h"

#include <assert.h>
#include <math.h>

/* Rate at which a filter loses a given head: the positive root of linear v + quadratic v^2 = head.
 *     v = 2 head/(linear + sqrt(linear^2 + 4 quadratic head))
 * in which nothing cancels, however small the quadratic term.
 * Given: head, m; linear, m/(m/s), of the clean bed and its deposit; quadratic, m/(m/s)^2, of bed and fittings;
 * all zero or more.
 * Returns: rate, m/s; zero at no head; infinity where a head meets no resistance.
 * Neglects: the filter's own water being drawn down.
 * Source: algebra.
 * Pinned by: tests/unit/test_models_constant_head.c */
static inline double wr_constant_head_rate(double head, double linear, double quadratic)
{
    assert(head >= 0 && linear >= 0 && quadratic >= 0);
    if (head == 0)
        return 0;
    return 2 * head / (linear + sqrt(linear * linear + 4 * quadratic * head));
}

/* A bed that loads at constant head. */
struct wr_constant_head {
    double head;                      /* m, above zero */
    double solids;                    /* kg/m3 captured from the water, above zero */
    double linear;                    /* m/(m/s) of the clean bed, zero or more */
    double quadratic;                 /* m/(m/s)^2 of bed and fittings, zero or more */
    const struct wr_deposit *deposit; /* passes wr_deposit_check */
    double viscosity;                 /* Pa s, above zero */
};

/* Rate through such a bed at a load.
 * Given: bed; load, kg/m2, zero or more.
 * Returns: rate, m/s, as wr_constant_head_rate. */
double wr_constant_head_rate_at(const struct wr_constant_head *bed, double load);

/* Time in which such a bed goes from one load to a higher one. With c the solids, R(m) = linear + resistance of
 * the deposit, and dm/dt = c v:
 *     quadratic = 0:     t = integral from m0 to m1 of R dm/(c head), for any exponent
 *     quadratic = b > 0: t = integral of (R + sqrt(R^2 + 4 b head)) dm/(2 c head), in closed form for exponent 1
 * For quadratic 0 and exponent 1 the mean rate over the stretch is head/R((m0 + m1)/2), exactly.
 * Given: bed, whose quadratic is 0 or whose exponent is 1; from and to, kg/m2, 0 <= from <= to.
 * Returns: time, s, exact but for rounding.
 * Neglects: changes of solids or head over the stretch.
 * Source: integration by parts, worked in docs/theory.md.
 * Pinned by: tests/unit/test_models_constant_head.c, against quadrature and an integrated differential equation. */
double wr_constant_head_time(const struct wr_constant_head *bed, double from, double to);

/* Load of such a bed after a time, for exponent 1 and no quadratic term.
 *     m = from + 2 c head t/(R0 + sqrt(R0^2 + 2 k c head t)), R0 = R(from), k = dR/dm
 * Given: bed, of exponent 1 and quadratic 0; from, kg/m2, zero or more; time, s, zero or more.
 * Returns: load, kg/m2, exact but for rounding.
 * Neglects, source: as wr_constant_head_time.
 * Pinned by: tests/unit/test_models_constant_head.c */
double wr_constant_head_load(const struct wr_constant_head *bed, double from, double time);

#endif
