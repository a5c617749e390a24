/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/mixing.h"

#include "sim/plant/extreme.h"

#include <math.h>

/* What comes in within this time, s, is no level but rounding, and so is what it holds: the mix is what comes. */
static const double NO_LEVEL = 1e-6;

double wr_mix_of(const struct wr_plant *plant, const struct wr_tank *tank, int constituent)
{
    if (plant->has_settling)
        return tank->out[constituent];
    if (tank->level > tank->inflow * NO_LEVEL)
        return wr_greater(0, tank->mass[constituent]) / tank->level;
    return tank->inflow > 0 ? tank->mass_in[constituent] / tank->inflow : 0;
}

void wr_mix_tanks(const struct wr_plant *plant, struct wr_state *state)
{
    struct wr_tank *tanks = wr_state_tanks(plant, state);
    /* What has settled by the clock leaves clear, as the state has it from its start. */
    for (size_t t = 0; t < plant->tank_count && !plant->has_settling; t++) {
        struct wr_tank *tank = &tanks[t];
        for (int k = 0; k < WR_CONSTITUENTS; k++)
            tank->out[k] = wr_mix_of(plant, tank, k);
    }
}

void wr_mix_feed(const struct wr_plant *plant, const struct wr_state *state, struct wr_flows *flows)
{
    const struct wr_tank *tanks = wr_state_tanks(plant, state);
    /* What washes with raw water draw leaves before recycle joins. */
    const double raw_wash = plant->definition->wash_water.source == WR_WATER_FROM_WELLS ? flows->wash : 0;
    const double raw = flows->raw - raw_wash, feed = raw + flows->recycle;
    for (int k = 0; k < WR_CONSTITUENTS; k++) {
        const double back = flows->recycle > 0 ? tanks[flows->recycle_tank].out[k] * flows->recycle : 0;
        flows->feed[k] = feed > 0 ? (flows->raw_water[k] * raw + back) / feed : 0;
    }
}

/* Share of the first difference between mix and inflow that is left after a time. */
static double difference_left(const struct wr_tank *tank, double time)
{
    const double net = tank->inflow - tank->drawn, level = tank->level + net * time;
    if (level <= 0)
        return 0;
    if (fabs(net) * time < 1e-9 * tank->level)
        return exp(-tank->inflow * time / tank->level);
    return pow(level / tank->level, -tank->inflow / net);
}

/* Mean of what leaves over a time: what was there and came, less what is left. */
static void mix_over(struct wr_tank *tank, double time)
{
    const double out = tank->drawn, left = difference_left(tank, time);
    const double level = wr_greater(0, tank->level + (tank->inflow - out) * time);
    for (int k = 0; k < WR_CONSTITUENTS; k++) {
        const double in = tank->mass_in[k] / tank->inflow, mix = tank->mass[k] / tank->level;
        const double stays = (in + (mix - in) * left) * level;
        tank->out[k] = wr_greater(0, tank->mass[k] + tank->mass_in[k] * time - stays) / (out * time);
    }
}

void wr_mix_over(const struct wr_plant *plant, struct wr_state *state, double time)
{
    if (plant->has_settling)
        return;
    struct wr_tank *tanks = wr_state_tanks(plant, state);
    bool moved = false;
    for (size_t t = 0; t < plant->tank_count; t++) {
        if (tanks[t].level <= 0 || tanks[t].inflow <= 0 || tanks[t].drawn <= 0)
            continue;
        mix_over(&tanks[t], time);
        moved = true;
    }
    if (moved)
        wr_mix_feed(plant, state, &state->flows);
}

/* When the mix in a tank that is filled and drawn from at once has moved by a hundredth. */
static double mix_time(const struct wr_tank *tank)
{
    if (tank->inflow <= 0 || tank->drawn <= 0 || tank->level <= 0)
        return WR_NEVER;
    const double mix = tank->mass[WR_SOLIDS] / tank->level, in = tank->mass_in[WR_SOLIDS] / tank->inflow;
    const double pace = fabs(in - mix) * tank->inflow / tank->level;
    return pace > 0 ? wr_greater(1, 0.01 * wr_greater(mix, 0.01 * in) / pace) : WR_NEVER;
}

double wr_mix_time(const struct wr_plant *plant, const struct wr_state *state)
{
    const struct wr_tank *tanks = wr_state_tanks(plant, state);
    double time = WR_NEVER;
    for (size_t t = 0; t < plant->tank_count; t++)
        time = wr_lesser(time, mix_time(&tanks[t]));
    return time;
}
