/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stories against what a pencil says, and against the spans that the plant told.
 *
 * Two filters of 10 m2 at 2 m/h, half through a run of 20 h as the run begins, call at 10:00. A wash takes 50 m3. */
#include "sim/report/explain.h"
#include "sim/report/json.h"
#include "tests/plant/random_plant.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define BOTH_CALL "/start_beds/how=given", "/filters/0/start_shares=[\"50 %\", \"50 %\"]"
#define OUT(unit, from, until)                                                                                         \
    "/outages=[{\"unit\":\"" unit "\",\"from\":\"2026-01-05 " from "\",\"until\":\"2026-01-05 " until "\"}]"
#define ONE_TANK                                                                                                       \
    "/spent_wash={\"tanks\":[{\"name\":\"T1\",\"volume\":\"50 m3\"}],\"settling\":{\"law\":\"clock\",\"time\":\"2 "    \
    "h\","                                                                                                             \
    "\"start_after\":\"1 h\",\"sludge_share\":\"16 %\"},\"outlets\":[{\"kind\":\"recycle\"}]}",                        \
        "/recycle={\"pump\":\"4 m3/h\",\"max_fraction\":\"10 %\"}"
#define AIR_WASH                                                                                                       \
    "/wash/template=pressure_air", "/wash/drain_depth=0.5 m", "/wash/drain_time=5 min", "/wash/air_time=14 min",       \
        "/wash/fill_rate=30 m/h"
#define BATCH                                                                                                          \
    "/wash={\"triggers\":{\"run_hours\":\"300 h\"},\"template\":\"batch_regeneration\",\"backwash_rate\":\"3 m/h\","   \
    "\"rinse_time\":\"0 min\",\"valve_travel\":\"0 min\",\"ramp_time\":\"0 min\",\"bed_settle\":\"0 min\","            \
    "\"regenerant_depth\":\"0.2 m3/m2\",\"regenerate_time\":\"8 min\",\"holding\":{\"volume\":\"3 m3\","               \
    "\"emptied_every\":\"15 h\"},\"rota\":[{\"filter\":\"F1\",\"first\":\"2026-01-05 10:00\"},"                        \
    "{\"filter\":\"F2\",\"first\":\"2026-01-05 12:00\"}]}",                                                            \
        "/wash_water={\"source\":\"wells\"}"

#ifdef WR_SANITIZED
enum { RANDOM_PLANTS = 20 };
#else
enum { RANDOM_PLANTS = 100 };
#endif

/* A run with its diary. */
struct told {
    struct plant_case run;
    struct wr_diary diary;
    struct wr_teller teller;
};

static void tell(struct told *told, const char *const *settings)
{
    *told = (struct told){0};
    plant_case_read(&told->run, PLANT_PLAIN, settings);
    plant_case_run_with(&told->run, (struct wr_run_options){.keeps_lists = true, .diary = &told->diary});
    told->teller = (struct wr_teller){.run = &told->run.run, .diary = &told->diary, .units = WR_UNITS_SI};
}

static void forget(struct told *told)
{
    wr_diary_fini(&told->diary);
    plant_case_fini(&told->run);
}

/* The story of one wash with all its line feeds and indents turned to single blanks. The caller frees it. */
static char *story_of(const struct told *told, size_t wash)
{
    struct wr_page page = {0};
    wr_explain_put_wash(&page, &told->teller, wash);
    char *text = wr_page_take(&page), *to = text;
    for (const char *from = text; *from != '\0'; from++)
        if (*from != '\n' && *from != ' ')
            *to++ = *from;
        else if (to > text && to[-1] != ' ')
            *to++ = ' ';
    *to = '\0';
    return text;
}

/* The pencil's figures. F1 is washed at once, 10:00 to 10:10. Its 50 m3 settle until 12:10; 84 % of it, 42 m3, leaves
 * at 4 m3/h in 10.5 h, until 22:40: 10 % of 40 m3/h. F2 passes 40 m at its call, then 4 m/h for 10 min, 2 m/h for 2 h
 * and 2.2 m/h for 10.5 h: 27.77 m more. Its load is 0.4 kg/m2 at the call, and the raw water alone brings 10 g/m3:
 * 0.2567 more. At 6 m/h that is 0.6 m + 2 m x 0.6567 / 1.2 = 1.694 m. The wash-water tank is full again and gives 50 m3
 * while 10 m3/h comes back: 948.3 net of 1.667 m3. F1 alone takes the 40 m3/h: 4 m/h. */
static void a_wait_for_room_is_told_in_full(void **state)
{
    (void)state;
    struct told told;
    tell(&told, SETTINGS(BOTH_CALL, ONE_TANK, "/horizon=24 h"));
    char *text = story_of(&told, 1);
    check_text(
        text,
        "F2 called for a wash on day 1 at 10:00, when it had run 20 h with flow, its limit of run hours. It ran at "
        "2.00 m/h then; its approved rate is 6.00 m/h. It waited 12 h 40 min, until 22:40. As it called, 1 filter "
        "was before it in line, F1 first. This was its first wash, and such a wait comes from how the run was "
        "started. - From 10:00 to 10:10 (10 min) because as many filters as may be washed at one time are being "
        "washed: F1 until 10:10. - From 10:10 to 22:40 (12 h 30 min) because no spent-wash tank has room for a "
        "whole wash: a wash sends 50.00 m3. Besides: no spent-wash tank has room for a whole wash (for 10 min of "
        "that time). Why there was no room: T1 was settling until 12:10, then was being emptied by recycle at 4.000 "
        "m3/h, all that the pump takes. at step lasts m3 whose water, and where to ----- ------------------- ------ "
        "---- "
        "------------------------- 22:40 backwash, full rate 10 min 50.0 wash water, to T1 The wash took 50.00 m3 "
        "from the wash-water tank, which held 1,000 m3 before it and 951.7 m3 after. 50.00 m3 went to T1, which "
        "held 0 m3 before it and 50.00 m3 as it ended. It was off line for 10 min. Meanwhile 1 filter was in "
        "service at the least, and the fastest ran at 4.00 m/h at most. Storage stood at 50 % as it began and at "
        "50 % as it ended, with 1 well running before it and 1 after. The run before it had lasted 32 h 40 min "
        "with flow and passed 67.77 m3/m2; the bed held 0.657 kg/m2, and 0 kg/m2 after. At the approved rate its "
        "differential is 16.6 kPa (1.69 m) with that load, and 5.88 kPa (0.600 m) after the wash. It took in 0.257 "
        "kg/m2 of that while it waited. ",
        "the story of F2's wash");
    free(text);
    forget(&told);
}

/* Reasons of each wait follow one another from call to start and add up to it; an outage in the midst is no wait. */
static void check_reasons(const struct told *told, const struct wr_diary_wash *wash)
{
    struct wr_reason *reasons;
    const size_t count = wr_explain_reasons(&told->teller, wash, &reasons);
    double sum = 0;
    for (size_t r = 0; r < count; r++) {
        const double held = wr_explain_held(&told->teller, wash, reasons[r].limit);
        sum += reasons[r].to - reasons[r].from;
        check_true(held >= (reasons[r].to - reasons[r].from) * (1 - 1e-9), "a reason held as long as it is told");
        if (r > 0)
            check_true(reasons[r].from >= reasons[r - 1].to, "a reason begins after the one before it");
    }
    check(sum, wash->waited, 1e-6, "all reasons together, s: the wait as the plant counted it");
    free(reasons);
}

/* Each reason that a wash can wait for comes in a sentence, in the words of the table. */
static void each_reason_has_its_sentence(void **state)
{
    (void)state;
    const struct {
        enum wr_limit limit;
        const char *const *settings;
        const char *figure; /* what stands beside it */
    } cases[] = {
        {WR_LIMIT_WINDOW,
         SETTINGS(BOTH_CALL, "/wash/window=[{\"from\":\"14:00\",\"until\":\"16:00\"}]", "/horizon=20 h"),
         "From 10:00 to 14:00 (4 h)"},
        {WR_LIMIT_TIME_BETWEEN_STARTS, SETTINGS(BOTH_CALL, "/wash/min_between_starts=3 h", "/horizon=20 h"),
         "has not passed: 3 h."},
        {WR_LIMIT_FILTERS_IN_SERVICE,
         SETTINGS(BOTH_CALL, "/wash/max_simultaneous=2", "/wash/min_filters_in_service=1", "/horizon=20 h"),
         "1 must serve beside it, and 1 served with it."},
        {WR_LIMIT_STORAGE_LOCKOUT, SETTINGS(BOTH_CALL, "/wash/storage_lockout=60 %", "/horizon=20 h"),
         "none starts below 60 %."},
        {WR_LIMIT_PLANT_STOPPED,
         SETTINGS("/wells/0/on_below=10 %", "/wells/0/off_above=20 %", "/wash/when_plant_stopped=wait",
                  "/wash/rota=[{\"filter\":\"F1\",\"first\":\"2026-01-05 05:00\"}]", "/horizon=20 h"),
         "when its turn by the rota had come."},
        {WR_LIMIT_ATTENDED_HOURS,
         SETTINGS(BOTH_CALL, OUT("wash pump", "10:04", "10:05"), "/wash/on_interrupt=hold",
                  "/wash/attended=[{\"from\":\"14:00\",\"until\":\"16:00\"}]", "/horizon=20 h"),
         "when its wash before had been interrupted."},
        {WR_LIMIT_WASH_SYSTEM, SETTINGS(BOTH_CALL, "/horizon=20 h"), "F1 until 10:10."},
        {WR_LIMIT_BLOWER, SETTINGS(BOTH_CALL, AIR_WASH, "/wash/max_simultaneous=2", "/wash/blowers=1", "/horizon=20 h"),
         "F1 until"},
        {WR_LIMIT_WASH_PUMP_OUT, SETTINGS(BOTH_CALL, OUT("wash pump", "09:00", "12:00"), "/horizon=20 h"),
         "From 10:00 to 12:00 (2 h)"},
        {WR_LIMIT_WASH_WATER, SETTINGS(BOTH_CALL, "/wash_water/tank/volume=60 m3", "/horizon=20 h"),
         "a wash takes 50.00 m3, and the refill gives at most 10.00 m3/h."},
        {WR_LIMIT_WASH_WATER,
         SETTINGS(BOTH_CALL, "/wash/max_simultaneous=2", "/wash_water/max_flow=599 m3/h", "/horizon=20 h"),
         "a wash draws up to 300.0 m3/h, and all of them together may draw 599.0 m3/h."},
        {WR_LIMIT_SPENT_WASH_ROOM, SETTINGS(BOTH_CALL, ONE_TANK, "/horizon=24 h"), "a wash sends 50.00 m3."},
        {WR_LIMIT_HOLDING_ROOM, SETTINGS(BATCH, "/horizon=20 h"), "a wash sends 2.000 m3."},
    };
    for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
        struct told told;
        bool found = false;
        tell(&told, cases[i].settings);
        for (size_t w = 0; w < told.diary.washes.count; w++) {
            char *text = story_of(&told, w);
            check_reasons(&told, wr_diary_wash(&told.diary, w));
            found = found || (strstr(text, wr_limit_row(cases[i].limit)->words) != NULL &&
                              strstr(text, cases[i].figure) != NULL);
            free(text);
        }
        check_true(found, wr_limit_row(cases[i].limit)->words);
        forget(&told);
    }
}

/* What held an outlet is told with the figures that allow it: a pump of 5 m3/h against 10 % of 40 m3/h. */
static void what_held_an_outlet_has_its_figures(void **state)
{
    (void)state;
    struct told told;
    tell(&told, SETTINGS(BOTH_CALL, ONE_TANK, "/recycle/pump=5 m3/h", "/horizon=24 h"));
    char *text = story_of(&told, 1);
    check_holds(
        text,
        "T1 was settling until 12:10, then had water to give and was held back, because the recycle pump would "
        "exceed its share of the raw flow (10 % of 40.00 m3/h of raw water allows 4.000 m3/h, and the pump takes "
        "5.000 m3/h).",
        "a fixed pump waits");
    free(text);
    forget(&told);
    tell(&told, SETTINGS(BOTH_CALL, ONE_TANK, "/recycle/pump=5 m3/h", "/recycle/control=ratio", "/horizon=24 h"));
    text = story_of(&told, 1);
    check_holds(
        text,
        "was being emptied by recycle at 4.000 m3/h, held there because the recycle pump would exceed its share of "
        "the raw flow (10 % of 40.00 m3/h of raw water allows 4.000 m3/h, and the pump takes 5.000 m3/h)",
        "a ratio-controlled one takes what is allowed");
    free(text);
    forget(&told);
}

/* A rinse to the sewer is told as that, and no part of what the spent-wash tank takes. */
static void a_rinse_to_the_sewer_is_told_so(void **state)
{
    (void)state;
    struct told told;
    tell(&told, SETTINGS(BOTH_CALL, ONE_TANK, "/wash/rinse_to=sewer", "/wash/rinse_rate=3 m/h",
                         "/wash/rinse_time=6 min", "/horizon=24 h"));
    char *text = story_of(&told, 0);
    check_holds(text, "3.00 feed, to the sewer", "the step");
    check_holds(text,
                "50.00 m3 went to T1, which held 0 m3 before it and 50.00 m3 as it ended. 3.000 m3 of rinse water went "
                "to the sewer.",
                "the water");
    free(text);
    forget(&told);
}

/* Text and document say the same: all figures of the document's wash against those of the diary, and its sums. */
static void the_document_has_the_same_figures(void **state)
{
    (void)state;
    struct told told;
    struct wr_stories stories;
    char fault[256];
    tell(&told, SETTINGS(BOTH_CALL, ONE_TANK, "/horizon=24 h"));
    const struct wr_asked asked = {.filter = "F2", .wash = 1};
    check_true(wr_stories_choose(&stories, &told.teller, &asked, fault, sizeof fault), "there is a first wash of F2");
    const struct wr_subject subject = {.definition = &told.run.reading.definition};
    struct cJSON *d = wr_report_explain_document(&subject, &told.teller, &stories);
    static const struct {
        const char *pointer;
        double value;
    } figures[] = {{"/stories/0/called_s", 10 * HOUR},
                   {"/stories/0/started_s", 22 * HOUR + 40 * MINUTE},
                   {"/stories/0/ended_s", 22 * HOUR + 50 * MINUTE},
                   {"/stories/0/waited_s", 12 * HOUR + 40 * MINUTE},
                   {"/stories/0/wait/reasons/0/to_s", 10 * HOUR + 10 * MINUTE},
                   {"/stories/0/wait/reasons/1/to_s", 22 * HOUR + 40 * MINUTE},
                   {"/stories/0/wait/held_by/1/total_s", 12 * HOUR + 40 * MINUTE},
                   {"/stories/0/wait/tanks/1/to_s", 12 * HOUR + 10 * MINUTE},
                   {"/stories/0/wait/tanks/2/most_flow_m3_per_s", 4 / HOUR},
                   {"/stories/0/steps/0/wash_water_m3", 50},
                   {"/stories/0/water/spent_m3", 50},
                   {"/stories/0/water/tank_after_m3", 50},
                   {"/stories/0/meanwhile/highest_rate_m_per_s", 4 / HOUR},
                   {"/stories/0/bed/load_at_call_kg_per_m2", 0.4},
                   {"/stories/0/bed/load_kg_per_m2", 0.4 + 0.01 * (4.0 / 6 + 25)}};
    for (size_t i = 0; i < sizeof figures / sizeof *figures; i++)
        check(wr_json_number_of(wr_json_find(d, figures[i].pointer)), figures[i].value, 1e-5, figures[i].pointer);
    cJSON_Delete(d);
    forget(&told);
}

/* Over days, filters and washes the diary's sums are those of the ledger and of the record. */
static void days_add_up_to_the_run(void **state)
{
    (void)state;
    struct told told;
    double raw = 0, wash_water = 0, by_steps = 0, recycle = 0, waited = 0;
    size_t washes = 0;
    tell(&told, SETTINGS(BOTH_CALL, ONE_TANK, "/horizon=60 h"));
    for (size_t d = 0; d < told.diary.days.count; d++) {
        const struct wr_diary_day *day = wr_diary_day(&told.diary, d);
        raw += day->raw;
        recycle += day->recycle;
        wash_water += day->wash_water;
        waited += day->waited;
        washes += day->washes;
    }
    for (size_t w = 0; w < told.diary.washes.count; w++) {
        by_steps += wr_explain_sums(&told.diary, w).wash_water;
        waited -= wr_diary_wash(&told.diary, w)->waited;
    }
    check_count(told.diary.days.count, 3, "days of a run of 60 h");
    check(raw, plant_case_water(&told.run, WR_LINE_RAW), 1e-6, "raw water of all days, m3");
    check(recycle, plant_case_water(&told.run, WR_LINE_RECYCLE), 1e-6, "recycle of all days, m3");
    check(wash_water, plant_case_water(&told.run, WR_LINE_BACKWASH), 1e-6, "wash water of all days, m3");
    check(by_steps, plant_case_water(&told.run, WR_LINE_BACKWASH), 1e-6, "wash water of all steps, m3");
    check(waited, 0, 1e-6, "waits of all days less those of all washes, s");
    check_count(washes, told.run.run.record.wash_count, "washes of all days");
    forget(&told);
}

/* Every story of every wash, day and finding of a plant is told, and in numbers. */
static void tell_everything(struct told *told)
{
    const struct wr_finding *f = NULL;
    struct wr_page page = {0};
    for (size_t w = 0; w < told->diary.washes.count; w++) {
        check_reasons(told, wr_diary_wash(&told->diary, w));
        wr_explain_put_wash(&page, &told->teller, w);
    }
    for (size_t d = 0; d < told->diary.days.count; d++)
        wr_explain_put_day(&page, &told->teller, d);
    for (size_t i = 0; i < told->run.run.plant.filter_count; i++)
        wr_explain_put_filter(&page, &told->teller, i);
    while ((f = wr_record_finding(&told->run.run.record, f)) != NULL)
        wr_explain_put_finding(&page, &told->teller, f);
    char *text = wr_page_take(&page);
    check_true(strstr(text, "nan") == NULL && strstr(text, "(null)") == NULL && strstr(text, " inf") == NULL,
               "numbers and names throughout");
    free(text);
}

/* What tanks did fills the run without a gap, but for what is too short to tell. */
static void check_tanks(const struct told *told)
{
    const double end = wr_now(&told->run.run.simulation); /* a run may break off */
    for (size_t t = 0; t < told->run.run.plant.tank_count; t++) {
        struct wr_tank_part *parts;
        double told_of = 0;
        const size_t count = wr_explain_tank(&told->teller, t, 0, end, &parts);
        for (size_t p = 0; p < count; p++)
            told_of += parts[p].total;
        free(parts);
        double all = 0;
        for (size_t i = 0; i < told->diary.tanks.count; i++)
            if (wr_diary_tank(&told->diary, i)->tank == t)
                all += wr_diary_tank(&told->diary, i)->to - wr_diary_tank(&told->diary, i)->from;
        check_share(all, end, 1e-6, "all that a tank did, s: the whole run");
        check_true(told_of <= all * (1 + 1e-9), "what is told of it is part of that");
    }
}

/* Plants drawn at random, whose raw water over all days is that of the ledger. */
static void stories_of_random_plants(void **state)
{
    (void)state;
    for (uint64_t seed = 1; seed <= RANDOM_PLANTS; seed++) {
        struct told told = {0};
        double raw = 0;
        check_true(random_plant_read(&told.run.reading, seed), "the plant reads well");
        plant_case_run_with(&told.run, (struct wr_run_options){.keeps_lists = true, .diary = &told.diary});
        told.teller = (struct wr_teller){.run = &told.run.run, .diary = &told.diary, .units = WR_UNITS_US};
        tell_everything(&told);
        check_tanks(&told);
        for (size_t d = 0; d < told.diary.days.count; d++)
            raw += wr_diary_day(&told.diary, d)->raw;
        check_share(raw, plant_case_water(&told.run, WR_LINE_RAW), 1e-9, "raw water of all days, m3");
        forget(&told);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_wait_for_room_is_told_in_full),
        cmocka_unit_test(each_reason_has_its_sentence),
        cmocka_unit_test(what_held_an_outlet_has_its_figures),
        cmocka_unit_test(a_rinse_to_the_sewer_is_told_so),
        cmocka_unit_test(the_document_has_the_same_figures),
        cmocka_unit_test(days_add_up_to_the_run),
        cmocka_unit_test(stories_of_random_plants),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
