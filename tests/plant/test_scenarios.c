/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the shipped scenarios are there to show. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#define THREE WR_ROOT "/scenarios/pressure-three.json"
#define FOUR WR_ROOT "/scenarios/pressure-four.json"
#define TOGETHER WR_ROOT "/scenarios/pressure-together.json"

static const double gallon = 3.785411784e-3; /* m3 */

/* Washes by the sum: 12 gal/min/ft2 x 10 min x 50.27 ft2, and 452 gal of rinse; 40 h of run at 3 gal/min/ft2. */
static void three_filters_meet_their_day(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_run(&c, THREE, NULL);
    const double days = c.reading.definition.horizon / DAY;
    check_true(c.run.passes, "the run passes");
    check_true(c.run.record.balance.keeps_pace, "washing keeps pace");
    check(plant_case_water(&c, WR_LINE_DELIVERED), days * 360000 * gallon, 1e-6,
          "delivered, m3: the day's demand, daily");
    check(c.run.plant.groups[0].wash_volume / gallon, 6032, 0.5, "wash water of a wash, gal: by the sum");
    check(c.run.plant.groups[0].room / gallon, 6484, 0.5, "spent wash of a wash, gal: by the sum");
    for (size_t f = 0; f < 3; f++) {
        const struct wr_filter_record *r = &c.run.record.filters[f];
        const double run = r->run_volume / (double)r->runs / gallon * 0.3048 * 0.3048;
        check_between(run, 7200 * 0.99, 7200 * 1.15, "mean run volume, gal/ft2: 7200 of raw water, and clear recycle");
    }
    /* A seventh and more of what washes give stays as sludge, the rest comes back. */
    check_between(plant_case_water(&c, WR_LINE_RECYCLE) / ((double)c.run.record.balance.washes * 6484 * gallon), 0.75,
                  0.86, "share of spent wash that is recycled: 85 % but for what is in the tanks");
    check_between(c.run.record.highest_recycle_share, 0, 0.1 + 1e-9, "highest recycle as a share of raw water");
    plant_case_fini(&c);
}

static void no_filter_ever_runs_above_its_approved_rate(void **state)
{
    (void)state;
    static const char *const paths[] = {THREE, FOUR, TOGETHER};
    for (size_t p = 0; p < 3; p++) {
        struct plant_case c;
        plant_case_run(&c, paths[p], NULL);
        for (size_t i = 0; i < c.told.sample_count; i++) {
            const struct wr_flows *f = &c.told.samples[i].flows;
            check_between(f->service, 0, f->approved * (1 + 1e-9), "service, m3/s: within the approved rates");
            check(f->raw + f->recycle, f->rinse + f->service, 1e-15, "feed, m3/s: all to rinse and service");
            check_between(f->recycle, 0, 0.1 * f->raw * (1 + 1e-9), "recycle, m3/s: within a tenth of raw water");
        }
        plant_case_fini(&c);
    }
}

/* How many calls fell on an instant at which others called too. */
static size_t calls_together(const struct plant_case *c)
{
    size_t together = 0;
    for (size_t i = 0; i < c->told.event_count; i++) {
        const struct wr_event *call = &c->told.events[i];
        size_t others = 0;
        for (size_t k = 0; k < c->told.event_count && call->kind == WR_EVENT_CALLED; k++)
            others += k != i && c->told.events[k].kind == WR_EVENT_CALLED && c->told.events[k].time == call->time;
        together += others == 2;
    }
    return together;
}

/* By the differential as measured all three filters call at one instant time and again: whenever a well starts. The
 * last of them reaches its available head. A correction in the controller cures it, at the price of more washes. */
static void filters_call_together_by_the_measured_differential(void **state)
{
    (void)state;
    struct plant_case measured, corrected;
    plant_case_run(&measured, TOGETHER, NULL);
    plant_case_run(&corrected, TOGETHER, SETTINGS("/wash/triggers/differential_as=corrected"));
    check_true(calls_together(&measured) >= 9, "calls of all three at one instant: three times at least");
    check_count(calls_together(&corrected), 3, "with the correction: once, from beds all equal at the start");
    check_count(measured.run.record.balance.most_waiting_together, 2, "most waiting together, behind a third");
    check_count(corrected.run.record.balance.most_waiting_together, 1, "with the correction");
    check_count(measured.run.record.balance.grade, WR_GRADE_OVERRUN, "grade");
    check_count(corrected.run.record.balance.grade, WR_GRADE_QUEUES, "grade with the correction");
    check_true(!measured.run.passes && corrected.run.passes, "the correction makes the run pass");
    check_true(2 * corrected.run.record.balance.washes > 3 * measured.run.record.balance.washes,
               "the price: half as many washes again, and more");
    plant_case_fini(&measured);
    plant_case_fini(&corrected);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(three_filters_meet_their_day),
        cmocka_unit_test(no_filter_ever_runs_above_its_approved_rate),
        cmocka_unit_test(filters_call_together_by_the_measured_differential),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
