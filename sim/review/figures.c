/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What several rows of guidance look at. */
#include "sim/review/guidance.h"

#include "sim/plant/mean_run.h"
#include "sim/plant/units.h"

#include <math.h>
#include <string.h>

const char wr_greensand[] = "greensand", wr_coated[] = "manganese-coated", wr_anthracite[] = "anthracite";

void wr_found_nothing(struct wr_found *found, const char *why)
{
    found->why = why;
}

void wr_found_untold(struct wr_found *found, const char *why)
{
    found->why = why;
    found->applies = true;
}

const struct wr_filter_group *wr_reviewed_group(const struct wr_reviewed *reviewed)
{
    return &reviewed->plant->definition->filters.items[reviewed->group];
}

bool wr_reviewed_is_gravity(const struct wr_reviewed *reviewed)
{
    return reviewed->plant->definition->wash.sequence == WR_TEMPLATE_GRAVITY;
}

static bool has_medium(const struct wr_filter_group *group, const char *word)
{
    for (size_t i = 0; i < group->media.count; i++)
        if (strstr(group->media.items[i].medium, word) != NULL)
            return true;
    return false;
}

bool wr_reviewed_has_medium(const struct wr_reviewed *reviewed, const char *word)
{
    return has_medium(wr_reviewed_group(reviewed), word);
}

bool wr_reviewed_has_medium_anywhere(const struct wr_reviewed *reviewed, const char *word)
{
    for (size_t i = 0; i < reviewed->plant->group_count; i++)
        if (has_medium(&reviewed->plant->definition->filters.items[i], word))
            return true;
    return false;
}

size_t wr_reviewed_vessels(const struct wr_reviewed *reviewed)
{
    size_t vessels = 0;
    for (size_t f = 0; f < reviewed->plant->filter_count; f++) {
        size_t first, count;
        wr_plant_vessel(reviewed->plant, f, &first, &count);
        vessels += first == f;
    }
    return vessels;
}

static double rate_of(const struct wr_reviewed *reviewed)
{
    return fmin(wr_plant_mean_rate(reviewed->plant), reviewed->plant->groups[reviewed->group].approved_rate);
}

double wr_reviewed_run_time(const struct wr_reviewed *reviewed)
{
    const struct wr_plant *plant = reviewed->plant;
    return wr_plant_run_time(plant, &plant->groups[reviewed->group], rate_of(reviewed), plant->raw[WR_SOLIDS]);
}

double wr_reviewed_run_volume(const struct wr_reviewed *reviewed)
{
    return rate_of(reviewed) * wr_reviewed_run_time(reviewed);
}
