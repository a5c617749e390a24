/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Calls a target on every file of its corpus, then on COUNT spoilt copies of them, the same for the same SEED.
 *
 *     fuzz_scenario COUNT SEED FILE...
 *
 * A copy is spoilt in one to four places. Where an input shows a fault the program ends there; with WR_FUZZ_KEEP=FILE
 * in the environment that file then holds the input.
 */
#include "tests/fuzz/fuzz.h"

#include "sim/engine/philox.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST_SPOILS = 4, LARGEST = 1 << 20 };

struct bytes {
    char *data;
    size_t size;
};

struct drive {
    gsl_rng *rng;
    struct fuzz_words words;
    struct bytes *corpus;
    size_t corpus_count;
    const char *keep;
};

static size_t below(struct drive *drive, size_t n)
{
    return n > 1 ? gsl_rng_uniform_int(drive->rng, n) : 0;
}

/* As memcpy, which wants a place to copy from even for nothing. */
static void copy(char *to, const char *from, size_t size)
{
    if (size > 0)
        memcpy(to, from, size);
}

/* Puts `size` bytes in the place of `cut` bytes at `at`. */
static void splice(struct bytes *input, size_t at, size_t cut, const char *data, size_t size)
{
    if (input->size - cut + size > LARGEST)
        return;
    char *made = malloc(input->size - cut + size + 1);
    if (made == NULL)
        fuzz_fail("memory", "none");
    copy(made, input->data, at);
    copy(made + at, data, size);
    if (input->size > at + cut)
        copy(made + at + size, input->data + at + cut, input->size - at - cut);
    free(input->data);
    *input = (struct bytes){made, input->size - cut + size};
}

/* The stretch of a JSON token around a place: text with its marks, or a run of other bytes that JSON does not part. */
static size_t token_at(const struct bytes *input, size_t *at)
{
    static const char parts[] = " \n\t,:[]{}=";
    size_t from = *at, end = *at;
    while (from > 0 && strchr("\n,:[{=", input->data[from - 1]) == NULL)
        from--;
    while (from < input->size && strchr(parts, input->data[from]) != NULL)
        from++;
    end = from;
    if (end < input->size && input->data[end] == '"') {
        for (end++; end < input->size && input->data[end] != '"' && input->data[end] != '\n'; end++)
            ;
        end += end < input->size;
    } else {
        while (end < input->size && strchr(parts, input->data[end]) == NULL)
            end++;
    }
    *at = from;
    return end - from;
}

/* A token gives way to a word. */
static void spoil_token(struct drive *drive, struct bytes *input)
{
    size_t at = below(drive, input->size);
    const size_t cut = token_at(input, &at);
    const char *word = drive->words.items[below(drive, drive->words.count)];
    splice(input, at, cut, word, strlen(word));
}

/* A digit becomes another, or one is added, which moves figures by their powers of ten. */
static void spoil_digit(struct drive *drive, struct bytes *input)
{
    const size_t from = below(drive, input->size);
    const char digit = "0123456789-.e"[below(drive, 13)];
    for (size_t i = 0; i < input->size; i++) {
        const size_t at = (from + i) % input->size;
        if (input->data[at] >= '0' && input->data[at] <= '9') {
            splice(input, at, below(drive, 2), &digit, 1);
            return;
        }
    }
}

/* A line is taken away, or set twice. */
static void spoil_line(struct drive *drive, struct bytes *input)
{
    size_t from = below(drive, input->size), end = from;
    while (from > 0 && input->data[from - 1] != '\n')
        from--;
    while (end < input->size && input->data[end] != '\n')
        end++;
    end += end < input->size;
    if (below(drive, 2) == 0) {
        splice(input, from, end - from, "", 0);
        return;
    }
    char *line = malloc(end - from + 1);
    if (line == NULL)
        fuzz_fail("memory", "none");
    memcpy(line, input->data + from, end - from);
    splice(input, from, 0, line, end - from);
    free(line);
}

static void spoil_byte(struct drive *drive, struct bytes *input)
{
    const char byte = (char)below(drive, 256);
    splice(input, below(drive, input->size), below(drive, 2), &byte, 1);
}

/* The rest is lost, or that of another file follows. */
static void spoil_end(struct drive *drive, struct bytes *input)
{
    const struct bytes *other = &drive->corpus[below(drive, drive->corpus_count)];
    const size_t at = below(drive, input->size), from = below(drive, other->size);
    const size_t size = below(drive, 2) ? other->size - from : 0;
    splice(input, at, input->size - at, other->data + from, size);
}

static void spoil(struct drive *drive, struct bytes *input)
{
    static void (*const ways[])(struct drive *, struct bytes *) = {spoil_token, spoil_token, spoil_token,
                                                                   spoil_digit, spoil_digit, spoil_digit,
                                                                   spoil_line,  spoil_byte,  spoil_end};
    for (size_t i = 1 + below(drive, MOST_SPOILS); i > 0 && input->size > 0; i--)
        ways[below(drive, sizeof ways / sizeof ways[0])](drive, input);
}

static void try(struct drive *drive, const struct bytes *input)
{
    FILE *kept = drive->keep ? fopen(drive->keep, "wb") : NULL;
    if (kept != NULL) {
        fwrite(input->data, 1, input->size, kept);
        fclose(kept);
    }
    LLVMFuzzerTestOneInput((const uint8_t *)input->data, input->size);
}

static void read_corpus(struct drive *drive, char **paths, size_t count)
{
    drive->corpus_count = count;
    drive->corpus = calloc(count, sizeof drive->corpus[0]);
    if (drive->corpus == NULL)
        fuzz_fail("memory", "none");
    for (size_t i = 0; i < count; i++) {
        drive->corpus[i].data = fuzz_file(paths[i], &drive->corpus[i].size);
        try(drive, &drive->corpus[i]);
    }
}

static void try_spoilt(struct drive *drive)
{
    const struct bytes *from = &drive->corpus[below(drive, drive->corpus_count)];
    struct bytes input = {NULL, 0};
    splice(&input, 0, 0, from->data, from->size);
    spoil(drive, &input);
    try(drive, &input);
    free(input.data);
}

int main(int argc, char **argv)
{
    if (argc < 4) {
        fprintf(stderr, "usage: %s COUNT SEED FILE...\n", argv[0]);
        return 2;
    }
    const unsigned long long count = strtoull(argv[1], NULL, 10);
    struct drive drive = {.rng = gsl_rng_alloc(wr_rng_philox), .keep = getenv("WR_FUZZ_KEEP")};
    wr_library_open();
    gsl_rng_set(drive.rng, strtoul(argv[2], NULL, 10));
    fuzz_words_init(&drive.words);
    read_corpus(&drive, argv + 3, (size_t)argc - 3);
    for (unsigned long long i = 0; i < count; i++)
        try_spoilt(&drive);
    printf("%zu files of the corpus and %llu spoilt copies: no fault\n", drive.corpus_count, count);
    for (size_t i = 0; i < drive.corpus_count; i++)
        free(drive.corpus[i].data);
    free(drive.corpus);
    fuzz_words_fini(&drive.words);
    gsl_rng_free(drive.rng);
    wr_library_close();
    return 0;
}
