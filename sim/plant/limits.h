/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_LIMITS_H
#define WR_SIM_PLANT_LIMITS_H

/* Every reason why a wash waits or a flow is held back, in one table.
 *
 * Nothing else in the project knows a reason: the gate of a wash and the sharing of flows answer with sets of these
 * limits, spans record when they held, and every sentence, finding and limiting factor is made from the spans. */

#include <stdbool.h>
#include <stdint.h>

/* Order within the wash limits is the order in which reasons count: own rules, wash system, water, room. */
enum wr_limit {
    WR_LIMIT_WINDOW,
    WR_LIMIT_TIME_BETWEEN_STARTS,
    WR_LIMIT_FILTERS_IN_SERVICE,
    WR_LIMIT_STORAGE_LOCKOUT,
    WR_LIMIT_PLANT_STOPPED,
    WR_LIMIT_ATTENDED_HOURS,
    WR_LIMIT_WASH_SYSTEM,
    WR_LIMIT_BLOWER,
    WR_LIMIT_WASH_PUMP_OUT,
    WR_LIMIT_WASH_WATER,
    WR_LIMIT_SPENT_WASH_ROOM,
    WR_LIMIT_HOLDING_ROOM,
    WR_LIMIT_ALL_WELLS_RUNNING,
    WR_LIMIT_WELL_DOES_NOT_FIT,
    WR_LIMIT_HEAD_HOLDS_WELLS,
    WR_LIMIT_NO_FILTER_IN_SERVICE,
    WR_LIMIT_APPROVED_CAPACITY,
    WR_LIMIT_WELL_RESTS,
    WR_LIMIT_NO_RAW_FLOW,
    WR_LIMIT_SHARE_OF_RAW,
    WR_LIMIT_FILTERS_FULL,
    WR_LIMIT_RECYCLE_APPROVED_CAPACITY,
    WR_LIMIT_BLEND_SOLIDS,
    WR_LIMIT_RECYCLE_PUMP_OUT,
    WR_LIMIT_OUTLET_HOURS,
    WR_LIMIT_OUTLET_DAILY_VOLUME,
    WR_LIMIT_RAW_FOR_RINSE,
    WR_LIMIT_STORAGE_EMPTY,
    WR_LIMIT_AVAILABLE_HEAD,
    WR_LIMITS,
    WR_LIMIT_NONE = -1
};

/* What a limit holds. */
enum wr_holds { WR_HOLDS_WASH, WR_HOLDS_RAW, WR_HOLDS_OUTLET, WR_HOLDS_RINSE, WR_HOLDS_DEMAND, WR_HOLDS_FILTER };

/* Whether a limit is the plant's own rule or something that runs short. */
enum wr_limit_class { WR_LIMIT_RULE, WR_LIMIT_RESOURCE };

struct wr_limit_row {
    const char *key;   /* as in results */
    const char *words; /* completes "it waits because ..." or "held because ..." */
    const char *lift;  /* what would lift it */
    enum wr_holds holds;
    enum wr_limit_class class;
};

/* A set of limits, one bit each. */
typedef uint32_t wr_limit_set;

static inline wr_limit_set wr_limit_bit(enum wr_limit limit)
{
    return (wr_limit_set)1 << (unsigned)limit;
}

/* The limit of lowest order in a set: the first reason. WR_LIMIT_NONE for the empty set. */
static inline enum wr_limit wr_limit_first(wr_limit_set set)
{
    return set == 0 ? WR_LIMIT_NONE : (enum wr_limit)__builtin_ctz(set);
}

/* True when exactly one limit is in the set. */
static inline bool wr_limit_is_alone(wr_limit_set set)
{
    return set != 0 && (set & (set - 1)) == 0;
}

/* Row of a limit; the limit must be one of the table. */
const struct wr_limit_row *wr_limit_row(enum wr_limit limit);

/* True for a limit that holds washes and is a resource: wash system (blower and wash pump too), water or room. */
bool wr_limit_is_resource(enum wr_limit limit);

#endif
