/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/build.h"

#include "models/solids.h"
#include "models/water.h"

#include <math.h>
#include <stdlib.h>

enum wr_status wr_build_solids(const struct wr_raw_water *raw, double iron, double manganese, double suspended,
                               double *solids)
{
    if (wr_is_given(suspended)) {
        *solids = suspended;
        return WR_OK;
    }
    const struct wr_metals metals = {.iron = iron,
                                     .manganese = manganese,
                                     .solids_per_iron = raw->dry_solids_per_iron,
                                     .solids_per_manganese = raw->dry_solids_per_manganese};
    return wr_solids_from_metals(&metals, solids);
}

/* Raw water is the mean of the wells by their flows; a well's iron and manganese are the raw water's unless it says
 * otherwise, and solids follow them unless the raw water's are given. */
enum wr_status wr_build_water(struct wr_plant *plant)
{
    const struct wr_raw_water *raw = &plant->definition->raw_water;
    double flow = 0;
    plant->well_water = calloc(plant->well_count, sizeof *plant->well_water);
    if (plant->well_water == NULL)
        return WR_NO_MEMORY;
    for (size_t w = 0; w < plant->well_count; w++) {
        const struct wr_well *well = &plant->definition->wells.items[w];
        double *water = plant->well_water[w];
        water[WR_IRON] = wr_given_or(well->iron, raw->iron);
        water[WR_MANGANESE] = wr_given_or(well->manganese, raw->manganese);
        const enum wr_status status =
            wr_build_solids(raw, water[WR_IRON], water[WR_MANGANESE], raw->suspended_solids, &water[WR_SOLIDS]);
        if (status != WR_OK)
            return status;
        flow += well->flow;
        for (int k = 0; k < WR_CONSTITUENTS; k++)
            plant->raw[k] += water[k] * well->flow;
    }
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        plant->raw[k] /= flow;
    return wr_water_viscosity(raw->temperature, &plant->viscosity);
}

/* Hours until a signal next differs from what it is in the given hour; 0 when it never does. */
static int hours_alike(const double *values, int hour)
{
    for (int ahead = 1; ahead < 24; ahead++) {
        const double then = values[(hour + ahead) % 24];
        if (then < values[hour] || then > values[hour])
            return ahead;
    }
    return 0;
}

void wr_build_demand(struct wr_plant *plant)
{
    const struct wr_demand *demand = &plant->definition->demand;
    double sum = 0;
    for (int hour = 0; hour < 24; hour++)
        sum += demand->hourly_factors[hour];
    for (int hour = 0; hour < 24; hour++)
        plant->demand.values[hour] = demand->maximum_day * (demand->hourly_factors[hour] * 24 / sum);
    for (int hour = 0; hour < 24; hour++)
        plant->demand.lasts[hour] = hours_alike(plant->demand.values, hour);
    plant->demand.phase = fmod(plant->definition->start, 86400);
}
