/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_SWEEP_H
#define WR_SIM_STUDY_SWEEP_H

/* One question asked at many points: every combination of the values of some axes, or those in step. */

#include "sim/scenario/axis.h"
#include "sim/study/firm.h"
#include "sim/study/run.h"
#include "sim/study/workers.h"

enum { WR_SWEEP_MOST = 100000 };

/* What is asked at each point. */
enum wr_sweep_ask { WR_SWEEP_RUN, WR_SWEEP_FIRM };

/* One figure of an answer. */
enum wr_cell_kind { WR_CELL_NONE, WR_CELL_NUMBER, WR_CELL_WORD, WR_CELL_FLAG };

struct wr_cell {
    enum wr_cell_kind kind;
    double number;
    bool flag;
    char *word; /* owned */
};

struct wr_sweep_point {
    bool is_answered; /* else the scenario does not allow it: */
    char *refusal;    /* owned; NULL for a point that is answered */
    bool passes;
    struct wr_cell *cells; /* one for each figure; owned */
};

struct wr_sweep {
    enum wr_run_end end; /* WR_RUN_WHOLE, WR_RUN_STOPPED with what was done, or what went wrong */
    bool is_wrong;       /* the question was: see message */
    char message[WR_AXIS_FAULT];
    struct wr_axis *axes;
    size_t axis_count;
    bool in_step;
    enum wr_sweep_ask ask;
    const char *const *figures; /* JSON pointers into the answer; borrowed */
    size_t figure_count;
    struct wr_sweep_point *points; /* the last axis moves fastest */
    size_t total, first, count;    /* points in all, the first that was worked, and how many from it on are done */
};

struct wr_sweep_question {
    const char *name; /* of the scenario, for complaints */
    const struct wr_reading *reading;
    const char *const *axes; /* as wr_axis_read takes them */
    size_t axis_count;
    bool in_step; /* the axes move together and not crossed */
    enum wr_sweep_ask ask;
    const char *const *figures;
    size_t figure_count;
    size_t skip; /* points at the start that are left out */
};

/* What is made at a point. */
struct wr_sweep_made {
    const struct wr_definition *definition;
    const struct wr_run *run; /* or */
    const struct wr_firm *firm;
};

/* Works the points; `take` is told each that is answered, on the calling thread and in order, and fills in the point's
 * cells. Always leaves a sweep that wr_sweep_fini takes. */
void wr_sweep_make(struct wr_sweep *sweep, const struct wr_sweep_question *question,
                   void (*take)(const struct wr_sweep *sweep, struct wr_sweep_point *point,
                                const struct wr_sweep_made *made),
                   struct wr_workers *workers);

/* The value of an axis at a point. */
const char *wr_sweep_value(const struct wr_sweep *sweep, size_t point, size_t axis);

/* Its place among the values of the axis. */
size_t wr_sweep_place(const struct wr_sweep *sweep, size_t point, size_t axis);

void wr_sweep_fini(struct wr_sweep *sweep);

#endif
