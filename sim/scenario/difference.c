/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/difference.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/reader.h"
#include "sim/scenario/table.h"

/* Doubles that two units give for one quantity may differ in their last bits. */
static const double SAME_WITHIN = 1e-12;

/* Where the walk stands. */
struct walk {
    struct wr_differences *differences;
    const char *pointer; /* of the block stood in */
    bool is_weather;
};

static void find_in_block(const struct walk *walk, const struct wr_block *block, const cJSON *before,
                          const cJSON *after);

bool wr_key_is_weather(const char *key)
{
    static const char *const keys[] = {"start", "horizon", "seed", "demand"};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        if (strcmp(keys[i], key) == 0)
            return true;
    return false;
}

/* Keys at the root that answers do not depend on. */
static bool is_for_readers(const char *key)
{
    static const char *const keys[] = {"title", "question", "units"};
    for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
        if (strcmp(keys[i], key) == 0)
            return true;
    return false;
}

/* In words -------------------------------------------------------------------------------------------------------- */

/* A value as its author wrote it, on one line: text without its quotes, a block as "Well 4 (flow 215 gal/min, ...)". */
static void describe(const cJSON *value, struct wr_text *text)
{
    const cJSON *child;
    if (cJSON_IsString(value)) {
        wr_text_add(text, "%s", value->valuestring);
        return;
    }
    if (!cJSON_IsObject(value) && !cJSON_IsArray(value)) {
        char *written = cJSON_PrintUnformatted(value);
        wr_text_add(text, "%s", written != NULL ? written : "");
        cJSON_free(written);
        return;
    }
    const char *name = cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(value, "name"));
    wr_text_add(text, "%s%s", name != NULL ? name : "", cJSON_IsArray(value) ? "[" : name != NULL ? " (" : "(");
    const char *join = "";
    cJSON_ArrayForEach(child, value)
    {
        if (child->string != NULL && (strcmp(child->string, "name") == 0 || strcmp(child->string, "note") == 0))
            continue;
        wr_text_add(text, "%s%s%s", join, child->string != NULL ? child->string : "", child->string != NULL ? " " : "");
        describe(child, text);
        join = ", ";
    }
    wr_text_add(text, cJSON_IsArray(value) ? "]" : ")");
}

static char *words_of(const cJSON *value)
{
    struct wr_text text = {0};
    if (value == NULL)
        return NULL;
    describe(value, &text);
    return wr_text_take(&text);
}

static void add(const struct walk *walk, const char *pointer, const struct wr_parameter *row, const cJSON *before,
                const cJSON *after)
{
    struct wr_differences *list = walk->differences;
    list->items = wr_items_resized(list->items, list->count + 1, sizeof *list->items);
    list->items[list->count++] = (struct wr_difference){.pointer = wr_text_copy(pointer),
                                                        .meaning = row->meaning,
                                                        .before = words_of(before),
                                                        .after = words_of(after),
                                                        .default_text = row->default_text,
                                                        .earlier = before,
                                                        .later = after,
                                                        .is_weather = walk->is_weather};
}

/* "/wells" and "2" give "/wells/2"; the caller frees it. */
static char *pointer_to(const char *pointer, const char *token)
{
    struct wr_text text = {0};
    wr_text_add(&text, "%s", pointer);
    wr_pointer_add(&text, token);
    return wr_text_take(&text);
}

/* Single values --------------------------------------------------------------------------------------------------- */

static bool same_number(double a, double b)
{
    return a == b || fabs(a - b) <= SAME_WITHIN * fmax(fabs(a), fabs(b));
}

/* A value's number inside: of a quantity, date or clock, or a bare one. False for text that is none. */
static bool number_of(const struct wr_parameter *row, const char *text, double *number)
{
    char found[256];
    char *end;
    switch (row->kind) {
    case WR_IS_DATE:
    case WR_IS_DATE_IN_RUN:
        return wr_date_read(text, number);
    case WR_IS_CLOCK:
        return wr_clock_read(text, number);
    case WR_IS_CHOICE:
    case WR_IS_TEXT:
    case WR_IS_FLAG:
        return false;
    default:
        if (row->quantity != WR_QUANTITY_NONE)
            return wr_quantity_read(row->quantity, text, number, found, sizeof found);
        *number = strtod(text, &end);
        return *end == '\0';
    }
}

static bool same_text(const struct wr_parameter *row, const char *before, const char *after)
{
    double a, b;
    if (strcmp(before, after) == 0)
        return true;
    return number_of(row, before, &a) && number_of(row, after, &b) && same_number(a, b);
}

/* What is written, else the default; NULL where there is neither. */
static bool same_value(const struct wr_parameter *row, const cJSON *before, const cJSON *after)
{
    char *written[2] = {words_of(before), words_of(after)};
    const char *a = written[0] != NULL ? written[0] : row->default_text;
    const char *b = written[1] != NULL ? written[1] : row->default_text;
    const bool same = a != NULL && b != NULL ? same_text(row, a, b) : a == b;
    free(written[0]);
    free(written[1]);
    return same;
}

/* Lists ----------------------------------------------------------------------------------------------------------- */

/* Numbers one by one; a list that is left out has the default in every place. */
static bool same_numbers(const struct wr_parameter *row, const cJSON *before, const cJSON *after)
{
    const int counts[] = {cJSON_GetArraySize(before), cJSON_GetArraySize(after)};
    if (before == NULL && after == NULL)
        return true;
    if (before != NULL && after != NULL && counts[0] != counts[1])
        return false;
    if ((before == NULL || after == NULL) && row->default_text == NULL)
        return false;
    for (int i = 0; i < counts[before != NULL ? 0 : 1]; i++)
        if (!same_value(row, cJSON_GetArrayItem(before, i), cJSON_GetArrayItem(after, i)))
            return false;
    return true;
}

static const char *name_of(const cJSON *item)
{
    return cJSON_GetStringValue(cJSON_GetObjectItemCaseSensitive(item, "name"));
}

/* The place of the item of a name; -1 where there is none. */
static int place_of(const cJSON *list, const char *name)
{
    const cJSON *item;
    int place = 0;
    cJSON_ArrayForEach(item, list)
    {
        if (name_of(item) != NULL && strcmp(name_of(item), name) == 0)
            return place;
        place++;
    }
    return -1;
}

/* True where every item has a name that no other has. */
static bool has_names(const cJSON *list)
{
    const cJSON *item;
    int place = 0;
    cJSON_ArrayForEach(item, list)
    {
        if (name_of(item) == NULL || place_of(list, name_of(item)) != place)
            return false;
        place++;
    }
    return true;
}

/* The place in `other` of the item that goes with item `place` of `list`; -1 where it has none. */
static int partner(const cJSON *list, int place, const cJSON *other, bool by_name)
{
    if (by_name)
        return place_of(other, name_of(cJSON_GetArrayItem(list, place)));
    return place < cJSON_GetArraySize(other) ? place : -1;
}

static void find_in_item(const struct walk *walk, const struct wr_parameter *row, int place, const cJSON *before,
                         const cJSON *after)
{
    struct wr_text token = {0};
    wr_text_add(&token, "%d", place);
    char *number = wr_text_take(&token);
    char *pointer = pointer_to(walk->pointer, number);
    const struct walk within = {walk->differences, pointer, walk->is_weather};
    if (before == NULL || after == NULL)
        add(walk, pointer, row, before, after);
    else
        find_in_block(&within, row->block, before, after);
    free(pointer);
    free(number);
}

/* Items that both have, in another order: wells and filters count in their order. */
static bool is_reordered(const cJSON *before, const cJSON *after)
{
    int last = -1;
    for (int i = 0; i < cJSON_GetArraySize(after); i++) {
        const int was = partner(after, i, before, true);
        if (was >= 0 && was < last)
            return true;
        last = was >= 0 ? was : last;
    }
    return false;
}

static void find_in_list(const struct walk *walk, const struct wr_parameter *row, const cJSON *before,
                         const cJSON *after)
{
    static const struct wr_parameter order = {.meaning = "order of the list"};
    const bool by_name = has_names(before) && has_names(after);
    if (by_name && is_reordered(before, after))
        add(walk, walk->pointer, &order, before, after);
    for (int i = 0; i < cJSON_GetArraySize(after); i++) {
        const int was = partner(after, i, before, by_name);
        find_in_item(walk, row, i, was >= 0 ? cJSON_GetArrayItem(before, was) : NULL, cJSON_GetArrayItem(after, i));
    }
    for (int i = 0; i < cJSON_GetArraySize(before); i++)
        if (partner(before, i, after, by_name) < 0)
            find_in_item(walk, row, i, cJSON_GetArrayItem(before, i), NULL);
}

/* Blocks ---------------------------------------------------------------------------------------------------------- */

/* One key. A block that may be left out altogether is added or gone as a whole; any other that is left out is as if it
 * were there and empty. */
static void find_in_row(const struct walk *walk, const struct wr_parameter *row, const cJSON *before,
                        const cJSON *after)
{
    switch (row->kind) {
    case WR_IS_BLOCK:
        if (row->has_presence && (before == NULL) != (after == NULL))
            add(walk, walk->pointer, row, before, after);
        else
            find_in_block(walk, row->block, before, after);
        return;
    case WR_IS_BLOCK_LIST:
        find_in_list(walk, row, before, after);
        return;
    case WR_IS_NUMBERS:
    case WR_IS_NUMBER_LIST:
        if (!same_numbers(row, before, after))
            add(walk, walk->pointer, row, before, after);
        return;
    default:
        if (!same_value(row, before, after))
            add(walk, walk->pointer, row, before, after);
    }
}

static void find_in_block(const struct walk *walk, const struct wr_block *block, const cJSON *before,
                          const cJSON *after)
{
    const bool is_root = *walk->pointer == '\0';
    for (size_t i = 0; i < block->count; i++) {
        const struct wr_parameter *row = &block->parameters[i];
        if (is_root && is_for_readers(row->key))
            continue;
        char *pointer = pointer_to(walk->pointer, row->key);
        const struct walk within = {walk->differences, pointer,
                                    is_root ? wr_key_is_weather(row->key) : walk->is_weather};
        find_in_row(&within, row, cJSON_GetObjectItemCaseSensitive(before, row->key),
                    cJSON_GetObjectItemCaseSensitive(after, row->key));
        free(pointer);
    }
}

void wr_differences_find(struct wr_differences *differences, const struct cJSON *before, const struct cJSON *after)
{
    const struct walk walk = {differences, "", false};
    *differences = (struct wr_differences){0};
    find_in_block(&walk, &wr_block_scenario, before, after);
}

void wr_differences_fini(struct wr_differences *differences)
{
    for (size_t i = 0; i < differences->count; i++) {
        free(differences->items[i].pointer);
        free(differences->items[i].before);
        free(differences->items[i].after);
    }
    free(differences->items);
    *differences = (struct wr_differences){0};
}
