/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/share_part.h"

#include "sim/plant/extreme.h"

/* Wash water that is taken out of what filters make, or out of storage. */
static double wash_of_effluent(const struct wr_plant *plant, const struct wr_flows *flows)
{
    const int source = plant->definition->wash_water.source;
    return source != WR_WATER_FROM_TANK && source != WR_WATER_FROM_WELLS ? flows->wash : 0;
}

void wr_share_effluent(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    const struct wr_wash_tank *tank = &plant->definition->wash_water.tank;
    const int source = plant->definition->wash_water.source;
    if (source == WR_WATER_FROM_TANK && state->wash_tank.full)
        flows->refill = wr_lesser(wr_lesser(tank->refill_rate, flows->service), flows->wash);
    else if (source == WR_WATER_FROM_TANK && state->wash_tank.refilling)
        flows->refill = wr_lesser(tank->refill_rate, flows->service);
    /* In this order: what empty storage gives a wash is service and down together, and nothing must be left of them. */
    flows->to_storage = flows->service + flows->down - flows->refill - wash_of_effluent(plant, flows);
    const double inflow = wr_greater(0, flows->to_storage);
    flows->delivered = flows->demand;
    if (state->storage.pin == WR_PIN_EMPTY && inflow < flows->demand) {
        flows->delivered = inflow;
        flows->held |= wr_limit_bit(WR_LIMIT_STORAGE_EMPTY);
    }
    if (state->storage.pin == WR_PIN_FULL && inflow > flows->demand)
        flows->overflow = inflow - flows->demand;
}

bool wr_share_spare_storage(const struct wr_plant *plant, struct wr_state *state, struct wr_flows *flows)
{
    const double raw = flows->raw;
    const double least =
        wr_greater(wr_share_direct(plant, flows), flows->recycle / plant->definition->recycle.max_fraction);
    const double spared = wr_lesser(raw - least, wr_share_spared_by_blend(plant, state, flows));
    /* What filters that filter down send comes anyway: for it, throttling would take the refill its water. */
    const double made = flows->service - flows->refill - wash_of_effluent(plant, flows);
    const double lost = wr_lesser(flows->overflow, wr_greater(0, made));
    wr_share_throttle(plant, state, flows, wr_lesser(lost, spared));
    return flows->raw < raw;
}
