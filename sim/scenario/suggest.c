/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was found, and what was probably meant. */
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/json_scan.h"
#include "sim/scenario/nearest.h"
#include "sim/scenario/reader.h"

/* Longest part of a value that is shown, in bytes. */
enum { SHOWN_MOST = 60 };

void wr_tree_describe(const cJSON *value, struct wr_text *text)
{
    if (cJSON_IsObject(value) || cJSON_IsArray(value)) {
        wr_text_add(text, cJSON_IsObject(value) ? "a block" : "a list of %d", cJSON_GetArraySize(value));
        return;
    }
    char *written = cJSON_PrintUnformatted(value);
    size_t length = written == NULL ? 0 : strlen(written);
    bool is_long = length > SHOWN_MOST;
    if (is_long) {
        /* Cut between characters: bytes 10xxxxxx go on from the one before. */
        for (length = SHOWN_MOST - 3; length > 0 && ((unsigned char)written[length] & 0xc0) == 0x80;)
            length--;
    }
    wr_text_add(text, "%.*s%s", (int)length, written == NULL ? "" : written, is_long ? "..." : "");
    free(written);
}

/* The best of what was looked at so far. */
struct guess {
    const char *key;
    size_t distance;
    const struct wr_parameter *within; /* the row of the block within that holds the key, NULL for others */
    bool around;                       /* the block around holds it */
};

static void consider(struct guess *best, const char *word, const struct wr_block *block, struct guess as)
{
    for (size_t i = 0; i < block->count; i++) {
        as.key = block->parameters[i].key;
        as.distance = wr_word_distance(word, as.key);
        if (as.distance < best->distance)
            *best = as;
    }
}

/* The block around the one that the reader stands on, and its depth in the path; NULL at the top. */
static const struct wr_block *block_around(const struct wr_path *path, size_t *depth)
{
    for (*depth = path->depth; (*depth)-- > 0;) {
        if (path->blocks[*depth] != NULL)
            return path->blocks[*depth];
    }
    return NULL;
}

/* Adds the pointer to the block at a depth of the path, "" for the whole. */
static void add_pointer(struct wr_text *text, const struct wr_path *path, size_t depth)
{
    for (size_t i = 0; i < depth; i++) {
        if (path->steps[i].key != NULL)
            wr_pointer_add(text, path->steps[i].key);
        else
            wr_text_add(text, "/%zu", path->steps[i].ordinal);
    }
}

static void add_guess(const struct wr_path *path, const struct guess *guess, size_t depth_around, struct wr_text *text)
{
    wr_text_add(text, "; did you mean \"%s\"", guess->key);
    if (guess->around && depth_around == 0)
        wr_text_add(text, " at the top");
    if (guess->within != NULL || (guess->around && depth_around > 0)) {
        wr_text_add(text, " in ");
        add_pointer(text, path, guess->within != NULL ? path->depth : depth_around);
    }
    if (guess->within != NULL) {
        wr_pointer_add(text, guess->within->key);
        wr_text_add(text, guess->within->kind == WR_IS_BLOCK_LIST ? "/0 and so on" : "");
    }
    wr_text_add(text, "?");
}

void wr_suggest_key(struct wr_reader *reader, const struct wr_block *block, const char *key, struct wr_text *text)
{
    struct guess best = {.distance = WR_TOO_FAR};
    size_t depth_around;
    const struct wr_block *around = block_around(&reader->path, &depth_around);

    for (size_t i = 0; i < block->count; i++)
        wr_text_add(text, "\"%s\", ", block->parameters[i].key);
    wr_text_add(text, "\"note\"");
    if (wr_word_distance(key, "note") != WR_TOO_FAR)
        best = (struct guess){.key = "note", .distance = wr_word_distance(key, "note")};
    consider(&best, key, block, (struct guess){0});
    for (size_t i = 0; i < block->count; i++) {
        if (block->parameters[i].block != NULL)
            consider(&best, key, block->parameters[i].block, (struct guess){.within = &block->parameters[i]});
    }
    if (around != NULL)
        consider(&best, key, around, (struct guess){.around = true});
    if (best.key != NULL)
        add_guess(&reader->path, &best, depth_around, text);
}
