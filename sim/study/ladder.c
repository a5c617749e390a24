/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/ladder.h"

#include <assert.h>
#include <string.h>

/* Width of the final bracket, as a share of its upper end. */
static const double BRACKET = 1e-5;

struct wr_rung wr_search_try(struct wr_search *search, struct wr_trial *trial, double demand)
{
    struct wr_tried tried;
    trial->definition.demand.maximum_day = demand;
    wr_trial_try(trial, &tried);
    search->runs++;
    if (tried.end != WR_RUN_WHOLE && search->end == WR_RUN_WHOLE) {
        search->end = tried.end;
        memcpy(search->message, tried.message, sizeof search->message);
    }
    return tried.rung;
}

/* True when what failed first was water, or the rate it may pass the filters at, and not the washing. */
static bool fell_short(const struct wr_rung *rung)
{
    return rung->finding == WR_FINDING_UNMET_DEMAND || rung->finding == WR_FINDING_RESERVE_USED ||
           rung->finding == WR_FINDING_NOT_RETURNING || rung->finding == WR_FINDING_APPROVED_RATE_EXCEEDED;
}

/* Puts a rung where its demand belongs. */
static void add_rung(struct wr_search *search, const struct wr_rung *rung)
{
    assert(search->rungs < WR_RUNGS_TRIED);
    size_t place = search->rungs++;
    for (; place > 0 && search->ladder[place - 1].demand > rung->demand; place--)
        search->ladder[place] = search->ladder[place - 1];
    search->ladder[place] = *rung;
}

/* Marks low-flow failures: until then demand was met and reserve and approved rate were kept, and a higher rung passes.
 * Finds whether pass and fail make a staircase. */
static void read_ladder(struct wr_search *search)
{
    bool passes_above = false;
    search->monotone = true;
    for (size_t r = search->rungs; r-- > 0;) {
        struct wr_rung *rung = &search->ladder[r];
        rung->low_flow = !rung->passes && passes_above && !fell_short(rung);
        search->monotone = search->monotone && (rung->passes || !passes_above);
        passes_above = passes_above || rung->passes;
    }
}

static void climb(struct wr_search *search, struct wr_trial *trial, double top)
{
    for (size_t r = 0; r < WR_RUNGS && search->end == WR_RUN_WHOLE; r++) {
        const struct wr_rung rung = wr_search_try(search, trial, top * (double)(r + 1) / WR_RUNGS);
        add_rung(search, &rung);
    }
    read_ladder(search);
}

/* The rungs between which the firm capacity lies: the highest pass below the first capacity failure, and the rung above
 * it. Without a pass it starts from no demand at all. */
static void bracket(struct wr_search *search)
{
    size_t failure = 0;
    while (failure < search->rungs && (search->ladder[failure].passes || search->ladder[failure].low_flow))
        failure++;
    size_t pass = failure;
    while (pass > 0 && !search->ladder[pass - 1].passes)
        pass--;
    search->ever_failed = pass < search->rungs;
    search->pass = pass > 0 ? search->ladder[pass - 1].demand : 0;
    search->fail = search->ever_failed ? search->ladder[pass].demand : search->pass;
    if (search->ever_failed)
        search->failing = search->ladder[pass];
}

static void refine(struct wr_search *search, struct wr_trial *trial)
{
    while (search->end == WR_RUN_WHOLE && search->fail - search->pass > BRACKET * search->fail) {
        const double middle = (search->pass + search->fail) / 2;
        const struct wr_rung rung = wr_search_try(search, trial, middle);
        if (rung.passes)
            search->pass = middle;
        else {
            search->fail = middle;
            search->failing = rung;
        }
        if (search->fail < 1e-9 * search->ladder[search->rungs - 1].demand)
            break; /* nothing passes: firm is 0 */
    }
    search->firm = search->pass;
}

/* Tries the last step of the ladder below what was found again, twenty times closer, from below and up to the first
 * capacity failure. True when there is one: the answer lies below it. */
static bool finds_failure_below(struct wr_search *search, struct wr_trial *trial, double step)
{
    const struct wr_rung found = {.demand = search->firm,
                                  .passes = true,
                                  .finding = WR_FINDINGS,
                                  .limit = WR_LIMIT_NONE,
                                  .where = WR_NOWHERE,
                                  .outlet_limit = WR_LIMIT_NONE};
    bool fails = false;
    add_rung(search, &found);
    for (size_t r = WR_RUNGS; r > 0 && !fails && search->end == WR_RUN_WHOLE; r--) {
        const double demand = found.demand - step * (double)r / (WR_RUNGS + 1);
        if (demand <= 0)
            continue;
        const struct wr_rung rung = wr_search_try(search, trial, demand);
        fails = !rung.passes && fell_short(&rung);
        add_rung(search, &rung);
    }
    read_ladder(search);
    return fails && search->end == WR_RUN_WHOLE;
}

void wr_search_make(struct wr_search *search, const struct wr_definition *definition, const char *unit_out, double top)
{
    *search =
        (struct wr_search){.end = WR_RUN_WHOLE,
                           .monotone = true,
                           .failing = {.finding = WR_FINDINGS, .limit = WR_LIMIT_NONE, .outlet_limit = WR_LIMIT_NONE}};
    if (top <= 0) {
        search->ever_failed = true;
        search->failing.limit = WR_LIMIT_NO_FILTER_IN_SERVICE;
        search->failing.finding = WR_FINDING_UNMET_DEMAND;
        search->failing.where = WR_NOWHERE;
        return;
    }
    struct wr_trial trial;
    wr_trial_init(&trial, definition, unit_out);
    climb(search, &trial, top);
    if (search->end != WR_RUN_WHOLE)
        return;
    const double step = search->ladder[0].demand;
    bracket(search);
    refine(search, &trial);
    for (int round = 0; round < WR_ROUNDS && search->ever_failed && search->pass > 0; round++) {
        if (!finds_failure_below(search, &trial, step))
            break;
        bracket(search);
        refine(search, &trial);
    }
}
