/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/record/finding.h"

#include <assert.h>

#define ROW(key_, class_, fails_, unit_, words_, worst_)                                                               \
    {                                                                                                                  \
        .key = key_, .words = words_, .worst = worst_, .class = class_, .unit = unit_, .fails = fails_                 \
    }

static const struct wr_finding_row rows[WR_FINDINGS] = {
    [WR_FINDING_UNMET_DEMAND] =
        ROW("unmet_demand", WR_CLASS_OPERATION, true, WR_UNIT_VOLUME, "demand was not met", "water not delivered"),
    [WR_FINDING_RESERVE_USED] = ROW("reserve_used", WR_CLASS_OPERATION, true, WR_UNIT_SHARE,
                                    "demand drew on the reserve in storage", "lowest level"),
    [WR_FINDING_HEAD_REACHED] = ROW("available_head_reached", WR_CLASS_OPERATION, true, WR_UNIT_TIME,
                                    "a filter reached its available head", "time at it, all filters"),
    [WR_FINDING_NOT_KEEPING_PACE] = ROW("not_keeping_pace", WR_CLASS_OPERATION, true, WR_UNIT_SHARE,
                                        "washing did not keep pace", "extra load of the worst seven days"),
    [WR_FINDING_NOT_RETURNING] =
        ROW("storage_not_returning", WR_CLASS_OPERATION, true, WR_UNIT_SHARE,
            "storage did not come back to where it started", "highest level in the second half"),
    [WR_FINDING_PLANT_LOCKED] =
        ROW("plant_locked", WR_CLASS_OPERATION, true, WR_UNIT_TIME,
            "the plant locked: no filter serves and no wash can start or end", "longest stretch"),
    [WR_FINDING_WASH_SHORT] = ROW("wash_short", WR_CLASS_OPERATION, true, WR_UNIT_SHARE,
                                  "a wash got less than its whole water", "least share of the backwash given"),
    [WR_FINDING_APPROVED_RATE_EXCEEDED] =
        ROW("approved_rate_exceeded", WR_CLASS_APPROVAL, false, WR_UNIT_RATE,
            "filters ran above their approved rate, as the plant allows", "highest rate"),
    [WR_FINDING_WELL_STARTS] =
        ROW("well_starts", WR_CLASS_NOTE, false, WR_UNIT_COUNT, "a well started more than three times in an hour",
            "most starts of one well in an hour"),
    [WR_FINDING_RATE_STEP] =
        ROW("rate_step", WR_CLASS_NOTE, false, WR_UNIT_RATE,
            "the rate of a filter rose at once by more than half its approved rate", "largest step"),
    [WR_FINDING_IDLE] = ROW("filter_idle", WR_CLASS_NOTE, false, WR_UNIT_TIME,
                            "filters in service stood without flow for more than a day", "longest time"),
    [WR_FINDING_CLEAN_HEAD_RISING] = ROW("clean_differential_rising", WR_CLASS_OPERATION, false, WR_UNIT_HEAD,
                                         "the clean differential rises from wash to wash", "rise at the approved rate"),
    [WR_FINDING_BACKSTOP_TOOK_OVER] =
        ROW("backstop_took_over", WR_CLASS_NOTE, false, WR_UNIT_SHARE,
            "run hours or volume called most washes, before the differential did", "their share"),
    [WR_FINDING_DIFFERENTIAL_NEVER] = ROW("differential_never_reached", WR_CLASS_NOTE, false, WR_UNIT_COUNT,
                                          "the differential never called a wash", "washes called otherwise"),
    [WR_FINDING_SPENT_WASH_SPILLED] = ROW("spent_wash_spilled", WR_CLASS_OPERATION, true, WR_UNIT_VOLUME,
                                          "spent wash water spilled", "water spilled"),
    [WR_FINDING_WASH_NOT_CLEAR] =
        ROW("wash_not_clear", WR_CLASS_OPERATION, false, WR_UNIT_CONCENTRATION,
            "the last of a backwash was not clear at the waste sample tap", "most solids in it"),
    [WR_FINDING_DECANT_SPOILED] =
        ROW("decant_spoiled", WR_CLASS_OPERATION, false, WR_UNIT_CONCENTRATION,
            "sludge stood above the draw-off and went with the decant", "most solids in a decant"),
    [WR_FINDING_FINISHED_WATER_OVERFLOWED] = ROW("finished_water_overflowed", WR_CLASS_OPERATION, false, WR_UNIT_VOLUME,
                                                 "storage was full and finished water overflowed", "water lost"),
    [WR_FINDING_WASHES_WAITED] =
        ROW("washes_waited", WR_CLASS_NOTE, false, WR_UNIT_TIME, "washes waited", "longest stretch of one filter"),
    [WR_FINDING_DEFERRED_BY_RULE] =
        ROW("deferred_by_rule", WR_CLASS_NOTE, false, WR_UNIT_TIME, "washes were deferred by the plant's own rule",
            "longest stretch of one filter"),
    [WR_FINDING_STORAGE_LOW] =
        ROW("storage_low", WR_CLASS_NOTE, false, WR_UNIT_SHARE, "storage was below its low mark", "lowest level"),
    [WR_FINDING_RINSE_SHORT] = ROW("rinse_short", WR_CLASS_NOTE, false, WR_UNIT_FLOW,
                                   "a rinse got less than its rate and was lengthened to its volume", "least flow"),
    [WR_FINDING_RECYCLE_HELD] = ROW("recycle_held", WR_CLASS_NOTE, false, WR_UNIT_TIME,
                                    "recycle was held while a tank had water to give", "longest stretch"),
};

const struct wr_finding_row *wr_finding_row(enum wr_finding_kind kind)
{
    assert(kind < WR_FINDINGS);
    return &rows[kind];
}

const char *wr_finding_class_key(enum wr_finding_class class)
{
    static const char *const keys[] = {
        [WR_CLASS_APPROVAL] = "approval", [WR_CLASS_OPERATION] = "operation", [WR_CLASS_NOTE] = "note"};
    return keys[class];
}

const char *wr_finding_unit_text(enum wr_finding_unit unit)
{
    static const char *const units[] = {
        [WR_UNIT_NONE] = "",    [WR_UNIT_FLOW] = "m3/s", [WR_UNIT_VOLUME] = "m3",
        [WR_UNIT_SHARE] = "1",  [WR_UNIT_TIME] = "s",    [WR_UNIT_COUNT] = "1",
        [WR_UNIT_RATE] = "m/s", [WR_UNIT_HEAD] = "m",    [WR_UNIT_CONCENTRATION] = "kg/m3"};
    return units[unit];
}
