/* SPDX-License-Identifier: GPL-3.0-or-later */

/* A run folder opened again, and asked again. */

#include "sim/handles.h"
#include "sim/report/json.h"
#include "sim/report/report.h"

#include <cjson/cJSON.h>
#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* An about.json is a few hundred bytes, and more where a study was asked much. */
enum { ABOUT_BYTES = 65536 };

/* "FOLDER/NAME"; NULL without memory. */
static char *path_of(const char *folder, const char *name)
{
    struct wr_page page = {0};
    wr_page_add(&page, "%s/%s", folder, name);
    return wr_page_take(&page);
}

static struct cJSON *read_about(const char *folder)
{
    char *text = malloc(ABOUT_BYTES), *path = path_of(folder, "about.json");
    FILE *file = text != NULL ? fopen(path, "r") : NULL;
    struct cJSON *document = NULL;
    if (file != NULL) {
        document = cJSON_ParseWithLength(text, fread(text, 1, ABOUT_BYTES, file));
        fclose(file);
    }
    free(path);
    free(text);
    return document;
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

/* The words of a list in the document; NULL where there is no such list or not of words alone. The caller frees the
 * list, not the words. */
static const char **words_of(const struct cJSON *document, const char *pointer, size_t *count)
{
    const struct cJSON *list = wr_json_find(document, pointer), *item;
    const char **words = calloc((size_t)cJSON_GetArraySize(list) + 1, sizeof *words);
    bool good = words != NULL && cJSON_IsArray(list);
    *count = 0;
    for (item = good ? list->child : NULL; good && item != NULL; item = item->next) {
        words[(*count)++] = cJSON_GetStringValue(item);
        good = cJSON_IsString(item);
    }
    if (good)
        return words;
    free(words);
    return NULL;
}

static bool is_true(const struct cJSON *document, const char *pointer)
{
    return cJSON_IsTrue(wr_json_find(document, pointer));
}

/* Opens the scenarios that a comparison set beside the first: scenario-B.json and so on. */
static bool open_further(const char *folder, struct wr_scenario **further, size_t count)
{
    bool good = true;
    for (size_t i = 1; good && i < count; i++) {
        char name[32];
        snprintf(name, sizeof name, "scenario-%c.json", (char)('A' + i));
        char *path = path_of(folder, name);
        further[i] = wr_scenario_open(path, NULL, 0);
        good = further[i] != NULL && wr_scenario_is_good(further[i]);
        free(path);
    }
    return good;
}

static struct wr_answer *compare_again(const char *folder, const struct wr_scenario *scenario,
                                       const struct cJSON *about)
{
    size_t count;
    const char **names = words_of(about, "/asked/names", &count);
    const double growth = wr_json_number_of(wr_json_find(about, "/asked/growth_per_year"));
    struct wr_scenario *further[WR_COMPARED_SCENARIOS] = {NULL};
    struct wr_named_scenario named[WR_COMPARED_SCENARIOS];
    struct wr_answer *answer = NULL;
    if (names != NULL && count >= 1 && count <= WR_COMPARED_SCENARIOS && open_further(folder, further, count)) {
        for (size_t i = 0; i < count; i++)
            named[i] = (struct wr_named_scenario){names[i], i == 0 ? scenario : further[i]};
        answer = wr_scenarios_compare(named, count, is_true(about, "/asked/as_written"), growth > 0 ? growth : 0);
    }
    free(names);
    if (answer != NULL)
        memcpy(answer->further, further, sizeof further);
    else
        for (size_t i = 0; i < WR_COMPARED_SCENARIOS; i++)
            wr_scenario_close(further[i]);
    return answer;
}

static struct wr_answer *margin_again(const struct wr_scenario *scenario, const struct cJSON *about)
{
    const char *judged = cJSON_GetStringValue(wr_json_find(about, "/asked/judged"));
    struct wr_margin_wish wish = {.map = is_true(about, "/asked/map"), .judged = WR_JUDGED_FIRM};
    const char **of = words_of(about, "/asked/of", &wish.count);
    while (judged != NULL && wish.judged < WR_JUDGED_RUN &&
           strcmp(judged, wr_report_verdict_key((enum wr_verdict)wish.judged)) != 0)
        wish.judged++;
    wish.of = of;
    struct wr_answer *answer = of != NULL && wish.count > 0 ? wr_scenario_margin(scenario, &wish) : NULL;
    free(of);
    return answer;
}

static struct wr_answer *sweep_again(const struct wr_scenario *scenario, const struct cJSON *about)
{
    const char *ask = cJSON_GetStringValue(wr_json_find(about, "/asked/ask"));
    const double skip = wr_json_number_of(wr_json_find(about, "/asked/skip"));
    struct wr_sweep_wish wish = {.in_step = is_true(about, "/asked/in_step"),
                                 .of_firm = ask != NULL && strcmp(ask, "firm") == 0,
                                 .skip = skip > 0 && skip < 1e6 ? (size_t)skip : 0};
    const char **axes = words_of(about, "/asked/axes", &wish.axis_count);
    const char **show = words_of(about, "/asked/show", &wish.show_count);
    wish.axes = axes;
    wish.show = show;
    struct wr_answer *answer =
        axes != NULL && wish.axis_count > 0 && show != NULL ? wr_scenario_sweep(scenario, &wish) : NULL;
    free(axes);
    free(show);
    return answer;
}

struct wr_answer *wr_folder_ask(const char *folder, const struct wr_scenario *scenario, char *fault, size_t size)
{
    struct cJSON *about = read_about(folder);
    const char *command = cJSON_GetStringValue(wr_json_find(about, "/command"));
    struct wr_answer *answer = NULL;
    if (command != NULL && strcmp(command, "compare") == 0)
        answer = compare_again(folder, scenario, about);
    else if (command != NULL && strcmp(command, "margin") == 0)
        answer = margin_again(scenario, about);
    else if (command != NULL && strcmp(command, "sweep") == 0)
        answer = sweep_again(scenario, about);
    if (answer != NULL) {
        answer->about = about; /* whose words it holds */
        return answer;
    }
    snprintf(fault, size, "%s does not say what was asked, or lacks a scenario of it", folder);
    cJSON_Delete(about);
    return NULL;
}
