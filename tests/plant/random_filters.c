/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Raw water and filters drawn at random. */
#include "tests/plant/draw.h"

#include "models/headloss.h"
#include "models/media.h"
#include "models/vessel.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>

static double given_or(double value, double otherwise)
{
    return wr_is_given(value) ? value : otherwise;
}

static void draw_raw_water(struct at root)
{
    struct draft *draft = root.draft;
    const struct at raw = at_block(root, "raw_water");
    draft->temperature = at_may_put(raw, "temperature", draw_round(draft, 276.65, 300.15, 0.5));
    const double iron = at_put(raw, "iron", draw_between(draft, 0.3e-3, draw_one_in(draft, 2) ? 12e-3 : 4e-3));
    const double manganese = at_put(raw, "manganese", draw_between(draft, 0.0, 0.6e-3));
    const double per_iron = at_may_put(raw, "dry_solids_per_iron", draw_round(draft, 2.7, 4.1, 0.1));
    const double per_manganese = at_may_put(raw, "dry_solids_per_manganese", draw_round(draft, 1.5, 1.7, 0.1));
    draft->solids = per_iron * iron + per_manganese * manganese;
    if (draw_one_in(draft, 4))
        draft->solids = at_put(raw, "suspended_solids", draw_between(draft, 1e-3, 30e-3));
}

/* Beds ------------------------------------------------------------------------------------------------------------ */

/* A sieve table that lets a tenth pass at the effective size. */
static void draw_sieves(struct at layer, double effective_size)
{
    static const double rows[][2] = {{0.8, 0.04}, {1.0, 0.10}, {1.4, 0.55}, {2.2, 0.97}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct at sieve = at_item(layer, "sieves");
        at_put(sieve, "opening", rows[i][0] * effective_size);
        at_put(sieve, "passing", rows[i][1]);
    }
}

/* Draws sizes, weight and shape of grains, which play a part only in a wash, and returns their effective size, m. */
static double draw_grains(struct at layer)
{
    struct draft *draft = layer.draft;
    const double size = draw_between(draft, 0.4e-3, 1.2e-3);
    if (draw_one_in(draft, 4))
        draw_sieves(layer, size);
    else {
        at_put(layer, "grain_size", size);
        at_may_put(layer, "uniformity", draw_round(draft, 1.2, 1.8, 0.1));
        if (draw_one_in(draft, 4))
            at_put(layer, "coarse_size", size * draw_between(draft, 1.4, 2.0));
    }
    at_may_put(layer, "specific_gravity", draw_round(draft, 1.5, 2.7, 0.05));
    at_may_put(layer, "sphericity", draw_round(draft, 0.5, 1.0, 0.05));
    return size;
}

/* A known medium, whose constants may be left out, or another with its own. */
static struct wr_layer draw_layer(struct at group)
{
    struct draft *draft = group.draft;
    const struct at layer = at_item(group, "media");
    const size_t which = draw_pick(draft, 0, wr_media_count);
    const struct wr_medium *known = which < wr_media_count ? &wr_media_table[which] : NULL;
    const double constants[] = {draw_between(draft, 0.4, 0.52), draw_between(draft, 110.0, 240.0),
                                draw_between(draft, 2.0, 5.0)};
    struct wr_layer made = {0};
    at_put_text(layer, "medium", known != NULL ? known->name : "crushed glass");
    made.depth = at_put(layer, "depth", draw_round(draft, 0.2, 0.6, 0.05));
    made.grain_size = draw_grains(layer);
    if (known != NULL) {
        made.porosity = given_or(at_may_put(layer, "porosity", constants[0]), known->porosity);
        made.viscous_constant = given_or(at_may_put(layer, "viscous_constant", constants[1]), known->viscous_constant);
        made.inertial_constant =
            given_or(at_may_put(layer, "inertial_constant", constants[2]), known->inertial_constant);
    } else {
        made.porosity = at_put(layer, "porosity", constants[0]);
        made.viscous_constant = at_put(layer, "viscous_constant", constants[1]);
        made.inertial_constant = at_put(layer, "inertial_constant", constants[2]);
    }
    return made;
}

/* Draws a bed and returns its clean head at the approved rate, m. */
static double draw_media(struct at group, double rate)
{
    struct wr_layer layers[3];
    const size_t count = draw_pick(group.draft, 1, 3);
    struct wr_water water;
    double linear = 0.0, quadratic = 0.0;
    for (size_t i = 0; i < count; i++)
        layers[i] = draw_layer(group);
    const bool fine = wr_water_at(group.draft->temperature, &water) == WR_OK &&
                      wr_headloss_clean(layers, count, water, &linear, &quadratic) == WR_OK;
    assert(fine);
    (void)fine;
    return wr_headloss_at(linear, quadratic, rate);
}

/* A run that was observed, at the approved rate or a flow near it; its clean head is above what bed and fittings give
 * at that rate. Returns the clean head at the approved rate, not less than it is. */
static double draw_observed_run(struct at deposit, const struct draft_group *group, double known_head)
{
    struct draft *draft = deposit.draft;
    const struct at run = at_block(deposit, "observed_run");
    const double share = draw_one_in(draft, 3) ? draw_between(draft, 0.7, 1.2) : 1.0;
    const double clean = (1.2 * known_head + draw_between(draft, 0.1, 1.0)) * fmax(share, share * share);
    const double volume = draw_between(draft, 0.3, 2.5) / draft->solids; /* that is 0.3 to 2.5 kg/m2 */
    if (draw_one_in(draft, 2))
        at_put(run, "flow", share * group->rate * group->area);
    else
        at_put(run, "rate", share * group->rate);
    at_put(run, "clean_differential", clean);
    at_put(run, "dirty_differential", clean + draw_between(draft, 1.0, 6.0));
    if (draw_one_in(draft, 2))
        at_put(run, "hours", volume / (share * group->rate));
    else
        at_put(run, "volume", volume);
    if (draw_one_in(draft, 3))
        at_put(run, "temperature", draft->temperature + draw_between(draft, -3.0, 5.0));
    if (draw_one_in(draft, 4))
        at_put(run, "suspended_solids", draft->solids * draw_between(draft, 0.7, 1.3));
    if (draw_one_in(draft, 4))
        at_put(run, "iron", draft->solids / 3.0 * draw_between(draft, 0.7, 1.3));
    if (draw_one_in(draft, 4))
        at_put(run, "manganese", draw_between(draft, 0.05e-3, 0.6e-3));
    return clean / fmin(share, share * share) * 1.2;
}

static void draw_head(struct at group, const struct draft_group *sizes)
{
    struct draft *draft = group.draft;
    const bool has_media = draw_one_in(draft, 2);
    double head = has_media ? draw_media(group, sizes->rate) : 0.0;
    if (draw_one_in(draft, 3))
        at_put(group, "freeboard", draw_round(draft, 0.3, 1.0, 0.05));
    if (draw_one_in(draft, 3))
        head += at_put(group, "fittings_headloss", draw_round(draft, 0.0, 0.4, 0.05));
    const struct at deposit = at_block(group, "deposit");
    const double exponent = at_may_put(deposit, "exponent", draw_round(draft, 1.0, 3.0, 0.5));
    const bool has_run = !has_media || draw_one_in(draft, 2);
    if (has_run)
        head = draw_observed_run(deposit, sizes, head);
    else
        at_put(deposit, "slope", draw_between(draft, 0.3, 6.0));
    if ((!has_run && exponent > 1.0) || draw_one_in(draft, 4))
        at_put(deposit, "reference_load", draw_between(draft, 0.5, 3.0));
    const double available = at_put(group, "available_head", head + draw_between(draft, 1.0, 8.0));
    draft->clean_head = fmax(draft->clean_head, head);
    draft->least_head = fmin(draft->least_head, available);
}

/* Groups ---------------------------------------------------------------------------------------------------------- */

/* All groups of one name are numbered on, unless each has its own. */
static void name_filters(struct at group, size_t number, bool own_names)
{
    struct draft *draft = group.draft;
    static const char *const names[] = {"F", "G", "Old "};
    const char *name = names[own_names ? number : 0];
    size_t before = 0;
    for (size_t i = 0; i < number && !own_names; i++)
        before += draft->groups[i].filters;
    if (own_names || draw_one_in(draft, 2))
        at_put_text(group, "name", name);
    for (size_t i = 0; i < draft->groups[number].filters; i++)
        snprintf(draft->names[draft->filters + i], DRAFT_NAME, "%s%zu", name, before + i + 1);
}

static void draw_cells(struct at group, size_t filters)
{
    const size_t cells = draw_pick(group.draft, 1, filters);
    if (filters % cells == 0 && draw_one_in(group.draft, 2))
        at_put(group, "cells_per_vessel", (double)cells);
}

static double draw_area(struct at group)
{
    struct draft *draft = group.draft;
    double area = 0.0;
    if (draw_one_in(draft, 2))
        return at_put(group, "area", draw_round(draft, 1.0, 12.0, 0.5));
    const enum wr_status status = wr_vessel_area(at_put(group, "diameter", draw_round(draft, 1.2, 3.6, 0.1)), &area);
    assert(status == WR_OK);
    (void)status;
    return area;
}

static void draw_start_shares(struct at group, size_t filters)
{
    double shares[DRAFT_FILTERS];
    for (size_t i = 0; i < filters; i++)
        shares[i] = draw_round(group.draft, 0.0, 0.9, 0.1);
    at_put_numbers(group, "start_shares", shares, filters);
}

static void draw_group(struct at root, size_t filters, bool own_names, int start)
{
    struct draft *draft = root.draft;
    const struct at group = at_item(root, "filters");
    struct draft_group *sizes = &draft->groups[draft->group_count];
    sizes->filters = filters;
    name_filters(group, draft->group_count, own_names);
    at_put(group, "count", (double)filters);
    draw_cells(group, filters);
    sizes->area = draw_area(group);
    sizes->rate = at_put(group, "approved_rate", draw_round(draft, 3.0, 12.0, 0.5) / hour);
    draw_head(group, sizes);
    at_choose(group, "at_available_head");
    if (start == WR_START_GIVEN)
        draw_start_shares(group, filters);
    draft->capacity += (double)filters * sizes->area * sizes->rate;
    draft->largest_area = fmax(draft->largest_area, sizes->area);
    draft->least_rate = fmin(draft->least_rate, sizes->rate);
    draft->filters += filters;
    draft->group_count++;
}

static int draw_start_beds(struct at root)
{
    if (draw_one_in(root.draft, 3))
        return WR_START_SPREAD;
    const struct at beds = at_block(root, "start_beds");
    const int how = at_choose(beds, "how");
    if (how == WR_START_EQUAL)
        at_may_put(beds, "share", draw_round(root.draft, 0.0, 0.9, 0.1));
    return how;
}

void draw_filters(struct at root)
{
    struct draft *draft = root.draft;
    draft->source = (int)draw_pick(draft, WR_WATER_FROM_TANK, WR_WATER_FROM_SYSTEM);
    draft->least_rate = draft->least_head = HUGE_VAL;
    draw_raw_water(root);
    const int start = draw_start_beds(root);
    /* Filters that wash each other are several. */
    size_t left = draw_pick(draft, draft->source == WR_WATER_FROM_FILTERS ? 3 : 1, DRAFT_FILTERS);
    const bool own_names = draw_one_in(draft, 2);
    while (left > 0) {
        const bool last = draft->group_count + 1 == DRAFT_GROUPS || draw_one_in(draft, 2);
        const size_t filters = last ? left : draw_pick(draft, 1, left);
        draw_group(root, filters, own_names, start);
        left -= filters;
    }
}
