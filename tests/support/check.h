/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_SUPPORT_CHECK_H
#define WR_TESTS_SUPPORT_CHECK_H

/* What a test compares with, in place of CMocka's assertions on numbers, and the headers that CMocka wants first.
 *
 * Each check fails its test at the caller's line and prints what was compared, what came and what was expected. The
 * text `what` says the quantity, its unit and where the expected value comes from: a source, a closed form, or the word
 * "regression" for a figure that this program computed. Nothing that is not a number ever passes. */

/* CMocka's header needs these four before it. */
/* clang-format off */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <cmocka.h>
/* clang-format on */
#include <stdbool.h>

/* The value lies within an absolute tolerance (>= 0, in the value's unit) of the expected one. */
#define check(value, expected, tolerance, what)                                                                        \
    wr_check_number((value), (expected), (tolerance), (what), __FILE__, __LINE__)

/* The value lies within a share (>= 0) of the expected one's size; an expected 0 must be met exactly. */
#define check_share(value, expected, share, what)                                                                      \
    wr_check_share((value), (expected), (share), (what), __FILE__, __LINE__)

/* The value lies from least to most, both included. */
#define check_between(value, least, most, what) wr_check_between((value), (least), (most), (what), __FILE__, __LINE__)

/* The whole number is the expected one. */
#define check_count(value, expected, what)                                                                             \
    wr_check_count((long long)(value), (long long)(expected), (what), __FILE__, __LINE__)

/* The text is the expected one; two NULLs are equal. */
#define check_text(value, expected, what) wr_check_text((value), (expected), (what), __FILE__, __LINE__)

/* The text holds a part. */
#define check_holds(value, part, what) wr_check_holds((value), (part), (what), __FILE__, __LINE__)

/* The condition holds. */
#define check_true(condition, what) wr_check_true((condition), (what), __FILE__, __LINE__)

void wr_check_number(double value, double expected, double tolerance, const char *what, const char *file, int line);
void wr_check_share(double value, double expected, double share, const char *what, const char *file, int line);
void wr_check_between(double value, double least, double most, const char *what, const char *file, int line);
void wr_check_count(long long value, long long expected, const char *what, const char *file, int line);
void wr_check_text(const char *value, const char *expected, const char *what, const char *file, int line);
void wr_check_holds(const char *value, const char *part, const char *what, const char *file, int line);
void wr_check_true(bool condition, const char *what, const char *file, int line);

#endif
