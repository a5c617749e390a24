/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/setting.h"

#include <stdlib.h>
#include <string.h>

#include "sim/scenario/json_scan.h"

enum { TOKEN_MOST = 256 };

/* A setting on its way through the tree. */
struct walk {
    struct wr_reader *reader;
    const char *setting;
    char *pointer;                  /* before the '=' */
    const char *rest;               /* of the pointer, still to go */
    cJSON *node;                    /* where it stands */
    const struct wr_block *block;   /* of that node, or NULL */
    const struct wr_parameter *row; /* the list that the node is, or NULL */
    cJSON *made;                    /* the first block or list made on the way, or NULL */
    cJSON *made_in;                 /* what holds it */
};

/* Notes that a setting put `node` into the tree. */
static void mark(struct walk *walk, const cJSON *node)
{
    struct wr_reader *reader = walk->reader;

    reader->marks = wr_items_resized(reader->marks, reader->mark_count + 1, sizeof *reader->marks);
    reader->marks[reader->mark_count++] = (struct wr_mark){node, walk->setting};
}

/* Forgets what earlier settings put at or within a node that goes. */
static void forget(struct wr_reader *reader, const cJSON *node)
{
    const cJSON *child;

    for (size_t i = 0; i < reader->mark_count; i++) {
        if (reader->marks[i].node == node)
            reader->marks[i].node = NULL;
    }
    cJSON_ArrayForEach(child, node)
    {
        forget(reader, child);
    }
}

/* VALUE as JSON where it is JSON, else as text; NULL when it is not even text. */
static cJSON *value_of(const char *text)
{
    struct wr_json_fault fault;

    if (wr_json_scan(text, strlen(text), &fault))
        return cJSON_Parse(text);
    return wr_json_is_utf8(text) ? cJSON_CreateString(text) : NULL;
}

static bool complain(struct walk *walk, const char *found, const char *allowed)
{
    wr_complain_of_setting(walk->reader, walk->setting, walk->pointer, "found %s; allowed: %s", found, allowed);
    return false;
}

static size_t ordinal_of(const cJSON *parent, const cJSON *child)
{
    size_t ordinal = 0;

    for (const cJSON *at = parent->child; at != NULL && at != child; at = at->next)
        ordinal++;
    return ordinal;
}

/* Goes on to a child, which is made where there is none; `key` is NULL in a list. */
static bool step_into(struct walk *walk, cJSON *child, const char *key)
{
    bool as_list = walk->row != NULL;

    if (child == NULL) {
        child = as_list ? cJSON_CreateArray() : cJSON_CreateObject();
        if (key == NULL)
            cJSON_AddItemToArray(walk->node, child);
        else
            cJSON_AddItemToObject(walk->node, key, child);
        mark(walk, child);
        walk->made_in = walk->made == NULL ? walk->node : walk->made_in;
        walk->made = walk->made == NULL ? child : walk->made;
    }
    if (as_list ? !cJSON_IsArray(child) : !cJSON_IsObject(child))
        return complain(walk, "a way through a value of the wrong kind", as_list ? "a list there" : "a block there");
    wr_reader_enter(walk->reader, child, ordinal_of(walk->node, child), walk->block);
    walk->node = child;
    return true;
}

static bool complain_of_key(struct walk *walk, const char *key)
{
    struct wr_text known = {0};
    struct wr_text found = {0};

    wr_suggest_key(walk->reader, walk->block, key, &known);
    wr_text_add(&found, "the unknown key \"%s\"", key);
    char *allowed = wr_text_take(&known);
    char *words = wr_text_take(&found);
    complain(walk, words, allowed);
    free(allowed);
    free(words);
    return false;
}

/* Sets or adds a member of the block at the end of the pointer. */
static bool put_member(struct walk *walk, const char *key, cJSON *old, cJSON *value)
{
    mark(walk, value);
    if (old == NULL)
        return cJSON_AddItemToObject(walk->node, key, value) != 0;
    forget(walk->reader, old);
    return cJSON_ReplaceItemInObjectCaseSensitive(walk->node, key, value) != 0;
}

/* One token of the pointer, in a block. False when the walk has ended; `*value` is NULL once it is in the tree. */
static bool walk_block(struct walk *walk, const char *key, cJSON **value)
{
    const struct wr_parameter *row = wr_block_find(walk->block, key);
    bool is_last = *walk->rest == '\0';
    cJSON *child = cJSON_GetObjectItemCaseSensitive(walk->node, key);

    if (row == NULL && !(is_last && strcmp(key, "note") == 0))
        return complain_of_key(walk, key);
    if (is_last) {
        put_member(walk, key, child, *value);
        *value = NULL;
        return false;
    }
    bool is_list = row->kind == WR_IS_BLOCK_LIST || row->kind == WR_IS_NUMBERS || row->kind == WR_IS_NUMBER_LIST;
    if (!is_list && row->kind != WR_IS_BLOCK)
        return complain(walk, "a way into a value that is no block or list", "a pointer that ends there");
    walk->block = is_list ? NULL : row->block;
    walk->row = is_list ? row : NULL;
    return step_into(walk, child, key);
}

/* The number of an item, the count itself for "-"; false when the token is neither or beyond. */
static bool item_number(const char *token, size_t count, size_t *number)
{
    if (strcmp(token, "-") == 0) {
        *number = count;
        return true;
    }
    if (*token == '\0' || token[strspn(token, "0123456789")] != '\0' || (token[0] == '0' && token[1] != '\0'))
        return false;
    *number = strtoull(token, NULL, 10);
    return *number <= count;
}

static bool complain_of_item(struct walk *walk, const char *token, size_t count)
{
    wr_complain_of_setting(walk->reader, walk->setting, walk->pointer,
                           "found the item \"%s\" of a list of %zu; allowed: 0 to %zu, or \"-\" to add one", token,
                           count, count);
    return false;
}

/* One token of the pointer, in a list; as walk_block. */
static bool walk_list(struct walk *walk, const char *token, cJSON **value)
{
    size_t number;
    size_t count = (size_t)cJSON_GetArraySize(walk->node);

    if (!item_number(token, count, &number))
        return complain_of_item(walk, token, count);
    cJSON *child = number < count ? cJSON_GetArrayItem(walk->node, (int)number) : NULL;
    if (*walk->rest == '\0') {
        mark(walk, *value);
        if (child == NULL) {
            cJSON_AddItemToArray(walk->node, *value);
        } else {
            forget(walk->reader, child);
            cJSON_ReplaceItemInArray(walk->node, (int)number, *value);
        }
        *value = NULL;
        return false;
    }
    if (walk->row->block == NULL)
        return complain(walk, "a way into a value that is no block or list", "a pointer that ends there");
    walk->block = walk->row->block;
    walk->row = NULL;
    return step_into(walk, child, NULL);
}

/* One token of the pointer. */
static bool walk_on(struct walk *walk, cJSON **value)
{
    char token[TOKEN_MOST];
    const char *rest = wr_pointer_next(walk->rest, token, sizeof token);

    if (rest == NULL)
        return complain(walk, "a badly written pointer", "one such as /wash/backwash_rate, with ~0 for ~ and ~1 for /");
    walk->rest = rest;
    return walk->row != NULL ? walk_list(walk, token, value) : walk_block(walk, token, value);
}

void wr_setting_apply(struct wr_reader *reader, const char *setting)
{
    const char *equals = strchr(setting, '=');

    if (equals == NULL || setting[0] != '/' || !wr_json_is_utf8(setting)) {
        wr_complain_of_setting(reader, wr_json_is_utf8(setting) ? setting : "?", "",
                               "found no setting; allowed: POINTER=VALUE such as /horizon=365 d");
        return;
    }
    struct wr_text pointer = {0};
    wr_text_add(&pointer, "%.*s", (int)(equals - setting), setting);
    struct walk walk = {
        .reader = reader, .setting = setting, .node = reader->reading->tree, .block = &wr_block_scenario};
    walk.pointer = wr_text_take(&pointer);
    walk.rest = walk.pointer;
    cJSON *value = value_of(equals + 1);
    while (walk_on(&walk, &value))
        continue;
    /* The value did not find its place: what was made on the way to it goes again. */
    if (value != NULL && walk.made != NULL) {
        forget(reader, walk.made);
        cJSON_Delete(cJSON_DetachItemViaPointer(walk.made_in, walk.made));
    }
    cJSON_Delete(value);
    free(walk.pointer);
    reader->path.depth = 0;
}
