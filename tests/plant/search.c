/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/plant/search.h"

#include "sim/study/run.h"
#include "tests/support/check.h"

#include <math.h>
#include <stdint.h>

/* One demand tried by hand: a year of it, storage starting at the lowest off level of the wells, a unit out or NULL. */
bool search_by_hand(const struct wr_definition *definition, double demand, const char *unit_out)
{
    struct wr_run run;
    struct wr_definition d = *definition;
    struct wr_outage out = {.unit = (char *)(uintptr_t)unit_out, .from = 0, .until = WR_ABSENT};
    d.demand.maximum_day = demand;
    d.horizon = 365 * 86400.0;
    d.storage.start_level = 1;
    for (size_t w = 0; w < d.wells.count; w++)
        d.storage.start_level = fmin(d.storage.start_level, d.wells.items[w].off_above);
    d.outages = (struct wr_outages){.items = &out, .count = unit_out != NULL};
    wr_run_make(&run, &d, &(struct wr_run_options){.must_return = true});
    check_count(run.end, WR_RUN_WHOLE, "end of the run");
    const bool answer = run.passes;
    wr_run_fini(&run);
    return answer;
}

/* Reads a ladder again, from the words of docs/answers.md, and tries both ends of the bracket. */
void check_search_of(const struct wr_search *s, const struct wr_definition *definition, const char *unit_out)
{
    size_t first_capacity_failure = s->rungs, highest_pass = 0;
    bool staircase = true;
    size_t even = 0;
    check_true(s->rungs >= WR_RUNGS && s->rungs <= WR_RUNGS_TRIED, "rungs");
    const double step = s->ladder[s->rungs - 1].demand / WR_RUNGS;
    for (size_t r = 0; r < s->rungs; r++) {
        const struct wr_rung *rung = &s->ladder[r];
        bool higher_passes = false;
        for (size_t h = r + 1; h < s->rungs; h++)
            higher_passes = higher_passes || s->ladder[h].passes;
        even += fabs(rung->demand / step - round(rung->demand / step)) < 1e-9;
        check_true(r == 0 || rung->demand >= s->ladder[r - 1].demand, "rungs by rising demand");
        check_true(rung->passes == (rung->finding == WR_FINDINGS), "a rung that fails says by what finding");
        if (!rung->passes)
            check_true(wr_finding_row(rung->finding)->fails || definition->fails_if.count > 0,
                       "a finding that fails a run");
        const bool by_washing = !rung->passes && rung->finding != WR_FINDING_UNMET_DEMAND &&
                                rung->finding != WR_FINDING_RESERVE_USED && rung->finding != WR_FINDING_NOT_RETURNING &&
                                rung->finding != WR_FINDING_APPROVED_RATE_EXCEEDED;
        check_true(rung->low_flow == (by_washing && higher_passes),
                   "low-flow failures: the washing failed first, and a "
                   "higher rung passes");
        staircase = staircase && (rung->passes || !higher_passes);
        if (!rung->passes && !rung->low_flow && first_capacity_failure == s->rungs)
            first_capacity_failure = r;
    }
    check_true(even >= WR_RUNGS, "even steps among them");
    for (size_t r = 0; r < first_capacity_failure; r++)
        if (s->ladder[r].passes)
            highest_pass = r + 1;
    check_true(s->monotone == staircase, "whether passes stand below failures throughout");
    check_between(s->firm, highest_pass > 0 ? s->ladder[highest_pass - 1].demand : 0, s->ladder[highest_pass].demand,
                  "firm capacity, m3/s: between the highest pass below the first capacity failure and the next rung");
    check(s->firm, s->pass, 0, "firm capacity, m3/s: the lower end of the bracket");
    check_between((s->fail - s->pass) / s->fail, 0, 1e-5, "width of the bracket, share");
    check_true(search_by_hand(definition, s->pass, unit_out), "the lower end passes when it is run by hand");
    check_true(!search_by_hand(definition, s->fail, unit_out), "the upper end fails when it is run by hand");
}
