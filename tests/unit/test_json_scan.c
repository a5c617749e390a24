/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strict scan ahead of the parser: RFC 8259 by the letter, and limits. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/json_scan.h"
#include "tests/support/check.h"

static const char *const good[] = {
    "{}",
    " [ ] ",
    "1",
    "-0",
    "0.5e-10",
    "1E+2",
    "\"\"",
    "true",
    "null",
    "[1, [2, {\"a\": [3]}], false]",
    "{\"a\": 1, \"a\": 2}",
    "\"\\\" \\\\ \\/ \\b \\f \\n \\r \\t \\u00e9\"",
    "\"\\ud83d\\udca7\"",
    "\"\xc3\xa9 \xe2\x82\xac \xf0\x9f\x92\xa7 \xed\x9f\xbf \xee\x80\x80 \xf4\x8f\xbf\xbf\"",
    "123456789012345678901234567890123456789012345678901234567890",
    "1e-999",
};

struct fault {
    const char *text;
    size_t at;
    const char *message;
};

static const struct fault bad[] = {
    {"", 0, "found the end of the text; allowed: a text in double quotes, a number, a block, a list, true or false"},
    {"01", 0, "found a badly written number; allowed: a number such as 12, 0.5 or 1.5e-3"},
    {"[1.]", 1, "found a badly written number; allowed: a number such as 12, 0.5 or 1.5e-3"},
    {"[-]", 1, "found a badly written number; allowed: a number such as 12, 0.5 or 1.5e-3"},
    {"[1e]", 1, "found a badly written number; allowed: a number such as 12, 0.5 or 1.5e-3"},
    {"[.5]", 1, "found '.'; allowed: a text in double quotes, a number, a block, a list, true or false"},
    {"[+5]", 1, "found '+'; allowed: a text in double quotes, a number, a block, a list, true or false"},
    {"[NaN]", 1, "found 'N'; allowed: a text in double quotes, a number, a block, a list, true or false"},
    {"[1e999]", 1, "found a number too large; allowed: numbers up to 1.7e308"},
    {"[-1e999]", 1, "found a number too large; allowed: numbers up to 1.7e308"},
    {"1234567890123456789012345678901234567890123456789012345678901", 0,
     "found a number of more than 60 characters; allowed: a shorter one"},
    {"\"a\nb\"", 2,
     "found a control character within a text; allowed: \\n, \\t and the like, or a closing quote before it"},
    {"\"a\\u0000b\"", 3, "found \\u0000; allowed: text without zero characters"},
    {"\"\\ud83d\"", 2, "found half a surrogate pair; allowed: both halves, such as \\ud83d\\udca7"},
    {"\"\\udca7\\ud83d\"", 2, "found half a surrogate pair; allowed: both halves, such as \\ud83d\\udca7"},
    {"\"\\ud83d\\ud83d\"", 2, "found half a surrogate pair; allowed: both halves, such as \\ud83d\\udca7"},
    {"\"\\u12g4\"", 2, "found \\u without four hexadecimal digits; allowed: an escape such as \\u00e9"},
    {"\"\\u12", 2, "found \\u without four hexadecimal digits; allowed: an escape such as \\u00e9"},
    {"\"\\x\"", 2, "found 'x'; allowed: one of \" \\ / b f n r t u after a backslash"},
    {"\"abc", 4, "found the end within a text; allowed: a closing quote"},
    {"\"\xff\"", 1, "found bytes that are not UTF-8; allowed: UTF-8"},
    {"\"\xc0\xaf\"", 1, "found bytes that are not UTF-8; allowed: UTF-8"},         /* overlong */
    {"\"\xe0\x80\x80\"", 1, "found bytes that are not UTF-8; allowed: UTF-8"},     /* overlong */
    {"\"\xed\xa0\x80\"", 1, "found bytes that are not UTF-8; allowed: UTF-8"},     /* surrogate */
    {"\"\xf4\x90\x80\x80\"", 1, "found bytes that are not UTF-8; allowed: UTF-8"}, /* above 10FFFF */
    {"\"\xe2\x82\"", 1, "found bytes that are not UTF-8; allowed: UTF-8"},         /* cut short */
    {"\xef\xbb\xbf{}", 0, "found a byte order mark; allowed: UTF-8 without one"},
    {"{} x", 3, "found 'x'; allowed: nothing more after the closing bracket"},
    {"{}{}", 2, "found '{'; allowed: nothing more after the closing bracket"},
    {"{\"a\" 1}", 5, "found '1'; allowed: ':' after a key"},
    {"{a: 1}", 1, "found 'a'; allowed: a key in double quotes"},
    {"{\"a\": 1,}", 8, "found '}'; allowed: a key in double quotes"},
    {"{\"a\": 1 \"b\": 2}", 8, "found '\"'; allowed: ',' or '}'"},
    {"[1, 2", 5, "found the end of the text; allowed: ',' or ']'"},
    {"[1,]", 3, "found ']'; allowed: a text in double quotes, a number, a block, a list, true or false"},
    {"[1}", 2, "found '}'; allowed: ',' or ']'"},
    {"{\"a\":\n", 6,
     "found the end of the text; allowed: a text in double quotes, a number, a block, a list, true or false"},
    {"'a'", 0, "found '''; allowed: a text in double quotes, a number, a block, a list, true or false"},
    {"[1, // no\n 2]", 4, "found '/'; allowed: a text in double quotes, a number, a block, a list, true or false"},
    {"\x01", 0, "found the byte 0x01; allowed: a text in double quotes, a number, a block, a list, true or false"},
};

static void test_takes_json(void **state)
{
    struct wr_json_fault fault = {0};

    (void)state;
    for (size_t i = 0; i < sizeof good / sizeof good[0]; i++)
        check_true(wr_json_scan(good[i], strlen(good[i]), &fault), good[i]);
}

static void test_says_what_is_not_json(void **state)
{
    struct wr_json_fault fault = {0};

    (void)state;
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        check_true(!wr_json_scan(bad[i].text, strlen(bad[i].text), &fault), bad[i].text);
        check_text(fault.message, bad[i].message, bad[i].text);
        check_count(fault.at, bad[i].at, bad[i].text);
    }
    check_true(!wr_json_scan("\"a\0b\"", 5, &fault), "a zero byte within a text");
    check_count(fault.at, 2, "a zero byte within a text");
    check_true(!wr_json_scan("{}\0", 3, &fault), "a zero byte after the end");
    check_text(fault.message, "found the byte 0x00; allowed: nothing more after the closing bracket", "zero byte");
}

/* A copy of every good text cut anywhere is refused or is itself JSON, and never read past its end. */
static void test_cut_short(void **state)
{
    struct wr_json_fault fault;

    (void)state;
    for (size_t i = 0; i < sizeof good / sizeof good[0]; i++) {
        for (size_t length = 0; length < strlen(good[i]); length++) {
            char *cut = calloc(length + 1, 1);
            memcpy(cut, good[i], length);
            if (!wr_json_scan(cut, length, &fault))
                check_between((double)fault.at, 0, (double)length, "place of the fault");
            free(cut);
        }
    }
}

static void test_limits(void **state)
{
    struct wr_json_fault fault;
    char deep[2 * 101 + 1] = {0};
    char *huge = calloc(WR_JSON_LARGEST + 2, 1);

    (void)state;
    memset(deep, '[', 100);
    memset(deep + 100, ']', 100);
    check_true(wr_json_scan(deep, 200, &fault), "100 deep");
    memset(deep, '[', 101);
    memset(deep + 101, ']', 101);
    check_true(!wr_json_scan(deep, 202, &fault), "101 deep");
    check_text(fault.message, "found more than 100 blocks and lists within each other; allowed: 100", "101 deep");
    check_count(fault.at, 100, "101 deep");

    memset(huge, ' ', WR_JSON_LARGEST + 1);
    huge[0] = '1';
    check_true(wr_json_scan(huge, WR_JSON_LARGEST, &fault), "16 MB");
    check_true(!wr_json_scan(huge, WR_JSON_LARGEST + 1, &fault), "more than 16 MB");
    check_text(fault.message, "found more than 16 MB; allowed: 16 MB", "more than 16 MB");
    free(huge);
}

static void test_finds_places(void **state)
{
    static const char text[] = " {\"a\": [10, {\"b\" : \"x, y\"}, 12],\n  \"c\\\"d\": true}";
    const size_t b[] = {0, 1, 0};
    const size_t twelve[] = {0, 2};
    const size_t last[] = {1};
    size_t line = 0;
    size_t column = 0;

    (void)state;
    check_count(wr_json_place(text, NULL, 0, false), 1, "the whole");
    check_count(wr_json_place(text, b, 3, false) - (size_t)(strstr(text, "\"x, y") - text), 0, "a value");
    check_count(wr_json_place(text, b, 3, true) - (size_t)(strstr(text, "\"b\"") - text), 0, "its key");
    check_count(wr_json_place(text, twelve, 2, true) - (size_t)(strstr(text, "12") - text), 0, "an item has no key");
    check_count(wr_json_place(text, last, 1, false) - (size_t)(strstr(text, "true") - text), 0, "an escaped key");
    wr_json_line_column(text, wr_json_place(text, last, 1, true), &line, &column);
    check_count(line, 2, "line");
    check_count(column, 3, "column");
}

static void test_numbers_and_utf8(void **state)
{
    (void)state;
    check_text(wr_json_number_end("1.5e-3 ft"), " ft", "a number's end");
    check_text(wr_json_number_end("0123"), "123", "a zero stands alone");
    check_true(wr_json_number_end("x") == NULL && wr_json_number_end("1.e5") == NULL, "none");
    check_true(wr_json_is_utf8("ab\xc3\xa9") && !wr_json_is_utf8("ab\xc3"), "UTF-8");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_takes_json),   cmocka_unit_test(test_says_what_is_not_json),
        cmocka_unit_test(test_cut_short),    cmocka_unit_test(test_limits),
        cmocka_unit_test(test_finds_places), cmocka_unit_test(test_numbers_and_utf8),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
