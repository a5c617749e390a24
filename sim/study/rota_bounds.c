/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Within which bounds a rota is searched. */
#include "sim/scenario/quantity_kind.h"
#include "sim/study/rota_hunt.h"

#include <stdio.h>
#include <string.h>

static bool is_wrong(struct wr_rota_search *rota, const char *fault)
{
    rota->is_wrong = true;
    rota->end = WR_RUN_BAD_PLANT;
    snprintf(rota->message, sizeof rota->message, "%s", fault);
    return false;
}

/* A bound that is no place is a time. */
static bool is_time(const struct wr_axis *axis, char *fault, size_t size)
{
    double value = axis->from;
    char why[200];
    const bool known = strcmp(axis->pointer, "every") == 0 || strcmp(axis->pointer, "first") == 0;
    if (known && axis->is_range && wr_quantity_to_si(WR_QUANTITY_TIME, axis->unit, &value, why, sizeof why))
        return true;
    snprintf(fault, size,
             "\"%s\" is no pointer and no time; a dated rota is bounded by every=24 h to 72 h and first=0 h to "
             "24 h",
             axis->pointer);
    return false;
}

static bool read_bound(struct wr_rota_hunt *hunt, const struct wr_reading *reading, const char *text)
{
    struct wr_rota_search *rota = hunt->rota;
    struct wr_axis *axis = &rota->axes[rota->axis_count];
    char fault[WR_AXIS_FAULT];
    if (rota->axis_count == WR_ROTA_AXES - 1)
        return is_wrong(rota, "these are too many bounds");
    if (!wr_axis_read(axis, text, fault, sizeof fault))
        return is_wrong(rota, fault);
    rota->axis_count++;
    if (strchr(text, '=') == NULL)
        snprintf(fault, sizeof fault, "%s: within which bounds? Such as %s=1 h to 4 h, or a list", text, text);
    else if (wr_rota_is_place(axis) ? wr_axis_is_known(axis, reading, fault, sizeof fault)
                                    : is_time(axis, fault, sizeof fault)) {
        rota->smooth[rota->axis_count - 1] = axis->count == 0 && !axis->is_whole;
        if (axis->count == 0)
            wr_axis_divide(axis, axis->is_whole ? WR_AXIS_MOST : WR_ROTA_LEVELS);
        return true;
    }
    return is_wrong(rota, fault);
}

bool wr_rota_bounds_read(struct wr_rota_hunt *hunt, const struct wr_rota_question *question)
{
    struct wr_rota_search *rota = hunt->rota;
    bool every = false, first = false;
    if (question->bound_count == 0)
        return is_wrong(rota, "say what may be changed, and within which bounds: --may POINTER=VALUES");
    for (size_t i = 0; i < question->bound_count; i++) {
        if (!read_bound(hunt, question->reading, question->bounds[i]))
            return false;
        every = every || strcmp(rota->axes[i].pointer, "every") == 0;
        first = first || strcmp(rota->axes[i].pointer, "first") == 0;
    }
    rota->grid = 1;
    for (size_t a = 0; a < rota->axis_count && rota->grid <= WR_ROTA_TRIES; a++)
        rota->grid *= rota->axes[a].count;
    return every || !first || is_wrong(rota, "first= is of a dated rota, which wants every= too");
}
