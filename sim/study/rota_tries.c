/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Candidates are worked side by side, each from all starts. */
#include "sim/scenario/text.h"
#include "sim/study/rota_hunt.h"
#include "sim/study/rota_room.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void read_job(struct wr_rota_hunt *hunt, struct wr_rota_job *job)
{
    struct wr_rota_search *rota = hunt->rota;
    const bool is_today = job->candidate == &rota->today;
    job->starts = rota->starts;
    job->end = WR_RUN_WHOLE;
    job->candidate->is_allowed = true;
    for (size_t s = 0; s < rota->starts; s++) {
        char *settings[2 * WR_ROTA_AXES];
        size_t count = 0;
        while (count < WR_ROTA_AXES && hunt->starts[s][count] != NULL) {
            settings[count] = hunt->starts[s][count];
            count++;
        }
        const size_t own =
            is_today ? 0
                     : wr_rota_settings_from(rota, job->candidate, hunt->definition, hunt->shift[s], &settings[count]);
        wr_variant_read(&job->variants[s], &hunt->base, (const char *const *)settings, count + own);
        if (!job->variants[s].is_allowed) {
            job->candidate->is_allowed = false;
            if (rota->refusal[0] == '\0')
                wr_variant_refusal(&job->variants[s], "", hunt->rota->refusal, sizeof hunt->rota->refusal);
        }
        for (size_t i = 0; i < own; i++)
            free(settings[count + i]);
    }
}

static void end_jobs(struct wr_rota_hunt *hunt, struct wr_rota_job *jobs, size_t count)
{
    struct wr_rota_search *rota = hunt->rota;
    for (size_t j = 0; j < count; j++) {
        if (jobs[j].end != WR_RUN_WHOLE && rota->end == WR_RUN_WHOLE) {
            rota->end = jobs[j].end;
            snprintf(rota->message, sizeof rota->message, "%s", jobs[j].message);
        }
        for (size_t s = 0; s < jobs[j].starts; s++)
            wr_variant_fini(&jobs[j].variants[s]);
    }
}

bool wr_rota_tries_work(struct wr_rota_hunt *hunt, struct wr_rota_try **candidates, size_t count, bool with_firm,
                        size_t *done)
{
    struct wr_rota_search *rota = hunt->rota;
    const size_t most = 8 * wr_workers_threads(hunt->workers);
    struct wr_rota_job *jobs = wr_items_new(most, sizeof *jobs);
    for (*done = 0; *done < count && rota->end == WR_RUN_WHOLE;) {
        const size_t here = count - *done < most ? count - *done : most;
        memset(jobs, 0, most * sizeof *jobs);
        for (size_t j = 0; j < here; j++) {
            jobs[j].candidate = candidates[*done + j];
            jobs[j].with_firm = with_firm;
            read_job(hunt, &jobs[j]);
        }
        const size_t worked = wr_workers_each(hunt->workers, here, wr_rota_work, jobs);
        end_jobs(hunt, jobs, here);
        *done += worked;
        if (worked < here && rota->end == WR_RUN_WHOLE) {
            rota->end = WR_RUN_STOPPED;
            snprintf(rota->message, sizeof rota->message, "the search was interrupted");
        }
    }
    free(jobs);
    return rota->end == WR_RUN_WHOLE;
}
