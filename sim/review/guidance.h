/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_REVIEW_GUIDANCE_H
#define WR_SIM_REVIEW_GUIDANCE_H

/* How a row finds its figure in a scenario. Inside sim/review/ only. */

#include "sim/review/review.h"
#include "sim/study/outline.h"

/* What a row looks at. */
struct wr_reviewed {
    const struct wr_plant *plant;
    const struct wr_outline *outline;
    size_t group; /* of filters, for rows that are by group */
};

/* What a row found. Starts with the row's own bounds and no figure. */
struct wr_found {
    double figure;      /* SI; WR_ABSENT where the row does not apply or is not told */
    double least, most; /* to be held against; a row without published bounds sets one of them */
    const char *why;    /* why there is no figure */
    bool applies;       /* without a figure: the row does, and the scenario does not hold what it asks */
};

typedef void wr_find(const struct wr_reviewed *reviewed, struct wr_found *found);

/* Says that a row is not for this plant, and that it is but that its figure is not told. */
void wr_found_nothing(struct wr_found *found, const char *why);
void wr_found_untold(struct wr_found *found, const char *why);

/* The definition of the group that is looked at. */
const struct wr_filter_group *wr_reviewed_group(const struct wr_reviewed *reviewed);

/* True where filters are washed as gravity filters are; all others stand in pressure vessels. */
bool wr_reviewed_is_gravity(const struct wr_reviewed *reviewed);

/* True where a layer of the group, or of any group, has a medium whose name holds a word. */
bool wr_reviewed_has_medium(const struct wr_reviewed *reviewed, const char *word);
bool wr_reviewed_has_medium_anywhere(const struct wr_reviewed *reviewed, const char *word);

/* Vessels of the plant; cells of one go out together. */
size_t wr_reviewed_vessels(const struct wr_reviewed *reviewed);

/* Water, m3/m2, and time, s, of a run of the group on the maximum day, all filters in service. */
double wr_reviewed_run_volume(const struct wr_reviewed *reviewed);
double wr_reviewed_run_time(const struct wr_reviewed *reviewed);

/* Media of guidance. */
extern const char wr_greensand[], wr_coated[], wr_anthracite[];

/* Filters and their media. */
wr_find wr_find_firm, wr_find_pressure_count, wr_find_pressure_one_out, wr_find_gravity_count, wr_find_gravity_one_out,
    wr_find_with_wash_water, wr_find_pressure_rate, wr_find_gravity_rate, wr_find_greensand_rate,
    wr_find_iron_pressure_rate, wr_find_gravity_head, wr_find_pressure_head, wr_find_anthracite_size,
    wr_find_anthracite_cap, wr_find_depth_over_size, wr_find_detention, wr_find_ammonia, wr_find_finished_water;

/* Runs and washes. */
wr_find wr_find_run_time, wr_find_run_volume, wr_find_iron_load, wr_find_wash_volume, wr_find_wash_share,
    wr_find_greensand_wash, wr_find_coated_wash, wr_find_wash, wr_find_wash_with_air, wr_find_expansion, wr_find_air;

/* Wash water and spent wash water. */
wr_find wr_find_wash_store, wr_find_wash_from_others, wr_find_refill, wr_find_spare_wash, wr_find_direct_draw,
    wr_find_inflow, wr_find_settling, wr_find_recycle_share, wr_find_recycle_in_design, wr_find_recycle_approved,
    wr_find_other_outlet, wr_find_two_washes_held, wr_find_drying, wr_find_recycle_records;

#endif
