/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/build.h"

#include <stdlib.h>

/* Dry solids of sludge are a share of its mass; it is taken to weigh what water does. */
static const double SLUDGE_DENSITY = 1000; /* kg/m3 */

static enum wr_status build_particles(struct wr_plant *plant, const struct wr_settling *settling)
{
    struct wr_discrete_class *classes = calloc(settling->classes.count, sizeof *classes);
    if (classes == NULL)
        return WR_NO_MEMORY;
    for (size_t i = 0; i < settling->classes.count; i++)
        classes[i] = (struct wr_discrete_class){.share = settling->classes.items[i].share,
                                                .velocity = settling->classes.items[i].velocity};
    plant->particles = (struct wr_discrete_mix){
        .classes = classes, .count = settling->classes.count, .polymer_factor = settling->polymer_factor};
    return wr_discrete_check(&plant->particles);
}

static enum wr_status build_zone(struct wr_plant *plant, const struct wr_zone_definition *zone)
{
    const bool vesilind = zone->flux == WR_ZONE_VESILIND;
    plant->zone = (struct wr_zone){.law = wr_zone_law_find(vesilind ? "vesilind" : "richardson_zaki"),
                                   .free_velocity = zone->velocity,
                                   .hindrance = vesilind ? zone->hindrance : zone->exponent,
                                   .full = zone->concentration,
                                   .greatest = zone->concentration};
    return wr_zone_check(&plant->zone);
}

enum wr_status wr_build_spent(struct wr_plant *plant)
{
    const struct wr_spent_wash *spent = &plant->definition->spent_wash;
    enum wr_status status = WR_OK;
    for (size_t o = 0; o < spent->outlets.count; o++)
        plant->has_emergency = plant->has_emergency || spent->outlets.items[o].emergency;
    if (spent->settling.law == WR_SETTLING_CLASSES)
        status = build_particles(plant, &spent->settling);
    if (spent->settling.law == WR_SETTLING_ZONE)
        status = build_zone(plant, &spent->settling.zone);
    plant->sludge = (struct wr_sludge_law){.first_solids = spent->sludge.fresh_solids * SLUDGE_DENSITY,
                                           .last_solids = spent->sludge.thickened_solids * SLUDGE_DENSITY,
                                           .time_constant = spent->sludge.thickening_time};
    return status == WR_OK && spent->has_blanket ? wr_sludge_check(&plant->sludge) : status;
}
