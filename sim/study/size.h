/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_SIZE_H
#define WR_SIM_STUDY_SIZE_H

/* Which numbers and sizes of filters would give a wanted flow with one of them out: a first list by steady averages,
 * and where wanted the filter firm capacity of each by simulation.
 *
 * Bed, approved rate, wash and triggers are those of the scenario's filters, which must be one group of whole vessels
 * or cells. The rule that the flow must pass the filters left at their approved rate is Wis. Adm. Code NR 811.495(1)
 * and 35 Ill. Adm. Code 604.605(d); that the water of washes is taken off it, Okla. Admin. Code 252:626-9-1(b). */

#include "sim/plant/plant.h"
#include "sim/scenario/read.h"
#include "sim/study/ladder.h"
#include "sim/study/workers.h"

enum { WR_SIZE_FEWEST = 2, WR_SIZE_MOST = 24, WR_SIZE_ROWS = WR_SIZE_MOST - WR_SIZE_FEWEST + 1 };

/* What is given and what is wanted. */
struct wr_size_need {
    double flow;                    /* m3/s of finished water, on every day, with one filter out */
    double approved_rate;           /* m/s */
    double run;                     /* s of a run at the approved rate */
    double backwash_rate;           /* m/s of wash water at most, over the area of the filter washed */
    double wash_depth, spent_depth; /* m3/m2 of wash water, and of backwash and rinse together, a wash */
    bool round;                     /* vessels with a diameter, else cells with an area */
    enum wr_units units;            /* whose steps of size are used */
};

/* One number of filters, with the smallest size of the series that gives the flow. */
struct wr_size_row {
    size_t filters;
    bool is_in_series;      /* else it wants a larger one than the series has, and nothing below holds */
    double needed;          /* m2 each, by the pencil */
    double diameter, area;  /* m, WR_ABSENT for cells; m2 each */
    double left;            /* m3/s that may pass the filters left with one out */
    double net;             /* m3/s of it after the water of its washes */
    double rate, rate_left; /* m/s at the wanted flow and its washes, all in and one out */
    double backwash;        /* m3/s */
    double wash, spent;     /* m3 a wash */
    double spare;           /* m3/s that the others may pass beyond the backwash; below 0 they cannot supply it */
    double spare_left;      /* the same with a further filter out */
    double washes;          /* a day, one out, at the wanted flow */
    /* By simulation: */
    bool is_tried;
    char refusal[400]; /* why the scenario does not allow it; "" where it does */
    struct wr_search search;
};

struct wr_size {
    enum wr_run_end end; /* WR_RUN_WHOLE, WR_RUN_STOPPED with what was done, or what went wrong */
    bool is_wrong;       /* the question was: see message */
    char message[512];
    struct wr_size_need need;
    double wells, wells_left;                           /* m3/s, all in and with the largest out */
    bool simulated, grows_wash_tank, grows_spent_tanks; /* tanks are made to hold what is listed */
    struct wr_size_row rows[WR_SIZE_ROWS];
    size_t count, tried;
};

struct wr_size_question {
    const char *name; /* of the scenario, for complaints */
    const struct wr_reading *reading;
    const char *flow;    /* as written: "0.5 Mgal/d", "90 m3/h" */
    size_t fewest, most; /* filters, from WR_SIZE_FEWEST to WR_SIZE_MOST */
    bool simulate;
};

/* The smallest size of the series not below an area, m2; false where there is none. Round vessels: half feet to 6 ft
 * and whole feet to 14 ft, or steps of 0.2 m to 4.2 m; cells: steps of 10 ft2 or 1 m2. An invented series. */
bool wr_size_step(double needed, bool round, enum wr_units units, double *diameter, double *area);

/* One row by the pencil. */
struct wr_size_row wr_size_work_out(const struct wr_size_need *need, size_t filters);

/* Lists the rows and, where wanted, searches the firm capacity of each by workers, or NULL. */
void wr_size_make(struct wr_size *size, const struct wr_size_question *question, struct wr_workers *workers);

/* True where a row gives the flow, by simulation where that was wanted, else by the pencil; never where the wells do
 * not. */
bool wr_size_passes(const struct wr_size *size);

#endif
