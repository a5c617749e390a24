/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a row of the table allows, in words and in the units of whoever reads them. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/parameter.h"
#include "sim/scenario/quantity_kind.h"

enum { WRITTEN = 96 }; /* room for a number and its unit */

/* True when a unit is put together from those of the US trade alone or among others. */
static bool is_us_unit(const char *unit)
{
    static const char *const words[] = {"gal", "kgal", "Mgal", "ft", "in", "psi", "lb", "degF"};
    static const char letters[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";

    for (const char *word = unit + strcspn(unit, letters); *word != '\0'; word += strcspn(word, letters)) {
        const size_t length = strspn(word, letters);
        for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
            if (strlen(words[i]) == length && strncmp(word, words[i], length) == 0)
                return true;
        word += length;
    }
    return false;
}

/* True when the table's text of a quantity is not one a reader of these units would write. */
static bool is_foreign(enum wr_quantity quantity, const char *text, enum wr_units units)
{
    const bool differs = strcmp(wr_quantity_unit(quantity, WR_UNITS_US), wr_quantity_unit(quantity, WR_UNITS_SI)) != 0;
    char *unit;

    strtod(text, &unit);
    return differs && is_us_unit(unit) != (units == WR_UNITS_US);
}

/* A number of `digits` significant digits, as a scenario writes it: never with a comma, and no nought below nought. */
static void write_number(double shown, int digits, const char *unit, char written[WRITTEN])
{
    snprintf(written, WRITTEN, "%.*f", wr_quantity_decimals(shown, digits), fabs(shown) > 0.0 ? shown : 0.0);
    if (strchr(written, '.') != NULL) {
        size_t length = strlen(written);
        while (written[length - 1] == '0')
            length--;
        length -= written[length - 1] == '.' ? 1 : 0;
        written[length] = '\0';
    }
    snprintf(written + strlen(written), WRITTEN - strlen(written), " %s", unit);
}

/* `shown` to four significant digits, up or down where it is not those already. */
static double rounded(double shown, bool up)
{
    const double step = pow(10.0, floor(log10(fabs(shown))) - 3.0);
    const double steps = shown / step;
    const double nearest = round(steps);

    return step * (fabs(steps - nearest) < 1e-6 ? nearest : up ? ceil(steps) : floor(steps));
}

/* A limit in the reader's unit, rounded to the side that is allowed, so that whoever writes it is not refused again. */
static void write_limit(const struct wr_parameter *row, const char *limit, bool is_lower, enum wr_units units,
                        char written[WRITTEN])
{
    const double shown = wr_quantity_shown(row->quantity, wr_parameter_limit(row, limit), units);

    write_number(fabs(shown) < 1e-9 ? 0.0 : rounded(shown, is_lower), 4, wr_quantity_unit(row->quantity, units),
                 written);
}

static void add_limit(const struct wr_parameter *row, const char *limit, bool is_lower, const enum wr_units *units,
                      struct wr_text *text)
{
    char written[WRITTEN];

    if (units == NULL || row->quantity == WR_QUANTITY_NONE || !is_foreign(row->quantity, limit, *units)) {
        wr_text_add(text, "%s", limit);
        return;
    }
    write_limit(row, limit, is_lower, *units, written);
    wr_text_add(text, "%s", written);
}

/* The limits: ", at least 0 %, at most 100 %". */
static void add_limits(const struct wr_parameter *row, const enum wr_units *units, struct wr_text *text)
{
    const char *const limits[] = {row->least, row->above, row->most, row->below};
    static const char *const words[] = {"at least", "more than", "at most", "less than"};

    for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++) {
        if (limits[i] == NULL)
            continue;
        wr_text_add(text, ", %s ", words[i]);
        add_limit(row, limits[i], i < 2, units, text);
    }
}

/* The row's own example in the reader's unit; NULL where it has none. */
static const char *example_of(const struct wr_parameter *row, const enum wr_units *units, char written[WRITTEN])
{
    if (units == NULL || row->example == NULL || !is_foreign(row->quantity, row->example, *units))
        return row->example;
    const double shown = wr_quantity_shown(row->quantity, wr_parameter_limit(row, row->example), *units);
    write_number(shown, 2, wr_quantity_unit(row->quantity, *units), written);
    return written;
}

/* What a single number or quantity may be, or one of a list. */
static void add_wanted(const struct wr_parameter *row, const enum wr_units *units, struct wr_text *text)
{
    char example[WRITTEN];
    char wanted[160];

    if (row->quantity == WR_QUANTITY_NONE)
        wr_text_add(text, "a number");
    else
        wr_text_add(text, "%s",
                    wr_quantity_wanted(row->quantity, example_of(row, units, example), wanted, sizeof wanted));
}

static void add_choices(const struct wr_parameter *row, struct wr_text *text)
{
    for (size_t i = 0; row->choices[i] != NULL; i++) {
        const bool is_last = row->choices[i + 1] == NULL;
        wr_text_add(text, "%s\"%s\"", i == 0 ? "" : is_last ? " or " : ", ", row->choices[i]);
    }
}

void wr_parameter_allowed(const struct wr_parameter *row, const enum wr_units *units, struct wr_text *text)
{
    switch (row->kind) {
    case WR_IS_FORMAT:
        wr_text_add(text, "1");
        return;
    case WR_IS_QUANTITY:
    case WR_IS_NUMBER:
        add_wanted(row, units, text);
        break;
    case WR_IS_WHOLE:
    case WR_IS_COUNT:
        wr_text_add(text, "a whole number");
        break;
    case WR_IS_CHOICE:
        add_choices(row, text);
        return;
    case WR_IS_TEXT:
        wr_text_add(text, "text of %s to %s bytes", row->least == NULL ? "0" : row->least, row->most);
        return;
    case WR_IS_FLAG:
        wr_text_add(text, "true or false");
        return;
    case WR_IS_DATE:
    case WR_IS_DATE_IN_RUN:
        wr_text_add(text, "a date such as \"2026-01-05\" or \"2026-01-05 06:00\"");
        return;
    case WR_IS_CLOCK:
        wr_text_add(text, "a time of day such as \"07:00\"");
        break;
    case WR_IS_NUMBERS:
        wr_text_add(text, "a list of %zu, each ", row->length);
        add_wanted(row, units, text);
        break;
    case WR_IS_NUMBER_LIST:
        wr_text_add(text, "a list, each item ");
        add_wanted(row, units, text);
        break;
    case WR_IS_BLOCK:
        wr_text_add(text, "a block { ... }");
        return;
    case WR_IS_BLOCK_LIST:
        wr_text_add(text, "a list of blocks [ { ... } ]");
        break;
    }
    add_limits(row, units, text);
}
