/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/growth.h"

#include <assert.h>
#include <math.h>

#include "sim/scenario/date.h"

static const double marks[WR_GROWTH_MARKS] = {0.75, 0.90, 1.00};

/* Reached in a year when it is so near: what doubles lose in the logarithms is no year. */
static const double YEAR_SLACK = 1e-9;

double wr_growth_mark(size_t mark)
{
    assert(mark < WR_GROWTH_MARKS);
    return marks[mark];
}

double wr_growth_years(double from, double to, double rate)
{
    if (!(from > 0) || !(to > 0))
        return WR_ABSENT;
    return log(to / from) / log1p(rate);
}

double wr_growth_after(double flow, double rate, int years)
{
    for (int y = 0; y < years; y++)
        flow *= 1 + rate;
    return flow;
}

struct wr_growth wr_growth_of(const struct wr_firm *firm, double rate)
{
    struct wr_growth growth = {
        .rate = rate, .demand = firm->maximum_day, .year = wr_date_year(firm->plant.definition->start)};
    growth.capacity[WR_GROWTH_FILTER_FIRM] = firm->one_out.firm;
    growth.capacity[WR_GROWTH_PLANT_FIRM] = firm->plant_firm;
    growth.capacity[WR_GROWTH_APPROVED] = firm->approved;
    for (int c = 0; c < WR_GROWTH_CAPACITIES; c++)
        for (size_t m = 0; m < WR_GROWTH_MARKS; m++)
            growth.years[c][m] = wr_growth_years(growth.demand, marks[m] * growth.capacity[c], rate);
    return growth;
}

int wr_growth_whole_years(double years)
{
    return (int)ceil(fmax(0, fmin(years, 1e6) - YEAR_SLACK));
}

int wr_growth_first_year(const struct wr_growth *growth, enum wr_growth_capacity capacity, size_t mark)
{
    const double years = growth->years[capacity][mark];
    assert(wr_is_given(years));
    return growth->year + wr_growth_whole_years(years);
}
