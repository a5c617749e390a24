/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_INPUT_EDIT_H
#define WR_TESTS_INPUT_EDIT_H

/* Scenarios for tests, edited as text. */

#include <stddef.h>

/* The bytes of a file of the tree, zero-ended; the caller frees them. */
char *wr_edit_file(const char *path);

/* A copy of `text` with the first `from` replaced by `to`; fails the test when there is none. The caller frees it. */
char *wr_edit_replace(const char *text, const char *from, const char *to);

/* All complaints about `text`, called "plant.json", as one text; "" when it is good. The caller frees it. */
char *wr_edit_complaints(const char *text, const char *const *settings, size_t setting_count);

#endif
