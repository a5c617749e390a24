/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/wash_beds.h"

#include <math.h>
#include <stdlib.h>

static const double FREEZING = 273.15;

static void find_temperatures(struct wr_wash_beds *beds)
{
    const double *months = beds->definition->wash_water.temperature;
    beds->has_months = wr_is_given(months[0]);
    beds->least_temperature = beds->most_temperature = beds->definition->raw_water.temperature;
    if (!beds->has_months)
        return;
    for (size_t m = 1; m < 12; m++) {
        beds->coldest = months[m] < months[beds->coldest] ? m : beds->coldest;
        beds->warmest = months[m] > months[beds->warmest] ? m : beds->warmest;
    }
    beds->least_temperature = months[beds->coldest];
    beds->most_temperature = months[beds->warmest];
}

/* Points of the curve; nothing hangs on a layer's figures there. */
static enum wr_status draw_points(const struct wr_wash_beds *beds, struct wr_wash_bed *bed)
{
    for (size_t p = 0; p < WR_BED_POINTS; p++) {
        struct wr_bed_lifted lifted;
        const enum wr_status status =
            wr_fluid_bed_wash(&bed->bed, FREEZING + (double)p, beds->rate, beds->wanted, &lifted);
        if (status != WR_OK)
            return status;
        struct wr_bed_point *point = &bed->points[p];
        *point = (struct wr_bed_point){.temperature = lifted.temperature, .fluidising_rate = lifted.fluidising_rate};
        for (int law = 0; law < WR_BED_LAWS; law++) {
            point->expansion[law] = lifted.expansion[law];
            point->wanted_rate[law] = lifted.wanted_rate[law];
        }
    }
    return WR_OK;
}

/* Cold water carries furthest and warm water lifts least. */
static void judge(const struct wr_wash_beds *beds, struct wr_wash_bed *bed, double freeboard)
{
    const struct wr_bed_lifted *cold = &bed->coldest;
    bed->is_lifted = beds->rate >= bed->warmest.fluidising_rate;
    bed->stays_in = bed->keeps_media = true;
    for (int law = 0; law < WR_BED_LAWS; law++) {
        bed->keeps_media = bed->keeps_media && wr_is_given(cold->expansion[law]);
        if (wr_is_given(freeboard) && wr_is_given(cold->expansion[law]))
            bed->stays_in = bed->stays_in && cold->expansion[law] * bed->bed.settled <= freeboard;
    }
    for (size_t i = 0; i < bed->bed.count; i++)
        if (!bed->bed.layers[i].figures.is_support)
            bed->keeps_media = bed->keeps_media && cold->layers[i].lost_share <= WR_LOSS_MOST;
    bed->does_well = bed->is_lifted && bed->stays_in && bed->keeps_media;
}

static enum wr_status make_bed(const struct wr_wash_beds *beds, const struct wr_filter_group *group,
                               struct wr_wash_bed *bed)
{
    enum wr_status status = wr_fluid_bed_init(&bed->bed, &group->media);
    bed->is_answered = status == WR_OK && wr_fluid_bed_is_whole(&bed->bed);
    for (size_t i = 0; i < bed->bed.count && status == WR_OK; i++)
        status = wr_fluid_bed_clean_head(&bed->bed.layers[i], beds->definition->raw_water.temperature,
                                         group->approved_rate, &bed->clean_head[i]);
    if (!bed->is_answered || status != WR_OK)
        return status;
    status = wr_fluid_bed_wash(&bed->bed, beds->least_temperature, beds->rate, beds->wanted, &bed->coldest);
    if (status == WR_OK)
        status = wr_fluid_bed_wash(&bed->bed, beds->most_temperature, beds->rate, beds->wanted, &bed->warmest);
    if (status == WR_OK)
        status = draw_points(beds, bed);
    if (status == WR_OK)
        judge(beds, bed, group->freeboard);
    return status;
}

/* How many beds have an answer, and whether all of them do well. */
static size_t count_answers(const struct wr_wash_beds *beds, bool *do_well)
{
    size_t answered = 0;
    *do_well = true;
    for (size_t i = 0; i < beds->count; i++) {
        const struct wr_wash_bed *bed = &beds->beds[i];
        answered += bed->is_answered;
        *do_well = *do_well && (!bed->is_answered || bed->does_well);
    }
    return answered;
}

void wr_wash_beds_make(struct wr_wash_beds *beds, const struct wr_definition *definition, double wanted)
{
    *beds = (struct wr_wash_beds){.definition = definition, .rate = definition->wash.backwash_rate, .wanted = wanted};
    beds->status = wr_plant_init(&beds->plant, definition);
    if (beds->status != WR_OK)
        return;
    find_temperatures(beds);
    beds->beds = calloc(definition->filters.count, sizeof *beds->beds);
    if (beds->beds == NULL)
        beds->status = WR_NO_MEMORY;
    while (beds->count < definition->filters.count && beds->status == WR_OK) {
        beds->status = make_bed(beds, &definition->filters.items[beds->count], &beds->beds[beds->count]);
        beds->count++;
    }
    if (beds->status == WR_OK && count_answers(beds, &beds->passes) == 0)
        beds->status = WR_NO_KNOWN_BED;
}

void wr_wash_beds_fini(struct wr_wash_beds *beds)
{
    for (size_t i = 0; i < beds->count; i++)
        wr_fluid_bed_fini(&beds->beds[i].bed);
    free(beds->beds);
    wr_plant_fini(&beds->plant);
    *beds = (struct wr_wash_beds){0};
}
