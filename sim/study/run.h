/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_RUN_H
#define WR_SIM_STUDY_RUN_H

/* One run of a plant from start to horizon, with its record and its books. */

#include "sim/record/diary.h"
#include "sim/record/record.h"
#include "sim/record/series.h"
#include "sim/study/resume.h"

enum wr_run_end {
    WR_RUN_WHOLE,      /* reached its horizon, or stopped at the first failure where that was asked */
    WR_RUN_BAD_RESUME, /* the saved run to go on from does not fit: see message */
    WR_RUN_BAD_PLANT,  /* a model could not be worked out: see status */
    WR_RUN_ENGINE,     /* an engine bound was passed: see message */
    WR_RUN_BOOKS_OPEN, /* the ledger does not close */
    WR_RUN_NO_MEMORY,
    WR_RUN_STOPPED /* a study that was interrupted before its end */
};

struct wr_run_options {
    bool keeps_lists;         /* washes and spans */
    bool stops_on_failure;    /* ends at the first failing finding: more time would not change the verdict */
    bool must_return;         /* storage must come back: a firm run */
    struct wr_observer also;  /* told of everything after the record; may be empty */
    struct wr_series *series; /* to be filled from its `from` to its `until`, which are set; NULL for none */
    struct wr_diary *diary;   /* to be kept too; NULL for none */
    /* Of a run in parts, without must_return, series and diary, which look at a whole run: */
    const struct wr_bytes *resume; /* a saved run to go on from; NULL: from the start */
    struct wr_bytes *save;         /* gets the run as it stands at the horizon, to be gone on with; NULL for none */
    struct wr_stamp stamp;         /* what both are of */
};

struct wr_run {
    enum wr_run_end end;
    enum wr_status status; /* of the plant's models */
    char message[512];     /* why it did not end well, for a reader */
    bool passes;           /* ended whole and without a failing finding */
    struct wr_plant plant;
    struct wr_simulation simulation;
    struct wr_record record;
    struct wr_balance books;
};

/* Runs a definition, which must have passed the reader's rules and outlive the run. Always leaves a run that
 * wr_run_fini takes; only after WR_RUN_WHOLE (or BOOKS_OPEN, ENGINE) are plant, simulation and record whole. */
void wr_run_make(struct wr_run *run, const struct wr_definition *definition, const struct wr_run_options *options);

void wr_run_fini(struct wr_run *run);

#endif
