/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/support/check.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* The comparisons are written so that a NaN on any side makes them false. */

void wr_check_number(double value, double expected, double tolerance, const char *what, const char *file, int line)
{
    if (value == expected || fabs(value - expected) <= tolerance)
        return;
    fprintf(stderr, "%s: %.17g, expected %.17g within %.3g (off by %.3g)\n", what, value, expected, tolerance,
            value - expected);
    _fail(file, line);
}

void wr_check_share(double value, double expected, double share, const char *what, const char *file, int line)
{
    wr_check_number(value, expected, share * fabs(expected), what, file, line);
}

void wr_check_between(double value, double least, double most, const char *what, const char *file, int line)
{
    if (least <= value && value <= most)
        return;
    fprintf(stderr, "%s: %.17g, expected from %.17g to %.17g\n", what, value, least, most);
    _fail(file, line);
}

void wr_check_count(long long value, long long expected, const char *what, const char *file, int line)
{
    if (value == expected)
        return;
    fprintf(stderr, "%s: %lld, expected %lld\n", what, value, expected);
    _fail(file, line);
}

static const char *shown(const char *text)
{
    return text ? text : "(no text)";
}

void wr_check_text(const char *value, const char *expected, const char *what, const char *file, int line)
{
    if (value == expected || (value && expected && strcmp(value, expected) == 0))
        return;
    fprintf(stderr, "%s:\n  %s\nexpected:\n  %s\n", what, shown(value), shown(expected));
    _fail(file, line);
}

void wr_check_holds(const char *value, const char *part, const char *what, const char *file, int line)
{
    if (value && part && strstr(value, part))
        return;
    fprintf(stderr, "%s:\n  %s\nexpected it to hold:\n  %s\n", what, shown(value), shown(part));
    _fail(file, line);
}

void wr_check_true(bool condition, const char *what, const char *file, int line)
{
    if (condition)
        return;
    fprintf(stderr, "%s: does not hold\n", what);
    _fail(file, line);
}
