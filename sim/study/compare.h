/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_COMPARE_H
#define WR_SIM_STUDY_COMPARE_H

/* Several plants beside the first of them: firm capacities, and a run of each under the same demand. */

#include "sim/scenario/difference.h"
#include "sim/study/firm.h"

/* More would not fit a page. */
enum { WR_COMPARED_MOST = 6 };

/* One of the plants. */
struct wr_compared {
    const char *name;                       /* as it was asked for: a file or a variant */
    const char *text;                       /* the scenario as it was run */
    const char *sha256;                     /* of that text */
    const struct wr_definition *definition; /* as it was run */
    struct wr_differences changes;          /* from the first, as both are written; empty for the first itself */
    struct wr_firm firm;
    struct wr_run run; /* the scenario's own: its horizon, outages and start */
};

struct wr_comparison {
    struct wr_compared *items; /* `count` of them, names, definitions and changes filled in; owned */
    size_t count;
    bool same_weather; /* all were run under the start, horizon, seed and demand of the first */
    double growth;     /* of demand, share a year; WR_ABSENT */
    size_t made;       /* of items, whose firm and run are there */
    enum wr_run_end end;
    char message[512];
    bool passes; /* none is worse than the first */
};

/* What one plant promises against the first. */
struct wr_against {
    double filter_firm, plant_firm, nameplate; /* m3/s more than the first's */
    bool filter_firm_moves, plant_firm_moves;  /* by enough to speak of: 1 % of the greater filter firm capacity */
    bool new_finding[WR_FINDINGS], gone_finding[WR_FINDINGS]; /* of the runs */
    bool fails_anew;                                          /* some new finding fails the run */
    bool is_worse;      /* a firm capacity falls by enough to speak of, or it fails anew */
    double years;       /* later that growth brings the maximum day to the filter firm capacity, counted from the start
                           and not from before it; WR_ABSENT without growth */
    double plant_years; /* the same of the plant firm capacity */
};

/* Works out what items lack, by workers, or NULL. */
void wr_comparison_make(struct wr_comparison *comparison, struct wr_workers *workers);

/* Item `number`, at least 1, against item 0. */
struct wr_against wr_comparison_against(const struct wr_comparison *comparison, size_t number);

/* Years from the start until the maximum day of a plant grows to a capacity, m3/s; 0 where it is there already. */
double wr_comparison_lasts(const struct wr_comparison *comparison, size_t number, double capacity);

/* Frees what was made, changes included, and items. */
void wr_comparison_fini(struct wr_comparison *comparison);

#endif
