/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Water around the filters drawn at random: wells, storage, demand, wash water, spent wash. */
#include "tests/plant/draw.h"

#include <math.h>
#include <stdio.h>

/* Supply ---------------------------------------------------------------------------------------------------------- */

/* True where wells must give the peak of a wash. */
static bool washes_by_wells(const struct draft *draft)
{
    return draft->source == WR_WATER_FROM_FILTERS || draft->source == WR_WATER_FROM_WELLS;
}

static void name_unit(struct at unit, char name[DRAFT_NAME], const char *own, char letter, size_t number)
{
    if (draw_one_in(unit.draft, 3)) {
        snprintf(name, DRAFT_NAME, "%s %zu", own, number + 1);
        at_put_text(unit, "name", name);
    } else {
        snprintf(name, DRAFT_NAME, "%c%zu", letter, number + 1);
    }
}

static void draw_well(struct at root, double flow)
{
    struct draft *draft = root.draft;
    const struct at well = at_item(root, "wells");
    name_unit(well, draft->wells[draft->well_count], "Well", 'W', draft->well_count);
    at_put(well, "flow", flow);
    const int drive = at_choose(well, "drive");
    if (drive == WR_DRIVE_VARIABLE)
        at_may_put(well, "least_flow", flow * draw_round(draft, 0.0, 1.0, 0.1));
    draft->throttles = draft->throttles || drive == WR_DRIVE_VARIABLE;
    const double on_below = at_put(well, "on_below", draw_round(draft, 0.2, 0.9, 0.05));
    at_put(well, "off_above", fmin(1.0, on_below + draw_between(draft, 0.02, 0.4)));
    if (draw_one_in(draft, 3))
        at_put(well, "minimum_run", draw_round(draft, 0.0, 6.0 * hour, 10.0 * minute));
    if (draw_one_in(draft, 3))
        at_put(well, "minimum_rest", draw_round(draft, 0.0, 2.0 * hour, 10.0 * minute));
    if (draw_one_in(draft, 4))
        at_put(well, "iron", draw_between(draft, 0.0, 8e-3));
    if (draw_one_in(draft, 4))
        at_put(well, "manganese", draw_between(draft, 0.0, 0.8e-3));
    draft->well_count++;
}

static void draw_wells(struct at root)
{
    struct draft *draft = root.draft;
    double flows[DRAFT_WELLS], sum = 0.0;
    const size_t count = draw_pick(draft, 1, DRAFT_WELLS);
    const double mean = draft->capacity * draw_between(draft, 0.4, 1.6) / (double)count;
    for (size_t i = 0; i < count; i++) {
        flows[i] = mean * (draw_one_in(draft, 2) ? 1.0 : draw_between(draft, 0.6, 1.4));
        sum += flows[i];
    }
    const double raised =
        washes_by_wells(draft) && sum < draft->peak ? draft->peak / sum * draw_between(draft, 1.0, 2.0) : 1.0;
    for (size_t i = 0; i < count; i++)
        draw_well(root, raised * flows[i]);
}

static void draw_storage(struct at root)
{
    struct draft *draft = root.draft;
    const struct at storage = at_block(root, "storage");
    const double reserve = at_may_put(storage, "reserve", draw_round(draft, 0.0, 0.5, 0.05));
    double volume = draft->capacity * (draw_one_in(draft, 4) ? draw_between(draft, 0.3 * hour, 3.0 * hour)
                                                             : draw_between(draft, 3.0 * hour, 48.0 * hour));
    if (draft->source == WR_WATER_FROM_STORAGE)
        volume = fmax(volume, draft->water / (1.0 - reserve) * draw_between(draft, 1.0, 2.0));
    at_put(storage, "volume", volume);
    at_may_put(storage, "start_level", draw_round(draft, 0.0, 1.0, 0.05));
    at_may_put(storage, "low_mark", fmin(1.0, reserve + draw_round(draft, 0.0, 0.2, 0.05)));
}

static void draw_demand(struct at root)
{
    struct draft *draft = root.draft;
    const struct at demand = at_block(root, "demand");
    double factors[24];
    at_put(demand, "maximum_day", draft->capacity * draw_between(draft, 0.05, draw_one_in(draft, 3) ? 2.0 : 0.9));
    const bool harsh = draw_one_in(draft, 2);
    for (size_t i = 0; i < 24; i++)
        factors[i] = fmax(0.0, harsh ? draw_round(draft, -1.0, 3.0, 0.5) : draw_round(draft, 0.5, 1.5, 0.1));
    factors[8] = 1.2; /* never all zero */
    if (!draw_one_in(draft, 3))
        at_put_numbers(demand, "hourly_factors", factors, 24);
}

void draw_supply(struct at root)
{
    struct draft *draft = root.draft;
    draw_wells(root);
    draw_storage(root);
    draw_demand(root);
    const int over = draft->throttles ? WR_OVER_RATE_RISES : WR_OVER_THROTTLE;
    const int choice =
        (int)draw_pick(draft, WR_OVER_DROP_WELL, draft->throttles ? WR_OVER_RATE_RISES : WR_OVER_THROTTLE);
    at_put_choice(root, "over_approved_rate", choice == over ? WR_OVER_RATE_RISES : choice);
    const double approved = draw_between(draft, 0.3, 1.1) * draft->capacity;
    if (draw_one_in(draft, 4))
        at_put(root, "approved_capacity", washes_by_wells(draft) ? fmax(approved, draft->peak) : approved);
}

/* Wash water ------------------------------------------------------------------------------------------------------ */

static void draw_wash_tank(struct at wash_water)
{
    struct draft *draft = wash_water.draft;
    const struct at tank = at_block(wash_water, "tank");
    at_put(tank, "volume", draft->water * (draw_one_in(draft, 4) ? 1.0 : draw_between(draft, 1.0, 3.5)));
    at_may_put(tank, "start_level", draw_round(draft, 0.0, 1.0, 0.1));
    at_put(tank, "refill_rate", draft->water / draw_round(draft, 0.2 * hour, 6.0 * hour, 0.1 * hour));
    at_may_put(tank, "refill_on_below", draw_round(draft, 0.2, 0.95, 0.05));
}

void draw_wash_water(struct at root)
{
    struct draft *draft = root.draft;
    const struct at water = at_block(root, "wash_water");
    at_put_choice(water, "source", draft->source);
    if (draft->source == WR_WATER_FROM_TANK)
        draw_wash_tank(water);
    if (draft->source == WR_WATER_FROM_SYSTEM)
        at_put(water, "draw_limit", draft->peak * draw_between(draft, 1.0, 3.0));
    if (draw_one_in(draft, 3))
        at_put(water, "max_flow", draft->peak * draw_between(draft, 1.0, 3.0));
    if (draw_one_in(draft, 3)) {
        double months[12];
        for (size_t i = 0; i < 12; i++)
            months[i] = draw_round(draft, 275.15, 295.15, 0.5);
        at_put_numbers(water, "temperature", months, 12);
    }
}

/* Spent wash ------------------------------------------------------------------------------------------------------ */

static void draw_tanks(struct at spent)
{
    struct draft *draft = spent.draft;
    const size_t count = draw_pick(draft, 0, DRAFT_TANKS);
    const bool needs_depth = draft->settling >= WR_SETTLING_CLASSES || draft->fixed;
    /* A pipe at half a metre of a tank of a metre takes half of it. */
    const double dead = draft->fixed ? 1.0 / (1.0 - draft->draw_height) : 1.0;
    for (; draft->tank_count < count; draft->tank_count++) {
        const struct at tank = at_item(spent, "tanks");
        const double size = draw_one_in(draft, 4) ? 1.0 : draw_between(draft, 1.0, 3.0);
        name_unit(tank, draft->tanks[draft->tank_count], "Tank", 'T', draft->tank_count);
        at_put(tank, "volume", size * dead * draft->room);
        at_may_put(tank, "start_level", draw_round(draft, 0.0, 1.0, 0.1));
        if (needs_depth || draw_one_in(draft, 3))
            at_put(tank, "depth", draw_round(draft, 1.0, 4.0, 0.5));
    }
}

static void draw_classes(struct at settling)
{
    struct draft *draft = settling.draft;
    const size_t count = draw_pick(draft, 1, 3);
    for (size_t i = 0; i < count; i++) {
        const struct at class = at_item(settling, "classes");
        at_put(class, "share", i + 1 < count ? 0.3 : 1.0 - 0.3 * (double)i);
        at_put(class, "velocity", (draw_one_in(draft, 12) ? 0.0 : draw_round(draft, 0.05, 2.0, 0.05)) / hour);
    }
}

static void draw_zone(struct at settling)
{
    struct draft *draft = settling.draft;
    const struct at zone = at_block(settling, "zone");
    const int flux = at_choose(zone, "flux");
    at_put(zone, "velocity", draw_round(draft, 0.5, 5.0, 0.5) / hour);
    if (flux == WR_ZONE_VESILIND || draw_one_in(draft, 2))
        at_put(zone, "hindrance", draw_round(draft, 0.2, 2.0, 0.2));
    at_may_put(zone, "exponent", draw_round(draft, 2.5, 6.0, 0.5));
    at_put(zone, "greatest_concentration", draw_round(draft, 5.0, 30.0, 1.0));
}

static void draw_sludge(struct at spent)
{
    struct draft *draft = spent.draft;
    const struct at sludge = at_block(spent, "sludge");
    const double fresh = at_may_put(sludge, "fresh_solids", draw_round(draft, 1e-3, 5e-3, 1e-3));
    /* Left out it is 1 %, which is thicker than any fresh one here. */
    at_may_put(sludge, "thickened_solids", fresh * draw_round(draft, 1.0, 6.0, 1.0));
    at_may_put(sludge, "thickening_time", draw_round(draft, 0.5 * day, 7.0 * day, 0.5 * day));
    const int drawn = at_choose(sludge, "drawn");
    if (drawn == WR_SLUDGE_EACH_DECANT || draw_one_in(draft, 4))
        at_put(sludge, "volume", draft->room * draw_between(draft, 0.01, 0.2));
    at_may_put(sludge, "level", draw_round(draft, 0.02, 0.5, 0.02));
    if (drawn == WR_SLUDGE_BY_CALENDAR || draw_one_in(draft, 4))
        at_put(sludge, "every", draw_round(draft, 0.5 * day, 7.0 * day, 0.5 * day));
    at_choose(sludge, "to");
}

static void draw_settling(struct at spent)
{
    struct draft *draft = spent.draft;
    const struct at settling = at_block(spent, "settling");
    draft->settling = at_choose(settling, "law");
    if (draft->settling == WR_SETTLING_CLOCK || draw_one_in(draft, 3))
        at_put(settling, "time", draw_round(draft, 0.5 * hour, 10.0 * hour, 0.5 * hour));
    if (draft->settling == WR_SETTLING_CLASSES)
        draw_classes(settling);
    if (draft->settling == WR_SETTLING_ZONE)
        draw_zone(settling);
    at_may_put(settling, "polymer_factor", draw_round(draft, 1.0, 5.0, 0.5));
    if (draw_one_in(draft, 2))
        at_put(settling, "clear_at", draw_round(draft, 5e-3, 0.2, 5e-3));
    draft->fixed = at_choose(settling, "draw_off") == WR_DRAW_FIXED;
    draft->draw_height = at_may_put(settling, "draw_height", draw_round(draft, 0.1, 0.5, 0.1));
    at_may_put(settling, "start_after",
               draw_one_in(draft, 4) ? 0.0 : draw_round(draft, 5.0 * minute, 5.0 * hour, 5.0 * minute));
    at_may_put(settling, "sludge_share", draw_one_in(draft, 4) ? 0.0 : draw_round(draft, 0.02, 0.4, 0.02));
}

/* What a wash with regenerant leaves never goes back. */
static void draw_outlet(struct at spent)
{
    struct draft *draft = spent.draft;
    const struct at outlet = at_item(spent, "outlets");
    const bool may_recycle = draft->sequence != WR_TEMPLATE_BATCH_REGENERATION;
    const bool recycles = may_recycle && draw_one_in(draft, 2);
    const int kind = recycles ? WR_OUTLET_RECYCLE : (int)draw_pick(draft, WR_OUTLET_SEWER, WR_OUTLET_HAUL);
    at_put_choice(outlet, "kind", kind);
    draft->recycles = draft->recycles || recycles;
    if (!recycles)
        at_put(outlet, "rate", draft->room / draw_between(draft, 0.5 * hour, 20.0 * hour));
    at_may_put_hours(outlet, "hours", 4);
    if (draw_one_in(draft, 3))
        at_put_flag(outlet, "emergency", draw_one_in(draft, 2));
    if (draw_one_in(draft, 4))
        at_put(outlet, "daily_volume", draft->room * draw_between(draft, 0.3, 3.0));
}

static void draw_recycle(struct at root)
{
    struct draft *draft = root.draft;
    if (!draft->recycles && !draw_one_in(draft, 3))
        return;
    const struct at recycle = at_block(root, "recycle");
    if (draft->recycles || draw_one_in(draft, 2))
        at_put(recycle, "pump", draw_between(draft, 0.01, 0.25) * draft->capacity);
    at_choose(recycle, "control");
    at_may_put(recycle, "max_fraction", draw_round(draft, 0.05, 0.25, 0.05));
    if (draw_one_in(draft, 4))
        at_put(recycle, "max_blend_solids", draft->solids * draw_between(draft, 0.9, 3.0));
}

void draw_spent_wash(struct at root)
{
    struct draft *draft = root.draft;
    if (!draw_one_in(draft, 6)) {
        const struct at spent = at_block(root, "spent_wash");
        if (!draw_one_in(draft, 3))
            draw_settling(spent);
        if (draft->settling != WR_SETTLING_NONE && draw_one_in(draft, 2))
            draw_sludge(spent);
        draw_tanks(spent);
        const size_t outlets = draw_pick(draft, draft->tank_count > 0 ? 1 : 0, 3);
        for (size_t i = 0; i < outlets; i++)
            draw_outlet(spent);
    }
    draw_recycle(root);
}
