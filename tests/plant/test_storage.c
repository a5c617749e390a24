/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Storage: wells by its level, empty and full and left again, reserve and low mark. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

static const double exact = 1e-6;         /* s, m3 */
static const double an_hour = 1.0 / 3600; /* m3/h in m3/s */

#define SMALL_STORAGE(start) "/storage={\"volume\":\"100 m3\",\"start_level\":\"" start "\"}"

/* Half the day 60 m3/h, half of it 20, of which the well gives 40. */
#define HIGH_THEN_LOW                                                                                                  \
    "/demand={\"maximum_day\":\"960 m3/d\",\"hourly_factors\":[1.5,1.5,1.5,1.5,1.5,1.5,1.5,1.5,1.5,1.5,1.5,1.5,"       \
    "0.5,0.5,0.5,0.5,0.5,0.5,0.5,0.5,0.5,0.5,0.5,0.5]}"

static void a_well_keeps_its_latch_between_two_levels(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(SMALL_STORAGE("50 %"), "/demand/maximum_day=480 m3/d", "/wells/0/on_below=40 %",
                            "/wells/0/off_above=60 %", "/horizon=19 h"));
    /* Up at 20 m3/h from 50 to 60, then down and up in an hour each. */
    for (int cycle = 0; cycle < 9; cycle++) {
        const double off = (0.5 + 2 * cycle) * HOUR, on = off + HOUR;
        check(plant_case_at(&c, off + 1e-3)->flows.raw, 0, 0, "raw water from the off level on, m3/s");
        check(plant_case_at(&c, off + 1e-3)->storage, 60, 0, "level there, m3: exactly the off level");
        check(plant_case_at(&c, on - 1e-3)->flows.raw, 0, 0, "raw water down to the on level, m3/s");
        check(plant_case_at(&c, on + 1e-3)->flows.raw, 40 * an_hour, 1e-15, "raw water from the on level on, m3/s");
        check(plant_case_at(&c, on + 1e-3)->storage, 40, 0, "level there, m3: exactly the on level");
    }
    check_count(plant_case_state(&c)->clock.beats, 19, "instants in 19 h: two levels every two hours");
    plant_case_fini(&c);
}

static void a_well_is_called_at_the_start_below_its_off_level(void **state)
{
    (void)state;
    static const struct {
        const char *start;
        double off_after; /* h; 0: never on */
    } cases[] = {{SMALL_STORAGE("59 %"), 0.05}, {SMALL_STORAGE("60 %"), 0}, {SMALL_STORAGE("61 %"), 0}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN,
                       SETTINGS(cases[i].start, "/demand/maximum_day=480 m3/d", "/wells/0/on_below=40 %",
                                "/wells/0/off_above=60 %", "/horizon=0.5 h"));
        check(plant_case_water(&c, WR_LINE_RAW), 40 * cases[i].off_after, exact, "raw water to the off level, m3");
        plant_case_fini(&c);
    }
}

static void empty_storage_delivers_what_comes_and_is_left_again(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(SMALL_STORAGE("20 %"), HIGH_THEN_LOW, "/wells/0/on_below=90 %", "/wells/0/off_above=95 %",
                            "/wash/triggers/run_hours=40 h", "/horizon=26 h"));
    check(plant_case_at(&c, HOUR - 1)->flows.delivered, 60 * an_hour, 1e-15, "delivered before it is empty, m3/s");
    check(plant_case_at(&c, HOUR + 1)->flows.delivered, 40 * an_hour, 1e-15, "delivered once empty, m3/s: what comes");
    check(plant_case_at(&c, HOUR + 1)->storage, 0, 0, "level then, m3");
    check(plant_case_at(&c, 12 * HOUR + 1)->flows.delivered, 20 * an_hour, 1e-15, "delivered when demand falls, m3/s");
    check(plant_case_at(&c, 16.75 * HOUR + 1e-3)->storage, 95, 0, "level at 16:45, m3: 20 m3/h up to the off level");
    check(plant_case_at(&c, 24 * HOUR + 1)->flows.delivered, 60 * an_hour, 1e-15,
          "delivered on the next day, m3/s: all");
    const struct wr_finding *unmet = plant_case_finding(&c, WR_FINDING_UNMET_DEMAND);
    check_true(unmet != NULL, "unmet demand is a finding");
    check(unmet->start, 1 * HOUR, exact, "its start, s");
    check(unmet->length, 11 * HOUR, exact, "its length, s");
    check(unmet->worst, 220, exact, "water not delivered, m3: 20 m3/h for 11 h");
    check_true(!c.run.passes, "the run fails");
    check(plant_case_span(&c, WR_LIMIT_STORAGE_EMPTY, WR_NOWHERE, 0)->to, 12 * HOUR, exact, "end of its span, s");
    plant_case_fini(&c);
}

/* Inflow that just meets demand: nothing is unmet, and the plant does not flutter between empty and not. */
static void empty_storage_with_enough_inflow_meets_demand(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(SMALL_STORAGE("0 %"), "/horizon=19 h", "/storage/reserve=0 %"));
    check(plant_case_water(&c, WR_LINE_DELIVERED), 40 * 19, exact, "delivered, m3: all that was asked");
    check_true(plant_case_finding(&c, WR_FINDING_UNMET_DEMAND) == NULL, "nothing is unmet");
    check_count(c.run.passes, 1, "the run passes");
    check_between((double)plant_case_state(&c)->clock.beats, 0, 2, "instants in 19 h");
    plant_case_fini(&c);
}

/* Storage fills at 1 h, the well stops; at 2.5 h a rinse of 20 m3/h asks for it, and of its 40 the other filter must
 * pass 20, which nobody draws. */
static void full_storage_loses_what_cannot_be_held_back(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/storage={\"volume\":\"1000 m3\",\"start_level\":\"96 %\"}", "/wells/0/on_below=90 %",
                            "/wells/0/off_above=100 %",
                            "/demand={\"maximum_day\":\"480 m3/d\",\"hourly_factors\":[0,0,0,0,0,0,0,0,0,0,0,0,2,2,2,2,"
                            "2,2,2,2,2,2,2,2]}",
                            "/start_beds/how=given", "/filters/0/start_shares=[\"97.5 %\", \"0 %\"]",
                            "/wash_water/tank/refill_on_below=10 %", "/wash/bed_settle=110 min", "/wash/rinse_time=1 h",
                            "/wash/rinse_rate=2 m/h", "/horizon=11 h"));
    check(plant_case_at(&c, 1 * HOUR + 1)->flows.raw, 0, 0, "raw water once storage is full, m3/s");
    check(plant_case_at(&c, 1 * HOUR + 1)->storage, 1000, 0, "level then, m3: exactly full");
    const struct plant_sample *rinse = plant_case_at(&c, 3 * HOUR);
    check(rinse->flows.raw, 40 * an_hour, 1e-15, "raw water for the rinse, m3/s");
    check(rinse->flows.rinse, 20 * an_hour, 1e-15, "of it to the rinse, m3/s");
    check(rinse->flows.overflow, 20 * an_hour, 1e-15, "of it lost, m3/s");
    check(plant_case_water(&c, WR_LINE_OVERFLOW), 20, exact, "lost in the hour of the rinse, m3");
    check(plant_case_state(&c)->storage.level, 1000, 0, "level at the end, m3");
    const struct wr_finding *lost = plant_case_finding(&c, WR_FINDING_FINISHED_WATER_OVERFLOWED);
    check_true(lost != NULL, "overflow is a finding");
    check(lost->start, 2.5 * HOUR, exact, "its start, s");
    check(lost->length, 1 * HOUR, exact, "its length, s");
    check(lost->worst, 20, exact, "water lost, m3");
    check_true(c.run.passes, "it does not fail the run");
    plant_case_fini(&c);
}

/* 50 m3 less 20 an hour: the low mark of 45 after a quarter, the reserve of 40 after half an hour, 10 m3 after two. */
static void reserve_and_low_mark_are_found_when_crossed(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/storage={\"volume\":\"100 m3\",\"start_level\":\"50 %\",\"reserve\":\"40 "
                            "%\",\"low_mark\":\"45 %\"}",
                            HIGH_THEN_LOW, "/horizon=2 h"));
    const struct wr_finding *reserve = plant_case_finding(&c, WR_FINDING_RESERVE_USED);
    const struct wr_finding *low = plant_case_finding(&c, WR_FINDING_STORAGE_LOW);
    check_true(reserve != NULL && low != NULL, "both are found");
    check(low->start, 0.25 * HOUR, exact, "start of low storage, s");
    check(low->length, 1.75 * HOUR, exact, "length of low storage, s: an open one counts to the horizon");
    check(low->worst, 0.10, exact, "lowest level, share");
    check(reserve->start, 0.5 * HOUR, exact, "start of the reserve being used, s");
    check(reserve->length, 1.5 * HOUR, exact, "its length, s");
    check(reserve->worst, 0.10, exact, "lowest level, share");
    check_count(c.run.record.failed_kind, WR_FINDING_RESERVE_USED, "the first failing finding: low storage is a note");
    check(c.run.record.failed_at, 0.5 * HOUR, exact, "when it failed, s");
    check(c.run.record.least_storage, 10, exact, "least storage, m3");
    plant_case_fini(&c);
}

/* A well whose on level is the reserve lets storage touch it and no more. */
static void touching_the_reserve_is_not_using_it(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/storage={\"volume\":\"100 m3\",\"start_level\":\"90 %\",\"reserve\":\"40 %\"}",
                            "/demand/maximum_day=480 m3/d", "/wells/0/on_below=40 %", "/wells/0/off_above=90 %",
                            "/horizon=10 h"));
    check(c.run.record.least_storage, 40, 0, "least storage, m3: exactly the reserve");
    check_true(plant_case_finding(&c, WR_FINDING_RESERVE_USED) == NULL, "the reserve is not used");
    check_true(c.run.passes, "the run passes");
    plant_case_fini(&c);
}

/* Two days with F1 out, whose place the second well lacks while storage rises; then the larger well is out and storage
 * falls, and F1 is out again: it has not come back, and what held water since it last stood at its start is to blame.
 */
static void what_kept_storage_down_is_counted_since_it_was_up(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_read(
        &c, PLANT_PLAIN,
        SETTINGS("/wells=[{\"name\":\"W1\",\"flow\":\"60 m3/h\",\"on_below\":\"98 %\",\"off_above\":\"99 %\"},"
                 "{\"name\":\"W2\",\"flow\":\"40 m3/h\",\"on_below\":\"98 %\",\"off_above\":\"99 %\"}]",
                 "/outages=[{\"unit\":\"F1\",\"from\":\"2026-01-05\",\"until\":\"2026-01-07\"},"
                 "{\"unit\":\"W1\",\"from\":\"2026-01-07\",\"until\":\"2026-01-08 11:00\"},"
                 "{\"unit\":\"F1\",\"from\":\"2026-01-08 11:00\",\"until\":\"2026-02-01\"}]",
                 "/wash/triggers/run_hours=300 h", "/filters/0/available_head=50 m", "/demand/maximum_day=1392 m3/d",
                 "/horizon=110 h"));
    plant_case_run_with(&c, (struct wr_run_options){.must_return = true, .keeps_lists = true});
    const struct wr_finding *finding = plant_case_finding(&c, WR_FINDING_NOT_RETURNING);
    check_true(finding != NULL, "storage has not come back");
    check(finding->start, 48 * HOUR + 96 / 18.0 * HOUR, exact, "since when, s: it rose by 96 m3 and falls at 18 m3/h");
    check_count(finding->limit, WR_LIMIT_ALL_WELLS_RUNNING, "what held water: the one well left, for 30 h of 57");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_well_keeps_its_latch_between_two_levels),
        cmocka_unit_test(a_well_is_called_at_the_start_below_its_off_level),
        cmocka_unit_test(empty_storage_delivers_what_comes_and_is_left_again),
        cmocka_unit_test(empty_storage_with_enough_inflow_meets_demand),
        cmocka_unit_test(full_storage_loses_what_cannot_be_held_back),
        cmocka_unit_test(reserve_and_low_mark_are_found_when_crossed),
        cmocka_unit_test(touching_the_reserve_is_not_using_it),
        cmocka_unit_test(what_kept_storage_down_is_counted_since_it_was_up),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
