/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_REPORT_PAGE_H
#define WR_SIM_REPORT_PAGE_H

/* A page of plain text: sentences that flow to the width of the page, and tables.
 *
 * Text from a scenario may hold anything, so whatever flows or stands in a table has its control characters turned to
 * blanks, and no line is wider than the page. Width counts UTF-8 characters, one column each. A page that is zeroed is
 * empty and ready; where memory runs out the program ends. */

#include <stddef.h>

enum { WR_PAGE_WIDTH = 100 };

struct wr_page {
    char *bytes; /* ends with a zero; NULL while nothing was added */
    size_t length, room;
};

/* Adds formatted text as it is. */
void wr_page_add(struct wr_page *page, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Adds a blank line and a heading. */
void wr_page_heading(struct wr_page *page, const char *heading);

/* Adds formatted text as a paragraph: `lead` before its first line ("1. ", "- ", or blanks), as many blanks before the
 * others. */
void wr_page_flow(struct wr_page *page, const char *lead, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/* Adds what was gathered in `sentences` as a paragraph, and frees it. */
void wr_page_flow_page(struct wr_page *page, const char *lead, struct wr_page *sentences);

/* Hands the bytes to the caller, who frees them; never NULL. The page is then empty. */
char *wr_page_take(struct wr_page *page);

/* A table of texts: cells are added row by row, and the number of columns is the length of `align`. */
struct wr_grid {
    const char *align; /* one letter a column: l or r */
    size_t heads;      /* rows above the rule */
    char **cells;
    size_t count, room;
};

/* Adds the next cell. */
void wr_grid_add(struct wr_grid *grid, const char *format, ...) __attribute__((format(printf, 2, 3)));

/* Adds the table, indented by two, and frees its cells. Columns aligned left give way where it is too wide, the widest
 * first, down to `WR_GRID_LEAST` characters. */
void wr_page_grid(struct wr_page *page, struct wr_grid *grid);

enum { WR_GRID_LEAST = 8 };

#endif
