/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which of two candidates is better. */
#include "sim/study/rota_hunt.h"

#include <math.h>

/* A difference of less than this is none: minutes of waiting, thousandths of a share. */
static int compare_figure(double a, double b, double grain)
{
    const double x = round(a / grain), y = round(b / grain);
    return x < y ? -1 : x > y;
}

int wr_rota_compare(const struct wr_rota_room *a, const struct wr_rota_room *b, bool for_firm, int *which)
{
    const int orders[] = {
        [WR_ROTA_FAILS] = (a->fails > b->fails) - (a->fails < b->fails),
        [WR_ROTA_LONGEST] = compare_figure(a->longest_wait, b->longest_wait, 60),
        [WR_ROTA_MEAN] = compare_figure(a->mean_wait, b->mean_wait, 60),
        [WR_ROTA_START_UP] = compare_figure(a->start_up_wait, b->start_up_wait, 60),
        [WR_ROTA_RESERVE] = compare_figure(a->reserve_used, b->reserve_used, 1e-3),
        [WR_ROTA_WATER] = -compare_figure(a->wash_water, b->wash_water, 1e-3),
        [WR_ROTA_TANK] = -compare_figure(a->tank_room, b->tank_room, 1e-3),
        [WR_ROTA_WASHES] = compare_figure(a->washes, b->washes, 1e-2),
    };
    *which = WR_ROTA_FIRM;
    if (for_firm && wr_is_given(a->firm) && wr_is_given(b->firm)) {
        const int order = -compare_figure(a->firm, b->firm, 1e-3 * fmax(a->firm, b->firm));
        if (order != 0)
            return order;
    }
    for (*which = 0; *which < (int)(sizeof orders / sizeof *orders); ++*which)
        if (orders[*which] != 0)
            return orders[*which];
    *which = WR_ROTA_ALIKE;
    return 0;
}

bool wr_rota_is_better(const struct wr_rota_search *rota, const struct wr_rota_try *a, const struct wr_rota_try *b)
{
    int which;
    if (a->is_allowed != b->is_allowed)
        return a->is_allowed;
    return a->is_allowed && wr_rota_compare(&a->room, &b->room, rota->for_firm, &which) < 0;
}
