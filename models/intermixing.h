/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_INTERMIXING_H
#define WR_MODELS_INTERMIXING_H

/* Whether two media that lie one upon the other part again after a wash. */

#include "models/status.h"
#include "models/water.h"

/* Bulk density of grains and the water between them. Two fluidised media stay apart while the upper one's, at its
 * coarse end, is below the lower one's at its fine end; from there on they mix.
 *     rho_b = e rho + (1 - e) rho_s
 * Given: density of the grains, kg/m3, above zero; porosity in the wash, above zero, below one; water.
 * Returns: bulk density, kg/m3; WR_OUT_OF_RANGE outside these.
 * Neglects: stirring by jets and walls; media meet and mix over some centimetres even below it.
 * Scatter: tells whether, not how far.
 * Source: J. L. Cleasby and C. W. Woods, 1975, Intermixing of dual media and multimedia granular filters, J. AWWA
 * 67(4), 197-203 (from memory).
 * Pinned by: tests/unit/test_models_bed.c */
enum wr_status wr_bulk_density(double density, double porosity, struct wr_water water, double *bulk);

/* Size of a light grain that settles like a heavy one, by the rule of the trade.
 *     d1/d2 = ((rho2 - rho)/(rho1 - rho))^0.667
 * Given: size d2, m, above zero; density rho2 of it and rho1 of the other, kg/m3, above the water's; water.
 * Returns: size d1, m; WR_OUT_OF_RANGE outside these.
 * Neglects: shape, Reynolds number.
 * Scatter: none stated; the exponent is 1/2 for laminar and 1 for turbulent settling.
 * Source: the rule for sizes of layers in handbooks of water treatment (from memory).
 * Pinned by: tests/unit/test_models_bed.c */
enum wr_status wr_equal_settling_size(double size, double density, double other_density, struct wr_water water,
                                      double *other_size);

#endif
