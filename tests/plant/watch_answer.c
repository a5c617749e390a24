/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The answer's figures of what came back, against what a watch has seen of the same run. */
#include "tests/plant/watch_part.h"

#include "sim/report/json.h"
#include "sim/report/report.h"

#include <cjson/cJSON.h>

/* A figure of a block; NaN where the answer has none. */
static double figure(const cJSON *block, const char *key)
{
    return wr_json_number_of(cJSON_GetObjectItemCaseSensitive(block, key));
}

/* A share of what there was; none where there was nothing. */
static void watch_share(struct sight at, double share, double part, double all, const char *what)
{
    hold(at, wr_is_given(share) == (all > 0.0), what, share, all);
    hold(at, !wr_is_given(share) || (share >= 0.0 && share <= 1.0 + WATCH_TINY), what, share, 1.0);
    if (all > 0.0)
        hold_near(at, share, part / all, WATCH_TINY, what);
}

static void watch_document(struct sight at, const cJSON *document)
{
    const cJSON *spent = cJSON_GetObjectItemCaseSensitive(document, "spent_wash");
    const cJSON *recovery = cJSON_GetObjectItemCaseSensitive(spent, "recovery");
    const double start = tanks_held_at_start(at), came = at.watch->came, recycled = at.watch->recycled;
    const double slack = WATCH_TINY * (start + came);
    hold_near(at, figure(recovery, "held_at_start_m3"), start, slack, "the answer's water held at the start");
    hold_near(at, figure(recovery, "received_by_tanks_m3"), came, slack, "the answer's water into the tanks");
    hold_near(at, figure(recovery, "recycled_m3"), recycled, slack, "the answer's recycled water");
    hold_near(at, figure(spent, "recycled_m3"), recycled, slack, "the answer's recycled water");
    watch_share(at, figure(recovery, "recovered_share"), recycled, start + came, "the answer's share of the tanks");
    watch_share(at, figure(spent, "recovered_share"), recycled, start + figure(spent, "received_m3"),
                "the answer's share of all spent wash");
}

void watch_answer(struct watch *watch, const struct wr_definition *definition)
{
    struct wr_run run;
    const struct wr_run_options options = {.keeps_lists = true};
    const struct wr_subject subject = {.definition = definition};
    wr_run_make(&run, definition, &options);
    struct sight at = {.watch = watch, .sim = &run.simulation, .plant = &run.plant, .definition = definition};
    hold(at, run.end == WR_RUN_WHOLE, "a run that ends whole", run.end, WR_RUN_WHOLE);
    if (run.end == WR_RUN_WHOLE) {
        at.state = run.simulation.state;
        at.now = definition->horizon;
        cJSON *document = wr_report_run_document(&subject, &run);
        watch_document(at, document);
        cJSON_Delete(document);
    }
    wr_run_fini(&run);
}
