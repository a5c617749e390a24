/* SPDX-License-Identifier: GPL-3.0-or-later */

/* What the spent-wash tanks' turns tell beside what the diary noted: whether a tank stood for its time or for the
 * clarity of its water, and what sludge went. All of it was noted as it happened. */

#include "sim/report/explain.h"
#include "sim/report/say.h"

#include <math.h>

/* Rounding of the two moments is no reason. */
static const double HAIR = 30; /* s */

static const char *name_of(const struct wr_teller *teller, size_t tank)
{
    return teller->run->plant.definition->spent_wash.tanks.items[tank].name;
}

/* Where a turn of a tank stopped for what is not the clock. */
static void say_turn(struct wr_page *s, const struct wr_teller *teller, const struct wr_turn *turn, double from)
{
    if (turn->unsettled) {
        wr_page_add(s, " %s was drawn off as it was, in an emergency, from ", name_of(teller, turn->tank));
        wr_explain_say_clock(s, teller, turn->drawn_from, from);
        wr_page_add(s, ".");
    } else if (!isfinite(turn->clear_at))
        wr_page_add(s, " The water of %s was never clear enough.", name_of(teller, turn->tank));
    else if (turn->clear_at > turn->time_up_at + HAIR) {
        wr_page_add(s, " %s had stood its time by ", name_of(teller, turn->tank));
        wr_explain_say_clock(s, teller, turn->time_up_at, from);
        wr_page_add(s, ", but its water was not clear enough before ");
        wr_explain_say_clock(s, teller, turn->clear_at, turn->time_up_at);
        wr_page_add(s, ".");
    }
}

void wr_explain_say_turns(struct wr_page *s, const struct wr_teller *teller, double from, double to)
{
    const struct wr_tank_lists *lists = &teller->run->record.tanks;
    for (size_t i = 0; i < lists->turn_count; i++) {
        const struct wr_turn *turn = &lists->turns[i];
        const double until = fmin(turn->drawn_from, turn->ended_at);
        if (turn->settles_at < to && until > from)
            say_turn(s, teller, turn, from);
    }
}

void wr_explain_say_sludge(struct wr_page *s, const struct wr_teller *teller, double from, double to)
{
    const struct wr_tank_lists *lists = &teller->run->record.tanks;
    double water = 0, solids = 0;
    size_t draws = 0, for_room = 0;
    for (size_t i = 0; i < lists->draw_count; i++) {
        const struct wr_draw_record *draw = &lists->draws[i];
        if (!(draw->time >= from && draw->time < to))
            continue;
        water += draw->water;
        solids += draw->solids;
        draws++;
        for_room += draw->why == WR_DRAW_FOR_ROOM;
    }
    if (draws == 0)
        return;
    wr_page_add(s, " Sludge was drawn %s: %s with %s of dry solids", wr_say_count(draws, "time", "times").text,
                wr_say(WR_QUANTITY_VOLUME, water, teller->units).text,
                wr_say(WR_QUANTITY_MASS, solids, teller->units).text);
    if (for_room > 0)
        wr_page_add(s, ", %s beyond the rule so that the largest wash fits",
                    wr_say_count(for_room, "time", "times").text);
    wr_page_add(s, ".");
}

bool wr_explain_say_decant(struct wr_page *s, const struct wr_teller *teller, double time)
{
    const struct wr_tank_lists *lists = &teller->run->record.tanks;
    const enum wr_units units = teller->units;
    for (size_t i = 0; i < lists->turn_count; i++) {
        const struct wr_turn *turn = &lists->turns[i];
        if (!(turn->drawn_from <= time && turn->ended_at > time) || !(turn->lifted > 0))
            continue;
        wr_page_add(s, "It was %s, which had begun to settle at ", name_of(teller, turn->tank));
        wr_explain_say_clock(s, teller, turn->settles_at, time);
        wr_page_add(s, " with %s in it and was drawn off from ", wr_say(WR_QUANTITY_VOLUME, turn->content, units).text);
        wr_explain_say_clock(s, teller, turn->drawn_from, turn->settles_at);
        wr_page_add(s, ". Its blanket was %s then, and %s of sludge stood above the draw-off and went with the water",
                    wr_say(WR_QUANTITY_VOLUME, turn->settled, units).text,
                    wr_say(WR_QUANTITY_VOLUME, turn->lifted, units).text);
        if (wr_is_given(turn->solids))
            wr_page_add(s, ", which held %s of solids", wr_say(WR_QUANTITY_CONCENTRATION, turn->solids, units).text);
        wr_page_add(s, ".");
        return true;
    }
    return false;
}
