/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/json.h"
#include "sim/report/report.h"

#include <cjson/cJSON.h>

static void put_laws(struct cJSON *parent, const double expansion[WR_BED_LAWS], const double wanted_rate[WR_BED_LAWS])
{
    struct cJSON *list = wr_json_list(parent, "by_law");
    for (int law = 0; law < WR_BED_LAWS; law++) {
        struct cJSON *block = wr_json_block(list, NULL);
        wr_json_word(block, "law", wr_bed_law_row((enum wr_bed_law)law)->key);
        wr_json_number(block, "expansion", expansion[law]);
        wr_json_number(block, "wanted_rate_m_per_s", wanted_rate[law]);
    }
}

static void put_layer(struct cJSON *list, const struct wr_bed_layer *layer, const struct wr_layer_lifted *lifted)
{
    struct cJSON *block = wr_json_block(list, NULL);
    wr_json_word(block, "medium", layer->medium);
    wr_json_number(block, "fluidising_rate_m_per_s", lifted->fluidising_rate);
    if (layer->figures.is_support)
        return;
    wr_json_number(block, "held_up_by_m", lifted->head);
    wr_json_number(block, "lost_below_m", lifted->lost_size);
    wr_json_number(block, "lost_share", lifted->lost_share);
    wr_json_number(block, "settles_with_medium_below_above_m", lifted->equal_size);
    struct cJSON *laws = wr_json_list(block, "by_law");
    for (int law = 0; law < WR_BED_LAWS; law++) {
        const struct wr_layer_expansion *by = &lifted->by[law];
        struct cJSON *row = wr_json_block(laws, NULL);
        wr_json_word(row, "law", wr_bed_law_row((enum wr_bed_law)law)->key);
        wr_json_number(row, "depth_m", by->depth);
        wr_json_number(row, "held_share", by->held);
        wr_json_flag(row, "carries_off", by->carries_off);
        wr_json_flag(row, "mixes_with_medium_below", lifted->mixes[law]);
    }
}

static void put_lifted(struct cJSON *parent, const char *key, const struct wr_fluid_bed *bed,
                       const struct wr_bed_lifted *lifted)
{
    struct cJSON *block = wr_json_block(parent, key);
    wr_json_number(block, "temperature_k", lifted->temperature);
    wr_json_number(block, "fluidising_rate_m_per_s", lifted->fluidising_rate);
    wr_json_number(block, "held_up_by_m", lifted->head);
    put_laws(block, lifted->expansion, lifted->wanted_rate);
    struct cJSON *layers = wr_json_list(block, "layers");
    for (size_t i = 0; i < bed->count; i++)
        put_layer(layers, &bed->layers[i], &lifted->layers[i]);
}

static void put_medium(struct cJSON *list, const struct wr_bed_layer *layer, double clean_head)
{
    const struct wr_medium_figures *f = &layer->figures;
    struct cJSON *block = wr_json_block(list, NULL);
    wr_json_word(block, "medium", layer->medium);
    wr_json_flag(block, "is_support", f->is_support);
    wr_json_number(block, "depth_m", f->layer.depth);
    wr_json_number(block, "effective_size_m", f->layer.grain_size);
    wr_json_number(block, "coarse_size_m", f->d90);
    wr_json_number(block, "porosity", f->layer.porosity);
    wr_json_number(block, "density_kg_per_m3", f->density);
    wr_json_number(block, "sphericity", f->sphericity);
    wr_json_number(block, "clean_head_m", clean_head);
}

static void put_points(struct cJSON *parent, const struct wr_wash_bed *bed)
{
    struct cJSON *list = wr_json_list(parent, "over_temperature");
    for (size_t p = 0; p < WR_BED_POINTS; p++) {
        const struct wr_bed_point *point = &bed->points[p];
        struct cJSON *block = wr_json_block(list, NULL);
        wr_json_number(block, "temperature_k", point->temperature);
        wr_json_number(block, "fluidising_rate_m_per_s", point->fluidising_rate);
        put_laws(block, point->expansion, point->wanted_rate);
    }
}

static void put_group(struct cJSON *list, const struct wr_wash_beds *beds, size_t group)
{
    const struct wr_wash_bed *bed = &beds->beds[group];
    struct cJSON *block = wr_json_block(list, NULL);
    wr_json_word(block, "name", beds->definition->filters.items[group].name);
    wr_json_count(block, "filters", beds->plant.groups[group].count);
    wr_json_flag(block, "is_answered", bed->is_answered);
    wr_json_word(block, "unknown_medium", bed->bed.unknown);
    wr_json_number(block, "approved_rate_m_per_s", beds->plant.groups[group].approved_rate);
    struct cJSON *media = wr_json_list(block, "media");
    for (size_t i = 0; i < bed->bed.count; i++)
        put_medium(media, &bed->bed.layers[i], bed->clean_head[i]);
    if (!bed->is_answered)
        return;
    wr_json_number(block, "settled_depth_m", bed->bed.settled);
    wr_json_number(block, "freeboard_m", beds->definition->filters.items[group].freeboard);
    wr_json_flag(block, "does_well", bed->does_well);
    wr_json_flag(block, "is_lifted", bed->is_lifted);
    wr_json_flag(block, "stays_in", bed->stays_in);
    wr_json_flag(block, "keeps_media", bed->keeps_media);
    put_lifted(block, "coldest", &bed->bed, &bed->coldest);
    put_lifted(block, "warmest", &bed->bed, &bed->warmest);
    put_points(block, bed);
}

struct cJSON *wr_report_beds_document(const struct wr_subject *subject, const struct wr_wash_beds *beds)
{
    struct cJSON *document = wr_report_document(subject);
    if (beds->status != WR_OK)
        return document;
    wr_json_flag(document, "passes", beds->passes);
    wr_json_number(document, "backwash_rate_m_per_s", beds->rate);
    wr_json_number(document, "wanted_expansion", beds->wanted);
    wr_json_flag(document, "wash_water_has_months", beds->has_months);
    wr_json_number(document, "coldest_k", beds->least_temperature);
    wr_json_number(document, "warmest_k", beds->most_temperature);
    struct cJSON *list = wr_json_list(document, "filter_groups");
    for (size_t i = 0; i < beds->count; i++)
        put_group(list, beds, i);
    return document;
}
