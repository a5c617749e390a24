/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/page.h"

#include <stdarg.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Growing ------------------------------------------------------------------------------------------------------- */

static void make_room(struct wr_page *page, size_t more)
{
    const size_t wanted = page->length + more + 1;
    if (wanted <= page->room)
        return;
    page->room = wanted * 2;
    char *grown = realloc(page->bytes, page->room);
    if (grown == NULL) {
        fputs("washrota: out of memory while writing a report\n", stderr);
        abort();
    }
    page->bytes = grown;
}

static void add_bytes(struct wr_page *page, const char *bytes, size_t length)
{
    make_room(page, length);
    memcpy(page->bytes + page->length, bytes, length);
    page->length += length;
    page->bytes[page->length] = '\0';
}

static void add_blanks(struct wr_page *page, size_t count)
{
    while (count-- > 0)
        add_bytes(page, " ", 1);
}

static void add_formatted(struct wr_page *page, const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    const int length = vsnprintf(NULL, 0, format, arguments);
    if (length > 0) {
        make_room(page, (size_t)length);
        vsnprintf(page->bytes + page->length, (size_t)length + 1, format, again);
        page->length += (size_t)length;
    }
    va_end(again);
}

void wr_page_add(struct wr_page *page, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    add_formatted(page, format, arguments);
    va_end(arguments);
}

char *wr_page_take(struct wr_page *page)
{
    make_room(page, 0);
    page->bytes[page->length] = '\0';
    char *bytes = page->bytes;
    *page = (struct wr_page){0};
    return bytes;
}

/* Characters ------------------------------------------------------------------------------------------------------ */

/* True for a byte that goes on with a UTF-8 character begun before. */
static bool goes_on(char byte)
{
    return ((unsigned char)byte & 0xC0U) == 0x80U;
}

/* Columns of a text. */
static size_t columns_of(const char *text, size_t length)
{
    size_t columns = 0;
    for (size_t i = 0; i < length; i++)
        columns += !goes_on(text[i]);
    return columns;
}

/* Bytes of the first characters of a text, at most `columns` of them. */
static size_t bytes_of(const char *text, size_t length, size_t columns)
{
    size_t i = 0;
    for (size_t taken = 0; i < length; i++) {
        if (!goes_on(text[i]) && taken++ == columns)
            break;
    }
    return i;
}

/* C0 controls and DEL, and in UTF-8 the C1 controls and the marks that change a line or its direction, become blanks.
 */
static void blank_controls(char *text)
{
    for (char *p = text; *p != '\0'; p++) {
        const unsigned char byte = (unsigned char)*p;
        const unsigned char next = (unsigned char)p[1];
        if (byte < 0x20 || byte == 0x7F)
            *p = ' ';
        else if (byte == 0xC2 && next >= 0x80 && next <= 0x9F)
            p[0] = p[1] = ' ';
        else if (byte == 0xE2 && next == 0x80 && ((unsigned char)p[2] & 0xF8U) == 0xA8U)
            p[0] = p[1] = p[2] = ' ';
    }
}

/* Flowing --------------------------------------------------------------------------------------------------------- */

void wr_page_heading(struct wr_page *page, const char *heading)
{
    wr_page_add(page, "\n%s\n", heading);
}

/* A line being filled. */
struct line {
    struct wr_page *page;
    size_t indent; /* of the lines after the first */
    size_t used;   /* columns */
    bool begun;    /* a word stands on it */
};

static void next_line(struct line *line)
{
    add_bytes(line->page, "\n", 1);
    add_blanks(line->page, line->indent);
    line->used = line->indent;
    line->begun = false;
}

/* Sets a word; one that no line can hold is cut. */
static void set_word(struct line *line, const char *word, size_t length)
{
    const size_t columns = columns_of(word, length), gap = line->begun ? 1 : 0;
    if (line->begun && line->used + gap + columns > WR_PAGE_WIDTH)
        next_line(line);
    else if (gap > 0) {
        add_blanks(line->page, 1);
        line->used++;
    }
    while (columns_of(word, length) > WR_PAGE_WIDTH - line->used) {
        const size_t part = bytes_of(word, length, WR_PAGE_WIDTH - line->used);
        add_bytes(line->page, word, part);
        word += part;
        length -= part;
        next_line(line);
    }
    add_bytes(line->page, word, length);
    line->used += columns_of(word, length);
    line->begun = true;
}

void wr_page_flow_page(struct wr_page *page, const char *lead, struct wr_page *sentences)
{
    char *text = wr_page_take(sentences);
    blank_controls(text);
    struct line line = {.page = page, .indent = columns_of(lead, strlen(lead))};
    line.used = line.indent;
    add_bytes(page, lead, strlen(lead));
    for (const char *word = text; *(word += strspn(word, " ")) != '\0';) {
        const size_t length = strcspn(word, " ");
        set_word(&line, word, length);
        word += length;
    }
    add_bytes(page, "\n", 1);
    free(text);
}

void wr_page_flow(struct wr_page *page, const char *lead, const char *format, ...)
{
    struct wr_page sentences = {0};
    va_list arguments;
    va_start(arguments, format);
    add_formatted(&sentences, format, arguments);
    va_end(arguments);
    wr_page_flow_page(page, lead, &sentences);
}

/* Tables ---------------------------------------------------------------------------------------------------------- */

enum { GRID_INDENT = 2, GRID_GAP = 2 };

void wr_grid_add(struct wr_grid *grid, const char *format, ...)
{
    if (grid->count == grid->room) {
        grid->room = grid->room == 0 ? 64 : grid->room * 2;
        char **grown = realloc(grid->cells, grid->room * sizeof *grown);
        if (grown == NULL) {
            fputs("washrota: out of memory while writing a table\n", stderr);
            abort();
        }
        grid->cells = grown;
    }
    struct wr_page cell = {0};
    va_list arguments;
    va_start(arguments, format);
    add_formatted(&cell, format, arguments);
    va_end(arguments);
    grid->cells[grid->count] = wr_page_take(&cell);
    blank_controls(grid->cells[grid->count++]);
}

static size_t width_of(const struct wr_grid *grid, size_t columns, size_t column)
{
    size_t width = 0;
    for (size_t i = column; i < grid->count; i += columns) {
        const size_t cell = columns_of(grid->cells[i], strlen(grid->cells[i]));
        width = cell > width ? cell : width;
    }
    return width;
}

/* The widest column aligned left that can still give way; `columns` for none. */
static size_t widest_left(const struct wr_grid *grid, size_t columns, const size_t *widths)
{
    size_t widest = columns;
    for (size_t c = 0; c < columns; c++)
        if (grid->align[c] == 'l' && widths[c] > WR_GRID_LEAST && (widest == columns || widths[c] > widths[widest]))
            widest = c;
    return widest;
}

static void fit_widths(const struct wr_grid *grid, size_t columns, size_t *widths)
{
    size_t total = GRID_INDENT + (columns - 1) * GRID_GAP;
    for (size_t c = 0; c < columns; c++)
        total += widths[c] = width_of(grid, columns, c);
    for (size_t c; total > WR_PAGE_WIDTH && (c = widest_left(grid, columns, widths)) < columns; total--)
        widths[c]--;
}

/* A cell in its width; one that is cut ends in "..". */
static void set_cell(struct wr_page *page, const char *cell, size_t width, bool left, bool last)
{
    const size_t length = strlen(cell), columns = columns_of(cell, length);
    if (columns > width) {
        add_bytes(page, cell, bytes_of(cell, length, width > 2 ? width - 2 : 0));
        add_bytes(page, "..", width > 2 ? 2 : width);
        return;
    }
    if (!left)
        add_blanks(page, width - columns);
    add_bytes(page, cell, length);
    if (left && !last)
        add_blanks(page, width - columns);
}

static void set_rule(struct wr_page *page, const size_t *widths, size_t columns)
{
    for (size_t c = 0; c < columns; c++) {
        add_blanks(page, c == 0 ? GRID_INDENT : GRID_GAP);
        for (size_t i = 0; i < widths[c]; i++)
            add_bytes(page, "-", 1);
    }
    add_bytes(page, "\n", 1);
}

/* Drops blanks at the end of the last line. */
static void end_line(struct wr_page *page)
{
    while (page->length > 0 && page->bytes[page->length - 1] == ' ')
        page->length--;
    add_bytes(page, "\n", 1);
}

void wr_page_grid(struct wr_page *page, struct wr_grid *grid)
{
    enum { MOST = 32 };
    size_t widths[MOST];
    const size_t columns = strnlen(grid->align, MOST);
    fit_widths(grid, columns, widths);
    for (size_t i = 0; i < grid->count; i++) {
        const size_t c = i % columns;
        if (c == 0 && grid->heads > 0 && i == grid->heads * columns)
            set_rule(page, widths, columns);
        add_blanks(page, c == 0 ? GRID_INDENT : GRID_GAP);
        set_cell(page, grid->cells[i], widths[c], grid->align[c] == 'l', c + 1 == columns);
        if (c + 1 == columns)
            end_line(page);
    }
    for (size_t i = 0; i < grid->count; i++)
        free(grid->cells[i]);
    free(grid->cells);
    *grid = (struct wr_grid){.align = grid->align};
}
