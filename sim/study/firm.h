/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_FIRM_H
#define WR_SIM_STUDY_FIRM_H

/* Filter firm capacity: the greatest maximum day that the plant delivers on every day of a repeated maximum day with
 * its largest filter out throughout, by simulation. */

#include "sim/study/ladder.h"
#include "sim/study/workers.h"

/* A term of the nameplate firm capacity, so that it can be checked with a pencil. */
struct wr_term {
    const char *key;
    const char *words;
    double value;     /* SI */
    const char *unit; /* "m2", "m/s", "1/d", "m3", "m3/s" */
};

enum { WR_TERMS = 6 };

/* What one kind of unit out means. */
struct wr_unit_out {
    char name[64];
    bool has_another_way;       /* there is a second one, or another way round it: it counts in plant firm capacity */
    double firm;                /* m3/s with it out, where there is another way */
    enum wr_limit limit;        /* what limits then */
    enum wr_limit outlet_limit; /* where that is room: what held the outlets for most of the wait; WR_LIMIT_NONE */
    double lasts; /* s that the plant lasts without it on its maximum day, where there is none; WR_NEVER for
                     a whole year */
    enum wr_finding_kind ends; /* what ends that; WR_FINDINGS for nothing */
};

enum { WR_UNITS_OUT = 5 };

/* A limit lifted, and what the plant could promise then. */
struct wr_if_lifted {
    enum wr_limit limit;
    double firm;        /* m3/s */
    enum wr_limit then; /* what limits next; WR_LIMIT_NONE when nothing tried does */
};

struct wr_firm {
    enum wr_run_end end; /* WR_RUN_WHOLE, or what went wrong in a run */
    char message[512];
    size_t unit_out; /* the largest filter */
    char unit_name[64];
    struct wr_search one_out;
    struct wr_search all_in;
    struct wr_unit_out units[WR_UNITS_OUT]; /* in turn, the largest filter first */
    size_t unit_count;
    double plant_firm; /* m3/s: the least over units that have another way */
    size_t plant_unit; /* in units */
    bool has_lifted;
    struct wr_if_lifted lifted;
    double nameplate; /* m3/s */
    struct wr_term terms[WR_TERMS];
    size_t term_count;
    double approved;       /* m3/s; WR_ABSENT */
    double maximum_day;    /* m3/s */
    double share_used;     /* maximum day over firm; WR_NEVER where firm is 0 */
    struct wr_rung today;  /* the maximum day itself with the largest filter out */
    bool passes;           /* firm is at least the maximum day, and that itself passes */
    struct wr_plant plant; /* as described, nothing added, for names */
};

/* Searches the firm capacity of a definition, which must have passed the reader's rules and outlive the result, by
 * workers, or NULL. */
void wr_firm_make(struct wr_firm *firm, const struct wr_definition *definition, struct wr_workers *workers);

/* The search for filter firm capacity alone: the largest filter out and nothing else asked. False, with the search's
 * message, where the plant's models cannot be worked out. */
bool wr_firm_search(struct wr_search *search, const struct wr_definition *definition);

void wr_firm_fini(struct wr_firm *firm);

#endif
