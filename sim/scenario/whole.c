/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/whole.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/parameter.h"

/* All pointers to structs have one size and form (C17 6.2.5), so the bytes of one serve for any. */
void *wr_list_items(const void *list)
{
    void *items;

    memcpy(&items, (const char *)list + offsetof(struct wr_numbers, items), sizeof items);
    return items;
}

size_t wr_list_count(const void *list)
{
    size_t count;

    memcpy(&count, (const char *)list + offsetof(struct wr_numbers, count), sizeof count);
    return count;
}

void wr_list_set(void *list, void *items, size_t count)
{
    memcpy((char *)list + offsetof(struct wr_numbers, items), &items, sizeof items);
    memcpy((char *)list + offsetof(struct wr_numbers, count), &count, sizeof count);
}

static void block_fini(const struct wr_block *block, char *base)
{
    for (size_t i = 0; i < block->count; i++) {
        const struct wr_parameter *row = &block->parameters[i];
        char *member = base + row->offset;
        if (row->kind == WR_IS_TEXT)
            free(*(char **)(void *)member);
        if (row->kind == WR_IS_BLOCK)
            block_fini(row->block, member);
        for (size_t k = 0; row->kind == WR_IS_BLOCK_LIST && k < wr_list_count(member); k++)
            block_fini(row->block, (char *)wr_list_items(member) + k * row->block->size);
        if (row->kind == WR_IS_BLOCK_LIST || row->kind == WR_IS_NUMBER_LIST)
            free(wr_list_items(member));
    }
}

void wr_definition_fini(struct wr_definition *definition)
{
    block_fini(&wr_block_scenario, (char *)definition);
    memset(definition, 0, sizeof *definition);
}

/* Replaces what a struct, copied byte by byte, shares with its original by copies of its own. */
static void unshare(const struct wr_block *block, char *base)
{
    for (size_t i = 0; i < block->count; i++) {
        const struct wr_parameter *row = &block->parameters[i];
        char *member = base + row->offset;
        bool is_list = row->kind == WR_IS_BLOCK_LIST || row->kind == WR_IS_NUMBER_LIST;
        size_t count = is_list ? wr_list_count(member) : 0;
        size_t size = row->kind == WR_IS_BLOCK_LIST ? row->block->size : sizeof(double);
        if (row->kind == WR_IS_TEXT)
            *(char **)(void *)member = wr_text_copy(*(char **)(void *)member);
        if (row->kind == WR_IS_BLOCK)
            unshare(row->block, member);
        if (count > 0)
            wr_list_set(member, memcpy(wr_items_new(count, size), wr_list_items(member), count * size), count);
        for (size_t k = 0; row->kind == WR_IS_BLOCK_LIST && k < count; k++)
            unshare(row->block, (char *)wr_list_items(member) + k * size);
    }
}

void wr_definition_copy(const struct wr_definition *definition, struct wr_definition *copy)
{
    *copy = *definition;
    unshare(&wr_block_scenario, (char *)copy);
}

static bool are_same_numbers(const void *a, const void *b, size_t count)
{
    const double *left = a;
    const double *right = b;

    for (size_t i = 0; i < count; i++) {
        bool same = left[i] <= right[i] && left[i] >= right[i];
        if (!same && !(isnan(left[i]) && isnan(right[i])))
            return false;
    }
    return true;
}

static bool are_same_texts(const char *a, const char *b)
{
    return a == NULL || b == NULL ? a == b : strcmp(a, b) == 0;
}

static bool are_same_blocks(const struct wr_block *block, const char *a, const char *b);

static bool are_same_lists(const struct wr_parameter *row, const void *a, const void *b)
{
    const char *left = wr_list_items(a);
    const char *right = wr_list_items(b);
    size_t count = wr_list_count(a);

    if (count != wr_list_count(b))
        return false;
    if (row->kind == WR_IS_NUMBER_LIST)
        return are_same_numbers(left, right, count);
    for (size_t i = 0; i < count; i++) {
        if (!are_same_blocks(row->block, left + i * row->block->size, right + i * row->block->size))
            return false;
    }
    return true;
}

static bool are_same_members(const struct wr_parameter *row, const void *a, const void *b)
{
    switch (row->kind) {
    case WR_IS_FORMAT:
        return true;
    case WR_IS_QUANTITY:
    case WR_IS_NUMBER:
    case WR_IS_WHOLE:
    case WR_IS_DATE:
    case WR_IS_DATE_IN_RUN:
    case WR_IS_CLOCK:
        return are_same_numbers(a, b, 1);
    case WR_IS_NUMBERS:
        return are_same_numbers(a, b, row->length);
    case WR_IS_COUNT:
    case WR_IS_CHOICE:
    case WR_IS_FLAG:
        return memcmp(a, b, wr_parameter_size(row)) == 0;
    case WR_IS_TEXT:
        return are_same_texts(*(char *const *)a, *(char *const *)b);
    case WR_IS_NUMBER_LIST:
    case WR_IS_BLOCK_LIST:
        return are_same_lists(row, a, b);
    case WR_IS_BLOCK:
        return are_same_blocks(row->block, a, b);
    }
    return false;
}

static bool are_same_blocks(const struct wr_block *block, const char *a, const char *b)
{
    for (size_t i = 0; i < block->count; i++) {
        const struct wr_parameter *row = &block->parameters[i];
        if (row->has_presence && *(a + row->presence) != *(b + row->presence))
            return false;
        if (!are_same_members(row, a + row->offset, b + row->offset))
            return false;
    }
    return true;
}

bool wr_definition_equal(const struct wr_definition *a, const struct wr_definition *b)
{
    return are_same_blocks(&wr_block_scenario, (const char *)a, (const char *)b);
}
