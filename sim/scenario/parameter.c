/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/parameter.h"

#include <assert.h>
#include <ctype.h>
#include <stdlib.h>
#include <string.h>

const struct wr_parameter *wr_block_find(const struct wr_block *block, const char *key)
{
    for (size_t i = 0; i < block->count; i++) {
        if (strcmp(block->parameters[i].key, key) == 0)
            return &block->parameters[i];
    }
    return NULL;
}

/* True when the `length` bytes at `token` stand for an item of a list. */
static bool is_item(const char *token, size_t length)
{
    return length > 0 && (strspn(token, "0123456789") >= length || (length == 1 && token[0] == '-'));
}

const struct wr_parameter *wr_table_find(const char *pointer)
{
    const struct wr_block *block = &wr_block_scenario;
    const struct wr_parameter *row = NULL;

    while (*pointer == '/') {
        const char *token = pointer + 1;
        size_t length = strcspn(token, "/");
        bool in_list = row != NULL &&
                       (row->kind == WR_IS_BLOCK_LIST || row->kind == WR_IS_NUMBER_LIST || row->kind == WR_IS_NUMBERS);
        pointer = token + length;
        if (in_list && is_item(token, length)) {
            block = row->block;
            if (*pointer == '\0')
                return row;
            row = NULL;
            continue;
        }
        char key[64] = "";
        if (in_list || block == NULL || length >= sizeof key)
            return NULL;
        memcpy(key, token, length);
        row = wr_block_find(block, key);
        if (row == NULL)
            return NULL;
        block = row->kind == WR_IS_BLOCK ? row->block : NULL;
    }
    return *pointer == '\0' ? row : NULL;
}

static void walk(const struct wr_block *block, size_t depth, wr_table_visitor *visit, void *context)
{
    for (size_t i = 0; i < block->count; i++) {
        const struct wr_parameter *row = &block->parameters[i];
        visit(block, row, depth, context);
        if (row->block != NULL)
            walk(row->block, depth + 1, visit, context);
    }
}

void wr_table_walk(const struct wr_block *block, wr_table_visitor *visit, void *context)
{
    walk(block, 0, visit, context);
}

size_t wr_parameter_size(const struct wr_parameter *parameter)
{
    switch (parameter->kind) {
    case WR_IS_FORMAT:
        return 0;
    case WR_IS_QUANTITY:
    case WR_IS_NUMBER:
    case WR_IS_WHOLE:
    case WR_IS_DATE:
    case WR_IS_DATE_IN_RUN:
    case WR_IS_CLOCK:
        return sizeof(double);
    case WR_IS_COUNT:
        return sizeof(size_t);
    case WR_IS_CHOICE:
        return sizeof(int);
    case WR_IS_TEXT:
        return sizeof(char *);
    case WR_IS_FLAG:
        return sizeof(bool);
    case WR_IS_NUMBERS:
        return parameter->length * sizeof(double);
    case WR_IS_NUMBER_LIST:
        return sizeof(struct wr_numbers);
    case WR_IS_BLOCK:
        return parameter->block->size;
    case WR_IS_BLOCK_LIST:
        return sizeof(struct wr_numbers);
    }
    assert(false);
    return 0;
}

/* Lists of blocks count their blocks, texts their bytes; others have limits in their own unit. */
double wr_parameter_limit(const struct wr_parameter *parameter, const char *text)
{
    char found[256] = "";
    double value = 0.0;

    if (parameter->kind != WR_IS_CLOCK && parameter->quantity == WR_QUANTITY_NONE)
        return strtod(text, NULL);
    bool fits = parameter->kind == WR_IS_CLOCK
                    ? wr_clock_read(text, &value)
                    : wr_quantity_read(parameter->quantity, text, &value, found, sizeof found);
    assert(fits);
    (void)fits;
    return value;
}

bool wr_parameter_allows(const struct wr_parameter *parameter, double number)
{
    return !((parameter->least != NULL && number < wr_parameter_limit(parameter, parameter->least)) ||
             (parameter->above != NULL && number <= wr_parameter_limit(parameter, parameter->above)) ||
             (parameter->most != NULL && number > wr_parameter_limit(parameter, parameter->most)) ||
             (parameter->below != NULL && number >= wr_parameter_limit(parameter, parameter->below)));
}
