/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_PLANT_WATCH_PART_H
#define WR_TESTS_PLANT_WATCH_PART_H

/* Parts of a watch: inside tests/plant/watch*.c only. */

#include "sim/plant/bed.h"
#include "tests/plant/watch.h"

/* Rounding of stocks and flows, as a share of their limits. */
#define WATCH_TINY 1e-9
/* A limit on flow is kept within this share. */
#define WATCH_KEPT 1e-6

/* A plant at an instant, seen by a watch. */
struct sight {
    struct watch *watch;
    const struct wr_simulation *sim;
    const struct wr_plant *plant;
    const struct wr_definition *definition;
    const struct wr_state *state;
    double now;
};

/* Keep the first breach. Written so that a value that is no number is one. */
void hold(struct sight at, bool holds, const char *what, double value, double limit);
void hold_most(struct sight at, double value, double most, double slack, const char *what);
void hold_least(struct sight at, double value, double least, double slack, const char *what);
void hold_near(struct sight at, double value, double expected, double slack, const char *what);

static inline const struct wr_filter *filter_at(struct sight at, size_t filter)
{
    return &wr_state_filters(at.plant, at.state)[filter];
}

static inline const struct wr_group *group_at(struct sight at, size_t filter)
{
    return &at.plant->groups[at.plant->group_of[filter]];
}

/* Rate through a filter, m/s, in service or rinse. */
double rate_at(struct sight at, size_t filter);

/* True for a filter in line: called and in service, rinsing at the plant's start, or held. */
bool is_in_line(const struct wr_filter *filter);

/* True when an outage by its dates keeps a unit out. */
bool is_out(struct sight at, enum wr_unit_kind kind, size_t number);

/* True when hours are open, and when they are shut: both within a thousandth of a second of a change. */
bool may_be_open(struct sight at, const struct wr_hours_list *hours);
bool may_be_shut(struct sight at, const struct wr_hours_list *hours);

/* True when the first in line waits for room for its spent wash in a tank. */
bool waits_for_room(struct sight at);

/* Water in the spent-wash tanks when the run began, m3. */
double tanks_held_at_start(struct sight at);

/* Net flow into storage by the flows that were told, m3/s. */
double storage_net(struct sight at);

/* True when a tank's water, had it stood still for a time, s, might be drawn off. */
bool is_settled(struct sight at, size_t tank, double stillness);

/* Sludge in a tank now, m3, by its solids and the water that they have still to give up. */
double blanket_standing(struct sight at, size_t tank);

/* What is looked at. */
void watch_stocks(struct sight at);
void watch_moves(struct sight at); /* since the instant before */
void watch_filters(struct sight at);
void watch_wells(struct sight at);
void watch_flows(struct sight at);
void watch_outlets(struct sight at);
void watch_blend(struct sight at);
void watch_emergency(struct sight at);
void watch_dump(struct sight at, size_t tank); /* is told */
void watch_recovered(struct sight at);         /* since the instant before */
void watch_recovered_close(struct sight at);   /* at the end of the run */
void watch_turns(struct sight at);
void watch_turn_event(struct sight at, const struct wr_event *event);
void watch_line(struct sight at);
void watch_start(struct sight at, size_t filter); /* of a wash */
void watch_lock(struct sight at);
void watch_wakes(struct sight at);     /* nothing has been overslept */
void watch_next_wake(struct sight at); /* works out when something must happen */

#endif
