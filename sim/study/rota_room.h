/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_ROTA_ROOM_H
#define WR_SIM_STUDY_ROTA_ROOM_H

/* How much room one candidate leaves. For rota_tries.c alone. */

#include "sim/study/rota.h"
#include "sim/study/variant.h"

/* A candidate being worked: its scenario from each start. */
struct wr_rota_job {
    struct wr_rota_try *candidate;
    struct wr_variant variants[WR_ROTA_STARTS];
    size_t starts;
    bool with_firm;
    enum wr_run_end end;
    char message[512];
};

/* Runs a job from each of its starts; an item of wr_workers_each, of which `context` is the list of jobs. */
void wr_rota_work(void *context, size_t item);

#endif
