/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/nearest.h"

#include <ctype.h>
#include <stdbool.h>
#include <string.h>

enum { LONGEST = 63 };

static bool is_same_letter(char a, char b)
{
    return tolower((unsigned char)a) == tolower((unsigned char)b);
}

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

/* One row of the table of distances: the first `i` letters of `word` against every beginning of `known`. */
static void fill_row(const char *word, size_t i, const char *known, size_t length, size_t rows[3][LONGEST + 1])
{
    size_t *row = rows[i % 3];
    const size_t *above = rows[(i + 2) % 3];
    const size_t *two_above = rows[(i + 1) % 3];

    row[0] = i;
    for (size_t j = 1; j <= length; j++) {
        bool same = is_same_letter(word[i - 1], known[j - 1]);
        row[j] = least(above[j - 1] + (same ? 0 : 1), least(above[j], row[j - 1]) + 1);
        if (i > 1 && j > 1 && is_same_letter(word[i - 1], known[j - 2]) && is_same_letter(word[i - 2], known[j - 1]))
            row[j] = least(row[j], two_above[j - 2] + 1);
    }
}

size_t wr_word_distance(const char *word, const char *known)
{
    size_t word_length = strlen(word);
    size_t known_length = strlen(known);
    size_t rows[3][LONGEST + 1];

    if (word_length > LONGEST || known_length > LONGEST)
        return WR_TOO_FAR;
    for (size_t j = 0; j <= known_length; j++)
        rows[0][j] = j;
    for (size_t i = 1; i <= word_length; i++)
        fill_row(word, i, known, known_length, rows);

    size_t distance = rows[word_length % 3][known_length];
    size_t longer = word_length > known_length ? word_length : known_length;
    size_t allowed = longer < 2 ? 0 : longer < 6 ? 1 : longer / 3;
    return distance <= allowed ? distance : WR_TOO_FAR;
}

const char *wr_word_nearest(const char *word, char *const *known, size_t count)
{
    const char *nearest = NULL;
    size_t smallest = WR_TOO_FAR;

    for (size_t i = 0; i < count; i++) {
        size_t distance = wr_word_distance(word, known[i]);
        nearest = distance < smallest ? known[i] : nearest;
        smallest = distance < smallest ? distance : smallest;
    }
    return nearest;
}
