/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/wells.h"

#include "sim/plant/start_rinse.h"

static struct wr_well_state *well_at(const struct wr_simulation *sim, size_t well)
{
    return &wr_state_wells(sim->plant, sim->state)[well];
}

void wr_wells_start(const struct wr_plant *plant, struct wr_state *state)
{
    struct wr_well_state *wells = wr_state_wells(plant, state);
    for (size_t w = 0; w < plant->well_count; w++)
        wells[w].started = wells[w].stopped = -WR_NEVER;
}

/* True while time alone cannot have moved a well: none has a least run or rest, and nothing has happened to any. */
static bool wells_stand(const struct wr_simulation *sim)
{
    return sim->state->wells_share.stands && !sim->plant->has_well_times;
}

void wr_wells_settle(struct wr_simulation *sim)
{
    if (wells_stand(sim))
        return;
    for (size_t w = 0; w < sim->plant->well_count; w++) {
        const struct wr_well *well = &sim->plant->definition->wells.items[w];
        struct wr_well_state *state = well_at(sim, w);
        const bool rests = !state->running && wr_now(sim) < state->stopped + well->minimum_rest;
        const bool must_run_on = state->running && wr_now(sim) < state->started + well->minimum_run;
        const bool wanted = !state->out && (state->called ? !rests : must_run_on);
        if (rests != state->rests || wanted != state->wanted)
            sim->state->wells_share.stands = false;
        state->rests = rests;
        state->wanted = wanted;
    }
    if (!sim->state->wells_share.stands)
        wr_state_again(sim->state, WR_AGAIN_FLOWS);
}

void wr_wells_found_running(struct wr_simulation *sim)
{
    for (size_t w = 0; w < sim->plant->well_count; w++)
        well_at(sim, w)->starts = 0;
    sim->state->well_starts = 0;
    wr_start_rinse_arm(sim, false);
}

void wr_wells_arm(struct wr_simulation *sim)
{
    if (wells_stand(sim))
        return;
    bool ran = false, run = false;
    for (size_t w = 0; w < sim->plant->well_count; w++) {
        const struct wr_well *well = &sim->plant->definition->wells.items[w];
        struct wr_well_state *state = well_at(sim, w);
        ran = ran || state->running;
        run = run || state->runs;
        if (state->runs && !state->running) {
            state->started = wr_now(sim);
            state->starts++;
            sim->state->well_starts++;
        }
        const bool stops = !state->runs && state->running;
        if (stops)
            state->stopped = wr_now(sim);
        state->running = state->runs;
        /* Its rest begins in a further round, so that what holds it is told now and not at some later instant. */
        double time = stops && well->minimum_rest > 0 ? wr_now(sim) : WR_NEVER;
        /* A rinse, or a wash with raw water, may wait for one that is not called. */
        if (!state->out && state->rests && (state->called || sim->state->washing > 0))
            time = state->stopped + well->minimum_rest;
        if (!state->called && state->wanted)
            time = state->started + well->minimum_run;
        wr_timers_set(&sim->timers, sim->plant->timers.wells + w, time);
    }
    sim->state->wells_share.stands = true;
    wr_start_rinse_arm(sim, !ran && run);
}
