/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/plant/twin.h"

#include "tests/plant/twin_state.h"

#include <stdlib.h>

static void advance(struct twin *twin)
{
    if (twin->mixing) {
        twin_mix_feed(twin);
    }
    if (twin->raw > 0.0 || twin->washing + twin->rinsing > 0) {
        twin_advance_beds(twin);
    }
    twin_advance_stocks(twin);
    twin_advance_tanks(twin);
}

/* Looks at everything once, in the order of the rules. False when memory runs out. */
static bool look(struct twin *twin)
{
    twin_look_at_clock(twin);
    twin_look_at_steps(twin);
    twin_look_at_levels(twin);
    twin_look_at_tanks(twin);
    twin_look_at_beds(twin);
    twin_look_at_rota(twin);
    twin->changed = twin->changed || twin->now >= twin->next_well;
    return twin_decide(twin);
}

/* Shares flows out, and once more where the plant has just started and its filters rinse. */
static bool share(struct twin *twin)
{
    if (!twin->changed) {
        return true;
    }
    twin->changed = false;
    twin_share(twin);
    if (twin->starts && twin->result->steps > 0 && twin->definition->wash.rinse_at_start > 0.0) {
        twin->again = true;
        twin_look_at_tanks(twin);
        twin_begin_rinses(twin);
        if (!twin_decide(twin)) {
            return false;
        }
        twin->again = false;
        twin->changed = false;
        twin_share(twin);
    }
    return true;
}

static bool is_too_large(const struct wr_plant *plant)
{
    return plant->filter_count > TWIN_FILTERS || plant->well_count > TWIN_WELLS || plant->tank_count > TWIN_TANKS ||
           plant->outlet_count > TWIN_OUTLETS || plant->outage_count > TWIN_OUTAGES || plant->rota_count > TWIN_ROTA;
}

bool twin_run(const struct wr_plant *plant, double dt, double until, struct twin_result *result)
{
    *result = (struct twin_result){0};
    if (is_too_large(plant)) {
        return false;
    }
    struct twin twin = {.plant = plant, .definition = plant->definition, .dt = dt, .result = result};
    twin_begin(&twin);
    twin_share(&twin);
    for (; twin.now < until; twin.now = (double)++result->steps * dt) {
        if (!look(&twin) || !share(&twin)) {
            return false;
        }
        advance(&twin);
    }
    result->storage = twin.storage;
    result->wash_tank = twin.wash_level;
    for (size_t i = 0; i < plant->tank_count; i++) {
        result->tanks[i] = twin.tanks[i].level;
    }
    return true;
}

void twin_result_fini(struct twin_result *result)
{
    free(result->starts);
    *result = (struct twin_result){0};
}
