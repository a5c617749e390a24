/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Findings that a scenario makes fail, and how long a plant lasts without its wash pump. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <stdio.h>

/* Every word of the scenario's list is the key of the finding that it stands for. */
static void each_word_fails_its_finding(void **state)
{
    (void)state;
    static const char *const words[] = {"washes_waited",
                                        "deferred_by_rule",
                                        "storage_low",
                                        "rinse_short",
                                        "recycle_held",
                                        "finished_water_overflowed",
                                        "approved_rate_exceeded",
                                        "clean_differential_rising"};
    for (size_t w = 0; w < sizeof words / sizeof *words; w++) {
        char setting[96];
        struct plant_case c;
        snprintf(setting, sizeof setting, "/fails_if=[{\"finding\": \"%s\"}]", words[w]);
        plant_case_run(&c, PLANT_PLAIN, SETTINGS(setting));
        for (int kind = 0; kind < WR_FINDINGS; kind++) {
            const struct wr_finding_row *row = wr_finding_row((enum wr_finding_kind)kind);
            const bool named = strcmp(row->key, words[w]) == 0;
            check_true(wr_record_fails(&c.run.record, (enum wr_finding_kind)kind) == (row->fails || named), row->key);
        }
        plant_case_fini(&c);
    }
}

static void a_run_fails_by_what_the_scenario_names(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, WR_ROOT "/scenarios/iron-four.json", NULL);
    check_true(c.run.passes, "washes waited, and that alone fails nothing");
    plant_case_fini(&c);
    plant_case_run(&c, WR_ROOT "/scenarios/iron-four.json", SETTINGS("/fails_if=[{\"finding\": \"washes_waited\"}]"));
    check_true(!c.run.passes && c.run.record.failed_kind == WR_FINDING_WASHES_WAITED,
               "washes waited, which is to fail");
    plant_case_fini(&c);
    plant_case_run(&c, WR_ROOT "/scenarios/pressure-three.json",
                   SETTINGS("/fails_if=[{\"finding\": \"washes_waited\"}]"));
    check_true(c.run.passes, "no wash waited");
    plant_case_fini(&c);
}

/* A plant that uses its reserve and then runs dry has failed when it used the reserve. */
static void the_first_failure_is_told(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/storage={\"volume\":\"400 m3\",\"start_level\":\"50 %\",\"reserve\":\"25 %\"}",
                            "/demand/maximum_day=1200 m3/d"));
    const struct wr_finding *used = plant_case_finding(&c, WR_FINDING_RESERVE_USED);
    const struct wr_finding *unmet = plant_case_finding(&c, WR_FINDING_UNMET_DEMAND);
    check_true(used != NULL && unmet != NULL && used->start < unmet->start,
               "the reserve is used before demand is unmet");
    check_count(c.run.record.failed_kind, WR_FINDING_RESERVE_USED, "what failed");
    check(c.run.record.failed_at, 10 * HOUR, 1e-6, "when, s: 100 m3 at 10 m3/h");
    plant_case_fini(&c);
}

/* Hours counted from the outage to the first filter at its available head, as the events tell them. */
static void a_plant_lasts_so_long_without_its_wash_pump(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, WR_ROOT "/scenarios/pressure-three.json",
                   SETTINGS("/outages=[{\"unit\": \"wash pump\", \"from\": \"2026-01-10\"}]"));
    double reached = -1;
    for (size_t e = 0; e < c.told.event_count && reached < 0; e++)
        if (c.told.events[e].kind == WR_EVENT_HEAD_REACHED)
            reached = c.told.events[e].time;
    check_true(reached > 5 * DAY, "a filter reached its available head after the outage");
    check(c.run.record.unwashed.since, 5 * DAY, 0, "the outage, five days after the start");
    check(c.run.record.unwashed.lasts, reached - 5 * DAY, 1e-6, "time to the first filter at its available head");
    plant_case_fini(&c);
    plant_case_run(&c, WR_ROOT "/scenarios/pressure-three.json", NULL);
    check_true(isinf(c.run.record.unwashed.since), "no outage of the wash pump");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_word_fails_its_finding),
        cmocka_unit_test(the_first_failure_is_told),
        cmocka_unit_test(a_run_fails_by_what_the_scenario_names),
        cmocka_unit_test(a_plant_lasts_so_long_without_its_wash_pump),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
