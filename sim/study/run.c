/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/run.h"

#include <assert.h>
#include <stdio.h>

static void end_badly(struct wr_run *run, enum wr_run_end end, const char *message)
{
    run->end = end;
    snprintf(run->message, sizeof run->message, "%s", message);
}

/* Told of everything in the place of the record, which it tells first. */
struct relay {
    struct wr_run *run;
    struct wr_observer record, also;
    bool stops_on_failure;
    struct wr_series *series;
    struct wr_diary *diary;
};

static void relay_event(void *context, const struct wr_simulation *sim, const struct wr_event *event)
{
    struct relay *relay = context;
    relay->record.event(relay->record.context, sim, event);
    if (relay->also.event != NULL)
        relay->also.event(relay->also.context, sim, event);
    if (relay->diary != NULL)
        wr_diary_event(relay->diary, sim, event);
}

static void relay_instant(void *context, const struct wr_simulation *sim)
{
    struct relay *relay = context;
    relay->record.instant(relay->record.context, sim);
    if (relay->also.instant != NULL)
        relay->also.instant(relay->also.context, sim);
    if (relay->series != NULL)
        wr_series_instant(relay->series, sim);
    if (relay->diary != NULL)
        wr_diary_instant(relay->diary, sim);
    relay->run->simulation.stop = relay->stops_on_failure && relay->run->record.failed;
}

/* True where nobody is told but the record, and nothing hangs on what it finds: it may then listen for itself. */
static bool only_record_listens(const struct relay *relay)
{
    return relay->also.event == NULL && relay->also.instant == NULL && !relay->stops_on_failure &&
           relay->series == NULL && relay->diary == NULL;
}

/* Sets a run that has been opened to where it was saved; false where it cannot go on from there. */
static bool go_back_to(struct wr_run *run, const struct wr_run_options *options, double horizon)
{
    char fault[256];
    if (options->resume == NULL ||
        wr_resume_load(&run->simulation, &run->record, &options->stamp, options->resume, horizon, fault, sizeof fault))
        return true;
    end_badly(run, WR_RUN_BAD_RESUME, fault);
    return false;
}

/* A run that broke off is not saved: it must not be gone on with. */
static void save(struct wr_run *run, const struct wr_run_options *options)
{
    if (options->save != NULL && run->end == WR_RUN_WHOLE && !run->record.out_of_memory &&
        !wr_resume_save(&run->simulation, &run->record, &options->stamp, options->save))
        end_badly(run, WR_RUN_NO_MEMORY, "there is not enough memory to save the run");
}

static void run_on(struct wr_run *run, const struct wr_definition *definition, const struct wr_run_options *options)
{
    struct relay relay = {.run = run,
                          .record = wr_record_observer(&run->record),
                          .also = options->also,
                          .stops_on_failure = options->stops_on_failure,
                          .series = options->series,
                          .diary = options->diary};
    wr_record_open(&run->record, &run->simulation);
    if (options->diary != NULL && !wr_diary_open(options->diary, &run->simulation, &run->record)) {
        end_badly(run, WR_RUN_NO_MEMORY, "there is not enough memory for the diary of the run");
        return;
    }
    if (!go_back_to(run, options, definition->horizon))
        return;
    run->simulation.observer =
        only_record_listens(&relay)
            ? relay.record
            : (struct wr_observer){.context = &relay, .event = relay_event, .instant = relay_instant};
    const enum wr_engine_status status = wr_simulation_run(&run->simulation, definition->horizon);
    if (status != WR_ENGINE_OK) {
        run->end = WR_RUN_ENGINE;
        wr_simulation_explain(&run->simulation, status, run->message, sizeof run->message);
    }
    save(run, options);
    wr_simulation_end(&run->simulation);
    if (options->series != NULL)
        wr_series_close(options->series, &run->simulation);
    if (options->diary != NULL)
        wr_diary_close(options->diary, &run->simulation);
    wr_record_close(&run->record, &run->simulation);
    run->simulation.observer = (struct wr_observer){0};
    run->books = wr_ledger_close(&run->plant, run->simulation.state, run->record.opening);
    const bool list_broke = (options->series != NULL && options->series->out_of_memory) ||
                            (options->diary != NULL && options->diary->out_of_memory);
    if (run->end == WR_RUN_WHOLE && (run->record.out_of_memory || list_broke))
        end_badly(run, WR_RUN_NO_MEMORY, "there is not enough memory for the lists of washes and spans");
    if (run->end == WR_RUN_WHOLE && !run->books.closes) {
        run->end = WR_RUN_BOOKS_OPEN;
        snprintf(run->message, sizeof run->message,
                 "the books do not close: water is off by %.3g and solids by %.3g of throughput",
                 run->books.water_error_share, run->books.solids_error_share);
    }
    run->passes = run->end == WR_RUN_WHOLE && !run->record.failed;
}

void wr_run_make(struct wr_run *run, const struct wr_definition *definition, const struct wr_run_options *options)
{
    assert((options->resume == NULL && options->save == NULL) ||
           (!options->must_return && options->series == NULL && options->diary == NULL));
    *run = (struct wr_run){.end = WR_RUN_WHOLE};
    run->status = wr_plant_init(&run->plant, definition);
    if (run->status != WR_OK) {
        end_badly(run, run->status == WR_NO_MEMORY ? WR_RUN_NO_MEMORY : WR_RUN_BAD_PLANT, wr_status_text(run->status));
        return;
    }
    if (!wr_simulation_init(&run->simulation, &run->plant, NULL) ||
        !wr_record_init(&run->record, &run->plant, definition->horizon)) {
        end_badly(run, WR_RUN_NO_MEMORY, "there is not enough memory for the plant's state");
        return;
    }
    run->record.keeps_lists = options->keeps_lists;
    run->record.must_return = options->must_return;
    if (options->series != NULL && !wr_series_open(options->series, &run->simulation)) {
        end_badly(run, WR_RUN_NO_MEMORY, "there is not enough memory for what pictures show");
        return;
    }
    run_on(run, definition, options);
}

void wr_run_fini(struct wr_run *run)
{
    wr_record_fini(&run->record);
    wr_simulation_fini(&run->simulation);
    wr_plant_fini(&run->plant);
}
