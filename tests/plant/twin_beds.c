/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The twin's beds: what they have caught, whether they have come to available head, what calls their washes. */
#include "models/headloss.h"
#include "tests/plant/twin_state.h"

void twin_call(struct twin *twin, struct twin_filter *filter)
{
    filter->called = true;
    filter->called_at = twin->now;
    twin->waiting++;
}

/* Heads across a filter that serves, m. */
struct heads {
    double bed, whole;
};

static struct heads heads_of(const struct twin *twin, const struct twin_filter *filter)
{
    const struct wr_group *group = filter->group;
    const double bed =
        wr_headloss_at(group->clean_linear + twin_resistance(twin, filter), group->clean_quadratic, filter->rate);
    return (struct heads){bed, bed + group->fittings_quadratic * filter->rate * filter->rate};
}

/* Whether the differential has been at its trigger for long enough. */
static bool is_differential_met(struct twin *twin, struct twin_filter *filter, double seen)
{
    const struct wr_triggers *triggers = &twin->definition->wash.triggers;
    if (!(seen >= triggers->differential * (1.0 - 1e-12))) {
        filter->above_since = WR_ABSENT;
        return false;
    }
    if (isnan(filter->above_since)) {
        filter->above_since = twin->now;
    }
    return twin->now - filter->above_since >= triggers->persistence;
}

static void leave_service(struct twin *twin, struct twin_filter *filter)
{
    filter->mode = TWIN_STANDBY;
    filter->rate = 0.0;
    filter->limited = false;
    filter->above_since = WR_ABSENT;
    twin->changed = true;
    if (!filter->called) {
        twin_call(twin, filter);
    }
}

static void look_at_bed(struct twin *twin, struct twin_filter *filter)
{
    const struct wr_triggers *triggers = &twin->definition->wash.triggers;
    const struct wr_group *group = filter->group;
    const struct heads heads = heads_of(twin, filter);
    if (filter->at_head == WR_HEAD_LEAVES_SERVICE && heads.whole >= group->available_head * (1.0 - 1e-12)) {
        leave_service(twin, filter);
        return;
    }
    twin->changed = twin->changed ||
                    (filter->at_head == WR_HEAD_FLOW_FALLS && (filter->limited || heads.whole > group->available_head));
    const double correction = triggers->differential_as == WR_AS_CORRECTED ? group->approved_rate / filter->rate : 1.0;
    const double seen = (triggers->across == WR_ACROSS_BED ? heads.bed : heads.whole) * correction;
    const bool urgent = seen >= triggers->urgent_differential * (1.0 - 1e-12);
    filter->urgent = filter->urgent || urgent;
    if (!filter->called && (is_differential_met(twin, filter, seen) || urgent || filter->hours >= triggers->run_hours ||
                            filter->volume >= triggers->volume)) {
        twin_call(twin, filter);
    }
}

void twin_look_at_beds(struct twin *twin)
{
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        if (filter->mode != TWIN_SERVING) {
            continue;
        }
        if (filter->rate > 0.0) {
            look_at_bed(twin, filter);
        } else {
            filter->above_since = WR_ABSENT;
        }
    }
}

void twin_advance_beds(struct twin *twin)
{
    const double dt = twin->dt;
    for (size_t i = 0; i < twin->plant->filter_count; i++) {
        struct twin_filter *filter = &twin->filters[i];
        if (filter->rate > 0.0) {
            const double volume = filter->rate * dt;
            filter->load += volume * twin->feed_solids;
            filter->volume += volume;
            filter->hours += dt;
        }
        if (filter->mode == TWIN_WASHING || filter->mode == TWIN_RINSING) {
            twin_advance_wash(twin, filter);
        }
    }
}
