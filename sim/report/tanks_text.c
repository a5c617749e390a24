/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/page.h"
#include "sim/report/report.h"
#include "sim/report/say.h"
#include "sim/study/tank_sums.h"

#include <math.h>
#include <string.h>

static struct wr_phrase say_moment(const struct wr_run *run, double seconds)
{
    return wr_say_moment(run->plant.definition->start, seconds);
}

static const char *name_of(const struct wr_run *run, size_t tank)
{
    return run->plant.definition->spent_wash.tanks.items[tank].name;
}

/* Decants --------------------------------------------------------------------------------------------------------- */

static void put_decants(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    static const char *const heads[] = {"",          "",           "held by", "held by",   "stood",
                                        "past time", "solids at",  "tank",    "decants",   "time",
                                        "clarity",   "on average", "at most", "most, mg/L"};
    struct wr_grid grid = {.align = "lrrrrrr", .heads = 2};
    for (size_t h = 0; h < sizeof heads / sizeof *heads; h++)
        wr_grid_add(&grid, "%s", heads[h]);
    for (size_t t = 0; t < run->plant.tank_count; t++) {
        const struct wr_tank_sums sums = wr_tank_sums_of(run, t);
        wr_grid_add(&grid, "%s", name_of(run, t));
        wr_grid_add(&grid, "%zu", sums.decants);
        wr_grid_add(&grid, "%zu", sums.held_by_time);
        wr_grid_add(&grid, "%zu", sums.held_by_clarity);
        wr_grid_add(&grid, "%s", sums.decants > 0 ? wr_say_duration(sums.standing).text : "-");
        wr_grid_add(&grid, "%s", sums.longest_for_clarity > 0 ? wr_say_duration(sums.longest_for_clarity).text : "-");
        wr_grid_add(&grid, "%s",
                    sums.decants > 0 ? wr_say_bare(WR_QUANTITY_CONCENTRATION, sums.most_solids, units).text : "-");
    }
    wr_page_grid(page, &grid);
}

/* What the two columns mean, and what did not go as a reader would expect. */
static void say_decants(struct wr_page *page, const struct wr_run *run)
{
    const struct wr_tank_sums all = wr_tank_sums_of(run, run->plant.tank_count);
    struct wr_page s = {0};
    wr_page_add(&s,
                "A tank is drawn off when it has stood its time and its water is clear enough; the table says which "
                "of the two came last.");
    if (all.unsettled > 0)
        wr_page_add(&s, " In an emergency %s drawn off unsettled.",
                    wr_say_count(all.unsettled, "tank was", "tanks were").text);
    if (all.spoiled > 0)
        wr_page_add(&s, " %s sludge with it, which stood above the draw-off.",
                    wr_say_count(all.spoiled, "decant took", "decants took").text);
    if (all.stands_unclear)
        wr_page_add(&s, " At the end of the run a tank had stood its time and was not clear enough.");
    wr_page_flow_page(page, "  ", &s);
}

/* Sludge ---------------------------------------------------------------------------------------------------------- */

static void put_blankets(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    const char *const volume = wr_quantity_unit(WR_QUANTITY_VOLUME, units);
    const char *const mass = wr_quantity_unit(WR_QUANTITY_MASS, units);
    const char *const heads[] = {"",           "blanket", "highest",    "of its", "as it fills,", "",        "drawn",
                                 "dry solids", "tank",    "at the end", "",       "tank",         "average", "draws",
                                 "in all",     "in it",   "",           volume,   volume,         "",        volume,
                                 "",           volume,    mass};
    struct wr_grid grid = {.align = "lrrrrrrr", .heads = 3};
    wr_page_add(page, "\n");
    for (size_t h = 0; h < sizeof heads / sizeof *heads; h++)
        wr_grid_add(&grid, "%s", heads[h]);
    for (size_t t = 0; t < run->plant.tank_count; t++) {
        const struct wr_tank_sums sums = wr_tank_sums_of(run, t);
        const double size = run->plant.definition->spent_wash.tanks.items[t].volume;
        wr_grid_add(&grid, "%s", name_of(run, t));
        wr_grid_add(&grid, "%s", wr_say_bare(WR_QUANTITY_VOLUME, sums.blanket, units).text);
        wr_grid_add(&grid, "%s", wr_say_bare(WR_QUANTITY_VOLUME, sums.highest_blanket, units).text);
        wr_grid_add(&grid, "%s", wr_say_share(sums.highest_blanket / size).text);
        wr_grid_add(&grid, "%s", wr_is_given(sums.left) ? wr_say_bare(WR_QUANTITY_VOLUME, sums.left, units).text : "-");
        wr_grid_add(&grid, "%zu", sums.drawn.draws);
        wr_grid_add(&grid, "%s", wr_say_bare(WR_QUANTITY_VOLUME, sums.drawn.water, units).text);
        wr_grid_add(&grid, "%s", wr_say_bare(WR_QUANTITY_MASS, sums.drawn.solids, units).text);
    }
    wr_page_grid(page, &grid);
}

/* Where each blanket stood highest. */
static void say_highest(struct wr_page *s, const struct wr_run *run, enum wr_units units)
{
    for (size_t t = 0; t < run->plant.tank_count; t++) {
        const struct wr_tank_sums sums = wr_tank_sums_of(run, t);
        if (!wr_is_given(sums.highest_at))
            continue;
        const double height = wr_tank_height(&run->plant, t, sums.highest_blanket);
        wr_page_add(s, "%s of %s stood highest on %s", s->length == 0 ? "The blanket" : " That", name_of(run, t),
                    say_moment(run, sums.highest_at).text);
        if (wr_is_given(height))
            wr_page_add(s, ", %s high, and stands at %s now", wr_say(WR_QUANTITY_LENGTH, height, units).text,
                        wr_say(WR_QUANTITY_LENGTH, wr_tank_height(&run->plant, t, sums.blanket), units).text);
        wr_page_add(s, ".");
    }
}

/* When the plant draws its sludge next, or at what. */
static void say_next(struct wr_page *s, const struct wr_run *run, enum wr_units units)
{
    const struct wr_sludge_definition *sludge = &run->plant.definition->spent_wash.sludge;
    const double next = wr_tank_sums_of(run, 0).next;
    if (sludge->drawn == WR_SLUDGE_BY_LEVEL)
        wr_page_add(s, " The next draw comes at the end of a decant that finds the blanket at %s of its tank.",
                    wr_say_share(sludge->level).text);
    else if (sludge->drawn == WR_SLUDGE_EACH_DECANT)
        wr_page_add(s, " The next draw, of %s, comes at the end of the next decant.",
                    wr_say(WR_QUANTITY_VOLUME, sludge->volume, units).text);
    else if (isfinite(next))
        wr_page_add(s, " By the calendar the next draw is due on %s.", say_moment(run, next).text);
}

static void say_drawn(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    static const char *const places[] = {
        [WR_SLUDGE_TO_BED] = "a drying bed", [WR_SLUDGE_TO_SEWER] = "the sewer", [WR_SLUDGE_TO_HAUL] = "haulage"};
    const struct wr_spent_wash *spent = &run->plant.definition->spent_wash;
    const struct wr_tank_sums all = wr_tank_sums_of(run, run->plant.tank_count);
    struct wr_page s = {0};
    if (spent->has_blanket)
        say_highest(&s, run, units);
    if (all.drawn.draws == 0)
        wr_page_add(&s, "%sNo sludge was drawn in this run.", s.length > 0 ? " " : "");
    else {
        wr_page_add(&s, "%sSludge was drawn %s", s.length > 0 ? " " : "",
                    wr_say_count(all.drawn.draws, "time", "times").text);
        if (all.drawn.draws > 1)
            wr_page_add(&s, ", every %s on average",
                        wr_say_duration((all.drawn.last - all.drawn.first) / (double)(all.drawn.draws - 1)).text);
        wr_page_add(&s, ", last on %s: %s with %s of dry solids, to %s.", say_moment(run, all.drawn.last).text,
                    wr_say(WR_QUANTITY_VOLUME, all.drawn.water, units).text,
                    wr_say(WR_QUANTITY_MASS, all.drawn.solids, units).text,
                    spent->has_blanket ? places[spent->sludge.to] : "the plant's sludge");
    }
    if (all.for_room.draws > 0)
        wr_page_add(&s, " Of that %s had to go beyond the rule, so that the plant's largest wash would fit.",
                    wr_say(WR_QUANTITY_VOLUME, all.for_room.water, units).text);
    if (spent->has_blanket)
        say_next(&s, run, units);
    wr_page_flow_page(page, "  ", &s);
}

/* Recovery -------------------------------------------------------------------------------------------------------- */

/* "0.18 %" of dry solids by mass. */
static struct wr_phrase say_thickness(double solids)
{
    return wr_say(WR_QUANTITY_SHARE, solids / 1000, WR_UNITS_SI);
}

static void say_bound(struct wr_page *s, double thickness, double share)
{
    if (wr_is_given(share))
        wr_page_add(s, " Were all of that to leave in sludge of %s, %s of the water could come back at best.",
                    say_thickness(thickness).text, wr_say(WR_QUANTITY_SHARE, share, WR_UNITS_SI).text);
}

static void say_recovery(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    const struct wr_recovery r = wr_recovery_of(run);
    struct wr_page s = {0};
    if (r.received <= 0)
        return;
    wr_page_add(&s, "What washes sent to the tanks carried %s of dry solids on average.",
                wr_say(WR_QUANTITY_CONCENTRATION, r.solids, units).text);
    if (run->plant.definition->spent_wash.has_blanket) {
        say_bound(&s, run->plant.sludge.first_solids, r.fresh);
        say_bound(&s, run->plant.sludge.last_solids, r.thickened);
    }
    if (wr_is_given(r.drawn_solids))
        wr_page_add(&s, " The sludge drawn had %s.", say_thickness(r.drawn_solids).text);
    if (run->plant.has_recycle)
        wr_page_add(&s, " Recycle brought back %s of what the tanks %stook in.",
                    wr_say(WR_QUANTITY_SHARE, r.share, WR_UNITS_SI).text, r.held > 0 ? "held at the start and " : "");
    wr_page_flow_page(page, "  ", &s);
}

/* Outlets --------------------------------------------------------------------------------------------------------- */

static void put_held(struct wr_page *page, const struct wr_run *run)
{
    bool any = false;
    for (int l = 0; l < WR_LIMITS; l++) {
        const struct wr_limit_row *row = wr_limit_row((enum wr_limit)l);
        const struct wr_outlet_hold hold = wr_outlet_hold_of(run, (enum wr_limit)l);
        if (row->holds != WR_HOLDS_OUTLET || hold.times == 0)
            continue;
        if (!any)
            wr_page_flow(page, "  ", "With water to give, outlets were held back, wholly or in part, because");
        any = true;
        wr_page_flow(page, "  - ", "%s: %s, %s in all, %s at the longest.", row->words,
                     wr_say_count(hold.times, "time", "times").text, wr_say_duration(hold.total).text,
                     wr_say_duration(hold.longest).text);
    }
}

static void say_emergencies(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    static const char *const ways[WR_OUTLET_KINDS] = {[WR_OUTLET_RECYCLE] = "to recycle",
                                                      [WR_OUTLET_SEWER] = "to the sewer",
                                                      [WR_OUTLET_POND] = "to the pond",
                                                      [WR_OUTLET_HAUL] = "to haulage"};
    struct wr_page s = {0};
    for (size_t o = 0; o < run->plant.outlet_count; o++) {
        const struct wr_outlet *outlet = &run->plant.definition->spent_wash.outlets.items[o];
        const struct wr_emergency_sums sums = wr_emergency_sums_of(run, o);
        if (!outlet->emergency)
            continue;
        wr_page_add(&s, "%sThe emergency outlet %s ", s.length > 0 ? " " : "", ways[outlet->kind]);
        if (sums.times == 0)
            wr_page_add(&s, "was not needed.");
        else
            wr_page_add(&s, "ran %s since a wash waited for room, first on %s: %s in %s.",
                        wr_say_count(sums.times, "time", "times").text, say_moment(run, sums.first).text,
                        wr_say(WR_QUANTITY_VOLUME, sums.water, units).text, wr_say_duration(sums.time).text);
    }
    if (s.length > 0)
        wr_page_flow_page(page, "  ", &s);
}

/* Rinses and washouts --------------------------------------------------------------------------------------------- */

static void say_rinse(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    const size_t sewer = run->plant.tank_count + WR_BEYOND_SEWER;
    const double past = wr_ledger_line(&run->plant, run->simulation.state, WR_LINE_RINSE, sewer)->water;
    if (past > 0)
        wr_page_flow(page, "  ", "Rinses went past the tanks to the sewer: %s.",
                     wr_say(WR_QUANTITY_VOLUME, past, units).text);
}

static void say_washout(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    const struct wr_washout_sums sums = wr_washout_sums_of(run);
    const double wanted = run->plant.definition->wash.clear_at;
    struct wr_page s = {0};
    if (sums.washes == 0)
        return;
    const struct wr_wash_record *worst = &run->record.washes[sums.worst];
    wr_page_add(&s, "The last of a backwash carried %s at the waste sample tap on average and %s at most, %s on %s.",
                wr_say(WR_QUANTITY_CONCENTRATION, sums.mean, units).text,
                wr_say(WR_QUANTITY_CONCENTRATION, sums.most, units).text, run->plant.names[worst->filter],
                say_moment(run, worst->ended_at).text);
    if (wr_is_given(wanted))
        wr_page_add(&s, " It is to carry %s or less: %zu of %s did not come to that.",
                    wr_say(WR_QUANTITY_CONCENTRATION, wanted, units).text, sums.not_clear,
                    wr_say_count(sums.washes, "wash", "washes").text);
    wr_page_flow_page(page, "  ", &s);
}

void wr_report_tank_section(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    if (run->plant.tank_count == 0) {
        if (wr_washout_sums_of(run).washes > 0)
            wr_page_heading(page, "The end of each backwash");
        say_washout(page, run, units);
        return;
    }
    wr_page_heading(page, "Spent-wash tanks");
    if (run->plant.has_settling) {
        put_decants(page, run, units);
        say_decants(page, run);
        if (run->plant.definition->spent_wash.has_blanket)
            put_blankets(page, run, units);
        say_drawn(page, run, units);
    }
    say_recovery(page, run, units);
    put_held(page, run);
    say_emergencies(page, run, units);
    say_rinse(page, run, units);
    say_washout(page, run, units);
}
