/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/limits.h"

#include <assert.h>

#define ROW(key_, holds_, class_, words_, lift_)                                                                       \
    {                                                                                                                  \
        .key = key_, .words = words_, .lift = lift_, .holds = holds_, .class = class_                                  \
    }

static const struct wr_limit_row rows[WR_LIMITS] = {
    [WR_LIMIT_WINDOW] = ROW("window", WR_HOLDS_WASH, WR_LIMIT_RULE, "no wash may start at this hour",
                            "longer wash hours, or an urgent trigger that overrides them"),
    [WR_LIMIT_FILTERS_IN_SERVICE] =
        ROW("filters_in_service", WR_HOLDS_WASH, WR_LIMIT_RULE, "too few filters would stay in service",
            "fewer filters that must stay in service, or another filter"),
    [WR_LIMIT_STORAGE_LOCKOUT] =
        ROW("storage_lockout", WR_HOLDS_WASH, WR_LIMIT_RULE, "storage stands too low to start a wash",
            "a lower lockout level, or fuller storage"),
    [WR_LIMIT_PLANT_STOPPED] =
        ROW("plant_stopped", WR_HOLDS_WASH, WR_LIMIT_RULE, "the plant stands still and washes wait for it to start",
            "a well started for the wash"),
    [WR_LIMIT_ATTENDED_HOURS] = ROW("attended_hours", WR_HOLDS_WASH, WR_LIMIT_RULE,
                                    "an interrupted wash holds the filter until somebody attends",
                                    "longer attended hours, or finishing an interrupted wash weak"),
    [WR_LIMIT_BLOWER] = ROW("blower", WR_HOLDS_WASH, WR_LIMIT_RESOURCE,
                            "the blower serves another filter or is out of service", "a second blower"),
    [WR_LIMIT_WASH_PUMP_OUT] = ROW("wash_pump_out", WR_HOLDS_WASH, WR_LIMIT_RESOURCE, "the wash pump is out of service",
                                   "a second wash pump, or another source of wash water"),
    [WR_LIMIT_WELL_RESTS] = ROW("well_rests", WR_HOLDS_RAW, WR_LIMIT_RULE,
                                "a well that is called must rest before it starts again", "a shorter rest"),
    [WR_LIMIT_RECYCLE_PUMP_OUT] = ROW("recycle_pump_out", WR_HOLDS_OUTLET, WR_LIMIT_RESOURCE,
                                      "the recycle pump is out of service", "a second recycle pump, or another outlet"),
    [WR_LIMIT_OUTLET_HOURS] = ROW("outlet_hours", WR_HOLDS_OUTLET, WR_LIMIT_RULE, "the outlet may not run at this hour",
                                  "longer hours for the outlet"),
    [WR_LIMIT_OUTLET_DAILY_VOLUME] = ROW("outlet_daily_volume", WR_HOLDS_OUTLET, WR_LIMIT_RULE,
                                         "the outlet has had its volume of the day", "a larger daily volume"),
    [WR_LIMIT_TIME_BETWEEN_STARTS] =
        ROW("time_between_starts", WR_HOLDS_WASH, WR_LIMIT_RULE, "the time between two wash starts has not passed",
            "a shorter time between starts"),
    [WR_LIMIT_WASH_SYSTEM] =
        ROW("wash_system", WR_HOLDS_WASH, WR_LIMIT_RESOURCE,
            "as many filters as may be washed at one time are being washed", "a second wash system, or a shorter wash"),
    [WR_LIMIT_WASH_WATER] =
        ROW("wash_water", WR_HOLDS_WASH, WR_LIMIT_RESOURCE, "there is not water in hand for a whole wash",
            "more wash water in hand, or a faster refill"),
    [WR_LIMIT_SPENT_WASH_ROOM] =
        ROW("spent_wash_room", WR_HOLDS_WASH, WR_LIMIT_RESOURCE, "no spent-wash tank has room for a whole wash",
            "another spent-wash tank, shorter settling, or a faster way out of the tanks"),
    [WR_LIMIT_HOLDING_ROOM] =
        ROW("holding_room", WR_HOLDS_WASH, WR_LIMIT_RESOURCE, "the holding tank has no room for the spent regenerant",
            "a larger holding tank, or one that is hauled away more often"),
    [WR_LIMIT_ALL_WELLS_RUNNING] =
        ROW("all_wells_running", WR_HOLDS_RAW, WR_LIMIT_RESOURCE, "every well is running", "more well flow"),
    [WR_LIMIT_WELL_DOES_NOT_FIT] = ROW("well_does_not_fit", WR_HOLDS_RAW, WR_LIMIT_RESOURCE,
                                       "the next well would push the filters in service over their approved rate",
                                       "more filter area in service, or wells of a size that fits"),
    [WR_LIMIT_HEAD_HOLDS_WELLS] = ROW("head_holds_wells", WR_HOLDS_RAW, WR_LIMIT_RESOURCE,
                                      "filters at their available head do not pass the next well's flow",
                                      "earlier washes, or more available head"),
    [WR_LIMIT_NO_FILTER_IN_SERVICE] =
        ROW("no_filter_in_service", WR_HOLDS_RAW, WR_LIMIT_RESOURCE, "no filter is in service", "another filter"),
    [WR_LIMIT_APPROVED_CAPACITY] =
        ROW("approved_capacity", WR_HOLDS_RAW, WR_LIMIT_RULE,
            "the next well would exceed the plant's approved capacity", "a higher approved capacity"),
    [WR_LIMIT_NO_RAW_FLOW] =
        ROW("no_raw_flow", WR_HOLDS_OUTLET, WR_LIMIT_RULE, "no well is running", "more hours of raw flow"),
    [WR_LIMIT_SHARE_OF_RAW] =
        ROW("share_of_raw", WR_HOLDS_OUTLET, WR_LIMIT_RULE, "the recycle pump would exceed its share of the raw flow",
            "a smaller recycle pump, a ratio-controlled one, or more raw flow"),
    [WR_LIMIT_FILTERS_FULL] = ROW("filters_full", WR_HOLDS_OUTLET, WR_LIMIT_RESOURCE,
                                  "recycle beside the wells running would exceed the filters' approved rate",
                                  "more filter area in service, or a smaller recycle pump"),
    [WR_LIMIT_RECYCLE_APPROVED_CAPACITY] = ROW(
        "recycle_approved_capacity", WR_HOLDS_OUTLET, WR_LIMIT_RULE,
        "recycle beside the wells running would exceed the plant's approved capacity", "a higher approved capacity"),
    [WR_LIMIT_BLEND_SOLIDS] = ROW("blend_solids", WR_HOLDS_OUTLET, WR_LIMIT_RULE,
                                  "recycle would bring more solids into the blend than is allowed",
                                  "longer settling, or a higher bound on the solids of the blend"),
    [WR_LIMIT_RAW_FOR_RINSE] = ROW("raw_for_rinse", WR_HOLDS_RINSE, WR_LIMIT_RESOURCE,
                                   "the wells that may run give less than the rinse asks for",
                                   "more well flow that fits beside the filters in service"),
    [WR_LIMIT_STORAGE_EMPTY] = ROW("storage_empty", WR_HOLDS_DEMAND, WR_LIMIT_RESOURCE, "storage is empty",
                                   "more storage, or more finished water"),
    [WR_LIMIT_AVAILABLE_HEAD] = ROW("available_head", WR_HOLDS_FILTER, WR_LIMIT_RESOURCE,
                                    "the filter is at its available head and its flow falls off", "an earlier wash"),
};

const struct wr_limit_row *wr_limit_row(enum wr_limit limit)
{
    assert(limit >= 0 && limit < WR_LIMITS);
    return &rows[limit];
}

bool wr_limit_is_resource(enum wr_limit limit)
{
    return limit >= 0 && limit < WR_LIMITS && rows[limit].holds == WR_HOLDS_WASH &&
           rows[limit].class == WR_LIMIT_RESOURCE;
}
