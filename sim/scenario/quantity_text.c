/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/quantity.h"

#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "sim/scenario/quantity_kind.h"

const char *wr_quantity_unit(enum wr_quantity quantity, enum wr_units units)
{
    return wr_quantity_kinds[quantity].shown[units == WR_UNITS_SI ? 1 : 0];
}

/* Bare numbers have no unit to convert from. */
static double shown_in(enum wr_quantity quantity, double value, const char *unit)
{
    if (quantity != WR_QUANTITY_NONE) {
        bool fits = wr_quantity_from_si(quantity, unit, &value);
        assert(fits);
        (void)fits;
    }
    return value;
}

double wr_quantity_shown(enum wr_quantity quantity, double value, enum wr_units units)
{
    return shown_in(quantity, value, wr_quantity_unit(quantity, units));
}

/* Seconds, minutes, hours or days, whichever gives two or three figures. */
static const char *time_unit(double seconds)
{
    double size = fabs(seconds);

    return size < 120.0 ? "s" : size < 7200.0 ? "min" : size < 72.0 * 3600.0 ? "h" : "d";
}

int wr_quantity_decimals(double value, int digits)
{
    int decimals = digits - 1;
    double magnitude = fabs(value) * (1.0 + 1e-9);

    for (double size = magnitude; size >= 10.0 && decimals > 0; size /= 10.0)
        decimals--;
    for (double size = magnitude; size < 1.0 && size > 0.0 && decimals < 9; size *= 10.0)
        decimals++;
    return value < 0.0 || value > 0.0 ? decimals : 0;
}

/* Puts commas between the thousands of a number written as text. */
static void add_commas(char *number, size_t size)
{
    size_t first = number[0] == '-' ? 1 : 0;
    size_t whole = strspn(number + first, "0123456789");

    for (size_t place = first + whole; place > first + 3;) {
        place -= 3;
        if (strlen(number) + 2 > size)
            return;
        memmove(number + place + 1, number + place, strlen(number + place) + 1);
        number[place] = ',';
    }
}

char *wr_quantity_text(enum wr_quantity quantity, double value, enum wr_units units, char *buffer, size_t size)
{
    char number[48];
    const char *unit = quantity == WR_QUANTITY_TIME ? time_unit(value) : wr_quantity_unit(quantity, units);
    int digits = wr_quantity_kinds[quantity].digits;

    if (isnan(value) || isinf(value)) {
        snprintf(buffer, size, "%s", isnan(value) ? "none" : "no limit");
        return buffer;
    }
    double shown = shown_in(quantity, value, unit);
    if (fabs(shown) >= 1e15 || (fabs(shown) < 1e-6 && fabs(shown) > 0.0))
        snprintf(number, sizeof number, "%.*g", digits, shown);
    else
        snprintf(number, sizeof number, "%.*f", wr_quantity_decimals(shown, digits), shown);
    add_commas(number, sizeof number);
    bool bare = quantity == WR_QUANTITY_NONE;
    snprintf(buffer, size, "%s%s%s", number, bare ? "" : " ", bare ? "" : unit);
    return buffer;
}
