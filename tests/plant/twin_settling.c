/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How water settles in the twin's tanks, and the sludge that it leaves there: classes of particles are watched step by
 * step, a blanket thickens by a little each step. The time in which zones fall comes from models/kynch.h, as that law
 * has a check of its own. */
#include "models/kynch.h"
#include "tests/plant/twin_state.h"

static const struct wr_settling *law_of(const struct twin *twin)
{
    return &twin->definition->spent_wash.settling;
}

/* Surface of a tank, m2. */
static double surface_of(const struct twin *twin, const struct twin_tank *tank)
{
    const double depth = twin->definition->spent_wash.tanks.items[tank - twin->tanks].depth;
    return wr_is_given(depth) ? tank->volume / depth : 1.0;
}

/* Dry solids of fresh sludge, kg per m3 of 1000 kg. Where zones settle it is no thicker than their bed. */
static double fresh_sludge(const struct twin *twin)
{
    const double fresh = 1000.0 * twin->definition->spent_wash.sludge.fresh_solids;
    return law_of(twin)->law == WR_SETTLING_ZONE ? fmin(fresh, 0.95 * wr_zone_greatest(&twin->plant->zone)) : fresh;
}

double twin_blanket(const struct twin *twin, const struct twin_tank *tank)
{
    const double last = 1000.0 * twin->definition->spent_wash.sludge.thickened_solids;
    return twin->definition->spent_wash.has_blanket ? fmin(tank->level, tank->blanket / last + tank->loose) : 0.0;
}

/* Dry solids, kg, join the blanket with the water of fresh sludge. */
static void join_blanket(struct twin *twin, struct twin_tank *tank, double solids)
{
    const struct wr_sludge_definition *sludge = &twin->definition->spent_wash.sludge;
    tank->blanket += solids;
    tank->loose += solids / (1000.0 * sludge->fresh_solids) - solids / (1000.0 * sludge->thickened_solids);
}

/* Takes a share of the blanket; its dry solids, kg. */
static double take_blanket(struct twin_tank *tank, double share)
{
    const double solids = share * tank->blanket;
    tank->blanket -= solids;
    tank->loose -= share * tank->loose;
    return solids;
}

/* Draws a volume of sludge, m3, or all there is. */
static void draw_sludge(struct twin *twin, struct twin_tank *tank, double volume)
{
    const double all = twin_blanket(twin, tank), drawn = fmin(volume, all);
    if (drawn <= 0.0) {
        return;
    }
    (void)take_blanket(tank, drawn / all);
    tank->level -= drawn;
    tank->sludge -= drawn;
    twin->result->volumes.sludge += drawn;
}

void twin_blanket_after_decant(struct twin *twin, struct twin_tank *tank)
{
    const struct wr_sludge_definition *rules = &twin->definition->spent_wash.sludge;
    join_blanket(twin, tank, fmax(0.0, tank->solids));
    tank->solids = 0.0;
    const double all = twin_blanket(twin, tank);
    if (rules->drawn == WR_SLUDGE_EACH_DECANT) {
        draw_sludge(twin, tank, rules->volume);
    } else if (rules->drawn == WR_SLUDGE_BY_LEVEL ? all >= rules->level * tank->volume : tank->draw_due) {
        draw_sludge(twin, tank, all);
    }
    tank->draw_due = false;
    draw_sludge(twin, tank, twin->plant->largest_room - (tank->volume - tank->level));
}

void twin_blanket_by_calendar(struct twin *twin)
{
    const struct wr_spent_wash *spent = &twin->definition->spent_wash;
    if (!spent->has_blanket || spent->sludge.drawn != WR_SLUDGE_BY_CALENDAR || twin->now < twin->next_sludge) {
        return;
    }
    twin->next_sludge += spent->sludge.every;
    for (size_t i = 0; i < twin->plant->tank_count; i++) {
        struct twin_tank *tank = &twin->tanks[i];
        tank->draw_due = tank->mode != TWIN_FILLING || tank->washes > 0 || tank->level > tank->sludge;
        if (!tank->draw_due) {
            draw_sludge(twin, tank, HUGE_VAL);
        }
    }
}

void twin_thicken(struct twin *twin)
{
    for (size_t i = 0; twin->definition->spent_wash.has_blanket && i < twin->plant->tank_count; i++) {
        twin->tanks[i].loose *= 1.0 - twin->dt / twin->definition->spent_wash.sludge.thickening_time;
    }
}

/* Time in which the interface of zones falls to what stays, s. */
static double zone_time(const struct twin *twin, double solids, double clear, double stays)
{
    struct wr_kynch fall;
    double time = HUGE_VAL;
    if (clear <= 0.0 || solids <= 0.0) {
        return 0.0;
    }
    const bool falls = solids < wr_zone_greatest(&twin->plant->zone) &&
                       wr_kynch_solve(&twin->plant->zone, solids, clear + stays, &fall) == WR_OK &&
                       wr_kynch_time(&fall, stays, &time) == WR_OK;
    return falls ? time : HUGE_VAL;
}

/* Where the draw-off ends, and what lies above it. */
void twin_begin_settling(struct twin *twin, struct twin_tank *tank)
{
    const struct wr_settling *settling = law_of(twin);
    const bool blanket = twin->definition->spent_wash.has_blanket;
    const double surface = surface_of(twin, tank), old = twin_blanket(twin, tank);
    const double sludge =
        blanket ? fmin(tank->level, old + tank->solids / fresh_sludge(twin)) : settling->sludge_share * tank->level;
    const double pipe = settling->draw_off == WR_DRAW_FIXED ? settling->draw_height * surface : 0.0;
    const double top = fmin(tank->level, fmax(sludge, pipe)); /* of what stays, or would without a pipe in the sludge */
    tank->mode = TWIN_SETTLING;
    tank->since = twin->now;
    tank->spoilt = blanket && settling->draw_off == WR_DRAW_FIXED && sludge > pipe;
    tank->sludge = tank->spoilt ? pipe : top;
    tank->clear = tank->level - top;
    tank->mixed = tank->level > old ? tank->solids / (tank->level - old) : 0.0;
    tank->ready = wr_is_given(settling->time) ? settling->time : 0.0;
    if (settling->law == WR_SETTLING_ZONE) {
        tank->ready =
            fmax(tank->ready, zone_time(twin, tank->mixed, tank->clear / surface, fmax(0.0, top - old) / surface));
    }
}

/* Share of the solids that the water above the sludge still carries, each class gone from the top down. */
static double share_left(const struct twin *twin, const struct twin_tank *tank)
{
    const struct wr_settling *settling = law_of(twin);
    const double depth = tank->clear / surface_of(twin, tank), age = twin->now - tank->since;
    double left = 0.0;
    if (settling->law != WR_SETTLING_CLASSES || depth <= 0.0) {
        return 0.0;
    }
    for (size_t i = 0; i < settling->classes.count; i++) {
        const double fallen = settling->classes.items[i].velocity * settling->polymer_factor * age;
        left += settling->classes.items[i].share * fmax(0.0, 1.0 - fallen / depth);
    }
    return left;
}

bool twin_is_clear(const struct twin *twin, const struct twin_tank *tank)
{
    const double wanted = law_of(twin)->clear_at;
    return twin->now >= tank->since + tank->ready &&
           !(law_of(twin)->law == WR_SETTLING_CLASSES && wr_is_given(wanted) &&
             tank->mixed * share_left(twin, tank) > wanted * (1.0 + 1e-12) && tank->clear > 0.0);
}

/* What has settled joins the blanket; the rest leaves with the decant, mixed over it. */
static void leave_in_decant(struct twin *twin, struct twin_tank *tank, double share)
{
    const double drawn = tank->level - tank->sludge, old = twin_blanket(twin, tank);
    if (!twin->definition->spent_wash.has_blanket) {
        tank->leaves = tank->level > 0.0 ? share * tank->solids / tank->level : 0.0;
        return;
    }
    const double carried = tank->level > old ? share * tank->clear * tank->solids / (tank->level - old) : 0.0;
    join_blanket(twin, tank, fmax(0.0, tank->solids - carried));
    tank->solids = carried;
    const double all = twin_blanket(twin, tank);
    if (tank->spoilt && all > tank->sludge) {
        tank->solids += take_blanket(tank, (all - tank->sludge) / all);
    }
    tank->leaves = drawn > 0.0 ? tank->solids / drawn : 0.0;
}

void twin_begin_decant(struct twin *twin, struct twin_tank *tank)
{
    leave_in_decant(twin, tank, share_left(twin, tank));
    tank->mode = TWIN_DECANTING;
    tank->since = twin->now;
    twin->changed = true;
}

/* An emergency: all above the blanket leaves as it is. */
void twin_dump(struct twin *twin, struct twin_tank *tank)
{
    tank->dumped = true;
    tank->spoilt = false;
    tank->sludge = twin_blanket(twin, tank);
    tank->clear = tank->level - tank->sludge;
    leave_in_decant(twin, tank, 1.0);
    tank->mode = TWIN_DECANTING;
    tank->since = twin->now;
    twin->changed = true;
    twin->next_tank = twin->now;
}
