/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_TRIAL_H
#define WR_SIM_STUDY_TRIAL_H

/* One question to a plant with a yes or no for an answer: does it pass? */

#include "sim/study/run.h"

/* By which run a plant is judged. */
enum wr_verdict {
    WR_VERDICT_FIRM,   /* its maximum day every day of a year, the largest filter out: what `firm` asks of a demand */
    WR_VERDICT_ALL_IN, /* the same with nothing out */
    WR_VERDICT_RUN,    /* the scenario's own run: its horizon, outages and start */
    WR_VERDICTS
};

/* One demand tried. */
struct wr_rung {
    double demand; /* m3/s, mean of the day */
    bool passes;
    bool low_flow; /* fails though demand is met, reserve and approved rate are kept, and a higher one passes */
    enum wr_finding_kind finding; /* the first that failed; WR_FINDINGS where it passes */
    enum wr_limit limit;          /* the limit it is laid to */
    size_t where;                 /* filter, or WR_NOWHERE */
    double at;                    /* s, start of that finding */
    /* Where it is laid to room for spent wash: what held the tanks' outlets back most, and for which share of the
     * time that washes waited for room; a share of 0 where it did so in other hours alone. */
    enum wr_limit outlet_limit;
    double outlet_share;
};

/* What is run: a definition with outages and start replaced as the verdict wants it. It points into itself: fill it
 * where it shall stay. */
struct wr_trial {
    struct wr_definition definition;
    struct wr_outage out;
    char unit[64];
    bool must_return; /* storage must come back */
};

/* What came of it. */
struct wr_tried {
    struct wr_rung rung;
    enum wr_run_end end; /* WR_RUN_WHOLE, or what went wrong */
    char message[512];
};

/* A firm run: a year that starts with storage at the lowest off level of the wells, with one unit out, or NULL. The
 * definition is borrowed. */
void wr_trial_init(struct wr_trial *trial, const struct wr_definition *definition, const char *unit_out);

/* The trial of a verdict. Returns WR_OK, or why the plant's models cannot be worked out. */
enum wr_status wr_trial_judge(struct wr_trial *trial, const struct wr_definition *definition, enum wr_verdict verdict);

/* Runs it up to its first failing finding. */
void wr_trial_try(const struct wr_trial *trial, struct wr_tried *tried);

#endif
