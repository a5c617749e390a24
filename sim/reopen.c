/* SPDX-License-Identifier: GPL-3.0-or-later */

/* A run folder opened again. */

#include "sim/handles.h"
#include "sim/report/json.h"

#include <cjson/cJSON.h>
#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* An about.json is a few hundred bytes. */
enum { ABOUT_BYTES = 4096 };

/* "FOLDER/NAME"; NULL without memory. */
static char *path_of(const char *folder, const char *name)
{
    struct wr_page page = {0};
    wr_page_add(&page, "%s/%s", folder, name);
    return wr_page_take(&page);
}

static struct cJSON *read_about(const char *folder)
{
    char text[ABOUT_BYTES];
    char *path = path_of(folder, "about.json");
    FILE *file = fopen(path, "r");
    free(path);
    if (file == NULL)
        return NULL;
    const size_t length = fread(text, 1, sizeof text, file);
    fclose(file);
    return cJSON_ParseWithLength(text, length);
}

/* A word of the document, at most `size` bytes with the closing zero; false where there is none so short. */
static bool take_word(const struct cJSON *document, const char *pointer, char *word, size_t size)
{
    const char *found = cJSON_GetStringValue(wr_json_find(document, pointer));
    if (found == NULL || strlen(found) >= size)
        return false;
    memcpy(word, found, strlen(found) + 1);
    return true;
}

/* What the document says, and the hash of the scenario it was written with; false where it says less than it should. */
static bool take_about(const struct cJSON *document, struct wr_about *about, char hash[WR_SHA256_DIGITS + 1])
{
    char program[16], units[16];
    if (!take_word(document, "/program/name", program, sizeof program) || strcmp(program, "washrota") != 0)
        return false;
    about->show =
        take_word(document, "/report_units", units, sizeof units) && strcmp(units, "si") == 0 ? WR_SHOW_SI : WR_SHOW_US;
    return take_word(document, "/program/version", about->version, sizeof about->version) &&
           take_word(document, "/command", about->command, sizeof about->command) &&
           take_word(document, "/scenario/sha256", hash, WR_SHA256_DIGITS + 1);
}

struct wr_scenario *wr_folder_open(const char *folder, struct wr_about *about, char *fault, size_t size)
{
    char hash[WR_SHA256_DIGITS + 1];
    struct cJSON *document = read_about(folder);
    const bool good = document != NULL && take_about(document, about, hash);
    const double wanted = good ? cJSON_GetNumberValue(wr_json_find(document, "/wanted_expansion")) : (double)NAN;
    const double ended_at = good ? cJSON_GetNumberValue(wr_json_find(document, "/ended_at_s")) : (double)NAN;
    cJSON_Delete(document);
    if (!good) {
        snprintf(fault, size, "%s is no run folder: it has no about.json that this program wrote", folder);
        return NULL;
    }
    char *path = path_of(folder, "scenario.json");
    struct wr_scenario *scenario = wr_scenario_open(path, NULL, 0);
    free(path);
    const char *now = scenario != NULL ? wr_scenario_sha256(scenario) : NULL;
    if (now != NULL && strcmp(now, hash) == 0) {
        scenario->wanted_expansion = wanted > 0 ? wanted : 0;
        if (!isnan(ended_at))
            (void)wr_scenario_end_at(scenario, ended_at);
        return scenario;
    }
    snprintf(fault, size, "the scenario.json in %s is not the one that its about.json tells of", folder);
    wr_scenario_close(scenario);
    return NULL;
}
