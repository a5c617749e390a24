/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_ROTA_H
#define WR_SIM_STUDY_ROTA_H

/* Which rota leaves most room? Settings of the washes are searched within bounds that the caller gives, and each
 * candidate is run from several starts, so that none is chosen for the luck of its first beds or of the day it begins.
 *
 * A bound is an axis: a place of the scenario with a range or a list of values. Two bounds are no places: "every" and
 * "first" make a dated rota, in which each filter is washed every so often, the filters evenly spread over that time
 * and the first of them so long after the start of the run. */

#include "sim/scenario/axis.h"
#include "sim/study/firm.h"
#include "sim/study/run.h"
#include "sim/study/workers.h"

enum { WR_ROTA_BEST = 3, WR_ROTA_STARTS = 4, WR_ROTA_AXES = 12, WR_ROTA_TRIES = 10000 };

/* How much room a rota leaves; the worst over the starts. */
struct wr_rota_room {
    /* Starts from which something happens that fails a run. That washing does not keep pace is not among it: waits
     * tell that, and a rule that makes filters wait for itself and not for a resource is no gain. */
    size_t fails;
    size_t slow;          /* starts from which washing does not keep pace; not compared */
    double longest_wait;  /* s, of one wash for any reason, its rules among them; the filters' first washes apart */
    double mean_wait;     /* s a wash */
    double start_up_wait; /* s, before the first washes, over all filters */
    double reserve_used;  /* share of the load between call and available head that was gathered in one wait */
    double wash_water;    /* least share of what holds the wash water that was neither drawn nor promised */
    double tank_room;     /* share of the time in which a spent-wash tank had room for a whole wash */
    double washes;        /* a day */
    double firm;          /* m3/s, filter firm capacity; absent where it was not searched */
};

/* One candidate. */
struct wr_rota_try {
    bool is_allowed;             /* by the scenario */
    double values[WR_ROTA_AXES]; /* of each axis: a number of its range, or the place in its list */
    struct wr_rota_room room;
    double unavoidable; /* s a wash that must be waited with its triggers, whatever the order; see below */
    enum wr_limit unavoidable_by;
    enum wr_limit firm_limit; /* what limits its firm capacity */
};

struct wr_rota_search {
    enum wr_run_end end;
    bool is_wrong;
    char message[WR_AXIS_FAULT];
    struct wr_axis axes[WR_ROTA_AXES];
    bool smooth[WR_ROTA_AXES]; /* a range that is refined between its levels */
    size_t axis_count;
    bool for_firm;             /* the firm capacity comes first */
    size_t starts;             /* that candidates are run from, the scenario's own first */
    struct wr_rota_try today;  /* the scenario as it stands */
    struct wr_rota_try *tries; /* in the order in which they were made */
    size_t count, grid, most;  /* tried; points of the grid; tries that were allowed for */
    bool whole_grid;           /* every point of the grid was tried; else some at random */
    size_t best[WR_ROTA_BEST]; /* places in tries, the best first */
    size_t best_count;
    char refusal[400]; /* why the scenario does not allow the first that it does not; "" where it allows all */
    /* Waiting that no candidate could avoid, s a wash: each filter calls when its run is over, and a resource that
     * serves the filters in turn takes longer for a round than that. The least over the candidates. */
    double unavoidable;
    enum wr_limit unavoidable_by;
};

struct wr_rota_question {
    const char *name; /* of the scenario, for complaints */
    const struct wr_reading *reading;
    const char *const *bounds;
    size_t bound_count;
    size_t tries; /* at most; 0: the usual number */
    bool for_firm;
};

/* Searches. Always leaves a rota that wr_rota_fini takes. */
void wr_rota_make(struct wr_rota_search *rota, const struct wr_rota_question *question, struct wr_workers *workers);

/* Below 0 where room a is more than room b, above 0 where less, 0 where they are alike; `which` is then told the first
 * measure by which they differ, from 0 in the order of struct wr_rota_room, slow left out. */
enum {
    WR_ROTA_FAILS,
    WR_ROTA_LONGEST,
    WR_ROTA_MEAN,
    WR_ROTA_START_UP,
    WR_ROTA_RESERVE,
    WR_ROTA_WATER,
    WR_ROTA_TANK,
    WR_ROTA_WASHES,
    WR_ROTA_FIRM,
    WR_ROTA_ALIKE
};
int wr_rota_compare(const struct wr_rota_room *a, const struct wr_rota_room *b, bool for_firm, int *which);

/* The settings of a candidate, one for each of its axes or for the dated rota that they make, to be typed in; the
 * caller frees each. Returns how many. */
size_t wr_rota_settings(const struct wr_rota_search *rota, const struct wr_rota_try *candidate,
                        const struct wr_definition *definition, char *settings[WR_ROTA_AXES]);

void wr_rota_fini(struct wr_rota_search *rota);

#endif
