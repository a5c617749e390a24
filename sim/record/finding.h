/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_RECORD_FINDING_H
#define WR_SIM_RECORD_FINDING_H

/* Findings: facts about a run that a reader should know, in one table. */

#include "sim/plant/limits.h"

#include <stdbool.h>
#include <stddef.h>

enum wr_finding_kind {
    WR_FINDING_UNMET_DEMAND,
    WR_FINDING_RESERVE_USED,
    WR_FINDING_HEAD_REACHED,
    WR_FINDING_NOT_KEEPING_PACE,
    WR_FINDING_NOT_RETURNING,
    WR_FINDING_PLANT_LOCKED,
    WR_FINDING_WASH_SHORT,
    WR_FINDING_SPENT_WASH_SPILLED,
    WR_FINDING_WASH_NOT_CLEAR,
    WR_FINDING_DECANT_SPOILED,
    WR_FINDING_APPROVED_RATE_EXCEEDED,
    WR_FINDING_FINISHED_WATER_OVERFLOWED,
    WR_FINDING_WASHES_WAITED,
    WR_FINDING_DEFERRED_BY_RULE,
    WR_FINDING_STORAGE_LOW,
    WR_FINDING_RINSE_SHORT,
    WR_FINDING_RECYCLE_HELD,
    WR_FINDING_WELL_STARTS,
    WR_FINDING_RATE_STEP,
    WR_FINDING_IDLE,
    WR_FINDING_CLEAN_HEAD_RISING,
    WR_FINDING_BACKSTOP_TOOK_OVER,
    WR_FINDING_DIFFERENTIAL_NEVER,
    WR_FINDINGS
};

enum wr_finding_class { WR_CLASS_APPROVAL, WR_CLASS_OPERATION, WR_CLASS_NOTE };

/* Unit of a finding's worst figure. */
enum wr_finding_unit {
    WR_UNIT_NONE,
    WR_UNIT_FLOW,
    WR_UNIT_VOLUME,
    WR_UNIT_SHARE,
    WR_UNIT_TIME,
    WR_UNIT_COUNT,
    WR_UNIT_RATE,
    WR_UNIT_HEAD,
    WR_UNIT_CONCENTRATION
};

struct wr_finding_row {
    const char *key;
    const char *words; /* a sentence's subject and verb: "demand was not met" */
    const char *worst; /* what the worst figure is */
    enum wr_finding_class class;
    enum wr_finding_unit unit;
    bool fails; /* a run in which it occurs fails */
};

/* All occurrences of a kind for one limit in a run. */
struct wr_finding {
    enum wr_finding_kind kind;
    enum wr_limit limit; /* the limit it is laid to; WR_LIMIT_NONE for none */
    size_t where;        /* filter, or WR_NOWHERE */
    double start;        /* s, of the first */
    double length;       /* s, of all together */
    size_t times;
    double worst; /* SI, in the row's unit */
};

/* Row of a kind. */
const struct wr_finding_row *wr_finding_row(enum wr_finding_kind kind);

/* Name of a class, as in results. */
const char *wr_finding_class_key(enum wr_finding_class class);

/* SI unit of a finding's worst figure as written in results: "m3/s", "m3", "1", "s" or "". */
const char *wr_finding_unit_text(enum wr_finding_unit unit);

#endif
