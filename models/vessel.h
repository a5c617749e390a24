/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_VESSEL_H
#define WR_MODELS_VESSEL_H

#include "models/status.h"

/* Bed area of a round upright vessel.
 *     A = pi d^2/4
 * Given: diameter inside, m, above zero.
 * Returns: area, m2; WR_OUT_OF_RANGE for any other diameter.
 * Neglects: nozzles and laterals in the bed. A horizontal vessel needs its own figure.
 * Source: geometry.
 * Pinned by: tests/published/test_deposit.c (48 in vessel, UFC 3-280-04 appendix B) */
enum wr_status wr_vessel_area(double diameter, double *area);

#endif
