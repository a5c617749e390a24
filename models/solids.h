/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_MODELS_SOLIDS_H
#define WR_MODELS_SOLIDS_H

#include "models/status.h"

/* Dry solids per gram of iron in spent wash water: 2.7 to 4.1 g were measured, against 1.91 for pure Fe(OH)3, since the
 * floc holds bound water, silica, calcium and what else comes along (EPA residuals tables, 2005-06; ferric sludge
 * paper, Water Sci. Technol. 64(2), 361). The default lies within that range; measure your own. */
#define WR_SOLIDS_PER_IRON 3.0

/* Dry solids per gram of manganese: 1.58 by the equation for MnO2 (models/oxidation.h), rounded up. */
#define WR_SOLIDS_PER_MANGANESE 1.6

/* Metals of a water that a filter catches. */
struct wr_metals {
    double iron;                 /* kg/m3, zero or more */
    double manganese;            /* kg/m3, zero or more */
    double solids_per_iron;      /* kg dry solids per kg iron, zero or more */
    double solids_per_manganese; /* kg dry solids per kg manganese, zero or more */
};

/* Dry solids that oxidised iron and manganese make in a water.
 *     solids = iron x solids_per_iron + manganese x solids_per_manganese
 * Given: metals, each member zero or more.
 * Returns: solids, kg/m3; WR_OUT_OF_RANGE when a member is negative or no finite number.
 * Neglects: other solids of the raw water; metals that pass the filter.
 * Scatter: that of the two factors, see above.
 * Source: a mass balance; factors as above.
 * Pinned by: tests/unit/test_models_solids.c, tests/published/test_solids.c */
enum wr_status wr_solids_from_metals(const struct wr_metals *metals, double *solids);

#endif
