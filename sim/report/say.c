/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/say.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* "3 h 12 min", or "3 h" where nothing is left over. */
static struct wr_phrase two_parts(double whole, const char *unit, double rest, const char *rest_unit)
{
    struct wr_phrase phrase;
    if (rest > 0)
        snprintf(phrase.text, sizeof phrase.text, "%.0f %s %.0f %s", whole, unit, rest, rest_unit);
    else
        snprintf(phrase.text, sizeof phrase.text, "%.0f %s", whole, unit);
    return phrase;
}

struct wr_phrase wr_say_duration(double seconds)
{
    const double minutes = round(seconds / 60), hours = round(seconds / 3600);
    if (!isfinite(seconds))
        return (struct wr_phrase){"for ever"};
    if (seconds < 59.5)
        return two_parts(seconds > 0 ? fmax(1, round(seconds)) : 0, "s", 0, "");
    if (minutes < 60)
        return two_parts(minutes, "min", 0, "");
    if (minutes < 4 * 1440)
        return two_parts(floor(minutes / 60), "h", fmod(minutes, 60), "min");
    return two_parts(floor(hours / 24), "days", fmod(hours, 24), "h");
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

struct wr_phrase wr_say_whole(double number)
{
    char digits[48];
    struct wr_phrase phrase;
    const int length = snprintf(digits, sizeof digits, "%.0f", number);
    size_t to = 0;
    for (int i = 0; i < length && to + 2 < sizeof phrase.text; i++) {
        phrase.text[to++] = digits[i];
        if ((length - 1 - i) % 3 == 0 && i + 1 < length && digits[i] != '-')
            phrase.text[to++] = ',';
    }
    phrase.text[to] = '\0';
    return phrase;
}

struct wr_phrase wr_say_count(size_t count, const char *one, const char *many)
{
    struct wr_phrase phrase;
    snprintf(phrase.text, sizeof phrase.text, "%.40s %s", wr_say_whole((double)count).text, count == 1 ? one : many);
    return phrase;
}

struct wr_phrase wr_say_few(double number)
{
    struct wr_phrase phrase;
    snprintf(phrase.text, sizeof phrase.text, number < 9.95 ? "%.2g" : "%.0f", number);
    return phrase;
}

struct wr_phrase wr_say_key(const char *key)
{
    struct wr_phrase phrase;
    snprintf(phrase.text, sizeof phrase.text, "%s", key);
    for (char *p = phrase.text; *p != '\0'; p++)
        if (*p == '_')
            *p = ' ';
    return phrase;
}

struct wr_phrase wr_say_bare(enum wr_quantity quantity, double value, enum wr_units units)
{
    const double shown = wr_quantity_shown(quantity, value, units);
    struct wr_phrase phrase;
    if (fabs(shown) >= 1000 || (quantity == WR_QUANTITY_NONE && fabs(shown - round(shown)) <= 0))
        return wr_say_whole(shown);
    snprintf(phrase.text, sizeof phrase.text,
             fabs(shown) >= 99.95   ? "%.0f"
             : fabs(shown) >= 9.995 ? "%.1f"
                                    : "%.2f",
             shown);
    return phrase;
}

struct wr_phrase wr_say_digits(enum wr_quantity quantity, double value, enum wr_units units)
{
    const double shown = wr_quantity_shown(quantity, value, units);
    const bool bare = quantity == WR_QUANTITY_NONE;
    int decimals = 0;
    for (double size = fabs(shown); size > 0 && size < 999.95 && decimals < 9; size *= 10)
        decimals++;
    struct wr_phrase number, phrase;
    if (decimals == 0)
        number = wr_say_whole(shown);
    else
        snprintf(number.text, sizeof number.text, "%.*f", decimals, shown);
    snprintf(phrase.text, sizeof phrase.text, "%.48s%s%.48s", number.text, bare ? "" : " ",
             bare ? "" : wr_quantity_unit(quantity, units));
    return phrase;
}

struct wr_phrase wr_say_water(double volume, enum wr_units units)
{
    struct wr_phrase phrase;
    const double millions = wr_quantity_shown(WR_QUANTITY_VOLUME, volume, units) / 1e6;
    if (units == WR_UNITS_SI || millions < 1)
        return wr_say(WR_QUANTITY_VOLUME, volume, units);
    snprintf(phrase.text, sizeof phrase.text, "%.40s Mgal", wr_say_bare(WR_QUANTITY_NONE, millions, units).text);
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

struct wr_phrase wr_say_figure(enum wr_quantity quantity, double value, enum wr_units units)
{
    switch (quantity) {
    case WR_QUANTITY_SHARE:
        return wr_say_share(value);
    case WR_QUANTITY_TIME:
        return wr_say_duration(value);
    case WR_QUANTITY_HEAD:
        return wr_say_head(value, units);
    case WR_QUANTITY_NONE:
        return value >= 100 ? wr_say_whole(value) : wr_say_few(value);
    default:
        return wr_say(quantity, value, units);
    }
}
