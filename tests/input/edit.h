/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_INPUT_EDIT_H
#define WR_TESTS_INPUT_EDIT_H

/* Scenarios for tests, edited as text. */

#include <stddef.h>

#include "sim/scenario/read.h"

/* The plant with every key that fits beside the others, and the plant with the fewest. */
#define PLANT "tests/input/plant.json"
#define LEAST "tests/input/least.json"

/* The bytes of a file of the tree, zero-ended; the caller frees them. */
char *wr_edit_file(const char *path);

/* A copy of `text` with the first `from` replaced by `to`; fails the test when there is none. The caller frees it. */
char *wr_edit_replace(const char *text, const char *from, const char *to);

/* All complaints about `text`, called "plant.json", as one text; "" when it is good. The caller frees it. */
char *wr_edit_complaints(const char *text, const char *const *settings, size_t setting_count);

/* Reads a file of the tree, which must be good. Free with wr_reading_fini. */
void wr_edit_read(struct wr_reading *reading, const char *path);

/* Compares a text with a file of the tree, line by line, so that a difference is shown by its line. The text is left in
 * pieces. */
void wr_edit_compare(char *text, const char *path);

/* A file with one stretch of its text replaced, and all that is said of it. */
struct wr_edit {
    const char *file;
    const char *from;
    const char *to;
    const char *expected;
};

/* Compares the complaints of each edit with those expected, word for word. */
void wr_edits_check(const struct wr_edit *edits, size_t count);

#define WR_CHECK_EDITS(edits) wr_edits_check(edits, sizeof(edits) / sizeof(edits)[0])

#endif
