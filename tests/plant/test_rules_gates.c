/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a wash waits for by the rules of the whole plant: each reason alone and with every other, released to the
 * second.
 *
 * The rota calls F2 of six filters at 4 h. Where an earlier wash is to hold it, the rota calls F1 at 3 h, which starts
 * at once. How long each reason holds is set by one figure of the plant; the expected figures follow by adding up.
 *
 *     wash hours            they begin so long after the call
 *     time between starts   the rule, since F1's start
 *     filters in service    F3 and F4 are out so long and four others must serve
 *     storage lockout       storage rises so long to the lockout level
 *     plant stopped         no well is called until storage has fallen so far
 *     wash system           F1's wash lasts so long
 *     blower                out of service so long
 *     wash pump             out of service so long
 *     wash water            the tank lacks what so long a refill gives
 *     room                  the only tank is out of service so long
 *     attended hours        they begin so long after the call
 *
 * A filter is held for attended hours by a wash that was broken off: that of F2, which the rota calls at 0:10, whose
 * pump fails a minute later, before it has drawn anything. It is first in line from then on. Nobody overtakes it, so no
 * wash of F1 can be under way; and water that is short now would have been short then. */
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { GATES = 11, TEXT = 256 };

static const enum wr_limit limits[GATES] = {
    WR_LIMIT_WINDOW,          WR_LIMIT_TIME_BETWEEN_STARTS, WR_LIMIT_FILTERS_IN_SERVICE,
    WR_LIMIT_STORAGE_LOCKOUT, WR_LIMIT_PLANT_STOPPED,       WR_LIMIT_WASH_SYSTEM,
    WR_LIMIT_BLOWER,          WR_LIMIT_WASH_PUMP_OUT,       WR_LIMIT_WASH_WATER,
    WR_LIMIT_SPENT_WASH_ROOM, WR_LIMIT_ATTENDED_HOURS};

enum { WINDOW, GAP, IN_SERVICE, LOCKOUT, STOPPED, SYSTEM, BLOWER, PUMP, WATER, ROOM, ATTENDED };

static const double exact = 1e-6; /* s */
static const double call = 4 * HOUR;

/* Hours from midnight as a clock shows them. */
static void clock_of(double hours, char *text)
{
    snprintf(text, 32, "%02d:%02d", (int)hours, (int)lround(60 * (hours - floor(hours))));
}

static void add_outage_from(char *list, const char *unit, const char *from, const char *until)
{
    char entry[128];
    snprintf(entry, sizeof entry, "%s{\"unit\":\"%s\",\"from\":\"2026-01-05 %s\",\"until\":\"2026-01-05 %s\"}",
             list[0] != '\0' ? "," : "", unit, from, until);
    strncat(list, entry, 1000 - strlen(list));
}

static void add_outage(char *list, const char *unit, double hours)
{
    char until[32];
    clock_of(4 + hours, until);
    if (hours > 0)
        add_outage_from(list, unit, "03:30", until);
}

/* Storage of 1000 m3, 40 m3/h of raw water, less 2 m3/h that refill takes where water is short; demand 20 m3/h.
 *
 * Locked out: in the hour from 3 h on demand is 140 m3/h, so that storage stands lower at 4 h than at 3 h. It starts at
 * 400 m3, and the lockout level is where it stands so long after the call.
 *
 * Standing still: the well gives 30 m3/h. Storage rises from 800 m3 to its off level at 3.25 h and falls to its on
 * level so long after the call.
 */
static void storage_of(const double *hours, char *storage, char *well, char *lockout)
{
    const double rise = hours[WATER] > 0 ? 18 : 20;
    const double stopped = hours[STOPPED], off = 800 + 10 * 3.25;
    snprintf(storage, TEXT, "/storage={\"volume\":\"1000 m3\",\"start_level\":\"%d %%\"}", stopped > 0 ? 80 : 40);
    snprintf(well, TEXT,
             "/wells=[{\"name\":\"W1\",\"flow\":\"%d m3/h\",\"on_below\":\"%.17g %%\",\"off_above\":\"%.17g %%\"}]",
             stopped > 0 ? 30 : 40, stopped > 0 ? (off - 20 * (0.75 + stopped)) / 10 : 98, stopped > 0 ? off / 10 : 99);
    snprintf(lockout, TEXT, "/wash/storage_lockout=%.17g %%",
             hours[LOCKOUT] > 0 ? (400 + rise * (4 + hours[LOCKOUT]) - 120) / 10 : 0);
}

static const char *demand_of(const double *hours)
{
    return hours[LOCKOUT] > 0 ? "/demand={\"maximum_day\":\"600 m3/d\",\"hourly_factors\":[1,1,1,7,1,1,1,1,1,1,1,1,1,1,"
                                "1,1,1,1,1,1,1,1,1,1]}"
                              : "/demand/maximum_day=480 m3/d";
}

/* Calls come from a rota, so that they do not depend on flows: F1 at 3 h where its wash is to hold F2, else never. */
static void run_gates(struct plant_case *c, const double *hours)
{
    char wash[2 * TEXT], rota[TEXT], window[TEXT], from[32], gap[TEXT], many[TEXT], least[TEXT], settle[TEXT];
    char storage[TEXT], well[TEXT], lockout[TEXT], outages[1100] = "", all[1200], water[TEXT], stopped[TEXT],
                                                   attended[TEXT];
    const bool held = hours[ATTENDED] > 0, first = !held && (hours[GAP] > 0 || hours[SYSTEM] > 0);
    /* F1 starts at 3 h: it takes the gap 1 h longer to pass, and its wash 1 h longer to end. */
    const double wash_hours = hours[SYSTEM] > 0 ? 1 + hours[SYSTEM] : 0.5;
    snprintf(wash, sizeof wash,
             "/wash={\"triggers\":{\"run_hours\":\"300 h\"},\"template\":\"pressure_air\",\"drain_depth\":\"1 m\","
             "\"drain_time\":\"2 min\",\"air_time\":\"3 min\",\"fill_rate\":\"60 m/h\",\"backwash_rate\":\"30 m/h\","
             "\"backwash_time\":\"8 min\",\"ramp_time\":\"0 min\",\"rinse_time\":\"0 min\",\"valve_travel\":\"0 min\","
             "\"blowers\":3}");
    snprintf(settle, sizeof settle, "/wash/bed_settle=%.17g min", wash_hours * 60 - 14);
    clock_of(4 + hours[WINDOW], from);
    snprintf(window, sizeof window,
             "/wash/window=[{\"from\":\"00:00\",\"until\":\"%s\"},{\"from\":\"%s\",\"until\":\"23:00\"}]",
             hours[WINDOW] > 0 ? "03:30" : "23:00", from);
    snprintf(rota, sizeof rota, "/wash/rota=[%s{\"filter\":\"F2\",\"first\":\"2026-01-05 %s\"}]",
             first ? "{\"filter\":\"F1\",\"first\":\"2026-01-05 03:00\"}," : "", held ? "00:10" : "04:00");
    snprintf(gap, sizeof gap, "/wash/min_between_starts=%.17g h",
             hours[GAP] <= 0 ? 0 : hours[GAP] + (held ? 4 - 1 / 6.0 : 1));
    snprintf(many, sizeof many, "/wash/max_simultaneous=%d", hours[SYSTEM] > 0 ? 1 : 2);
    snprintf(least, sizeof least, "/wash/min_filters_in_service=%d", hours[IN_SERVICE] > 0 ? 4 : 0);
    storage_of(hours, storage, well, lockout);
    add_outage(outages, "F3", hours[IN_SERVICE]);
    add_outage(outages, "F4", hours[IN_SERVICE]);
    add_outage(outages, "blower", hours[BLOWER]);
    add_outage(outages, "wash pump", hours[PUMP]);
    if (held)
        add_outage_from(outages, "wash pump", "00:11", "00:12");
    clock_of(4 + hours[ATTENDED], from);
    snprintf(attended, sizeof attended, "/wash/attended=[%s%s%s]", held ? "{\"from\":\"" : "", held ? from : "",
             held ? "\",\"until\":\"24:00\"}" : "");
    add_outage(outages, "T1", hours[ROOM]);
    snprintf(all, sizeof all, "/outages=[%s]", outages);
    const double level = (first ? 100 : 50) - 2 * (4 + hours[WATER]);
    snprintf(water, sizeof water,
             "/wash_water={\"tank\":{\"volume\":\"500 m3\",\"start_level\":\"%.17g %%\",\"refill_rate\":\"2 m3/h\","
             "\"refill_on_below\":\"%s\"}}",
             hours[WATER] > 0 ? level / 5 : 100, hours[WATER] > 0 ? "100 %" : "10 %");
    snprintf(stopped, sizeof stopped, "/wash/when_plant_stopped=%s", hours[STOPPED] > 0 ? "wait" : "start_well");
    plant_case_run(c, PLANT_PLAIN,
                   SETTINGS(wash, rota, window, gap, many, least, settle, storage, well, lockout, all, water, stopped,
                            demand_of(hours), attended, "/wash/on_interrupt=hold", "/filters/0/count=6",
                            "/spent_wash={\"tanks\":[{\"name\":\"T1\",\"volume\":\"500 m3\"}],\"settling\":{\"law\":"
                            "\"none\"},\"outlets\":[{\"kind\":\"sewer\",\"rate\":\"1 m3/h\"}]}",
                            "/horizon=20 h"));
}

static void check_gates(const double *hours)
{
    struct plant_case c;
    double longest = 0, before = 0;
    run_gates(&c, hours);
    for (int g = 0; g < GATES; g++)
        longest = fmax(longest, hours[g]);
    for (int g = 0; g < GATES; g++) {
        const struct wr_span *span = plant_case_span(&c, limits[g], 1, 0);
        const struct wr_tally *tally = &plant_case_state(&c)->start_up[limits[g]];
        double others = 0;
        for (int h = 0; h < GATES; h++)
            others = h == g ? others : fmax(others, hours[h]);
        check_true((span != NULL) == (hours[g] > 0), wr_limit_row(limits[g])->key);
        check(tally->total, hours[g] * HOUR, exact, wr_limit_row(limits[g])->key);
        check(tally->first, fmax(0, hours[g] - before) * HOUR, exact,
              "time as the first reason, s: order of the gates");
        check(tally->alone, fmax(0, hours[g] - others) * HOUR, exact, "time as the only reason, s");
        before = fmax(before, hours[g]);
        if (span == NULL)
            continue;
        check(span->from, call, exact, "begin of a reason's span, s: the call");
        check(span->to, call + hours[g] * HOUR, exact, "release of a reason, s");
        check_true(plant_case_span(&c, limits[g], 1, 1) == NULL, "each reason holds once");
    }
    check(plant_case_wash(&c, 1, 0)->called_at, call, 0, "call, s: by the rota");
    check_count(plant_case_wash(&c, 1, 0)->trigger, WR_TRIGGER_ROTA, "what called");
    check(plant_case_wash(&c, 1, 0)->started_at, call + longest * HOUR, exact, "start, s: at the last release");
    plant_case_fini(&c);
}

/* The filter that is held, first for the minute in which its pump stands: when each reason ends, and when the wash
 * starts that it is in line for. */
static void check_held(const double *hours)
{
    struct plant_case c;
    double longest = 0;
    run_gates(&c, hours);
    for (int g = 0; g < GATES; g++) {
        const struct wr_span *span = plant_case_span(&c, limits[g], 1, g == PUMP);
        longest = fmax(longest, hours[g]);
        check_true((span != NULL) == (hours[g] > 0), wr_limit_row(limits[g])->key);
        if (span != NULL)
            check(span->to, call + hours[g] * HOUR, exact, "release of a reason, s");
    }
    check_count(plant_case_wash(&c, 1, 1)->trigger, WR_TRIGGER_INTERRUPTED, "what called");
    check(plant_case_wash(&c, 1, 1)->called_at, 11 * MINUTE, exact, "call, s: as the pump fails");
    check(plant_case_wash(&c, 1, 1)->started_at, call + longest * HOUR, exact, "start, s: at the last release");
    plant_case_fini(&c);
}

static void attended_hours_with_each_other(void **state)
{
    (void)state;
    static const double attended[] = {1, 1.75, 4.5};
    for (size_t a = 0; a < sizeof attended / sizeof *attended; a++)
        for (int g = 0; g < GATES; g++) {
            double hours[GATES] = {0};
            if (g == SYSTEM || g == WATER)
                continue;
            hours[g] = 1.75;
            hours[ATTENDED] = attended[a];
            check_held(hours);
        }
}

static void each_reason_alone(void **state)
{
    (void)state;
    for (int g = 0; g < ATTENDED; g++) {
        double hours[GATES] = {0};
        hours[g] = 3.25;
        check_gates(hours);
    }
}

/* A plant that stands still neither refills the tank nor raises storage. */
static bool go_together(int a, int b)
{
    return a != b && !(a == STOPPED && (b == WATER || b == LOCKOUT)) && !(b == STOPPED && (a == WATER || a == LOCKOUT));
}

/* Of different lengths, and of one length: two that open at one instant. */
static void each_pair_either_way_round(void **state)
{
    (void)state;
    for (int a = 0; a < ATTENDED; a++)
        for (int b = 0; b < ATTENDED; b++) {
            double hours[GATES] = {0};
            if (!go_together(a, b))
                continue;
            hours[a] = 1.75;
            hours[b] = 4.5;
            check_gates(hours);
            hours[b] = 1.75;
            check_gates(hours);
        }
}

static void no_reason_no_wait(void **state)
{
    (void)state;
    check_gates((const double[GATES]){0});
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_reason_no_wait),
        cmocka_unit_test(each_reason_alone),
        cmocka_unit_test(each_pair_either_way_round),
        cmocka_unit_test(attended_hours_with_each_other),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
