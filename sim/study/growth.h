/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_GROWTH_H
#define WR_SIM_STUDY_GROWTH_H

/* When growing demand catches up with what a plant can promise.
 *
 * The maximum day grows by the same share every year, compound, from the year in which the scenario starts. A capacity
 * C is reached after ln(C / maximum day) / ln(1 + rate) years. */

#include "sim/study/firm.h"

enum wr_growth_capacity { WR_GROWTH_FILTER_FIRM, WR_GROWTH_PLANT_FIRM, WR_GROWTH_APPROVED, WR_GROWTH_CAPACITIES };
enum { WR_GROWTH_MARKS = 3 }; /* 75, 90 and 100 % */

struct wr_growth {
    double rate;                                         /* share a year, above 0 */
    double demand;                                       /* m3/s, maximum day of the first year */
    int year;                                            /* of the calendar, the first */
    double capacity[WR_GROWTH_CAPACITIES];               /* m3/s; WR_ABSENT */
    double years[WR_GROWTH_CAPACITIES][WR_GROWTH_MARKS]; /* until the mark is reached, 0 or less where it is already;
                                                            WR_ABSENT */
};

/* The shares of a capacity that are marked, in their order. */
double wr_growth_mark(size_t mark);

/* Years in which a flow grows to another by compound growth; negative where it was passed before. Both above 0, the
 * rate above 0; WR_ABSENT where either flow is not above 0. */
double wr_growth_years(double from, double to, double rate);

/* The flow after so many whole years, by repeated multiplication. */
double wr_growth_after(double flow, double rate, int years);

/* The whole years after which so many have gone by, at least 0: 3 for 2.1 and for 3. */
int wr_growth_whole_years(double years);

/* Growth of the maximum day of a plant whose firm capacities are known. */
struct wr_growth wr_growth_of(const struct wr_firm *firm, double rate);

/* The first year of the calendar whose maximum day is at least so much of a capacity. */
int wr_growth_first_year(const struct wr_growth *growth, enum wr_growth_capacity capacity, size_t mark);

#endif
