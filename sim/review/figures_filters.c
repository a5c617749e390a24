/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures of filters and their media. */
#include "sim/review/guidance.h"

#include "sim/plant/medium.h"

#include <math.h>
#include <string.h>

static const double DAY = 86400;
static const char IS_PRESSURE[] = "the filters are pressure filters";
static const char IS_GRAVITY[] = "the filters are gravity filters";
static const char NO_GREENSAND[] = "the bed has no greensand; manganese-coated sand is another medium";

void wr_find_firm(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    found->figure = reviewed->outline->demand;
    found->most = reviewed->outline->approved_flow_left;
}

static void find_count(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    found->figure = (double)wr_reviewed_vessels(reviewed);
}

void wr_find_pressure_count(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (wr_reviewed_is_gravity(reviewed))
        wr_found_nothing(found, IS_GRAVITY);
    else
        find_count(reviewed, found);
}

void wr_find_pressure_one_out(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (wr_reviewed_is_gravity(reviewed))
        wr_found_nothing(found, IS_GRAVITY);
    else
        wr_find_firm(reviewed, found);
}

void wr_find_gravity_count(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (wr_reviewed_is_gravity(reviewed))
        find_count(reviewed, found);
    else
        wr_found_nothing(found, IS_PRESSURE);
}

void wr_find_gravity_one_out(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (wr_reviewed_is_gravity(reviewed))
        wr_find_firm(reviewed, found);
    else
        wr_found_nothing(found, IS_PRESSURE);
}

void wr_find_with_wash_water(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    const struct wr_outline *o = reviewed->outline;
    found->most = o->approved_flow;
    if (isfinite(o->spent_wash))
        found->figure = o->demand + o->spent_wash / DAY;
    else
        wr_found_untold(found, "a filter calls as soon as it is washed, and no sum of washes means a thing");
}

static void find_rate(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    found->figure = reviewed->plant->groups[reviewed->group].approved_rate;
}

void wr_find_pressure_rate(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (wr_reviewed_is_gravity(reviewed))
        wr_found_nothing(found, IS_GRAVITY);
    else
        find_rate(reviewed, found);
}

void wr_find_gravity_rate(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (wr_reviewed_is_gravity(reviewed))
        find_rate(reviewed, found);
    else
        wr_found_nothing(found, IS_PRESSURE);
}

void wr_find_greensand_rate(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (wr_reviewed_has_medium(reviewed, wr_greensand))
        find_rate(reviewed, found);
    else
        wr_found_nothing(found, NO_GREENSAND);
}

void wr_find_iron_pressure_rate(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (reviewed->plant->raw[WR_IRON] + reviewed->plant->raw[WR_MANGANESE] > 0)
        wr_find_pressure_rate(reviewed, found);
    else
        wr_found_nothing(found, "the raw water has no iron and manganese");
}

/* The differential at which a run ends: that of the trigger, else what the filter has. */
static void find_head(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    const double trigger = reviewed->plant->definition->wash.triggers.differential;
    found->figure = wr_is_given(trigger) ? trigger : reviewed->plant->groups[reviewed->group].available_head;
}

void wr_find_gravity_head(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (wr_reviewed_is_gravity(reviewed))
        find_head(reviewed, found);
    else
        wr_found_nothing(found, IS_PRESSURE);
}

void wr_find_pressure_head(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (wr_reviewed_is_gravity(reviewed))
        wr_found_nothing(found, IS_GRAVITY);
    else
        find_head(reviewed, found);
}

/* Looks at the layers of the group that are no gravel: depth over effective size, summed, and the greatest effective
 * size of anthracite. */
static void look_at_media(const struct wr_reviewed *reviewed, double *depth_over_size, double *anthracite_size)
{
    const struct wr_media *media = &wr_reviewed_group(reviewed)->media;
    *depth_over_size = 0;
    *anthracite_size = WR_ABSENT;
    for (size_t i = 0; i < media->count; i++) {
        struct wr_medium_figures figures;
        if (wr_medium_figures_init(&figures, &media->items[i]) == WR_OK && !figures.is_support) {
            *depth_over_size += figures.layer.depth / figures.layer.grain_size;
            if (strstr(media->items[i].medium, wr_anthracite) != NULL)
                *anthracite_size = fmax(*anthracite_size, figures.layer.grain_size);
        }
        wr_medium_figures_fini(&figures);
    }
}

void wr_find_anthracite_size(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    double depth_over_size;
    look_at_media(reviewed, &depth_over_size, &found->figure);
    if (!wr_is_given(found->figure))
        wr_found_nothing(found, "the bed has no anthracite");
}

void wr_find_anthracite_cap(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    const struct wr_media *media = &wr_reviewed_group(reviewed)->media;
    double cap = 0;
    for (size_t i = 0; i < media->count; i++) {
        if (strstr(media->items[i].medium, wr_greensand) != NULL) {
            found->figure = cap;
            return;
        }
        cap += strstr(media->items[i].medium, wr_anthracite) != NULL ? media->items[i].depth : 0;
    }
    wr_found_nothing(found, NO_GREENSAND);
}

void wr_find_depth_over_size(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    double depth_over_size, anthracite_size;
    look_at_media(reviewed, &depth_over_size, &anthracite_size);
    if (depth_over_size > 0)
        found->figure = depth_over_size;
    else
        wr_found_untold(found, "the scenario names no media");
}

void wr_find_detention(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    (void)reviewed;
    wr_found_untold(found, "the scenario holds nothing of aeration and detention");
}

void wr_find_ammonia(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (wr_reviewed_has_medium_anywhere(reviewed, wr_coated) || wr_reviewed_has_medium_anywhere(reviewed, wr_greensand))
        wr_found_untold(found, "the scenario holds nothing of chlorine and ammonia");
    else
        wr_found_nothing(found, "no bed is coated with manganese");
}

void wr_find_finished_water(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    (void)reviewed;
    wr_found_untold(found, "what is left in filtered water is not worked out here");
}
