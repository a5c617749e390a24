/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/say.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct wr_phrase wr_say_duration(double seconds)
{
    struct wr_phrase phrase;
    char *text = phrase.text;
    const size_t size = sizeof phrase.text;
    if (!isfinite(seconds))
        snprintf(text, size, "for ever");
    else if (seconds < 59.5)
        snprintf(text, size, "%.0f s", seconds > 0 ? fmax(1, round(seconds)) : 0);
    else if (seconds < 3570)
        snprintf(text, size, "%.0f min", round(seconds / 60));
    else if (seconds < 4 * 86400 - 30) {
        const double minutes = round(seconds / 60);
        snprintf(text, size, "%.0f h %.0f min", floor(minutes / 60), fmod(minutes, 60));
    } else {
        const double hours = round(seconds / 3600);
        snprintf(text, size, "%.0f days %.0f h", floor(hours / 24), fmod(hours, 24));
    }
    return phrase;
}

struct wr_phrase wr_say_moment(double start, double seconds)
{
    struct wr_phrase phrase;
    const double midnight = floor(start / 86400) * 86400;
    const double minute = floor((start + seconds - midnight) / 60);
    const double in_day = fmod(minute, 1440);
    snprintf(phrase.text, sizeof phrase.text, "day %.0f at %02.0f:%02.0f", floor(minute / 1440) + 1, floor(in_day / 60),
             fmod(in_day, 60));
    return phrase;
}

struct wr_phrase wr_say_count(size_t count, const char *one, const char *many)
{
    struct wr_phrase phrase;
    snprintf(phrase.text, sizeof phrase.text, "%.40s %s", wr_say(WR_QUANTITY_NONE, (double)count, WR_UNITS_SI).text,
             count == 1 ? one : many);
    return phrase;
}

struct wr_phrase wr_say(enum wr_quantity quantity, double value, enum wr_units units)
{
    struct wr_phrase phrase;
    wr_quantity_text(quantity, value, units, phrase.text, sizeof phrase.text);
    return phrase;
}

struct wr_phrase wr_say_head(double head, enum wr_units units)
{
    const struct wr_phrase pressure = wr_say(WR_QUANTITY_HEAD, head, units);
    if (units != WR_UNITS_SI)
        return pressure;
    struct wr_phrase phrase;
    snprintf(phrase.text, sizeof phrase.text, "%.48s (%.48s)", pressure.text,
             wr_say(WR_QUANTITY_LENGTH, head, units).text);
    return phrase;
}

struct wr_phrase wr_say_share(double share)
{
    struct wr_phrase phrase;
    const double percent = share * 100;
    if (!isfinite(percent))
        snprintf(phrase.text, sizeof phrase.text, "no share");
    else if (percent > 0 && percent < 0.1)
        snprintf(phrase.text, sizeof phrase.text, "less than 0.1 %%");
    else if (percent < 9.95 && percent > 0)
        snprintf(phrase.text, sizeof phrase.text, "%.1f %%", percent);
    else
        snprintf(phrase.text, sizeof phrase.text, "%.0f %%", percent);
    return phrase;
}

struct wr_phrase wr_say_first(const char *text)
{
    struct wr_phrase phrase;
    snprintf(phrase.text, sizeof phrase.text, "%s", text);
    if (phrase.text[0] >= 'a' && phrase.text[0] <= 'z')
        phrase.text[0] = (char)(phrase.text[0] - 'a' + 'A');
    return phrase;
}
