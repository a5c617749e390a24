/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_HANDLES_H
#define WR_SIM_HANDLES_H

/* What stands behind the handles of the public header. */

#include "sim/report/explain.h"
#include "sim/report/report.h"
#include "sim/scenario/read.h"
#include "sim/study/compare.h"
#include "sim/study/firm.h"
#include "sim/study/growth.h"
#include "sim/study/margin.h"
#include "sim/study/rota.h"
#include "sim/study/run.h"
#include "sim/study/size.h"
#include "sim/study/sweep.h"
#include "sim/study/wash_beds.h"
#include "sim/washrota.h"

struct cJSON;

enum { WR_SHA256_DIGITS = 64 };

struct wr_scenario {
    struct wr_reading reading;
    char *text; /* with settings applied; NULL when it was not JSON */
    char sha256[WR_SHA256_DIGITS + 1];
    double wanted_expansion; /* of beds in a wash; 0 for the usual one */
    double whole_horizon;    /* s, as written, where runs end before; 0 where they do not */
    bool wants_whole_review; /* of checks */
    struct wr_work work;     /* of its studies */
};

/* What was asked. */
enum wr_question {
    WR_QUESTION_CHECK,
    WR_QUESTION_RUN,
    WR_QUESTION_FIRM,
    WR_QUESTION_COMPARE,
    WR_QUESTION_GROWTH,
    WR_QUESTION_EXPLAIN,
    WR_QUESTION_BED,
    WR_QUESTION_MARGIN,
    WR_QUESTION_SWEEP,
    WR_QUESTION_ROTA,
    WR_QUESTION_SIZE
};

struct wr_answer {
    enum wr_question question;
    const struct wr_scenario *scenario; /* borrowed */
    enum wr_outcome outcome;
    char message[WR_AXIS_FAULT];
    bool worked; /* one of these was made: */
    union {
        struct wr_plant plant;
        struct wr_run run;
        struct wr_firm firm; /* of growth too */
        struct wr_wash_beds beds;
        struct wr_margins margins;
        struct wr_sweep sweep;
        struct wr_comparison comparison;
        struct wr_rota_search rota;
        struct wr_size size;
    };
    struct wr_growth growth;
    struct wr_scenario **run_as; /* of a comparison: its scenarios under the demand of the first; owned */
    size_t run_as_count;
    bool has_series; /* of a run that was watched */
    struct wr_series series;
    struct wr_diary diary; /* of a run that is explained */
    struct wr_stories stories;
    struct wr_bytes state; /* of a run to be gone on with; owned */
    struct cJSON *document;
    const char **figures; /* of a sweep; owned */
    struct cJSON *asked;  /* of a study: what it was asked, for its run folder; NULL for nothing */
    struct cJSON *about;  /* of one asked again: the document that its words are of; owned */
    struct wr_scenario *further[WR_COMPARED_SCENARIOS]; /* and scenarios besides the first; owned */
};

/* The command that asks a question: "run". */
const char *wr_question_key(enum wr_question question);

/* What a report on a scenario is about. */
struct wr_subject wr_scenario_subject(const struct wr_scenario *scenario);

/* The workers for a study of a scenario, nothing done yet. */
struct wr_workers wr_scenario_workers(const struct wr_scenario *scenario);

/* An answer to be filled, or with its complaints already in. NULL without memory. */
struct wr_answer *wr_answer_begin(const struct wr_scenario *scenario, enum wr_question question);

/* Sets the outcome of a run or search by how it ended; one that was interrupted has answered as far as it went. */
void wr_answer_end(struct wr_answer *answer, enum wr_run_end end, const char *message, bool passes);

/* Units that a text is written in. */
enum wr_units wr_answer_units(const struct wr_answer *answer, enum wr_show show);

#endif
