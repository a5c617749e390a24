/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules of filters: size, media, deposit and where the beds start. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/nearest.h"
#include "sim/scenario/rules.h"

/* Media whose constants the program knows, those of models/media.h. A scenario names media freely, but others bring
 * their own. */
static const char *const known_media[] = {"anthracite", "manganese-coated sand", "sand", "greensand", "gravel",
                                          "glass beads"};

enum { KNOWN_MEDIA = sizeof known_media / sizeof known_media[0] };

static const char *nearest_medium(const char *medium)
{
    const char *nearest = NULL;
    size_t least = WR_TOO_FAR;

    for (size_t i = 0; i < KNOWN_MEDIA; i++) {
        size_t distance = wr_word_distance(medium, known_media[i]);
        nearest = distance < least ? known_media[i] : nearest;
        least = distance < least ? distance : least;
    }
    return nearest;
}

static bool is_known_medium(const char *medium)
{
    for (size_t i = 0; i < KNOWN_MEDIA; i++) {
        if (strcmp(medium, known_media[i]) == 0)
            return true;
    }
    return false;
}

/* Layers of a bed are counted from the group, so pointers to them are made in two steps; returns `pointer`. */
static const char *layer_pointer(char pointer[WR_RULE_POINTER], size_t group, size_t number, const char *key)
{
    char rest[64];

    snprintf(rest, sizeof rest, "/media/%zu%s", number, key);
    return wr_rule_pointer(pointer, "filters", group, rest);
}

/* Sieves must cover what is asked of them: slices of the bed from 5 to 95 % of the mass. */
static void check_sieves(struct wr_reader *reader, const struct wr_sieve_rows *sieves, size_t group, size_t number)
{
    char pointer[WR_RULE_POINTER];
    char key[32];

    if (!wr_rule_is_read(reader, layer_pointer(pointer, group, number, "/sieves"), sieves->count) || sieves->count == 0)
        return;
    for (size_t i = 1; i < sieves->count; i++) {
        const struct wr_sieve_row *row = &sieves->items[i], *before = row - 1;
        snprintf(key, sizeof key, "/sieves/%zu", i);
        if (row->opening <= before->opening || row->passing <= before->passing)
            wr_complain_at(reader, layer_pointer(pointer, group, number, key),
                           "found an opening or a passing share that is not above that of the sieve before; allowed: "
                           "both rising, finest sieve first");
    }
    if (sieves->items[0].passing > 0.05 || sieves->items[sieves->count - 1].passing < 0.95)
        wr_complain_at(reader, layer_pointer(pointer, group, number, "/sieves"),
                       "found passing from %.4g to %.4g %%; allowed: from 5 %% or less to 95 %% or more",
                       100 * sieves->items[0].passing, 100 * sieves->items[sieves->count - 1].passing);
}

static void check_grains(struct wr_reader *reader, const struct wr_media_layer *layer, size_t group, size_t number)
{
    static const char *const beside_size[] = {"/uniformity", "/coarse_size"};
    char pointer[WR_RULE_POINTER];
    bool has_sieves = wr_rule_is_written(reader, layer_pointer(pointer, group, number, "/sieves"));

    wr_rule_exactly_one(reader, layer_pointer(pointer, group, number, ""), "grain_size", "sieves");
    for (size_t i = 0; i < 2 && has_sieves; i++)
        if (wr_rule_is_written(reader, layer_pointer(pointer, group, number, beside_size[i])))
            wr_complain_at(reader, pointer, "found %s beside sieves; allowed: only beside grain_size",
                           beside_size[i] + 1);
    if (layer->coarse_size <= layer->grain_size)
        wr_complain_at(reader, layer_pointer(pointer, group, number, "/coarse_size"),
                       "found %.4g mm; allowed: more than grain_size, %.4g mm", 1e3 * layer->coarse_size,
                       1e3 * layer->grain_size);
    check_sieves(reader, &layer->sieves, group, number);
}

static void check_layer(struct wr_reader *reader, const struct wr_media_layer *layer, size_t group, size_t number)
{
    char pointer[WR_RULE_POINTER];
    char constant[WR_RULE_POINTER + 20];
    static const char *const constants[] = {"porosity", "viscous_constant", "inertial_constant"};
    bool has_all = true;

    if (cJSON_IsObject(wr_tree_find(reader->reading->tree, layer_pointer(pointer, group, number, ""))))
        check_grains(reader, layer, group, number);
    if (layer->medium == NULL || is_known_medium(layer->medium))
        return;
    layer_pointer(pointer, group, number, "");
    for (size_t i = 0; i < 3; i++) {
        snprintf(constant, sizeof constant, "%s/%s", pointer, constants[i]);
        has_all = has_all && wr_rule_is_written(reader, constant);
    }
    if (has_all)
        return;
    const char *nearest = nearest_medium(layer->medium);
    snprintf(constant, sizeof constant, "%s/medium", pointer);
    wr_complain_at(
        reader, constant,
        "found \"%s\", a medium without known constants; allowed: \"anthracite\", \"manganese-coated sand\", "
        "\"sand\", \"greensand\", \"gravel\" or \"glass beads\", or porosity, viscous_constant and "
        "inertial_constant beside it%s%s%s",
        layer->medium, nearest == NULL ? "" : "; did you mean \"", nearest == NULL ? "" : nearest,
        nearest == NULL ? "" : "\"?");
}

static void check_observed_run(struct wr_reader *reader, const struct wr_observed_run *run, size_t group)
{
    char pointer[WR_RULE_POINTER];
    char dirty[WR_RULE_TEXT];
    char clean[WR_RULE_TEXT];

    wr_rule_pointer(pointer, "filters", group, "/deposit/observed_run");
    wr_rule_exactly_one(reader, pointer, "rate", "flow");
    wr_rule_exactly_one(reader, pointer, "hours", "volume");
    if (run->dirty_differential <= run->clean_differential)
        wr_complain_at(reader, wr_rule_pointer(pointer, "filters", group, "/deposit/observed_run/dirty_differential"),
                       "found %s; allowed: more than clean_differential, %s",
                       wr_rule_show(reader, WR_QUANTITY_HEAD, run->dirty_differential, dirty),
                       wr_rule_show(reader, WR_QUANTITY_HEAD, run->clean_differential, clean));
}

static bool has_media(const struct wr_reader *reader, size_t group)
{
    char pointer[WR_RULE_POINTER];
    const cJSON *media = wr_tree_find(reader->reading->tree, wr_rule_pointer(pointer, "filters", group, "/media"));

    return media != NULL && !(cJSON_IsArray(media) && media->child == NULL);
}

static void check_deposit(struct wr_reader *reader, const struct wr_filter_group *group, size_t number)
{
    char pointer[WR_RULE_POINTER];
    char deposit[WR_RULE_POINTER];

    wr_rule_pointer(deposit, "filters", number, "/deposit");
    if (!cJSON_IsObject(wr_tree_find(reader->reading->tree, deposit)))
        return;
    wr_rule_exactly_one(reader, deposit, "slope", "observed_run");
    bool has_run = wr_rule_is_written(reader, wr_rule_pointer(pointer, "filters", number, "/deposit/observed_run"));
    if (cJSON_IsObject(wr_tree_find(reader->reading->tree, pointer)))
        check_observed_run(reader, &group->deposit.observed_run, number);
    if (!has_run && !has_media(reader, number))
        wr_complain_at(
            reader, wr_rule_pointer(pointer, "filters", number, ""),
            "found neither media nor an observed run; allowed: one of them, from which the clean headloss follows");
    bool has_slope = wr_rule_is_written(reader, wr_rule_pointer(pointer, "filters", number, "/deposit/slope"));
    if (has_slope && group->deposit.exponent > 1.0 &&
        !wr_rule_is_written(reader, wr_rule_pointer(pointer, "filters", number, "/deposit/reference_load")))
        wr_complain_at(
            reader, deposit,
            "found an exponent above 1 without reference_load; allowed: with the load at which the slope holds");
}

static void check_start(struct wr_reader *reader, const struct wr_filter_group *group, size_t number)
{
    char pointer[WR_RULE_POINTER];
    const cJSON *beds = wr_tree_find(reader->reading->tree, "/start_beds");
    int how = beds != NULL && !cJSON_IsObject(beds) ? -1 : reader->reading->definition.start_beds.how;
    bool must_have = how == WR_START_GIVEN;
    bool has = wr_rule_is_written(reader, wr_rule_pointer(pointer, "filters", number, "/start_shares"));

    if (has && !must_have && how >= 0)
        wr_complain_at(reader, pointer, "found start_shares; allowed: only where /start_beds/how is \"given\"");
    if (!has && must_have)
        wr_complain_at(reader, wr_rule_pointer(pointer, "filters", number, ""),
                       "found no start_shares; allowed: one share a filter, since /start_beds/how is \"given\"");
    if (has && must_have && cJSON_IsArray(wr_tree_find(reader->reading->tree, pointer)) && group->filters > 0 &&
        group->start_shares.count != group->filters)
        wr_complain_at(reader, pointer, "found %zu shares; allowed: %zu, one a filter", group->start_shares.count,
                       group->filters);
}

static void check_cells(struct wr_reader *reader, const struct wr_filter_group *group, size_t number)
{
    char pointer[WR_RULE_POINTER];

    if (group->cells > 0 && group->filters % group->cells != 0)
        wr_complain_at(reader, wr_rule_pointer(pointer, "filters", number, "/cells_per_vessel"),
                       "found %zu; allowed: a number that divides count, %zu, into whole vessels", group->cells,
                       group->filters);
}

void wr_rules_check_filters(struct wr_reader *reader)
{
    const struct wr_definition *definition = &reader->reading->definition;
    char pointer[WR_RULE_POINTER];

    for (size_t i = 0; i < definition->filters.count; i++) {
        const struct wr_filter_group *group = &definition->filters.items[i];
        if (!cJSON_IsObject(wr_tree_find(reader->reading->tree, wr_rule_pointer(pointer, "filters", i, ""))))
            continue;
        wr_rule_exactly_one(reader, pointer, "diameter", "area");
        for (size_t k = 0; k < group->media.count; k++)
            check_layer(reader, &group->media.items[k], i, k);
        check_cells(reader, group, i);
        check_deposit(reader, group, i);
        check_start(reader, group, i);
    }
    int how = definition->start_beds.how;
    if (how != WR_START_EQUAL && how >= 0 && wr_rule_is_written(reader, "/start_beds/share"))
        wr_complain_at(reader, "/start_beds/share", "found a share; allowed: only where /start_beds/how is \"equal\"");
}
