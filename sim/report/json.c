/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/json.h"

#include "sim/report/number.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void *need(void *memory)
{
    if (memory == NULL) {
        fputs("washrota: out of memory while writing an answer\n", stderr);
        abort();
    }
    return memory;
}

static struct cJSON *add(struct cJSON *parent, const char *key, struct cJSON *item)
{
    need(item);
    const cJSON_bool added =
        key == NULL ? cJSON_AddItemToArray(parent, item) : cJSON_AddItemToObject(parent, key, item);
    return need(added ? item : NULL);
}

struct cJSON *wr_json_document(void)
{
    return need(cJSON_CreateObject());
}

struct cJSON *wr_json_block(struct cJSON *parent, const char *key)
{
    return add(parent, key, cJSON_CreateObject());
}

struct cJSON *wr_json_list(struct cJSON *parent, const char *key)
{
    return add(parent, key, cJSON_CreateArray());
}

/* cJSON's own numbers are written with 15 digits where it takes those for near enough. */
static void add_raw(struct cJSON *parent, const char *key, const char *text)
{
    add(parent, key, cJSON_CreateRaw(text));
}

void wr_json_number(struct cJSON *parent, const char *key, double value)
{
    if (isfinite(value))
        add_raw(parent, key, wr_number_text(value).text);
    else
        wr_json_null(parent, key);
}

void wr_json_count(struct cJSON *parent, const char *key, size_t value)
{
    char text[32];
    snprintf(text, sizeof text, "%zu", value);
    add_raw(parent, key, text);
}

void wr_json_word(struct cJSON *parent, const char *key, const char *value)
{
    if (value == NULL)
        wr_json_null(parent, key);
    else
        add(parent, key, cJSON_CreateString(value));
}

void wr_json_flag(struct cJSON *parent, const char *key, bool value)
{
    add(parent, key, cJSON_CreateBool(value));
}

void wr_json_null(struct cJSON *parent, const char *key)
{
    add(parent, key, cJSON_CreateNull());
}

double wr_json_number_of(const struct cJSON *item)
{
    return cJSON_IsRaw(item) ? strtod(item->valuestring, NULL) : (double)NAN;
}

/* True when the next part of a pointer, `length` bytes with "~1" for "/" and "~0" for "~", is a key. */
static bool part_is(const char *part, size_t length, const char *key)
{
    size_t i = 0;
    for (; i < length && *key != '\0'; i++, key++) {
        char byte = part[i];
        if (byte == '~' && i + 1 < length && (part[i + 1] == '0' || part[i + 1] == '1'))
            byte = part[++i] == '1' ? '/' : '~';
        if (byte != *key)
            return false;
    }
    return i == length && *key == '\0';
}

static const struct cJSON *child_of(const struct cJSON *item, const char *part, size_t length)
{
    char place[24];
    int number = 0;
    for (const struct cJSON *child = item->child; child != NULL; child = child->next, number++) {
        snprintf(place, sizeof place, "%d", number);
        if (part_is(part, length, cJSON_IsArray(item) ? place : child->string))
            return child;
    }
    return NULL;
}

const struct cJSON *wr_json_find(const struct cJSON *document, const char *pointer)
{
    const struct cJSON *item = document;
    while (item != NULL && *pointer == '/') {
        const char *part = pointer + 1;
        const size_t length = strcspn(part, "/");
        item = child_of(item, part, length);
        pointer = part + length;
    }
    return *pointer == '\0' ? item : NULL;
}

char *wr_json_text(const struct cJSON *document)
{
    char *text = need(cJSON_Print(document));
    const size_t length = strlen(text);
    text = need(realloc(text, length + 2));
    memcpy(text + length, "\n", 2);
    return text;
}
