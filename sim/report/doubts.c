/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Figures that look like a slip: a sentence each. */
#include "sim/report/json.h"
#include "sim/report/report.h"
#include "sim/report/say.h"
#include "sim/study/doubt.h"

#include <cjson/cJSON.h>

/* How a kind is said: what was found stands after the first words, what it is held against after the second. */
static const struct {
    enum wr_quantity quantity;
    const char *before, *between, *after; /* NULL for nothing, and then there is no figure before it */
} kinds[WR_DOUBTS] = {
    [WR_DOUBT_DEMAND_OVER_WELLS] = {WR_QUANTITY_DAILY_FLOW, "The maximum day, ", ", is more than all wells give, ",
                                    "."},
    [WR_DOUBT_DEMAND_OVER_FILTERS] = {WR_QUANTITY_DAILY_FLOW, "The maximum day, ",
                                      ", is more than all filters may pass at their approved rates, ",
                                      ". Are count and area right?"},
    [WR_DOUBT_DEMAND_OVER_FIRM] = {WR_QUANTITY_DAILY_FLOW, "The maximum day, ",
                                   ", is more than the filters may pass with the largest out, ",
                                   ", even before washes: firm will fail."},
    [WR_DOUBT_DEMAND_OVER_STEPS] = {WR_QUANTITY_DAILY_FLOW, "The maximum day, ",
                                    ", is more than the wells give that fit together beside the largest filter out, ",
                                    ": firm is likely to fail. Would another order or size of wells fit better?"},
    [WR_DOUBT_WELL_OVER_FILTERS] = {WR_QUANTITY_FLOW, "This well gives ", ", more than all filters may pass together, ",
                                    ": it never runs."},
    [WR_DOUBT_WELL_BELOW_RESERVE] = {WR_QUANTITY_SHARE, "This well is called at ",
                                     ", where storage already draws on its reserve of ",
                                     ". Are both levels of the same tank?"},
    [WR_DOUBT_START_BELOW_RESERVE] = {WR_QUANTITY_SHARE, "Storage starts at ", ", below its reserve of ", "."},
    [WR_DOUBT_STORAGE_SMALL] = {WR_QUANTITY_TIME, "Storage holds ", " of the maximum day, less than ",
                                ", which is little."},
    [WR_DOUBT_STORAGE_LARGE] = {WR_QUANTITY_TIME, "Storage holds ", " of the maximum day, more than ",
                                ", which is much."},
    [WR_DOUBT_MEDIA_SHALLOW] = {WR_QUANTITY_DEPTH, "The media are ", " deep in all, less than ",
                                ". Are the units right?"},
    [WR_DOUBT_MEDIA_DEEP] = {WR_QUANTITY_DEPTH, "The media are ", " deep in all, more than ",
                             ". Are the units right, in and not ft?"},
    [WR_DOUBT_OBSERVED_RATE_HIGH] =
        {WR_QUANTITY_RATE, "The observed run was at ", ", well above the approved rate of ",
         ". Are diameter or area and approved rate right, and is the flow that of one filter?"},
    [WR_DOUBT_OBSERVED_RATE_LOW] = {WR_QUANTITY_RATE, "The observed run was at ", ", far below the approved rate of ",
                                    ". Are diameter or area right, and the unit of the flow?"},
    [WR_DOUBT_OBSERVED_LOAD_LOW] = {WR_QUANTITY_LOAD, "The observed run caught ", " of dry solids, less than ",
                                    ". Are its hours or volume right, and the iron?"},
    [WR_DOUBT_OBSERVED_LOAD_HIGH] = {WR_QUANTITY_LOAD, "The observed run caught ", " of dry solids, more than ",
                                     ". Are its hours or volume right, and the iron?"},
    [WR_DOUBT_CALLS_WHEN_CLEAN] = {WR_QUANTITY_HEAD, "A clean filter at its approved rate stands at ",
                                   ", not below the trigger of ", ": it calls as soon as it is washed."},
    [WR_DOUBT_NO_CALL] = {WR_QUANTITY_TIME, "On the maximum day no trigger is ever met.", NULL, NULL},
    [WR_DOUBT_BACKSTOP_FIRST] = {WR_QUANTITY_TIME, "On the maximum day the differential would call after ",
                                 ", but hours or volume call after ", ": it has no say on such days."},
    [WR_DOUBT_RUN_SHORT] = {WR_QUANTITY_TIME, "On the maximum day a run lasts ", "; runs of less than ",
                            " leave little net output (L. di Bernardo, IRC TP40, ch. 17)."},
    [WR_DOUBT_BACKWASH_SLOW] = {WR_QUANTITY_RATE, "The backwash rate, ", ", is less than ",
                                ", twice the approved rate."},
    [WR_DOUBT_WASH_SHARE] = {WR_QUANTITY_SHARE, "Washes use ", " of the maximum day, more than ",
                             "; 1 to 5 % is usual (F. R. Spellman)."},
    [WR_DOUBT_WASHES_OVERLAP] = {WR_QUANTITY_SHARE, "The washes of the maximum day need ",
                                 " of the time that the wash systems have.", NULL},
    [WR_DOUBT_REFILL_SLOW] = {WR_QUANTITY_FLOW, "Washes take ",
                              " on the average of the maximum day, more than the refill of ", "."},
    [WR_DOUBT_ROOM_SLOW] = {WR_QUANTITY_NONE, "The maximum day calls for ",
                            " washes a day, more than spent-wash tanks and outlets can take, ", "."},
    [WR_DOUBT_RECYCLE_NEVER] = {WR_QUANTITY_FLOW, "The recycle pump stays within its share only with raw water of ",
                                ", more than all wells give, ", ": it never runs."},
};

/* The first of some doubts of one kind in full, the others by where they stand. */
static void say_doubts(struct wr_page *page, const struct wr_doubt *doubts, size_t alike, enum wr_units units)
{
    const struct wr_doubt *doubt = &doubts[0];
    const enum wr_quantity quantity = kinds[doubt->kind].quantity;
    struct wr_page s = {0};
    char pointer[128];
    wr_page_add(&s, "%s: %s", wr_doubt_pointer(doubt, pointer, sizeof pointer), kinds[doubt->kind].before);
    if (kinds[doubt->kind].between != NULL)
        wr_page_add(&s, "%s%s", wr_say_figure(quantity, doubt->found, units).text, kinds[doubt->kind].between);
    if (kinds[doubt->kind].after != NULL)
        wr_page_add(&s, "%s%s", wr_say_figure(quantity, doubt->against, units).text, kinds[doubt->kind].after);
    for (size_t i = 1; i < alike; i++)
        wr_page_add(&s, "%s%s", i == 1 ? " The same: " : ", ", wr_doubt_pointer(&doubts[i], pointer, sizeof pointer));
    if (alike > 1)
        wr_page_add(&s, ".");
    wr_page_flow_page(page, "  - ", &s);
}

void wr_report_doubt_section(struct wr_page *page, const struct wr_plant *plant, enum wr_units units)
{
    const struct wr_outline outline = wr_outline_of(plant);
    struct wr_doubt doubts[WR_DOUBTS_MOST];
    const size_t count = wr_doubts_of(plant, &outline, doubts);
    wr_page_heading(page, "Worth a second look");
    if (count == 0)
        wr_page_flow(page, "  ", "Nothing here looks like a slip of the pen. That does not make the figures right.");
    for (size_t i = 0, alike; i < count; i += alike) {
        for (alike = 1; i + alike < count && doubts[i + alike].kind == doubts[i].kind; alike++)
            continue;
        say_doubts(page, &doubts[i], alike, units);
    }
}

void wr_report_doubt_list(struct cJSON *derived, const struct wr_plant *plant)
{
    const struct wr_outline outline = wr_outline_of(plant);
    struct wr_doubt doubts[WR_DOUBTS_MOST];
    const size_t count = wr_doubts_of(plant, &outline, doubts);
    struct cJSON *list = wr_json_list(derived, "doubts");
    for (size_t i = 0; i < count; i++) {
        char pointer[128];
        struct cJSON *block = wr_json_block(list, NULL);
        wr_json_word(block, "kind", wr_doubt_key(doubts[i].kind));
        wr_json_word(block, "pointer", wr_doubt_pointer(&doubts[i], pointer, sizeof pointer));
    }
}
