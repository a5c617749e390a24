/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scenarios with something wrong, and all that is said about them, word for word. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "models/media.h"
#include "sim/scenario/quantity.h"
#include "sim/scenario/read.h"
#include "tests/input/edit.h"
#include "tests/support/check.h"

static const struct wr_edit quantities[] = {
    {LEAST, "\"34 m3\"", "34",
     "plant.json:12: /wash_water/tank/volume: found the bare number 34 where a unit is needed; allowed: a volume such "
     "as "
     "\"9000 gal\" or \"34 m3\", more than 0 gal, at most 100 Mgal\n"},
    {LEAST, "\"34 m3\"", "\"34\"",
     "plant.json:12: /wash_water/tank/volume: found \"34\", a number without its unit; allowed: a volume such as "
     "\"9000 "
     "gal\" or \"34 m3\", more than 0 gal, at most 100 Mgal\n"},
    {LEAST, "\"34 m3\"", "\"34 gal/min\"",
     "plant.json:12: /wash_water/tank/volume: found \"34 gal/min\", a flow; allowed: a volume such as \"9000 gal\" or "
     "\"34 m3\", more than 0 gal, at most 100 Mgal\n"},
    {LEAST, "\"34 m3\"", "\"9000 gallons\"",
     "plant.json:12: /wash_water/tank/volume: found \"9000 gallons\" with the unknown unit \"gallons\" (did you mean "
     "\"gal\"?); allowed: a volume such as \"9000 gal\" or \"34 m3\", more than 0 gal, at most 100 Mgal\n"},
    {LEAST, "\"0.7 m\"", "\"12 12 in\"",
     "plant.json:9: /filters/0/media/0/depth: found \"12 12 in\" with the badly written unit \"12 in\"; allowed: a "
     "depth "
     "such as \"18 in\" or \"0.45 m\", more than 0 in, at most 20 ft\n"},
    {LEAST, "\"0.7 m\"", "\"1e999 in\"",
     "plant.json:9: /filters/0/media/0/depth: found \"1e999 in\", a number too large; allowed: a depth such as \"18 "
     "in\" "
     "or \"0.45 m\", more than 0 in, at most 20 ft\n"},
    {LEAST, "\"0.7 m\"", "[\"0.7 m\"]",
     "plant.json:9: /filters/0/media/0/depth: found a list of 1; allowed: a depth such as \"18 in\" or \"0.45 m\", "
     "more "
     "than 0 in, at most 20 ft\n"},
    {LEAST, "\"0.7 m\"", "null",
     "plant.json:9: /filters/0/media/0/depth: found null; allowed: a depth such as \"18 in\" or \"0.45 m\", more than "
     "0 "
     "in, at most 20 ft\n"},
    /* A gallon is a gallon: 9000 gal hold a wash of 4.7 m2 at 29 m/h for 10 min, 22.7 m3. */
    {LEAST, "\"34 m3\"", "\"9000 gal\"", ""},
    {LEAST, "\"48 h\"", "\"2 d\"", ""},
    /* A limit may be written in any unit, though its conversion leaves a last bit over. */
    {LEAST, "{ \"iron\"", "{ \"temperature\": \"104 degF\", \"iron\"", ""},
    {LEAST, "{ \"iron\"", "{ \"temperature\": \"32 degF\", \"iron\"", ""},
    {LEAST, "{ \"iron\"", "{ \"temperature\": \"31.9 degF\", \"iron\"",
     "plant.json:7: /raw_water/temperature: found \"31.9 degF\"; allowed: a temperature such as \"54 degF\" or \"12 "
     "degC\", at least 32 degF, at most 104 degF\n"},
};

static void test_quantities(void **state)
{
    (void)state;
    WR_CHECK_EDITS(quantities);
}

static const struct wr_edit keys[] = {
    {LEAST, "\"wash_water\": { \"tank\": {", "\"wash_water\": { \"volume\": \"34 m3\", \"tank\": {",
     "plant.json:12: /wash_water/volume: found an unknown key; allowed: \"source\", \"max_flow\", \"draw_limit\", "
     "\"temperature\", \"tank\", \"note\"; did you mean \"volume\" in /wash_water/tank?\n"},
    {LEAST, "\"triggers\": {", "\"triggers\": { \"backwash_rate\": \"29 m/h\",",
     "plant.json:11: /wash/triggers/backwash_rate: found an unknown key; allowed: \"differential\", "
     "\"differential_as\", \"across\", \"persistence\", \"run_hours\", \"volume\", \"urgent_differential\", "
     "\"note\"; did you mean \"backwash_rate\" in /wash?\n"},
    {LEAST, "\"count\": 3,", "\"count\": 3, \"grain_sizes\": 1,",
     "plant.json:8: /filters/0/grain_sizes: found an unknown key; allowed: \"name\", \"count\", \"diameter\", "
     "\"area\", \"media\", \"freeboard\", \"fittings_headloss\", \"cells_per_vessel\", \"approved_rate\", "
     "\"available_head\", "
     "\"at_available_head\", \"deposit\", \"start_shares\", \"note\"; did you mean \"grain_size\" in "
     "/filters/0/media/0 and so on?\n"},
    {LEAST, "\"count\": 3,", "\"count\": 3, \"horizon\": \"30 d\",",
     "plant.json:8: /filters/0/horizon: found an unknown key; allowed: \"name\", \"count\", \"diameter\", "
     "\"area\", \"media\", \"freeboard\", \"fittings_headloss\", \"cells_per_vessel\", \"approved_rate\", "
     "\"available_head\", "
     "\"at_available_head\", \"deposit\", \"start_shares\", \"note\"; did you mean \"horizon\" at the top?\n"},
    {LEAST, "\"volume\": \"950 m3\"", "\"volume\": \"950 m3\", \"qwerty~/\\n\": 1",
     "plant.json:5: /storage/qwerty~0~1?: found an unknown key; allowed: \"volume\", \"start_level\", \"reserve\", "
     "\"low_mark\", \"note\"\n"},
    {LEAST, "\"volume\": \"950 m3\"", "\"volume\": \"950 m3\", \"notes\": \"x\"",
     "plant.json:5: /storage/notes: found an unknown key; allowed: \"volume\", \"start_level\", \"reserve\", "
     "\"low_mark\", \"note\"; did you mean \"note\"?\n"},
    {LEAST, "\"volume\": \"950 m3\"", "\"volume\": \"950 m3\", \"note\": 5",
     "plant.json:5: /storage/note: found a note that is not text; allowed: text\n"},
    {LEAST, "\"volume\": \"950 m3\"", "\"volume\": \"950 m3\", \"Volume\": \"950 m3\"",
     "plant.json:5: /storage/Volume: found an unknown key; allowed: \"volume\", \"start_level\", \"reserve\", "
     "\"low_mark\", \"note\"; did you mean \"volume\"?\n"},
    {LEAST, "{ \"volume\": \"950 m3\" }", "[]",
     "plant.json:5: /storage: found a list of 0; allowed: a block { ... }\n"},
    {LEAST, "\"format\": 1", "\"format\": 2", "plant.json:2: /format: found 2; allowed: 1\n"},
    {LEAST, "\"format\": 1", "\"format\": 1, \"start\": \"2026-02-30\"",
     "plant.json:2: /start: found \"2026-02-30\"; allowed: a date such as \"2026-01-05\" or \"2026-01-05 06:00\"\n"},
    {LEAST, "\"format\": 1", "\"format\": 1, \"units\": \"SI\"",
     "plant.json:2: /units: found \"SI\"; allowed: \"us\" or \"si\"\n"},
    {LEAST, "\"format\": 1", "\"format\": 1, \"wells\": 3",
     "plant.json:2: /wells: found 3; allowed: a list of blocks [ { ... } ], at least 1, at most 1000\n"
     "plant.json:6: /wells: found a key that was given before; allowed: each key once\n"},
    {LEAST, "[ { \"flow\"", "[ 7, { \"flow\"", "plant.json:6: /wells/0: found 7; allowed: a block { ... }\n"},
    {LEAST, "\"count\": 3,",
     "\"count\": 3, \"name\": \"\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9"
     "\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9"
     "\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\\u00e9\",",
     "plant.json:8: /filters/0/name: found \"\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9"
     "\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9"
     "\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9\xc3\xa9...; allowed: text of 1 to 40 bytes\n"},
};

static void test_keys(void **state)
{
    (void)state;
    WR_CHECK_EDITS(keys);
}

static const struct wr_edit texts[] = {
    {LEAST, "\"format\": 1,", "\"format\": 01,",
     "plant.json:2: found a badly written number; allowed: a number such as 12, 0.5 or 1.5e-3\n"},
    {LEAST, "\"format\": 1,", "\"format\": 1.,",
     "plant.json:2: found a badly written number; allowed: a number such as 12, 0.5 or 1.5e-3\n"},
    {LEAST, "\"format\": 1,", "\"format\": 1e999,",
     "plant.json:2: found a number too large; allowed: numbers up to 1.7e308\n"},
    {LEAST, "The fewest", "\\u0000", "plant.json:3: found \\u0000; allowed: text without zero characters\n"},
    {LEAST, "The fewest", "\xff", "plant.json:3: found bytes that are not UTF-8; allowed: UTF-8\n"},
    {LEAST, "The fewest", "\n",
     "plant.json:3: found a control character within a text; allowed: \\n, \\t and the like, or a closing quote before "
     "it\n"},
    {LEAST, "\"14 m3/h\" } }\n}", "\"14 m3/h\" } }\n} }",
     "plant.json:13: found '}'; allowed: nothing more after the closing bracket\n"},
    {LEAST, "\"14 m3/h\" } }\n}", "\"14 m3/h\" } }", "plant.json:13: found the end of the text; allowed: ',' or '}'\n"},
    {LEAST, "\"14 m3/h\" } }\n}", "\"14 m3/h\" } },\n}", "plant.json:13: found '}'; allowed: a key in double quotes\n"},
};

static void test_texts_that_are_not_json(void **state)
{
    char deep[256];

    (void)state;
    WR_CHECK_EDITS(texts);
    memset(deep, '[', 150);
    strcpy(deep + 150, "]");
    char *complaints = wr_edit_complaints(deep, NULL, 0);
    check_text(complaints, "plant.json:1: found more than 100 blocks and lists within each other; allowed: 100\n",
               "deep");
    free(complaints);
    static const char *const others[][2] = {
        {"",
         "plant.json:1: found the end of the text; allowed: a text in double quotes, a number, a block, a list, true "
         "or false\n"},
        {"\n 5", "plant.json:2: found a value that is no block; allowed: a scenario, { \"format\": 1, ... }\n"},
        {"[]", "plant.json:1: found a value that is no block; allowed: a scenario, { \"format\": 1, ... }\n"},
    };
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        complaints = wr_edit_complaints(others[i][0], NULL, 0);
        check_text(complaints, others[i][1], others[i][0]);
        free(complaints);
    }
}

/* One more byte than may be, none of it read. */
static void test_huge(void **state)
{
    struct wr_reading reading;
    size_t length = (size_t)16 * 1024 * 1024 + 1;
    char *huge = malloc(length);

    (void)state;
    memset(huge, ' ', length);
    wr_reading_text(&reading, "huge.json", huge, length, NULL, 0);
    check_count(reading.complaint_count, 1, "complaints");
    check_text(reading.complaints[0].message, "found more than 16 MB; allowed: 16 MB", "huge");
    wr_reading_fini(&reading);
    free(huge);
}

static void test_files_that_cannot_be_read(void **state)
{
    static const char *const files[][2] = {
        {"tests/input/none.json", "tests/input/none.json: found no file that can be read (No such file or directory); "
                                  "allowed: a scenario\n"},
        {"tests/input", "tests/input: found no file that can be read (Is a directory); allowed: a scenario\n"},
    };

    (void)state;
    for (size_t i = 0; i < 2; i++) {
        struct wr_reading reading;
        wr_reading_file(&reading, files[i][0], NULL, 0);
        char *complaints = wr_reading_complaints_text(&reading);
        check_text(complaints, files[i][1], files[i][0]);
        check_true(!reading.good && reading.tree == NULL, "not good");
        check_true(wr_reading_scenario_text(&reading) == NULL, "no scenario");
        free(complaints);
        wr_reading_fini(&reading);
    }
}

/* All at once, in the order of the file, those of two on one line by their columns. */
static void test_all_at_once(void **state)
{
    static const char text[] =
        "{\n"
        "  \"wash\": { \"triggers\": {}, \"backwash_rate\": 12, \"backwash_tim\": \"10 min\" },\n"
        "  \"storage\": { \"volume\": \"950 gal\", \"low_mark\": \"5 %\", \"reserve\": \"6 %\" },\n"
        "  \"wells\": [ { \"flow\": \"31 m\",\n"
        "      \"on_below\": \"72 %\", \"off_above\": \"70 %\" } ],\n"
        "  \"format\": 1, \"format\": 1,\n"
        "  \"demand\": { \"maximum_day\": \"x\" },\n"
        "  \"filters\": [ 5 ],\n"
        "  \"raw_water\": { \"iron\": \"2 mg/L\", \"manganese\": \"0.25 mg\" }\n"
        "}\n";
    char *complaints = wr_edit_complaints(text, NULL, 0);

    (void)state;
    check_text(
        complaints,
        "plant.json:1: /wash_water: found nothing, but it must be given; allowed: a block { ... }\n"
        "plant.json:2: /wash/triggers: found nothing that calls a wash; allowed: at least one of differential, "
        "run_hours and volume, or a rota\n"
        "plant.json:2: /wash/backwash_rate: found the bare number 12 where a unit is needed; allowed: a flow per "
        "area such as \"12 gal/min/ft2\", more than 0 gal/min/ft2, at most 122.7 gal/min/ft2\n"
        "plant.json:2: /wash/backwash_tim: found an unknown key; allowed: \"triggers\", \"template\", "
        "\"backwash_rate\", \"backwash_time\", \"ramp_time\", \"bed_settle\", \"rinse_rate\", \"rinse_time\", "
        "\"rinse_to\", \"washout_depth\", \"clear_at\", \"valve_travel\", \"drain_depth\", \"drain_time\", "
        "\"air_time\", \"fill_rate\", \"filter_down_depth\", "
        "\"filter_down_time\", \"regenerant_depth\", \"regenerate_time\", \"holding\", \"rinse_at_start\", "
        "\"max_simultaneous\", "
        "\"min_between_starts\", \"who_first\", \"window\", \"rota\", \"min_filters_in_service\", "
        "\"storage_lockout\", \"blowers\", \"when_plant_stopped\", \"on_interrupt\", \"attended\", \"note\"; did "
        "you mean \"backwash_time\"?\n"
        "plant.json:3: /storage/low_mark: found 5.00 %; allowed: at least the reserve, 6.00 %\n"
        "plant.json:4: /wells/0/flow: found \"31 m\", a length; allowed: a flow such as \"300 gal/min\" or \"68 "
        "m3/h\", more than 0 gal/min, at most 1e6 gal/min\n"
        "plant.json:5: /wells/0/off_above: found 70.0 %; allowed: more than on_below, 72.0 %, or the well starts "
        "and stops without end\n"
        "plant.json:6: /format: found a key that was given before; allowed: each key once\n"
        "plant.json:7: /demand/maximum_day: found \"x\", which does not start with a number such as 12, 0.5 or "
        "1.5e-3; allowed: a flow such as \"0.36 Mgal/d\" or \"1400 m3/d\", at least 0 Mgal/d, at most 1000 Mgal/d\n"
        "plant.json:8: /filters/0: found 5; allowed: a block { ... }\n"
        "plant.json:9: /raw_water/manganese: found \"0.25 mg\", a mass; allowed: a concentration such as \"0.25 "
        "mg/L\", at least 0 mg/L, at most 1000 mg/L\n",
        "all complaints");
    free(complaints);
}

/* Line and column are numbers too, for those who mark places. */
static void test_line_and_column(void **state)
{
    static const char text[] = "{ \"format\": 1,\n  \"horizon\": 3 }";
    struct wr_reading reading;

    (void)state;
    wr_reading_text(&reading, "x", text, strlen(text), NULL, 0);
    const struct wr_complaint *last = &reading.complaints[reading.complaint_count - 1];
    check_text(last->pointer, "/horizon", "pointer");
    check_count(last->line, 2, "line");
    check_count(last->column, 14, "column of the value");
    check_text(last->setting, NULL, "no setting");
    wr_reading_fini(&reading);
}

/* Beyond the first few hundred they are only counted. */
static void test_too_many(void **state)
{
    char *text = calloc(1, 200000);

    (void)state;
    strcpy(text, "{\n");
    for (int i = 0; i < 5000; i++)
        snprintf(text + strlen(text), 64, "\"key%d\": 1,\n", i);
    strcat(text, "\"format\": 1 }");
    char *complaints = wr_edit_complaints(text, NULL, 0);
    size_t lines = 0;
    for (const char *byte = complaints; *byte != '\0'; byte++)
        lines += *byte == '\n' ? 1 : 0;
    check_count(lines, 201, "lines");
    /* 5000 unknown keys and seven blocks missing. */
    check_holds(complaints, "\nplant.json: and 4807 more\n", "the rest");
    free(complaints);
    free(text);
}

struct setting_case {
    const char *setting;
    const char *expected;
};

static const struct setting_case settings[] = {
    {"/horizon=365 d", ""},
    {"/horizon=\"365 d\"", ""},
    {"/seed=12", ""},
    {"/wells/0/flow=31 m3/h", ""},
    {"/wells/2={\"flow\": \"31 m3/h\", \"on_below\": \"60 %\", \"off_above\": \"90 %\"}", ""},
    {"/storage/note=a=b", ""},
    {"/start=2026-01-05 06:00", ""},
    {"/wash/backwash_rate=12",
     "--set /wash/backwash_rate=12: /wash/backwash_rate: found the bare number 12 where a unit "
     "is needed; allowed: a flow per area such as \"29 m/h\", more than 0 m/h, at most 300 m/h\n"},
    {"/horizon=11 year",
     "--set /horizon=11 year: /horizon: found \"11 year\"; allowed: a time such as \"30 d\", more than "
     "0 s, at most 3653 d\n"},
    {"/horizon", "--set /horizon: found no setting; allowed: POINTER=VALUE such as /horizon=365 d\n"},
    {"horizon=365 d", "--set horizon=365 d: found no setting; allowed: POINTER=VALUE such as /horizon=365 d\n"},
    {"=5", "--set =5: found no setting; allowed: POINTER=VALUE such as /horizon=365 d\n"},
    {"/horizon=\xff", "--set ?: found no setting; allowed: POINTER=VALUE such as /horizon=365 d\n"},
    {"/storage/reserv=5 %", "--set /storage/reserv=5 %: /storage/reserv: found the unknown key \"reserv\"; allowed: "
                            "\"volume\", \"start_level\", \"reserve\", \"low_mark\", \"note\"; did you mean "
                            "\"reserve\"?\n"},
    {"/recycle/tank/volume=5", "--set /recycle/tank/volume=5: /recycle/tank/volume: found the unknown key \"tank\"; "
                               "allowed: \"pump\", \"control\", \"max_fraction\", \"max_blend_solids\", \"note\"\n"},
    {"/wells/5/flow=31 m3/h",
     "--set /wells/5/flow=31 m3/h: /wells/5/flow: found the item \"5\" of a list of 2; allowed: 0 "
     "to 2, or \"-\" to add one\n"},
    {"/wells/01/flow=31 m3/h", "--set /wells/01/flow=31 m3/h: /wells/01/flow: found the item \"01\" of a list of 2; "
                               "allowed: 0 to 2, or \"-\" to add one\n"},
    {"/wells/flow=31 m3/h",
     "--set /wells/flow=31 m3/h: /wells/flow: found the item \"flow\" of a list of 2; allowed: 0 to "
     "2, or \"-\" to add one\n"},
    {"/horizon/days=3",
     "--set /horizon/days=3: /horizon/days: found a way into a value that is no block or list; allowed: "
     "a pointer that ends there\n"},
    {"/demand/hourly_factors/3/x=3",
     "--set /demand/hourly_factors/3/x=3: /demand/hourly_factors/3/x: found a way into a "
     "value that is no block or list; allowed: a pointer that ends there\n"},
    {"/horizon~2=3", "--set /horizon~2=3: /horizon~2: found a badly written pointer; allowed: one such as "
                     "/wash/backwash_rate, with ~0 for ~ and ~1 for /\n"},
    {"/a~1b~0=3",
     "--set /a~1b~0=3: /a~1b~0: found the unknown key \"a/b~\"; allowed: \"format\", \"title\", \"question\", "
     "\"start\", \"horizon\", \"seed\", \"units\", \"demand\", \"storage\", \"wells\", \"raw_water\", "
     "\"filters\", \"start_beds\", \"flow_split\", \"over_approved_rate\", \"wash\", \"wash_water\", \"spent_wash\", "
     "\"recycle\", "
     "\"outages\", \"approved_capacity\", \"fails_if\", \"note\"\n"},
    {"/wells/0=5", "--set /wells/0=5: /wells/0: found 5; allowed: a block { ... }\n"},
    {"/wells/-/flow=31 m3/h", "--set /wells/-/flow=31 m3/h: /wells/2/on_below: found nothing, but it must be given; "
                              "allowed: a share such as \"72 %\" or \"10 %\", at least 0 %, at most 100 %\n"
                              "--set /wells/-/flow=31 m3/h: /wells/2/off_above: found nothing, but it must be given; "
                              "allowed: a share such as \"95 %\", at least 0 %, at most 100 %\n"},
    {"/storage/low_mark=30 %", "--set /storage/low_mark=30 %: /storage/low_mark: found 30.0 %; allowed: at least the "
                               "reserve, 40.0 %\n"},
    {"/title=\xe2\x82\xac", ""},
};

static void test_settings(void **state)
{
    char *text = wr_edit_file(PLANT);

    (void)state;
    for (size_t i = 0; i < sizeof settings / sizeof settings[0]; i++) {
        char *complaints = wr_edit_complaints(text, &settings[i].setting, 1);
        check_text(complaints, settings[i].expected, settings[i].setting);
        free(complaints);
    }
    free(text);
}

/* Later settings work on what earlier ones made, and the file's own complaints keep their lines. */
static void test_settings_in_turn(void **state)
{
    static const char *const good[] = {"/recycle={}",
                                       "/recycle/pump=3 gal/min",
                                       "/spent_wash/tanks/-/volume=40 m3",
                                       "/spent_wash/tanks/0/start_level=10 %",
                                       "/spent_wash/outlets/0/kind=recycle",
                                       "/outages/0/unit=F2",
                                       "/outages/0/from=2026-01-06",
                                       "/horizon=1 d",
                                       "/horizon=365 d"};
    static const char *const bad[] = {"/wells/0=5", "/wells/0={\"flow\": 7}", "/wells/0/on_below=5 %"};
    struct wr_reading reading;

    (void)state;
    wr_reading_file(&reading, LEAST, good, sizeof good / sizeof good[0]);
    char *complaints = wr_reading_complaints_text(&reading);
    check_text(complaints, "", "in turn");
    check(reading.definition.horizon, 365 * 86400.0, 0, "the last one counts, s");
    check_count(reading.definition.spent_wash.tanks.count, 1, "a list made");
    check(reading.definition.spent_wash.tanks.items[0].start_level, 0.1, 0, "an item made before");
    check(reading.definition.outages.items[0].from, 86400, 0, "a date, s from the start");
    free(complaints);
    wr_reading_fini(&reading);

    char *text = wr_edit_file(LEAST);
    char *edited = wr_edit_replace(text, "\"950 m3\"", "950");
    complaints = wr_edit_complaints(edited, bad, 3);
    check_text(
        complaints,
        "plant.json:5: /storage/volume: found the bare number 950 where a unit is needed; allowed: a volume such as "
        "\"250000 gal\", more than 0 gal, at most 1000 Mgal\n"
        "--set /wells/0={\"flow\": 7}: /wells/0/flow: found the bare number 7 where a unit is needed; allowed: a "
        "flow such as \"300 gal/min\" or \"68 m3/h\", more than 0 gal/min, at most 1e6 gal/min\n"
        "--set /wells/0={\"flow\": 7}: /wells/0/off_above: found nothing, but it must be given; allowed: a share "
        "such as \"95 %\", at least 0 %, at most 100 %\n",
        "blame");
    free(complaints);
    free(edited);
    free(text);
}

/* Every medium of the models is known by its name alone. */
static void test_known_media(void **state)
{
    char *text = wr_edit_file(LEAST);

    (void)state;
    for (size_t i = 0; i < wr_media_count; i++) {
        char setting[96];
        const char *const only[] = {setting};
        snprintf(setting, sizeof setting, "/filters/0/media/0/medium=%s", wr_media_table[i].name);
        char *complaints = wr_edit_complaints(text, only, 1);
        check_text(complaints, "", setting);
        free(complaints);
    }
    free(text);
}

/* Limits on how many filters, and names that must not meet. */
static void test_many_filters(void **state)
{
    static const char *const many[] = {"/filters/0/count=600", "/filters/1/count=500", "/start_beds/how=spread"};
    static const char *const meet[] = {"/filters/1/name=F1", "/filters/0/count=11", "/outages=[]"};
    char *text = wr_edit_file(PLANT);

    (void)state;
    char *complaints = wr_edit_complaints(text, many, 3);
    check_holds(complaints, "plant.json:26: /filters: found 1100 filters in all; allowed: 1000\n", "too many");
    free(complaints);
    complaints = wr_edit_complaints(text, meet, 3);
    check_holds(complaints, "plant.json:26: /filters: found two filters called \"F11\"; allowed: each name once\n",
                "meet");
    free(complaints);
    free(text);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_quantities),
        cmocka_unit_test(test_keys),
        cmocka_unit_test(test_texts_that_are_not_json),
        cmocka_unit_test(test_huge),
        cmocka_unit_test(test_files_that_cannot_be_read),
        cmocka_unit_test(test_all_at_once),
        cmocka_unit_test(test_line_and_column),
        cmocka_unit_test(test_too_many),
        cmocka_unit_test(test_settings),
        cmocka_unit_test(test_settings_in_turn),
        cmocka_unit_test(test_known_media),
        cmocka_unit_test(test_many_filters),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    wr_quantities_free();
    return failed;
}
