/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_REVIEW_REVIEW_H
#define WR_SIM_REVIEW_REVIEW_H

/* A scenario held against published guidance: rules of states, handbooks, surveys, each with its source.
 *
 * Rules differ by place and by kind of plant; each row says whose it is. A row that is not met makes no scenario
 * invalid: the local authority and a licensed engineer decide. Figures are those that follow from the scenario without
 * a run, the maximum day standing for what is asked. */

#include "sim/plant/plant.h"
#include "sim/scenario/quantity.h"

enum wr_review_state {
    WR_REVIEW_NOT_MET,
    WR_REVIEW_MET,
    WR_REVIEW_NOT_TOLD,       /* the rule speaks to this plant, and the scenario does not hold what it asks */
    WR_REVIEW_NOT_APPLICABLE, /* the rule is for another kind of plant */
    WR_REVIEW_STATES
};

/* Which ends of a published range are held against a scenario. */
enum wr_review_holds {
    WR_HOLDS_BOTH,
    WR_HOLDS_LEAST, /* more than the range is no fault */
    WR_HOLDS_MOST   /* less is none */
};

/* A row of guidance, the same for every scenario. Quantities are SI; a bound that there is none of is WR_ABSENT. */
struct wr_guidance {
    const char *key;   /* in documents: "greensand_rate" */
    const char *words; /* what is looked at: "approved rate of greensand filters" */
    enum wr_quantity quantity;
    double least, most; /* as published; a line of a scenario may have its own */
    enum wr_review_holds holds;
    const char *source; /* whose rule it is; says where it is quoted from memory */
    const char *plants; /* the kind of plant that it is for, to go on from "for" */
    const char *remark; /* what the source says besides; NULL for nothing */
    bool by_group;      /* a line for each group of filters, else one for the plant */
};

/* One row held against one scenario. */
struct wr_review_line {
    const struct wr_guidance *row;
    size_t group; /* of filters, where the row is by group */
    enum wr_review_state state;
    double found;       /* where it is met or not */
    double least, most; /* that `found` was held against, with what the row itself leaves to the scenario */
    const char *why;    /* why it does not apply, or what is not told; else NULL */
};

struct wr_review {
    struct wr_review_line *lines; /* in the order of the rows */
    size_t count;
    size_t in_state[WR_REVIEW_STATES];
};

/* Holds a plant against all rows; wr_review_fini frees what it holds. */
void wr_review_make(struct wr_review *review, const struct wr_plant *plant);
void wr_review_fini(struct wr_review *review);

/* The row of a place in the table; NULL after the last. */
const struct wr_guidance *wr_guidance_at(size_t place);

/* The key of a state: "not_met". */
const char *wr_review_state_key(enum wr_review_state state);

#endif
