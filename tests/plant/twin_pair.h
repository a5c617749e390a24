/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_PLANT_TWIN_PAIR_H
#define WR_TESTS_PLANT_TWIN_PAIR_H

/* The event simulation and the twin side by side: wash starts, volumes, and how far the two go together. */

#include "sim/plant/simulation.h"
#include "tests/plant/twin.h"

/* An event run as a twin would list it; owned. */
struct twin_events {
    struct twin_start *starts;
    uint64_t *level; /* for each start, a bit for each filter that stood level with it in line, up to the 64th */
    size_t start_count, start_room;
    double head_reached; /* s: the first time that a filter's flow fell off at its available head; infinite if never */
    double mixed;        /* s: the first time that water came back from a tank unsettled; infinite if never */
    struct twin_volumes volumes;
    char fault[200]; /* why the run broke off; else empty */
};

/* Runs a plant by events from 0 to `until`, s. `fault` says where the run does not end whole. */
void twin_events_run(struct twin_events *events, const struct wr_plant *plant, double until);
void twin_events_fini(struct twin_events *events);

/* Two starts are the same decision when no more steps lie between them: some, and some for each wash before, since a
 * wash starts from what went before it, all seen late by up to a step. */
enum { TWIN_MOST_STEPS = 60, TWIN_MOST_STEPS_A_START = 4 };

/* How far two lists of starts go together. */
struct twin_agreement {
    size_t compared; /* starts of the same filters at about the same time, before `until` */
    double worst;    /* s between two of them */
    bool flipped;    /* then another filter, or another time */
    double at;       /* s: the earlier of the starts that differ; `until` where none does */
    double off;      /* s between them where the same filter starts; else infinite */
    size_t filter;   /* that the twin starts; the largest number where none */
};

/* Compares starts before `until`, s, with a twin of a step, s. */
struct twin_agreement twin_compare(const struct twin_events *events, const struct twin_result *twin, double until,
                                   double step);

/* Why the two part. */
enum twin_why {
    TWIN_AGREES,      /* they do not */
    TWIN_BY_STEP,     /* a finer step takes them on beyond that start, or brings them nearer there in proportion */
    TWIN_BY_HEAD,     /* the event simulation holds rates at available head over stretches of a hundredth */
    TWIN_BY_MIX,      /* it foresees the mix of water that goes back unsettled to a hundredth */
    TWIN_BY_TIE,      /* the other filter stood level in line, or a part in 100,000 more or less of demand or of solids
                         changes the decision in it too */
    TWIN_UNEXPLAINED, /* a fault of the one or the other */
    TWIN_WHYS
};

/* Runs a twin of a definition and its plant beside the event run in steps of 1 s, up to `until`, and says why they part
 * if they do, by the first of the reasons above that holds; `agreement` is that of the twin. False when the plant is
 * beyond the twin. */
bool twin_explain(const struct wr_definition *definition, const struct twin_events *events, double until,
                  struct twin_agreement *agreement, enum twin_why *why);

#endif
