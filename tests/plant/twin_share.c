/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/constant_head.h"
#include "tests/plant/twin_state.h"

static bool fits(double flow, double room)
{
    return flow <= room * (1.0 + TWIN_SLACK);
}

/* What each filter in service can take: its approved rate, or less at its available head. Returns their sum. */
static double find_capacity(struct twin *twin)
{
    double capacity = 0.0;
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        if (filter->mode != TWIN_SERVING) {
            continue;
        }
        const struct wr_group *group = filter->group;
        const double at_head =
            wr_constant_head_rate(group->available_head, group->clean_linear + twin_resistance(twin, filter),
                                  group->clean_quadratic + group->fittings_quadratic);
        filter->limit = fmin(group->approved_rate, at_head);
        capacity += filter->limit * group->area;
    }
    return capacity;
}

static double asked_by_rinse(const struct twin_filter *filter)
{
    return filter->mode == TWIN_WASHING ? filter->group->steps[filter->step].feed_flow : 0.0;
}

static double sum_of_rinses(const struct twin *twin)
{
    double sum = 0.0;
    for (size_t i = 0; twin->washing > 0 && i < twin->plant->filter_count; i++) {
        sum += asked_by_rinse(&twin->filters[i]);
    }
    return sum;
}

static double flow_of_wells(const struct twin *twin, double capacity, double asked)
{
    const struct wr_wells *wells = &twin->definition->wells;
    double raw = 0.0;
    bool runs[TWIN_WELLS] = {false};
    for (int for_rinse = 0; for_rinse <= 1; for_rinse++) {
        for (size_t i = 0; i < wells->count; i++) {
            const double flow = raw + wells->items[i].flow;
            const bool wanted = for_rinse ? !fits(asked, raw) : twin->wells_called[i];
            if (!runs[i] && wanted && fits(flow, capacity + asked) && fits(flow, twin->plant->approved_capacity)) {
                runs[i] = true;
                raw = flow;
            }
        }
    }
    return raw;
}

/* Gives the rinses their flow and the tanks what comes into them over the step. */
static void fill_tanks(struct twin *twin, double asked)
{
    const size_t tanks = twin->plant->tank_count;
    const double share = asked > 0.0 ? twin->rinse / asked : 0.0;
    twin->wash = twin->to_sewer_direct = 0.0;
    for (size_t i = 0; i < tanks; i++) {
        twin->tanks[i].inflow = twin->tanks[i].solids_in = 0.0;
    }
    for (size_t i = 0; twin->washing > 0 && i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        if (filter->mode != TWIN_WASHING) {
            continue;
        }
        const struct wr_step *step = &filter->group->steps[filter->step];
        const double rinse = asked_by_rinse(filter) * share;
        filter->rate = rinse / filter->group->area;
        filter->wash_flow = step->wash_flow * fmin(1.0, filter->step_left / twin->dt);
        twin->wash += filter->wash_flow;
        if (filter->tank < tanks) {
            twin->tanks[filter->tank].inflow += filter->wash_flow + rinse;
            twin->tanks[filter->tank].solids_in += filter->wash_flow * filter->solids_out;
        } else {
            twin->to_sewer_direct += filter->wash_flow + rinse;
        }
    }
}

/* Flow a tank can give over the step, m3/s. */
static double available_from(const struct twin *twin, const struct twin_tank *tank)
{
    return tank->mode == TWIN_DECANTING ? (tank->level - tank->sludge) / twin->dt
                                        : tank->inflow + tank->level / twin->dt;
}

static bool has_water(const struct twin_tank *tank)
{
    return tank->level > 1e-12 * tank->volume || tank->inflow > 0.0;
}

/* The tank that gives: the oldest settled, or without settling the fullest, which then gives until it is dry. The
 * number of tanks for none. */
static size_t find_source(const struct twin *twin)
{
    const bool settles = twin->definition->spent_wash.settling.law == WR_SETTLING_CLOCK;
    const size_t tanks = twin->plant->tank_count;
    size_t best = tanks;
    if (!settles && twin->recycle + twin->sewer > 0.0 && has_water(&twin->tanks[twin->source])) {
        return twin->source;
    }
    for (size_t i = 0; i < tanks; i++) {
        const struct twin_tank *tank = &twin->tanks[i];
        if (settles ? tank->mode != TWIN_DECANTING : !has_water(tank)) {
            continue;
        }
        if (best == tanks ||
            (settles ? tank->since < twin->tanks[best].since : tank->level > twin->tanks[best].level)) {
            best = i;
        }
    }
    return best;
}

static double find_recycle(const struct twin *twin, double capacity, double available)
{
    const struct wr_recycle *recycle = &twin->definition->recycle;
    const double of_raw = recycle->max_fraction * twin->raw, room = capacity + twin->rinse - twin->raw;
    const double allowed = twin->plant->approved_capacity - twin->raw;
    const double pump = fmin(recycle->pump, available);
    if (recycle->control == WR_RECYCLE_RATIO) {
        return fmax(0.0, fmin(fmin(pump, of_raw), fmin(room, allowed)));
    }
    const bool runs = fits(pump, of_raw) && fits(twin->raw + pump - twin->rinse, capacity) &&
                      fits(twin->raw + pump, twin->plant->approved_capacity);
    return runs ? pump : 0.0;
}

/* The first outlet that can run does, from one tank. */
static void find_outlets(struct twin *twin, double capacity)
{
    const struct wr_outlets *outlets = &twin->definition->spent_wash.outlets;
    twin->source = find_source(twin);
    twin->recycle = twin->sewer = 0.0;
    if (twin->source == twin->plant->tank_count) {
        return;
    }
    const double available = available_from(twin, &twin->tanks[twin->source]);
    for (size_t i = 0; i < outlets->count && twin->recycle + twin->sewer == 0.0; i++) {
        if (outlets->items[i].kind == WR_OUTLET_RECYCLE) {
            twin->recycle = find_recycle(twin, capacity, available);
        } else {
            twin->sewer = fmin(outlets->items[i].rate, available);
        }
    }
}

/* Equal rates to all filters in service; what one cannot take goes to the others. */
static void split_service(struct twin *twin)
{
    const size_t count = twin->plant->filter_count;
    double left = twin->service, area = 0.0;
    bool open[TWIN_FILTERS];
    for (size_t i = 0; i < count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        open[i] = filter->mode == TWIN_SERVING;
        area += open[i] ? filter->group->area : 0.0;
        filter->limited = false;
    }
    for (bool again = area > 0.0; again;) {
        again = false;
        const double rate = area > 0.0 ? left / area : 0.0;
        for (size_t i = 0; i < count; i++) {
            struct twin_filter *filter = &twin->filters[i];
            if (!open[i]) {
                continue;
            }
            filter->rate = fmin(rate, filter->limit);
            if (rate > filter->limit) {
                open[i] = false;
                filter->limited = filter->limit < filter->group->approved_rate;
                left -= filter->limit * filter->group->area;
                area -= filter->group->area;
                again = true;
            }
        }
    }
}

void twin_mix_feed(struct twin *twin)
{
    double solids = twin->raw * twin->plant->raw[WR_SOLIDS];
    if (twin->mixing) {
        const struct twin_tank *tank = &twin->tanks[twin->source];
        const double content = tank->level + tank->inflow * twin->dt;
        solids += twin->recycle * (tank->solids + tank->solids_in * twin->dt) / content;
    }
    twin->feed_solids = twin->raw > 0.0 ? solids / (twin->raw + twin->recycle) : 0.0;
}

void twin_share(struct twin *twin)
{
    const double capacity = find_capacity(twin), asked = sum_of_rinses(twin);
    twin->raw = flow_of_wells(twin, capacity, asked);
    twin->rinse = fmin(asked, twin->raw);
    fill_tanks(twin, asked);
    find_outlets(twin, capacity);
    twin->service = twin->raw + twin->recycle - twin->rinse;
    split_service(twin);
    /* What has settled comes back clear. */
    twin->mixing = twin->recycle > 0.0 && twin->tanks[twin->source].mode == TWIN_FILLING;
    twin_mix_feed(twin);
}
