/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/rota.h"

#include "sim/engine/philox.h"
#include "sim/scenario/text.h"
#include "sim/study/rota_hunt.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Tries without a number from the caller; a firm capacity takes some forty runs of a year. */
enum { TRIES_FOR_ROOM = 400, TRIES_FOR_FIRM = 80 };

/* Halvings of the step between levels, around the best. */
enum { HALVINGS = 4 };

/* Share of the tries that goes to the grid; the rest looks around the best. */
static const double GRID_SHARE = 2.0 / 3;

/* Stream of draws. */
enum { DRAW_TRIES = 102 };

/* Works the tries from `count` on, so many of them. */
static bool work_tries(struct wr_rota_hunt *hunt, size_t count)
{
    struct wr_rota_search *rota = hunt->rota;
    struct wr_rota_try **candidates = wr_items_new(count, sizeof *candidates);
    size_t done;
    for (size_t i = 0; i < count; i++)
        candidates[i] = &rota->tries[rota->count + i];
    const bool good = wr_rota_tries_work(hunt, candidates, count, rota->for_firm, &done);
    rota->count += done;
    free(candidates);
    return good;
}

static double level_of(const struct wr_axis *axis, size_t level)
{
    char unit[WR_FIGURE_UNIT];
    double value = (double)level;
    if (axis->is_range)
        wr_figure_split(axis->values[level], &value, unit);
    return value;
}

/* A number that can be typed in: three significant digits. */
static double typed(double value)
{
    char text[40];
    snprintf(text, sizeof text, "%.3g", value);
    return strtod(text, NULL);
}

static void place_on_grid(const struct wr_rota_search *rota, size_t point, struct wr_rota_try *candidate)
{
    for (size_t a = rota->axis_count; a-- > 0;) {
        const double level = level_of(&rota->axes[a], point % rota->axes[a].count);
        candidate->values[a] = rota->smooth[a] ? typed(level) : level;
        point /= rota->axes[a].count;
    }
}

static void place_at_random(struct wr_rota_hunt *hunt, size_t number, struct wr_rota_try *candidate)
{
    const struct wr_rota_search *rota = hunt->rota;
    wr_philox_open(hunt->rng, (struct wr_stream){.seed = (uint64_t)hunt->definition->seed,
                                                 .purpose = DRAW_TRIES,
                                                 .replication = (uint32_t)number});
    for (size_t a = 0; a < rota->axis_count; a++) {
        const struct wr_axis *axis = &rota->axes[a];
        const double draw = gsl_rng_uniform(hunt->rng);
        candidate->values[a] = rota->smooth[a] ? typed(axis->from + draw * (axis->to - axis->from))
                                               : level_of(axis, (size_t)(draw * (double)axis->count));
    }
}

static bool try_grid(struct wr_rota_hunt *hunt)
{
    struct wr_rota_search *rota = hunt->rota;
    const size_t most = (size_t)ceil(GRID_SHARE * (double)rota->most);
    bool smooth = false;
    for (size_t a = 0; a < rota->axis_count; a++)
        smooth = smooth || rota->smooth[a];
    rota->whole_grid = rota->grid <= (smooth ? most : rota->most);
    const size_t count = rota->whole_grid ? rota->grid : most;
    for (size_t i = 0; i < count; i++)
        if (rota->whole_grid)
            place_on_grid(rota, i, &rota->tries[i]);
        else
            place_at_random(hunt, i, &rota->tries[i]);
    return work_tries(hunt, count);
}

static size_t find_best(const struct wr_rota_search *rota)
{
    size_t best = 0;
    for (size_t i = 1; i < rota->count; i++)
        if (wr_rota_is_better(rota, &rota->tries[i], &rota->tries[best]))
            best = i;
    return best;
}

/* Moves each smooth bound of a candidate a step up and a step down. Returns how many tries that makes. */
static size_t list_neighbours(struct wr_rota_search *rota, size_t centre, double step)
{
    size_t count = 0;
    for (size_t a = 0; a < rota->axis_count; a++) {
        const struct wr_axis *axis = &rota->axes[a];
        const double least = fmin(axis->from, axis->to), most = fmax(axis->from, axis->to);
        if (!rota->smooth[a])
            continue;
        for (int sign = -1; sign <= 1 && rota->count + count < rota->most; sign += 2) {
            struct wr_rota_try *candidate = &rota->tries[rota->count + count];
            const double value = typed(rota->tries[centre].values[a] + sign * step * (most - least));
            if (value < least || value > most)
                continue;
            *candidate = (struct wr_rota_try){0};
            memcpy(candidate->values, rota->tries[centre].values, sizeof candidate->values);
            candidate->values[a] = value;
            count++;
        }
    }
    return count;
}

static void refine(struct wr_rota_hunt *hunt)
{
    struct wr_rota_search *rota = hunt->rota;
    double step = 0.5 / (WR_ROTA_LEVELS - 1);
    for (size_t halving = 0; halving < HALVINGS;) {
        const size_t centre = find_best(rota);
        const size_t count = list_neighbours(rota, centre, step);
        if (count == 0 || !work_tries(hunt, count))
            return;
        if (find_best(rota) == centre) {
            step /= 2;
            halving++;
        }
    }
}

static bool is_chosen(const struct wr_rota_search *rota, size_t place)
{
    int which;
    for (size_t b = 0; b < rota->best_count; b++)
        if (rota->best[b] == place ||
            wr_rota_compare(&rota->tries[rota->best[b]].room, &rota->tries[place].room, rota->for_firm, &which) == 0)
            return true;
    return false;
}

static void choose_best(struct wr_rota_search *rota)
{
    while (rota->best_count < WR_ROTA_BEST) {
        size_t best = rota->count;
        for (size_t i = 0; i < rota->count; i++)
            if (rota->tries[i].is_allowed && !is_chosen(rota, i) &&
                (best == rota->count || wr_rota_is_better(rota, &rota->tries[i], &rota->tries[best])))
                best = i;
        if (best == rota->count)
            return;
        rota->best[rota->best_count++] = best;
    }
}

static void find_unavoidable(struct wr_rota_search *rota)
{
    rota->unavoidable = WR_NEVER;
    rota->unavoidable_by = WR_LIMIT_NONE;
    for (size_t i = 0; i < rota->count; i++)
        if (rota->tries[i].is_allowed && rota->tries[i].unavoidable < rota->unavoidable) {
            rota->unavoidable = rota->tries[i].unavoidable;
            rota->unavoidable_by = rota->tries[i].unavoidable_by;
        }
}

/* Today's firm capacity and that of the best, unless they have been searched. */
static void find_firm(struct wr_rota_hunt *hunt)
{
    struct wr_rota_search *rota = hunt->rota;
    struct wr_rota_try *candidates[WR_ROTA_BEST];
    size_t done;
    for (size_t b = 0; b < rota->best_count; b++)
        candidates[b] = &rota->tries[rota->best[b]];
    if (!rota->for_firm)
        wr_rota_tries_work(hunt, candidates, rota->best_count, true, &done);
}

static void search(struct wr_rota_hunt *hunt)
{
    struct wr_rota_search *rota = hunt->rota;
    struct wr_rota_try *today = &rota->today;
    size_t done;
    wr_rota_starts_list(hunt);
    if (hunt->workers != NULL)
        hunt->workers->expected = rota->most + 1 + WR_ROTA_BEST;
    bool good = wr_rota_tries_work(hunt, &today, 1, true, &done) && try_grid(hunt);
    if (good)
        refine(hunt);
    choose_best(rota);
    find_unavoidable(rota);
    if (rota->end == WR_RUN_WHOLE)
        find_firm(hunt);
}

void wr_rota_make(struct wr_rota_search *rota, const struct wr_rota_question *question, struct wr_workers *workers)
{
    *rota = (struct wr_rota_search){.end = WR_RUN_WHOLE, .for_firm = question->for_firm};
    rota->most = question->tries > 0 ? question->tries : question->for_firm ? TRIES_FOR_FIRM : TRIES_FOR_ROOM;
    rota->tries = wr_items_new(rota->most, sizeof *rota->tries);
    char *text = wr_base_text(question->reading);
    struct wr_rota_hunt hunt = {.rota = rota,
                                .workers = workers,
                                .base = {question->name, text},
                                .definition = &question->reading->definition,
                                .rng = gsl_rng_alloc(wr_rng_philox)};
    if (hunt.rng == NULL)
        rota->end = WR_RUN_NO_MEMORY;
    else if (wr_rota_bounds_read(&hunt, question))
        search(&hunt);
    wr_rota_starts_fini(&hunt);
    if (hunt.rng != NULL)
        gsl_rng_free(hunt.rng);
    free(text);
}

void wr_rota_fini(struct wr_rota_search *rota)
{
    for (size_t a = 0; a < rota->axis_count; a++)
        wr_axis_fini(&rota->axes[a]);
    free(rota->tries);
    *rota = (struct wr_rota_search){0};
}
