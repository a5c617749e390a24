/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each kind of finding by a smallest plant that gives exactly it, and by the same plant with one figure a little less,
 * which gives nothing. When, how long and how much follow by hand.
 *
 * Where another finding cannot be avoided it is named: storage in its reserve is below its low mark, washing loses pace
 * by waits, a plant locks by a filter at its available head, and clean differentials rise where a wash was cut short.
 */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <stdio.h>
#include <string.h>

enum { MOST_SETTINGS = 12 };

struct row {
    enum wr_finding_kind kind;
    const char *settings[MOST_SETTINGS]; /* of the plain plant */
    const char *just, *inside;           /* settings in which the plant with the finding and its sibling differ */
    const char *besides;                 /* findings that cannot be avoided: keys; NULL for none */
    const char *besides_inside;          /* the same of the sibling */
    double start, length, worst;         /* s, s, SI; WR_ABSENT where it is not looked at */
    bool must_return;
};

#define ANY WR_ABSENT

/* Washes by the calendar: both filters on the first day, and on the second the first at 5:00 and the other at a time.
 */
#define ROTA_AND_SECOND(time)                                                                                          \
    "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 05:00\",\"every\":\"24 h\"},"                               \
    "{\"filter\":\"F2\",\"first\":\"2026-01-05 12:00\"},{\"filter\":\"F2\",\"first\":\"" time "\"}]"

/* A spent-wash tank that nothing leaves before the evening. */
#define SPENT_TANK(start)                                                                                              \
    "/spent_wash={\"tanks\":[{\"volume\":\"100 m3\",\"start_level\":\"" start "\"}],\"settling\":{\"law\":\"none\"},"  \
    "\"outlets\":[{\"kind\":\"sewer\",\"rate\":\"1 m3/h\",\"hours\":[{\"from\":\"20:00\",\"until\":\"21:00\"}]}]}"

/* Storage starts at half; the one well gives 40 m3/h and demand is even. No wash is called before 20 h. */
static const struct row rows[] = {
    /* 50 m3 in storage; 1056 m3/d is 4 m3/h more than the well: empty after 12.5 h, then 4 m3/h short for 6.5 h. */
    {.kind = WR_FINDING_UNMET_DEMAND,
     .settings = {"/storage/volume=100 m3", "/horizon=19 h"},
     .just = "/demand/maximum_day=1056 m3/d",
     .inside = "/demand/maximum_day=1020 m3/d", /* 2.5 m3/h for 19 h: 47.5 of the 50 m3 */
     .start = 12.5 * HOUR,
     .length = 6.5 * HOUR,
     .worst = 26},
    /* 40 m3 above the reserve last 10 h at 4 m3/h; 8 m3 of the reserve are used in the two hours after. */
    {.kind = WR_FINDING_RESERVE_USED,
     .settings = {"/storage/volume=100 m3", "/demand/maximum_day=1056 m3/d", "/horizon=12 h"},
     .just = "/storage/reserve=10 %",
     .inside = "/storage/reserve=1 %", /* 49 m3 last 12.25 h */
     .besides = "storage_low",         /* no mark stands below the reserve */
     .start = 10 * HOUR,
     .length = 2 * HOUR,
     .worst = 0.02},
    {.kind = WR_FINDING_STORAGE_LOW,
     .settings = {"/storage/volume=100 m3", "/demand/maximum_day=1056 m3/d", "/horizon=12 h"},
     .just = "/storage/low_mark=10 %",
     .inside = "/storage/low_mark=1 %",
     .start = 10 * HOUR,
     .length = 2 * HOUR,
     .worst = 0.02},
    /* The well stops at 0.5 h and starts at 1.5 h: both filters run 20 m3/h to waste for 6 min, each with 6 m3 of room
     * booked or none. */
    {.kind = WR_FINDING_SPENT_WASH_SPILLED,
     .settings = {"/storage/volume=100 m3", "/demand/maximum_day=480 m3/d", "/wells/0/on_below=40 %",
                  "/wells/0/off_above=60 %", "/wash/rinse_at_start=6 min", "/horizon=3 h"},
     .just = SPENT_TANK("95 %"),
     .inside = SPENT_TANK("87 %"),
     .start = 1.5 * HOUR,
     .length = 6 * MINUTE,
     .worst = 4},
    /* 0.8 kg/m2 washed out over 5 m with 2.5 m to 1/e: 43.3 g/m3 in the last of it. */
    {.kind = WR_FINDING_WASH_NOT_CLEAR,
     .settings = {"/filters/0/count=1", "/horizon=20.5 h", "/wash/washout_depth=2.5 m3/m2"},
     .just = "/wash/clear_at=43 g/m3",
     .inside = "/wash/clear_at=44 g/m3",
     .start = 20 * HOUR + 10 * MINUTE,
     .length = 0,
     .worst = 0.8 / 2.5 * 0.13533528323661269} /* exp(-2) */,
    /* 8 kg settle to 0.8 m3 at 1 % under 100 m3 on 50 m2: above a pipe at 1 cm, not above one at 2 cm. */
    {.kind = WR_FINDING_DECANT_SPOILED,
     .settings = {"/filters/0/count=1", "/horizon=23 h",
                  "/spent_wash={\"tanks\":[{\"volume\":\"100 m3\",\"depth\":\"2 "
                  "m\"}],\"settling\":{\"law\":\"clock\",\"time\":\"1 h\",\"start_after\":\"0 "
                  "h\",\"draw_off\":\"fixed\"},\"sludge\":{\"fresh_solids\":\"1 %\"},\"outlets\":[{\"kind\":"
                  "\"sewer\",\"rate\":\"100 m3/h\"}]}"},
     .just = "/spent_wash/settling/draw_height=0.01 m",
     .inside = "/spent_wash/settling/draw_height=0.02 m",
     .start = 21 * HOUR + 10 * MINUTE,
     .length = 0,
     .worst = 3 / 49.5},
    /* A year in small: a level that never comes back to where it started. It last stood there at the start. */
    {.kind = WR_FINDING_NOT_RETURNING,
     .settings = {"/storage/volume=1000 m3", "/horizon=19 h"},
     .just = "/demand/maximum_day=984 m3/d",
     .inside = "/demand/maximum_day=960 m3/d", /* what the well gives */
     .start = 0,
     .length = 0,
     .worst = 0.4905, /* 1 m3/h less for 9.5 h */
     .must_return = true},
    /* One filter at 4 m/h: 0.4 m clean and 1.111 m per kg/m2, 0.04 kg/m2 an hour: 5 m after 103.5 h. */
    {.kind = WR_FINDING_HEAD_REACHED,
     .settings = {"/filters/0/count=1", "/wash/triggers/run_hours=200 h", "/wells/0/drive=variable",
                  "/over_approved_rate=throttle"},
     .just = "/horizon=104 h",
     .inside = "/horizon=103 h",
     .start = 103.5 * HOUR,
     .length = 0.5 * HOUR,
     .worst = 0.5 * HOUR},
    /* Seven filters that run 10 h and are washed for b in turn wait 6 b - 10 h each: 13 % of the run with b = 1.9 h,
     * 8 % with 1.8 h. Their waits cannot be avoided. */
    {.kind = WR_FINDING_NOT_KEEPING_PACE,
     .settings = {"/filters/0/count=7", "/wash/triggers/run_hours=10 h", "/wash_water/tank/refill_rate=30 m3/h",
                  "/horizon=10 d"},
     .just = "/wash/bed_settle=104 min",
     .inside = "/wash/bed_settle=98 min",
     .besides = "washes_waited",
     .besides_inside = "washes_waited",
     .start = ANY, /* seen at the first instant after seven days */
     .length = ANY,
     .worst = ANY},
    /* One filter whose wash finds the tank full for ever: it waits, reaches its head and leaves service. */
    {.kind = WR_FINDING_PLANT_LOCKED,
     .settings = {"/filters/0/count=1", "/filters/0/at_available_head=leaves_service", "/wash/triggers/run_hours=100 h",
                  "/wash_water/tank={\"volume\":\"50 m3\",\"start_level\":\"0 %\",\"refill_rate\":\"0.01 m3/h\"}"},
     .just = "/horizon=104 h",
     .inside = "/horizon=103 h",
     .besides = "available_head_reached",
     .start = 103.5 * HOUR,
     .length = 0.5 * HOUR,
     .worst = 0.5 * HOUR},
    /* The pump fails for a minute after 9 of 10 min; a minute later the backwash is over. */
    {.kind = WR_FINDING_WASH_SHORT,
     .settings = {"/filters/0/count=1", "/horizon=30 h"},
     .just = "/outages=[{\"unit\":\"wash pump\",\"from\":\"2026-01-05 20:09\",\"until\":\"2026-01-05 20:10\"}]",
     .inside = "/outages=[{\"unit\":\"wash pump\",\"from\":\"2026-01-05 20:10\",\"until\":\"2026-01-05 20:11\"}]",
     .start = ANY,
     .length = 0,
     .worst = 0.9},
    /* While one of three is washed the others take 85 m3/h each, 8.5 m/h; or 5.95 of the 6 m/h approved. */
    {.kind = WR_FINDING_APPROVED_RATE_EXCEEDED,
     .settings = {"/filters/0/count=3", "/over_approved_rate=rate_rises", "/start_beds/how=given",
                  "/filters/0/start_shares=[\"0 %\", \"50 %\", \"75 %\"]", "/wash_water/tank/refill_rate=30 m3/h",
                  "/horizon=19 h"},
     .just = "/wells/0/flow=170 m3/h",
     .inside = "/wells/0/flow=119 m3/h",
     .start = 5 * HOUR,
     .length = 20 * MINUTE,
     .worst = 8.5 / 3600},
    /* 970 m3 of 1000, filled at 30 m3/h: full after an hour, and the well must run on for another. */
    {.kind = WR_FINDING_FINISHED_WATER_OVERFLOWED,
     .settings = {"/storage/volume=1000 m3", "/storage/start_level=97 %", "/demand/maximum_day=240 m3/d",
                  "/horizon=3 h"},
     .just = "/wells/0/minimum_run=2 h",
     .inside = "/wells/0/minimum_run=59 min",
     .start = 1 * HOUR,
     .length = 1 * HOUR,
     .worst = 30},
    /* Each filter has had its first wash when the second's call falls into the first's ten minutes, or just after. */
    {.kind = WR_FINDING_WASHES_WAITED,
     .settings = {"/wash/triggers/run_hours=200 h", "/horizon=40 h"},
     .just = ROTA_AND_SECOND("2026-01-06 05:05"),
     .inside = ROTA_AND_SECOND("2026-01-06 05:10"),
     .start = 29 * HOUR + 5 * MINUTE,
     .length = 5 * MINUTE,
     .worst = 5 * MINUTE},
    /* An hour after the first one's. */
    {.kind = WR_FINDING_DEFERRED_BY_RULE,
     .settings = {"/wash/triggers/run_hours=200 h", "/horizon=40 h", ROTA_AND_SECOND("2026-01-06 06:00")},
     .just = "/wash/min_between_starts=61 min",
     .inside = "/wash/min_between_starts=60 min",
     .start = 30 * HOUR,
     .length = 1 * MINUTE,
     .worst = 1 * MINUTE},
    /* Alone, a filter that rinses has what the well gives: 40 m3/h for 60, or for 40. */
    {.kind = WR_FINDING_RINSE_SHORT,
     .settings = {"/filters/0/count=1", "/wash/rinse_time=6 min", "/horizon=30 h"},
     .just = "/wash/rinse_rate=6 m/h",
     .inside = "/wash/rinse_rate=4 m/h",
     .start = 20 * HOUR + 10 * MINUTE,
     .length = 9 * MINUTE, /* 6 m3 at 40 m3/h */
     .worst = 40.0 / 3600},
    /* Ten hundredths of the well's 40 m3/h. */
    {.kind = WR_FINDING_RECYCLE_HELD,
     .settings = {"/spent_wash={\"tanks\":[{\"volume\":\"1000 m3\"}],\"settling\":{\"law\":\"none\"},"
                  "\"outlets\":[{\"kind\":\"recycle\"}]}",
                  "/start_beds/how=spread", "/recycle/control=fixed", "/horizon=30 h"},
     .just = "/recycle/pump=4.01 m3/h",
     .inside = "/recycle/pump=4 m3/h",
     .start = 10 * HOUR,
     .length = 20 * HOUR,
     .worst = 20 * HOUR},
    /* Demand of 20 m3/h against 40: as long up as down. A band of 1 m3 takes 6 min, one of 4 m3 24. */
    {.kind = WR_FINDING_WELL_STARTS,
     .settings = {"/storage={\"volume\":\"10 m3\",\"start_level\":\"60 %\"}", "/demand/maximum_day=480 m3/d",
                  "/wells/0/on_below=50 %", "/horizon=10 h"},
     .just = "/wells/0/off_above=60 %",
     .inside = "/wells/0/off_above=90 %",
     .start = ANY,
     .length = 0,
     .worst = 10},
    /* The second well lifts both filters by 3.5 m/h, or by 2.95: 3 is half their approved rate. */
    {.kind = WR_FINDING_RATE_STEP,
     .settings = {"/storage/volume=1000 m3", "/wells/0/flow=20 m3/h", "/horizon=5 h"},
     .just = "/wells/1={\"flow\":\"70 m3/h\",\"on_below\":\"49 %\",\"off_above\":\"49.9 %\"}",
     .inside = "/wells/1={\"flow\":\"59 m3/h\",\"on_below\":\"49 %\",\"off_above\":\"49.9 %\"}",
     .start = 0.5 * HOUR,
     .length = 0,
     .worst = 3.5 / 3600},
    {.kind = WR_FINDING_IDLE,
     .settings = {"/wells/0/on_below=20 %", "/wells/0/off_above=40 %"},
     .just = "/horizon=25 h",
     .inside = "/horizon=23 h",
     .start = ANY,
     .length = 0,
     .worst = 25 * HOUR},
    /* The second wash leaves 80 % of 0.8 kg/m2: 1.067 m more at 6 m/h, or 30 %: 0.4 m. A tenth of 5 m is 0.5. */
    {.kind = WR_FINDING_CLEAN_HEAD_RISING,
     .settings = {"/filters/0/count=1", "/horizon=42 h"},
     .just = "/outages=[{\"unit\":\"wash pump\",\"from\":\"2026-01-06 16:12\",\"until\":\"2026-01-06 16:13\"}]",
     .inside = "/outages=[{\"unit\":\"wash pump\",\"from\":\"2026-01-06 16:17\",\"until\":\"2026-01-06 16:18\"}]",
     .besides = "wash_short",
     .besides_inside = "wash_short",
     .start = ANY,
     .length = 0,
     .worst = 1.6 / 1.5},
    /* After 20 h two filters of three are called by their hours, or one of two. The other has ten times the slope:
     * 0.6 m and 10 m per kg/m2 at 6 m/h, so that 2.5 m comes sooner. */
    {.kind = WR_FINDING_BACKSTOP_TOOK_OVER,
     .settings = {"/filters/1={\"name\":\"S\",\"count\":1,\"area\":\"10 m2\",\"approved_rate\":\"6 m/h\","
                  "\"available_head\":\"50 m\",\"deposit\":{\"observed_run\":{\"clean_differential\":\"0.6 m\","
                  "\"dirty_differential\":\"12.6 m\",\"rate\":\"6 m/h\",\"hours\":\"20 h\"}}}",
                  "/wash/triggers/differential=2.5 m", "/wash/triggers/differential_as=corrected",
                  "/wash/max_simultaneous=3", "/horizon=22 h"},
     .just = "/filters/0/count=2",
     .inside = "/filters/0/count=1",
     .start = ANY,
     .length = 0,
     .worst = 2.0 / 3},
    /* After 20 h at 2 m/h the bed holds 0.4 kg/m2: 0.6 + 0.667 = 1.267 m at the approved rate. */
    {.kind = WR_FINDING_DIFFERENTIAL_NEVER,
     .settings = {"/wash/triggers/differential_as=corrected", "/start_beds/how=spread", "/horizon=19 h"},
     .just = "/wash/triggers/differential=1.3 m",
     .inside = "/wash/triggers/differential=1.2 m",
     .start = ANY,
     .length = 0,
     .worst = 1},
};

/* Keys of the findings of a run in the order of the table, each once, but for one. */
static void list_findings(const struct plant_case *c, enum wr_finding_kind but, char *text, size_t size)
{
    size_t used = 0;
    int last = WR_FINDINGS;
    text[0] = '\0';
    for (const struct wr_finding *f = NULL; (f = wr_record_finding(&c->run.record, f)) != NULL;) {
        if (f->kind != but && (int)f->kind != last)
            used +=
                (size_t)snprintf(text + used, size - used, "%s%s", used > 0 ? " " : "", wr_finding_row(f->kind)->key);
        last = (int)f->kind;
    }
}

static void run_row(struct plant_case *c, const struct row *row, const char *setting)
{
    const char *settings[MOST_SETTINGS + 2];
    size_t count = 0;
    while (count < MOST_SETTINGS && row->settings[count] != NULL) {
        settings[count] = row->settings[count];
        count++;
    }
    settings[count++] = setting;
    settings[count] = NULL;
    plant_case_read(c, PLANT_PLAIN, settings);
    plant_case_run_with(c, (struct wr_run_options){.keeps_lists = true, .must_return = row->must_return});
    check_count(c->run.end, WR_RUN_WHOLE, "end of the run");
}

static void check_figures(const struct wr_finding *finding, const struct row *row)
{
    if (wr_is_given(row->start))
        check(finding->start, row->start, 1e-6, "start of the finding, s: by hand");
    if (wr_is_given(row->length))
        check(finding->length, row->length, 1e-5, "its length, s: by hand");
    if (wr_is_given(row->worst))
        check_share(finding->worst, row->worst, 1e-9, "its worst figure, SI: by hand");
}

static void check_row(const struct row *row)
{
    struct plant_case c;
    char others[512];
    print_message("    %s\n", wr_finding_row(row->kind)->key);
    run_row(&c, row, row->just);
    const struct wr_finding *finding = plant_case_finding(&c, row->kind);
    list_findings(&c, row->kind, others, sizeof others);
    check_text(others, row->besides != NULL ? row->besides : "", "what else is found: nothing that can be avoided");
    check_true(finding != NULL, "the finding");
    check_figures(finding, row);
    bool fails = wr_finding_row(row->kind)->fails;
    for (const struct wr_finding *f = NULL; (f = wr_record_finding(&c.run.record, f)) != NULL;)
        fails = fails || wr_finding_row(f->kind)->fails;
    check_true(c.run.passes == !fails, "the run fails where a finding does that fails a run");
    plant_case_fini(&c);
    run_row(&c, row, row->inside);
    list_findings(&c, WR_FINDINGS, others, sizeof others);
    check_text(others, row->besides_inside != NULL ? row->besides_inside : "",
               "what is found just inside: nothing that can be avoided");
    plant_case_fini(&c);
}

static void each_kind_alone_and_just_inside(void **state)
{
    (void)state;
    for (size_t r = 0; r < sizeof rows / sizeof *rows; r++)
        check_row(&rows[r]);
}

static void every_kind_has_its_plant(void **state)
{
    (void)state;
    for (int k = 0; k < WR_FINDINGS; k++) {
        size_t plants = 0;
        for (size_t r = 0; r < sizeof rows / sizeof *rows; r++)
            plants += (int)rows[r].kind == k;
        check_count(plants, 1, wr_finding_row((enum wr_finding_kind)k)->key);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_kind_alone_and_just_inside),
        cmocka_unit_test(every_kind_has_its_plant),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
