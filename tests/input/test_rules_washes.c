/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Washes that nothing calls, that lack a step, water, room or a way out: all that is said about them, word for word. */
#include "sim/scenario/quantity.h"
#include "tests/input/edit.h"
#include "tests/support/check.h"

static const struct wr_edit calls[] = {
    {LEAST, "{ \"run_hours\": \"48 h\" }", "{}",
     "plant.json:11: /wash/triggers: found nothing that calls a wash; allowed: at least one of differential, "
     "run_hours and volume, or a rota\n"},
    {LEAST, "{ \"run_hours\": \"48 h\" }", "{ \"urgent_differential\": \"5 m\" }",
     "plant.json:11: /wash/triggers: found nothing that calls a wash; allowed: at least one of differential, "
     "run_hours and volume, or a rota\n"},
    {LEAST, "{ \"run_hours\": \"48 h\" }", "{}, \"rota\": []",
     "plant.json:11: /wash/triggers: found nothing that calls a wash; allowed: at least one of differential, "
     "run_hours and volume, or a rota\n"},
    {LEAST, "{ \"run_hours\": \"48 h\" }", "{}, \"rota\": [ { \"filter\": \"F1\", \"first\": \"2026-01-06\" } ]", ""},
    {PLANT, "\"differential\": \"8 psi\"", "\"differential\": \"11.7 psi\"",
     "plant.json:57: /wash/triggers/differential: found 80.7 kPa; allowed: at most the available head of "
     "/filters/1, 80.0 kPa, or it never calls\n"
     "plant.json:58: /wash/triggers/urgent_differential: found 68.9 kPa; allowed: at least differential, 80.7 kPa\n"},
    {PLANT, "\"urgent_differential\": \"10 psi\"", "\"urgent_differential\": \"7.9 psi\"",
     "plant.json:58: /wash/triggers/urgent_differential: found 54.5 kPa; allowed: at least differential, 55.2 kPa\n"},
    {PLANT, "\"urgent_differential\": \"10 psi\"", "\"urgent_differential\": \"8 psi\"", ""},
    {PLANT, "\"urgent_differential\": \"10 psi\"", "\"urgent_differential\": \"12 psi\"",
     "plant.json:58: /wash/triggers/urgent_differential: found 82.7 kPa; allowed: at most the available head of "
     "/filters/1, 80.0 kPa, or it never calls\n"},
};

static void test_calls(void **state)
{
    (void)state;
    WR_CHECK_EDITS(calls);
}

static const struct wr_edit hours[] = {
    {PLANT, "\"until\": \"16:30\"", "\"until\": \"07:00\"",
     "plant.json:65: /wash/window/0/until: found the same time as from; allowed: another; a whole day is \"00:00\" "
     "to \"24:00\"\n"},
    {PLANT, "\"until\": \"24:00\"", "\"until\": \"00:00\"",
     "plant.json:68: /wash/attended/0/until: found the same time as from; allowed: another; a whole day is "
     "\"00:00\" to \"24:00\"\n"},
    {PLANT, "\"until\": \"06:00\"", "\"until\": \"23:59\"",
     "plant.json:78: /spent_wash/outlets/1/hours/0/until: found the same time as from; allowed: another; a whole "
     "day is \"00:00\" to \"24:00\"\n"},
    {PLANT, "\"from\": \"07:00\"", "\"from\": \"24:00\"",
     "plant.json:65: /wash/window/0/from: found \"24:00\"; allowed: a time of day such as \"07:00\", less than "
     "24:00\n"},
    {PLANT, "\"from\": \"07:00\"", "\"from\": \"7:00\"",
     "plant.json:65: /wash/window/0/from: found \"7:00\"; allowed: a time of day such as \"07:00\", less than "
     "24:00\n"},
    {PLANT, "\"from\": \"07:00\"", "\"from\": \"07:60\"",
     "plant.json:65: /wash/window/0/from: found \"07:60\"; allowed: a time of day such as \"07:00\", less than "
     "24:00\n"},
    {PLANT, "\"from\": \"07:00\"", "\"from\": 7",
     "plant.json:65: /wash/window/0/from: found 7; allowed: a time of day such as \"07:00\", less than 24:00\n"},
    {PLANT, "\"until\": \"16:30\"", "\"until\": \"24:01\"",
     "plant.json:65: /wash/window/0/until: found \"24:01\"; allowed: a time of day such as \"07:00\", at most "
     "24:00\n"},
    {PLANT, "\"until\": \"16:30\"", "\"until\": \"24:00\"", ""},
    {PLANT, "\"until\": \"16:30\"", "\"until\": \"06:59\"", ""},
    {PLANT, "\"from\": \"07:00\", ", "",
     "plant.json:65: /wash/window/0/from: found nothing, but it must be given; allowed: a time of day such as "
     "\"07:00\", less than 24:00\n"},
    {PLANT, "\"days\": \"weekdays\"", "\"days\": \"mondays\"",
     "plant.json:65: /wash/window/0/days: found \"mondays\"; allowed: \"every_day\", \"weekdays\", \"weekends\", "
     "\"monday\", \"tuesday\", \"wednesday\", \"thursday\", \"friday\", \"saturday\" or \"sunday\"\n"},
};

static void test_hours(void **state)
{
    (void)state;
    WR_CHECK_EDITS(hours);
}

static const struct wr_edit steps[] = {
    {PLANT, "\"ramp_time\": \"90 s\"", "\"ramp_time\": \"12 min\"",
     "plant.json:60: /wash/backwash_time: found 11.0 min; allowed: at least ramp_time, 12.0 min, which the two "
     "ramps at half rate stand for\n"},
    {LEAST, "\"backwash_rate\": \"29 m/h\"",
     "\"backwash_rate\": \"29 m/h\", \"drain_depth\": \"0.3 m\", \"drain_time\": \"5 min\", \"air_time\": \"4 "
     "min\", \"fill_rate\": \"12 m/h\", \"filter_down_depth\": \"0.5 m\", \"filter_down_time\": \"10 min\", "
     "\"regenerant_depth\": \"0.4 m3/m2\", \"regenerate_time\": \"20 min\"",
     "plant.json:11: /wash/drain_depth: found 11.8 in; allowed: none where template is \"pressure\"\n"
     "plant.json:11: /wash/drain_time: found 5.00 min; allowed: none where template is \"pressure\"\n"
     "plant.json:11: /wash/air_time: found 4.00 min; allowed: none where template is \"pressure\"\n"
     "plant.json:11: /wash/fill_rate: found 4.91 gal/min/ft2; allowed: none where template is \"pressure\"\n"
     "plant.json:11: /wash/filter_down_depth: found 19.7 in; allowed: none where template is \"pressure\"\n"
     "plant.json:11: /wash/filter_down_time: found 10.0 min; allowed: none where template is \"pressure\"\n"
     "plant.json:11: /wash/regenerant_depth: found 9.817 gal/ft2; allowed: none where template is \"pressure\"\n"
     "plant.json:11: /wash/regenerate_time: found 20.0 min; allowed: none where template is \"pressure\"\n"},
    {LEAST, "\"backwash_rate\": \"29 m/h\"",
     "\"backwash_rate\": \"29 m/h\", \"drain_depth\": \"0 m\", \"drain_time\": \"0 min\", \"air_time\": \"0 s\", "
     "\"filter_down_depth\": \"0 in\", \"filter_down_time\": \"0 h\", \"regenerant_depth\": \"0 gal/ft2\", "
     "\"regenerate_time\": \"0 d\"",
     ""},
    {LEAST, "\"backwash_rate\": \"29 m/h\"", "\"backwash_rate\": \"29 m/h\", \"template\": \"pressure_air\"",
     "plant.json:11: /wash/drain_depth: found none; allowed: more than 0, which template \"pressure_air\" needs\n"
     "plant.json:11: /wash/drain_time: found none; allowed: more than 0, which template \"pressure_air\" needs\n"
     "plant.json:11: /wash/air_time: found none; allowed: more than 0, which template \"pressure_air\" needs\n"},
    {LEAST, "\"backwash_rate\": \"29 m/h\"",
     "\"backwash_rate\": \"29 m/h\", \"template\": \"pressure_air\", \"drain_depth\": \"0.3 m\", \"drain_time\": "
     "\"5 min\", \"air_time\": \"4 min\"",
     ""},
    {LEAST, "\"backwash_rate\": \"29 m/h\"",
     "\"backwash_rate\": \"29 m/h\", \"template\": \"pressure_air\", \"drain_depth\": \"0.3 m\", \"drain_time\": "
     "\"5 min\", \"air_time\": \"4 min\", \"filter_down_depth\": \"0.5 m\"",
     "plant.json:11: /wash/filter_down_depth: found 19.7 in; allowed: none where template is \"pressure_air\"\n"},
    {LEAST, "\"backwash_rate\": \"29 m/h\"", "\"backwash_rate\": \"29 m/h\", \"template\": \"gravity\"", ""},
    {LEAST, "\"backwash_rate\": \"29 m/h\"",
     "\"backwash_rate\": \"29 m/h\", \"template\": \"gravity\", \"drain_depth\": \"0.3 m\", \"filter_down_depth\": "
     "\"0.5 m\"",
     "plant.json:11: /wash/drain_time: found none, but there is drain_depth; allowed: both or neither\n"
     "plant.json:11: /wash/filter_down_time: found none, but there is filter_down_depth; allowed: both or neither\n"},
    {LEAST, "\"backwash_rate\": \"29 m/h\"",
     "\"backwash_rate\": \"29 m/h\", \"template\": \"gravity\", \"drain_time\": \"5 min\", \"filter_down_time\": "
     "\"10 min\"",
     "plant.json:11: /wash/drain_depth: found none, but there is drain_time; allowed: both or neither\n"
     "plant.json:11: /wash/filter_down_depth: found none, but there is filter_down_time; allowed: both or neither\n"},
    {LEAST, "\"backwash_rate\": \"29 m/h\"",
     "\"backwash_rate\": \"29 m/h\", \"template\": \"gravity\", \"regenerant_depth\": \"10 gal/ft2\"",
     "plant.json:11: /wash/regenerant_depth: found 10.00 gal/ft2; allowed: none where template is \"gravity\"\n"},
    {LEAST, "\"backwash_rate\": \"29 m/h\"", "\"backwash_rate\": \"29 m/h\", \"template\": \"batch_regeneration\"",
     "plant.json:11: /wash/regenerant_depth: found none; allowed: more than 0, which template "
     "\"batch_regeneration\" needs\n"
     "plant.json:11: /wash/regenerate_time: found none; allowed: more than 0, which template "
     "\"batch_regeneration\" needs\n"},
    {LEAST, "\"backwash_rate\": \"29 m/h\"",
     "\"backwash_rate\": \"29 m/h\", \"template\": \"batch_regeneration\", \"regenerant_depth\": \"10 gal/ft2\", "
     "\"regenerate_time\": \"20 min\"",
     ""},
    {LEAST, "\"backwash_rate\": \"29 m/h\"",
     "\"backwash_rate\": \"29 m/h\", \"template\": \"batch_regeneration\", \"regenerant_depth\": \"10 gal/ft2\", "
     "\"regenerate_time\": \"20 min\", \"holding\": { \"volume\": \"100 gal\", \"emptied_every\": \"7 d\" }",
     "plant.json:11: /wash/holding/volume: found 100.0 gal; allowed: at least 505.9 gal, the regenerant of one wash of "
     "/filters/0\n"},
    {LEAST, "\"backwash_rate\": \"29 m/h\"",
     "\"backwash_rate\": \"29 m/h\", \"holding\": { \"volume\": \"3000 gal\", \"emptied_every\": \"7 d\" }",
     "plant.json:11: /wash/holding: found one; allowed: only where template is \"batch_regeneration\"\n"},
    {LEAST, "\"backwash_rate\": \"29 m/h\"",
     "\"backwash_rate\": \"29 m/h\", \"template\": \"batch_regeneration\", \"regenerant_depth\": \"10 gal/ft2\", "
     "\"regenerate_time\": \"20 min\", \"air_time\": \"4 min\"",
     "plant.json:11: /wash/air_time: found 4.00 min; allowed: none where template is \"batch_regeneration\"\n"},
    {LEAST, "\"backwash_rate\": \"29 m/h\"", "\"backwash_rate\": \"29 m/h\", \"template\": \"batch regeneration\"",
     "plant.json:11: /wash/template: found \"batch regeneration\"; allowed: \"pressure\", \"pressure_air\", "
     "\"gravity\" or \"batch_regeneration\"\n"},
};

static void test_steps(void **state)
{
    (void)state;
    WR_CHECK_EDITS(steps);
}

static const struct wr_edit sources_and_room[] = {
    {LEAST, "\"wash_water\": { \"tank\": { \"volume\": \"34 m3\", \"refill_rate\": \"14 m3/h\" } }",
     "\"wash_water\": { \"source\": \"tank\" }",
     "plant.json:12: /wash_water/tank: found nothing, but source is \"tank\"; allowed: a block { ... }\n"},
    {LEAST, "\"wash_water\": { \"tank\": { \"volume\": \"34 m3\", \"refill_rate\": \"14 m3/h\" } }",
     "\"wash_water\": { \"source\": \"storage\", \"tank\": { \"volume\": \"34 m3\", \"refill_rate\": \"14 m3/h\" } "
     "}",
     "plant.json:12: /wash_water/tank: found one, but source is \"storage\"; allowed: only where it is \"tank\"\n"},
    {LEAST, "\"wash_water\": { \"tank\": { \"volume\": \"34 m3\", \"refill_rate\": \"14 m3/h\" } }",
     "\"wash_water\": { \"source\": \"storage\", \"draw_limit\": \"137 m3/h\" }",
     "plant.json:12: /wash_water/draw_limit: found one, but source is \"storage\"; allowed: only where it is "
     "\"system\"\n"},
    {LEAST, "\"wash_water\": { \"tank\": { \"volume\": \"34 m3\", \"refill_rate\": \"14 m3/h\" } }",
     "\"wash_water\": { \"source\": \"storage\" }", ""},
    {LEAST, "\"wash_water\": { \"tank\": { \"volume\": \"34 m3\", \"refill_rate\": \"14 m3/h\" } }",
     "\"wash_water\": { \"source\": \"system\" }",
     "plant.json:12: /wash_water/draw_limit: found nothing, but source is \"system\"; allowed: a flow such as "
     "\"650 gal/min\"\n"},
    /* 4.7 m2 x 29 m/h = 136.3 m3/h, for 10 min 22.72 m3, for 7 h 954.1 m3. */
    {LEAST, "\"wash_water\": { \"tank\": { \"volume\": \"34 m3\", \"refill_rate\": \"14 m3/h\" } }",
     "\"wash_water\": { \"source\": \"system\", \"draw_limit\": \"136.2 m3/h\" }",
     "plant.json:12: /wash_water/draw_limit: found 599.7 gal/min; allowed: at least 600.1 gal/min, or a wash of "
     "/filters/0 never reaches its rate\n"},
    {LEAST, "\"wash_water\": { \"tank\": { \"volume\": \"34 m3\", \"refill_rate\": \"14 m3/h\" } }",
     "\"wash_water\": { \"source\": \"system\", \"draw_limit\": \"136.3 m3/h\" }", ""},
    {LEAST,
     "\"backwash_rate\": \"29 m/h\" },\n"
     "  \"wash_water\": { \"tank\": { \"volume\": \"34 m3\", \"refill_rate\": \"14 m3/h\" } }",
     "\"backwash_rate\": \"29 m/h\", \"backwash_time\": \"7 h\" },\n"
     "  \"wash_water\": { \"source\": \"storage\" }",
     "plant.json:5: /storage/volume: found 250,963 gal above the reserve; allowed: at least 252,047 gal there, the "
     "water of one wash of /filters/0, since it comes from storage\n"},
    {LEAST, "\"wash_water\": { \"tank\": { \"volume\": \"34 m3\", \"refill_rate\": \"14 m3/h\" } }",
     "\"wash_water\": { \"source\": \"wells\" }",
     "plant.json:12: /wash_water/source: found \"wells\", with raw water of 136.5 gal/min at most; allowed: a "
     "source of at least 600.1 gal/min, or a wash of /filters/0 never reaches its rate\n"},
    /* Two filters of 4.7 m2 at 7.3 m/h make 68.62 m3/h. */
    {LEAST, "\"wash_water\": { \"tank\": { \"volume\": \"34 m3\", \"refill_rate\": \"14 m3/h\" } }",
     "\"wash_water\": { \"source\": \"filters\" }",
     "plant.json:12: /wash_water/source: found \"filters\", of which the others pass 302.1 gal/min at most while "
     "one of /filters/0 is washed; allowed: a source of at least 600.1 gal/min, or that wash never reaches its "
     "rate\n"
     "plant.json:12: /wash_water/source: found \"filters\", with raw water of 136.5 gal/min at most; allowed: a "
     "source of at least 600.1 gal/min, or a wash of /filters/0 never reaches its rate\n"},
    /* 50.27 ft2 x 12 gal/min/ft2 = 603.2 gal/min = 137.0 m3/h, for 11 min 6635 gal = 25.12 m3. */
    {PLANT, "\"max_flow\": \"650 gal/min\"", "\"max_flow\": \"600 gal/min\"",
     "plant.json:71: /wash_water/max_flow: found 136.3 m3/h; allowed: at least 137.0 m3/h, or a wash of /filters/0 "
     "never reaches its rate\n"},
    /* 50.27 ft2 x 50 m/h = 233.5 m3/h. */
    {PLANT, "\"fill_rate\": \"12 m/h\"", "\"fill_rate\": \"50 m/h\"",
     "plant.json:71: /wash_water/max_flow: found 147.6 m3/h; allowed: at least 233.5 m3/h, or a wash of /filters/0 "
     "never reaches its rate\n"},
    /* 50.27 ft2 x (0.3 m + 20 in) = 3.77 m3 to fill it again: 28.89 m3. */
    {PLANT, "\"tank\": { \"volume\": \"9000 gal\"", "\"tank\": { \"volume\": \"7600 gal\"",
     "plant.json:72: /wash_water/tank/volume: found 28.77 m3; allowed: at least 28.89 m3, the water of one wash of "
     "/filters/0\n"},
    /* The backwash and 50.27 ft2 x 0.3 m = 1.40 m3 drained, 26.52 m3; the rinse goes to the sewer. Of 29.4 m3 3 m deep
     * all but a foot, 26.41 m3. */
    {PLANT,
     "[ { \"name\": \"West\", \"volume\": \"9000 gal\", \"start_level\": \"5 %\", \"depth\": \"8 ft\" }, { \"volume\": "
     "\"35 m3\", \"depth\": \"2.5 m\" } ]",
     "[ { \"volume\": \"26 m3\", \"depth\": \"3 m\" }, { \"volume\": \"29.4 m3\", \"depth\": \"3 m\" } ]",
     "plant.json:75: /spent_wash/tanks: found room for at most 26.41 m3 in a tank; allowed: one with room for at least "
     "26.52 m3, the drained water and backwash of one wash of /filters/0\n"},
};

static void test_sources_and_room(void **state)
{
    (void)state;
    WR_CHECK_EDITS(sources_and_room);
}

static const struct wr_edit laws_of_settling[] = {
    {PLANT, "\"law\": \"clock\"", "\"law\": \"classes\"",
     "plant.json:76: /spent_wash/settling/classes: found nothing, but law is \"classes\"; allowed: a list of blocks [ "
     "{ "
     "... } ]\n"},
    {PLANT, "\"law\": \"clock\"", "\"law\": \"zone\"",
     "plant.json:76: /spent_wash/settling/zone: found nothing, but law is \"zone\"; allowed: a block { ... }\n"},
    {PLANT, "\"law\": \"clock\"",
     "\"law\": \"clock\", \"classes\": [ { \"share\": \"100 %\", \"velocity\": \"1 m/h\" } ]",
     "plant.json:76: /spent_wash/settling/classes: found one, but law is \"clock\"; allowed: only where it is "
     "\"classes\"\n"},
    {PLANT, "\"law\": \"clock\"",
     "\"law\": \"classes\", \"classes\": [ { \"share\": \"60 %\", \"velocity\": \"1 m/h\" }, { \"share\": \"30 %\", "
     "\"velocity\": \"0.1 m/h\" } ]",
     "plant.json:76: /spent_wash/settling/classes: found shares that add up to 90 %; allowed: 100 %\n"},
    {PLANT, "\"law\": \"clock\"",
     "\"law\": \"zone\", \"zone\": { \"velocity\": \"3 m/h\", \"greatest_concentration\": \"18 g/L\" }",
     "plant.json:76: /spent_wash/settling/zone/hindrance: found nothing, but flux is \"vesilind\"; allowed: a volume "
     "per "
     "mass such as \"1 L/g\"\n"},
    {PLANT, "\"draw_height\": \"1 ft\"", "\"draw_height\": \"8.1 ft\"",
     "plant.json:75: /spent_wash/tanks: found room for at most 0.4357 m3 in a tank; allowed: one with room for at "
     "least "
     "26.52 m3, the drained water and backwash of one wash of /filters/0\n"
     "plant.json:76: /spent_wash/settling/draw_height: found a height at or above the top of /spent_wash/tanks/0; "
     "allowed: less than its depth\n"},
    {PLANT, "\"thickened_solids\": \"1.5 %\"", "\"thickened_solids\": \"0.1 %\"",
     "plant.json:76: /spent_wash/sludge/thickened_solids: found less than fresh_solids; allowed: at least as much\n"},
    {PLANT, ", \"volume\": \"300 gal\"", "",
     "plant.json:76: /spent_wash/sludge/volume: found nothing, but drawn is \"each_decant\"; allowed: a volume such as "
     "\"300 gal\"\n"},
    {PLANT, "\"drawn\": \"each_decant\", \"volume\": \"300 gal\", \"level\": \"25 %\", \"every\": \"7 d\"",
     "\"drawn\": \"by_calendar\"",
     "plant.json:76: /spent_wash/sludge/every: found nothing, but drawn is \"by_calendar\"; allowed: a time such as "
     "\"7 "
     "d\"\n"},
    {LEAST, "\"wash_water\": {", "\"spent_wash\": { \"sludge\": {} }, \"wash_water\": {",
     "plant.json:12: /spent_wash/sludge: found one; allowed: only where spent wash water settles\n"},
    {LEAST, "\"backwash_rate\": \"29 m/h\"", "\"backwash_rate\": \"29 m/h\", \"clear_at\": \"30 mg/L\"",
     "plant.json:11: /wash/clear_at: found one; allowed: only where washout_depth is given\n"},
};

static void test_laws_of_settling(void **state)
{
    (void)state;
    WR_CHECK_EDITS(laws_of_settling);
}

static const struct wr_edit ways_out[] = {
    {PLANT, ", \"time\": \"6 h\"", "",
     "plant.json:76: /spent_wash/settling/time: found nothing, but law is \"clock\"; allowed: a time such as \"6 "
     "h\"\n"},
    {PLANT, "\"time\": \"6 h\"", "\"time\": \"0 h\"",
     "plant.json:76: /spent_wash/settling/time: found 0; allowed: more than 0, since law is \"clock\"\n"},
    {PLANT, "{ \"kind\": \"recycle\" }", "{ \"kind\": \"recycle\", \"rate\": \"13 gal/min\" }",
     "plant.json:77: /spent_wash/outlets/0/rate: found a rate; allowed: none for recycle, whose flow is "
     "/recycle/pump\n"},
    {PLANT, ", \"rate\": \"30 gal/min\"", "",
     "plant.json:77: /spent_wash/outlets/1/rate: found nothing, but kind is \"sewer\"; allowed: a flow such as "
     "\"30 gal/min\"\n"},
    {PLANT, "\"kind\": \"sewer\", \"rate\": \"30 gal/min\"", "\"kind\": \"pond\"",
     "plant.json:77: /spent_wash/outlets/1/rate: found nothing, but kind is \"pond\"; allowed: a flow such as \"30 "
     "gal/min\"\n"},
    {PLANT, "\"kind\": \"sewer\", \"rate\": \"30 gal/min\"", "\"kind\": \"haul\"",
     "plant.json:77: /spent_wash/outlets/1/rate: found nothing, but kind is \"haul\"; allowed: a flow such as \"30 "
     "gal/min\"\n"},
    {PLANT, "\"kind\": \"sewer\"", "\"kind\": \"river\"",
     "plant.json:77: /spent_wash/outlets/1/kind: found \"river\"; allowed: \"recycle\", \"sewer\", \"pond\" or "
     "\"haul\"\n"},
    {PLANT, "\"daily_volume\": \"20 m3\"", "\"daily_volume\": \"0 m3\"",
     "plant.json:78: /spent_wash/outlets/1/daily_volume: found \"0 m3\"; allowed: a volume such as \"9000 gal\" or "
     "\"34 m3\", more than 0 m3, at most 3785000 m3\n"},
    {PLANT, "\"pump\": \"13.5 gal/min\", ", "",
     "plant.json:80: /recycle/pump: found nothing, but an outlet is \"recycle\"; allowed: a flow such as \"13.5 "
     "gal/min\"\n"},
    {LEAST, "\"wash_water\": {",
     "\"spent_wash\": { \"tanks\": [ { \"volume\": \"35 m3\" } ], \"outlets\": [] }, \"wash_water\": {",
     "plant.json:12: /spent_wash/outlets: found no way out of the tanks; allowed: at least one outlet\n"},
    {LEAST, "\"backwash_rate\": \"29 m/h\" }",
     "\"backwash_rate\": \"29 m/h\", \"template\": \"batch_regeneration\", \"regenerant_depth\": \"10 gal/ft2\", "
     "\"regenerate_time\": \"20 min\" },\n"
     "  \"spent_wash\": { \"tanks\": [ { \"volume\": \"40 m3\" } ], \"outlets\": [ { \"kind\": \"recycle\" } ] },\n"
     "  \"recycle\": { \"pump\": \"1 m3/h\" }",
     "plant.json:12: /spent_wash/outlets/0/kind: found \"recycle\"; allowed: another, since what a wash with "
     "template \"batch_regeneration\" leaves never goes back\n"},
};

static void test_ways_out(void **state)
{
    (void)state;
    WR_CHECK_EDITS(ways_out);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_calls),
        cmocka_unit_test(test_hours),
        cmocka_unit_test(test_steps),
        cmocka_unit_test(test_sources_and_room),
        cmocka_unit_test(test_laws_of_settling),
        cmocka_unit_test(test_ways_out),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    wr_quantities_free();
    return failed;
}
