/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_HEAD_H
#define WR_SIM_PLANT_HEAD_H

/* Head across the filters of a group, and the loads at which it comes to a level. SI doubles; heads in metres of
 * water, loads in kg/m2 of solids, rates in m/s. */

#include "sim/plant/plant.h"

/* Head across a filter of the group, m, at the given solids load (kg/m2) and rate (m/s); 0 at no flow.
 * With bed_only the fittings are left out. */
double wr_group_head(const struct wr_group *group, double viscosity, double load, double rate, bool bed_only);

/* Differential, m, as the plant takes it for its triggers: across what it measures, and as measured or corrected to the
 * approved rate. The rate, m/s, is above 0. */
double wr_plant_judged_head(const struct wr_plant *plant, const struct wr_group *group, double load, double rate);

/* Load, kg/m2, at which the filter's head at the given rate reaches head; 0 or less when a clean bed is past it. */
double wr_group_load_at_head(const struct wr_group *group, double viscosity, double head, double rate, bool bed_only);

/* Rate at available head, m/s, that a filter of the given load (kg/m2) holds until *end, the load at which it is worked
 * out again: its resistance has then risen by a hundredth. The rate is that of the mid resistance, which for a straight
 * deposit law and no quadratic terms passes exactly the volume of true constant head over the stretch. */
double wr_group_stretch(const struct wr_group *group, double viscosity, double load, double *end);

/* Load, kg/m2, at which the plant's differential trigger is met at the given rate; INFINITY without such a trigger. */
double wr_plant_trigger_load(const struct wr_plant *plant, const struct wr_group *group, double rate);

/* The same for the urgent level. */
double wr_plant_urgent_load(const struct wr_plant *plant, const struct wr_group *group, double rate);

#endif
