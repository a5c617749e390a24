/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spent-wash tanks that settle: none gives water before it has stood still for its time and is clear enough, none gives
 * more than may be drawn off, and what leaves carries what the definition says. */
#include "tests/plant/watch_part.h"

#include <assert.h>

/* Instants are known to this, s; and this share of the time in which zones fall, whose last is a creep. */
static const double MOMENT = 1e-3, CREEP = 1e-4;

/* Solids, kg/m3, that are none. */
static const double TRACE = 1e-12;

static const struct wr_tank *tank_at(struct sight at, size_t tank)
{
    return &wr_state_tanks(at.plant, at.state)[tank];
}

static double volume_of(struct sight at, size_t tank)
{
    return at.definition->spent_wash.tanks.items[tank].volume;
}

/* Blankets --------------------------------------------------------------------------------------------------------- */

/* Dry solids of sludge, kg/m3, of a share by mass: it weighs what water does. */
static double thickness(double share)
{
    return 1000.0 * share;
}

static double blanket_volume(struct sight at, struct wr_sludge blanket)
{
    return blanket.solids / thickness(at.definition->spent_wash.sludge.thickened_solids) + blanket.excess;
}

/* The blanket of a tank now, thickened since it last changed; no higher than the tank's water. */
static struct wr_sludge blanket_now(struct sight at, size_t tank)
{
    const struct wr_tank *t = tank_at(at, tank);
    const double age = (at.now - t->thickened_at) / at.definition->spent_wash.sludge.thickening_time;
    return at.definition->spent_wash.has_blanket
               ? (struct wr_sludge){.solids = t->blanket[WR_SOLIDS], .excess = t->excess * exp(-age)}
               : (struct wr_sludge){0};
}

double blanket_standing(struct sight at, size_t tank)
{
    return fmin(tank_at(at, tank)->level, blanket_volume(at, blanket_now(at, tank)));
}

/* What solids add to a blanket when they join it fresh. */
static struct wr_sludge blanket_with(struct sight at, struct wr_sludge blanket, double solids)
{
    const struct wr_sludge_definition *sludge = &at.definition->spent_wash.sludge;
    blanket.solids += solids;
    blanket.excess += solids / thickness(sludge->fresh_solids) - solids / thickness(sludge->thickened_solids);
    return blanket;
}

/* Still water ------------------------------------------------------------------------------------------------------ */

/* Sludge that will stand in the tank once all has settled, m3. */
static double sludge_of(struct sight at, const struct watch_turn *turn, double blanket)
{
    const struct wr_spent_wash *spent = &at.definition->spent_wash;
    double thick = thickness(spent->sludge.fresh_solids);
    if (!spent->has_blanket)
        return spent->settling.sludge_share * turn->level;
    if (spent->settling.law == WR_SETTLING_ZONE)
        thick = fmin(thick, 0.95 * spent->settling.zone.concentration);
    return fmin(turn->level, blanket + turn->solids / thick);
}

/* How the tank's water is parted: what stays, what is clear, what a fixed pipe lifts. */
static void part_water(struct sight at, size_t tank, struct watch_turn *turn, double blanket)
{
    const struct wr_spent_wash *spent = &at.definition->spent_wash;
    const double depth = spent->tanks.items[tank].depth, area = wr_is_given(depth) ? volume_of(at, tank) / depth : 1.0;
    const bool fixed = spent->settling.draw_off == WR_DRAW_FIXED;
    const double pipe = fixed ? spent->settling.draw_height * area : 0.0, sludge = sludge_of(at, turn, blanket);
    const bool lifts = fixed && spent->has_blanket && sludge > pipe;
    turn->lifted = lifts ? sludge - pipe : 0.0;
    turn->stays = lifts ? pipe : fmin(turn->level, fmax(sludge, pipe));
    turn->clear = turn->level - turn->stays - turn->lifted;
    turn->depth = turn->clear / area;
    turn->under = fmax(0.0, turn->level - turn->clear - blanket) / area;
}

static void stand(struct sight at, size_t tank)
{
    const struct wr_tank *t = tank_at(at, tank);
    const struct wr_settling *settling = &at.definition->spent_wash.settling;
    struct watch_turn *turn = &at.watch->turns[tank];
    *turn = (struct watch_turn){.stands = true, .since = at.now, .level = t->level, .solids = t->mass[WR_SOLIDS]};
    turn->old = blanket_now(at, tank);
    const double blanket = fmin(turn->level, blanket_volume(at, turn->old)), water = turn->level - blanket;
    turn->mixed = water > 0.0 ? turn->solids / water : 0.0;
    part_water(at, tank, turn, blanket);
    const double thickened = thickness(at.definition->spent_wash.sludge.thickened_solids);
    at.watch->packed = at.watch->packed || turn->solids + turn->old.solids > thickened * turn->level;
    if (settling->law == WR_SETTLING_ZONE && turn->depth > 0.0 && turn->mixed > 0.0 &&
        turn->mixed < settling->zone.concentration) {
        const enum wr_status status =
            wr_kynch_solve(&at.plant->zone, turn->mixed, turn->depth + turn->under, &turn->zone);
        assert(status == WR_OK);
        (void)status;
    }
}

/* Share of the solids that the clear water still carries, each class a slab that has gone down. */
static double share_left(struct sight at, const struct watch_turn *turn, double stillness)
{
    const struct wr_settling *settling = &at.definition->spent_wash.settling;
    double left = 0.0;
    if (settling->law != WR_SETTLING_CLASSES || turn->depth <= 0.0)
        return 0.0;
    for (size_t i = 0; i < settling->classes.count; i++) {
        const struct wr_particle_class *class = &settling->classes.items[i];
        const double gone = class->velocity * settling->polymer_factor * stillness;
        left += class->share * fmax(0.0, turn->depth - gone) / turn->depth;
    }
    return left;
}

/* Velocity, m/s, at which thick water of the tank first settles: nothing in zones falls faster. */
static double first_velocity(struct sight at, double solids)
{
    const struct wr_zone_definition *zone = &at.definition->spent_wash.settling.zone;
    return zone->flux == WR_ZONE_VESILIND ? zone->velocity * exp(-zone->hindrance * solids)
                                          : zone->velocity * pow(1.0 - solids / zone->concentration, zone->exponent);
}

/* In zones all above the interface is clear. */
static bool has_fallen(struct sight at, const struct watch_turn *turn, double stillness)
{
    const double height = turn->depth + turn->under, tiny = WATCH_TINY * height;
    double interface;
    if (turn->depth <= 0.0 || turn->mixed <= 0.0)
        return true;
    if (turn->zone.depth <= 0.0 || turn->depth > first_velocity(at, turn->mixed) * stillness + tiny)
        return false;
    if (height * turn->mixed > (turn->under + tiny) * at.definition->spent_wash.settling.zone.concentration)
        return false; /* its solids do not fit in so little */
    return wr_kynch_height(&turn->zone, stillness, &interface) == WR_OK && interface <= turn->under + tiny;
}

static bool is_clear(struct sight at, const struct watch_turn *turn, double stillness)
{
    const struct wr_settling *settling = &at.definition->spent_wash.settling;
    if (settling->law == WR_SETTLING_ZONE)
        return has_fallen(at, turn, stillness);
    return settling->law != WR_SETTLING_CLASSES || !wr_is_given(settling->clear_at) ||
           share_left(at, turn, stillness) * turn->mixed <= settling->clear_at;
}

bool is_settled(struct sight at, size_t tank, double stillness)
{
    const double asked = at.definition->spent_wash.settling.time;
    return stillness >= 0.0 && !(stillness < asked) && is_clear(at, &at.watch->turns[tank], stillness);
}

/* Decants ---------------------------------------------------------------------------------------------------------- */

/* Solids, kg, that a decant of settled water may take: what the clear water carries, and where a fixed pipe stands in
 * the sludge what of that stands above it, which is no more than was foreseen. */
static double solids_drawn(struct sight at, size_t tank, double stillness)
{
    struct watch_turn *turn = &at.watch->turns[tank];
    const double carried = turn->mixed * share_left(at, turn, stillness) * turn->clear;
    if (turn->lifted <= 0.0)
        return carried;
    struct wr_sludge blanket = turn->old;
    blanket.excess *= exp(-stillness / at.definition->spent_wash.sludge.thickening_time);
    blanket = blanket_with(at, blanket, turn->solids - carried);
    const double volume = fmin(turn->level, blanket_volume(at, blanket)), lift = fmax(0.0, volume - turn->stays);
    hold_most(at, lift, turn->lifted, WATCH_TINY * volume_of(at, tank), "sludge lifted against what was foreseen");
    at.watch->seen.lifts += lift > 0.0;
    return carried + (volume > 0.0 ? blanket.solids * lift / volume : 0.0);
}

/* A time, s, surely before one at which a tank may first be drawn off. */
static double before(struct sight at, double stillness)
{
    return stillness - MOMENT - (at.definition->spent_wash.settling.law == WR_SETTLING_ZONE ? CREEP * stillness : 0.0);
}

static void watch_settled(struct sight at, size_t tank)
{
    struct watch_turn *turn = &at.watch->turns[tank];
    const double stillness = at.now - turn->since;
    const bool in_zones = at.definition->spent_wash.settling.law == WR_SETTLING_ZONE;
    const bool late = stillness > (wr_is_given(at.definition->spent_wash.settling.time)
                                       ? at.definition->spent_wash.settling.time + MOMENT
                                       : MOMENT);
    hold(at, is_settled(at, tank, stillness + MOMENT), "a decant before it may begin, after s", stillness, turn->depth);
    hold(at, !late || !is_settled(at, tank, before(at, stillness)), "a decant that begins late, after s", stillness,
         turn->depth);
    at.watch->seen.turns++;
    at.watch->seen.late += late;
    at.watch->seen.zones += in_zones && turn->solids > 0.0;
    turn->carried = turn->level > turn->stays ? (at.definition->spent_wash.has_blanket
                                                     ? solids_drawn(at, tank, stillness) / (turn->level - turn->stays)
                                                     : turn->mixed * share_left(at, turn, stillness))
                                              : 0.0;
}

/* In an emergency all but the blanket goes as it is. */
static void watch_unsettled(struct sight at, size_t tank)
{
    struct watch_turn *turn = &at.watch->turns[tank];
    const double blanket = blanket_volume(at, blanket_now(at, tank));
    turn->stays = fmin(turn->level, blanket);
    turn->carried = turn->level > turn->stays ? turn->solids / (turn->level - turn->stays) : 0.0;
    at.watch->seen.dumps++;
}

static void begin_decant(struct sight at, size_t tank)
{
    struct watch_turn *turn = &at.watch->turns[tank];
    const struct wr_tank *t = tank_at(at, tank);
    hold(at, turn->stands, "a decant of a tank that did not stand still", (double)tank, 0.0);
    hold_near(at, t->level, turn->level, 0.0, "level of a tank that stood still");
    if (turn->dumped)
        watch_unsettled(at, tank);
    else
        watch_settled(at, tank);
    if (turn->level > turn->stays)
        hold_near(at, t->out[WR_SOLIDS], turn->carried, TRACE + WATCH_TINY * (turn->mixed + turn->carried),
                  "solids in a decant");
    turn->stands = false;
    turn->gives = true;
}

/* The level at the end of a decant, before sludge is dropped or drawn. */
static void end_decant(struct sight at, size_t tank)
{
    struct watch_turn *turn = &at.watch->turns[tank];
    const double drawn = turn->since < at.now ? at.watch->tank_nets[tank] * (at.now - at.watch->then) : 0.0;
    const double level = (turn->since < at.now ? at.watch->tanks[tank] : turn->level) + drawn;
    hold(at, turn->gives, "the end of a decant that had not begun", (double)tank, 0.0);
    hold_near(at, level, turn->stays, WATCH_TINY * volume_of(at, tank), "level at the end of a decant");
    turn->gives = turn->dumped = false;
}

void watch_turn_event(struct sight at, const struct wr_event *event)
{
    if (at.definition->spent_wash.settling.law == WR_SETTLING_NONE)
        return;
    if (event->kind == WR_EVENT_TANK_SETTLES)
        stand(at, event->where);
    if (event->kind == WR_EVENT_TANK_DUMPED)
        watch_dump(at, event->where);
    if (event->kind == WR_EVENT_TANK_SETTLED)
        begin_decant(at, event->where);
    if (event->kind == WR_EVENT_TANK_EMPTIED)
        end_decant(at, event->where);
}

/* Instants --------------------------------------------------------------------------------------------------------- */

/* No wash or rinse goes into a tank that stands still or gives. */
static void watch_stillness(struct sight at, size_t tank)
{
    for (size_t i = 0; i < at.plant->filter_count; i++) {
        const struct wr_filter *f = filter_at(at, i);
        const bool sends = f->mode == WR_MODE_WASH || f->mode == WR_MODE_START_RINSE;
        hold(at, !sends || f->tank != tank, "a wash into a tank that stands still or gives", (double)i, (double)tank);
    }
    hold_most(at, tank_at(at, tank)->inflow, 0.0, 0.0, "inflow of a tank that stands still or gives");
}

static void watch_turn(struct sight at, size_t tank)
{
    const struct watch_turn *turn = &at.watch->turns[tank];
    const struct wr_tank *t = tank_at(at, tank);
    hold(at, turn->gives || t->drawn <= 0.0, "water out of a tank that has not settled", t->drawn, 0.0);
    if (!turn->stands && !turn->gives)
        return;
    watch_stillness(at, tank);
    hold_least(at, t->level, turn->stays, WATCH_TINY * volume_of(at, tank), "level against what must stay");
    hold(at, !turn->stands || !is_settled(at, tank, before(at, at.now - turn->since)),
         "a tank that is clear and stands, s", at.now - turn->since, turn->depth);
    if (t->drawn > 0.0)
        hold_near(at, t->out[WR_SOLIDS], turn->carried, TRACE + WATCH_TINY * (turn->mixed + turn->carried),
                  "solids in what a tank gives");
}

void watch_turns(struct sight at)
{
    if (at.definition->spent_wash.settling.law == WR_SETTLING_NONE)
        return;
    for (size_t i = 0; i < at.plant->tank_count; i++)
        watch_turn(at, i);
}
