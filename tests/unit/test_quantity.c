/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantities: text with a unit in, SI out, and back to text. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "sim/scenario/quantity.h"
#include "tests/support/check.h"

struct reading {
    enum wr_quantity quantity;
    const char *text;
    double expected;
};

/* Exact by definition of the inch, pound, US gallon, bar and standard gravity: NIST Special Publication 811 (2008),
 * appendix B. */
static const struct reading readings[] = {
    {WR_QUANTITY_LENGTH, "8 ft", 8 * 0.3048},
    {WR_QUANTITY_DEPTH, "18 in", 18 * 0.0254},
    {WR_QUANTITY_GRAIN, "0.9 mm", 0.0009},
    {WR_QUANTITY_GRAIN, "900 um", 0.0009},
    {WR_QUANTITY_AREA, "50 ft2", 50 * 0.3048 * 0.3048},
    {WR_QUANTITY_AREA, "50 ft^2", 50 * 0.3048 * 0.3048},
    {WR_QUANTITY_VOLUME, "9000 gal", 9000 * 3.785411784e-3},
    {WR_QUANTITY_VOLUME, "9 kgal", 9000 * 3.785411784e-3},
    {WR_QUANTITY_VOLUME, "0.009 Mgal", 9000 * 3.785411784e-3},
    {WR_QUANTITY_VOLUME, "34 m3", 34},
    {WR_QUANTITY_VOLUME, "34000 L", 34},
    {WR_QUANTITY_VOLUME, "0.034 ML", 34},
    {WR_QUANTITY_VOLUME, "100 ft3", 100 * 0.3048 * 0.3048 * 0.3048},
    {WR_QUANTITY_FLOW, "300 gal/min", 300 * 3.785411784e-3 / 60},
    {WR_QUANTITY_FLOW, "300 gpm", 300 * 3.785411784e-3 / 60},
    {WR_QUANTITY_FLOW, "68 m3/h", 68 / 3600.0},
    {WR_QUANTITY_FLOW, "19 L/s", 0.019},
    {WR_QUANTITY_DAILY_FLOW, "0.36 Mgal/d", 0.36e6 * 3.785411784e-3 / 86400},
    {WR_QUANTITY_DAILY_FLOW, "0.36 MGD", 0.36e6 * 3.785411784e-3 / 86400},
    {WR_QUANTITY_DAILY_FLOW, "0.36 mgd", 0.36e6 * 3.785411784e-3 / 86400},
    {WR_QUANTITY_DAILY_FLOW, "1.4 ML/d", 1400 / 86400.0},
    {WR_QUANTITY_RATE, "12 gal/min/ft2", 12 * 3.785411784e-3 / 60 / (0.3048 * 0.3048)},
    {WR_QUANTITY_RATE, "12 gpm/ft2", 12 * 3.785411784e-3 / 60 / (0.3048 * 0.3048)},
    {WR_QUANTITY_RATE, "12 gal/(min.ft2)", 12 * 3.785411784e-3 / 60 / (0.3048 * 0.3048)},
    {WR_QUANTITY_RATE, "3 ft3/min/ft2", 3 * 0.3048 / 60},
    {WR_QUANTITY_RATE, "30 m/h", 30 / 3600.0},
    {WR_QUANTITY_RATE, "30 m.h-1", 30 / 3600.0},
    {WR_QUANTITY_RATE, "30 m * h^-1", 30 / 3600.0},
    {WR_QUANTITY_TIME, "10 min", 600},
    {WR_QUANTITY_TIME, "72 h", 259200},
    {WR_QUANTITY_TIME, "2 week", 14 * 86400},
    {WR_QUANTITY_TIME, "1 year", 365 * 86400},
    {WR_QUANTITY_TIME, "  1.5e1   min ", 900},
    {WR_QUANTITY_TEMPERATURE, "12 degC", 285.15},
    {WR_QUANTITY_TEMPERATURE, "54 degF", (54 + 459.67) / 1.8},
    {WR_QUANTITY_TEMPERATURE, "-3 degC", 270.15},
    {WR_QUANTITY_CONCENTRATION, "2.0 mg/L", 0.002},
    {WR_QUANTITY_CONCENTRATION, "2.0 mg/l", 0.002},
    {WR_QUANTITY_CONCENTRATION, "2000 ug/L", 0.002},
    {WR_QUANTITY_CONCENTRATION, "2.0 g/m3", 0.002},
    {WR_QUANTITY_HEAD, "1.5 m", 1.5},
    {WR_QUANTITY_HEAD, "5 ft", 5 * 0.3048},
    {WR_QUANTITY_HEAD, "8 psi", 8 * 0.45359237 * 9.80665 / (0.0254 * 0.0254) / 9806.65},
    {WR_QUANTITY_HEAD, "9.80665 kPa", 1},
    {WR_QUANTITY_HEAD, "0.0980665 bar", 1},
    {WR_QUANTITY_SHARE, "72 %", 0.72},
    {WR_QUANTITY_SHARE, "72%", 0.72},
    {WR_QUANTITY_LOAD, "1.9 kg/m2", 1.9},
    {WR_QUANTITY_LOAD, "0.4 lb/ft2", 0.4 * 0.45359237 / (0.3048 * 0.3048)},
    {WR_QUANTITY_SLOPE, "0.42 m/(kg/m2)", 0.42},
    {WR_QUANTITY_SLOPE, "9.80665 kPa/(kg/m2)", 1},
    /* 1 lbf/in2 per lb/ft2 is 144 feet of the gravity by which a pound mass weighs a pound force: g cancels. */
    {WR_QUANTITY_SLOPE, "15 psi/(lb/ft2)", 15 * 144 / 1000.0},
    {WR_QUANTITY_RUN_VOLUME, "7200 gal/ft2", 7200 * 3.785411784e-3 / (0.3048 * 0.3048)},
    {WR_QUANTITY_RUN_VOLUME, "290 m3/m2", 290},
    {WR_QUANTITY_MASS, "12 lb", 12 * 0.45359237},
    {WR_QUANTITY_MASS_FLOW, "12 lb/d", 12 * 0.45359237 / 86400},
};

static void test_reads(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof readings / sizeof readings[0]; i++) {
        char found[256] = "";
        double value = -1;
        check_true(wr_quantity_read(readings[i].quantity, readings[i].text, &value, found, sizeof found),
                   readings[i].text);
        check_share(value, readings[i].expected, 1e-15 * 4, readings[i].text);
    }
}

/* What a scenario's author would compare with == in a spreadsheet is what comes out. */
static void test_reads_decimals_exactly(void **state)
{
    (void)state;
    for (int percent = 0; percent <= 100; percent++) {
        char text[32], found[256];
        double value = -1;
        snprintf(text, sizeof text, "%d %%", percent);
        check_true(wr_quantity_read(WR_QUANTITY_SHARE, text, &value, found, sizeof found), text);
        check(value, percent / 100.0, 0, text);
        snprintf(text, sizeof text, "%d mm", percent);
        check_true(wr_quantity_read(WR_QUANTITY_GRAIN, text, &value, found, sizeof found), text);
        check(value, percent / 1000.0, 0, text);
    }
}

struct refusal {
    enum wr_quantity quantity;
    const char *text;
    const char *found;
};

static const struct refusal refusals[] = {
    {WR_QUANTITY_VOLUME, "12", "\"12\", a number without its unit"},
    {WR_QUANTITY_VOLUME, "12  ", "\"12  \", a number without its unit"},
    {WR_QUANTITY_VOLUME, "", "\"\", which does not start with a number such as 12, 0.5 or 1.5e-3"},
    {WR_QUANTITY_VOLUME, "gal", "\"gal\", which does not start with a number such as 12, 0.5 or 1.5e-3"},
    {WR_QUANTITY_VOLUME, "01 gal", "\"01 gal\", which does not start with a number such as 12, 0.5 or 1.5e-3"},
    {WR_QUANTITY_VOLUME, "1. gal", "\"1. gal\", which does not start with a number such as 12, 0.5 or 1.5e-3"},
    {WR_QUANTITY_VOLUME, ".5 gal", "\".5 gal\", which does not start with a number such as 12, 0.5 or 1.5e-3"},
    {WR_QUANTITY_VOLUME, "+5 gal", "\"+5 gal\", which does not start with a number such as 12, 0.5 or 1.5e-3"},
    {WR_QUANTITY_VOLUME, "9,000 gal",
     "\"9,000 gal\", a number with a comma; write it without, and a fraction with a point"},
    {WR_QUANTITY_VOLUME, "nan gal", "\"nan gal\", which does not start with a number such as 12, 0.5 or 1.5e-3"},
    {WR_QUANTITY_VOLUME, "0x10 gal", "\"0x10 gal\" with the unknown unit \"x\""},
    {WR_QUANTITY_VOLUME, "1e999 gal", "\"1e999 gal\", a number too large"},
    {WR_QUANTITY_TIME, "1e305 d", "\"1e305 d\", a number too large"},
    {WR_QUANTITY_VOLUME, "12 psi", "\"12 psi\", a pressure"},
    {WR_QUANTITY_VOLUME, "12 gal/min", "\"12 gal/min\", a flow"},
    {WR_QUANTITY_FLOW, "12 gal", "\"12 gal\", a volume"},
    {WR_QUANTITY_RATE, "12 gal/min", "\"12 gal/min\", a flow"},
    {WR_QUANTITY_HEAD, "12 h", "\"12 h\", a time"},
    {WR_QUANTITY_TEMPERATURE, "12 m", "\"12 m\", a length"},
    {WR_QUANTITY_LENGTH, "12 degC", "\"12 degC\", a temperature"},
    {WR_QUANTITY_LENGTH, "12 m5", "\"12 m5\", of no kind that a scenario knows"},
    /* Reciprocals, which UDUNITS converts without a word. */
    {WR_QUANTITY_SLOPE, "2 mg/L", "\"2 mg/L\", a concentration"},
    {WR_QUANTITY_TIME, "2 s-1", "\"2 s-1\", of no kind that a scenario knows"},
    /* Units that UDUNITS or its shipped tables read as something else, or not at all. */
    {WR_QUANTITY_LENGTH, "12 12 in", "\"12 12 in\" with the badly written unit \"12 in\""},
    {WR_QUANTITY_LENGTH, "12 ft-", "\"12 ft-\" with the badly written unit \"ft-\""},
    {WR_QUANTITY_AREA, "12 in2/", "\"12 in2/\" with the badly written unit \"in2/\""},
    {WR_QUANTITY_LENGTH, "1 ft@3", "\"1 ft@3\" with the badly written unit \"ft@3\""},
    {WR_QUANTITY_LENGTH, "1 ft)", "\"1 ft)\" with the badly written unit \"ft)\""},
    {WR_QUANTITY_LENGTH, "1 (ft)", "\"1 (ft)\" with the badly written unit \"(ft)\""},
    {WR_QUANTITY_AREA, "1 ft2.5", "\"1 ft2.5\" with the badly written unit \"ft2.5\""},
    {WR_QUANTITY_AREA, "1 ft 2", "\"1 ft 2\" with the badly written unit \"ft 2\""},
    {WR_QUANTITY_AREA, "1 ft22", "\"1 ft22\" with the badly written unit \"ft22\""},
    {WR_QUANTITY_AREA, "1 ft ft", "\"1 ft ft\" with the badly written unit \"ft ft\""},
    {WR_QUANTITY_AREA, "1 ft**2", "\"1 ft**2\" with the badly written unit \"ft**2\""},
    {WR_QUANTITY_TIME, "1 lg(re s)", "\"1 lg(re s)\" with the unknown unit \"lg\" (did you mean \"kg\"?)"},
    {WR_QUANTITY_TIME, "1 s since 1970", "\"1 s since 1970\" with the badly written unit \"s since 1970\""},
    {WR_QUANTITY_LENGTH, "1 \xc2\xb5m", "\"1 \xc2\xb5m\" with the badly written unit \"\xc2\xb5m\""},
    {WR_QUANTITY_TIME, "1 Min", "\"1 Min\" with the unknown unit \"Min\" (did you mean \"min\"?)"},
    {WR_QUANTITY_TEMPERATURE, "54 F", "\"54 F\" with the unknown unit \"F\" (did you mean \"degF\"?)"},
    {WR_QUANTITY_HEAD, "1 mH2O", "\"1 mH2O\" with the unknown unit \"mH\" (did you mean \"m\"?)"},
    {WR_QUANTITY_HEAD, "8 psig", "\"8 psig\" with the unknown unit \"psig\" (did you mean \"psi\"?)"},
    {WR_QUANTITY_VOLUME, "12 gallons", "\"12 gallons\" with the unknown unit \"gallons\" (did you mean \"gal\"?)"},
    {WR_QUANTITY_VOLUME, "12 Gal", "\"12 Gal\" with the unknown unit \"Gal\" (did you mean \"gal\"?)"},
    {WR_QUANTITY_VOLUME, "1500 cbm", "\"1500 cbm\" with the unknown unit \"cbm\" (did you mean \"m3\"?)"},
    {WR_QUANTITY_VOLUME, "12 zzzz", "\"12 zzzz\" with the unknown unit \"zzzz\""},
    {WR_QUANTITY_VOLUME, "1 gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal",
     "\"1 gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal...\", of no kind that a scenario knows"},
    {WR_QUANTITY_VOLUME, "1 gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal2",
     "\"1 gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal*gal...\" with a unit of more than 63 characters"},
};

static void test_refuses(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof refusals / sizeof refusals[0]; i++) {
        char found[256] = "";
        double value = -7;
        check_true(!wr_quantity_read(refusals[i].quantity, refusals[i].text, &value, found, sizeof found),
                   refusals[i].text);
        check_text(found, refusals[i].found, refusals[i].text);
        check(value, -7, 0, "untouched");
    }
}

static void test_says_what_is_wanted(void **state)
{
    char text[128];

    (void)state;
    check_text(wr_quantity_wanted(WR_QUANTITY_VOLUME, NULL, text, sizeof text),
               "a volume such as \"9000 gal\" or \"34 m3\"", "wanted");
    check_text(wr_quantity_wanted(WR_QUANTITY_VOLUME, "5 gal", text, sizeof text), "a volume such as \"5 gal\"",
               "wanted");
    check_text(wr_quantity_name(WR_QUANTITY_AREA), "an area", "name");
    check_text(wr_quantity_si_unit(WR_QUANTITY_RATE), "m/s", "SI unit");
    for (int i = 1; i < WR_QUANTITY_COUNT; i++) {
        char *quote = strchr(wr_quantity_wanted((enum wr_quantity)i, NULL, text, sizeof text), '"') + 1;
        char found[256];
        double value;
        *strchr(quote, '"') = '\0';
        check_true(wr_quantity_read((enum wr_quantity)i, quote, &value, found, sizeof found), quote);
    }
}

struct showing {
    enum wr_quantity quantity;
    double value;
    enum wr_units units;
    const char *expected;
};

static const struct showing showings[] = {
    {WR_QUANTITY_VOLUME, 6484 * 3.785411784e-3, WR_UNITS_US, "6,484 gal"},
    {WR_QUANTITY_VOLUME, 1234567 * 3.785411784e-3, WR_UNITS_US, "1,234,567 gal"},
    {WR_QUANTITY_VOLUME, 85.2, WR_UNITS_SI, "85.20 m3"},
    {WR_QUANTITY_FLOW, 150.8 * 3.785411784e-3 / 60, WR_UNITS_US, "150.8 gal/min"},
    {WR_QUANTITY_DAILY_FLOW, 1e6 * 3.785411784e-3 / 86400, WR_UNITS_US, "1.000 Mgal/d"},
    {WR_QUANTITY_DAILY_FLOW, 0.386e6 * 3.785411784e-3 / 86400, WR_UNITS_US, "0.3860 Mgal/d"},
    {WR_QUANTITY_DAILY_FLOW, 1400 / 86400.0, WR_UNITS_SI, "1,400 m3/d"},
    {WR_QUANTITY_HEAD, 1, WR_UNITS_SI, "9.81 kPa"},
    {WR_QUANTITY_HEAD, 1, WR_UNITS_US, "1.42 psi"}, /* 9806.65 Pa over 6894.757 Pa */
    {WR_QUANTITY_LENGTH, 3.048, WR_UNITS_US, "10.0 ft"},
    {WR_QUANTITY_SHARE, 0.72, WR_UNITS_US, "72.0 %"},
    {WR_QUANTITY_SHARE, 0, WR_UNITS_US, "0 %"},
    {WR_QUANTITY_TEMPERATURE, 285.15, WR_UNITS_US, "53.6 degF"},
    {WR_QUANTITY_TEMPERATURE, 285.15, WR_UNITS_SI, "12.0 degC"},
    {WR_QUANTITY_TIME, 90, WR_UNITS_US, "90.0 s"},
    {WR_QUANTITY_TIME, 600, WR_UNITS_US, "10.0 min"},
    {WR_QUANTITY_TIME, 144000, WR_UNITS_SI, "40.0 h"},
    {WR_QUANTITY_TIME, 30 * 86400, WR_UNITS_SI, "30.0 d"},
    {WR_QUANTITY_TIME, -144000, WR_UNITS_SI, "-40.0 h"},
    {WR_QUANTITY_VOLUME, -12345, WR_UNITS_SI, "-12,345 m3"},
    {WR_QUANTITY_VOLUME, 1e-12, WR_UNITS_SI, "1e-12 m3"},
    {WR_QUANTITY_VOLUME, 1e18, WR_UNITS_SI, "1e+18 m3"},
    {WR_QUANTITY_NONE, 1.5, WR_UNITS_US, "1.50"},
    {WR_QUANTITY_VOLUME, (double)NAN, WR_UNITS_US, "none"},
    {WR_QUANTITY_FLOW, (double)INFINITY, WR_UNITS_US, "no limit"},
};

static void test_shows(void **state)
{
    char text[64];

    (void)state;
    for (size_t i = 0; i < sizeof showings / sizeof showings[0]; i++)
        check_text(wr_quantity_text(showings[i].quantity, showings[i].value, showings[i].units, text, sizeof text),
                   showings[i].expected, "shown");
    check_text(wr_quantity_unit(WR_QUANTITY_RATE, WR_UNITS_US), "gal/min/ft2", "unit");
    check(wr_quantity_shown(WR_QUANTITY_RATE, 30 / 3600.0, WR_UNITS_SI), 30, 1e-12, "m/h");
    check_text(wr_quantity_text(WR_QUANTITY_VOLUME, 1234567, WR_UNITS_SI, text, 6), "1,234", "cut at the buffer's end");
}

/* Every kind comes back from its own units as it went in. */
static void test_there_and_back(void **state)
{
    (void)state;
    for (int i = 1; i < WR_QUANTITY_COUNT; i++) {
        for (int units = WR_UNITS_US; units <= WR_UNITS_SI; units++) {
            enum wr_quantity quantity = (enum wr_quantity)i;
            char text[96], found[256] = "";
            double value = 0;
            snprintf(text, sizeof text, "%.17g %s", wr_quantity_shown(quantity, 3.25, (enum wr_units)units),
                     wr_quantity_unit(quantity, (enum wr_units)units));
            check_true(wr_quantity_read(quantity, text, &value, found, sizeof found), text);
            check(value, 3.25, 1e-12, text);
        }
    }
}

/* More units than are remembered, twice over. */
static void test_forgets(void **state)
{
    (void)state;
    for (int round = 0; round < 2; round++) {
        for (int i = 0; i < 300; i++) {
            char text[64], found[256];
            double value = 0;
            snprintf(text, sizeof text, "3 m%*s/ m%*s* m", i % 20, "", i / 20, "");
            check_true(wr_quantity_read(WR_QUANTITY_LENGTH, text, &value, found, sizeof found), text);
            check(value, 3, 0, text);
        }
    }
    wr_quantities_free();
    char found[256];
    double value = 0;
    check_true(wr_quantity_read(WR_QUANTITY_LENGTH, "2 m", &value, found, sizeof found), "after freeing");
    wr_quantities_free();
    wr_quantities_free();
}

static void test_dates(void **state)
{
    static const char *const bad[] = {"",           "2026-1-5",    "2026-02-29",       "2026-13-01",
                                      "2026-00-01", "2026-01-00",  "2026-04-31",       "1899-12-31",
                                      "2200-01-01", "2026-01-05 ", "2026-01-05 24:00", "2026-01-05 06:60",
                                      "2026/01/05", "x026-01-05",  "2026-01-05T06:00", "2100-02-29"};
    /* Day numbers by Hinnant's and by POSIX's reckoning: 2026-01-05 is day 20458, 2000-03-01 day 11017. */
    static const struct {
        const char *text;
        double seconds;
    } good[] = {{"1970-01-01 00:00", 0},           {"2026-01-05 06:00", 20458 * 86400.0 + 21600},
                {"2000-02-29 00:00", 951782400},   {"2000-03-01 00:01", 11017 * 86400.0 + 60},
                {"1900-01-01 00:00", -2208988800}, {"2038-01-19 03:14", 2147483640}};
    double seconds = -1;
    char text[32];

    (void)state;
    for (size_t i = 0; i < sizeof good / sizeof good[0]; i++) {
        check_true(wr_date_read(good[i].text, &seconds), good[i].text);
        check(seconds, good[i].seconds, 0, good[i].text);
        check_text(wr_date_text(seconds + 59, text, sizeof text), good[i].text, "written");
    }
    check_true(wr_date_read("2026-01-05", &seconds), "a day");
    check(seconds, 20458 * 86400.0, 0, "a day");
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
        check_true(!wr_date_read(bad[i], &seconds), bad[i]);
    check(seconds, 20458 * 86400.0, 0, "untouched");
    for (double day = -20000; day < 80000; day += 17) {
        double back = 0;
        check_true(wr_date_read(wr_date_text(day * 86400, text, sizeof text), &back), text);
        check(back, day * 86400, 0, text);
    }
    check_text(wr_date_text((double)NAN, text, sizeof text), "no date", "not a date");
    check_text(wr_date_text(1e300, text, sizeof text), "no date", "not a date");
}

/* Every minute of the day, and nothing else. */
static void test_times_of_day(void **state)
{
    static const char *const bad[] = {"",       "7:00",     "07:0",  "07:000", "07.00",  "0700",
                                      "24:01",  "25:00",    "12:60", "-1:00",  " 7:00",  "07:00 ",
                                      "07:00h", "07:00:00", "x7:00", "99:99",  "7:00am", "+7:00"};
    double seconds = -1;
    char text[48];

    (void)state;
    for (int minute = 0; minute <= 24 * 60; minute++) {
        snprintf(text, sizeof text, "%02d:%02d", minute / 60, minute % 60);
        check_true(wr_clock_read(text, &seconds), text);
        check(seconds, minute * 60.0, 0, text);
    }
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++)
        check_true(!wr_clock_read(bad[i], &seconds), bad[i]);
    check(seconds, 86400, 0, "untouched");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_reads),        cmocka_unit_test(test_reads_decimals_exactly),
        cmocka_unit_test(test_refuses),      cmocka_unit_test(test_says_what_is_wanted),
        cmocka_unit_test(test_shows),        cmocka_unit_test(test_there_and_back),
        cmocka_unit_test(test_forgets),      cmocka_unit_test(test_dates),
        cmocka_unit_test(test_times_of_day),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
