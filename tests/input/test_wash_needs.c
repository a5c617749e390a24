/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What one wash needs by the reader's rules is what the plant's own steps add up to, for each template: exactly enough
 * is enough, a millionth less is refused. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sim/plant/plant.h"
#include "sim/scenario/quantity.h"
#include "tests/input/edit.h"
#include "tests/support/check.h"

enum { SETTINGS_MOST = 24, SETTING_LONGEST = 400 };

/* Settings on the plant of the fewest words. */
struct plant {
    char settings[SETTINGS_MOST][SETTING_LONGEST];
    size_t count;
};

static void set(struct plant *plant, const char *pointer, const char *value)
{
    check_true(plant->count < SETTINGS_MOST, "room for a setting");
    snprintf(plant->settings[plant->count++], SETTING_LONGEST, "%s=%s", pointer, value);
}

static void set_number(struct plant *plant, const char *pointer, double number, const char *unit)
{
    char value[64];

    snprintf(value, sizeof value, "%.17g %s", number, unit);
    set(plant, pointer, value);
}

/* Reads the plant and returns the complaints, which the caller frees. */
static char *read_plant(const struct plant *plant, struct wr_reading *reading)
{
    const char *settings[SETTINGS_MOST];

    for (size_t i = 0; i < plant->count; i++)
        settings[i] = plant->settings[i];
    wr_reading_file(reading, LEAST, settings, plant->count);
    return wr_reading_complaints_text(reading);
}

/* What the plant adds up for its greediest group. */
struct needs {
    double peak;  /* m3/s */
    double water; /* m3 */
    double room;  /* m3 */
};

static struct needs needs_of(const struct plant *plant)
{
    struct needs needs = {0};
    struct wr_reading reading;
    struct wr_plant built;

    char *complaints = read_plant(plant, &reading);
    check_text(complaints, "", "a plant with plenty");
    check_count(wr_plant_init(&built, &reading.definition), WR_OK, "built");
    for (size_t i = 0; i < built.group_count; i++) {
        needs.peak = fmax(needs.peak, built.groups[i].peak_flow);
        needs.water = fmax(needs.water, built.groups[i].wash_volume);
        needs.room = fmax(needs.room, built.groups[i].room);
    }
    wr_plant_fini(&built);
    free(complaints);
    wr_reading_fini(&reading);
    return needs;
}

/* Complaints with one more figure set; "" when there are none. */
static char *complaints_with(const struct plant *plant, const char *pointer, double number, const char *unit)
{
    struct plant more = *plant;
    struct wr_reading reading;

    set_number(&more, pointer, number, unit);
    char *complaints = read_plant(&more, &reading);
    wr_reading_fini(&reading);
    return complaints;
}

/* A figure at what is needed passes; a millionth less is complained of with `words`. */
static void check_edge(const struct plant *plant, const char *pointer, double need, const char *unit, const char *words)
{
    char *enough = complaints_with(plant, pointer, need, unit);
    char *less = complaints_with(plant, pointer, need * (1 - 1e-6), unit);

    check_text(enough, "", pointer);
    check_holds(less, words, pointer);
    free(enough);
    free(less);
}

/* Every way in which a wash of the plant could be short. */
static void check_plant(const struct plant *with_tank)
{
    struct needs needs = needs_of(with_tank);
    struct plant plant = *with_tank;

    check_edge(&plant, "/wash_water/tank/volume", needs.water, "m3", "the water of one wash");
    check_edge(&plant, "/wash_water/max_flow", needs.peak, "m3/s", "never reaches its rate");
    check_edge(&plant, "/spent_wash/tanks/0/volume", needs.room, "m3", "found room for at most");
    set(&plant, "/wash_water", "{\"source\": \"storage\"}");
    set(&plant, "/storage/reserve", "60 %");
    check_edge(&plant, "/storage/volume", needs.water / 0.4, "m3", "above the reserve");
    set(&plant, "/wash_water", "{\"source\": \"wells\"}");
    check_edge(&plant, "/wells/0/flow", needs.peak, "m3/s", "with raw water of");
    set(&plant, "/wash_water", "{\"source\": \"system\", \"draw_limit\": \"1 m3/s\"}");
    check_edge(&plant, "/wash_water/draw_limit", needs.peak, "m3/s", "never reaches its rate");
}

#define OTHER_GROUP(count, area, rate)                                                                                 \
    "{\"count\": " count ", \"area\": \"" area "\", \"approved_rate\": \"" rate                                        \
    "\", \"available_head\": \"8 m\", \"media\": [{\"medium\": \"sand\", \"depth\": \"0.7 m\", "                       \
    "\"grain_size\": \"0.6 mm\"}], \"deposit\": {\"slope\": \"2 m/(kg/m2)\"}}"

/* Two sizes of filters, of which the larger takes most water and the smaller, rinsed faster, most room; and tanks for
 * any wash. */
static struct plant plenty(void)
{
    struct plant plant = {.count = 0};

    set(&plant, "/wash_water/tank/volume", "1000 m3");
    set(&plant, "/spent_wash/tanks/0/volume", "1000 m3");
    set(&plant, "/spent_wash/outlets/0", "{\"kind\": \"sewer\", \"rate\": \"10 m3/h\"}");
    set(&plant, "/filters/1", OTHER_GROUP("2", "4.6 m2", "30 m/h"));
    return plant;
}

#define STEPS_MOST 8

struct variant {
    const char *steps[STEPS_MOST][2]; /* key of /wash and value */
};

static const struct variant variants[] = {
    {{{"template", "pressure"}}},
    {{{"template", "pressure"}, {"rinse_rate", "5 m/h"}, {"rinse_time", "20 min"}}},
    {{{"template", "pressure"}, {"backwash_time", "8 min"}, {"ramp_time", "8 min"}}},
    {{{"template", "pressure"}, {"ramp_time", "0 s"}}},
    {{{"template", "pressure_air"}, {"drain_depth", "0.3 m"}, {"drain_time", "5 min"}, {"air_time", "4 min"}}},
    {{{"template", "pressure_air"},
      {"drain_depth", "0.3 m"},
      {"drain_time", "5 min"},
      {"air_time", "4 min"},
      {"fill_rate", "40 m/h"}}},
    {{{"template", "gravity"}}},
    {{{"template", "gravity"}, {"filter_down_depth", "0.9 m"}, {"filter_down_time", "10 min"}}},
    {{{"template", "gravity"},
      {"filter_down_depth", "0.9 m"},
      {"filter_down_time", "10 min"},
      {"drain_depth", "0.3 m"},
      {"drain_time", "5 min"},
      {"fill_rate", "31 m/h"}}},
    {{{"template", "batch_regeneration"}, {"regenerant_depth", "0.4 m"}, {"regenerate_time", "20 min"}}},
    {{{"template", "batch_regeneration"}, {"regenerant_depth", "0.4 m"}, {"regenerate_time", "30 s"}}},
};

static void test_each_template(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof variants / sizeof variants[0]; i++) {
        struct plant plant = plenty();
        for (size_t k = 0; k < STEPS_MOST && variants[i].steps[k][0] != NULL; k++) {
            char pointer[64];
            snprintf(pointer, sizeof pointer, "/wash/%s", variants[i].steps[k][0]);
            set(&plant, pointer, variants[i].steps[k][1]);
        }
        check_plant(&plant);
    }
}

/* Three filters of 4.7 m2 backwashed at 29 m/h: the other two give that at 14.5 m/h each, from 136.3 m3/h of raw water.
 */
static void test_washed_by_the_others(void **state)
{
    struct plant plant = {.count = 0};

    (void)state;
    set(&plant, "/wash_water", "{\"source\": \"filters\"}");
    set(&plant, "/wells/0/flow", "1000 m3/h");
    check_edge(&plant, "/filters/0/approved_rate", 14.5, "m/h", "of which the others pass");
    set(&plant, "/filters/0/approved_rate", "15 m/h");
    check_edge(&plant, "/wells/0/flow", 136.3, "m3/h", "with raw water of");
    check_edge(&plant, "/approved_capacity", 136.3, "m3/h", "with raw water of");
    /* Where the rate may rise, the approved rate holds nothing back. */
    set(&plant, "/over_approved_rate", "rate_rises");
    char *complaints = complaints_with(&plant, "/filters/0/approved_rate", 7, "m/h");
    check_text(complaints, "", "rate rises");
    free(complaints);
    complaints = complaints_with(&plant, "/wash/rinse_at_start", 5, "min");
    check_text(
        complaints,
        "--set /wash/rinse_at_start=5 min: /wash/rinse_at_start: found 5.00 min; allowed: none where the source of "
        "wash water is \"filters\", which then make none\n",
        "no filter makes wash water while all rinse");
    free(complaints);
}

/* A group of one filter, 4.5 m2 at 60 m/h, makes 270 of all 372.9 m3/h: while it takes 130.5 m3/h there are 102.9. The
 * other group takes more, 136.3, and lacks nothing. */
static void test_names_the_group_that_lacks(void **state)
{
    struct plant plant = {.count = 0};
    struct wr_reading reading;

    (void)state;
    set(&plant, "/wash_water", "{\"source\": \"filters\"}");
    set(&plant, "/wells/0/flow", "1000 m3/h");
    set(&plant, "/units", "si");
    set(&plant, "/filters/1", OTHER_GROUP("1", "4.5 m2", "60 m/h"));
    char *complaints = read_plant(&plant, &reading);
    check_text(
        complaints,
        "--set /wash_water={\"source\": \"filters\"}: /wash_water/source: found \"filters\", of which the others "
        "pass 102.9 m3/h at most while one of /filters/1 is washed; allowed: a source of at least 130.5 m3/h, or "
        "that wash never reaches its rate\n",
        "who lacks");
    free(complaints);
    wr_reading_fini(&reading);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_each_template),
        cmocka_unit_test(test_washed_by_the_others),
        cmocka_unit_test(test_names_the_group_that_lacks),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    wr_quantities_free();
    return failed;
}
