/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/text.h"

#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Ends the program for want of memory. */
static void *need(void *memory)
{
    if (memory == NULL) {
        fputs("washrota: out of memory while reading a scenario\n", stderr);
        abort();
    }
    return memory;
}

void *wr_items_new(size_t count, size_t size)
{
    return count == 0 ? NULL : need(calloc(count, size));
}

void *wr_items_resized(void *items, size_t count, size_t size)
{
    if (count == 0) {
        free(items);
        return NULL;
    }
    return need(count > SIZE_MAX / size ? NULL : realloc(items, count * size));
}

/* Makes room for `more` bytes and the closing zero. */
static void make_room(struct wr_text *text, size_t more)
{
    size_t wanted = text->length + more + 1;

    if (wanted > text->capacity) {
        text->capacity = wanted * 2;
        text->bytes = need(realloc(text->bytes, text->capacity));
    }
}

void wr_text_add(struct wr_text *text, const char *format, ...)
{
    va_list arguments;

    va_start(arguments, format);
    int length = vsnprintf(NULL, 0, format, arguments);
    va_end(arguments);
    if (length < 0)
        return;
    make_room(text, (size_t)length);
    va_start(arguments, format);
    vsnprintf(text->bytes + text->length, (size_t)length + 1, format, arguments);
    va_end(arguments);
    text->length += (size_t)length;
}

char *wr_text_take(struct wr_text *text)
{
    make_room(text, 0);
    text->bytes[text->length] = '\0';
    char *bytes = text->bytes;
    *text = (struct wr_text){0};
    return bytes;
}

char *wr_text_copy(const char *text)
{
    if (text == NULL)
        return NULL;
    size_t size = strlen(text) + 1;
    return memcpy(wr_items_new(size, 1), text, size);
}
