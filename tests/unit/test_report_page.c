/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pages of text: what flows stays within the width, keeps every word, and carries no control characters; tables line
 * up. Expected texts are written by hand. */

#include "sim/report/page.h"
#include "tests/support/check.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static size_t characters(const char *text, size_t length)
{
    size_t count = 0;
    for (size_t i = 0; i < length; i++)
        count += ((unsigned char)text[i] & 0xC0U) != 0x80U;
    return count;
}

/* Widest line of a text, in characters. */
static size_t widest(const char *text)
{
    size_t most = 0;
    while (*text != '\0') {
        const size_t length = strcspn(text, "\n"), wide = characters(text, length);
        most = wide > most ? wide : most;
        text += length + (text[length] == '\n');
    }
    return most;
}

static void words_flow_and_hang(void **state)
{
    (void)state;
    struct wr_page page = {0};
    wr_page_flow(&page, "- ", "%s %s", "one  two", "three\nfour");
    char *text = wr_page_take(&page);
    check_text(text, "- one two three four\n", "blanks and line ends between words become one blank");
    free(text);

    struct wr_page sentences = {0};
    for (int i = 0; i < 60; i++)
        wr_page_add(&sentences, "word%d ", i);
    wr_page_flow_page(&page, "    1. ", &sentences);
    check_true(sentences.bytes == NULL, "the sentences are freed");
    text = wr_page_take(&page);
    check_between((double)widest(text), 92, WR_PAGE_WIDTH, "lines as full as words of at most 7 letters let them be");
    check_holds(text, "\n       word", "later lines hang under the first word");
    int found = 0;
    for (int i = 0; i < 60; i++) {
        char word[16];
        snprintf(word, sizeof word, "word%d", i);
        found += strstr(text, word) != NULL;
    }
    check_count(found, 60, "no word is lost");
    free(text);
}

/* A line of exactly the width stands; one character more goes to the next line. */
static void the_width_is_exact(void **state)
{
    (void)state;
    char half[51], more[52];
    memset(half, 'a', 50);
    half[49] = '\0';
    memset(more, 'b', 51);
    more[50] = '\0';
    struct wr_page page = {0};
    wr_page_flow(&page, "", "%s %s", half, more);
    char *text = wr_page_take(&page);
    check_count(widest(text), 100, "49 + 1 + 50 characters on one line");
    free(text);
    more[50] = 'b';
    more[51] = '\0';
    wr_page_flow(&page, "", "%s %s", half, more);
    text = wr_page_take(&page);
    check_count(widest(text), 51, "49 + 1 + 51 on two");
    free(text);
}

/* 150 two-byte letters without a blank: cut between letters, never inside one. */
static void a_word_too_long_is_cut(void **state)
{
    (void)state;
    struct wr_page word = {0}, page = {0};
    for (int i = 0; i < 150; i++)
        wr_page_add(&word, "\xC3\xBC");
    wr_page_flow_page(&page, "  ", &word);
    char *text = wr_page_take(&page);
    check_count(widest(text), 100, "characters of the widest line");
    check_count(characters(text, strlen(text)), 2 + 98 + 1 + 2 + 52 + 1, "98 letters, then 52 under them");
    for (const char *p = text; *p != '\0'; p++)
        if (*p == '\n')
            check_true(((unsigned char)p[1] & 0xC0U) != 0x80U, "no letter is cut in two");
    free(text);
}

static void controls_become_blanks(void **state)
{
    (void)state;
    struct wr_page page = {0};
    wr_page_flow(&page, "", "%s",
                 "a\x1B[31mb\x7F\xC2\x9B"
                 "c\xE2\x80\xA8"
                 "d\xE2\x80\xAE"
                 "e\tf");
    struct wr_grid grid = {.align = "l"};
    wr_grid_add(&grid, "%s", "x\x1By\nz");
    wr_page_grid(&page, &grid);
    char *text = wr_page_take(&page);
    check_text(text, "a [31mb c d e f\n  x y z\n",
               "escape, delete, C1, line separator, direction mark and tab are blanks, in tables too");
    free(text);
}

static void columns_line_up(void **state)
{
    (void)state;
    struct wr_page page = {0};
    struct wr_grid grid = {.align = "lrl", .heads = 1};
    const char *cells[] = {"name", "gal", "why", "a", "1,200", "", "l\xC3\xA4nger", "7", "yes"};
    for (size_t i = 0; i < sizeof cells / sizeof *cells; i++)
        wr_grid_add(&grid, "%s", cells[i]);
    wr_page_grid(&page, &grid);
    char *text = wr_page_take(&page);
    check_text(text,
               "  name      gal  why\n"
               "  ------  -----  ---\n"
               "  a       1,200\n"
               "  l\xC3\xA4nger      7  yes\n",
               "a table by hand");
    free(text);
}

/* Of two texts that do not fit the wider gives way, and numbers never do. */
static void a_wide_table_gives_way(void **state)
{
    (void)state;
    struct wr_page page = {0};
    struct wr_grid grid = {.align = "lrl"};
    char wide[121], wider[141];
    memset(wide, 'w', 60);
    wide[60] = '\0';
    memset(wider, 'v', 140);
    wider[140] = '\0';
    wr_grid_add(&grid, "%s", wide);
    wr_grid_add(&grid, "%s", "123,456");
    wr_grid_add(&grid, "%s", wider);
    wr_page_grid(&page, &grid);
    char *text = wr_page_take(&page);
    check_count(widest(text), 100, "characters of the line");
    check_holds(text, "123,456", "the number is whole");
    check_holds(text, "w..  123,456  v", "both texts are cut and say so");
    free(text);
}

static void nothing_is_an_empty_text(void **state)
{
    (void)state;
    struct wr_page page = {0};
    char *text = wr_page_take(&page);
    check_text(text, "", "an empty page");
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(words_flow_and_hang),     cmocka_unit_test(the_width_is_exact),
        cmocka_unit_test(a_word_too_long_is_cut),  cmocka_unit_test(controls_become_blanks),
        cmocka_unit_test(columns_line_up),         cmocka_unit_test(a_wide_table_gives_way),
        cmocka_unit_test(nothing_is_an_empty_text)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
