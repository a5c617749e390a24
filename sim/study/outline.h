/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_OUTLINE_H
#define WR_SIM_STUDY_OUTLINE_H

/* The plant in a few sums, worked out without a run, so that its author sees whether it is the plant that was meant.
 *
 * Every unit counts as in service; where one is out it is the largest of its kind. The maximum day stands for what is
 * asked, and filters call for washes as they would at its mean rate for ever. What there is none of is WR_ABSENT. */

#include "sim/plant/plant.h"

struct wr_outline {
    double area, area_left;                   /* m2 of filter, all in and with the largest filter's vessel out */
    double approved_flow, approved_flow_left; /* m3/s */
    size_t filter_out;                        /* the largest */
    double demand;                            /* m3/s, mean of the maximum day */
    double rate, rate_left;                   /* m/s of that day through the filters; WR_NEVER where none is left */
    double wells_flow, wells_flow_left;       /* m3/s, all in and with the largest well out */
    size_t well_out;                          /* the largest */
    double wells_fit, wells_fit_left; /* m3/s of wells that fit what the filters may pass, taken in their order */
    double storage_lasts;             /* s of the maximum day that a full storage holds; WR_NEVER without demand */
    double above_reserve_lasts;       /* s of that above the reserve */
    double washes;                    /* a day */
    double between_washes;            /* s on the average; WR_NEVER where no filter ever calls */
    double busy;                      /* share of the day that the wash systems are taken */
    double wash_water, spent_wash;    /* m3 a day */
    double wash_share;                /* spent wash over the maximum day */
    size_t largest_wash;              /* group whose wash sends most to spent wash */
    double wash_flow;                 /* m3/s that a wash draws at most */
    double source_flow;               /* m3/s that the source gives at most, where it has a bound */
    double tank_washes;               /* washes that a full wash-water tank holds */
    double refill_time;               /* s in which its refill makes up a wash */
    double spent_washes;              /* washes that empty spent-wash tanks hold */
    double solids;                    /* kg/d that washes carry out on such a day */
    double tank_share;                /* of the largest spent-wash tank, taken by one wash */
    double outlet_flow;               /* m3/s of the best outlet over a day */
    double room_washes;               /* a day that spent-wash tanks and outlets take at most */
    double settles, sludge;           /* s for which a mean wash settles, and its share that is sludge then */
    double turn;                      /* s in which one wash settles and is emptied at that flow */
    double recycle_needs;             /* m3/s of raw water that the recycle pump at its whole flow wants */
};

/* Works out a plant's outline. */
struct wr_outline wr_outline_of(const struct wr_plant *plant);

/* Dry solids, kg/m2, that the observed run of a filter group gathered: the deposit law's inverse at the rise that was
 * seen; WR_ABSENT without such a run. */
double wr_outline_observed_load(const struct wr_plant *plant, size_t group);

#endif
