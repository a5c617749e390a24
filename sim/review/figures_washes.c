/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures of runs and washes. */
#include "sim/review/guidance.h"

#include "sim/study/fluid_bed.h"

#include <math.h>

static const char NO_RUN[] = "on the maximum day no filter ever calls";
static const char ALWAYS[] = "a filter calls as soon as it is washed";

/* The figure of a run, where there are runs: neither endless nor of no length. */
static void find_run(struct wr_found *found, double figure)
{
    if (!isfinite(figure))
        wr_found_untold(found, NO_RUN);
    else
        found->figure = figure;
}

void wr_find_run_time(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    find_run(found, wr_reviewed_run_time(reviewed));
}

void wr_find_run_volume(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    find_run(found, wr_reviewed_run_volume(reviewed));
}

void wr_find_iron_load(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (reviewed->plant->raw[WR_MANGANESE] > 0)
        find_run(found, wr_reviewed_run_volume(reviewed) * reviewed->plant->raw[WR_IRON]);
    else
        wr_found_nothing(found, "the raw water has no manganese");
}

void wr_find_wash_volume(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    const struct wr_group *g = &reviewed->plant->groups[reviewed->group];
    found->figure = g->wash_volume / g->area;
}

void wr_find_wash_share(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (!isfinite(reviewed->outline->washes))
        wr_found_untold(found, ALWAYS);
    else if (reviewed->outline->demand > 0)
        found->figure = reviewed->outline->wash_share;
    else
        wr_found_untold(found, "the maximum day is nothing");
}

static bool has_air(const struct wr_reviewed *reviewed)
{
    return reviewed->plant->groups[reviewed->group].air;
}

static void find_wash_rate(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    found->figure = reviewed->plant->definition->wash.backwash_rate;
}

void wr_find_greensand_wash(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (wr_reviewed_has_medium(reviewed, wr_greensand))
        find_wash_rate(reviewed, found);
    else
        wr_found_nothing(found, "the bed has no greensand");
}

void wr_find_coated_wash(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (wr_reviewed_has_medium(reviewed, wr_coated))
        find_wash_rate(reviewed, found);
    else
        wr_found_nothing(found, "the bed has no medium coated with manganese");
}

void wr_find_wash(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (wr_reviewed_has_medium(reviewed, wr_greensand) || wr_reviewed_has_medium(reviewed, wr_coated))
        wr_found_nothing(found, "its medium has a wash rate of its own");
    else if (has_air(reviewed))
        wr_found_nothing(found, "the wash has an air scour");
    else
        find_wash_rate(reviewed, found);
}

void wr_find_wash_with_air(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (has_air(reviewed))
        find_wash_rate(reviewed, found);
    else
        wr_found_nothing(found, "the wash has no air scour");
}

void wr_find_air(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    if (has_air(reviewed))
        wr_found_untold(found, "the scenario holds no rate of air");
    else
        wr_found_nothing(found, "the wash has no air scour");
}

static double warmest_wash_water(const struct wr_definition *d)
{
    double warmest = WR_ABSENT;
    for (size_t m = 0; m < 12; m++)
        warmest = fmax(warmest, d->wash_water.temperature[m]);
    return wr_is_given(warmest) ? warmest : d->raw_water.temperature;
}

/* The law that expands the bed less; WR_ABSENT where one has grains carried off. */
static double least_expansion(const struct wr_fluid_bed *bed, const struct wr_definition *d, double wanted)
{
    struct wr_bed_lifted lifted;
    double least = WR_ABSENT;
    if (wr_fluid_bed_wash(bed, warmest_wash_water(d), d->wash.backwash_rate, wanted, &lifted) != WR_OK)
        return WR_ABSENT;
    for (int law = 0; law < WR_BED_LAWS; law++) {
        if (!wr_is_given(lifted.expansion[law]))
            return WR_ABSENT;
        least = fmin(least, lifted.expansion[law]);
    }
    return least;
}

void wr_find_expansion(const struct wr_reviewed *reviewed, struct wr_found *found)
{
    struct wr_fluid_bed bed;
    const enum wr_status status = wr_fluid_bed_init(&bed, &wr_reviewed_group(reviewed)->media);
    if (status == WR_OK && wr_fluid_bed_is_whole(&bed)) {
        found->figure = least_expansion(&bed, reviewed->plant->definition, found->least);
        if (!wr_is_given(found->figure))
            wr_found_untold(found, "no expansion follows from its rate: see washrota bed");
    } else {
        wr_found_untold(found, "weight and shape of its media are not all known");
    }
    wr_fluid_bed_fini(&bed);
}
