/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A candidate as settings of the scenario. */
#include "sim/scenario/date.h"
#include "sim/scenario/quantity_kind.h"
#include "sim/scenario/text.h"
#include "sim/study/rota_hunt.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static double seconds_of(const struct wr_axis *axis, double value)
{
    char fault[200];
    wr_quantity_to_si(WR_QUANTITY_TIME, axis->unit, &value, fault, sizeof fault);
    return value;
}

/* Length of time of a bound that is no place; `otherwise` without that bound. */
static double time_of(const struct wr_rota_search *rota, const struct wr_rota_try *candidate, const char *name,
                      double otherwise)
{
    for (size_t a = 0; a < rota->axis_count; a++)
        if (strcmp(rota->axes[a].pointer, name) == 0)
            return seconds_of(&rota->axes[a], candidate->values[a]);
    return otherwise;
}

/* The dated rota of a candidate: filters evenly spread over its time. NULL where it has none. */
static char *dated_rota(const struct wr_rota_search *rota, const struct wr_rota_try *candidate,
                        const struct wr_definition *definition, double shift)
{
    struct wr_plant plant;
    struct wr_text setting = {0};
    const double every = time_of(rota, candidate, "every", 0);
    if (every <= 0 || wr_plant_init(&plant, definition) != WR_OK)
        return NULL;
    cJSON *list = cJSON_CreateArray();
    for (size_t f = 0; f < plant.filter_count; f++) {
        const double first = time_of(rota, candidate, "first", every / (double)plant.filter_count) +
                             every * (double)f / (double)plant.filter_count;
        char date[32], text[64];
        cJSON *entry = cJSON_CreateObject();
        wr_figure_text(floor(every / 60), "min", text, sizeof text);
        cJSON_AddStringToObject(entry, "filter", plant.names[f]);
        cJSON_AddStringToObject(entry, "first", wr_date_text(definition->start + shift + first, date, sizeof date));
        cJSON_AddStringToObject(entry, "every", text);
        cJSON_AddItemToArray(list, entry);
    }
    char *words = cJSON_PrintUnformatted(list);
    wr_text_add(&setting, "/wash/rota=%s", words);
    free(words);
    cJSON_Delete(list);
    wr_plant_fini(&plant);
    return wr_text_take(&setting);
}

static char *setting_of(const struct wr_axis *axis, double value)
{
    char text[96];
    if (!axis->is_range)
        return wr_axis_setting(axis, axis->values[(size_t)value]);
    return wr_axis_setting(axis, wr_figure_text(value, axis->unit, text, sizeof text));
}

size_t wr_rota_settings_from(const struct wr_rota_search *rota, const struct wr_rota_try *candidate,
                             const struct wr_definition *definition, double shift, char *settings[WR_ROTA_AXES])
{
    size_t count = 0;
    for (size_t a = 0; a < rota->axis_count; a++)
        if (wr_rota_is_place(&rota->axes[a]))
            settings[count++] = setting_of(&rota->axes[a], candidate->values[a]);
    char *dated = dated_rota(rota, candidate, definition, shift);
    if (dated != NULL)
        settings[count++] = dated;
    return count;
}

size_t wr_rota_settings(const struct wr_rota_search *rota, const struct wr_rota_try *candidate,
                        const struct wr_definition *definition, char *settings[WR_ROTA_AXES])
{
    return wr_rota_settings_from(rota, candidate, definition, 0, settings);
}
