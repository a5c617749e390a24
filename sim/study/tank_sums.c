/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/tank_sums.h"

#include "models/sludge.h"
#include "sim/plant/blanket.h"

#include <math.h>

/* Turns ----------------------------------------------------------------------------------------------------------- */

bool wr_turn_waits_for_clarity(const struct wr_turn *turn)
{
    return !turn->unsettled && turn->clear_at > turn->time_up_at;
}

const char *wr_turn_held_by_key(const struct wr_turn *turn)
{
    if (isinf(turn->drawn_from))
        return NULL;
    if (turn->unsettled)
        return "emergency";
    return wr_turn_waits_for_clarity(turn) ? "clarity" : "time";
}

static void sum_blanket(struct wr_tank_sums *sums, double volume, double time)
{
    if (volume <= sums->highest_blanket)
        return;
    sums->highest_blanket = volume;
    sums->highest_at = time;
}

static void sum_turn(struct wr_tank_sums *sums, const struct wr_turn *turn, double end)
{
    if (isinf(turn->drawn_from)) {
        sums->stands_unclear = sums->stands_unclear || (turn->time_up_at < end && turn->clear_at > end);
        return;
    }
    const double late = wr_turn_waits_for_clarity(turn) ? turn->clear_at - turn->time_up_at : 0;
    sums->decants++;
    sums->unsettled += turn->unsettled;
    sums->held_by_clarity += late > 0;
    sums->held_by_time += !turn->unsettled && late <= 0;
    sums->spoiled += turn->lifted > 0 && !turn->unsettled;
    sums->waited_for_clarity += late;
    sums->longest_for_clarity = fmax(sums->longest_for_clarity, late);
    sums->standing += turn->drawn_from - turn->settles_at;
    if (wr_is_given(turn->solids)) {
        sums->most_solids = fmax(sums->most_solids, turn->solids);
        sums->decanted_solids += turn->solids * (turn->clear + turn->lifted);
    }
    sum_blanket(sums, turn->settled, turn->drawn_from);
    if (isfinite(turn->ended_at)) {
        sum_blanket(sums, turn->blanket, turn->ended_at);
        sums->left += turn->left;
    }
}

/* Sludge ---------------------------------------------------------------------------------------------------------- */

static void sum_draw(struct wr_drawn *sum, const struct wr_draw_record *draw)
{
    if (sum->draws++ == 0)
        sum->first = draw->time;
    sum->last = draw->time;
    sum->water += draw->water;
    sum->solids += draw->solids;
}

static double next_draw(const struct wr_run *run)
{
    const struct wr_spent_wash *spent = &run->plant.definition->spent_wash;
    if (!spent->has_blanket || spent->sludge.drawn != WR_SLUDGE_BY_CALENDAR)
        return WR_ABSENT;
    return wr_timers_time(&run->simulation.timers, run->plant.timers.sludge);
}

struct wr_tank_sums wr_tank_sums_of(const struct wr_run *run, size_t tank)
{
    const struct wr_tank_lists *lists = &run->record.tanks;
    const size_t tanks = run->plant.tank_count;
    struct wr_tank_sums sums = {.drawn = {.first = WR_ABSENT, .last = WR_ABSENT},
                                .for_room = {.first = WR_ABSENT, .last = WR_ABSENT},
                                .highest_at = WR_ABSENT,
                                .next = tank < tanks ? next_draw(run) : WR_ABSENT};
    size_t ended = 0;
    double volume = 0;
    for (size_t i = 0; i < lists->turn_count; i++) {
        const struct wr_turn *turn = &lists->turns[i];
        if (tank < tanks && turn->tank != tank)
            continue;
        sum_turn(&sums, turn, wr_now(&run->simulation));
        ended += isfinite(turn->ended_at) ? 1 : 0;
        volume += isfinite(turn->drawn_from) && wr_is_given(turn->solids) ? turn->clear + turn->lifted : 0;
    }
    for (size_t i = 0; i < lists->draw_count; i++) {
        if (tank < tanks && lists->draws[i].tank != tank)
            continue;
        sum_draw(&sums.drawn, &lists->draws[i]);
        if (lists->draws[i].why == WR_DRAW_FOR_ROOM)
            sum_draw(&sums.for_room, &lists->draws[i]);
    }
    for (size_t t = 0; t < tanks; t++)
        if (run->plant.definition->spent_wash.has_blanket && (tank == tanks || t == tank))
            sums.blanket += wr_blanket_volume(&run->simulation, t);
    sums.standing = sums.decants > 0 ? sums.standing / (double)sums.decants : WR_ABSENT;
    sums.left = ended > 0 ? sums.left / (double)ended : WR_ABSENT;
    sums.decanted_solids = volume > 0 ? sums.decanted_solids / volume : WR_ABSENT;
    return sums;
}

double wr_tank_height(const struct wr_plant *plant, size_t tank, double volume)
{
    const struct wr_spent_tank *t = &plant->definition->spent_wash.tanks.items[tank];
    return wr_is_given(t->depth) ? volume / t->volume * t->depth : WR_ABSENT;
}

const char *wr_draw_why_key(enum wr_draw_why why)
{
    static const char *const keys[] = {
        [WR_DRAW_BY_RULE] = "rule", [WR_DRAW_FOR_ROOM] = "room", [WR_DRAW_DROPPED] = "end_of_decant"};
    return keys[why];
}

const char *wr_draw_to_key(const struct wr_plant *plant)
{
    static const char *const keys[] = {
        [WR_SLUDGE_TO_BED] = "drying_bed", [WR_SLUDGE_TO_SEWER] = "sewer", [WR_SLUDGE_TO_HAUL] = "haul"};
    return plant->definition->spent_wash.has_blanket ? keys[plant->definition->spent_wash.sludge.to] : "sludge";
}

/* Recovery -------------------------------------------------------------------------------------------------------- */

static double best_share(double solids, double sludge_solids)
{
    double share;
    return sludge_solids > 0 && wr_sludge_best_recovery(solids, sludge_solids, &share) == WR_OK ? share : WR_ABSENT;
}

struct wr_recovery wr_recovery_of(const struct wr_run *run)
{
    const struct wr_plant *plant = &run->plant;
    const struct wr_state *state = run->simulation.state;
    const struct wr_drawn drawn = wr_tank_sums_of(run, plant->tank_count).drawn;
    struct wr_recovery r = {.fresh = WR_ABSENT, .thickened = WR_ABSENT, .solids = WR_ABSENT};
    double mass = 0;
    for (size_t t = 0; t < plant->tank_count; t++) {
        struct wr_entry in, out;
        wr_ledger_turnover(plant, state, WR_ACCOUNT_TANKS + t, &in, &out);
        r.held += run->record.opening[WR_ACCOUNT_TANKS + t].water;
        r.received += in.water;
        mass += in.mass[WR_SOLIDS];
        r.recycled += wr_ledger_line(plant, state, WR_LINE_RECYCLE, t)->water;
    }
    r.share = r.held + r.received > 0 ? r.recycled / (r.held + r.received) : WR_ABSENT;
    r.solids = r.received > 0 ? mass / r.received : WR_ABSENT;
    r.drawn_solids = drawn.water > 0 ? drawn.solids / drawn.water : WR_ABSENT;
    r.as_drawn = best_share(r.solids, r.drawn_solids);
    if (plant->definition->spent_wash.has_blanket) {
        r.fresh = best_share(r.solids, plant->sludge.first_solids);
        r.thickened = best_share(r.solids, plant->sludge.last_solids);
    }
    return r;
}

/* Outlets --------------------------------------------------------------------------------------------------------- */

const char *wr_outlet_key(int kind)
{
    static const char *const keys[WR_OUTLET_KINDS] = {[WR_OUTLET_RECYCLE] = "recycle",
                                                      [WR_OUTLET_SEWER] = "sewer",
                                                      [WR_OUTLET_POND] = "pond",
                                                      [WR_OUTLET_HAUL] = "haul"};
    return keys[kind];
}

struct wr_outlet_hold wr_outlet_hold_of(const struct wr_run *run, enum wr_limit limit)
{
    struct wr_outlet_hold hold = {.times = 0};
    for (size_t i = 0; i < run->record.span_count; i++) {
        const struct wr_span *span = &run->record.spans[i];
        if (span->limit != limit || span->where != WR_NOWHERE)
            continue;
        hold.times++;
        hold.total += span->to - span->from;
        hold.longest = fmax(hold.longest, span->to - span->from);
    }
    return hold;
}

struct wr_emergency_sums wr_emergency_sums_of(const struct wr_run *run, size_t outlet)
{
    struct wr_emergency_sums sums = {.first = WR_ABSENT};
    for (size_t i = 0; i < run->record.tanks.emergency_count; i++) {
        const struct wr_emergency *used = &run->record.tanks.emergencies[i];
        if (used->outlet != outlet)
            continue;
        if (sums.times++ == 0)
            sums.first = used->from;
        sums.water += used->water;
        sums.time += used->to - used->from;
    }
    return sums;
}

/* Washouts -------------------------------------------------------------------------------------------------------- */

struct wr_washout_sums wr_washout_sums_of(const struct wr_run *run)
{
    const double wanted = run->plant.definition->wash.clear_at;
    struct wr_washout_sums sums = {.washes = 0};
    for (size_t w = 0; w < run->record.wash_count; w++) {
        const double last = run->record.washes[w].last_of_wash;
        if (!wr_is_given(last))
            continue;
        if (sums.washes++ == 0 || last > sums.most) {
            sums.most = last;
            sums.worst = w;
        }
        sums.mean += last;
        sums.not_clear += wr_is_given(wanted) && last > wanted;
    }
    sums.mean = sums.washes > 0 ? sums.mean / (double)sums.washes : WR_ABSENT;
    return sums;
}
