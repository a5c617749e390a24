/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/ability.h"

#include "sim/plant/hours.h"
#include "sim/plant/mean_run.h"
#include "sim/plant/units.h"

#include <math.h>

static const double DAY = 86400;

static void add_term(struct wr_ability *row, const char *words, double value, const char *unit)
{
    row->terms[row->term_count++] = (struct wr_ability_term){.words = words, .value = value, .unit = unit};
}

/* Filters that are not out for the whole run. */
static bool takes_part(const struct wr_run *run, size_t filter)
{
    const struct wr_plant *plant = &run->plant;
    for (size_t o = 0; o < plant->outage_count; o++) {
        const struct wr_outage *outage = &plant->definition->outages.items[o];
        const bool to_the_end = !wr_is_given(outage->until) || outage->until >= plant->definition->horizon;
        if (wr_plant_outage_takes(plant, o, filter) && outage->from <= 0 && to_the_end)
            return false;
    }
    return true;
}

/* The mean of the run: rate through the filters that take part, and dry solids in their feed. */
static void means_of(const struct wr_run *run, double *rate, double *solids, double *flow)
{
    const struct wr_plant *plant = &run->plant;
    const struct wr_state *state = run->simulation.state;
    const double served = wr_ledger_line(plant, state, WR_LINE_EFFLUENT, 0)->water +
                          wr_ledger_line(plant, state, WR_LINE_REFILL, 0)->water;
    double rinsed = 0, area = 0;
    for (size_t t = 0; t < plant->tank_count + WR_BEYOND_TANKS; t++)
        rinsed += wr_ledger_line(plant, state, WR_LINE_RINSE, t)->water;
    for (size_t f = 0; f < plant->filter_count; f++)
        if (takes_part(run, f))
            area += plant->groups[plant->group_of[f]].area;
    const double time = state->clock.now, feed = served + rinsed;
    *flow = time > 0 ? served / time : 0;
    *rate = area > 0 && time > 0 ? served / (area * time) : 0;
    *solids = feed > 0 ? wr_ledger_line(plant, state, WR_LINE_CAUGHT, 0)->mass[WR_SOLIDS] / feed : 0;
}

/* Washes a day that the filters would ask for, and what such a mean wash takes. */
struct wanted {
    double washes, off_line, water, room; /* 1/d, s, m3, m3 */
    double solids;                        /* kg that it carries out */
    double served;                        /* m3/s that the filters make, mean of the run */
};

static struct wanted want(const struct wr_run *run)
{
    const struct wr_plant *plant = &run->plant;
    struct wanted w = {0};
    double rate, solids;
    means_of(run, &rate, &solids, &w.served);
    for (size_t f = 0; f < plant->filter_count; f++) {
        const struct wr_group *g = &plant->groups[plant->group_of[f]];
        if (!takes_part(run, f))
            continue;
        /* A bed that calls while it is clean has no run: it is washed time after time. */
        const double washes = DAY / fmax(g->off_line, wr_plant_run_time(plant, g, rate, solids));
        w.washes += washes;
        w.off_line += washes * g->off_line;
        w.water += washes * g->wash_volume;
        w.room += washes * g->room;
        w.solids += g->area * rate * DAY * solids;
    }
    if (w.washes > 0) {
        w.off_line /= w.washes;
        w.water /= w.washes;
        w.room /= w.washes;
        w.solids /= w.washes;
    }
    return w;
}

static void by_wash_system(const struct wr_run *run, const struct wanted *w, struct wr_ability *row)
{
    const double systems = (double)run->plant.definition->wash.max_simultaneous;
    row->resource = WR_LIMIT_WASH_SYSTEM;
    row->possible = systems * DAY / w->off_line;
    add_term(row, "filters washed at one time", systems, "1");
    add_term(row, "time off line for a wash", w->off_line, "s");
}

static void by_wash_water(const struct wr_run *run, const struct wanted *w, struct wr_ability *row)
{
    const struct wr_wash_water *source = &run->plant.definition->wash_water;
    const bool tank = source->source == WR_WATER_FROM_TANK;
    const double flow = tank ? source->tank.refill_rate : w->served;
    row->resource = WR_LIMIT_WASH_WATER;
    row->possible = flow * DAY / w->water;
    add_term(row, tank ? "refill" : "what the filters make", flow, "m3/s");
    add_term(row, "wash water of a wash", w->water, "m3");
}

double wr_outlets_flow(const struct wr_definition *d)
{
    double best = 0;
    for (size_t o = 0; o < d->spent_wash.outlets.count; o++) {
        const struct wr_outlet *outlet = &d->spent_wash.outlets.items[o];
        double flow = outlet->kind == WR_OUTLET_RECYCLE ? d->recycle.pump : outlet->rate;
        flow *= wr_hours_share(&outlet->hours);
        if (wr_is_given(outlet->daily_volume))
            flow = fmin(flow, outlet->daily_volume / DAY);
        best = fmax(best, flow);
    }
    return best;
}

/* The window: as the wash system, within its hours. */
static void by_window(const struct wr_run *run, const struct wanted *w, struct wr_ability *row)
{
    const struct wr_wash *wash = &run->plant.definition->wash;
    const double share = wr_hours_share(&wash->window);
    row->resource = WR_LIMIT_WINDOW;
    row->possible = (double)wash->max_simultaneous * share * DAY / w->off_line;
    add_term(row, "filters washed at one time", (double)wash->max_simultaneous, "1");
    add_term(row, "hours a week in which a wash may start", share * 7 * DAY, "s");
    add_term(row, "time off line for a wash", w->off_line, "s");
}

struct wr_clearing wr_ability_tankful(const struct wr_plant *plant, size_t tank, double washes,
                                      const struct wr_mean_wash *wash)
{
    const struct wr_still still = {.tank = tank, .level = washes * wash->room, .solids = washes * wash->solids};
    return wr_settling_foresee(plant, &still);
}

/* Turns of the spent-wash tanks: washes a day that they take, the settling and the clear water of a tankful, and the
 * longest turn of one. */
struct turns {
    double washes; /* 1/d */
    double settling, clear, longest;
};

/* With settling, tanks take turns: each fills, settles and is decanted; the way out serves one at a time, so it bounds
 * all tanks together. Without settling the way out alone counts. */
static struct turns room_turns(const struct wr_plant *plant, const struct wr_mean_wash *wash)
{
    const struct wr_definition *d = plant->definition;
    const double out = wr_outlets_flow(d);
    struct turns t = {0};
    double share = 0; /* of a tankful that is drawn off, the greatest */
    if (!plant->has_settling)
        return (struct turns){.washes = out * DAY / wash->room};
    for (size_t tank = 0; tank < d->spent_wash.tanks.count; tank++) {
        const double washes = floor(d->spent_wash.tanks.items[tank].volume / wash->room * (1 + 1e-9));
        if (washes < 1)
            continue;
        const struct wr_clearing clearing = wr_ability_tankful(plant, tank, washes, wash);
        const double turn = washes * wash->off_line + clearing.time + clearing.clear / out;
        t.settling = clearing.time;
        t.clear = clearing.clear;
        share = fmax(share, clearing.clear / (washes * wash->room));
        t.longest = fmax(t.longest, turn);
        t.washes += washes * DAY / turn;
    }
    if (share > 0)
        t.washes = fmin(t.washes, out * DAY / (wash->room * share));
    return t;
}

double wr_ability_of_room(const struct wr_plant *plant, const struct wr_mean_wash *wash)
{
    return room_turns(plant, wash).washes;
}

static void by_room(const struct wr_run *run, const struct wanted *w, struct wr_ability *row)
{
    const struct wr_definition *d = run->plant.definition;
    const struct wr_mean_wash wash = {.off_line = w->off_line, .room = w->room, .solids = w->solids};
    const struct turns turns = room_turns(&run->plant, &wash);
    row->resource = WR_LIMIT_SPENT_WASH_ROOM;
    row->possible = turns.washes;
    add_term(row, "spent wash of a wash", w->room, "m3");
    add_term(row, "way out", wr_outlets_flow(d), "m3/s");
    if (!run->plant.has_settling)
        return;
    add_term(row, "tanks", (double)d->spent_wash.tanks.count, "1");
    add_term(row, "settling", turns.settling, "s");
    add_term(row, "clear water of a tank", turns.clear, "m3");
    add_term(row, "turn of a tank", turns.longest, "s");
}

/* The holding tank takes so many washes from one hauling to the next. */
static void by_holding(const struct wr_run *run, struct wr_ability *row)
{
    const struct wr_holding *holding = &run->plant.definition->wash.holding;
    double largest = 0;
    for (size_t g = 0; g < run->plant.group_count; g++)
        largest = fmax(largest, run->plant.groups[g].held_volume);
    row->resource = WR_LIMIT_HOLDING_ROOM;
    row->possible = floor(holding->volume / largest * (1 + 1e-9)) * DAY / holding->emptied_every;
    add_term(row, "regenerant of a wash", largest, "m3");
    add_term(row, "holding tank", holding->volume, "m3");
    add_term(row, "time between haulings", holding->emptied_every, "s");
}

size_t wr_ability_table(const struct wr_run *run, struct wr_ability rows[WR_ABILITY_ROWS])
{
    const struct wanted w = want(run);
    size_t count = 0;
    if (w.washes <= 0)
        return 0;
    for (size_t r = 0; r < WR_ABILITY_ROWS; r++)
        rows[r] = (struct wr_ability){.wanted = w.washes};
    by_wash_system(run, &w, &rows[count++]);
    by_wash_water(run, &w, &rows[count++]);
    if (run->plant.tank_count > 0)
        by_room(run, &w, &rows[count++]);
    if (wr_is_given(run->plant.definition->wash.holding.volume))
        by_holding(run, &rows[count++]);
    if (run->plant.definition->wash.window.count > 0)
        by_window(run, &w, &rows[count++]);
    return count;
}
