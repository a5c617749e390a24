/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_TANK_SUMS_H
#define WR_SIM_STUDY_TANK_SUMS_H

/* What a run's lists of its spent-wash tanks add up to: one source of these sums for text and documents, whose items
 * the tables list. SI; times in s since the start. Where there was none of a thing its times are absent. */

#include "sim/study/run.h"

/* A share of the sludge drawn. */
struct wr_drawn {
    size_t draws;
    double water, solids; /* m3, kg */
    double first, last;   /* s */
};

struct wr_tank_sums {
    size_t decants, held_by_time, held_by_clarity, unsettled, spoiled;
    double waited_for_clarity, longest_for_clarity; /* s past the time that the plant asks */
    double standing;                                /* s of stillness, mean over decants */
    double most_solids;                             /* kg/m3 in a decant */
    double decanted_solids;                         /* kg/m3, mean of what was to be drawn off */
    bool stands_unclear; /* at the end it had stood its time, and its water was not clear enough */
    double blanket, highest_blanket, highest_at; /* m3 at the end and at most, s */
    double left;                                 /* m3 of blanket as it filled again, mean over decants */
    struct wr_drawn drawn, for_room;             /* all that was, and of that beyond the rule */
    double next;                                 /* s, by the calendar */
};

/* Sums of one tank; of all where `tank` is their number, with the blankets added up and without `next`. */
struct wr_tank_sums wr_tank_sums_of(const struct wr_run *run, size_t tank);

/* What came to the tanks, and how much of it could come back clear. */
struct wr_recovery {
    double held;               /* m3 in the tanks as the run began */
    double received, recycled; /* m3 */
    double share;              /* of both together that recycle brought back; absent where there was neither */
    double solids;             /* kg/m3 in what the tanks received */
    double fresh, thickened;   /* share that could come back at best if all of that left in sludge so thick */
    double as_drawn;           /* the same at the thickness of the sludge that was drawn */
    double drawn_solids;       /* kg/m3 of that sludge */
};
struct wr_recovery wr_recovery_of(const struct wr_run *run);

/* What a limit held outlets back for, from its spans. */
struct wr_outlet_hold {
    size_t times;
    double total, longest; /* s */
};
struct wr_outlet_hold wr_outlet_hold_of(const struct wr_run *run, enum wr_limit limit);

/* How clear the ends of backwashes were, where it is known how they wash out. */
struct wr_washout_sums {
    size_t washes, not_clear;
    double most, mean; /* kg/m3 */
    size_t worst;      /* place of the wash with most in the record's list */
};
struct wr_washout_sums wr_washout_sums_of(const struct wr_run *run);

/* What an emergency outlet did. */
struct wr_emergency_sums {
    size_t times;
    double water, time; /* m3, s */
    double first;       /* s */
};
struct wr_emergency_sums wr_emergency_sums_of(const struct wr_run *run, size_t outlet);

/* Height in a tank, m, of a volume, m3; absent where its depth is not given. */
double wr_tank_height(const struct wr_plant *plant, size_t tank, double volume);

/* Which of the two a decant waited for last, as in results: "time", "clarity" or "emergency"; NULL before it. */
const char *wr_turn_held_by_key(const struct wr_turn *turn);

/* True for a turn whose decant waited for its water to clear, after its time was up; also where it still does. */
bool wr_turn_waits_for_clarity(const struct wr_turn *turn);

/* Why sludge was drawn, where it went, and the kind of an outlet, as in results. */
const char *wr_draw_why_key(enum wr_draw_why why);
const char *wr_draw_to_key(const struct wr_plant *plant);
const char *wr_outlet_key(int kind);

#endif
