/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/compare.h"

#include "sim/study/growth.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* A change of a smaller share of the filter firm capacity is none to speak of. */
static const double LEAST_MOVE = 0.01;

/* Making ---------------------------------------------------------------------------------------------------------- */

/* Keeps how a firm search or run ended, where none before it went wrong. */
static void take_end(struct wr_comparison *comparison, const struct wr_compared *item, enum wr_run_end end,
                     const char *message)
{
    if (end == WR_RUN_WHOLE || comparison->end != WR_RUN_WHOLE)
        return;
    comparison->end = end;
    snprintf(comparison->message, sizeof comparison->message, "%.100s: %.400s", item->name, message);
}

/* Each plant is worked by one thread. */
static void make_item(void *context, size_t number)
{
    struct wr_compared *item = &((struct wr_comparison *)context)->items[number];
    wr_firm_make(&item->firm, item->definition, NULL);
    wr_run_make(&item->run, item->definition, &(struct wr_run_options){.keeps_lists = true});
}

void wr_comparison_make(struct wr_comparison *comparison, struct wr_workers *workers)
{
    comparison->end = WR_RUN_WHOLE;
    if (workers != NULL)
        workers->expected = comparison->count;
    comparison->made = wr_workers_each(workers, comparison->count, make_item, comparison);
    for (size_t i = 0; i < comparison->made; i++) {
        const struct wr_compared *item = &comparison->items[i];
        take_end(comparison, item, item->firm.end, item->firm.message);
        take_end(comparison, item, item->run.end, item->run.message);
    }
    if (comparison->made < comparison->count && comparison->end == WR_RUN_WHOLE) {
        comparison->end = WR_RUN_STOPPED;
        snprintf(comparison->message, sizeof comparison->message, "the comparison was interrupted");
    }
    comparison->passes = comparison->end == WR_RUN_WHOLE;
    for (size_t i = 1; i < comparison->count && comparison->passes; i++)
        comparison->passes = !wr_comparison_against(comparison, i).is_worse;
}

void wr_comparison_fini(struct wr_comparison *comparison)
{
    for (size_t i = 0; i < comparison->count; i++) {
        if (i < comparison->made) {
            wr_firm_fini(&comparison->items[i].firm);
            wr_run_fini(&comparison->items[i].run);
        }
        wr_differences_fini(&comparison->items[i].changes);
    }
    free(comparison->items);
    *comparison = (struct wr_comparison){0};
}

/* Against the first ----------------------------------------------------------------------------------------------- */

static void note_findings(const struct wr_run *run, bool kinds[WR_FINDINGS])
{
    const struct wr_finding *f = NULL;
    while ((f = wr_record_finding(&run->record, f)) != NULL)
        kinds[f->kind] = true;
}

static void compare_findings(struct wr_against *against, const struct wr_run *first, const struct wr_run *run)
{
    bool before[WR_FINDINGS] = {false}, after[WR_FINDINGS] = {false};
    note_findings(first, before);
    note_findings(run, after);
    for (int k = 0; k < WR_FINDINGS; k++) {
        against->new_finding[k] = after[k] && !before[k];
        against->gone_finding[k] = before[k] && !after[k];
        against->fails_anew |= against->new_finding[k] && wr_record_fails(&run->record, (enum wr_finding_kind)k);
    }
}

double wr_comparison_lasts(const struct wr_comparison *comparison, size_t number, double capacity)
{
    const double today = comparison->items[number].firm.maximum_day;
    if (!(capacity > today))
        return 0;
    return wr_growth_years(today, capacity, comparison->growth);
}

struct wr_against wr_comparison_against(const struct wr_comparison *comparison, size_t number)
{
    const struct wr_compared *item = &comparison->items[number], *first = &comparison->items[0];
    const double before = first->firm.one_out.firm, after = item->firm.one_out.firm;
    const double least = LEAST_MOVE * fmax(before, after);
    struct wr_against against = {.filter_firm = after - before,
                                 .plant_firm = item->firm.plant_firm - first->firm.plant_firm,
                                 .nameplate = item->firm.nameplate - first->firm.nameplate,
                                 .years = WR_ABSENT,
                                 .plant_years = WR_ABSENT};
    against.filter_firm_moves = fabs(against.filter_firm) > least;
    against.plant_firm_moves = fabs(against.plant_firm) > least;
    compare_findings(&against, &first->run, &item->run);
    against.is_worse = (against.filter_firm_moves && against.filter_firm < 0) ||
                       (against.plant_firm_moves && against.plant_firm < 0) || against.fails_anew;
    if (wr_is_given(comparison->growth)) {
        against.years = wr_comparison_lasts(comparison, number, after) - wr_comparison_lasts(comparison, 0, before);
        against.plant_years = wr_comparison_lasts(comparison, number, item->firm.plant_firm) -
                              wr_comparison_lasts(comparison, 0, first->firm.plant_firm);
    }
    return against;
}
