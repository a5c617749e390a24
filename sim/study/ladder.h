/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_LADDER_H
#define WR_SIM_STUDY_LADDER_H

/* The search for the greatest demand that a plant delivers: a ladder of demands, the gap halved in which the answer
 * lies, and the stretch just below it tried once more, for pass and fail need not be a staircase. */

#include "sim/study/trial.h"

/* Even steps at first; then rounds of closer ones below what was found. */
enum { WR_RUNGS = 20, WR_ROUNDS = 5, WR_RUNGS_TRIED = WR_RUNGS + WR_ROUNDS * (WR_RUNGS + 1) };

/* A search for one set of units out. */
struct wr_search {
    double firm;                           /* m3/s: the highest demand found to pass below the first capacity failure */
    double pass, fail;                     /* m3/s: bracket; both 0 where no filter is left */
    struct wr_rung failing;                /* at the upper end of the bracket: the limiting factor */
    struct wr_rung ladder[WR_RUNGS_TRIED]; /* by rising demand: what was tried, but for the halving */
    size_t rungs;
    bool monotone;       /* passes below failures throughout the ladder */
    bool ever_failed;    /* false: everything tried passes, firm is what was tried highest */
    size_t runs;         /* simulations made */
    enum wr_run_end end; /* WR_RUN_WHOLE, or what went wrong in a run */
    char message[512];
};

/* Searches a definition with one unit out, named, or with all in for NULL. The top of the ladder is a demand in m3/s
 * that no plant like it passes; at 0 or less no filter is left, and the answer is 0 without a run. */
void wr_search_make(struct wr_search *search, const struct wr_definition *definition, const char *unit_out, double top);

/* Runs a trial with one demand, in m3/s, up to its first failing finding, and counts it. */
struct wr_rung wr_search_try(struct wr_search *search, struct wr_trial *trial, double demand);

#endif
