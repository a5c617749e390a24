/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/sweep.h"

#include "sim/scenario/text.h"
#include "sim/study/variant.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Points read, worked and taken together: enough for every thread, few enough to be held at once. */
enum { BATCH_LEAST = 16, BATCH_PER_THREAD = 4 };

/* A point being worked. */
struct job {
    struct wr_variant variant;
    enum wr_sweep_ask ask;
    union {
        struct wr_run run;
        struct wr_firm firm;
    };
};

static void work(void *context, size_t item)
{
    struct job *job = &((struct job *)context)[item];
    const struct wr_definition *definition = &job->variant.reading.definition;
    if (!job->variant.is_allowed)
        return;
    if (job->ask == WR_SWEEP_RUN)
        wr_run_make(&job->run, definition, &(struct wr_run_options){.keeps_lists = true});
    else
        wr_firm_make(&job->firm, definition, NULL);
}

size_t wr_sweep_place(const struct wr_sweep *sweep, size_t point, size_t axis)
{
    if (sweep->in_step)
        return point;
    for (size_t a = sweep->axis_count; --a > axis;)
        point /= sweep->axes[a].count;
    return point % sweep->axes[axis].count;
}

const char *wr_sweep_value(const struct wr_sweep *sweep, size_t point, size_t axis)
{
    return sweep->axes[axis].values[wr_sweep_place(sweep, point, axis)];
}

static void read_point(const struct wr_sweep *sweep, const struct wr_base *base, size_t point, struct job *job)
{
    char **settings = wr_items_new(sweep->axis_count, sizeof *settings);
    for (size_t a = 0; a < sweep->axis_count; a++)
        settings[a] = wr_axis_setting(&sweep->axes[a], wr_sweep_value(sweep, point, a));
    wr_variant_read(&job->variant, base, (const char *const *)settings, sweep->axis_count);
    job->ask = sweep->ask;
    for (size_t a = 0; a < sweep->axis_count; a++)
        free(settings[a]);
    free(settings);
}

/* How a point came out, and why where there is no answer. */
static enum wr_run_end end_of(const struct job *job, const char **message)
{
    *message = job->ask == WR_SWEEP_RUN ? job->run.message : job->firm.message;
    return job->ask == WR_SWEEP_RUN ? job->run.end : job->firm.end;
}

static void refuse(struct wr_sweep_point *point, const struct job *job, const char *message)
{
    char words[400];
    if (message == NULL)
        wr_variant_refusal(&job->variant, "", words, sizeof words);
    point->refusal = wr_text_copy(message != NULL ? message : words);
}

static void take_job(struct wr_sweep *sweep, struct wr_sweep_point *point, struct job *job,
                     void (*take)(const struct wr_sweep *, struct wr_sweep_point *, const struct wr_sweep_made *))
{
    const char *message;
    point->cells = wr_items_new(sweep->figure_count, sizeof *point->cells);
    if (!job->variant.is_allowed) {
        refuse(point, job, NULL);
        return;
    }
    const enum wr_run_end end = end_of(job, &message);
    point->is_answered = end == WR_RUN_WHOLE;
    if (!point->is_answered)
        refuse(point, job, message);
    else {
        const bool is_run = sweep->ask == WR_SWEEP_RUN;
        point->passes = is_run ? job->run.passes : job->firm.passes;
        take(sweep, point,
             &(struct wr_sweep_made){.definition = &job->variant.reading.definition,
                                     .run = is_run ? &job->run : NULL,
                                     .firm = is_run ? NULL : &job->firm});
    }
}

static void end_job(struct job *job, bool was_worked)
{
    if (was_worked && job->variant.is_allowed && job->ask == WR_SWEEP_RUN)
        wr_run_fini(&job->run);
    if (was_worked && job->variant.is_allowed && job->ask == WR_SWEEP_FIRM)
        wr_firm_fini(&job->firm);
    wr_variant_fini(&job->variant);
}

static void work_all(struct wr_sweep *sweep, const struct wr_base *base, struct wr_workers *workers,
                     void (*take)(const struct wr_sweep *, struct wr_sweep_point *, const struct wr_sweep_made *))
{
    const size_t most = BATCH_LEAST + BATCH_PER_THREAD * wr_workers_threads(workers);
    struct job *jobs = wr_items_new(most, sizeof *jobs);
    for (size_t first = sweep->first; first < sweep->total && sweep->end == WR_RUN_WHOLE;) {
        const size_t count = sweep->total - first < most ? sweep->total - first : most;
        for (size_t j = 0; j < count; j++)
            read_point(sweep, base, first + j, &jobs[j]);
        const size_t done = wr_workers_each(workers, count, work, jobs);
        for (size_t j = 0; j < count; j++) {
            if (j < done)
                take_job(sweep, &sweep->points[first + j], &jobs[j], take);
            end_job(&jobs[j], j < done);
        }
        first += done;
        sweep->count += done;
        if (done < count) {
            sweep->end = WR_RUN_STOPPED;
            snprintf(sweep->message, sizeof sweep->message, "the sweep was interrupted");
        }
    }
    free(jobs);
}

/* The question -------------------------------------------------------------------------------------------------------
 */

static bool is_wrong(struct wr_sweep *sweep, const char *fault)
{
    sweep->is_wrong = true;
    sweep->end = WR_RUN_BAD_PLANT;
    snprintf(sweep->message, sizeof sweep->message, "%s", fault);
    return false;
}

static bool read_axis(struct wr_sweep *sweep, const struct wr_reading *reading, const char *text)
{
    struct wr_axis *axis = &sweep->axes[sweep->axis_count];
    char fault[WR_AXIS_FAULT];
    if (!wr_axis_read(axis, text, fault, sizeof fault))
        return is_wrong(sweep, fault);
    sweep->axis_count++;
    if (axis->is_range && axis->is_whole && axis->count == 0 && strchr(text, '=') != NULL)
        wr_axis_divide(axis, WR_AXIS_MOST);
    if (axis->count > 0 && wr_axis_is_known(axis, reading, fault, sizeof fault))
        return true;
    if (axis->count == 0)
        snprintf(fault, sizeof fault, "%s: say how many values, such as %s=1 mg/L to 5 mg/L in 9", axis->pointer,
                 axis->pointer);
    return is_wrong(sweep, fault);
}

static bool count_points(struct wr_sweep *sweep)
{
    char fault[200];
    sweep->total = 1;
    for (size_t a = 0; a < sweep->axis_count; a++) {
        if (sweep->in_step && sweep->axes[a].count != sweep->axes[0].count) {
            snprintf(fault, sizeof fault, "axes in step have as many values each: %s has %zu, %s has %zu",
                     sweep->axes[0].pointer, sweep->axes[0].count, sweep->axes[a].pointer, sweep->axes[a].count);
            return is_wrong(sweep, fault);
        }
        sweep->total = sweep->in_step ? sweep->axes[0].count : sweep->total * sweep->axes[a].count;
        if (sweep->total > WR_SWEEP_MOST) {
            snprintf(fault, sizeof fault, "these are more than %d points", WR_SWEEP_MOST);
            return is_wrong(sweep, fault);
        }
    }
    if (sweep->first < sweep->total)
        return true;
    snprintf(fault, sizeof fault, "all %zu points are skipped", sweep->total);
    return is_wrong(sweep, fault);
}

void wr_sweep_make(struct wr_sweep *sweep, const struct wr_sweep_question *question,
                   void (*take)(const struct wr_sweep *sweep, struct wr_sweep_point *point,
                                const struct wr_sweep_made *made),
                   struct wr_workers *workers)
{
    *sweep = (struct wr_sweep){.end = WR_RUN_WHOLE,
                               .axes = wr_items_new(question->axis_count, sizeof *sweep->axes),
                               .in_step = question->in_step,
                               .ask = question->ask,
                               .figures = question->figures,
                               .figure_count = question->figure_count,
                               .first = question->skip};
    bool good = question->axis_count > 0 || is_wrong(sweep, "a sweep wants an axis");
    for (size_t a = 0; good && a < question->axis_count; a++)
        good = read_axis(sweep, question->reading, question->axes[a]);
    if (!good || !count_points(sweep))
        return;
    char *text = wr_base_text(question->reading);
    sweep->points = wr_items_new(sweep->total, sizeof *sweep->points);
    if (workers != NULL)
        workers->expected = sweep->total - sweep->first;
    work_all(sweep, &(struct wr_base){question->name, text}, workers, take);
    free(text);
}

static void fini_point(const struct wr_sweep *sweep, struct wr_sweep_point *point)
{
    free(point->refusal);
    for (size_t f = 0; point->cells != NULL && f < sweep->figure_count; f++)
        free(point->cells[f].word);
    free(point->cells);
}

void wr_sweep_fini(struct wr_sweep *sweep)
{
    for (size_t p = 0; sweep->points != NULL && p < sweep->total; p++)
        fini_point(sweep, &sweep->points[p]);
    for (size_t a = 0; a < sweep->axis_count; a++)
        wr_axis_fini(&sweep->axes[a]);
    free(sweep->points);
    free(sweep->axes);
    *sweep = (struct wr_sweep){0};
}
