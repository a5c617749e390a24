/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The twin's finished water and wash water over a step. */
#include "tests/plant/twin_state.h"

static bool draws_on_storage(const struct twin *twin)
{
    const int source = twin->definition->wash_water.source;
    return source == WR_WATER_FROM_STORAGE || source == WR_WATER_FROM_SYSTEM;
}

/* Greatest flow, m3/s, that washes can have over the step beside rinses; of the flows only raw and rinse need be
 * known. */
double twin_wash_to_be_had(const struct twin *twin)
{
    const double rest = fmax(0.0, twin->raw - twin->rinse);
    switch (twin->definition->wash_water.source) {
    case WR_WATER_FROM_FILTERS:
    case WR_WATER_FROM_WELLS:
        return rest;
    default:
        return draws_on_storage(twin) ? rest + twin->storage / twin->dt : HUGE_VAL;
    }
}

void twin_advance_stocks(struct twin *twin)
{
    const struct wr_wash_tank *tank = &twin->definition->wash_water.tank;
    struct twin_volumes *volumes = &twin->result->volumes;
    const double dt = twin->dt, volume = twin->definition->storage.volume;
    double refill = 0.0, inflow = twin->service + twin->down;
    if (twin->definition->wash_water.source == WR_WATER_FROM_TANK) {
        const double room = twin->wash + (tank->volume - twin->wash_level) / dt;
        refill = twin->refilling ? fmin(tank->refill_rate, fmin(twin->service, room)) : 0.0;
        twin->wash_level += (refill - twin->wash) * dt;
    } else if (!twin_washes_raw(twin)) {
        inflow -= twin->wash;
    }
    inflow -= refill;
    const double delivered = fmax(0.0, fmin(twin->demand, inflow + twin->storage / dt));
    twin->storage_before = twin->storage;
    twin->storage = fmax(0.0, twin->storage + (inflow - delivered) * dt);
    if (twin->storage > volume) {
        volumes->overflow += twin->storage - volume;
        twin->storage = volume;
    }
    volumes->delivered += delivered * dt;
    volumes->raw += twin->raw * dt;
}
