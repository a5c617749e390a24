/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_BUILD_H
#define WR_SIM_PLANT_BUILD_H

/* The parts of building a plant, called once each by wr_plant_init and in this order: each works on what those before
 * it have set. What they allocate is the plant's, on failure too; wr_plant_fini frees it. */

#include "sim/plant/plant.h"

/* Value of an optional quantity, or what stands in for it. */
static inline double wr_given_or(double quantity, double otherwise)
{
    return wr_is_given(quantity) ? quantity : otherwise;
}

/* Dry solids, kg/m3, of a water: as given, or from its iron and manganese (kg/m3) by the raw water's factors. */
enum wr_status wr_build_solids(const struct wr_raw_water *raw, double iron, double manganese, double suspended,
                               double *solids);

/* What each well carries, their mean by flow, and the water's viscosity. */
enum wr_status wr_build_water(struct wr_plant *plant);

/* Bed and vessel of a group's filters: area, rate and head limits, clean resistance, deposit law, fitted to the
 * observed run where there is one. */
enum wr_status wr_build_bed(struct wr_plant *plant, const struct wr_filter_group *group, struct wr_group *g);

/* Steps of a wash of the group's filters, and what they add up to. */
void wr_build_wash(const struct wr_wash *wash, struct wr_group *g);

/* Names of the filters, and the group of each. */
enum wr_status wr_build_names(struct wr_plant *plant);

/* The units that outages and rota name; the reader has checked the names. */
enum wr_status wr_build_units(struct wr_plant *plant);

/* How spent wash water settles, what its sludge does, and whether it has an emergency outlet. */
enum wr_status wr_build_spent(struct wr_plant *plant);

/* Demand of the maximum day, hour by hour. */
void wr_build_demand(struct wr_plant *plant);

/* Numbers of the timers: their order at one instant. */
void wr_build_timers(struct wr_plant *plant);

#endif
