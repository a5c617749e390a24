/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plants that broke a rule when plants were first drawn at random with all that a scenario may say, each brought down
 * to the few figures that did it. */
#include "sim/plant/mixing.h"
#include "sim/study/ability.h"
#include "sim/study/tank_sums.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>

static const double exact = 1e-3;         /* s */
static const double an_hour = 1.0 / 3600; /* m3/h in m3/s */

#define SECOND_WELL "/wells/1={\"flow\":\"60 m3/h\",\"on_below\":\"98 %\",\"off_above\":\"99 %\"}"

/* Two wells at 6 m/h: 0.6 m clean, and 2 m more at 1.2 kg/m2, so 1 m after 0.24 kg/m2, which is 4 h. Then one well has
 * to go. At 3 m/h both filters stand well below their head again, and with a rate that may rise nothing seemed to hold
 * the second well: it came and went without end at one instant. */
static void a_rate_that_rises_is_held_by_head(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/over_approved_rate=rate_rises", "/filters/0/available_head=1 m", "/wells/0/flow=60 m3/h",
                            SECOND_WELL, "/start_beds/how=given", "/filters/0/start_shares=[\"0 %\", \"0 %\"]",
                            "/storage/start_level=0 %", "/demand/maximum_day=2160 m3/d", "/horizon=9 h"));
    check(plant_case_time(&c, WR_EVENT_HEAD_REACHED, 0, 0), 4 * HOUR, 1.0, "available head, s");
    check(plant_case_at(&c, 3.9 * HOUR)->flows.raw, 120 * an_hour, 1e-12, "raw water before, m3/s");
    check(plant_case_at(&c, 5 * HOUR)->flows.raw, 60 * an_hour, 1e-12, "and after");
    check(plant_case_at(&c, 8.5 * HOUR)->flows.raw, 60 * an_hour, 1e-12, "and with storage empty");
    check_true(plant_case_held(&c, WR_LIMIT_HEAD_HOLDS_WELLS) > 4.9 * HOUR, "available head is what holds the well");
    plant_case_fini(&c);
}

#define EMPTY "/storage/start_level=0 %", "/storage/volume=100 m3", "/demand/maximum_day=1200 m3/d"
#define FROM_MAINS "/wash_water={\"source\":\"system\",\"draw_limit\":\"1000 m3/h\"}"
#define HOURS_ON "1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1"
#define TANK_THAT_GIVES                                                                                                \
    "/spent_wash={\"tanks\":[{\"volume\":\"400 m3\",\"start_level\":\"50 %\"}],"                                       \
    "\"settling\":{\"law\":\"none\"},\"outlets\":[{\"kind\":\"recycle\"}]}"

/* Empty storage gives a wash what comes: 40 m3/h of raw water, and 4 of recycle that demand, none at this hour, leaves.
 * As long as the wash was not given the 4, storage filled, was empty no more, gave the wash its whole draw and was
 * empty. */
static void empty_storage_gives_a_wash_all_that_comes(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(EMPTY, FROM_MAINS, TANK_THAT_GIVES, "/recycle/pump=4 m3/h",
                            "/demand/hourly_factors=[" HOURS_ON ", 0, 0, 0, 0]", "/horizon=21 h"));
    const struct plant_sample *sample = plant_case_at(&c, 20 * HOUR + 5 * MINUTE);
    check(sample->storage, 0.0, 1e-12, "storage, m3: empty");
    check(sample->flows.wash, 44 * an_hour, 1e-12, "wash water, m3/s");
    check(sample->flows.recycle, 4 * an_hour, 1e-12, "recycle, m3/s");
    plant_case_fini(&c);
}

/* The well comes back at 20:02, and the other filter rinses for 5 min: that takes all 40 m3/h, and what comes to empty
 * storage for the wash is nothing. Storage once went below its bottom for it. */
static void a_start_rinse_leaves_empty_storage_nothing_to_give(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(EMPTY, FROM_MAINS, "/wash/rinse_at_start=5 min",
                            "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 10:00\"}]",
                            "/outages=[{\"unit\":\"W1\",\"from\":\"2026-01-05 09:00\",\"until\":\"2026-01-05 10:02\"}]",
                            "/horizon=10.3 h"));
    check(plant_case_wash(&c, 0, 0)->started_at, 10 * HOUR, exact, "the wash, s");
    const struct plant_sample *rinse = plant_case_at(&c, 10 * HOUR + 3 * MINUTE);
    check(rinse->flows.rinse, 40 * an_hour, 1e-12, "rinse, m3/s");
    check(rinse->flows.wash, 0.0, 1e-15, "wash water, m3/s");
    check(plant_case_at(&c, 10 * HOUR + 8 * MINUTE)->flows.wash, 40 * an_hour, 1e-12, "after the rinse, m3/s");
    check(plant_case_at(&c, 10 * HOUR + 8 * MINUTE)->storage, 0.0, 1e-12, "storage, m3");
    plant_case_fini(&c);
}

/* A wash draws all 300 m3/h of raw water, no filter serves, and the tank has water to send back. The well once gave way
 * to recycle that no filter could take, and the wash drew 27 m3/h more than there was. */
static void wells_give_recycle_no_water_that_a_wash_draws(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=1", "/wells/0/flow=400 m3/h", "/wells/0/drive=variable",
                            "/over_approved_rate=throttle", "/wash_water={\"source\":\"wells\"}", TANK_THAT_GIVES,
                            "/spent_wash/outlets/0/daily_volume=1 m3", "/recycle/pump=60 m3/h",
                            "/recycle/control=ratio", "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-06 00:00\"}]",
                            "/wash/triggers={}", "/horizon=25 h"));
    const struct plant_sample *sample = plant_case_at(&c, 24 * HOUR + 5 * MINUTE);
    check(sample->flows.wash, 300 * an_hour, 1e-12, "wash water, m3/s");
    check(sample->flows.raw, 300 * an_hour, 1e-12, "raw water, m3/s");
    check(sample->flows.recycle, 0.0, 0.0, "recycle, m3/s");
    plant_case_fini(&c);
}

/* F1 is called while it rinses and its outage begins: when the rinse has ended it is out, and out of the line. It comes
 * back calling and is washed. Once it stayed in line, and a filter out of service held up the others. */
static void a_filter_called_in_its_start_rinse_goes_out(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/wash/rinse_at_start=10 min",
                            "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 02:05\"}]",
                            "/outages=[{\"unit\":\"W1\",\"from\":\"2026-01-05 01:00\",\"until\":\"2026-01-05 02:00\"},"
                            "{\"unit\":\"wash pump\",\"from\":\"2026-01-05\",\"until\":\"2026-01-05 03:00\"},"
                            "{\"unit\":\"F1\",\"from\":\"2026-01-05 02:06\",\"until\":\"2026-01-05 04:00\"}]",
                            "/horizon=5 h"));
    const struct wr_span *span = plant_case_span(&c, WR_LIMIT_WASH_PUMP_OUT, 0, 0);
    check(span->from, 2 * HOUR + 5 * MINUTE, exact, "it waits for the wash pump from, s");
    check(span->to, 2 * HOUR + 10 * MINUTE, exact, "to, s: out");
    check(plant_case_wash(&c, 0, 0)->started_at, 4 * HOUR, exact, "its wash, s");
    plant_case_fini(&c);
}

/* A well that stops rests from that instant on, not from whatever instant comes next. */
static void a_rest_is_told_as_it_begins(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=1", "/wells/0/minimum_rest=2 h",
                            "/outages=[{\"unit\":\"F1\",\"from\":\"2026-01-05 01:00\",\"until\":\"2026-01-05 01:30\"}]",
                            "/horizon=5 h"));
    const struct wr_span *span = plant_case_span(&c, WR_LIMIT_WELL_RESTS, WR_NOWHERE, 0);
    check(span->from, 1 * HOUR, exact, "the well rests from, s");
    check(span->to, 3 * HOUR, exact, "to, s");
    plant_case_fini(&c);
}

/* Both filters have left service at their head, 1.2 m at 2 m/h after 9 h, and the wash pump is out for good. Wash hours
 * begin and end every day, but once a week of them has passed in vain the plant is locked. */
static void a_lock_is_told_when_clocks_have_come_round(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/available_head=1.2 m", "/filters/0/deposit/observed_run/hours=2 h",
                            "/filters/0/at_available_head=leaves_service", "/start_beds/how=given",
                            "/filters/0/start_shares=[\"0 %\", \"0 %\"]",
                            "/wash/window=[{\"from\":\"20:00\",\"until\":\"24:00\"}]",
                            "/outages=[{\"unit\":\"wash pump\",\"from\":\"2026-01-05\"}]", "/horizon=12 d"));
    check_true(plant_case_state(&c)->locked, "locked at the end");
    const struct wr_finding *locked = plant_case_finding(&c, WR_FINDING_PLANT_LOCKED);
    check(plant_case_time(&c, WR_EVENT_HEAD_REACHED, 0, 0), 9 * HOUR, exact, "available head, s");
    check(locked->start, 7 * DAY + 20 * HOUR, exact, "locked from, s: the first wash hours after a week");
    plant_case_fini(&c);
}

/* A wash of 50 m3 with the 4 kg of 20 h at 2 m/h: as a blanket of 0.05 kg/m3 they would take 80 m3. There is no more
 * than the tank holds, all of it is blanket, and the calendar draws it: once it drew more than there was. */
static void a_blanket_takes_no_more_than_its_tank_holds(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=1", "/wells/0/flow=20 m3/h", "/demand/maximum_day=480 m3/d",
                            "/spent_wash={\"tanks\":[{\"volume\":\"60 m3\"}],\"settling\":{\"law\":\"clock\",\"time\":"
                            "\"1 h\"},\"sludge\":{\"fresh_solids\":\"0.005 %\",\"thickened_solids\":\"0.0051 %\","
                            "\"thickening_time\":\"10 h\",\"drawn\":\"by_calendar\",\"every\":\"1 d\"},"
                            "\"outlets\":[{\"kind\":\"sewer\",\"rate\":\"30 m3/h\"}]}",
                            "/horizon=3 d"));
    double least = 0.0;
    for (size_t i = 0; i < c.told.sample_count; i++)
        least = fmin(least, c.told.samples[i].tanks[0].level);
    check(least, 0.0, 1e-9, "lowest level of the tank, m3");
    check(plant_case_at(&c, 23 * HOUR)->tanks[0].level, 10.0, 1e-6, "level, m3: 40 drawn to fit the next wash");
    check(plant_case_at(&c, 24.5 * HOUR)->tanks[0].level, 0.0, 1e-6, "and after the calendar's draw");
    plant_case_fini(&c);
}

/* At ten nobody asks for water, storage is full, the wash-water tank is refilled by 10 m3/h, and F1 filters down 36
 * m3/h, which are lost whatever wells do. The well gives the refill what it takes; it once was throttled to nothing. */
static void what_is_filtered_down_takes_no_refill(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS("/wells/0/drive=variable", "/wells/0/off_above=100 %", "/wells/0/minimum_run=50 h",
                 "/storage/volume=100 m3", "/storage/start_level=99 %", "/demand/maximum_day=480 m3/d",
                 "/demand/hourly_factors=[1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, "
                 "1, 1, 1]",
                 "/wash_water={\"tank\":{\"volume\":\"1000 m3\",\"start_level\":\"50 %\",\"refill_rate\":\"10 "
                 "m3/h\",\"refill_on_below\":\"90 %\"}}",
                 "/wash/template=gravity", "/wash/filter_down_depth=0.3 m", "/wash/filter_down_time=5 min",
                 "/wash/drain_depth=0.5 m", "/wash/drain_time=5 min", "/wash/triggers={}",
                 "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 10:00\"}]", "/horizon=11 h"));
    const struct plant_sample *sample = plant_case_at(&c, 10 * HOUR + 3 * MINUTE);
    check(sample->storage, 100.0, 1e-9, "storage, m3: full");
    check(sample->flows.down, 36 * an_hour, 1e-12, "filtered down, m3/s");
    check(sample->flows.refill, 10 * an_hour, 1e-12, "refill, m3/s");
    check(sample->flows.raw, 10 * an_hour, 1e-12, "raw water, m3/s");
    check(sample->flows.overflow, 36 * an_hour, 1e-12, "lost, m3/s");
    plant_case_fini(&c);
}

/* One filter of 10 m2 takes 40 m3/h of 10 g/m3 for 20 h: its wash ends at 20:10 and leaves 50 m3 with 8 kg in the tank,
 * of which 40 m3, 0.8 m deep, are as clear as 40 g/m3 after 4 h. */
#define HALF_SLOW                                                                                                      \
    "\"settling\":{\"law\":\"classes\",\"start_after\":\"0 h\",\"clear_at\":\"40 g/m3\",\"sludge_share\":\"20 %\","    \
    "\"classes\":[{\"share\":\"50 %\",\"velocity\":\"1 m/h\"},{\"share\":\"50 %\",\"velocity\":\"0.1 m/h\"}]},"
#define DEEP_TANK "/spent_wash={\"tanks\":[{\"volume\":\"100 m3\",\"depth\":\"2 m\"}]," HALF_SLOW

/* Recycle of 2 m3/h at 40 g/m3 and raw water of 10: 12 g/m3 together with 28 m3/h of it. Storage is full after a day,
 * and the well, held on by its least run, may be throttled: to 28 m3/h, though demand is but 24. It once was throttled
 * to 22, and the blend had 12.5 g/m3. */
static void full_storage_leaves_the_blend_its_raw_water(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=1", "/wells/0/drive=variable", "/wells/0/off_above=100 %",
                            "/wells/0/minimum_run=50 h", "/storage/volume=1000 m3", "/storage/start_level=64 %",
                            "/demand/maximum_day=576 m3/d", "/over_approved_rate=throttle",
                            DEEP_TANK "\"outlets\":[{\"kind\":\"recycle\"}]}",
                            "/recycle={\"pump\":\"2 m3/h\",\"max_fraction\":\"100 %\",\"max_blend_solids\":\"12 "
                            "g/m3\"}",
                            "/horizon=32 h"));
    const struct plant_sample *sample = plant_case_at(&c, 31 * HOUR);
    check(sample->storage, 1000.0, 1e-9, "storage, m3: full");
    check(sample->flows.recycle, 2 * an_hour, 1e-12, "recycle, m3/s");
    check(sample->flows.raw, 28 * an_hour, 1e-12, "raw water, m3/s");
    check(sample->flows.feed[WR_SOLIDS], 0.012, 1e-12, "solids of the blend, kg/m3");
    check(sample->flows.overflow, 6 * an_hour, 1e-12, "what is lost for it, m3/s");
    plant_case_fini(&c);
}

/* Two washes whose decants begin when their water is as clear as 40 g/m3. Under the second lies the blanket of the
 * first, which thickens by more than a cubic metre meanwhile: the mix was once taken over the water that was there
 * then, and less came back than had been foreseen. */
static void a_decant_carries_what_was_foreseen(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=1",
                            DEEP_TANK "\"sludge\":{\"fresh_solids\":\"0.1 %\",\"thickened_solids\":\"1 "
                                      "%\",\"thickening_time\":\"20 h\",\"level\":\"50 %\"},"
                                      "\"outlets\":[{\"kind\":\"sewer\",\"rate\":\"20 m3/h\"}]}",
                            "/horizon=3 d"));
    assert_true(c.run.record.tanks.turn_count >= 2);
    for (size_t i = 0; i < 2; i++)
        check(c.run.record.tanks.turns[i].solids, 0.04, 1e-12, "solids in a decant, kg/m3");
    assert_true(c.run.record.tanks.turns[1].settled > 8.0);
    assert_true(c.run.books.closes);
    plant_case_fini(&c);
}

/* F2 waits for the only tank when the wash of F1 ends, and no time nor clarity is asked of its water: so it may be
 * drawn off at that very instant, and comes back. It once was drawn off as in an emergency, for the instant had not
 * come to it yet. */
static void a_tank_that_is_clear_at_that_instant_is_no_emergency(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS("/wash/triggers={}",
                 "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 20:00\"},"
                 "{\"filter\":\"F2\",\"first\":\"2026-01-05 20:05\"}]",
                 "/spent_wash={\"tanks\":[{\"volume\":\"60 m3\",\"depth\":\"2 m\"}],\"settling\":{\"law\":\"classes\","
                 "\"classes\":[{\"share\":\"100 %\",\"velocity\":\"1 m/h\"}]},\"outlets\":[{\"kind\":\"recycle\"},"
                 "{\"kind\":\"sewer\",\"rate\":\"100 m3/h\",\"emergency\":true}]}",
                 "/recycle={\"pump\":\"1 m3/h\"}", "/horizon=22 h"));
    check_count(plant_case_count(&c, WR_EVENT_TANK_DUMPED, 0), 0, "tanks drawn off as they were");
    check(plant_case_time(&c, WR_EVENT_TANK_SETTLED, 0, 0), 20 * HOUR + 10 * MINUTE, exact, "it has settled, s");
    check(plant_case_at(&c, 21 * HOUR)->flows.recycle, 1 * an_hour, 1e-12, "its water comes back, m3/s");
    plant_case_fini(&c);
}

/* Half a tank of clear water is there at the start and back before the first wash, half of which has come: 50 m3 of 75.
 * The share was once of the 25 alone, and told as 200 %. */
static void no_more_comes_back_than_there_was(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(
        &c, PLANT_PLAIN,
        SETTINGS("/filters/0/count=1",
                 "/spent_wash={\"tanks\":[{\"volume\":\"100 m3\",\"start_level\":\"50 %\"}],"
                 "\"settling\":{\"law\":\"clock\",\"time\":\"1 h\",\"start_after\":\"0 h\",\"sludge_share\":\"0 "
                 "%\"},\"outlets\":[{\"kind\":\"recycle\"}]}",
                 "/recycle={\"pump\":\"4 m3/h\"}", "/horizon=1205 min"));
    const struct wr_recovery recovery = wr_recovery_of(&c.run);
    check(recovery.held, 50.0, 1e-9, "held at the start, m3");
    check(recovery.received, 25.0, 1e-9, "taken in, m3");
    check(recovery.recycled, 50.0, 1e-9, "recycled, m3");
    check(recovery.share, 2.0 / 3.0, 1e-9, "share that came back");
    plant_case_fini(&c);
}

/* At 4 m/h a clean bed stands at 0.4 m, above its trigger: it calls as it comes back from each wash of 10 min. What
 * such runs ask of the tanks was once no number, and a report on the run broke off. */
static void a_clean_bed_that_calls_asks_for_wash_after_wash(void **state)
{
    (void)state;
    struct plant_case c;
    struct wr_ability rows[WR_ABILITY_ROWS];
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS("/filters/0/count=1", "/wash/triggers={\"differential\":\"0.3 m\"}",
                            DEEP_TANK "\"outlets\":[{\"kind\":\"sewer\",\"rate\":\"20 m3/h\"}]}", "/horizon=1 d"));
    const size_t count = wr_ability_table(&c.run, rows);
    assert_true(count > 0);
    for (size_t i = 0; i < count; i++) {
        check(rows[i].wanted, 144.0, 1e-9, "washes a day that it asks for");
        assert_true(isfinite(rows[i].possible));
    }
    plant_case_fini(&c);
}

/* A tank that was drawn empty while it filled once kept some 1e-16 m3 with less than no solids,
 * and sent back water of -24 kg/m3 for a second: one of 25,000 plants. The mix is then what comes, 2 kg/m3. */
static void a_level_that_is_rounding_has_no_mix_of_its_own(void **state)
{
    (void)state;
    const struct wr_plant plant = {.has_settling = false};
    struct wr_tank tank = {.level = 1e-16, .mass = {-2.5e-15}, .inflow = 0.01, .mass_in = {0.02}};
    check(wr_mix_of(&plant, &tank, WR_SOLIDS), 2.0, 1e-12, "solids of what leaves, kg/m3");
    tank.inflow = tank.mass_in[WR_SOLIDS] = 0.0;
    check(wr_mix_of(&plant, &tank, WR_SOLIDS), 0.0, 0.0, "and where nothing comes");
    tank.level = 1.0;
    tank.mass[WR_SOLIDS] = 0.5;
    check(wr_mix_of(&plant, &tank, WR_SOLIDS), 0.5, 1e-15, "and of a level that is one");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_rate_that_rises_is_held_by_head),
        cmocka_unit_test(empty_storage_gives_a_wash_all_that_comes),
        cmocka_unit_test(a_start_rinse_leaves_empty_storage_nothing_to_give),
        cmocka_unit_test(wells_give_recycle_no_water_that_a_wash_draws),
        cmocka_unit_test(a_filter_called_in_its_start_rinse_goes_out),
        cmocka_unit_test(a_rest_is_told_as_it_begins),
        cmocka_unit_test(a_lock_is_told_when_clocks_have_come_round),
        cmocka_unit_test(a_blanket_takes_no_more_than_its_tank_holds),
        cmocka_unit_test(what_is_filtered_down_takes_no_refill),
        cmocka_unit_test(full_storage_leaves_the_blend_its_raw_water),
        cmocka_unit_test(a_decant_carries_what_was_foreseen),
        cmocka_unit_test(a_tank_that_is_clear_at_that_instant_is_no_emergency),
        cmocka_unit_test(no_more_comes_back_than_there_was),
        cmocka_unit_test(a_clean_bed_that_calls_asks_for_wash_after_wash),
        cmocka_unit_test(a_level_that_is_rounding_has_no_mix_of_its_own),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
