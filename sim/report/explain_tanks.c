/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/record/list.h"
#include "sim/report/explain.h"
#include "sim/report/say.h"

#include <math.h>
#include <stdlib.h>

const char *wr_explain_doing_key(enum wr_tank_doing doing)
{
    static const char *const keys[WR_TANK_DOINGS] = {
        [WR_TANK_EMPTY] = "empty",      [WR_TANK_STANDS] = "part_full",  [WR_TANK_TAKES] = "takes_a_wash",
        [WR_TANK_SETTLES] = "settles",  [WR_TANK_EMPTIES] = "emptied",   [WR_TANK_HELD] = "held",
        [WR_TANK_WAITS] = "waits_turn", [WR_TANK_OUT] = "out_of_service"};
    return keys[doing];
}

/* s: what lasted no longer is no news. */
static const double HAIR = 0.5;

/* Parts ------------------------------------------------------------------------------------------------------------ */

static struct wr_tank_part part_of(const struct wr_diary_tank *was, double from, double to)
{
    const double begins = fmax(was->from, from), ends = fmin(was->to, to);
    return (struct wr_tank_part){.tank = was->tank,
                                 .doing = was->doing,
                                 .outlet = was->outlet,
                                 .held = was->held,
                                 .from = begins,
                                 .to = ends,
                                 .level = was->level,
                                 .least = was->flow,
                                 .most = was->flow,
                                 .raw_least = was->raw,
                                 .raw_most = was->raw,
                                 .total = ends - begins};
}

static bool is_alike(const struct wr_tank_part *a, const struct wr_tank_part *b)
{
    return a->doing == b->doing && a->held == b->held && (a->doing != WR_TANK_EMPTIES || a->outlet == b->outlet);
}

static void put_together(struct wr_tank_part *whole, const struct wr_tank_part *part)
{
    whole->to = part->to;
    whole->total += part->total;
    whole->least = fmin(whole->least, part->least);
    whole->most = fmax(whole->most, part->most);
    whole->raw_least = fmin(whole->raw_least, part->raw_least);
    whole->raw_most = fmax(whole->raw_most, part->raw_most);
}

size_t wr_explain_tank(const struct wr_teller *teller, size_t tank, double from, double to, struct wr_tank_part **parts)
{
    size_t count = 0, room = 0;
    *parts = NULL;
    for (size_t i = 0; i < teller->diary->tanks.count; i++) {
        const struct wr_diary_tank *was = wr_diary_tank(teller->diary, i);
        if (was->tank != tank || was->to <= from || was->from >= to || fmin(was->to, to) - fmax(was->from, from) < HAIR)
            continue;
        const struct wr_tank_part part = part_of(was, from, to);
        if (count > 0 && is_alike(&(*parts)[count - 1], &part)) {
            put_together(&(*parts)[count - 1], &part);
            continue;
        }
        struct wr_tank_part *grown = wr_list_grown(*parts, count, &room, sizeof *grown);
        if (grown == NULL)
            abort();
        *parts = grown;
        (*parts)[count++] = part;
    }
    return count;
}

/* Puts all parts that are alike together, wherever they stand. Returns how many are left. */
static size_t gather(struct wr_tank_part *parts, size_t count)
{
    size_t kept = 0;
    for (size_t p = 0; p < count; p++) {
        size_t k = 0;
        while (k < kept && !is_alike(&parts[k], &parts[p]))
            k++;
        if (k < kept)
            put_together(&parts[k], &parts[p]);
        else
            parts[kept++] = parts[p];
    }
    return kept;
}

/* In words --------------------------------------------------------------------------------------------------------- */

/* A flow, or the most of those that there were. */
static void say_most(struct wr_page *s, double least, double most, enum wr_units units)
{
    wr_page_add(s, "%s%s", most > least * (1 + 1e-9) ? "up to " : "", wr_say(WR_QUANTITY_FLOW, most, units).text);
}

/* What a share of the raw flow allows, beside what the pump takes. */
static void say_share(struct wr_page *s, const struct wr_teller *teller, const struct wr_tank_part *part)
{
    const struct wr_recycle *recycle = &teller->run->plant.definition->recycle;
    wr_page_add(s, "%s of ", wr_say_share(recycle->max_fraction).text);
    say_most(s, part->raw_least, part->raw_most, teller->units);
    wr_page_add(s, " of raw water allows ");
    say_most(s, recycle->max_fraction * part->raw_least, recycle->max_fraction * part->raw_most, teller->units);
    wr_page_add(s, ", and the pump takes %s", wr_say(WR_QUANTITY_FLOW, recycle->pump, teller->units).text);
}

/* What held an outlet, in the words of the table. */
static void say_held(struct wr_page *s, const struct wr_teller *teller, const struct wr_tank_part *part)
{
    for (wr_limit_set left = part->held; left != 0; left &= left - 1) {
        const enum wr_limit limit = wr_limit_first(left);
        wr_page_add(s, "%s%s", left == part->held ? "" : "; ", wr_limit_row(limit)->words);
        if (limit == WR_LIMIT_SHARE_OF_RAW) {
            wr_page_add(s, " (");
            say_share(s, teller, part);
            wr_page_add(s, ")");
        }
    }
}

/* What an outlet takes, m3/s, if nothing holds it. */
static double whole_flow(const struct wr_definition *d, int kind)
{
    for (size_t o = 0; o < d->spent_wash.outlets.count && kind != WR_OUTLET_RECYCLE; o++)
        if (d->spent_wash.outlets.items[o].kind == kind)
            return d->spent_wash.outlets.items[o].rate;
    return d->recycle.pump;
}

static void say_emptied(struct wr_page *s, const struct wr_teller *teller, const struct wr_tank_part *part,
                        const char *how_long)
{
    static const char *const ways[WR_OUTLET_KINDS] = {[WR_OUTLET_RECYCLE] = "by recycle",
                                                      [WR_OUTLET_SEWER] = "to the sewer",
                                                      [WR_OUTLET_POND] = "to the pond",
                                                      [WR_OUTLET_HAUL] = "by haulage"};
    wr_page_add(s, "was being emptied %s%s at ", ways[part->outlet], how_long);
    say_most(s, part->least, part->most, teller->units);
    if (part->held != 0) {
        wr_page_add(s, ", held there because ");
        say_held(s, teller, part);
    } else if (part->least >= whole_flow(teller->run->plant.definition, part->outlet) * (1 - 1e-9))
        wr_page_add(s, ", all that %s takes", part->outlet == WR_OUTLET_RECYCLE ? "the pump" : "the outlet");
}

/* What a tank did; how long it did is said beside the verb, before figures and reasons. */
static void say_doing(struct wr_page *s, const struct wr_teller *teller, const struct wr_tank_part *part,
                      const char *how_long)
{
    const double volume = teller->run->plant.definition->spent_wash.tanks.items[part->tank].volume;
    switch (part->doing) {
    case WR_TANK_EMPTY:
        wr_page_add(s, "stood empty%s", how_long);
        break;
    case WR_TANK_STANDS:
        wr_page_add(s, "stood part full%s, with room for %s", how_long,
                    wr_say(WR_QUANTITY_VOLUME, fmax(0, volume - part->level), teller->units).text);
        break;
    case WR_TANK_TAKES:
        wr_page_add(s, "was taking spent wash%s", how_long);
        break;
    case WR_TANK_SETTLES:
        wr_page_add(s, "was settling%s", how_long);
        break;
    case WR_TANK_EMPTIES:
        say_emptied(s, teller, part, how_long);
        break;
    case WR_TANK_HELD:
        wr_page_add(s, "had water to give and was held back%s", how_long);
        if (part->held != 0) {
            wr_page_add(s, ", because ");
            say_held(s, teller, part);
        }
        break;
    case WR_TANK_WAITS:
        wr_page_add(s, "had water to give and waited its turn behind another tank%s", how_long);
        break;
    default:
        wr_page_add(s, "was out of service%s", how_long);
    }
}

/* Parts that a reader follows one by one. */
enum { PARTS_SHOWN = 5 };

static void say_in_order(struct wr_page *s, const struct wr_teller *teller, const struct wr_tank_part *parts,
                         size_t count)
{
    for (size_t p = 0; p < count; p++) {
        struct wr_page how_long = {0};
        wr_page_add(&how_long, "%s", p + 1 < count ? " until " : count == 1 ? " all the time" : "");
        if (p + 1 < count)
            wr_explain_say_clock(&how_long, teller, parts[p].to, parts[p].from);
        wr_page_add(s, p == 0 ? " " : ", then ");
        char *text = wr_page_take(&how_long);
        say_doing(s, teller, &parts[p], text);
        free(text);
    }
}

static void say_in_all(struct wr_page *s, const struct wr_teller *teller, struct wr_tank_part *parts, size_t count)
{
    const size_t kinds = gather(parts, count);
    wr_page_add(s, ", times added up:");
    for (size_t p = 0; p < kinds; p++) {
        wr_page_add(s, "%s for %s it ", p == 0 ? "" : ";", wr_say_duration(parts[p].total).text);
        say_doing(s, teller, &parts[p], "");
    }
}

static void say_tank(struct wr_page *s, const struct wr_teller *teller, size_t tank, double from, double to)
{
    struct wr_tank_part *parts;
    const size_t count = wr_explain_tank(teller, tank, from, to, &parts);
    wr_page_add(s, " %s", teller->run->plant.definition->spent_wash.tanks.items[tank].name);
    if (count <= PARTS_SHOWN)
        say_in_order(s, teller, parts, count);
    else
        say_in_all(s, teller, parts, count);
    wr_page_add(s, ".");
    free(parts);
}

void wr_explain_say_tanks(struct wr_page *s, const struct wr_teller *teller, double from, double to)
{
    for (size_t t = 0; t < teller->run->plant.tank_count; t++)
        say_tank(s, teller, t, from, to);
}
