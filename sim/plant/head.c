/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/head.h"

#include "models/constant_head.h"
#include "sim/engine/timers.h"

#include <math.h>

double wr_group_head(const struct wr_group *group, double viscosity, double load, double rate, bool bed_only)
{
    const double linear = group->clean_linear + wr_deposit_resistance(&group->deposit, fmax(0, load), viscosity);
    const double quadratic = group->clean_quadratic + (bed_only ? 0 : group->fittings_quadratic);
    return (linear + quadratic * rate) * rate;
}

double wr_plant_judged_head(const struct wr_plant *plant, const struct wr_group *group, double load, double rate)
{
    const struct wr_triggers *t = &plant->definition->wash.triggers;
    const double head = wr_group_head(group, plant->viscosity, load, rate, t->across == WR_ACROSS_BED);
    return t->differential_as == WR_AS_CORRECTED ? head * (group->approved_rate / rate) : head;
}

double wr_group_load_at_head(const struct wr_group *group, double viscosity, double head, double rate, bool bed_only)
{
    const double quadratic = group->clean_quadratic + (bed_only ? 0 : group->fittings_quadratic);
    const double resistance = head / rate - quadratic * rate - group->clean_linear;
    if (resistance <= 0)
        return 0;
    return group->deposit.slope > 0 ? wr_deposit_load(&group->deposit, resistance, viscosity) : WR_NEVER;
}

/* Rise in a filter's resistance over which its rate at available head is held. */
static const double STRETCH = 0.01;

double wr_group_stretch(const struct wr_group *group, double viscosity, double load, double *end)
{
    const double linear = group->clean_linear + wr_deposit_resistance(&group->deposit, fmax(0, load), viscosity);
    *end = wr_deposit_load(&group->deposit, linear * (1 + STRETCH) - group->clean_linear, viscosity);
    return wr_constant_head_rate(group->available_head, linear * (1 + STRETCH / 2),
                                 group->clean_quadratic + group->fittings_quadratic);
}

/* Load at which a differential, taken as the plant takes it, stands at a level. */
static double differential_load(const struct wr_plant *plant, const struct wr_group *group, double level, double rate)
{
    const struct wr_triggers *t = &plant->definition->wash.triggers;
    if (!wr_is_given(level) || rate <= 0)
        return WR_NEVER;
    /* Corrected: as measured x approved rate / rate now; so the measured head at which it fires is scaled down. */
    const double head = t->differential_as == WR_AS_CORRECTED ? level * (rate / group->approved_rate) : level;
    return wr_group_load_at_head(group, plant->viscosity, head, rate, t->across == WR_ACROSS_BED);
}

double wr_plant_trigger_load(const struct wr_plant *plant, const struct wr_group *group, double rate)
{
    return differential_load(plant, group, plant->definition->wash.triggers.differential, rate);
}

double wr_plant_urgent_load(const struct wr_plant *plant, const struct wr_group *group, double rate)
{
    return differential_load(plant, group, plant->definition->wash.triggers.urgent_differential, rate);
}
