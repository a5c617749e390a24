/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole scenarios: there and back again, compared and copied. */
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/quantity.h"
#include "sim/scenario/read.h"
#include "sim/scenario/whole.h"
#include "tests/input/edit.h"
#include "tests/support/check.h"

/* Every number bit for bit, settings included. */
static void test_there_and_back(void **state)
{
    static const char *const settings[] = {
        "/raw_water/dry_solids_per_iron=0.1",
        "/raw_water/dry_solids_per_manganese=1.7976931348623157",
        "/demand/hourly_factors/0=5e-324",
        "/demand/hourly_factors/1=0.30000000000000004",
        "/demand/hourly_factors/2=1.1234567890123457e-7",
        "/seed=9007199254740991",
        "/title=\"quotes \\\" and \\u00e9\"",
        "/note=kept",
        "/outages/-={\"unit\": \"F2\", \"from\": \"2026-03-04\"}",
    };
    struct wr_reading first;
    struct wr_reading second;

    (void)state;
    wr_reading_file(&first, PLANT, settings, sizeof settings / sizeof settings[0]);
    check_true(first.good, "good");
    check(first.definition.demand.hourly_factors[0], 5e-324, 0, "a setting's number");
    check_text(first.definition.title, "quotes \" and \xc3\xa9", "a setting's text");
    check_count(first.definition.outages.count, 8, "an item added");
    char *text = wr_reading_scenario_text(&first);
    wr_reading_text(&second, "again", text, strlen(text), NULL, 0);
    check_true(second.good, "good again");
    check_true(wr_definition_equal(&first.definition, &second.definition), "the same definition");
    char *again = wr_reading_scenario_text(&second);
    check_text(again, text, "the same text");
    free(again);
    free(text);
    wr_reading_fini(&first);
    wr_reading_fini(&second);
}

#define OTHER_DEPOSIT                                                                                                  \
    "/filters/0/deposit={\"observed_run\": {\"clean_differential\": \"2 psi\", "                                       \
    "\"dirty_differential\": \"8 psi\", \"rate\": \"3 gal/min/ft2\", \"hours\": \"40 h\"}}"

/* Each member changed by a setting is told from the plant without it. */
static void test_equal_sees_every_change(void **state)
{
    static const char *const settings[] = {"/title=x",
                                           "/start=2026-03-01",
                                           "/horizon=61 d",
                                           "/seed=8",
                                           "/units=us",
                                           "/demand/hourly_factors/23=0.5",
                                           "/wells/1/name=x",
                                           "/wells/1/drive=variable",
                                           "/wells/0/manganese=0.31 mg/L",
                                           "/filters/0/media/1/depth=0.31 m",
                                           "/filters/0/start_shares/1=51 %",
                                           "/filters/1/deposit/observed_run/iron=1.9 mg/L",
                                           "/wash/max_simultaneous=1",
                                           "/wash/who_first=longest_waiting",
                                           "/wash/window/1/until=00:01",
                                           "/wash/window/0/days=monday",
                                           "/wash/rota/1/filter=F1",
                                           "/wash/attended=[]",
                                           "/spent_wash/outlets/1/hours/0/from=23:58",
                                           "/outages=[]",
                                           "/outages/0/until=2026-03-05 18:31",
                                           "/spent_wash/tanks/-={\"volume\": \"1 m3\", \"depth\": \"1 m\"}",
                                           OTHER_DEPOSIT};
    struct wr_reading plain;

    (void)state;
    wr_edit_read(&plain, PLANT);
    for (size_t i = 0; i < sizeof settings / sizeof settings[0]; i++) {
        struct wr_reading changed;
        wr_reading_file(&changed, PLANT, &settings[i], 1);
        check_true(changed.good, settings[i]);
        check_true(!wr_definition_equal(&plain.definition, &changed.definition), settings[i]);
        check_true(!wr_definition_equal(&changed.definition, &plain.definition), settings[i]);
        wr_reading_fini(&changed);
    }
    wr_reading_fini(&plain);
}

static void test_copies_own_what_they_hold(void **state)
{
    struct wr_reading reading;
    struct wr_definition copy;

    (void)state;
    wr_edit_read(&reading, PLANT);
    wr_definition_copy(&reading.definition, &copy);
    check_true(wr_definition_equal(&reading.definition, &copy), "the same");
    check_true(copy.wells.items != reading.definition.wells.items, "lists of its own");
    check_true(copy.wells.items[0].name != reading.definition.wells.items[0].name, "texts of its own");
    wr_reading_fini(&reading);
    check_text(copy.filters.items[0].media.items[1].medium, "crushed glass", "outlives the original");
    wr_definition_fini(&copy);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_there_and_back),
        cmocka_unit_test(test_equal_sees_every_change),
        cmocka_unit_test(test_copies_own_what_they_hold),
    };
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    wr_quantities_free();
    return failed;
}
