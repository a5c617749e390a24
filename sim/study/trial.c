/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/trial.h"

#include "sim/study/largest.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* A firm run is long enough for any slow loss of storage to show. */
static const double FIRM_RUN = 365 * 86400.0;

/* Storage starts at the lowest off level of the wells, so that no full tank can flatter the answer. */
static double start_level(const struct wr_definition *d)
{
    double least = 1;
    for (size_t w = 0; w < d->wells.count; w++)
        least = fmin(least, d->wells.items[w].off_above);
    return least;
}

void wr_trial_init(struct wr_trial *trial, const struct wr_definition *definition, const char *unit_out)
{
    trial->definition = *definition;
    trial->definition.horizon = FIRM_RUN;
    trial->definition.storage.start_level = start_level(definition);
    trial->must_return = true;
    snprintf(trial->unit, sizeof trial->unit, "%s", unit_out != NULL ? unit_out : "");
    trial->out = (struct wr_outage){.unit = trial->unit, .from = 0, .until = WR_ABSENT};
    trial->definition.outages = (struct wr_outages){.items = &trial->out, .count = unit_out != NULL};
}

enum wr_status wr_trial_judge(struct wr_trial *trial, const struct wr_definition *definition, enum wr_verdict verdict)
{
    struct wr_plant plant;
    const enum wr_status status = wr_plant_init(&plant, definition);
    if (status != WR_OK)
        return status;
    if (verdict == WR_VERDICT_RUN)
        *trial = (struct wr_trial){.definition = *definition};
    else
        wr_trial_init(trial, definition, verdict == WR_VERDICT_FIRM ? plant.names[wr_largest_filter(&plant)] : NULL);
    wr_plant_fini(&plant);
    return WR_OK;
}

/* What held the tanks' outlets back, where room for spent wash ran short. */
static void look_at_outlets(struct wr_rung *rung, const struct wr_record *record)
{
    const struct wr_room *room = &record->room;
    if (rung->limit != WR_LIMIT_SPENT_WASH_ROOM)
        return;
    rung->outlet_limit = wr_room_held_most(room);
    rung->outlet_share = room->waited > 0 ? room->held / room->waited : 0;
    if (rung->outlet_limit == WR_LIMIT_NONE)
        rung->outlet_limit = record->findings[WR_FINDING_RECYCLE_HELD][WR_LIMITS].times > 0
                                 ? record->findings[WR_FINDING_RECYCLE_HELD][WR_LIMITS].limit
                                 : WR_LIMIT_NONE;
}

void wr_trial_try(const struct wr_trial *trial, struct wr_tried *tried)
{
    struct wr_run run;
    const struct wr_run_options options = {.stops_on_failure = true, .must_return = trial->must_return};
    wr_run_make(&run, &trial->definition, &options);
    *tried = (struct wr_tried){.end = run.end,
                               .rung = {.demand = trial->definition.demand.maximum_day,
                                        .passes = run.passes,
                                        .finding = WR_FINDINGS,
                                        .limit = WR_LIMIT_NONE,
                                        .where = WR_NOWHERE,
                                        .outlet_limit = WR_LIMIT_NONE}};
    memcpy(tried->message, run.message, sizeof tried->message);
    if (run.end == WR_RUN_WHOLE && run.record.failed) {
        tried->rung.finding = run.record.failed_kind;
        tried->rung.limit = run.record.failed_limit;
        tried->rung.where = run.record.failed_where;
        tried->rung.at = run.record.failed_at;
        look_at_outlets(&tried->rung, &run.record);
    }
    wr_run_fini(&run);
}
