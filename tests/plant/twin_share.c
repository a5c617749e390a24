/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How the twin shares out flows for a step. */
#include "models/constant_head.h"
#include "tests/plant/twin_state.h"

/* The rate, m/s, that a filter in service can take: its approved one unless rates may rise, and where flow falls off
 * no more than its available head lets through. */
double twin_limit(const struct twin *twin, const struct twin_filter *filter)
{
    const struct wr_group *group = filter->group;
    const bool rises = twin->definition->over_approved_rate == WR_OVER_RATE_RISES;
    const double approved = rises ? HUGE_VAL : group->approved_rate;
    if (filter->at_head != WR_HEAD_FLOW_FALLS) {
        return approved;
    }
    return fmin(approved,
                wr_constant_head_rate(group->available_head, group->clean_linear + twin_resistance(twin, filter),
                                      group->clean_quadratic + group->fittings_quadratic));
}

/* What filters ask for, m3/s. */
struct asked {
    double rinse, wash, start;
};

static struct asked look_at_filters(struct twin *twin)
{
    struct asked asked = {0};
    twin->capacity = 0.0;
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        if (filter->mode == TWIN_SERVING) {
            filter->limit = twin_limit(twin, filter);
            twin->capacity += filter->limit * filter->group->area;
        } else if (filter->mode == TWIN_RINSING) {
            asked.start += filter->group->start_rinse.feed_flow * filter->scale;
        } else if (filter->mode == TWIN_WASHING) {
            asked.rinse += filter->group->steps[filter->step].feed_flow;
            asked.wash += filter->group->steps[filter->step].wash_flow * filter->scale;
        }
    }
    return asked;
}

static double share_of(double given, double asked)
{
    return asked > 0.0 ? fmin(1.0, given / asked) : 0.0;
}

/* Rinses have first call on raw water, washes with raw water or with what the filters make come next, then rinses at
 * the plant's start. */
static void give_to_washes(struct twin *twin, struct asked asked)
{
    twin->rinse = fmin(asked.rinse, twin->raw);
    const double rinse = share_of(twin->rinse, asked.rinse), wash = share_of(twin_wash_to_be_had(twin), asked.wash);
    const double raw_wash = twin_washes_raw(twin) ? wash * asked.wash : 0.0;
    const double start = share_of(fmax(0.0, twin->raw - twin->rinse - raw_wash), asked.start);
    twin->rinse = twin->wash = twin->down = twin->start_rinse = 0.0;
    for (size_t i = 0; twin->washing + twin->rinsing > 0 && i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        if (filter->mode == TWIN_WASHING) {
            twin_set_flows_of_step(filter, wash, rinse);
            twin->rinse += filter->rate * filter->group->area;
            twin->wash += filter->wash_flow;
            twin->down += filter->down_flow;
        } else if (filter->mode == TWIN_RINSING) {
            twin_set_flows_of_step(filter, 0.0, start);
            twin->start_rinse += filter->rate * filter->group->area;
        }
    }
}

/* What comes into the tanks over the step. */
static void fill_tanks(struct twin *twin)
{
    const size_t tanks = twin->plant->tank_count;
    for (size_t i = 0; i < tanks; i++) {
        twin->tanks[i].inflow = twin->tanks[i].solids_in = 0.0;
    }
    for (size_t i = 0; twin->washing + twin->rinsing > 0 && i < twin->plant->filter_count; i++) {
        const struct twin_filter *filter = &twin->filters[i];
        const bool washes = filter->mode == TWIN_WASHING;
        if ((!washes && filter->mode != TWIN_RINSING) || filter->tank >= tanks) {
            continue;
        }
        struct twin_tank *tank = &twin->tanks[filter->tank];
        const bool to_tank = washes && filter->group->steps[filter->step].to == WR_TO_SPENT;
        const double backwash = to_tank ? filter->wash_flow : 0.0;
        const double rinse = twin_rinses_to_tank(filter) ? filter->rate * filter->group->area : 0.0;
        tank->inflow += backwash + rinse + filter->drain_flow;
        if (backwash > 0.0) {
            tank->solids_in += backwash * (filter->solids_out + (twin_washes_raw(twin) ? twin->raw_solids : 0.0));
        }
    }
}

/* Equal rates to all filters in service; what one cannot take goes to the others. */
static void split_service(struct twin *twin)
{
    const size_t count = twin->plant->filter_count;
    double left = fmax(0.0, twin->service), area = 0.0;
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
                filter->limited = filter->limit < filter->group->approved_rate ||
                                  twin->definition->over_approved_rate == WR_OVER_RATE_RISES;
                left -= filter->limit * filter->group->area;
                area -= filter->group->area;
                again = true;
            }
        }
    }
}

static void find_service(struct twin *twin)
{
    twin->service = twin->raw + twin->recycle - twin->rinse - twin->start_rinse;
    twin->service -= twin_washes_raw(twin) ? twin->wash : 0.0;
}

/* True when raw water takes up the recycle that runs within the solids of the blend. */
static bool blend_is_kept(const struct twin *twin)
{
    const double most = twin->definition->recycle.max_blend_solids;
    if (twin->recycle <= 0.0 || !wr_is_given(most))
        return true;
    const double back = twin_given_solids(twin, &twin->tanks[twin->source]);
    const double raw = twin->raw - (twin_washes_raw(twin) ? twin->wash : 0.0);
    return back <= most || raw * twin->raw_solids + twin->recycle * back <= most * (raw + twin->recycle) * (1.0 + 1e-9);
}

/* Throttles wells of some flows and tells whether the blend is kept. */
static bool throttled_keeps_blend(struct twin *twin, const double *flows, double less)
{
    twin->raw = 0.0;
    for (size_t i = 0; i < twin->plant->well_count; i++) {
        twin->wells[i].flow = flows[i];
        twin->raw += flows[i];
    }
    twin_throttle(twin, less);
    return blend_is_kept(twin);
}

/* Throttles the wells by some flow, or by as much of it as keeps the blend, found by halving. */
static void throttle_within_blend(struct twin *twin, double less)
{
    double flows[TWIN_WELLS], kept = 0.0, broken = less;
    for (size_t i = 0; i < twin->plant->well_count; i++)
        flows[i] = twin->wells[i].flow;
    if (throttled_keeps_blend(twin, flows, less))
        return;
    for (int halving = 0; halving < 50; halving++) {
        const double middle = 0.5 * (kept + broken);
        *(throttled_keeps_blend(twin, flows, middle) ? &kept : &broken) = middle;
    }
    (void)throttled_keeps_blend(twin, flows, kept);
}

/* Full storage loses no water of wells that can be throttled, as long as rinses and recycle keep theirs, and the blend
 * its bound. */
static void spare_storage(struct twin *twin)
{
    const struct wr_wash_tank *tank = &twin->definition->wash_water.tank;
    const bool from_tank = twin->definition->wash_water.source == WR_WATER_FROM_TANK;
    const double raw_wash = twin_washes_raw(twin) ? twin->wash : 0.0;
    double refill = 0.0;
    if (from_tank && twin->refilling) {
        refill =
            fmin(tank->refill_rate, fmin(twin->service, twin->wash + (tank->volume - twin->wash_level) / twin->dt));
    }
    const double taken = twin->demand + refill + (from_tank ? 0.0 : twin->wash - raw_wash);
    /* What is filtered down comes anyway. */
    const double surplus =
        fmin(twin->service + twin->down - taken, twin->service - refill - (from_tank ? 0.0 : twin->wash - raw_wash));
    const double beside = twin->rinse + twin->start_rinse + raw_wash;
    const double least =
        fmax(beside, twin->recycle > 0.0 ? twin->recycle / twin->definition->recycle.max_fraction : 0.0);
    if (surplus > 0.0 && twin->raw > least) {
        throttle_within_blend(twin, fmin(surplus, twin->raw - least));
        find_service(twin);
    }
}

/* What a tank gives, kg/m3: of a settled one as it was drawn, else mixed over the step. */
double twin_given_solids(const struct twin *twin, const struct twin_tank *tank)
{
    const double content = tank->level + tank->inflow * twin->dt;
    if (tank->mode == TWIN_DECANTING) {
        return tank->leaves;
    }
    return content > 0.0 ? (tank->solids + tank->solids_in * twin->dt) / content : 0.0;
}

void twin_mix_feed(struct twin *twin)
{
    /* What washes with raw water draw leaves before recycle joins. */
    const double raw = twin->raw - (twin_washes_raw(twin) ? twin->wash : 0.0), feed = raw + twin->recycle;
    double solids = raw * twin->raw_solids;
    if (twin->recycle > 0.0) {
        solids += twin->recycle * twin_given_solids(twin, &twin->tanks[twin->source]);
    }
    twin->feed_solids = feed > 0.0 ? solids / feed : 0.0;
}

void twin_share(struct twin *twin)
{
    const struct asked asked = look_at_filters(twin);
    const bool rinse_waits = twin->definition->wash.when_plant_stopped == WR_STOPPED_RINSE_AT_NEXT_START;
    const double raw_wash = twin_washes_raw(twin) ? asked.wash : 0.0;
    const double made = twin->definition->wash_water.source == WR_WATER_FROM_FILTERS ? asked.wash : 0.0;
    twin_run_wells(twin, asked.rinse + raw_wash + asked.start, (rinse_waits ? 0.0 : asked.rinse) + raw_wash + made);
    give_to_washes(twin, asked);
    fill_tanks(twin);
    twin_find_outlet(twin);
    find_service(twin);
    if (twin->full) {
        spare_storage(twin);
    }
    split_service(twin);
    /* What has settled comes back as it was drawn. */
    twin->mixing = twin->recycle > 0.0 && twin->tanks[twin->source].mode == TWIN_FILLING;
    twin_mix_feed(twin);
    twin_note_wells(twin);
}
