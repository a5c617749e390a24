/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_JSON_SCAN_H
#define WR_SIM_SCENARIO_JSON_SCAN_H

/* JSON by the letter of RFC 8259, ahead of a parser that lets much else pass: numbers such as 01 or 1e999, control
 * characters, text cut short by \u0000, bytes that are not UTF-8. And the way back from a value to its place in the
 * text. */

#include <stdbool.h>
#include <stddef.h>

#define WR_JSON_LARGEST ((size_t)16 * 1024 * 1024) /* bytes */
#define WR_JSON_DEEPEST 100                        /* blocks and lists within each other */

/* Where and how a text is not JSON. */
struct wr_json_fault {
    size_t at;         /* byte */
    char message[160]; /* "found ...; allowed: ..." */
};

/* True when the `length` bytes of `text`, which a zero byte follows, are one JSON value within the limits; else the
 * first fault is in `*fault`. Keys that come twice are left to the reader, which knows the keys. */
bool wr_json_scan(const char *text, size_t length, struct wr_json_fault *fault);

/* The end of the JSON number at `text`, NULL when there is none. */
const char *wr_json_number_end(const char *text);

/* True when the zero-ended `text` is UTF-8. */
bool wr_json_is_utf8(const char *text);

/* The byte at which a value starts that is reached from the top of a scanned `text` by `depth` steps, each the number
 * of a child from 0; with `key` the place of its key where it is a member of an object. */
size_t wr_json_place(const char *text, const size_t *steps, size_t depth, bool key);

/* Line and column, from 1 and in bytes, of a byte of `text`. */
void wr_json_line_column(const char *text, size_t at, size_t *line, size_t *column);

#endif
