/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_LARGEST_H
#define WR_SIM_STUDY_LARGEST_H

/* What filters and wells could give at most, and which unit is missed most. */

#include "sim/plant/plant.h"

/* What the filters may pass without the vessel of one (or with all: the number of filters), m3/s. */
double wr_filters_flow(const struct wr_plant *plant, size_t without);

/* What all wells give together, m3/s. */
double wr_wells_flow(const struct wr_definition *definition);

/* The filter whose vessel may pass most. */
size_t wr_largest_filter(const struct wr_plant *plant);

/* The well that gives most; the first of equals. */
size_t wr_largest_well(const struct wr_definition *definition);

/* The spent-wash tank that holds most; the first of equals, 0 without tanks. */
size_t wr_largest_tank(const struct wr_definition *definition);

#endif
