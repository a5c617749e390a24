/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/scenario/date.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST_YEAR = 1900, LAST_YEAR = 2199 };

static bool is_leap(long year)
{
    return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

static long days_in_month(long year, long month)
{
    static const long days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

    return days[month - 1] + (month == 2 && is_leap(year) ? 1 : 0);
}

/* Leap days from year 1 to the end of a year, by the Gregorian rule. */
static long leap_days(long year)
{
    return year / 4 - year / 100 + year / 400;
}

/* Days from 1970-01-01 to the first of January. */
static long days_to_year(long year)
{
    return 365 * (year - 1970) + leap_days(year - 1) - leap_days(1969);
}

/* True when `text` has the shape of `picture`, in which 0 stands for any digit. */
static bool has_shape(const char *text, const char *picture)
{
    if (strlen(text) != strlen(picture))
        return false;
    for (size_t i = 0; picture[i] != '\0'; i++) {
        if (picture[i] == '0' ? !isdigit((unsigned char)text[i]) : text[i] != picture[i])
            return false;
    }
    return true;
}

bool wr_date_read(const char *text, double *seconds)
{
    bool with_time = has_shape(text, "0000-00-00 00:00");

    if (!with_time && !has_shape(text, "0000-00-00"))
        return false;
    long year = strtol(text, NULL, 10);
    long month = strtol(text + 5, NULL, 10);
    long day = strtol(text + 8, NULL, 10);
    long hour = with_time ? strtol(text + 11, NULL, 10) : 0;
    long minute = with_time ? strtol(text + 14, NULL, 10) : 0;
    if (year < FIRST_YEAR || year > LAST_YEAR || month < 1 || month > 12 || hour > 23 || minute > 59)
        return false;
    if (day < 1 || day > days_in_month(year, month))
        return false;
    long days = days_to_year(year) + day - 1;
    for (long before = 1; before < month; before++)
        days += days_in_month(year, before);
    *seconds = (double)days * 86400.0 + (double)(hour * 3600 + minute * 60);
    return true;
}

char *wr_date_text(double seconds, char *buffer, size_t size)
{
    /* Out of the years that can be read there is no date to write. */
    if (!(seconds >= (double)days_to_year(FIRST_YEAR) * 86400.0 &&
          seconds < (double)days_to_year(LAST_YEAR + 1) * 86400.0)) {
        snprintf(buffer, size, "no date");
        return buffer;
    }
    long days = (long)floor(seconds / 86400.0);
    long minutes = (long)floor((seconds - (double)days * 86400.0) / 60.0);
    long year = FIRST_YEAR;
    while (days >= days_to_year(year + 1))
        year++;
    days -= days_to_year(year);
    long month = 1;
    for (; days >= days_in_month(year, month); month++)
        days -= days_in_month(year, month);
    snprintf(buffer, size, "%04ld-%02ld-%02ld %02ld:%02ld", year, month, days + 1, minutes / 60, minutes % 60);
    return buffer;
}

bool wr_clock_read(const char *text, double *seconds)
{
    if (!has_shape(text, "00:00"))
        return false;
    long hour = strtol(text, NULL, 10);
    long minute = strtol(text + 3, NULL, 10);
    if (minute > 59 || hour * 60 + minute > 24 * 60)
        return false;
    *seconds = (double)(hour * 3600 + minute * 60);
    return true;
}

int wr_date_year(double seconds)
{
    char text[32];
    return (int)strtol(wr_date_text(seconds, text, sizeof text), NULL, 10);
}
