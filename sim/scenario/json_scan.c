/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/json_scan.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* cJSON copies a number into a buffer of 64 bytes. */
enum { LONGEST_NUMBER = 60 };

struct scan {
    const char *text;
    const char *at;
    const char *end;
    size_t depth;
    struct wr_json_fault *fault;
};

static bool scan_value(struct scan *scan);

/* What stands at the scanner, in words. */
static void describe(const struct scan *scan, char *words, size_t size)
{
    unsigned char byte = (unsigned char)*scan->at;

    if (scan->at >= scan->end)
        snprintf(words, size, "the end of the text");
    else if (byte == '\n' || byte == '\r')
        snprintf(words, size, "the end of a line");
    else if (byte < 0x20 || byte >= 0x7f)
        snprintf(words, size, "the byte 0x%02x", byte);
    else
        snprintf(words, size, "'%c'", byte);
}

static bool fail(struct scan *scan, const char *found, const char *allowed)
{
    char words[32];

    describe(scan, words, sizeof words);
    scan->fault->at = (size_t)(scan->at - scan->text);
    snprintf(scan->fault->message, sizeof scan->fault->message, "found %s; allowed: %s", found ? found : words,
             allowed);
    return false;
}

static void skip_blanks(struct scan *scan)
{
    while (scan->at < scan->end && strchr(" \t\r\n", *scan->at) != NULL && *scan->at != '\0')
        scan->at++;
}

static bool is_next(const struct scan *scan, char byte)
{
    return scan->at < scan->end && *scan->at == byte;
}

static const char *digits_end(const char *text)
{
    while (*text >= '0' && *text <= '9')
        text++;
    return text;
}

const char *wr_json_number_end(const char *text)
{
    const char *whole = *text == '-' ? text + 1 : text;
    const char *end = *whole == '0' ? whole + 1 : digits_end(whole);

    if (end == whole)
        return NULL;
    if (*end == '.') {
        const char *fraction = end + 1;
        end = digits_end(fraction);
        if (end == fraction)
            return NULL;
    }
    if (*end == 'e' || *end == 'E') {
        const char *exponent = end[1] == '+' || end[1] == '-' ? end + 2 : end + 1;
        end = digits_end(exponent);
        if (end == exponent)
            return NULL;
    }
    return end;
}

static bool scan_number(struct scan *scan)
{
    const char *end = wr_json_number_end(scan->at);

    if (end == NULL || (*end >= '0' && *end <= '9'))
        return fail(scan, "a badly written number", "a number such as 12, 0.5 or 1.5e-3");
    if (end - scan->at > LONGEST_NUMBER)
        return fail(scan, "a number of more than 60 characters", "a shorter one");
    if (!isfinite(strtod(scan->at, NULL)))
        return fail(scan, "a number too large", "numbers up to 1.7e308");
    scan->at = end;
    return true;
}

/* Length of the UTF-8 sequence at `text`, 0 when it is none: no overlong form, surrogate or code above 10FFFF. */
static size_t utf8_length(const char *text)
{
    const unsigned char *byte = (const unsigned char *)text;
    unsigned char least = byte[0] == 0xe0 ? 0xa0 : byte[0] == 0xf0 ? 0x90 : 0x80;
    unsigned char most = byte[0] == 0xed ? 0x9f : byte[0] == 0xf4 ? 0x8f : 0xbf;
    size_t length = byte[0] < 0x80                       ? 1
                    : byte[0] >= 0xc2 && byte[0] <= 0xdf ? 2
                    : byte[0] >= 0xe0 && byte[0] <= 0xef ? 3
                    : byte[0] >= 0xf0 && byte[0] <= 0xf4 ? 4
                                                         : 0;

    for (size_t i = 1; i < length; i++) {
        if (byte[i] < (i == 1 ? least : 0x80) || byte[i] > (i == 1 ? most : 0xbf))
            return 0;
    }
    return length;
}

bool wr_json_is_utf8(const char *text)
{
    while (*text != '\0') {
        size_t length = utf8_length(text);
        if (length == 0)
            return false;
        text += length;
    }
    return true;
}

/* The code of the four hexadecimal digits at `text`, -1 when they are none. */
static long hexadecimal(const char *text)
{
    char digits[5] = {0};

    for (size_t i = 0; i < 4; i++) {
        if (!isxdigit((unsigned char)text[i]))
            return -1;
        digits[i] = text[i];
    }
    return strtol(digits, NULL, 16);
}

/* The scanner stands on the u of an escape. */
static bool scan_unicode_escape(struct scan *scan)
{
    long code = hexadecimal(scan->at + 1);

    if (code < 0)
        return fail(scan, "\\u without four hexadecimal digits", "an escape such as \\u00e9");
    if (code == 0)
        return fail(scan, "\\u0000", "text without zero characters");
    if (code >= 0xd800 && code <= 0xdfff) {
        long low = scan->at[5] == '\\' && scan->at[6] == 'u' ? hexadecimal(scan->at + 7) : -1;
        if (code >= 0xdc00 || low < 0xdc00 || low > 0xdfff)
            return fail(scan, "half a surrogate pair", "both halves, such as \\ud83d\\udca7");
        scan->at += 6;
    }
    scan->at += 5;
    return true;
}

static bool scan_escape(struct scan *scan)
{
    scan->at++;
    if (is_next(scan, 'u'))
        return scan_unicode_escape(scan);
    if (scan->at >= scan->end || *scan->at == '\0' || strchr("\"\\/bfnrt", *scan->at) == NULL)
        return fail(scan, NULL, "one of \" \\ / b f n r t u after a backslash");
    scan->at++;
    return true;
}

static bool scan_text(struct scan *scan)
{
    scan->at++;
    while (!is_next(scan, '"')) {
        if (scan->at >= scan->end)
            return fail(scan, "the end within a text", "a closing quote");
        if ((unsigned char)*scan->at < 0x20)
            return fail(scan, "a control character within a text",
                        "\\n, \\t and the like, or a closing quote before it");
        size_t length = utf8_length(scan->at);
        if (length == 0)
            return fail(scan, "bytes that are not UTF-8", "UTF-8");
        if (*scan->at != '\\')
            scan->at += length;
        else if (!scan_escape(scan))
            return false;
    }
    scan->at++;
    return true;
}

/* One member or item of a block or list. */
static bool scan_child(struct scan *scan, bool with_key)
{
    if (with_key) {
        skip_blanks(scan);
        if (!is_next(scan, '"'))
            return fail(scan, NULL, "a key in double quotes");
        if (!scan_text(scan))
            return false;
        skip_blanks(scan);
        if (!is_next(scan, ':'))
            return fail(scan, NULL, "':' after a key");
        scan->at++;
    }
    return scan_value(scan);
}

/* The members of a block or the items of a list, whose first bracket the scanner stands on. */
static bool scan_children(struct scan *scan, char close)
{
    bool with_key = close == '}';

    if (++scan->depth > WR_JSON_DEEPEST)
        return fail(scan, "more than 100 blocks and lists within each other", "100");
    scan->at++;
    skip_blanks(scan);
    for (bool first = true; !is_next(scan, close); first = false) {
        if (!first && !is_next(scan, ','))
            return fail(scan, NULL, with_key ? "',' or '}'" : "',' or ']'");
        if (!first)
            scan->at++;
        if (!scan_child(scan, with_key))
            return false;
        skip_blanks(scan);
    }
    scan->at++;
    scan->depth--;
    return true;
}

static bool scan_word(struct scan *scan)
{
    static const char *const words[] = {"true", "false", "null"};

    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        size_t length = strlen(words[i]);
        if (strncmp(scan->at, words[i], length) == 0) {
            scan->at += length;
            return true;
        }
    }
    return fail(scan, NULL, "a text in double quotes, a number, a block, a list, true or false");
}

static bool scan_value(struct scan *scan)
{
    skip_blanks(scan);
    if (is_next(scan, '{'))
        return scan_children(scan, '}');
    if (is_next(scan, '['))
        return scan_children(scan, ']');
    if (is_next(scan, '"'))
        return scan_text(scan);
    if (is_next(scan, '-') || (scan->at < scan->end && isdigit((unsigned char)*scan->at)))
        return scan_number(scan);
    return scan_word(scan);
}

bool wr_json_scan(const char *text, size_t length, struct wr_json_fault *fault)
{
    struct scan scan = {.text = text, .at = text, .end = text + length, .fault = fault};

    if (length > WR_JSON_LARGEST)
        return fail(&scan, "more than 16 MB", "16 MB");
    if (strncmp(text, "\xef\xbb\xbf", 3) == 0)
        return fail(&scan, "a byte order mark", "UTF-8 without one");
    if (!scan_value(&scan))
        return false;
    skip_blanks(&scan);
    if (scan.at < scan.end)
        return fail(&scan, NULL, "nothing more after the closing bracket");
    return true;
}

/* Steps over blanks, commas and colons. */
static void skip_between(struct scan *scan)
{
    while (scan->at < scan->end && strchr(" \t\r\n,:", *scan->at) != NULL)
        scan->at++;
}

/* Goes from a block or list to the start of its `step`-th child, or to that child's key. */
static void go_to_child(struct scan *scan, size_t step, bool key)
{
    bool with_key = is_next(scan, '{');

    scan->at++;
    for (size_t i = 0;; i++) {
        skip_between(scan);
        if (i == step && key)
            return;
        if (with_key) {
            scan_text(scan);
            skip_between(scan);
        }
        if (i == step)
            return;
        scan_value(scan);
    }
}

size_t wr_json_place(const char *text, const size_t *steps, size_t depth, bool key)
{
    struct wr_json_fault fault;
    struct scan scan = {.text = text, .at = text, .end = text + strlen(text), .fault = &fault};

    skip_blanks(&scan);
    for (size_t i = 0; i < depth; i++)
        go_to_child(&scan, steps[i], key && i + 1 == depth);
    return (size_t)(scan.at - text);
}

void wr_json_line_column(const char *text, size_t at, size_t *line, size_t *column)
{
    *line = 1;
    *column = 1;
    for (size_t i = 0; i < at; i++) {
        *column = text[i] == '\n' ? 1 : *column + 1;
        if (text[i] == '\n')
            (*line)++;
    }
}
