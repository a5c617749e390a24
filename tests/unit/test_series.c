/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The series of a run against closed forms: levels and differentials at times between instants, steps, deeds. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>

static const double exact = 1e-9;         /* of a share, m3, m3/s, m */
static const double an_hour = 1.0 / 3600; /* m3/h in m3/s */

/* Storage of 100 m3 between 40 and 60, 20 m3/h in and out by turns: an hour each way. */
#define UP_AND_DOWN                                                                                                    \
    "/storage={\"volume\":\"100 m3\",\"start_level\":\"50 %\"}", "/demand/maximum_day=480 m3/d",                       \
        "/wells/0/on_below=40 %", "/wells/0/off_above=60 %"

/* One wash of 50 m3 with 8 kg of solids, ended at 20:10, into 50 m2; half of them settle at 1 m/h, half at 0.1 m/h. */
#define SETTLES                                                                                                        \
    "\"tanks\":[{\"volume\":\"100 m3\",\"depth\":\"2 m\"}],\"settling\":{\"start_after\":\"0 h\",\"law\":\"classes\"," \
    "\"classes\":[{\"share\":\"50 %\",\"velocity\":\"1 m/h\"},{\"share\":\"50 %\",\"velocity\":\"0.1 m/h\"}],"         \
    "\"clear_at\":\"40 g/m3\"}"

static void run_series(struct plant_case *c, struct wr_series *series, double from, double until,
                       const char *const *settings)
{
    *series = (struct wr_series){.from = from, .until = until};
    plant_case_read(c, PLANT_PLAIN, settings);
    plant_case_run_with(c, (struct wr_run_options){.keeps_lists = true, .series = series});
    check_true(!series->out_of_memory && series->count > 0, "a series was kept");
}

static void end(struct plant_case *c, struct wr_series *series)
{
    wr_series_fini(series);
    plant_case_fini(c);
}

static const double *row_at(const struct wr_series *series, size_t row)
{
    return &series->rows[row * series->width];
}

/* Level of storage when it goes up from 50 % at the start, by the clock alone. */
static double triangle(double time)
{
    const double cycle = fmod(time / HOUR + 0.5, 2);
    return cycle < 1 ? 40 + 20 * cycle : 80 - 20 * cycle;
}

static void levels_are_straight_between_instants(void **state)
{
    (void)state;
    struct plant_case c;
    struct wr_series series;
    run_series(&c, &series, 0, 19 * HOUR, SETTINGS(UP_AND_DOWN, "/horizon=19 h"));
    check_true(series.count > 480, "rows inside a stretch of 19 h: at least one each 480th part");
    for (size_t i = 0; i < series.count; i++) {
        const double *row = row_at(&series, i);
        check(row[WR_SERIES_STORAGE], triangle(row[WR_SERIES_TIME]), 1e-6, "level, m3: straight between 40 and 60");
        check(row[WR_SERIES_DEMAND], 20 * an_hour, exact, "demand, m3/s: constant");
        if (i > 0)
            check_between(row[WR_SERIES_TIME] - row_at(&series, i - 1)[WR_SERIES_TIME], 0, 19 * HOUR / 480 + 1e-6,
                          "time from row to row, s");
    }
    check(row_at(&series, 0)[WR_SERIES_TIME], 0, 0, "first row, s: where the stretch begins");
    check(row_at(&series, series.count - 1)[WR_SERIES_TIME], 19 * HOUR, 0, "last row, s: where it ends");
    end(&c, &series);
}

static void a_step_stands_as_two_rows_of_one_time(void **state)
{
    (void)state;
    struct plant_case c;
    struct wr_series series;
    run_series(&c, &series, 0, 3 * HOUR, SETTINGS(UP_AND_DOWN, "/horizon=3 h"));
    size_t steps = 0;
    for (size_t i = 1; i < series.count; i++) {
        const double *before = row_at(&series, i - 1), *row = row_at(&series, i);
        if (row[WR_SERIES_RAW] == before[WR_SERIES_RAW])
            continue;
        check(row[WR_SERIES_TIME], before[WR_SERIES_TIME], 0, "time of the row after a step, s");
        check(row[WR_SERIES_TIME], (0.5 + (double)steps) * HOUR, 1e-6, "when the well starts or stops, s");
        steps++;
    }
    check_count(steps, 3, "starts and stops in 3 h: at 30, 90 and 150 min");
    end(&c, &series);
}

static void a_stretch_inside_a_run_begins_and_ends_where_it_was_asked(void **state)
{
    (void)state;
    struct plant_case c;
    struct wr_series series;
    run_series(&c, &series, 2.2 * HOUR, 4.1 * HOUR, SETTINGS(UP_AND_DOWN, "/horizon=19 h"));
    check(row_at(&series, 0)[WR_SERIES_TIME], 2.2 * HOUR, 0, "first row, s");
    check(row_at(&series, series.count - 1)[WR_SERIES_TIME], 4.1 * HOUR, 0, "last row, s");
    check(row_at(&series, 0)[WR_SERIES_STORAGE], triangle(2.2 * HOUR), 1e-6, "level where it begins, m3");
    for (size_t s = 0; s < series.stretch_count; s++)
        check_between(series.stretches[s].to - series.stretches[s].from, 1e-9, 1.9 * HOUR + 1e-6,
                      "length of a deed, s: within the stretch");
    end(&c, &series);
}

/* 2 m/h through each of two filters: 0.1 m per m/h clean, and 2 m at 6 m/h for 1.2 kg/m2, of which an hour brings
 * 0.02. The trigger sees it at the approved 6 m/h: three times that. */
static void differentials_follow_the_load(void **state)
{
    (void)state;
    struct plant_case c;
    struct wr_series series;
    run_series(
        &c, &series, 2 * HOUR, 6 * HOUR,
        SETTINGS("/horizon=8 h", "/start_beds={\"how\":\"equal\",\"share\":\"0 %\"}",
                 "/wash/triggers={\"run_hours\":\"20 h\",\"differential\":\"4 m\",\"differential_as\":\"corrected\"}"));
    for (size_t i = 0; i < series.count; i++) {
        const double *row = row_at(&series, i), hours = row[WR_SERIES_TIME] / HOUR;
        const double head = 0.2 + 2 * (2.0 / 6) * 0.02 * hours / 1.2;
        for (size_t f = 0; f < 2; f++) {
            check(row[wr_series_measured(&series, f)], head, 1e-9, "measured, m: closed form");
            check(row[wr_series_judged(&series, f)], 3 * head, 1e-9, "corrected to the approved rate, m: closed form");
        }
    }
    end(&c, &series);
}

/* Off line there is no differential: neither nought nor the last one. */
static void there_is_no_differential_in_a_wash(void **state)
{
    (void)state;
    struct plant_case c;
    struct wr_series series;
    run_series(&c, &series, 0, 24 * HOUR, SETTINGS("/horizon=24 h"));
    const struct wr_wash_record *wash = plant_case_wash(&c, 0, 0);
    size_t inside = 0;
    for (size_t i = 0; i < series.count; i++) {
        const double *row = row_at(&series, i);
        if (row[WR_SERIES_TIME] <= wash->started_at || row[WR_SERIES_TIME] >= wash->ended_at)
            continue;
        check_true(isnan(row[wr_series_measured(&series, 0)]), "no differential in a wash");
        inside++;
    }
    check_true(inside > 0, "rows in a wash");
    end(&c, &series);
}

static void as_many_deeds_as_washes(void **state)
{
    (void)state;
    struct plant_case c;
    struct wr_series series;
    run_series(&c, &series, 0, 10 * DAY, SETTINGS("/horizon=10 d", "/wash/triggers/run_hours=10 h"));
    size_t washed = 0;
    for (size_t s = 0; s < series.stretch_count; s++) {
        const struct wr_stretch *stretch = &series.stretches[s];
        if (stretch->deed != WR_DEED_WASHED)
            continue;
        size_t w = 0;
        while (w < c.run.record.wash_count &&
               (c.run.record.washes[w].filter != stretch->filter || c.run.record.washes[w].started_at != stretch->from))
            w++;
        check_true(w < c.run.record.wash_count, "a wash of the record begins where the deed does");
        check(stretch->to, fmin(c.run.record.washes[w].ended_at, 10 * DAY), 0, "and ends there, s");
        washed++;
    }
    check_true(washed > 5, "several washes");
    check_count(washed, c.run.record.wash_count, "washes drawn, of the record's");
    end(&c, &series);
}

/* Deeds of a filter follow one another without a gap, and fill the stretch. */
static void deeds_fill_the_stretch(void **state)
{
    (void)state;
    struct plant_case c;
    struct wr_series series;
    run_series(&c, &series, DAY, 9 * DAY, SETTINGS("/horizon=10 d", "/wash/triggers/run_hours=10 h"));
    for (size_t f = 0; f < series.filters; f++) {
        double at = DAY;
        for (size_t s = 0; s < series.stretch_count; s++)
            if (series.stretches[s].filter == f) {
                check(series.stretches[s].from, at, 0, "where a deed begins, s: where the one before ended");
                at = series.stretches[s].to;
            }
        check(at, 9 * DAY, 0, "where the last deed ends, s: with the stretch");
    }
    end(&c, &series);
}

/* A filter that calls at the end of each run, one wash at a time and long washes: the second waits for the first. */
static void a_wait_is_a_deed_with_its_reason(void **state)
{
    (void)state;
    struct plant_case c;
    struct wr_series series;
    run_series(&c, &series, 0, 2 * DAY,
               SETTINGS("/horizon=2 d", "/filters/0/count=2", "/start_beds={\"how\":\"equal\",\"share\":\"50 %\"}",
                        "/wash/triggers/run_hours=10 h"));
    double waited = 0;
    for (size_t s = 0; s < series.stretch_count; s++)
        if (series.stretches[s].deed == WR_DEED_WAITS) {
            check_count(series.stretches[s].limit, WR_LIMIT_WASH_SYSTEM, "what it waits for: the wash system");
            waited += series.stretches[s].to - series.stretches[s].from;
        }
    check_true(waited > 0, "filters that call together wait for each other");
    check(waited, plant_case_held(&c, WR_LIMIT_WASH_SYSTEM), 1e-6, "time drawn as waits, s: that of the spans");
    end(&c, &series);
}

/* 8 kg would make 1.6 m3 of fresh sludge of 5 kg/m3, so 48.4 m3 are drawn off, 0.968 m: clear after 4.84 h with 40
 * g/m3, 1.936 kg, at 20 m3/h. The other 6.064 kg fill 1.2128 m3, of which half goes as exp(-t/10 h). */
static void a_blanket_thickens_between_instants(void **state)
{
    (void)state;
    struct plant_case c;
    struct wr_series series;
    run_series(&c, &series, 0, 36 * HOUR,
               SETTINGS("/filters/0/count=1", "/horizon=36 h",
                        "/spent_wash={" SETTLES ",\"sludge\":{\"fresh_solids\":\"0.5 %\",\"thickened_solids\":\"1 "
                        "%\",\"thickening_time\":\"10 h\",\"level\":\"50 %\"},\"outlets\":[{\"kind\":\"sewer\","
                        "\"rate\":\"20 m3/h\"}]}"));
    const double clear_at = (20 + 1.0 / 6 + 4.84) * HOUR;
    size_t thickening = 0, drawn = 0;
    for (size_t i = 0; i < series.count; i++) {
        const double *row = row_at(&series, i), since = row[WR_SERIES_TIME] - clear_at;
        if (since < -1e-3)
            check(row[wr_series_blanket(&series, 0)] + row[wr_series_clear(&series, 0)], 0, 0,
                  "blanket and clear water before, m3");
        if (since < 1e-3)
            continue;
        check(row[wr_series_blanket(&series, 0)], 0.6064 * (1 + exp(-since / (10 * HOUR))), 1e-6,
              "blanket, m3: closed form");
        check(row[wr_series_clear(&series, 0)], fmax(0, 48.4 - 20 * since / HOUR), 1e-6, "clear water left, m3");
        check(row[wr_series_tank(0)], 1.6 + row[wr_series_clear(&series, 0)], 1e-6, "level, m3: what stays is below");
        thickening++;
        drawn += row[wr_series_clear(&series, 0)] > 0;
    }
    check_true(thickening > drawn && drawn > 10, "rows while clear water is drawn, and after");
    end(&c, &series);
}

/* F2 is called at 21 h, when the only tank settles: its 50 m3 leave as they are at 100 m3/h. */
static void water_that_leaves_in_an_emergency_is_not_clear(void **state)
{
    (void)state;
    struct plant_case c;
    struct wr_series series;
    run_series(&c, &series, 20 * HOUR, 24 * HOUR,
               SETTINGS("/horizon=24 h", "/wash/triggers/run_hours=100 h",
                        "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 20:00\"},{\"filter\":\"F2\",\"first\":"
                        "\"2026-01-05 21:00\"}]",
                        "/spent_wash={" SETTLES
                        ",\"outlets\":[{\"kind\":\"recycle\"},{\"kind\":\"sewer\",\"rate\":\"100 "
                        "m3/h\",\"emergency\":true}]}",
                        "/spent_wash/tanks/0/volume=60 m3", "/recycle={\"pump\":\"1 m3/h\"}"));
    double out = 0;
    for (size_t i = 1; i < series.count; i++) {
        const double *row = row_at(&series, i), *before = row_at(&series, i - 1);
        out += 0.5 * (row[WR_SERIES_EMERGENCY] + before[WR_SERIES_EMERGENCY]) *
               (row[WR_SERIES_TIME] - before[WR_SERIES_TIME]);
        if (row[WR_SERIES_TIME] < 21.4 * HOUR)
            check(row[wr_series_clear(&series, 0)], 0, 0, "clear water, m3: it has not settled");
    }
    check(out, 50, 1e-6, "flow by the emergency outlet over time, m3");
    end(&c, &series);
}

/* Raw water of 10 g/m3 at 40 m3/h and recycle of 40 g/m3, bound to 12 g/m3 together. */
static void the_blend_stands_in_the_series(void **state)
{
    (void)state;
    struct plant_case c;
    struct wr_series series;
    run_series(&c, &series, 20 * HOUR, 26 * HOUR,
               SETTINGS("/filters/0/count=1", "/horizon=26 h",
                        "/spent_wash={" SETTLES ",\"outlets\":[{\"kind\":\"recycle\"}]}",
                        "/recycle={\"pump\":\"20 m3/h\",\"max_fraction\":\"100 "
                        "%\",\"control\":\"ratio\",\"max_blend_solids\":\"12 g/m3\"}"));
    size_t blended = 0;
    for (size_t i = 0; i < series.count; i++) {
        const double *row = row_at(&series, i);
        if (row[WR_SERIES_RAW] > 0)
            check(row[WR_SERIES_BLEND], row[WR_SERIES_RECYCLE] > 0 ? 0.012 : 0.010, 1e-12,
                  "solids of the blend, kg/m3");
        else
            check_true(isnan(row[WR_SERIES_BLEND]), "no blend without flow: in the wash of the only filter");
        blended += row[WR_SERIES_RECYCLE] > 0;
    }
    check_true(blended > 1, "rows with recycle");
    end(&c, &series);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(levels_are_straight_between_instants),
        cmocka_unit_test(a_step_stands_as_two_rows_of_one_time),
        cmocka_unit_test(a_stretch_inside_a_run_begins_and_ends_where_it_was_asked),
        cmocka_unit_test(differentials_follow_the_load),
        cmocka_unit_test(there_is_no_differential_in_a_wash),
        cmocka_unit_test(as_many_deeds_as_washes),
        cmocka_unit_test(deeds_fill_the_stretch),
        cmocka_unit_test(a_wait_is_a_deed_with_its_reason),
        cmocka_unit_test(a_blanket_thickens_between_instants),
        cmocka_unit_test(water_that_leaves_in_an_emergency_is_not_clear),
        cmocka_unit_test(the_blend_stands_in_the_series),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
