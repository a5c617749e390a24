/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rinses at the plant's start.
 *
 * Two filters of 10 m2; storage of 100 m3 from half full; one well of 40 m3/h, on at 40 m3 and off at 60 m3; demand
 * 20 m3/h. The well runs when the run begins and stops at 0.5 h; storage falls to 40 m3 at 1.5 h, when the plant starts
 * and both filters run 20 m3/h each to waste for 6 min. Storage falls by 2 m3 more meanwhile, rises by 22 m3 to 2.7 h,
 * and the plant starts again at 3.7 h. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>

static const double exact = 1e-6; /* s */
static const double close = 1e-9; /* m3 */

#define CYCLE                                                                                                          \
    "/storage={\"volume\":\"100 m3\",\"start_level\":\"50 %\"}",                                                       \
        "/wells=[{\"name\":\"W1\",\"flow\":\"40 m3/h\",\"on_below\":\"40 %\",\"off_above\":\"60 %\"}]",                \
        "/demand/maximum_day=480 m3/d", "/wash/rinse_at_start=6 min"
#define TANK(start)                                                                                                    \
    "/spent_wash={\"tanks\":[{\"volume\":\"100 m3\",\"start_level\":\"" start "\"}],\"settling\":{\"law\":\"none\"},"  \
    "\"outlets\":[{\"kind\":\"sewer\",\"rate\":\"1 m3/h\",\"hours\":[{\"from\":\"20:00\",\"until\":\"21:00\"}]}]}"

static double spilled(const struct plant_case *c)
{
    struct wr_entry in, out;
    wr_ledger_turnover(&c->run.plant, plant_case_state(c), WR_ACCOUNT_SPILL, &in, &out);
    check(out.water, 0, 0, "nothing comes back, m3");
    return in.water;
}

static void filters_run_to_waste_at_each_start(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(CYCLE, "/horizon=5 h"));
    for (size_t f = 0; f < 2; f++)
        for (size_t start = 0; start < 2; start++) {
            const double begins = (1.5 + 2.2 * (double)start) * HOUR;
            check(plant_case_time(&c, WR_EVENT_START_RINSE_BEGAN, f, start), begins, exact, "a rinse begins, s");
            check(plant_case_time(&c, WR_EVENT_START_RINSE_ENDED, f, start), begins + 6 * MINUTE, exact, "it ends, s");
        }
    check_true(!isfinite(plant_case_time(&c, WR_EVENT_START_RINSE_BEGAN, 0, 2)), "two starts, and none at the begin");
    const struct plant_sample *during = plant_case_at(&c, 1.55 * HOUR), *after = plant_case_at(&c, 1.65 * HOUR);
    check(during->flows.rinse, 40 / HOUR, close, "to waste, m3/s");
    check(during->flows.service, 0, close, "into service, m3/s");
    check(after->flows.rinse, 0, close, "to waste afterwards, m3/s");
    check(after->flows.service, 40 / HOUR, close, "into service afterwards, m3/s");
    check(plant_case_water(&c, WR_LINE_RINSE), 2 * 4, close, "rinsed, m3");
    check(spilled(&c), 0, 0, "spilled where no tank stands: it goes to the sewer, m3");
    check_count(wr_state_wells(&c.run.plant, plant_case_state(&c))[0].starts, 2, "starts of the well");
    check_true(c.run.books.closes, "the books close");
    plant_case_fini(&c);
}

static void a_plant_without_the_rule_does_not(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN, SETTINGS(CYCLE, "/wash/rinse_at_start=0 min", "/horizon=5 h"));
    check(plant_case_water(&c, WR_LINE_RINSE), 0, 0, "rinsed, m3");
    plant_case_fini(&c);
}

/* Each filter books the 6 m3 that 6 min at its approved rate would be, and sends 2 m3. */
static void what_finds_no_room_spills(void **state)
{
    (void)state;
    static const struct {
        const char *tank;
        double held, spilled; /* m3 */
    } cases[] = {{TANK("87 %"), 4, 0}, {TANK("93 %"), 2, 2}, {TANK("95 %"), 0, 4}};
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct plant_case c;
        plant_case_run(&c, PLANT_PLAIN, SETTINGS(CYCLE, cases[i].tank, "/horizon=3 h"));
        const double start = c.run.record.opening[WR_ACCOUNT_TANKS].water;
        check(wr_state_tanks(&c.run.plant, plant_case_state(&c))[0].level - start, cases[i].held, close, "held, m3");
        check(spilled(&c), cases[i].spilled, close, "spilled, m3");
        check_true(c.run.books.closes, "the books close");
        check_count(c.run.record.balance.grade, cases[i].spilled > 0 ? WR_GRADE_OVERRUN : WR_GRADE_CLEAR, "grade");
        plant_case_fini(&c);
    }
}

/* F1 is called 3 min into its rinse: its wash begins at once, and all the raw water goes through F2. */
static void a_wash_breaks_it_off(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(CYCLE, "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 01:33\"}]", "/horizon=3 h"));
    check(plant_case_wash(&c, 0, 0)->started_at, 1.55 * HOUR, exact, "the wash begins, s");
    check(plant_case_time(&c, WR_EVENT_START_RINSE_ENDED, 0, 0), 1.55 * HOUR, exact, "F1's rinse ends, s");
    check(plant_case_time(&c, WR_EVENT_START_RINSE_ENDED, 1, 0), 1.6 * HOUR, exact, "F2's rinse ends, s");
    check(plant_case_water(&c, WR_LINE_RINSE), 4, close, "rinsed, m3");
    check_count(wr_state_filters(&c.run.plant, plant_case_state(&c))[0].mode, WR_MODE_SERVICE, "F1 serves again");
    check_true(c.run.books.closes, "the books close");
    plant_case_fini(&c);
}

static void an_outage_waits_for_its_end(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(CYCLE, "/outages=[{\"unit\":\"F2\",\"from\":\"2026-01-05 01:33\"}]", "/horizon=3 h"));
    check(plant_case_time(&c, WR_EVENT_OUT, 1, 0), 1.6 * HOUR, exact, "F2 goes out of service, s");
    check_count(wr_state_filters(&c.run.plant, plant_case_state(&c))[1].mode, WR_MODE_OUT, "F2 is out");
    plant_case_fini(&c);
}

/* Called while it rinses and waits for wash hours, with an outage that waits too: it is out when they begin. */
static void a_filter_that_is_out_is_not_washed(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, PLANT_PLAIN,
                   SETTINGS(CYCLE, "/wash/rota=[{\"filter\":\"F2\",\"first\":\"2026-01-05 01:32\"}]",
                            "/wash/window=[{\"from\":\"03:00\",\"until\":\"12:00\"}]",
                            "/outages=[{\"unit\":\"F2\",\"from\":\"2026-01-05 01:33\",\"until\":\"2026-01-05 04:00\"}]",
                            "/horizon=5 h"));
    check(plant_case_time(&c, WR_EVENT_OUT, 1, 0), 1.6 * HOUR, exact, "F2 goes out of service, s");
    check(plant_case_wash(&c, 1, 0)->started_at, 4 * HOUR, exact, "its wash, s: it is back");
    plant_case_fini(&c);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(filters_run_to_waste_at_each_start), cmocka_unit_test(a_plant_without_the_rule_does_not),
        cmocka_unit_test(what_finds_no_room_spills),          cmocka_unit_test(a_wash_breaks_it_off),
        cmocka_unit_test(an_outage_waits_for_its_end),        cmocka_unit_test(a_filter_that_is_out_is_not_washed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
