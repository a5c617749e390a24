/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Complaints: where they point and how they are kept in the order of the file. */
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/json_scan.h"
#include "sim/scenario/reader.h"

/* More than these say nothing new. */
enum { COMPLAINTS_MOST = 200, MESSAGE_MOST = 1200 };

bool wr_reader_enter(struct wr_reader *reader, const cJSON *child, size_t ordinal, const struct wr_block *block)
{
    struct wr_path *path = &reader->path;

    if (path->depth == WR_PATH_DEEPEST)
        return false;
    path->steps[path->depth] = (struct wr_step){child, child->string, ordinal};
    path->blocks[++path->depth] = block;
    return true;
}

void wr_reader_leave(struct wr_reader *reader)
{
    reader->path.depth--;
}

/* The setting that put the value at the end of a path into the tree, NULL when the file did. */
static const char *setting_of(const struct wr_reader *reader, const struct wr_path *path)
{
    for (size_t depth = path->depth; depth-- > 0;) {
        for (size_t i = 0; i < reader->mark_count; i++) {
            if (reader->marks[i].node == path->steps[depth].node)
                return reader->marks[i].setting;
        }
    }
    return NULL;
}

/* Line and column of the end of a path in the text. */
static void find_place(const struct wr_reader *reader, const struct wr_path *path, enum wr_place place,
                       struct wr_complaint *complaint)
{
    size_t ordinals[WR_PATH_DEEPEST];

    for (size_t i = 0; i < path->depth; i++)
        ordinals[i] = path->steps[i].ordinal;
    size_t at = wr_json_place(reader->text, ordinals, path->depth, place == WR_AT_KEY);
    wr_json_line_column(reader->text, at, &complaint->line, &complaint->column);
}

static bool comes_before(const struct wr_complaint *a, const struct wr_complaint *b)
{
    if ((a->line == 0) != (b->line == 0))
        return a->line != 0;
    return a->line != b->line ? a->line < b->line : a->column < b->column;
}

bool wr_has_enough(struct wr_reader *reader)
{
    if (reader->reading->complaint_count < COMPLAINTS_MOST)
        return false;
    reader->reading->complaints_left_out++;
    return true;
}

/* Keeps a complaint after those that come before it or are its equals. Owns its texts. */
static void keep(struct wr_reader *reader, struct wr_complaint complaint)
{
    struct wr_reading *reading = reader->reading;
    size_t place = reading->complaint_count;

    reading->complaints = wr_items_resized(reading->complaints, place + 1, sizeof *reading->complaints);
    for (; place > 0 && comes_before(&complaint, &reading->complaints[place - 1]); place--)
        reading->complaints[place] = reading->complaints[place - 1];
    reading->complaints[place] = complaint;
    reading->complaint_count++;
}

/* A complaint is one line: what would break it is written as '?'. */
static char *one_line(char *text)
{
    for (char *byte = text; *byte != '\0'; byte++) {
        if ((unsigned char)*byte < 0x20 || *byte == 0x7f)
            *byte = '?';
    }
    return text;
}

static char *message_of(const char *format, va_list arguments)
{
    char message[MESSAGE_MOST];

    vsnprintf(message, sizeof message, format, arguments);
    /* A cut must not leave the beginning of a character. */
    size_t length = strlen(message);
    while (length > 0 && !wr_json_is_utf8(message))
        message[--length] = '\0';
    return wr_text_copy(one_line(message));
}

static char *pointer_of(const struct wr_path *path, const char *child)
{
    struct wr_text pointer = {0};

    for (size_t i = 0; i < path->depth; i++) {
        if (path->steps[i].key != NULL)
            wr_pointer_add(&pointer, path->steps[i].key);
        else
            wr_text_add(&pointer, "/%zu", path->steps[i].ordinal);
    }
    if (child != NULL)
        wr_pointer_add(&pointer, child);
    return one_line(wr_text_take(&pointer));
}

static void keep_at(struct wr_reader *reader, const struct wr_path *path, enum wr_place place, char *pointer,
                    char *message)
{
    struct wr_complaint complaint = {.pointer = pointer, .message = message};
    const char *setting = setting_of(reader, path);

    if (setting != NULL)
        complaint.setting = one_line(wr_text_copy(setting));
    else if (reader->text != NULL)
        find_place(reader, path, place, &complaint);
    keep(reader, complaint);
}

void wr_complain(struct wr_reader *reader, const char *child, enum wr_place place, const char *format, ...)
{
    va_list arguments;

    if (wr_has_enough(reader))
        return;
    va_start(arguments, format);
    char *message = message_of(format, arguments);
    va_end(arguments);
    keep_at(reader, &reader->path, place, pointer_of(&reader->path, child), message);
}

/* The child of `node` that a token names, NULL when there is none. */
static const cJSON *child_of(const cJSON *node, const char *token, size_t *ordinal)
{
    const cJSON *child;
    char *end = NULL;
    size_t index = cJSON_IsArray(node) ? (size_t)strtoull(token, &end, 10) : 0;

    if (cJSON_IsArray(node) && (*token < '0' || *token > '9' || *end != '\0'))
        return NULL;
    *ordinal = 0;
    cJSON_ArrayForEach(child, node)
    {
        if (cJSON_IsArray(node) ? *ordinal == index : strcmp(child->string, token) == 0)
            return child;
        (*ordinal)++;
    }
    return NULL;
}

/* The path along a pointer as far as the tree goes. */
static void follow(const cJSON *tree, const char *pointer, struct wr_path *path)
{
    char token[256];
    const cJSON *node = tree;

    path->depth = 0;
    while (node != NULL && path->depth < WR_PATH_DEEPEST) {
        size_t ordinal = 0;
        pointer = wr_pointer_next(pointer, token, sizeof token);
        node = pointer == NULL ? NULL : child_of(node, token, &ordinal);
        if (node != NULL)
            path->steps[path->depth++] = (struct wr_step){node, node->string, ordinal};
    }
}

void wr_complain_at(struct wr_reader *reader, const char *pointer, const char *format, ...)
{
    struct wr_path path;
    va_list arguments;

    if (wr_has_enough(reader))
        return;
    va_start(arguments, format);
    char *message = message_of(format, arguments);
    va_end(arguments);
    follow(reader->reading->tree, pointer, &path);
    keep_at(reader, &path, WR_AT_VALUE, one_line(wr_text_copy(pointer)), message);
}

void wr_complain_of_setting(struct wr_reader *reader, const char *setting, const char *pointer, const char *format, ...)
{
    va_list arguments;

    if (wr_has_enough(reader))
        return;
    va_start(arguments, format);
    char *message = message_of(format, arguments);
    va_end(arguments);
    keep(reader, (struct wr_complaint){.setting = one_line(wr_text_copy(setting)),
                                       .pointer = one_line(wr_text_copy(pointer)),
                                       .message = message});
}

void wr_complain_of_text(struct wr_reader *reader, size_t at, const char *message)
{
    struct wr_complaint complaint = {.pointer = wr_text_copy(""), .message = one_line(wr_text_copy(message))};

    if (at != SIZE_MAX)
        wr_json_line_column(reader->text, at, &complaint.line, &complaint.column);
    keep(reader, complaint);
}

const cJSON *wr_tree_find(const cJSON *tree, const char *pointer)
{
    char token[256];
    size_t ordinal;

    while (tree != NULL && *pointer != '\0') {
        pointer = wr_pointer_next(pointer, token, sizeof token);
        tree = pointer == NULL ? NULL : child_of(tree, token, &ordinal);
    }
    return tree;
}

char *wr_reading_complaints_text(const struct wr_reading *reading)
{
    struct wr_text text = {0};

    for (size_t i = 0; i < reading->complaint_count; i++) {
        const struct wr_complaint *complaint = &reading->complaints[i];
        if (complaint->setting != NULL)
            wr_text_add(&text, "--set %s", complaint->setting);
        else if (complaint->line == 0)
            wr_text_add(&text, "%s", reading->file);
        else
            wr_text_add(&text, "%s:%zu", reading->file, complaint->line);
        bool is_whole = complaint->pointer[0] == '\0';
        wr_text_add(&text, "%s%s: %s\n", is_whole ? "" : ": ", complaint->pointer, complaint->message);
    }
    if (reading->complaints_left_out > 0)
        wr_text_add(&text, "%s: and %zu more\n", reading->file, reading->complaints_left_out);
    return wr_text_take(&text);
}
