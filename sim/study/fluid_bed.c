/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/fluid_bed.h"

#include "models/intermixing.h"
#include "models/root.h"
#include "models/settling.h"

#include <assert.h>
#include <math.h>

static const struct wr_bed_law_row laws[WR_BED_LAWS] = {
    [WR_BED_ERGUN] = {"ergun", "Ergun, set to buoyant weight", wr_expansion_ergun},
    [WR_BED_DHARMARAJAH_CLEASBY] = {"dharmarajah_cleasby", "Dharmarajah and Cleasby",
                                    wr_expansion_dharmarajah_cleasby}};

const struct wr_bed_law_row *wr_bed_law_row(enum wr_bed_law law)
{
    return &laws[law];
}

/* Making ---------------------------------------------------------------------------------------------------------- */

static bool is_known(const struct wr_medium_figures *figures)
{
    return figures->is_support || (wr_is_given(figures->density) && wr_is_given(figures->sphericity));
}

/* Each slice has the size in the middle of its mass. */
static enum wr_status cut_slices(struct wr_bed_layer *layer)
{
    enum wr_status status = WR_OK;
    for (size_t s = 0; s < WR_BED_SLICES && status == WR_OK; s++)
        status = wr_grain_curve_size(&layer->figures.curve, ((double)s + 0.5) / WR_BED_SLICES, &layer->sizes[s]);
    return status;
}

enum wr_status wr_fluid_bed_init(struct wr_fluid_bed *bed, const struct wr_media *media)
{
    *bed = (struct wr_fluid_bed){0};
    assert(media->count <= WR_BED_LAYERS);
    for (size_t i = 0; i < media->count; i++) {
        struct wr_bed_layer *layer = &bed->layers[bed->count++];
        layer->medium = media->items[i].medium;
        enum wr_status status = wr_medium_figures_init(&layer->figures, &media->items[i]);
        if (status == WR_OK)
            status = cut_slices(layer);
        if (status != WR_OK)
            return status;
        if (bed->unknown == NULL && !is_known(&layer->figures))
            bed->unknown = layer->medium;
        bed->settled += layer->figures.is_support ? 0 : layer->figures.layer.depth;
    }
    return WR_OK;
}

void wr_fluid_bed_fini(struct wr_fluid_bed *bed)
{
    for (size_t i = 0; i < bed->count; i++)
        wr_medium_figures_fini(&bed->layers[i].figures);
    *bed = (struct wr_fluid_bed){0};
}

bool wr_fluid_bed_is_whole(const struct wr_fluid_bed *bed)
{
    return bed->settled > 0 && bed->unknown == NULL;
}

enum wr_status wr_fluid_bed_clean_head(const struct wr_bed_layer *layer, double temperature, double rate, double *head)
{
    struct wr_water water;
    double linear, quadratic;
    enum wr_status status = wr_water_at(temperature, &water);
    if (status == WR_OK)
        status = wr_headloss_clean(&layer->figures.layer, 1, water, &linear, &quadratic);
    if (status == WR_OK)
        *head = wr_headloss_at(linear, quadratic, rate);
    return status;
}

/* Expansion ------------------------------------------------------------------------------------------------------- */

static struct wr_grain grain_of(const struct wr_bed_layer *layer, double size)
{
    const struct wr_medium_figures *f = &layer->figures;
    return (struct wr_grain){size, f->density, f->sphericity, f->layer.viscous_constant, f->layer.inertial_constant};
}

static enum wr_status expand_slice(const struct wr_bed_layer *layer, size_t slice, enum wr_bed_law law,
                                   struct wr_water water, double rate, double *porosity)
{
    const struct wr_grain grain = grain_of(layer, layer->sizes[slice]);
    return wr_expanded_porosity(laws[law].law, &grain, water, layer->figures.layer.porosity, rate, porosity);
}

static enum wr_status expand_layer(const struct wr_bed_layer *layer, enum wr_bed_law law, struct wr_water water,
                                   double rate, struct wr_layer_expansion *expansion)
{
    struct wr_slice slices[WR_BED_SLICES];
    const double settled = layer->figures.layer.porosity;
    *expansion = (struct wr_layer_expansion){.depth = WR_ABSENT};
    for (size_t s = 0; s < WR_BED_SLICES; s++) {
        slices[s] = (struct wr_slice){layer->figures.layer.depth / WR_BED_SLICES, settled, settled};
        const enum wr_status status = expand_slice(layer, s, law, water, rate, &slices[s].expanded);
        expansion->carries_off = expansion->carries_off || status == WR_CARRIED_OFF;
        if (status != WR_OK && status != WR_CARRIED_OFF)
            return status;
        expansion->held += status == WR_OK && slices[s].expanded <= settled ? 1.0 / WR_BED_SLICES : 0;
    }
    return expansion->carries_off ? WR_OK : wr_expanded_depth(slices, WR_BED_SLICES, &expansion->depth);
}

/* Share by which all media together expand; WR_ABSENT where some are carried off. */
static enum wr_status expand_bed(const struct wr_fluid_bed *bed, enum wr_bed_law law, struct wr_water water,
                                 double rate, double *expansion)
{
    double depth = 0;
    for (size_t i = 0; i < bed->count; i++) {
        struct wr_layer_expansion layer;
        if (bed->layers[i].figures.is_support)
            continue;
        const enum wr_status status = expand_layer(&bed->layers[i], law, water, rate, &layer);
        if (status != WR_OK)
            return status;
        depth += layer.depth;
    }
    *expansion = depth / bed->settled - 1;
    return WR_OK;
}

/* A question to a bed: at which rate does it expand by so much? */
struct question {
    const struct wr_fluid_bed *bed;
    enum wr_bed_law law;
    struct wr_water water;
    double wanted;
};

static double excess_of_expansion(double rate, void *context)
{
    const struct question *q = context;
    double expansion;
    return expand_bed(q->bed, q->law, q->water, rate, &expansion) == WR_OK ? expansion - q->wanted : WR_ABSENT;
}

/* The greatest rate that carries no slice off. */
static enum wr_status rate_that_keeps(const struct question *q, double *rate)
{
    *rate = HUGE_VAL;
    for (size_t i = 0; i < q->bed->count; i++)
        for (size_t s = 0; s < WR_BED_SLICES && !q->bed->layers[i].figures.is_support; s++) {
            const struct wr_grain grain = grain_of(&q->bed->layers[i], q->bed->layers[i].sizes[s]);
            double most;
            const enum wr_status status = laws[q->law].law(&grain, q->water, WR_POROSITY_MOST, &most);
            if (status != WR_OK)
                return status;
            *rate = fmin(*rate, most);
        }
    return WR_OK;
}

static enum wr_status find_wanted_rate(struct question *q, double *rate)
{
    double most;
    *rate = WR_ABSENT;
    const enum wr_status status = rate_that_keeps(q, &most);
    if (status != WR_OK || !(excess_of_expansion(most, q) > 0))
        return status;
    return wr_root_between(excess_of_expansion, q, 0, most, rate);
}

/* Layers ---------------------------------------------------------------------------------------------------------- */

/* The medium that the next layer of media below is; NULL without one. */
static const struct wr_bed_layer *medium_below(const struct wr_fluid_bed *bed, size_t layer)
{
    for (size_t i = layer + 1; i < bed->count; i++)
        if (!bed->layers[i].figures.is_support)
            return &bed->layers[i];
    return NULL;
}

/* Grains that are carried off stand as far apart as a law is asked. */
static double bulk_density(const struct wr_bed_layer *layer, size_t slice, enum wr_bed_law law, struct wr_water water,
                           double rate)
{
    double porosity = WR_POROSITY_MOST, bulk = WR_ABSENT;
    expand_slice(layer, slice, law, water, rate, &porosity);
    wr_bulk_density(layer->figures.density, porosity, water, &bulk);
    return bulk;
}

/* The coarse end of a medium against the fine end of the one below. */
static void look_at_mixing(const struct wr_fluid_bed *bed, size_t place, struct wr_water water, double rate,
                           struct wr_layer_lifted *lifted)
{
    const struct wr_bed_layer *layer = &bed->layers[place], *below = medium_below(bed, place);
    lifted->equal_size = WR_ABSENT;
    if (below == NULL)
        return;
    if (below->figures.density > layer->figures.density)
        wr_equal_settling_size(below->figures.layer.grain_size, below->figures.density, layer->figures.density, water,
                               &lifted->equal_size);
    for (int law = 0; law < WR_BED_LAWS; law++)
        lifted->mixes[law] = bulk_density(layer, WR_BED_SLICES - 1, (enum wr_bed_law)law, water, rate) >=
                             bulk_density(below, 0, (enum wr_bed_law)law, water, rate);
}

static enum wr_status look_at_loss(const struct wr_bed_layer *layer, struct wr_water water, double rate,
                                   struct wr_layer_lifted *lifted)
{
    const struct wr_grain grain = grain_of(layer, layer->figures.layer.grain_size);
    const enum wr_status status = wr_settling_size(&grain, water, wr_drag_haider_levenspiel, rate, &lifted->lost_size);
    return status != WR_OK ? status
                           : wr_grain_curve_passing(&layer->figures.curve, lifted->lost_size, &lifted->lost_share);
}

static enum wr_status lift_layer(const struct wr_bed_layer *layer, struct wr_water water, double rate,
                                 struct wr_layer_lifted *lifted)
{
    const struct wr_medium_figures *f = &layer->figures;
    const struct wr_grain grain = grain_of(layer, f->is_support ? f->layer.grain_size : f->d90);
    *lifted = (struct wr_layer_lifted){.equal_size = WR_ABSENT};
    enum wr_status status = wr_fluidising_rate(&grain, water, &lifted->fluidising_rate);
    if (status != WR_OK || f->is_support)
        return status;
    status = wr_fluidised_head(f->layer.depth, f->layer.porosity, &grain, water, &lifted->head);
    for (int law = 0; law < WR_BED_LAWS && status == WR_OK; law++)
        status = expand_layer(layer, (enum wr_bed_law)law, water, rate, &lifted->by[law]);
    return status != WR_OK ? status : look_at_loss(layer, water, rate, lifted);
}

enum wr_status wr_fluid_bed_wash(const struct wr_fluid_bed *bed, double temperature, double rate, double wanted,
                                 struct wr_bed_lifted *lifted)
{
    struct wr_water water;
    enum wr_status status = wr_water_at(temperature, &water);
    *lifted = (struct wr_bed_lifted){.temperature = temperature};
    for (size_t i = 0; i < bed->count && status == WR_OK; i++) {
        struct wr_layer_lifted *layer = &lifted->layers[i];
        status = lift_layer(&bed->layers[i], water, rate, layer);
        if (status != WR_OK || bed->layers[i].figures.is_support)
            continue;
        lifted->fluidising_rate = fmax(lifted->fluidising_rate, layer->fluidising_rate);
        lifted->head += layer->head;
        look_at_mixing(bed, i, water, rate, layer);
    }
    for (int law = 0; law < WR_BED_LAWS && status == WR_OK; law++) {
        struct question question = {bed, (enum wr_bed_law)law, water, wanted};
        status = expand_bed(bed, question.law, water, rate, &lifted->expansion[law]);
        if (status == WR_OK)
            status = find_wanted_rate(&question, &lifted->wanted_rate[law]);
    }
    return status;
}
