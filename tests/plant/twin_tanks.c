/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The twin's spent-wash tanks and their ways out. */
#include "tests/plant/twin_state.h"

/* Settling ----------------------------------------------------------------------------------------------------------
 */

/* A tank that stands still between washes settles when no further wash is sure of room, or after its wait; not at the
 * very time its wash ends, when one in line may follow into it. */
static bool is_to_settle(const struct twin *twin, const struct twin_tank *tank)
{
    if (tank->mode != TWIN_FILLING || tank->washes > 0 || tank->level <= tank->sludge) {
        return false;
    }
    return tank->volume - tank->level < twin->plant->largest_room * (1.0 - TWIN_SLACK) ||
           ((twin->again || twin->now > tank->since) &&
            twin->now >= tank->since + twin->definition->spent_wash.settling.start_after);
}

/* The clear water is gone: what is left is dropped, or stays as a blanket. */
static void end_decant(struct twin *twin, struct twin_tank *tank)
{
    tank->mode = TWIN_FILLING;
    tank->dumped = false;
    tank->since = twin->now;
    twin->changed = true;
    if (twin->definition->spent_wash.has_blanket) {
        tank->level = tank->sludge;
        twin_blanket_after_decant(twin, tank);
        return;
    }
    twin->result->volumes.sludge += tank->level;
    tank->level = tank->sludge = tank->solids = 0.0;
}

static void look_at_tank(struct twin *twin, struct twin_tank *tank)
{
    if (is_to_settle(twin, tank)) {
        twin_begin_settling(twin, tank);
    }
    if (tank->mode == TWIN_SETTLING && twin_is_clear(twin, tank)) {
        twin_begin_decant(twin, tank);
    }
    if (tank->mode == TWIN_DECANTING && tank->level - tank->sludge <= 1e-12 * tank->volume) {
        end_decant(twin, tank);
    }
}

/* When next to look at a tank unless it runs dry or a wash into it ends before, s. Particles are watched. */
static double next_look(const struct twin *twin, const struct twin_tank *tank)
{
    if (tank->mode == TWIN_SETTLING) {
        return fmax(twin->now, tank->since + tank->ready);
    }
    const bool waits = tank->mode == TWIN_FILLING && tank->washes == 0 && tank->level > tank->sludge;
    return waits ? tank->since + twin->definition->spent_wash.settling.start_after : HUGE_VAL;
}

/* Looks at all tanks that settle. */
static void look_at_settling(struct twin *twin)
{
    twin->next_tank = HUGE_VAL;
    for (size_t i = 0; twin_settles(twin) && i < twin->plant->tank_count; i++) {
        look_at_tank(twin, &twin->tanks[i]);
        twin->next_tank = fmin(twin->next_tank, next_look(twin, &twin->tanks[i]));
    }
}

/* Room that an outlet has left for the day, m3. */
static double left_today(const struct twin *twin, size_t outlet)
{
    const double bound = twin->definition->spent_wash.outlets.items[outlet].daily_volume;
    return wr_is_given(bound) ? fmax(0.0, bound - twin->outlets[outlet].today) : HUGE_VAL;
}

void twin_look_at_tanks(struct twin *twin)
{
    if (twin->out_flow > 0.0) {
        const struct twin_tank *source = &twin->tanks[twin->source];
        const double left = source->level - source->sludge, out = twin->out_flow - source->inflow;
        twin->changed = twin->changed || left <= 0.0 || left < out * twin->dt ||
                        left_today(twin, twin->outlet) < twin->out_flow * twin->dt;
        if (source->mode == TWIN_DECANTING && left <= 1e-12 * source->volume) {
            twin->next_tank = twin->now;
        }
    }
    /* What an unsettled tank gives changes from step to step, and with it what the blend takes up. */
    twin->changed = twin->changed || (twin->mixing && wr_is_given(twin->definition->recycle.max_blend_solids));
    if (twin->now >= twin->next_tank) {
        look_at_settling(twin);
    }
    twin_blanket_by_calendar(twin);
}

/* True when an emergency outlet may run. */
static bool is_emergency_open(const struct twin *twin)
{
    const struct wr_outlets *outlets = &twin->definition->spent_wash.outlets;
    bool open = false;
    for (size_t i = 0; i < outlets->count; i++) {
        open = open || (outlets->items[i].emergency && twin->outlets[i].open && left_today(twin, i) > 0.0);
    }
    return open;
}

void twin_look_at_emergency(struct twin *twin)
{
    struct twin_tank *oldest = NULL;
    bool gives = false;
    if (!twin->wants_room || !is_emergency_open(twin)) {
        return;
    }
    for (size_t i = 0; i < twin->plant->tank_count; i++) {
        struct twin_tank *tank = &twin->tanks[i];
        gives = gives || (!tank->out && tank->mode == TWIN_DECANTING);
        if (!tank->out && tank->mode == TWIN_SETTLING && (!oldest || tank->since < oldest->since)) {
            oldest = tank;
        }
    }
    if (!gives && oldest) {
        twin_dump(twin, oldest);
    }
}

/* Ways out ----------------------------------------------------------------------------------------------------------
 */

static bool can_give(const struct twin *twin, const struct twin_tank *tank)
{
    if (tank->out) {
        return false;
    }
    if (twin_settles(twin)) {
        return tank->mode == TWIN_DECANTING;
    }
    return tank->level > 1e-12 * tank->volume || tank->inflow > 0.0;
}

/* The tank that gives: the oldest settled, or without settling the fullest, which then gives until it is dry. The
 * number of tanks for none. */
static size_t find_source(const struct twin *twin)
{
    const bool settles = twin_settles(twin);
    const size_t tanks = twin->plant->tank_count;
    size_t best = tanks;
    if (!settles && twin->out_flow > 0.0 && can_give(twin, &twin->tanks[twin->source])) {
        return twin->source;
    }
    for (size_t i = 0; i < tanks; i++) {
        const struct twin_tank *tank = &twin->tanks[i];
        if (!can_give(twin, tank)) {
            continue;
        }
        if (best == tanks ||
            (settles ? tank->since < twin->tanks[best].since : tank->level > twin->tanks[best].level)) {
            best = i;
        }
    }
    return best;
}

/* Flow a tank can give over the step, m3/s. */
static double available_from(const struct twin *twin, const struct twin_tank *tank)
{
    return tank->mode == TWIN_DECANTING ? (tank->level - tank->sludge) / twin->dt
                                        : tank->inflow + tank->level / twin->dt;
}

/* Raw water that does not go through filters in service, m3/s. */
static double beside_service(const struct twin *twin)
{
    return twin->rinse + twin->start_rinse + (twin_washes_raw(twin) ? twin->wash : 0.0);
}

/* Recycle that each m3 of raw water takes up before the blend of the two is too thick, m3. */
static double taken_up(const struct twin *twin)
{
    const double most = twin->definition->recycle.max_blend_solids;
    const double back = twin_given_solids(twin, &twin->tanks[twin->source]);
    return wr_is_given(most) && back > most ? fmax(0.0, most - twin->raw_solids) / (back - most) : HUGE_VAL;
}

/* At the plant's limit wells that can be throttled give way to recycle, unless a pump that runs whole or not at all
 * would not run even so. */
static void give_way(struct twin *twin, double pump)
{
    const struct wr_recycle *recycle = &twin->definition->recycle;
    const double share = recycle->max_fraction;
    const double limit = fmin(twin->capacity + beside_service(twin), twin->plant->approved_capacity);
    if (twin->definition->over_approved_rate != WR_OVER_THROTTLE || twin->raw <= 0.0 || !isfinite(limit)) {
        return;
    }
    const double raw_wash = twin_washes_raw(twin) ? twin->wash : 0.0, blend = taken_up(twin);
    double wanted = fmin(pump, share * limit / (1.0 + share));
    if (isfinite(blend)) {
        wanted = fmin(wanted, blend * (limit - raw_wash) / (1.0 + blend));
    }
    const double less = twin->raw + wanted - limit;
    const double spare = fmax(0.0, twin->raw - beside_service(twin)); /* what rinses and washes draw stays */
    const bool whole = twin_fits(pump, wanted) && twin_fits(less, spare) && twin_fits(less, twin_most_throttled(twin));
    if (less > TWIN_SLACK * limit && (whole || recycle->control == WR_RECYCLE_RATIO)) {
        twin_throttle(twin, fmin(less, spare));
    }
}

static double find_recycle(struct twin *twin, double available)
{
    const struct wr_recycle *recycle = &twin->definition->recycle;
    const double pump = fmin(recycle->pump, available);
    if (twin->recycle_out) {
        return 0.0;
    }
    give_way(twin, pump);
    const double of_raw = recycle->max_fraction * twin->raw;
    const double room = fmax(0.0, twin->capacity + beside_service(twin) - twin->raw);
    const double allowed = fmax(0.0, twin->plant->approved_capacity - twin->raw);
    const double blend = taken_up(twin), through_filters = twin->raw - (twin_washes_raw(twin) ? twin->wash : 0.0);
    const double blended = isfinite(blend) ? blend * through_filters : HUGE_VAL;
    if (recycle->control == WR_RECYCLE_RATIO) {
        return fmin(blended, fmin(fmin(pump, of_raw), fmin(room, allowed)));
    }
    const bool runs = twin_fits(pump, of_raw) && twin_fits(pump, blended) &&
                      twin_fits(twin->raw + pump, twin->capacity + beside_service(twin)) &&
                      twin_fits(twin->raw + pump, twin->plant->approved_capacity);
    return runs ? pump : 0.0;
}

/* An emergency outlet runs while a wash waits for room, and it alone where a tank is drawn off as it was. */
static bool may_run(const struct twin *twin, size_t outlet)
{
    const bool dumped = twin->tanks[twin->source].dumped;
    const bool emergency = twin->definition->spent_wash.outlets.items[outlet].emergency;
    return twin->outlets[outlet].open && (emergency ? dumped || twin->wants_room : !dumped);
}

/* The first outlet that can run does, from one tank. */
void twin_find_outlet(struct twin *twin)
{
    const struct wr_outlets *outlets = &twin->definition->spent_wash.outlets;
    twin->source = find_source(twin);
    twin->recycle = twin->out_flow = 0.0;
    for (size_t i = 0; twin->source < twin->plant->tank_count && i < outlets->count && twin->out_flow <= 0.0; i++) {
        const double most = fmin(available_from(twin, &twin->tanks[twin->source]), left_today(twin, i) / twin->dt);
        twin->outlet = i;
        if (!may_run(twin, i) || most <= 0.0) {
            continue;
        }
        if (outlets->items[i].kind == WR_OUTLET_RECYCLE) {
            twin->out_flow = twin->recycle = find_recycle(twin, most);
        } else {
            twin->out_flow = fmin(outlets->items[i].rate, most);
        }
    }
}

/* Over a step -------------------------------------------------------------------------------------------------------
 */

/* Tanks are fully mixed: what leaves over the step is as what stands and comes, which also holds for an empty one. */
static void advance_tank(struct twin *twin, struct twin_tank *tank, double out)
{
    const double dt = twin->dt, content = tank->level + tank->inflow * dt, solids = tank->solids + tank->solids_in * dt;
    tank->booked -= tank->inflow * dt;
    tank->level = content - out * dt;
    tank->solids = solids;
    if (tank->mode == TWIN_FILLING && content > 0.0) {
        tank->solids *= tank->level / content;
    } else {
        tank->solids -= tank->leaves * out * dt;
    }
    if (tank->level > tank->volume) {
        twin->result->volumes.spilled += tank->level - tank->volume;
        tank->level = tank->volume;
    }
}

static void count_outlet(struct twin *twin)
{
    struct twin_volumes *volumes = &twin->result->volumes;
    const double water = twin->out_flow * twin->dt;
    twin->outlets[twin->outlet].today += water;
    switch (twin->definition->spent_wash.outlets.items[twin->outlet].kind) {
    case WR_OUTLET_RECYCLE:
        volumes->recycled += water;
        break;
    case WR_OUTLET_SEWER:
        volumes->sewer += water;
        break;
    case WR_OUTLET_POND:
        volumes->pond += water;
        break;
    default:
        volumes->hauled += water;
        break;
    }
}

void twin_advance_tanks(struct twin *twin)
{
    for (size_t i = 0; i < twin->plant->tank_count; i++) {
        const double out = i == twin->source ? twin->out_flow : 0.0;
        if (out > 0.0 || twin->tanks[i].inflow > 0.0) {
            advance_tank(twin, &twin->tanks[i], out);
        }
    }
    if (twin->out_flow > 0.0) {
        count_outlet(twin);
    }
    twin_thicken(twin);
}
