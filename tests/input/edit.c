/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/input/edit.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "tests/support/check.h"

/* Bytes of a file of the tree that tests read whole. */
enum { LARGEST = 1024 * 1024 };

char *wr_edit_file(const char *path)
{
    FILE *file = fopen(path, "rb");
    char *bytes = calloc(1, LARGEST + 1);

    check_true(file != NULL, path);
    check_true(fread(bytes, 1, LARGEST, file) < LARGEST, path);
    fclose(file);
    return bytes;
}

char *wr_edit_replace(const char *text, const char *from, const char *to)
{
    const char *at = strstr(text, from);

    check_true(at != NULL, from);
    size_t before = (size_t)(at - text);
    size_t size = strlen(text) + strlen(to) + 1;
    char *edited = calloc(1, size);
    snprintf(edited, size, "%.*s%s%s", (int)before, text, to, at + strlen(from));
    return edited;
}

char *wr_edit_complaints(const char *text, const char *const *settings, size_t setting_count)
{
    struct wr_reading reading;

    wr_reading_text(&reading, "plant.json", text, strlen(text), settings, setting_count);
    char *complaints = wr_reading_complaints_text(&reading);
    check_true(reading.good == (complaints[0] == '\0'), "good means no complaint");
    wr_reading_fini(&reading);
    return complaints;
}

void wr_edit_read(struct wr_reading *reading, const char *path)
{
    wr_reading_file(reading, path, NULL, 0);
    char *complaints = wr_reading_complaints_text(reading);
    check_text(complaints, "", path);
    check_true(reading->good, path);
    check_text(reading->file, path, "name of the file");
    free(complaints);
}

void wr_edit_compare(char *text, const char *path)
{
    char *file = wr_edit_file(path);
    char *left = text;
    char *expected = file;

    while (*expected != '\0' && *left != '\0') {
        size_t is = strcspn(left, "\n");
        size_t should = strcspn(expected, "\n");
        char *next_left = left + is + (left[is] == '\n');
        char *next_expected = expected + should + (expected[should] == '\n');
        left[is] = '\0';
        expected[should] = '\0';
        check_text(left, expected, path);
        left = next_left;
        expected = next_expected;
    }
    check_text(left, expected, "what only one of the two has");
    free(file);
}

void wr_edits_check(const struct wr_edit *edits, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        char *text = wr_edit_file(edits[i].file);
        char *edited = wr_edit_replace(text, edits[i].from, edits[i].to);
        char *complaints = wr_edit_complaints(edited, NULL, 0);
        check_text(complaints, edits[i].expected, edits[i].to);
        free(complaints);
        free(edited);
        free(text);
    }
}
