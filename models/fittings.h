/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_FITTINGS_H
#define WR_MODELS_FITTINGS_H

#include "models/status.h"

/* Coefficient of the headloss of underdrain, valves and pipes, which grows with the square of the rate, from the
 * headloss seen at one rate.
 *     h = k v^2, so k = head/rate^2
 * Given: head, m, zero or more; rate through the filter at which it was seen, m/s, above zero.
 * Returns: coefficient, m/(m/s)^2, to be added to the quadratic one of the bed; WR_OUT_OF_RANGE outside them.
 * Neglects: laminar parts, fouling of the underdrain, valves that throttle.
 * Scatter: exponents of 1.8 to 2 are met in practice (common practice, no source).
 * Source: the square law of turbulent flow through a fitting, as in any hydraulics text (h = K v^2/2g).
 * Pinned by: tests/unit/test_models_fittings.c */
enum wr_status wr_fittings_coefficient(double head, double rate, double *coefficient);

#endif
