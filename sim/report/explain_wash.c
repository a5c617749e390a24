/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/explain.h"
#include "sim/report/say.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

const char *wr_explain_tank_name(const struct wr_plant *plant, size_t tank)
{
    if (tank < plant->tank_count)
        return plant->definition->spent_wash.tanks.items[tank].name;
    return tank == plant->tank_count + WR_BEYOND_SPILL ? "the ground" : "the sewer";
}

const char *wr_explain_step_key(enum wr_step_kind kind)
{
    static const char *const keys[WR_STEPS] = {[WR_STEP_SHUT] = "shut",
                                               [WR_STEP_FILTER_DOWN] = "filter_down",
                                               [WR_STEP_DRAIN] = "drain",
                                               [WR_STEP_AIR] = "air",
                                               [WR_STEP_FILL] = "fill",
                                               [WR_STEP_SLOW_START] = "slow_start",
                                               [WR_STEP_BACKWASH] = "backwash",
                                               [WR_STEP_SLOW_STOP] = "slow_stop",
                                               [WR_STEP_BED_SETTLE] = "bed_settle",
                                               [WR_STEP_REGENERATE] = "regenerate",
                                               [WR_STEP_REFILL] = "refill",
                                               [WR_STEP_TURN_VALVES] = "turn_valves",
                                               [WR_STEP_RINSE] = "rinse",
                                               [WR_STEP_RETURN] = "return"};
    return keys[kind];
}

const char *wr_explain_step_words(enum wr_step_kind kind)
{
    static const char *const words[WR_STEPS] = {[WR_STEP_SHUT] = "valves shut",
                                                [WR_STEP_FILTER_DOWN] = "filters down",
                                                [WR_STEP_DRAIN] = "drains",
                                                [WR_STEP_AIR] = "air scour",
                                                [WR_STEP_FILL] = "slow fill",
                                                [WR_STEP_SLOW_START] = "backwash, half rate",
                                                [WR_STEP_BACKWASH] = "backwash, full rate",
                                                [WR_STEP_SLOW_STOP] = "backwash, half rate",
                                                [WR_STEP_BED_SETTLE] = "bed settles",
                                                [WR_STEP_REGENERATE] = "regeneration",
                                                [WR_STEP_REFILL] = "refill from below",
                                                [WR_STEP_TURN_VALVES] = "valves turn to rinse",
                                                [WR_STEP_RINSE] = "rinse to waste",
                                                [WR_STEP_RETURN] = "valves turn to service"};
    return words[kind];
}

void wr_explain_say_clock(struct wr_page *s, const struct wr_teller *teller, double seconds, double other)
{
    const double start = teller->run->plant.definition->start;
    const struct wr_phrase moment = wr_say_moment(start, seconds), before = wr_say_moment(start, other);
    const char *clock = strstr(moment.text, " at ");
    const size_t day = (size_t)(clock - moment.text) + 1;
    wr_page_add(s, "%s", strncmp(moment.text, before.text, day) == 0 ? clock + 4 : moment.text);
}

static const struct wr_group *group_of(const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    return &teller->run->plant.groups[teller->run->plant.group_of[wash->filter]];
}

/* The call --------------------------------------------------------------------------------------------------------- */

static void say_differential(struct wr_page *s, const struct wr_teller *teller, const struct wr_diary_wash *wash,
                             const char *level, double trigger)
{
    const struct wr_triggers *t = &teller->run->plant.definition->wash.triggers;
    wr_page_add(s, "its differential%s, %s, stood at %s, at or above its %s of %s",
                t->across == WR_ACROSS_BED ? " across the bed" : "",
                t->differential_as == WR_AS_CORRECTED ? "corrected to the approved rate" : "as measured",
                wr_say_head(wash->judged_at_call, teller->units).text, level, wr_say_head(trigger, teller->units).text);
    if (t->persistence > 0)
        wr_page_add(s, " for %s", wr_say_duration(t->persistence).text);
}

static void say_trigger(struct wr_page *s, const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    const struct wr_triggers *t = &teller->run->plant.definition->wash.triggers;
    switch (wash->trigger) {
    case WR_TRIGGER_DIFFERENTIAL:
        say_differential(s, teller, wash, "trigger", t->differential);
        break;
    case WR_TRIGGER_URGENT:
        say_differential(s, teller, wash, "urgent level", t->urgent_differential);
        break;
    case WR_TRIGGER_HOURS:
        wr_page_add(s, "it had run %s with flow, its limit of run hours", wr_say_duration(t->run_hours).text);
        break;
    case WR_TRIGGER_VOLUME:
        wr_page_add(s, "it had passed %s, its limit of volume",
                    wr_say(WR_QUANTITY_RUN_VOLUME, t->volume, teller->units).text);
        break;
    case WR_TRIGGER_ROTA:
        wr_page_add(s, "its turn by the rota had come");
        break;
    default:
        wr_page_add(s, "its wash before had been interrupted");
    }
}

static void put_call(struct wr_page *page, const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    struct wr_page s = {0};
    wr_page_add(&s, "%s called for a wash on %s, when ", teller->run->plant.names[wash->filter],
                wr_say_moment(teller->run->plant.definition->start, wash->called_at).text);
    say_trigger(&s, teller, wash);
    wr_page_add(&s, ".");
    if (wash->rate_at_call > 0 && wash->trigger != WR_TRIGGER_INTERRUPTED)
        wr_page_add(&s, " It ran at %s then; its approved rate is %s.",
                    wr_say(WR_QUANTITY_RATE, wash->rate_at_call, teller->units).text,
                    wr_say(WR_QUANTITY_RATE, group_of(teller, wash)->approved_rate, teller->units).text);
    if (wash->waited <= 0 && isfinite(wash->started_at))
        wr_page_add(&s, " Nothing held it, and its wash started at once.");
    wr_page_flow_page(page, "  ", &s);
}

/* The steps -------------------------------------------------------------------------------------------------------- */

static void say_where(struct wr_page *s, const struct wr_teller *teller, const struct wr_diary_wash *wash,
                      const struct wr_diary_step *step)
{
    const char *spent = wr_explain_tank_name(&teller->run->plant, wash->tank);
    if (step->wants_water && step->wash_water <= 0)
        wr_page_add(s, "passed over: no wash water");
    else if (step->wash_water > 0 && step->goes_to == WR_TO_SPENT)
        wr_page_add(s, "wash water, to %s", spent);
    else if (step->wash_water > 0)
        wr_page_add(s, "wash water, to %s",
                    step->goes_to == WR_TO_FILTER    ? "the filter"
                    : step->goes_to == WR_TO_HOLDING ? "the holding tank"
                                                     : "the sewer");
    else if (step->feed > 0)
        wr_page_add(s, "feed, to %s", step->feed_goes_to == WR_TO_SEWER ? "the sewer" : spent);
    else if (step->drained > 0)
        wr_page_add(s, "the filter's own, to %s", spent);
    else if (step->down > 0)
        wr_page_add(s, "the filter's own, into service");
}

static void put_step(struct wr_grid *grid, const struct wr_teller *teller, const struct wr_diary_wash *wash,
                     const struct wr_diary_step *step)
{
    struct wr_page at = {0}, where = {0};
    const double water = step->wash_water + step->feed + step->drained + step->down;
    wr_explain_say_clock(&at, teller, step->from, wash->started_at);
    say_where(&where, teller, wash, step);
    wr_grid_add(grid, "%s", at.bytes);
    wr_grid_add(grid, "%s", wr_explain_step_words(step->kind));
    wr_grid_add(grid, "%s", isfinite(step->to) ? wr_say_duration(step->to - step->from).text : "goes on");
    wr_grid_add(grid, "%s", water > 0 ? wr_say_bare(WR_QUANTITY_VOLUME, water, teller->units).text : "-");
    wr_grid_add(grid, "%s", where.bytes != NULL ? where.bytes : "");
    free(at.bytes);
    free(where.bytes);
}

static void put_steps(struct wr_page *page, const struct wr_teller *teller, size_t wash)
{
    struct wr_grid grid = {.align = "llrrl", .heads = 1};
    wr_grid_add(&grid, "at");
    wr_grid_add(&grid, "step");
    wr_grid_add(&grid, "lasts");
    wr_grid_add(&grid, "%s", wr_quantity_unit(WR_QUANTITY_VOLUME, teller->units));
    wr_grid_add(&grid, "whose water, and where to");
    for (size_t i = 0; i < teller->diary->steps.count; i++)
        if (wr_diary_step(teller->diary, i)->wash == wash)
            put_step(&grid, teller, wr_diary_wash(teller->diary, wash), wr_diary_step(teller->diary, i));
    wr_page_add(page, "\n");
    wr_page_grid(page, &grid);
    wr_page_add(page, "\n");
}

/* The water -------------------------------------------------------------------------------------------------------- */

struct wr_wash_sums wr_explain_sums(const struct wr_diary *diary, size_t wash)
{
    struct wr_wash_sums sums = {0};
    for (size_t i = 0; i < diary->steps.count; i++) {
        const struct wr_diary_step *step = wr_diary_step(diary, i);
        if (step->wash != wash)
            continue;
        sums.wash_water += step->wash_water;
        sums.backwash += step->goes_to == WR_TO_SPENT ? step->wash_water : 0;
        sums.into_filter += step->goes_to == WR_TO_FILTER ? step->wash_water : 0;
        sums.to_holding += step->goes_to == WR_TO_HOLDING ? step->wash_water : 0;
        sums.to_sewer += step->goes_to == WR_TO_SEWER ? step->wash_water : 0;
        sums.feed += step->feed;
        sums.feed_to_sewer += step->feed_goes_to == WR_TO_SEWER ? step->feed : 0;
        sums.drained += step->drained;
        sums.down += step->down;
    }
    sums.spent = sums.backwash + sums.feed - sums.feed_to_sewer + sums.drained;
    return sums;
}

static struct wr_phrase say_volume(const struct wr_teller *teller, double volume)
{
    return wr_say(WR_QUANTITY_VOLUME, volume, teller->units);
}

/* Where wash water came from. */
static void say_source(struct wr_page *s, const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    const struct wr_definition *d = teller->run->plant.definition;
    static const char *const sources[] = {[WR_WATER_FROM_TANK] = "the wash-water tank",
                                          [WR_WATER_FROM_STORAGE] = "storage",
                                          [WR_WATER_FROM_FILTERS] = "the other filters",
                                          [WR_WATER_FROM_WELLS] = "the wells",
                                          [WR_WATER_FROM_SYSTEM] = "the system's pressure"};
    wr_page_add(s, "%s", sources[d->wash_water.source]);
    if (d->wash_water.source == WR_WATER_FROM_TANK && isfinite(wash->ended_at))
        wr_page_add(s, ", which held %s before it and %s after", say_volume(teller, wash->at_start.wash_tank).text,
                    say_volume(teller, wash->at_end.wash_tank).text);
}

static void say_spent(struct wr_page *s, const struct wr_teller *teller, const struct wr_diary_wash *wash,
                      const struct wr_wash_sums *sums)
{
    if (sums->spent <= 0)
        return;
    wr_page_add(s, " %s went to %s", say_volume(teller, sums->spent).text,
                wr_explain_tank_name(&teller->run->plant, wash->tank));
    if (wash->tank < teller->run->plant.tank_count)
        wr_page_add(s, ", which held %s before it and %s as it ended", say_volume(teller, wash->tank_before).text,
                    say_volume(teller, wash->tank_after).text);
    wr_page_add(s, ".");
}

static void put_water(struct wr_page *page, const struct wr_teller *teller, size_t place)
{
    const struct wr_diary_wash *wash = wr_diary_wash(teller->diary, place);
    const struct wr_wash_sums sums = wr_explain_sums(teller->diary, place);
    struct wr_page s = {0};
    wr_page_add(&s, "The wash took %s from ", say_volume(teller, sums.wash_water).text);
    say_source(&s, teller, wash);
    if (sums.feed > 0)
        wr_page_add(&s, "; its rinse took %s of the filters' feed", say_volume(teller, sums.feed).text);
    wr_page_add(&s, ".");
    say_spent(&s, teller, wash, &sums);
    if (sums.feed_to_sewer > 0)
        wr_page_add(&s, " %s of rinse water went to the sewer.", say_volume(teller, sums.feed_to_sewer).text);
    if (sums.to_holding > 0)
        wr_page_add(&s, " %s of spent regenerant went to its holding tank.", say_volume(teller, sums.to_holding).text);
    wr_page_flow_page(page, "  ", &s);
}

/* The plant and the bed -------------------------------------------------------------------------------------------- */

static void put_meanwhile(struct wr_page *page, const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    const double volume = teller->run->plant.definition->storage.volume;
    struct wr_page s = {0};
    wr_page_add(&s, "It was off line for %s.", wr_say_duration(wash->ended_at - wash->started_at).text);
    if (teller->run->plant.filter_count > 1)
        wr_page_add(&s, " Meanwhile %s in service at the least, and the fastest ran at %s at most.",
                    wr_say_count(wash->least_in_service, "filter was", "filters were").text,
                    wr_say(WR_QUANTITY_RATE, wash->highest_rate, teller->units).text);
    wr_page_add(&s, " Storage stood at %s as it began and at %s as it ended, with %s running before it and %zu after.",
                wr_say_share(wash->at_start.storage / volume).text, wr_say_share(wash->at_end.storage / volume).text,
                wr_say_count(wash->at_start.wells, "well", "wells").text, wash->at_end.wells);
    wr_page_flow_page(page, "  ", &s);
}

/* A differential corrected by the ratio of rates stands below the true one at the approved rate where pipes and valves
 * have a part in it. A reader who compares the two should be told. */
static bool correction_falls_short(const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    const int as = teller->run->plant.definition->wash.triggers.differential_as;
    return as == WR_AS_CORRECTED && wash->trigger == WR_TRIGGER_DIFFERENTIAL && wash->waited <= 0 &&
           wash->dirty > wash->judged_at_call * 1.01;
}

static void put_bed(struct wr_page *page, const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    struct wr_page s = {0};
    wr_page_add(&s, "The run before it had lasted %s with flow and passed %s; the bed held %s",
                wr_say_duration(wash->hours).text, wr_say(WR_QUANTITY_RUN_VOLUME, wash->volume, teller->units).text,
                wr_say(WR_QUANTITY_LOAD, wash->load, teller->units).text);
    if (isfinite(wash->ended_at))
        wr_page_add(&s,
                    ", and %s after. At the approved rate its differential is %s with that load, and %s after the wash",
                    wr_say(WR_QUANTITY_LOAD, wash->load_after, teller->units).text,
                    wr_say_head(wash->dirty, teller->units).text, wr_say_head(wash->clean, teller->units).text);
    wr_page_add(&s, ".");
    if (correction_falls_short(teller, wash))
        wr_page_add(&s, " That is more than the corrected figure, which leaves out what rises with the square of the "
                        "rate.");
    if (wash->load > wash->load_at_call * (1 + 1e-9))
        wr_page_add(&s, " It took in %s of that while it waited.",
                    wr_say(WR_QUANTITY_LOAD, wash->load - wash->load_at_call, teller->units).text);
    if (wash->weak)
        wr_page_add(&s, " The wash got less than its whole water.");
    wr_page_flow_page(page, "  ", &s);
}

/* The story -------------------------------------------------------------------------------------------------------- */

static void put_ending(struct wr_page *page, const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    if (wash->interrupted)
        wr_page_flow(
            page, "  ",
            "On %s the wash pump went out of service: the wash was interrupted, and the filter stayed off line "
            "and in line for another.",
            wr_say_moment(teller->run->plant.definition->start, wash->at_end.time).text);
    else
        wr_page_flow(page, "  ", "The wash was still under way at the end of the run.");
}

void wr_explain_put_wash(struct wr_page *page, const struct wr_teller *teller, size_t place)
{
    const struct wr_diary_wash *wash = wr_diary_wash(teller->diary, place);
    put_call(page, teller, wash);
    wr_explain_put_wait(page, teller, wash);
    if (isinf(wash->started_at))
        return;
    put_steps(page, teller, place);
    put_water(page, teller, place);
    if (isfinite(wash->ended_at))
        put_meanwhile(page, teller, wash);
    put_bed(page, teller, wash);
    if (isinf(wash->ended_at))
        put_ending(page, teller, wash);
}

void wr_explain_say_in_short(struct wr_page *s, const struct wr_teller *teller, const struct wr_diary_wash *wash)
{
    struct wr_reason *reasons;
    const size_t count = wr_explain_reasons(teller, wash, &reasons);
    wr_page_add(s, "%s, wash %zu: called on %s by %s", teller->run->plant.names[wash->filter], wash->number,
                wr_say_moment(teller->run->plant.definition->start, wash->called_at).text,
                wr_say_key(wr_report_trigger_key(wash->trigger)).text);
    if (wash->waited > 0)
        wr_page_add(s, ", waited %s", wr_say_duration(wash->waited).text);
    if (count > 0) {
        size_t longest = 0;
        for (size_t r = 1; r < count; r++)
            if (reasons[r].to - reasons[r].from > reasons[longest].to - reasons[longest].from)
                longest = r;
        wr_page_add(s, ", longest because %s", wr_limit_row(reasons[longest].limit)->words);
    }
    if (isfinite(wash->ended_at)) {
        wr_page_add(s, ", back in service ");
        wr_explain_say_clock(s, teller, wash->ended_at, wash->called_at);
    }
    wr_page_add(s, ".");
    free(reasons);
}
