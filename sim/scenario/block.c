/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/block.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

/* Most keys that a block may have. */
enum { KEYS_MOST = 64 };

static void default_number(const struct wr_parameter *row, double *member, size_t count)
{
    double value = row->default_text == NULL ? WR_ABSENT : wr_parameter_limit(row, row->default_text);

    for (size_t i = 0; i < count; i++)
        member[i] = value;
}

static void default_date(const struct wr_parameter *row, double *member)
{
    *member = WR_ABSENT;
    if (row->default_text != NULL) {
        bool is_date = wr_date_read(row->default_text, member);
        assert(is_date);
        (void)is_date;
    }
}

static void default_choice(const struct wr_parameter *row, int *member)
{
    *member = 0;
    while (row->default_text != NULL && strcmp(row->choices[*member], row->default_text) != 0)
        (*member)++;
}

/* Lists are empty when left out, blocks hold their own defaults. */
static void default_member(const struct wr_parameter *row, char *base)
{
    void *member = base + row->offset;

    memset(member, 0, wr_parameter_size(row));
    switch (row->kind) {
    case WR_IS_QUANTITY:
    case WR_IS_NUMBER:
    case WR_IS_WHOLE:
    case WR_IS_CLOCK:
        default_number(row, member, 1);
        break;
    case WR_IS_NUMBERS:
        default_number(row, member, row->length);
        break;
    case WR_IS_COUNT:
        *(size_t *)member = row->default_text == NULL ? 0 : strtoul(row->default_text, NULL, 10);
        break;
    case WR_IS_CHOICE:
        default_choice(row, member);
        break;
    case WR_IS_TEXT:
        *(char **)member = wr_text_copy(row->default_text);
        break;
    case WR_IS_FLAG:
        *(bool *)member = row->default_text != NULL && strcmp(row->default_text, "true") == 0;
        break;
    case WR_IS_DATE:
    case WR_IS_DATE_IN_RUN:
        default_date(row, member);
        break;
    case WR_IS_BLOCK:
        wr_block_default(row->block, member);
        if (row->has_presence)
            *(bool *)(base + row->presence) = false;
        break;
    case WR_IS_FORMAT:
    case WR_IS_NUMBER_LIST:
    case WR_IS_BLOCK_LIST:
        break;
    }
}

void wr_block_default(const struct wr_block *block, void *base)
{
    memset(base, 0, block->size);
    for (size_t i = 0; i < block->count; i++)
        default_member(&block->parameters[i], base);
}

static void complain_of_unknown(struct wr_reader *reader, const struct wr_block *block, const cJSON *child,
                                size_t ordinal)
{
    struct wr_text known = {0};

    if (wr_has_enough(reader))
        return;
    wr_suggest_key(reader, block, child->string, &known);
    char *words = wr_text_take(&known);
    if (wr_reader_enter(reader, child, ordinal, NULL)) {
        wr_complain(reader, NULL, WR_AT_KEY, "found an unknown key; allowed: %s", words);
        wr_reader_leave(reader);
    }
    free(words);
}

static void complain_of_missing(struct wr_reader *reader, const struct wr_parameter *row)
{
    struct wr_text text = {0};

    if (wr_has_enough(reader))
        return;
    wr_parameter_allowed(row, &reader->units, &text);
    char *allowed = wr_text_take(&text);
    wr_complain(reader, row->key, WR_AT_VALUE, "found nothing, but it must be given; allowed: %s", allowed);
    free(allowed);
}

/* Reads a known key's value; the reader stands on it. */
static void read_member(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value, char *base)
{
    if (row->has_presence)
        *(bool *)(base + row->presence) = true;
    wr_member_read(reader, row, value, base + row->offset);
}

/* Reads one child of a block that is no unknown key. `seen` is NULL for a note. */
static void read_child(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *child, char *base,
                       bool *seen)
{
    if (seen == NULL) {
        if (!cJSON_IsString(child))
            wr_complain(reader, NULL, WR_AT_VALUE, "found a note that is not text; allowed: text");
        return;
    }
    if (*seen)
        wr_complain(reader, NULL, WR_AT_KEY, "found a key that was given before; allowed: each key once");
    else
        read_member(reader, row, child, base);
    *seen = true;
}

void wr_block_read(struct wr_reader *reader, const struct wr_block *block, const cJSON *object, void *base)
{
    bool seen[KEYS_MOST] = {false};
    size_t ordinal = 0;
    const cJSON *child;

    assert(block->count <= KEYS_MOST);
    cJSON_ArrayForEach(child, object)
    {
        const struct wr_parameter *row = wr_block_find(block, child->string);
        bool is_note = strcmp(child->string, "note") == 0;
        if (row == NULL && !is_note) {
            complain_of_unknown(reader, block, child, ordinal);
        } else if (wr_reader_enter(reader, child, ordinal,
                                   row != NULL && row->kind == WR_IS_BLOCK ? row->block : NULL)) {
            read_child(reader, row, child, base, row == NULL ? NULL : &seen[row - block->parameters]);
            wr_reader_leave(reader);
        }
        ordinal++;
    }
    for (size_t i = 0; i < block->count; i++) {
        if (block->parameters[i].required && !seen[i])
            complain_of_missing(reader, &block->parameters[i]);
    }
}
