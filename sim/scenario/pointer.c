/* SPDX-License-Identifier: GPL-3.0-or-later */
/* RFC 6901 pointers, token by token. */
#include <string.h>

#include "sim/scenario/reader.h"

/* Takes one character of a token; "~0" stands for '~', "~1" for '/'. Returns how many bytes, 0 for a bad escape. */
static size_t take(const char *from, char *to)
{
    if (*from != '~') {
        *to = *from;
        return 1;
    }
    *to = from[1] == '0' ? '~' : '/';
    return from[1] == '0' || from[1] == '1' ? 2 : 0;
}

const char *wr_pointer_next(const char *pointer, char *token, size_t size)
{
    size_t length = 0;

    if (*pointer != '/')
        return NULL;
    for (pointer++; *pointer != '\0' && *pointer != '/';) {
        size_t taken = length + 1 < size ? take(pointer, &token[length]) : 0;
        if (taken == 0)
            return NULL;
        pointer += taken;
        length++;
    }
    token[length] = '\0';
    return pointer;
}

void wr_pointer_add(struct wr_text *pointer, const char *token)
{
    wr_text_add(pointer, "/");
    for (; *token != '\0'; token++) {
        if (*token == '~' || *token == '/')
            wr_text_add(pointer, *token == '~' ? "~0" : "~1");
        else
            wr_text_add(pointer, "%c", *token);
    }
}
