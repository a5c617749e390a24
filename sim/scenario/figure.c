/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/figure.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/quantity_kind.h"
#include "sim/scenario/reader.h"

bool wr_figure_split(const char *text, double *value, char unit[WR_FIGURE_UNIT])
{
    char *end;
    if (text[0] == '\0' || strchr("+-0123456789", text[0]) == NULL)
        return false;
    *value = strtod(text, &end);
    if (end == text || !isfinite(*value))
        return false;
    end += strspn(end, " ");
    size_t length = strlen(end);
    while (length > 0 && end[length - 1] == ' ')
        length--;
    if (length >= WR_FIGURE_UNIT || (length > 0 && strpbrk(end, "\"[]{},=") != NULL))
        return false;
    memcpy(unit, end, length);
    unit[length] = '\0';
    return true;
}

char *wr_figure_text(double value, const char *unit, char *buffer, size_t size)
{
    int digits = 6, length;
    do
        length = snprintf(buffer, size, "%.*g", digits, value);
    while (digits++ < 17 && (strtod(buffer, NULL) < value || strtod(buffer, NULL) > value));
    if (unit[0] != '\0')
        snprintf(buffer + length, size - (size_t)length, " %s", unit);
    return buffer;
}

double wr_figure_si(const struct wr_figure *figure, double value)
{
    char fault[200];
    if (figure->unit[0] != '\0')
        wr_quantity_to_si((enum wr_quantity)figure->quantity, figure->unit, &value, fault, sizeof fault);
    return value;
}

/* A number is a value of one of these kinds, or an item of a list of numbers. */
static bool is_number(const struct wr_parameter *row, const char *pointer)
{
    const char *last = strrchr(pointer, '/');
    switch (row->kind) {
    case WR_IS_QUANTITY:
    case WR_IS_NUMBER:
    case WR_IS_WHOLE:
    case WR_IS_COUNT:
        return true;
    case WR_IS_NUMBERS:
    case WR_IS_NUMBER_LIST:
        return last[1] != '\0' && strspn(last + 1, "0123456789") == strlen(last + 1);
    default:
        return false;
    }
}

/* What the reader says of a pointer that the table does not know: it suggests the nearest key. */
static void say_unknown(const struct wr_reading *reading, const char *pointer, char *fault, size_t size)
{
    struct wr_reading tried;
    struct wr_text setting = {0};
    char *text = wr_reading_scenario_text(reading);
    wr_text_add(&setting, "%s=0", pointer);
    char *words = wr_text_take(&setting);
    const char *const settings[] = {words};
    wr_reading_text(&tried, "", text, strlen(text), settings, 1);
    snprintf(fault, size, "%s leads to no number of the scenario", pointer);
    for (size_t c = 0; c < tried.complaint_count; c++)
        if (tried.complaints[c].setting != NULL) {
            snprintf(fault, size, "%s: %s", pointer, tried.complaints[c].message);
            break;
        }
    wr_reading_fini(&tried);
    free(words);
    free(text);
}

bool wr_figure_is_place(const struct wr_reading *reading, const char *pointer, char *fault, size_t size)
{
    if (pointer[0] != '/') {
        snprintf(fault, size, "\"%s\" is no pointer; one begins with /, such as /raw_water/iron", pointer);
        return false;
    }
    if (wr_table_find(pointer) != NULL)
        return true;
    say_unknown(reading, pointer, fault, size);
    return false;
}

bool wr_figure_find(struct wr_figure *figure, const struct wr_reading *reading, const char *pointer, char *fault,
                    size_t size)
{
    if (!wr_figure_is_place(reading, pointer, fault, size))
        return false;
    const struct wr_parameter *row = wr_table_find(pointer);
    if (!is_number(row, pointer)) {
        snprintf(fault, size, "%s is no number that could be more or less", pointer);
        return false;
    }
    const cJSON *item = wr_tree_find(reading->tree, pointer);
    *figure = (struct wr_figure){.quantity = (int)row->quantity,
                                 .is_whole = row->kind == WR_IS_WHOLE || row->kind == WR_IS_COUNT,
                                 .is_default = item == NULL};
    if (cJSON_IsNumber(item)) {
        figure->value = item->valuedouble;
        return true;
    }
    const char *text = item != NULL ? cJSON_GetStringValue(item) : row->default_text;
    if (text != NULL && wr_figure_split(text, &figure->value, figure->unit))
        return true;
    snprintf(fault, size, "%s is left out of the scenario, so that there is no number to begin from; set one first",
             pointer);
    return false;
}
