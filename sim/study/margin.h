/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_MARGIN_H
#define WR_SIM_STUDY_MARGIN_H

/* How bad may a number of a scenario get before the plant no longer passes?
 *
 * As the search for firm capacity, on any number: a ladder from its value up and one down, then the gap in which the
 * verdict changes is halved. Each value is written into the scenario and read again, so that limits and rules of the
 * reader hold and bound the search. */

#include "sim/scenario/axis.h"
#include "sim/study/trial.h"
#include "sim/study/workers.h"

enum { WR_MARGIN_RUNGS = 20, WR_MAP_COLUMNS = 25, WR_MAP_ROWS = 21, WR_REFUSAL = 256 };

/* One value tried. */
struct wr_mark_tried {
    double value; /* in the figure's unit */
    bool passes;
    struct wr_rung rung;
};

/* What was found above the value, or below it. */
struct wr_margin_side {
    struct wr_mark_tried ladder[WR_MARGIN_RUNGS]; /* outwards */
    size_t rungs;
    bool changes;             /* the verdict does, within the ladder */
    double near, far;         /* where: the last value with the verdict of now, and the first with the other */
    struct wr_rung failing;   /* at the one of these that fails */
    size_t returns;           /* further changes beyond, rung to rung: pass and fail alternate */
    bool is_bound;            /* the scenario allows no value beyond the last rung */
    char refusal[WR_REFUSAL]; /* what is allowed, in the reader's words */
};

struct wr_margin {
    char *pointer;
    struct wr_figure figure;
    struct wr_mark_tried now;
    struct wr_margin_side up, down;
    double nearest; /* the way to the nearer change, as a share of the value; WR_NEVER where none was found */
};

/* Which of two numbers together pass: columns of the first, rows of the second. */
struct wr_margin_map {
    double x[WR_MAP_COLUMNS], y[WR_MAP_ROWS];       /* in their units */
    signed char state[WR_MAP_COLUMNS][WR_MAP_ROWS]; /* 1 passes, 0 fails, -1 the scenario does not allow */
    enum wr_limit limit[WR_MAP_COLUMNS][WR_MAP_ROWS];
    size_t columns, rows;
    struct wr_map_point {
        double x, y;
        enum wr_limit limit; /* on the failing side */
    } * boundary;
    size_t point_count;
};

/* What is asked. */
struct wr_margin_question {
    const char *name;                 /* of the scenario, for complaints */
    const struct wr_reading *reading; /* settings applied */
    const char *const *of;            /* "POINTER" or "POINTER=LEAST to MOST" each */
    size_t count;
    enum wr_verdict verdict;
    bool map; /* of the two given */
};

struct wr_margins {
    enum wr_run_end end; /* WR_RUN_WHOLE, WR_RUN_STOPPED with what was done, or what went wrong */
    bool is_wrong;       /* the question was: see message */
    char message[WR_AXIS_FAULT];
    enum wr_verdict verdict;
    struct wr_margin *items; /* as asked */
    size_t count;            /* done */
    size_t asked;
    size_t *ranked; /* the nearest to its limit first */
    bool passes;    /* as it stands */
    bool has_map;
    struct wr_margin_map map;
    size_t runs;
    struct wr_plant plant; /* as described, for names */
    bool has_plant;
};

/* Always leaves margins that wr_margins_fini takes. */
void wr_margins_make(struct wr_margins *margins, const struct wr_margin_question *question, struct wr_workers *workers);

void wr_margins_fini(struct wr_margins *margins);

#endif
