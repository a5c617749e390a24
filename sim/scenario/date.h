/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_DATE_H
#define WR_SIM_SCENARIO_DATE_H

/* Dates and times of the day by local standard time: no time zone, no summer time, no leap seconds. Inside, a date is
 * seconds since 1970-01-01 00:00 by that clock, a time of the day seconds since midnight. */

#include <stdbool.h>
#include <stddef.h>

/* Reads "2026-01-05" or "2026-01-05 06:00", years 1900 to 2199. False, and `*seconds` untouched, on anything else. */
bool wr_date_read(const char *text, double *seconds);

/* Writes the date of `seconds` as "2026-01-05 06:00", whole minutes, the part of a minute dropped. Writes at most
 * `size` bytes with the closing zero, of which 32 are enough within the years above, and returns `buffer`. */
char *wr_date_text(double seconds, char *buffer, size_t size);

/* The year of the calendar in which a date lies. */
int wr_date_year(double seconds);

/* Reads a time of the day, "00:00" to "24:00", as seconds since midnight. False, and `*seconds` untouched, on anything
 * else. */
bool wr_clock_read(const char *text, double *seconds);

#endif
