/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * What libFuzzer starts from, from the parameter table.
 *
 *     fuzz_seeds words             its dictionary, to standard output
 *     fuzz_seeds settings FOLDER   one file for each word that is a pointer, with values from the table
 */
#include "tests/fuzz/fuzz.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

enum { BASES = 8, VALUES = 3 };

static void write_word(const char *word)
{
    putchar('"');
    for (const char *at = word; *at != '\0'; at++) {
        if (*at == '"' || *at == '\\' || !isprint((unsigned char)*at))
            printf("\\x%02x", (unsigned char)*at);
        else
            putchar(*at);
    }
    puts("\"");
}

static FILE *open_seed(const char *folder, const char *kind, size_t number)
{
    char path[512];
    snprintf(path, sizeof path, "%s/%s-%zu", folder, kind, number);
    FILE *file = fopen(path, "wb");
    if (file == NULL)
        fuzz_fail("cannot be written", path);
    return file;
}

/* The words after a pointer are the values that its row has. */
static void write_settings(const struct fuzz_words *words, const char *folder)
{
    for (size_t i = 0; i < words->count; i++) {
        if (words->items[i][0] != '/')
            continue;
        FILE *file = open_seed(folder, "setting", i);
        fprintf(file, "%zu", i % BASES);
        for (size_t value = i + 1; value <= i + VALUES && value < words->count; value++)
            fprintf(file, "%s%s\n", words->items[i], words->items[value]);
        fclose(file);
    }
}

int main(int argc, char **argv)
{
    struct fuzz_words words;
    fuzz_words_init(&words);
    if (argc == 2 && strcmp(argv[1], "words") == 0) {
        for (size_t i = 0; i < words.count; i++)
            write_word(words.items[i]);
    } else if (argc == 3 && strcmp(argv[1], "settings") == 0) {
        write_settings(&words, argv[2]);
    } else {
        fuzz_fail("usage", "words | settings FOLDER");
    }
    fuzz_words_fini(&words);
    return 0;
}
