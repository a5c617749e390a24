/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_SUPPORT_PLANT_CASE_H
#define WR_TESTS_SUPPORT_PLANT_CASE_H

/* A whole run for a test: a scenario with settings applied, the run, and every event it told, in order.
 *
 *     struct plant_case c;
 *     plant_case_run(&c, PLANT_PLAIN, SETTINGS("/filters/0/count=3", "/horizon=2 d"));
 *     check(plant_case_time(&c, WR_EVENT_CALLED, 0, 0), 10 * HOUR, 1e-6, "...");
 *     plant_case_fini(&c);
 */

#include "sim/scenario/read.h"
#include "sim/study/run.h"

#include <glob.h>
#include <stddef.h>

/* A plant of round figures in which nothing is short; tests set what they are about. Described in the file. */
#define PLANT_PLAIN WR_ROOT "/tests/plant/plain.json"

/* Settings as the program takes them; at least one. */
#define SETTINGS(...)                                                                                                  \
    (const char *const[])                                                                                              \
    {                                                                                                                  \
        __VA_ARGS__, NULL                                                                                              \
    }

#define MINUTE 60.0
#define HOUR 3600.0
#define DAY 86400.0

enum { PLANT_SAMPLE_TANKS = 3 };

/* How a plant stood when an instant was closed: the flows hold until the next. */
struct plant_sample {
    double time;
    struct wr_flows flows;
    double storage, wash_level, wash_free; /* m3 */
    struct {
        enum wr_tank_mode mode;
        double level, free;
    } tanks[PLANT_SAMPLE_TANKS]; /* the first few */
};

/* What was told, in order. */
struct plant_told {
    struct wr_event *events;
    size_t event_count, event_room;
    struct plant_sample *samples; /* the start, then one an instant */
    size_t sample_count, sample_room;
};

struct plant_case {
    struct wr_reading reading;
    struct wr_run run; /* where plant_case_run made it */
    bool has_run;
    struct plant_told told;
};

/* The ready plants of scenarios/, whose folder also holds their schema. */
struct plant_files {
    glob_t found;
    const char *paths[64];
    size_t count;
};

/* Finds them all; fails the test when there is none. plant_files_fini frees the list. */
void plant_files_find(struct plant_files *files);
void plant_files_fini(struct plant_files *files);

/* Reads a scenario with settings (ended by NULL; NULL for none). Fails the test with the complaints of a bad one. */
void plant_case_read(struct plant_case *c, const char *path, const char *const *settings);

/* Reads a scenario and runs it to its horizon, lists kept. Fails the test unless it ends whole, with
 * no span of no length. */
void plant_case_run(struct plant_case *c, const char *path, const char *const *settings);

/* Runs what was read, options and all; `also` is taken for what is told. */
void plant_case_run_with(struct plant_case *c, struct wr_run_options options);

void plant_case_fini(struct plant_case *c);

/* An observer that adds to what was told, which plant_told_fini frees. */
struct wr_observer plant_told_observer(struct plant_told *told);
void plant_told_fini(struct plant_told *told);

/* The sample whose flows hold at a time, s: that of the last instant at or before it. */
const struct plant_sample *plant_case_at(const struct plant_case *c, double time);

/* Time, s, of the nth event (from 0) of a kind at a filter or tank, WR_NEVER where there is none. */
double plant_case_time(const struct plant_case *c, enum wr_event_kind kind, size_t where, size_t nth);

/* How many events of a kind there were at a filter or tank. */
size_t plant_case_count(const struct plant_case *c, enum wr_event_kind kind, size_t where);

/* The nth wash (from 0) of a filter; fails the test where there is none. */
const struct wr_wash_record *plant_case_wash(const struct plant_case *c, size_t filter, size_t nth);

/* The nth span (from 0) of a limit at a filter, or WR_NOWHERE; NULL where there is none. */
const struct wr_span *plant_case_span(const struct plant_case *c, enum wr_limit limit, size_t where, size_t nth);

/* Length, s, of all spans of a limit, wherever. */
double plant_case_held(const struct plant_case *c, enum wr_limit limit);

/* A finding of the run, all limits together counted; NULL where there is none. */
const struct wr_finding *plant_case_finding(const struct plant_case *c, enum wr_finding_kind kind);

/* Water, m3, of a kind of line, all tanks together. */
double plant_case_water(const struct plant_case *c, enum wr_line kind);

/* The state at the end of the run. */
const struct wr_state *plant_case_state(const struct plant_case *c);

/* The one filter's state at the end of the run. */
const struct wr_filter *plant_case_filter(const struct plant_case *c, size_t filter);

#endif
