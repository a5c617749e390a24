/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_READER_H
#define WR_SIM_SCENARIO_READER_H

/* A reading under way: where it stands in the tree, and its complaints. Inside sim/scenario/ only. */

#include <stdbool.h>
#include <stddef.h>

#include <cjson/cJSON.h>

#include "sim/scenario/parameter.h"
#include "sim/scenario/read.h"

/* Blocks and lists within each other that a path can hold; the table needs seven. */
enum { WR_PATH_DEEPEST = 24 };

/* One step from a block or list to a child. */
struct wr_step {
    const cJSON *node; /* the child */
    const char *key;   /* its key, NULL for an item of a list; borrowed from the tree */
    size_t ordinal;    /* its number among the children, from 0 */
};

/* The way from the top of the tree to a value. */
struct wr_path {
    struct wr_step steps[WR_PATH_DEEPEST];
    const struct wr_block *blocks[WR_PATH_DEEPEST + 1]; /* [i]: the block that step i - 1 leads to, or NULL */
    size_t depth;
};

/* A value that a setting put into the tree. */
struct wr_mark {
    const cJSON *node;
    const char *setting;
};

struct wr_reader {
    struct wr_reading *reading;
    const char *text; /* of the file, zero-ended; NULL when it could not be read */
    struct wr_path path;
    struct wr_mark *marks;
    size_t mark_count;
    double start;        /* of the run, from which dates in it count */
    enum wr_units units; /* in which limits are told */
};

/* True when there are as many complaints as anybody reads; then the next is counted here and need not be put in words.
 */
bool wr_has_enough(struct wr_reader *reader);

/* What a complaint points at. */
enum wr_place { WR_AT_VALUE, WR_AT_KEY };

/* Complains about the value that the reader stands on, or about `child` of it, a key that is missing or unknown; NULL
 * for the value itself. Line and column are those of the value stood on, or of its key. */
void wr_complain(struct wr_reader *reader, const char *child, enum wr_place place, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Complains about the value that a pointer leads to, at the line of the nearest value around it that is written. */
void wr_complain_at(struct wr_reader *reader, const char *pointer, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Complains about a setting that cannot be applied. */
void wr_complain_of_setting(struct wr_reader *reader, const char *setting, const char *pointer, const char *format, ...)
    __attribute__((format(printf, 4, 5)));

/* Complains about the text itself, at a byte of it, or about the file where it is (size_t)-1. */
void wr_complain_of_text(struct wr_reader *reader, size_t at, const char *message);

/* Goes to a child and comes back. False, and nothing done, when the path is full. */
bool wr_reader_enter(struct wr_reader *reader, const cJSON *child, size_t ordinal, const struct wr_block *block);
void wr_reader_leave(struct wr_reader *reader);

/* The value at an RFC 6901 pointer in the tree, NULL where nothing is written. */
const cJSON *wr_tree_find(const cJSON *tree, const char *pointer);

/* Takes the next token off a pointer: unescapes it into `token` and returns what follows, from the next '/' on. NULL,
 * with nothing taken, when the pointer does not start with '/' or the token is longer than `size` or badly escaped. */
const char *wr_pointer_next(const char *pointer, char *token, size_t size);

/* Adds a token to a pointer, escaped. */
void wr_pointer_add(struct wr_text *pointer, const char *token);

/* Adds what a JSON value is, in words or as it is written, at most some 60 bytes of it: "a block", "12", "\"12 psi\"".
 */
void wr_tree_describe(const cJSON *value, struct wr_text *text);

/* Adds the keys of `block` and, for a `key` that is none of them, the nearest known one, here or in the block around or
 * one within: `"backwash_rate" or "note"; did you mean ...?`. The reader stands on the block. */
void wr_suggest_key(struct wr_reader *reader, const struct wr_block *block, const char *key, struct wr_text *text);

#endif
