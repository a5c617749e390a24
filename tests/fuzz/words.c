/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/fuzz/fuzz.h"

#include "sim/scenario/parameter.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { LONGEST = 200, DEEPEST = 8 };

/* What no table has: ends of numbers, broken text, and words that look like numbers. */
static const char *const hostile[] = {
    "null",
    "true",
    "false",
    "[]",
    "{}",
    "\"\"",
    "0",
    "-0",
    "-1",
    "1e308",
    "-1e308",
    "1e309",
    "5e-324",
    "1e-300",
    "NaN",
    "Infinity",
    "9007199254740993",
    "18446744073709551616",
    "\"nan m\"",
    "\"inf s\"",
    "\"0x10 m\"",
    "\"1e400 m\"",
    "\"1e-320 gal\"",
    "\"1 m2/m2/m2\"",
    "\"1 m^9999\"",
    "\"1 (m\"",
    "\"1 m;\"",
    "\"5 m @ 3\"",
    "\"1,000 gal\"",
    "\"\\u0000\"",
    "\"\\ud800\"",
    "\"\xff\xfe\"",
    "\"2026-02-30\"",
    "\"9999-12-31\"",
    "\"24:00\"",
    "\"06:00\"",
    "[[[[",
    "]]]]",
    "{\"a\":",
    "\"-5 psi\"",
    "\"100 %\"",
    "\"101 %\"",
    "\"0 s\"",
    "\"1e-9 s\"",
    "\"365 d\"",
    "/-",
    "/0",
    "/~0",
    "/~1",
    "/~2",
    "/99999999999999999999",
    "=",
};

/* The keys on the way to the row that is visited. */
struct walk {
    struct fuzz_words *words;
    const struct wr_parameter *above[DEEPEST];
};

__attribute__((format(printf, 2, 3))) static void add(struct fuzz_words *words, const char *format, ...)
{
    char word[LONGEST];
    va_list arguments;
    va_start(arguments, format);
    vsnprintf(word, sizeof word, format, arguments);
    va_end(arguments);
    for (size_t i = 0; i < words->count; i++) {
        if (strcmp(words->items[i], word) == 0)
            return;
    }
    words->items = realloc(words->items, (words->count + 1) * sizeof words->items[0]);
    if (words->items == NULL || (words->items[words->count] = strdup(word)) == NULL)
        fuzz_fail("memory", "none");
    words->count++;
}

/* A limit or default as JSON: quantities and words are text, numbers are not. */
static void add_value(struct fuzz_words *words, const struct wr_parameter *row, const char *value)
{
    const bool bare = row->kind == WR_IS_NUMBER || row->kind == WR_IS_WHOLE || row->kind == WR_IS_COUNT ||
                      row->kind == WR_IS_NUMBERS || row->kind == WR_IS_NUMBER_LIST;
    if (value != NULL)
        add(words, bare ? "%s" : "\"%s\"", value);
}

static void add_pointer(struct walk *walk, size_t depth)
{
    char pointer[LONGEST] = "";
    for (size_t i = 0; i <= depth; i++) {
        const size_t end = strlen(pointer);
        const bool list = walk->above[i]->kind == WR_IS_BLOCK_LIST && i < depth;
        snprintf(pointer + end, sizeof pointer - end, "/%s%s", walk->above[i]->key, list ? "/0" : "");
    }
    add(walk->words, "%s=", pointer);
}

static void add_row(const struct wr_block *block, const struct wr_parameter *row, size_t depth, void *context)
{
    struct walk *walk = context;
    struct fuzz_words *words = walk->words;
    (void)block;
    if (depth >= DEEPEST)
        fuzz_fail("deeper than any block", row->key);
    walk->above[depth] = row;
    add(words, "\"%s\":", row->key);
    add_pointer(walk, depth);
    for (size_t i = 0; row->choices != NULL && row->choices[i] != NULL; i++)
        add(words, "\"%s\"", row->choices[i]);
    const char *const values[] = {row->default_text, row->least, row->above, row->most, row->below, row->example};
    for (size_t i = 0; i < sizeof values / sizeof values[0]; i++)
        add_value(words, row, values[i]);
}

void fuzz_words_init(struct fuzz_words *words)
{
    *words = (struct fuzz_words){NULL, 0};
    struct walk walk = {.words = words};
    wr_table_walk(&wr_block_scenario, add_row, &walk);
    for (int quantity = 0; quantity < WR_QUANTITY_COUNT; quantity++) {
        add(words, "\"1 %s\"", wr_quantity_si_unit((enum wr_quantity)quantity));
        add(words, "\"1 %s\"", wr_quantity_unit((enum wr_quantity)quantity, WR_UNITS_US));
        add(words, "\"7.5 %s\"", wr_quantity_unit((enum wr_quantity)quantity, WR_UNITS_SI));
    }
    for (size_t i = 0; i < sizeof hostile / sizeof hostile[0]; i++)
        add(words, "%s", hostile[i]);
}

void fuzz_words_fini(struct fuzz_words *words)
{
    for (size_t i = 0; i < words->count; i++)
        free(words->items[i]);
    free(words->items);
    *words = (struct fuzz_words){NULL, 0};
}
