/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_TEXT_H
#define WR_SIM_SCENARIO_TEXT_H

/* Text that grows, and memory that is there or ends the program: a scenario of at most 16 MB that does not fit in
 * memory is a fault of the machine, not of the scenario. */

#include <stddef.h>

struct wr_text {
    char *bytes; /* ends with a zero; NULL while nothing was added */
    size_t length;
    size_t capacity;
};

/* Adds formatted text at the end. */
void wr_text_add(struct wr_text *text, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Hands the bytes to the caller, who frees them, and empties `*text`; never NULL. */
char *wr_text_take(struct wr_text *text);

/* A copy of `text` that the caller frees; NULL stays NULL. */
char *wr_text_copy(const char *text);

/* `count` zeroed items of `size` bytes; NULL only when there are none. The caller frees them. */
void *wr_items_new(size_t count, size_t size);

/* `items` made longer or shorter to `count` items of `size` bytes; new bytes are not set. */
void *wr_items_resized(void *items, size_t count, size_t size);

#endif
