/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Filters: one state each, within their approved rate and available head, calling when they must. */
#include "tests/plant/watch_part.h"

#include "sim/plant/head.h"

/* A filter at its available head holds its rate while its resistance rises by a hundredth. */
static const double STRETCH = 0.011;

double rate_at(struct sight at, size_t filter)
{
    const struct wr_filter *f = filter_at(at, filter);
    if (wr_bed_in_pack(f))
        return wr_state_packs(at.plant, at.state)[at.plant->group_of[filter]].rate;
    return f->flow / group_at(at, filter)->area;
}

bool is_in_line(const struct wr_filter *f)
{
    return f->called && f->mode != WR_MODE_OUT && f->mode != WR_MODE_WASH;
}

/* The differential as the controller sees it, m. */
static double seen_differential(struct sight at, size_t filter, double rate)
{
    const struct wr_triggers *triggers = &at.definition->wash.triggers;
    const struct wr_group *group = group_at(at, filter);
    const double head = wr_group_head(group, at.plant->viscosity, wr_bed_load(at.plant, at.state, filter), rate,
                                      triggers->across == WR_ACROSS_BED);
    return triggers->differential_as == WR_AS_CORRECTED ? head * group->approved_rate / rate : head;
}

/* A filter in service that has not called is short of its triggers. */
static void watch_triggers(struct sight at, size_t filter, double rate)
{
    const struct wr_triggers *triggers = &at.definition->wash.triggers;
    const struct wr_filter *f = filter_at(at, filter);
    const struct wr_bed bed = wr_bed_now(at.plant, at.state, filter);
    if (rate <= 0.0)
        return;
    const double seen = seen_differential(at, filter, rate), slack = f->apart ? STRETCH : WATCH_KEPT;
    hold(at, f->urgent || f->above || !(seen > triggers->urgent_differential * (1.0 + slack)),
         "differential past the urgent level", seen, triggers->urgent_differential);
    if (f->called)
        return;
    hold(at, !(bed.hours > triggers->run_hours * (1.0 + WATCH_TINY)), "run hours without a call", bed.hours,
         triggers->run_hours);
    hold(at, !(bed.volume > triggers->volume * (1.0 + WATCH_TINY)), "run volume without a call", bed.volume,
         triggers->volume);
    hold(at, f->above || !(seen > triggers->differential * (1.0 + slack)), "differential without a call", seen,
         triggers->differential);
}

/* Where the plant lets the rate rise it may pass what is approved, and the highest is kept for the report. */
static void watch_rate(struct sight at, size_t filter, double rate)
{
    const double approved = group_at(at, filter)->approved_rate;
    const bool rises = at.definition->over_approved_rate == WR_OVER_RATE_RISES;
    hold_least(at, rate, 0.0, 0.0, "rate of a filter");
    hold(at, rises || rate <= approved * (1.0 + WATCH_KEPT) || filter_at(at, filter)->mode == WR_MODE_WASH,
         "approved rate", rate, approved);
    if (filter_at(at, filter)->mode == WR_MODE_SERVICE && rate > at.watch->highest_rate * approved)
        at.watch->highest_rate = rate / approved;
}

static void watch_service(struct sight at, size_t filter, double load, double rate)
{
    const struct wr_filter *f = filter_at(at, filter);
    const struct wr_group *group = group_at(at, filter);
    const int at_head = at.definition->filters.items[at.plant->group_of[filter]].at_available_head;
    const double head = wr_group_head(group, at.plant->viscosity, load, rate, false);
    if (at_head != WR_HEAD_ALARM_ONLY)
        hold_most(at, head, group->available_head, (f->apart ? STRETCH : WATCH_KEPT) * group->available_head,
                  "head of a filter in service");
    watch_triggers(at, filter, rate);
}

static void watch_filter(struct sight at, size_t filter)
{
    const struct wr_filter *f = filter_at(at, filter);
    const struct wr_bed bed = wr_bed_now(at.plant, at.state, filter);
    const double rate = rate_at(at, filter);
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        hold_least(at, bed.load[k], 0.0, WATCH_TINY, "load of a bed");
    hold_least(at, bed.volume, 0.0, WATCH_TINY, "run volume");
    hold_least(at, bed.hours, 0.0, WATCH_TINY, "run hours");
    watch_rate(at, filter, rate);
    hold(at, is_in_line(f) == (f->reasons != 0), "reasons of a filter in line", (double)f->reasons, is_in_line(f));
    hold(at, at.watch->washing[filter] == (f->mode == WR_MODE_WASH), "a wash by its events", f->mode,
         at.watch->washing[filter]);
    if (f->mode == WR_MODE_OUT || f->mode == WR_MODE_HELD)
        hold_most(at, rate, 0.0, 0.0, "rate of a filter out of service");
    if (is_out(at, WR_UNIT_FILTER, filter))
        hold(at, f->mode == WR_MODE_OUT || f->outage_waits, "a filter whose outage is on", f->mode, WR_MODE_OUT);
    else
        hold(at, f->mode != WR_MODE_OUT, "a filter out with no outage on", f->mode, WR_MODE_OUT);
    if (f->mode == WR_MODE_SERVICE)
        watch_service(at, filter, bed.load[WR_SOLIDS], rate);
}

void watch_filters(struct sight at)
{
    for (size_t i = 0; i < at.plant->filter_count; i++)
        watch_filter(at, i);
}
