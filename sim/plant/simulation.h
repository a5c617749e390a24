/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_SIMULATION_H
#define WR_SIM_PLANT_SIMULATION_H

/* A plant running: its state, its timers and who is told. */

#include "sim/engine/instant.h"
#include "sim/engine/timers.h"
#include "sim/plant/ledger.h"
#include "sim/plant/state.h"

enum wr_event_kind {
    WR_EVENT_CALLED,       /* a filter called for a wash */
    WR_EVENT_WASH_STARTED, /* its wait stands in the filter's state */
    WR_EVENT_STEP_STARTED, /* of a wash */
    WR_EVENT_WASH_ENDED,
    WR_EVENT_START_RINSE_BEGAN, /* a filter runs to waste, since the plant has started */
    WR_EVENT_START_RINSE_ENDED,
    WR_EVENT_WASH_SHORT,   /* a wash got less than its whole water */
    WR_EVENT_HEAD_REACHED, /* a filter is at its available head */
    WR_EVENT_TANK_SETTLES, /* a spent-wash tank begins to settle */
    WR_EVENT_TANK_SETTLED, /* it gives water from now on */
    WR_EVENT_TANK_EMPTIED,
    WR_EVENT_TANK_DUMPED,     /* drawn off as it is, in an emergency */
    WR_EVENT_SLUDGE_DRAWN,    /* out of its blanket, by the plant's rule */
    WR_EVENT_SLUDGE_FOR_ROOM, /* out of its blanket beyond that, so that the plant's largest wash fits */
    WR_EVENT_OUT,             /* a filter went out of service by an outage */
    WR_EVENT_BACK,
    WR_EVENT_UNIT_OUT, /* another unit did; where is the outage's number */
    WR_EVENT_UNIT_BACK,
    WR_EVENT_SPAN /* a limit held from one time to another */
};

struct wr_event {
    enum wr_event_kind kind;
    double time;         /* s; the end of a span */
    size_t where;        /* filter or tank; for a span the filter that waited or was held, WR_NOWHERE for a flow */
    enum wr_limit limit; /* of a span */
    double from;         /* s, of a span */
};

#define WR_NOWHERE ((size_t)-1)

struct wr_simulation;

/* Who is told: what happens as it happens, and every instant once, after all that happened at it. Both may be NULL. */
struct wr_observer {
    void *context;
    void (*event)(void *context, const struct wr_simulation *simulation, const struct wr_event *event);
    void (*instant)(void *context, const struct wr_simulation *simulation);
    unsigned unheard; /* events that need not be told, 1 << kind each; spans are always told */
};

struct wr_simulation {
    const struct wr_plant *plant; /* borrowed */
    struct wr_state *state;       /* one block, owned */
    struct wr_timers timers;      /* a view of the block */
    struct wr_observer observer;
    bool stop; /* set by an observer: the run ends with this instant */
};

/* Makes the state of a plant at the start of its run and shares out the first flows. False when memory runs out. */
bool wr_simulation_init(struct wr_simulation *simulation, const struct wr_plant *plant,
                        const struct wr_observer *observer);

/* Runs to a time, s, half open: what falls at it happens when the run goes on. Never made part of its caller, so that
 * what a run costs can be counted. */
__attribute__((noinline)) enum wr_engine_status wr_simulation_run(struct wr_simulation *simulation, double until);

/* Ends a run at the clock's time: brings stocks and books there and tells the spans still open. The state can then be
 * read but not run on; a run to be continued is saved before. */
void wr_simulation_end(struct wr_simulation *simulation);

void wr_simulation_fini(struct wr_simulation *simulation);

/* Why a run stopped, for a reader. */
void wr_simulation_explain(const struct wr_simulation *simulation, enum wr_engine_status status, char *text,
                           size_t size);

/* Brings stocks, beds and books to a time at the flows that hold. */
void wr_stocks_advance(struct wr_simulation *simulation, double now);

/* Tells the observer. */
void wr_tell(struct wr_simulation *simulation, enum wr_event_kind kind, size_t where);

/* Tells the observer of a span, unless it has no length. */
void wr_tell_span(struct wr_simulation *simulation, enum wr_limit limit, size_t where, double from, double to);

static inline double wr_now(const struct wr_simulation *simulation)
{
    return simulation->state->clock.now;
}

#endif
