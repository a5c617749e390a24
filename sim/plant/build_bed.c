/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/build.h"

#include "models/fittings.h"
#include "models/headloss.h"
#include "models/vessel.h"
#include "models/water.h"
#include "sim/plant/medium.h"

#include <stdlib.h>

static enum wr_status clean_bed(const struct wr_media *media, double temperature, double *linear, double *quadratic)
{
    struct wr_water water;
    const enum wr_status status = wr_water_at(temperature, &water);
    *linear = *quadratic = 0;
    if (status != WR_OK || media->count == 0)
        return status;
    struct wr_layer *layers = calloc(media->count, sizeof *layers);
    if (layers == NULL)
        return WR_NO_MEMORY;
    enum wr_status answer = WR_OK;
    for (size_t i = 0; i < media->count && answer == WR_OK; i++) {
        struct wr_medium_figures figures;
        answer = wr_medium_figures_init(&figures, &media->items[i]);
        layers[i] = figures.layer;
        wr_medium_figures_fini(&figures);
    }
    if (answer == WR_OK)
        answer = wr_headloss_clean(layers, media->count, water, linear, quadratic);
    free(layers);
    return answer;
}

/* An observed run in SI, with what the author left out taken from the raw water. */
static enum wr_status observed_run(const struct wr_plant *plant, const struct wr_filter_group *group, double area,
                                   struct wr_deposit_run *run)
{
    const struct wr_observed_run *o = &group->deposit.observed_run;
    const struct wr_raw_water *raw = &plant->definition->raw_water;
    run->clean_head = o->clean_differential;
    run->dirty_head = o->dirty_differential;
    run->rate = wr_is_given(o->rate) ? o->rate : o->flow / area;
    run->run_volume = wr_is_given(o->volume) ? o->volume : run->rate * o->hours;
    const bool other_metals = wr_is_given(o->iron) || wr_is_given(o->manganese);
    const enum wr_status status = wr_build_solids(
        raw, wr_given_or(o->iron, raw->iron), wr_given_or(o->manganese, raw->manganese),
        other_metals ? o->suspended_solids : wr_given_or(o->suspended_solids, raw->suspended_solids), &run->solids);
    return status != WR_OK ? status
                           : wr_water_viscosity(wr_given_or(o->temperature, raw->temperature), &run->viscosity);
}

/* The clean differential that was seen tells what pipes and valves add to the bed's own headloss; without media all of
 * it stands for the bed, in proportion to rate and viscosity. */
static enum wr_status fit_clean_head(struct wr_plant *plant, const struct wr_filter_group *group, struct wr_group *g,
                                     const struct wr_deposit_run *run)
{
    const double temperature =
        wr_given_or(group->deposit.observed_run.temperature, plant->definition->raw_water.temperature);
    if (group->media.count == 0) {
        const double rest = run->clean_head - g->fittings_quadratic * run->rate * run->rate;
        g->clean_linear = rest / run->rate * (plant->viscosity / run->viscosity);
        return rest >= 0 ? WR_OK : WR_CLEAN_BELOW_FITTINGS;
    }
    if (wr_is_given(group->fittings_headloss))
        return WR_OK;
    double linear, quadratic;
    const enum wr_status status = clean_bed(&group->media, temperature, &linear, &quadratic);
    const double rest = run->clean_head - (linear + quadratic * run->rate) * run->rate;
    if (status == WR_OK && rest < 0)
        return WR_CLEAN_BELOW_BED;
    return status != WR_OK ? status : wr_fittings_coefficient(rest, run->rate, &g->fittings_quadratic);
}

static enum wr_status fit_observed_run(struct wr_plant *plant, const struct wr_filter_group *group, struct wr_group *g)
{
    struct wr_deposit_run run;
    enum wr_status status = observed_run(plant, group, g->area, &run);
    if (status != WR_OK)
        return status;
    double load;
    status = wr_deposit_run_load(&run, &load);
    if (status != WR_OK)
        return status;
    g->deposit.reference_rate = run.rate;
    g->deposit.reference_viscosity = run.viscosity;
    g->deposit.reference_load = wr_given_or(group->deposit.reference_load, load);
    status = wr_deposit_run_slope(&run, &g->deposit, &g->deposit.slope);
    return status != WR_OK ? status : fit_clean_head(plant, group, g, &run);
}

enum wr_status wr_build_bed(struct wr_plant *plant, const struct wr_filter_group *group, struct wr_group *g)
{
    g->area = group->area;
    enum wr_status status = WR_OK;
    if (wr_is_given(group->diameter))
        status = wr_vessel_area(group->diameter, &g->area);
    g->approved_rate = group->approved_rate;
    g->available_head = group->available_head;
    if (status == WR_OK)
        status =
            clean_bed(&group->media, plant->definition->raw_water.temperature, &g->clean_linear, &g->clean_quadratic);
    if (status == WR_OK && wr_is_given(group->fittings_headloss))
        status = wr_fittings_coefficient(group->fittings_headloss, g->approved_rate, &g->fittings_quadratic);
    if (status != WR_OK)
        return status;
    g->deposit = (struct wr_deposit){.slope = wr_given_or(group->deposit.slope, 0),
                                     .reference_rate = g->approved_rate,
                                     .reference_viscosity = plant->viscosity,
                                     .exponent = group->deposit.exponent,
                                     .reference_load = wr_given_or(group->deposit.reference_load, 1)};
    if (group->deposit.has_observed_run)
        status = fit_observed_run(plant, group, g);
    return status != WR_OK ? status : wr_deposit_check(&g->deposit);
}
