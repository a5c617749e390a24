/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_DOUBT_H
#define WR_SIM_STUDY_DOUBT_H

/* Figures that are allowed and yet look like a slip of the pen: a unit mistaken, a digit too many, two levels swapped.
 *
 * A doubt is no complaint: the scenario runs with it. Bounds without a source are wide common practice. */

#include "sim/study/outline.h"

enum wr_doubt_kind {
    WR_DOUBT_DEMAND_OVER_WELLS,   /* the maximum day is more than all wells give */
    WR_DOUBT_DEMAND_OVER_FILTERS, /* or than all filters may pass */
    WR_DOUBT_DEMAND_OVER_FIRM,   /* or than they may pass with the largest out, which is the nameplate but for washes */
    WR_DOUBT_DEMAND_OVER_STEPS,  /* or than the wells give that fit those filters: wells come in steps */
    WR_DOUBT_WELL_OVER_FILTERS,  /* a well gives, at its least, more than all filters may pass: it never runs */
    WR_DOUBT_WELL_BELOW_RESERVE, /* a well is called only where the reserve is already drawn on */
    WR_DOUBT_START_BELOW_RESERVE, /* storage starts there */
    WR_DOUBT_STORAGE_SMALL,       /* storage holds less than two hours of the maximum day; common practice, no source */
    WR_DOUBT_STORAGE_LARGE,       /* more than a week of it; common practice, no source */
    WR_DOUBT_MEDIA_SHALLOW,       /* media of less than 0.3 m in all; common practice, no source */
    WR_DOUBT_MEDIA_DEEP,          /* of more than 3 m; common practice, no source */
    WR_DOUBT_OBSERVED_RATE_HIGH,  /* the observed run was at a tenth or more above the approved rate */
    WR_DOUBT_OBSERVED_RATE_LOW,   /* or at less than a quarter of it */
    WR_DOUBT_OBSERVED_LOAD_LOW,   /* it caught less than 0.05 kg/m2 of dry solids; common practice, no source */
    WR_DOUBT_OBSERVED_LOAD_HIGH,  /* or more than 10 kg/m2; common practice, no source */
    WR_DOUBT_CALLS_WHEN_CLEAN,    /* a clean filter at its approved rate stands at or above the differential trigger */
    WR_DOUBT_NO_CALL,             /* no trigger is ever met on the maximum day */
    WR_DOUBT_BACKSTOP_FIRST,      /* hours or volume call before the differential does */
    WR_DOUBT_RUN_SHORT, /* by differential, runs of less than 6 h leave little net output: L. di Bernardo, IRC TP40, ch.
                           17 */
    WR_DOUBT_BACKWASH_SLOW,  /* backwash below twice the approved rate; common practice, no source */
    WR_DOUBT_WASH_SHARE,     /* spent wash above 10 % of the maximum day; 1 to 5 % is usual: F. R. Spellman, and
                                1 to 4 % by 02WV1565A */
    WR_DOUBT_WASHES_OVERLAP, /* washes keep the wash systems busy for more than the day has */
    WR_DOUBT_REFILL_SLOW,    /* refill gives less in a day than washes take */
    WR_DOUBT_ROOM_SLOW,      /* spent-wash tanks and outlets take fewer washes a day than are called for */
    WR_DOUBT_RECYCLE_NEVER,  /* not even all wells together let a fixed recycle pump run */
    WR_DOUBTS
};

/* What is doubted, what it is held against, and where it stands: both in SI, of the kind's own quantity. */
struct wr_doubt {
    enum wr_doubt_kind kind;
    size_t number; /* of the well, filter group; 0 for the plant */
    double found, against;
};

enum { WR_DOUBTS_MOST = 64 };

/* Writes the doubts of a plant, in the order of the kinds, at most WR_DOUBTS_MOST; returns how many. */
size_t wr_doubts_of(const struct wr_plant *plant, const struct wr_outline *outline,
                    struct wr_doubt doubts[WR_DOUBTS_MOST]);

/* The key of a kind in documents: "demand_over_wells". */
const char *wr_doubt_key(enum wr_doubt_kind kind);

/* Writes the pointer into the scenario of what is doubted, at most `size` bytes; returns `pointer`. */
char *wr_doubt_pointer(const struct wr_doubt *doubt, char *pointer, size_t size);

#endif
