/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/read.h"

#include <errno.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/block.h"
#include "sim/scenario/json_scan.h"
#include "sim/scenario/rules.h"
#include "sim/scenario/setting.h"
#include "sim/scenario/whole.h"

/* Turns the text into the reading's tree; complains and leaves it NULL when it is no JSON object. */
static void grow_tree(struct wr_reader *reader, size_t length)
{
    struct wr_json_fault fault;
    struct wr_reading *reading = reader->reading;

    if (!wr_json_scan(reader->text, length, &fault)) {
        wr_complain_of_text(reader, fault.at, fault.message);
        return;
    }
    reading->tree = cJSON_ParseWithOpts(reader->text, NULL, 1);
    if (cJSON_IsObject(reading->tree))
        return;
    wr_complain_of_text(reader, wr_json_place(reader->text, NULL, 0, false),
                        "found a value that is no block; allowed: a scenario, { \"format\": 1, ... }");
    cJSON_Delete(reading->tree);
    reading->tree = NULL;
}

/* The start of the run, which dates are counted from, ahead of all else. */
static double find_start(const cJSON *tree)
{
    const struct wr_parameter *row = wr_block_find(&wr_block_scenario, "start");
    const cJSON *start = cJSON_GetObjectItemCaseSensitive(tree, row->key);
    double seconds = WR_ABSENT;

    if (start == NULL)
        wr_date_read(row->default_text, &seconds);
    else if (cJSON_IsString(start))
        wr_date_read(start->valuestring, &seconds);
    return seconds;
}

/* The units of the author, ahead of all else that may be wrong; those of the default where they are wrong themselves.
 */
static enum wr_units find_units(const cJSON *tree)
{
    const struct wr_parameter *row = wr_block_find(&wr_block_scenario, "units");
    const cJSON *units = cJSON_GetObjectItemCaseSensitive(tree, row->key);
    const char *const word = cJSON_IsString(units) ? units->valuestring : row->default_text;

    for (int choice = 0; row->choices[choice] != NULL; choice++)
        if (strcmp(word, row->choices[choice]) == 0)
            return (enum wr_units)choice;
    return WR_UNITS_US;
}

/* Reads the tree into the definition and checks it. */
static void read_tree(struct wr_reader *reader)
{
    struct wr_reading *reading = reader->reading;

    reader->path.depth = 0;
    reader->path.blocks[0] = &wr_block_scenario;
    reader->start = find_start(reading->tree);
    reader->units = find_units(reading->tree);
    wr_block_read(reader, &wr_block_scenario, reading->tree, &reading->definition);
    wr_rules_fill_in(&reading->definition);
    wr_rules_check(reader);
}

/* All of reading but getting at the text, of which `reader->text` is a zero-ended copy. */
static void read_all(struct wr_reader *reader, size_t length, const char *const *settings, size_t setting_count)
{
    grow_tree(reader, length);
    if (reader->reading->tree == NULL)
        return;
    for (size_t i = 0; i < setting_count; i++)
        wr_setting_apply(reader, settings[i]);
    read_tree(reader);
    free(reader->marks);
}

static void start_reading(struct wr_reading *reading, const char *name)
{
    *reading = (struct wr_reading){.file = wr_text_copy(name)};
    wr_block_default(&wr_block_scenario, &reading->definition);
}

void wr_reading_text(struct wr_reading *reading, const char *name, const char *text, size_t length,
                     const char *const *settings, size_t setting_count)
{
    /* One byte more than may be is enough to see that there are too many. */
    size_t kept = length > WR_JSON_LARGEST ? WR_JSON_LARGEST + 1 : length;
    char *copy = wr_items_new(kept + 1, 1);
    struct wr_reader reader = {.reading = reading, .text = copy, .path.blocks[0] = &wr_block_scenario};

    start_reading(reading, name);
    memcpy(copy, text, kept);
    read_all(&reader, kept, settings, setting_count);
    free(copy);
    reading->good = reading->complaint_count == 0;
}

/* The bytes of a file, at most one more than a scenario may have; NULL with errno when it cannot be read. */
static char *bytes_of_file(const char *path, size_t *length)
{
    FILE *file = fopen(path, "rb");
    char *bytes = NULL;
    size_t capacity = 0;

    if (file == NULL)
        return NULL;
    errno = 0;
    for (*length = 0; !feof(file) && !ferror(file) && *length <= WR_JSON_LARGEST;) {
        capacity = capacity == 0 ? 65536 : capacity * 2;
        capacity = capacity > WR_JSON_LARGEST + 1 ? WR_JSON_LARGEST + 1 : capacity;
        bytes = wr_items_resized(bytes, capacity, 1);
        *length += fread(bytes + *length, 1, capacity - *length, file);
    }
    int error = ferror(file) ? errno : 0;
    fclose(file);
    if (error != 0) {
        free(bytes);
        errno = error;
        return NULL;
    }
    return bytes;
}

void wr_reading_file(struct wr_reading *reading, const char *path, const char *const *settings, size_t setting_count)
{
    size_t length = 0;
    char *bytes = bytes_of_file(path, &length);

    if (bytes != NULL) {
        wr_reading_text(reading, path, bytes, length, settings, setting_count);
        free(bytes);
        return;
    }
    struct wr_reader reader = {.reading = reading};
    struct wr_text message = {0};
    wr_text_add(&message, "found no file that can be read (%s); allowed: a scenario", strerror(errno));
    char *words = wr_text_take(&message);
    start_reading(reading, path);
    wr_complain_of_text(&reader, SIZE_MAX, words);
    free(words);
}

void wr_reading_fini(struct wr_reading *reading)
{
    for (size_t i = 0; i < reading->complaint_count; i++) {
        free(reading->complaints[i].setting);
        free(reading->complaints[i].pointer);
        free(reading->complaints[i].message);
    }
    free(reading->complaints);
    free(reading->file);
    cJSON_Delete(reading->tree);
    wr_definition_fini(&reading->definition);
    *reading = (struct wr_reading){0};
}

/* Writes numbers so that they come back bit for bit, by the fewest digits that do; cJSON's own printing loses some. */
static void make_exact(cJSON *node)
{
    char text[32];

    if (cJSON_IsNumber(node)) {
        int digits = 15;
        do
            snprintf(text, sizeof text, "%.*g", digits, node->valuedouble);
        while (digits++ < 17 && (strtod(text, NULL) < node->valuedouble || strtod(text, NULL) > node->valuedouble));
        node->type = (node->type & ~0xff) | cJSON_Raw;
        node->valuestring = wr_text_copy(text);
    }
    for (cJSON *child = node->child; child != NULL; child = child->next)
        make_exact(child);
}

char *wr_reading_scenario_text(const struct wr_reading *reading)
{
    cJSON *copy = reading->tree == NULL ? NULL : cJSON_Duplicate(reading->tree, 1);

    if (copy == NULL)
        return NULL;
    make_exact(copy);
    char *text = cJSON_Print(copy);
    cJSON_Delete(copy);
    return text;
}
