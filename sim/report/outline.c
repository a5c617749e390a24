/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plant as understood: a paragraph a part, for its author to hold against the plant that was meant. */
#include "sim/study/outline.h"
#include "sim/report/json.h"
#include "sim/report/report.h"
#include "sim/report/say.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>

/* Adds a paragraph beside the name of its part. */
static void add_part(struct wr_page *page, const char *part, struct wr_page *sentences)
{
    char lead[24];
    snprintf(lead, sizeof lead, "  %-13s", part);
    wr_page_flow_page(page, lead, sentences);
}

static struct wr_phrase flow(double value, enum wr_units units)
{
    return wr_say(WR_QUANTITY_FLOW, value, units);
}

static struct wr_phrase volume(double value, enum wr_units units)
{
    return wr_say(WR_QUANTITY_VOLUME, value, units);
}

static void say_filters(struct wr_page *page, const struct wr_plant *plant, const struct wr_outline *o,
                        enum wr_units units)
{
    struct wr_page s = {0};
    wr_page_add(&s, "%s of %s in all, approved for %s", wr_say_count(plant->filter_count, "filter", "filters").text,
                wr_say(WR_QUANTITY_AREA, o->area, units).text, flow(o->approved_flow, units).text);
    if (plant->filter_count > 1)
        wr_page_add(&s, "; with %s out %s and %s", plant->names[o->filter_out],
                    wr_say(WR_QUANTITY_AREA, o->area_left, units).text, flow(o->approved_flow_left, units).text);
    wr_page_add(&s, ".");
    add_part(page, "Filters", &s);
}

static void say_demand(struct wr_page *page, const struct wr_plant *plant, const struct wr_outline *o,
                       enum wr_units units)
{
    struct wr_page s = {0};
    double most = 0;
    for (size_t h = 0; h < 24; h++)
        most = fmax(most, plant->demand.values[h]);
    wr_page_add(&s, "%s, a mean of %s and %s in the busiest hour: through all filters %s",
                wr_say(WR_QUANTITY_DAILY_FLOW, o->demand, units).text, flow(o->demand, units).text,
                flow(most, units).text, wr_say(WR_QUANTITY_RATE, o->rate, units).text);
    if (isfinite(o->rate_left))
        wr_page_add(&s, ", with %s out %s", plant->names[o->filter_out],
                    wr_say(WR_QUANTITY_RATE, o->rate_left, units).text);
    wr_page_add(&s, ".");
    add_part(page, "Maximum day", &s);
}

static void say_wells(struct wr_page *page, const struct wr_plant *plant, const struct wr_outline *o,
                      enum wr_units units)
{
    const struct wr_wells *wells = &plant->definition->wells;
    struct wr_page s = {0};
    double first = 0, last = 1, stop = 1, all_stop = 0;
    for (size_t w = 0; w < wells->count; w++) {
        first = fmax(first, wells->items[w].on_below);
        last = fmin(last, wells->items[w].on_below);
        stop = fmin(stop, wells->items[w].off_above);
        all_stop = fmax(all_stop, wells->items[w].off_above);
    }
    wr_page_add(&s, "%s of %s in all", wr_say_count(wells->count, "well", "wells").text,
                flow(o->wells_flow, units).text);
    if (o->demand > 0)
        wr_page_add(&s, ", %s of the maximum day", wr_say_share(o->wells_flow / o->demand).text);
    if (wells->count > 1) {
        wr_page_add(&s, "; with %s out %s", wells->items[o->well_out].name, flow(o->wells_flow_left, units).text);
        if (o->demand > 0)
            wr_page_add(&s, ", %s of it", wr_say_share(o->wells_flow_left / o->demand).text);
    }
    wr_page_add(&s, ". At one time %s of wells fit the filters", flow(o->wells_fit, units).text);
    if (plant->filter_count > 1)
        wr_page_add(&s, ", %s with %s out", flow(o->wells_fit_left, units).text, plant->names[o->filter_out]);
    if (wells->count > 1)
        wr_page_add(&s,
                    ". Falling storage calls the first at %s and the last at %s; rising storage stops one at %s and "
                    "all at %s.",
                    wr_say_share(first).text, wr_say_share(last).text, wr_say_share(stop).text,
                    wr_say_share(all_stop).text);
    else
        wr_page_add(&s, ". Storage calls it at %s and stops it at %s.", wr_say_share(first).text,
                    wr_say_share(stop).text);
    add_part(page, "Wells", &s);
}

static void say_storage(struct wr_page *page, const struct wr_plant *plant, const struct wr_outline *o,
                        enum wr_units units)
{
    const struct wr_storage *storage = &plant->definition->storage;
    struct wr_page s = {0};
    wr_page_add(&s, "%s", volume(storage->volume, units).text);
    if (isfinite(o->storage_lasts))
        wr_page_add(&s, ": %s of the maximum day when full, %s of it above the reserve",
                    wr_say_duration(o->storage_lasts).text, wr_say_duration(o->above_reserve_lasts).text);
    wr_page_add(&s, ". The reserve of %s is %s; low storage is noted at %s.", wr_say_share(storage->reserve).text,
                volume(storage->reserve * storage->volume, units).text, wr_say_share(storage->low_mark).text);
    add_part(page, "Storage", &s);
}

static void say_water(struct wr_page *page, const struct wr_plant *plant, enum wr_units units)
{
    const struct wr_raw_water *raw = &plant->definition->raw_water;
    struct wr_page s = {0};
    wr_page_add(&s, "%s of dry solids", wr_say(WR_QUANTITY_CONCENTRATION, plant->raw[WR_SOLIDS], units).text);
    if (wr_is_given(raw->suspended_solids))
        wr_page_add(&s, ", as given");
    else
        wr_page_add(&s, ": %s of iron by %.3g and %s of manganese by %.3g",
                    wr_say(WR_QUANTITY_CONCENTRATION, plant->raw[WR_IRON], units).text, raw->dry_solids_per_iron,
                    wr_say(WR_QUANTITY_CONCENTRATION, plant->raw[WR_MANGANESE], units).text,
                    raw->dry_solids_per_manganese);
    wr_page_add(&s, ". Water of %s.", wr_say(WR_QUANTITY_TEMPERATURE, raw->temperature, units).text);
    add_part(page, "Raw water", &s);
}

/* What calls a wash, in the words of its keys. */
static void say_triggers(struct wr_page *page, const struct wr_plant *plant, enum wr_units units)
{
    const struct wr_triggers *t = &plant->definition->wash.triggers;
    struct wr_page s = {0};
    const char *join = "";
    wr_page_add(&s, "Called by ");
    if (wr_is_given(t->differential)) {
        wr_page_add(&s, "a differential of %s across the %s, %s, that lasts %s",
                    wr_say_head(t->differential, units).text, t->across == WR_ACROSS_BED ? "bed" : "filter",
                    t->differential_as == WR_AS_CORRECTED ? "corrected to the approved rate" : "as measured",
                    wr_say_duration(t->persistence).text);
        join = ", or ";
    }
    if (wr_is_given(t->run_hours)) {
        wr_page_add(&s, "%s%s with flow", join, wr_say_duration(t->run_hours).text);
        join = ", or ";
    }
    if (wr_is_given(t->volume)) {
        wr_page_add(&s, "%s%s", join, wr_say(WR_QUANTITY_RUN_VOLUME, t->volume, units).text);
        join = ", or ";
    }
    if (plant->rota_count > 0)
        wr_page_add(&s, "%s the rota", join);
    wr_page_add(&s, ".");
    add_part(page, "Washes", &s);
}

static const char *step_words(enum wr_step_kind kind)
{
    static const char *const words[WR_STEPS] = {[WR_STEP_SHUT] = "valves",
                                                [WR_STEP_FILTER_DOWN] = "filtering down",
                                                [WR_STEP_DRAIN] = "draining",
                                                [WR_STEP_AIR] = "air",
                                                [WR_STEP_FILL] = "filling",
                                                [WR_STEP_SLOW_START] = "slow start",
                                                [WR_STEP_BACKWASH] = "backwash",
                                                [WR_STEP_SLOW_STOP] = "slow stop",
                                                [WR_STEP_BED_SETTLE] = "bed settling",
                                                [WR_STEP_REGENERATE] = "regenerating",
                                                [WR_STEP_REFILL] = "refilling",
                                                [WR_STEP_TURN_VALVES] = "valves",
                                                [WR_STEP_RINSE] = "rinse",
                                                [WR_STEP_RETURN] = "valves"};
    return words[kind];
}

/* The steps of the wash that sends most to spent wash; those of other groups differ at most in their flows. */
static void say_steps(struct wr_page *page, const struct wr_plant *plant, const struct wr_outline *o,
                      enum wr_units units)
{
    const struct wr_group *g = &plant->groups[o->largest_wash];
    struct wr_page s = {0};
    for (size_t i = 0; i < g->step_count; i++)
        wr_page_add(&s, "%s%s %s", i > 0 ? ", " : "In turn: ", step_words(g->steps[i].kind),
                    wr_say_duration(g->steps[i].duration).text);
    wr_page_add(&s, ": %s off line. Backwash at %s is %s.", wr_say_duration(g->off_line).text,
                wr_say(WR_QUANTITY_RATE, plant->definition->wash.backwash_rate, units).text,
                flow(plant->definition->wash.backwash_rate * g->area, units).text);
    if (g->start_rinse.duration > 0)
        wr_page_add(&s, " Whenever the plant starts, filters run to waste for %s.",
                    wr_say_duration(g->start_rinse.duration).text);
    if (g->held_volume > 0)
        wr_page_add(&s, " Its regenerant, %s, goes to a holding tank of %s that is emptied every %s.",
                    volume(g->held_volume, units).text, volume(plant->definition->wash.holding.volume, units).text,
                    wr_say_duration(plant->definition->wash.holding.emptied_every).text);
    add_part(page, "", &s);
}

static void say_wash_load(struct wr_page *page, const struct wr_outline *o, enum wr_units units)
{
    struct wr_page s = {0};
    if (o->washes <= 0) {
        wr_page_add(&s, "On the maximum day no filter ever calls.");
    } else if (!isfinite(o->washes)) {
        wr_page_add(&s, "On the maximum day a filter calls as soon as it is washed.");
    } else {
        wr_page_add(&s,
                    "On the maximum day %s a day over all filters, one every %s: %s of wash water and %s of spent "
                    "wash a day",
                    wr_say_few(o->washes).text, wr_say_duration(o->between_washes).text,
                    volume(o->wash_water, units).text, volume(o->spent_wash, units).text);
        if (isfinite(o->wash_share))
            wr_page_add(&s, ", which is %s of that day's water", wr_say_share(o->wash_share).text);
        wr_page_add(&s, ".");
    }
    add_part(page, "", &s);
}

static void say_wash_water(struct wr_page *page, const struct wr_plant *plant, const struct wr_outline *o,
                           enum wr_units units)
{
    static const char *const sources[] = {[WR_WATER_FROM_TANK] = "a tank of its own",
                                          [WR_WATER_FROM_STORAGE] = "storage above its reserve",
                                          [WR_WATER_FROM_FILTERS] = "the filters still in service",
                                          [WR_WATER_FROM_WELLS] = "the wells, raw",
                                          [WR_WATER_FROM_SYSTEM] = "the pressure of the mains"};
    const struct wr_wash_water *source = &plant->definition->wash_water;
    struct wr_page s = {0};
    wr_page_add(&s, "From %s. A wash draws %s at most", sources[source->source], flow(o->wash_flow, units).text);
    if (wr_is_given(o->source_flow))
        wr_page_add(&s, ", and the source gives up to %s", flow(o->source_flow, units).text);
    wr_page_add(&s, ".");
    if (source->source == WR_WATER_FROM_TANK)
        wr_page_add(&s, " The tank of %s holds %s washes; refill at %s makes one up in %s.",
                    volume(source->tank.volume, units).text, wr_say_few(o->tank_washes).text,
                    flow(source->tank.refill_rate, units).text, wr_say_duration(o->refill_time).text);
    add_part(page, "Wash water", &s);
}

static void say_spent_wash(struct wr_page *page, const struct wr_plant *plant, const struct wr_outline *o,
                           enum wr_units units)
{
    struct wr_page s = {0};
    if (plant->tank_count == 0) {
        wr_page_add(&s, "To the sewer as it comes: without tanks nothing waits for room.");
        add_part(page, "Spent wash", &s);
        return;
    }
    wr_page_add(&s, "%s. A wash takes %s of the largest, and empty tanks have room for %s in all. ",
                wr_say_count(plant->tank_count, "tank", "tanks").text, wr_say_share(o->tank_share).text,
                wr_say_count((size_t)o->spent_washes, "wash", "washes").text);
    if (plant->has_settling)
        wr_page_add(&s, "A mean one settles for %s; %s of it is sludge, and the rest leaves at %s. ",
                    wr_say_duration(o->settles).text, wr_say_share(o->sludge).text, flow(o->outlet_flow, units).text);
    else
        wr_page_add(&s, "It leaves unsettled at %s. ", flow(o->outlet_flow, units).text);
    if (isfinite(o->turn))
        wr_page_add(&s, "So one wash is gone after %s.", wr_say_duration(o->turn).text);
    add_part(page, "Spent wash", &s);
}

static void say_recycle(struct wr_page *page, const struct wr_plant *plant, const struct wr_outline *o,
                        enum wr_units units)
{
    const struct wr_recycle *recycle = &plant->definition->recycle;
    struct wr_page s = {0};
    if (!wr_is_given(o->recycle_needs))
        return;
    wr_page_add(&s, "%s, at most %s of raw water: the pump's whole flow needs wells of %s.",
                flow(recycle->pump, units).text, wr_say_share(recycle->max_fraction).text,
                flow(o->recycle_needs, units).text);
    add_part(page, "Recycle", &s);
}

void wr_report_outline_section(struct wr_page *page, const struct wr_plant *plant, enum wr_units units)
{
    const struct wr_outline o = wr_outline_of(plant);
    wr_page_heading(page, "The plant as understood");
    say_filters(page, plant, &o, units);
    say_demand(page, plant, &o, units);
    say_wells(page, plant, &o, units);
    say_storage(page, plant, &o, units);
    say_water(page, plant, units);
    say_triggers(page, plant, units);
    say_steps(page, plant, &o, units);
    say_wash_load(page, &o, units);
    say_wash_water(page, plant, &o, units);
    say_spent_wash(page, plant, &o, units);
    say_recycle(page, plant, &o, units);
}

void wr_report_outline_block(struct cJSON *derived, const struct wr_plant *plant)
{
    const struct wr_outline o = wr_outline_of(plant);
    struct cJSON *block = wr_json_block(derived, "plant");
    wr_json_number(block, "area_m2", o.area);
    wr_json_number(block, "area_one_out_m2", o.area_left);
    wr_json_number(block, "approved_flow_m3_per_s", o.approved_flow);
    wr_json_number(block, "approved_flow_one_out_m3_per_s", o.approved_flow_left);
    wr_json_word(block, "largest_filter", plant->names[o.filter_out]);
    wr_json_number(block, "maximum_day_m3_per_s", o.demand);
    wr_json_number(block, "maximum_day_rate_m_per_s", o.rate);
    wr_json_number(block, "maximum_day_rate_one_out_m_per_s", o.rate_left);
    wr_json_number(block, "wells_flow_m3_per_s", o.wells_flow);
    wr_json_number(block, "wells_flow_one_out_m3_per_s", o.wells_flow_left);
    wr_json_number(block, "wells_that_fit_m3_per_s", o.wells_fit);
    wr_json_number(block, "wells_that_fit_one_out_m3_per_s", o.wells_fit_left);
    wr_json_word(block, "largest_well", plant->definition->wells.items[o.well_out].name);
    wr_json_number(block, "storage_lasts_s", o.storage_lasts);
    wr_json_number(block, "storage_above_reserve_lasts_s", o.above_reserve_lasts);
    wr_json_number(block, "washes_per_day", o.washes);
    wr_json_number(block, "between_washes_s", o.between_washes);
    wr_json_number(block, "wash_systems_busy_share", o.busy);
    wr_json_number(block, "wash_water_m3_per_day", o.wash_water);
    wr_json_number(block, "spent_wash_m3_per_day", o.spent_wash);
    wr_json_number(block, "spent_wash_share_of_maximum_day", o.wash_share);
    wr_json_number(block, "wash_flow_m3_per_s", o.wash_flow);
    wr_json_number(block, "wash_water_source_m3_per_s", o.source_flow);
    wr_json_number(block, "wash_tank_holds_washes", o.tank_washes);
    wr_json_number(block, "wash_tank_refill_of_a_wash_s", o.refill_time);
    wr_json_number(block, "spent_wash_tanks_hold_washes", o.spent_washes);
    wr_json_number(block, "wash_share_of_largest_tank", o.tank_share);
    wr_json_number(block, "outlet_m3_per_s", o.outlet_flow);
    wr_json_number(block, "room_for_washes_per_day", o.room_washes);
    wr_json_number(block, "settle_and_empty_a_wash_s", o.turn);
    wr_json_number(block, "recycle_needs_raw_m3_per_s", o.recycle_needs);
}
