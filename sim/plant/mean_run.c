/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/mean_run.h"

#include "sim/engine/timers.h"
#include "sim/plant/head.h"
#include "sim/plant/units.h"

#include <math.h>

/* An outage may have ended before the run starts. */
static bool covers_start(const struct wr_outage *outage)
{
    return outage->from <= 0 && !(outage->until <= 0);
}

static bool is_out_at_start(const struct wr_plant *plant, size_t filter)
{
    for (size_t o = 0; o < plant->outage_count; o++)
        if (wr_plant_outage_takes(plant, o, filter) && covers_start(&plant->definition->outages.items[o]))
            return true;
    return false;
}

double wr_plant_mean_rate(const struct wr_plant *plant)
{
    double area = 0, least = WR_NEVER;
    for (size_t f = 0; f < plant->filter_count; f++) {
        if (is_out_at_start(plant, f))
            continue;
        area += plant->groups[plant->group_of[f]].area;
        least = fmin(least, plant->groups[plant->group_of[f]].approved_rate);
    }
    return area > 0 ? fmin(plant->definition->demand.maximum_day / area, least) : 0;
}

double wr_plant_run_time(const struct wr_plant *plant, const struct wr_group *group, double rate, double solids)
{
    const struct wr_triggers *t = &plant->definition->wash.triggers;
    double time = WR_NEVER;
    if (rate <= 0)
        return time;
    /* An urgent level calls by itself where no differential has. */
    const double load = fmin(wr_plant_trigger_load(plant, group, rate), wr_plant_urgent_load(plant, group, rate));
    if (isfinite(load) && solids > 0)
        time = load / (solids * rate);
    if (wr_is_given(t->run_hours))
        time = fmin(time, t->run_hours);
    if (wr_is_given(t->volume))
        time = fmin(time, t->volume / rate);
    return time;
}
