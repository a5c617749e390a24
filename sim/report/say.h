/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_REPORT_SAY_H
#define WR_SIM_REPORT_SAY_H

/* Times, amounts and counts as a reader would say them. Each returns a phrase to be used at once:
 * wr_say_duration(x).text. */

#include "sim/scenario/quantity.h"

struct wr_phrase {
    char text[112];
};

/* A length of time in s: "45 s", "12 min", "3 h 12 min", "6 h", and from four days on "5 days 3 h". Rounded to the last
 * unit said, but a time above zero is at least 1 s. */
struct wr_phrase wr_say_duration(double seconds);

/* A moment `seconds` after a start that is a date (s since 1970-01-01): "day 3 at 04:12". Day 1 is the calendar day of
 * the start. */
struct wr_phrase wr_say_moment(double start, double seconds);

/* A count with its noun: "1 wash", "1,204 washes". */
struct wr_phrase wr_say_count(size_t count, const char *one, const char *many);

/* A few of something, not always a whole number: "0.63", "2.6", "17". */
struct wr_phrase wr_say_few(double number);

/* A number rounded to a whole one, with commas between the thousands. */
struct wr_phrase wr_say_whole(double number);

/* A key as words: "wash_system" gives "wash system". */
struct wr_phrase wr_say_key(const char *key);

/* An amount with its unit. */
struct wr_phrase wr_say(enum wr_quantity quantity, double value, enum wr_units units);

/* An amount without its unit, for a table whose head has it (wr_quantity_unit): three significant digits, and every one
 * of its whole part. A whole bare number has no decimals. */
struct wr_phrase wr_say_bare(enum wr_quantity quantity, double value, enum wr_units units);

/* An amount to four significant digits and its unit, whatever its kind, for sums done again by hand. */
struct wr_phrase wr_say_digits(enum wr_quantity quantity, double value, enum wr_units units);

/* A volume of water: m3, gal, or from a million gallons on Mgal. */
struct wr_phrase wr_say_water(double volume, enum wr_units units);

/* A head: psi to readers of US units, kPa with metres to those of SI. */
struct wr_phrase wr_say_head(double head, enum wr_units units);

/* A figure of any quantity as readers say it: shares in percent, times by their size, heads with both units, bare
 * numbers from 100 on whole. */
struct wr_phrase wr_say_figure(enum wr_quantity quantity, double value, enum wr_units units);

/* A share of 1 as a percentage: "85 %", "0.4 %", "less than 0.1 %". */
struct wr_phrase wr_say_share(double share);

/* A text with its first letter a capital. */
struct wr_phrase wr_say_first(const char *text);

#endif
