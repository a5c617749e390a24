/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/axis.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/text.h"

static char *copy_trimmed(const char *text, size_t length)
{
    while (length > 0 && *text == ' ') {
        text++;
        length--;
    }
    while (length > 0 && text[length - 1] == ' ')
        length--;
    char *copy = wr_items_new(length + 1, 1);
    memcpy(copy, text, length);
    return copy;
}

/* Where a list goes on: the next comma outside of quotes and brackets, or the end. */
static size_t item_length(const char *text)
{
    int depth = 0;
    bool quoted = false;
    size_t i = 0;
    for (; text[i] != '\0'; i++) {
        if (quoted)
            quoted = text[i] != '"' || text[i - 1] == '\\';
        else if (text[i] == '"')
            quoted = true;
        else if (text[i] == '[' || text[i] == '{')
            depth++;
        else if (text[i] == ']' || text[i] == '}')
            depth--;
        else if (text[i] == ',' && depth <= 0)
            break;
    }
    return i;
}

static void add_value(struct wr_axis *axis, char *value)
{
    axis->values = wr_items_resized(axis->values, axis->count + 1, sizeof *axis->values);
    axis->values[axis->count++] = value;
}

static bool read_list(struct wr_axis *axis, const char *text, char *fault, size_t size)
{
    for (bool more = true; more;) {
        const size_t length = item_length(text);
        char *value = copy_trimmed(text, length);
        add_value(axis, value);
        if (value[0] == '\0' || axis->count > WR_AXIS_MOST) {
            snprintf(fault, size, "%s has %s", axis->pointer,
                     value[0] == '\0' ? "an empty value in its list" : "too many values");
            return false;
        }
        more = text[length] == ',';
        text += length + (more ? 1 : 0);
    }
    return true;
}

/* Both ends of a range, in the unit of the second. */
static bool read_ends(struct wr_axis *axis, const char *from, const char *to)
{
    char unit[WR_FIGURE_UNIT];
    return wr_figure_split(from, &axis->from, unit) && wr_figure_split(to, &axis->to, axis->unit) &&
           (unit[0] == '\0' || strcmp(unit, axis->unit) == 0);
}

static bool read_steps(const char *text, size_t *steps)
{
    const size_t digits = strspn(text, "0123456789");
    *steps = digits > 0 && digits < 6 && text[digits] == '\0' ? strtoul(text, NULL, 10) : 0;
    return *steps >= 2 && *steps <= WR_AXIS_MOST;
}

/* "FROM to TO", or "FROM to TO in STEPS". */
static bool read_range(struct wr_axis *axis, const char *text, char *fault, size_t size)
{
    const char *word = strstr(text, " to "), *in = strstr(word, " in ");
    char *from = copy_trimmed(text, (size_t)(word - text));
    char *to = copy_trimmed(word + 4, in != NULL ? (size_t)(in - word - 4) : strlen(word + 4));
    char *steps = copy_trimmed(in != NULL ? in + 4 : "", in != NULL ? strlen(in + 4) : 0);
    size_t count = 0;
    axis->is_range = true;
    bool good = read_ends(axis, from, to);
    if (!good)
        snprintf(fault, size, "%s has a range from \"%s\" to \"%s\"; allowed: two numbers with the same unit",
                 axis->pointer, from, to);
    else if (in != NULL && !read_steps(steps, &count)) {
        snprintf(fault, size, "%s has a range in \"%s\" values; allowed: 2 to %d", axis->pointer, steps, WR_AXIS_MOST);
        good = false;
    }
    axis->is_whole = axis->unit[0] == '\0' && axis->from == floor(axis->from) && axis->to == floor(axis->to);
    if (good && count > 0)
        wr_axis_divide(axis, count);
    free(from);
    free(to);
    free(steps);
    return good;
}

bool wr_axis_read(struct wr_axis *axis, const char *text, char *fault, size_t size)
{
    const size_t length = strcspn(text, "=");
    *axis = (struct wr_axis){.pointer = copy_trimmed(text, length)};
    if (text[length] == '\0') {
        axis->is_range = true;
        return true;
    }
    const char *values = text + length + 1;
    const char *first = values + strspn(values, " ");
    const bool is_range = strstr(values, " to ") != NULL && item_length(values) == strlen(values) && first[0] != '\0' &&
                          strchr("\"[{", first[0]) == NULL;
    if (is_range ? read_range(axis, values, fault, size) : read_list(axis, values, fault, size))
        return true;
    wr_axis_fini(axis);
    return false;
}

void wr_axis_divide(struct wr_axis *axis, size_t count)
{
    char text[96];
    const double span = axis->to - axis->from;
    if (axis->is_whole && fabs(span) + 1 <= (double)count)
        count = (size_t)fabs(span) + 1;
    for (size_t i = 0; i < count; i++) {
        double value = count > 1 ? axis->from + span * (double)i / (double)(count - 1) : axis->from;
        snprintf(text, sizeof text, "%.12g", axis->is_whole ? round(value) : value);
        value = strtod(text, NULL);
        char *written = wr_items_new(sizeof text, 1);
        add_value(axis, wr_figure_text(value, axis->unit, written, sizeof text));
    }
}

bool wr_axis_is_known(const struct wr_axis *axis, const struct wr_reading *reading, char *fault, size_t size)
{
    return wr_figure_is_place(reading, axis->pointer, fault, size);
}

char *wr_axis_setting(const struct wr_axis *axis, const char *value)
{
    struct wr_text setting = {0};
    wr_text_add(&setting, "%s=%s", axis->pointer, value);
    return wr_text_take(&setting);
}

void wr_axis_fini(struct wr_axis *axis)
{
    for (size_t i = 0; i < axis->count; i++)
        free(axis->values[i]);
    free(axis->values);
    free(axis->pointer);
    *axis = (struct wr_axis){0};
}
