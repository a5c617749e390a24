/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/rota.h"

#include "sim/engine/philox.h"
#include "sim/scenario/quantity_kind.h"
#include "sim/scenario/text.h"
#include "sim/study/rota_room.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Tries without a number from the caller; a firm capacity takes some forty runs of a year. */
enum { TRIES_FOR_ROOM = 400, TRIES_FOR_FIRM = 80 };

/* Levels of a range that does not say how many values it wants, and halvings of the step between them. */
enum { LEVELS = 7, HALVINGS = 4, DAYS_LATER_2 = 2, DAYS_LATER_3 = 5 };

/* Share of the tries that goes to the grid; the rest looks around the best. */
static const double GRID_SHARE = 2.0 / 3;

static const double DAY = 86400;

/* Streams of draws. */
enum { DRAW_BEDS = 101, DRAW_TRIES = 102 };

/* A search under way. */
struct hunt {
    struct wr_rota_search *rota;
    struct wr_workers *workers;
    struct wr_base base;
    const struct wr_definition *definition;
    gsl_rng *rng;
    char *starts[WR_ROTA_STARTS][WR_ROTA_AXES]; /* settings of each start; NULL after the last */
    double shift[WR_ROTA_STARTS];               /* s by which it begins later */
};

/* Comparing -----------------------------------------------------------------------------------------------------------
 */

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

static bool is_better(const struct wr_rota_search *rota, const struct wr_rota_try *a, const struct wr_rota_try *b)
{
    int which;
    if (a->is_allowed != b->is_allowed)
        return a->is_allowed;
    return a->is_allowed && wr_rota_compare(&a->room, &b->room, rota->for_firm, &which) < 0;
}

/* Settings
 * ------------------------------------------------------------------------------------------------------------- */

static bool is_place(const struct wr_axis *axis)
{
    return axis->pointer[0] == '/';
}

static double seconds_of(const struct wr_axis *axis, double value)
{
    char fault[200];
    wr_quantity_to_si(WR_QUANTITY_TIME, axis->unit, &value, fault, sizeof fault);
    return value;
}

/* Length of time of a bound that is no place; `otherwise` without that bound. */
static double time_of(const struct wr_rota_search *rota, const struct wr_rota_try *candidate, const char *name,
                      double otherwise)
{
    for (size_t a = 0; a < rota->axis_count; a++)
        if (strcmp(rota->axes[a].pointer, name) == 0)
            return seconds_of(&rota->axes[a], candidate->values[a]);
    return otherwise;
}

/* The dated rota of a candidate: filters evenly spread over its time. NULL where it has none. */
static char *dated_rota(const struct wr_rota_search *rota, const struct wr_rota_try *candidate,
                        const struct wr_definition *definition, double shift)
{
    struct wr_plant plant;
    struct wr_text setting = {0};
    const double every = time_of(rota, candidate, "every", 0);
    if (every <= 0 || wr_plant_init(&plant, definition) != WR_OK)
        return NULL;
    cJSON *list = cJSON_CreateArray();
    for (size_t f = 0; f < plant.filter_count; f++) {
        const double first = time_of(rota, candidate, "first", every / (double)plant.filter_count) +
                             every * (double)f / (double)plant.filter_count;
        char date[32], text[64];
        cJSON *entry = cJSON_CreateObject();
        wr_figure_text(floor(every / 60), "min", text, sizeof text);
        cJSON_AddStringToObject(entry, "filter", plant.names[f]);
        cJSON_AddStringToObject(entry, "first", wr_date_text(definition->start + shift + first, date, sizeof date));
        cJSON_AddStringToObject(entry, "every", text);
        cJSON_AddItemToArray(list, entry);
    }
    char *words = cJSON_PrintUnformatted(list);
    wr_text_add(&setting, "/wash/rota=%s", words);
    free(words);
    cJSON_Delete(list);
    wr_plant_fini(&plant);
    return wr_text_take(&setting);
}

static char *setting_of(const struct wr_axis *axis, double value)
{
    char text[96];
    if (!axis->is_range)
        return wr_axis_setting(axis, axis->values[(size_t)value]);
    return wr_axis_setting(axis, wr_figure_text(value, axis->unit, text, sizeof text));
}

static size_t list_settings(const struct wr_rota_search *rota, const struct wr_rota_try *candidate,
                            const struct wr_definition *definition, double shift, char *settings[WR_ROTA_AXES])
{
    size_t count = 0;
    for (size_t a = 0; a < rota->axis_count; a++)
        if (is_place(&rota->axes[a]))
            settings[count++] = setting_of(&rota->axes[a], candidate->values[a]);
    char *dated = dated_rota(rota, candidate, definition, shift);
    if (dated != NULL)
        settings[count++] = dated;
    return count;
}

size_t wr_rota_settings(const struct wr_rota_search *rota, const struct wr_rota_try *candidate,
                        const struct wr_definition *definition, char *settings[WR_ROTA_AXES])
{
    return list_settings(rota, candidate, definition, 0, settings);
}

/* Starts
 * --------------------------------------------------------------------------------------------------------------- */

static char *text_of(const char *format, const char *value)
{
    struct wr_text text = {0};
    wr_text_add(&text, format, value);
    return wr_text_take(&text);
}

/* Shares of a run used, at random, for one group of filters. */
static char *random_shares(struct hunt *hunt, size_t group, size_t start)
{
    struct wr_text text = {0};
    wr_philox_open(hunt->rng, (struct wr_stream){.seed = (uint64_t)hunt->definition->seed,
                                                 .component = (uint32_t)group,
                                                 .purpose = DRAW_BEDS,
                                                 .replication = (uint32_t)start});
    wr_text_add(&text, "/filters/%zu/start_shares=[", group);
    for (size_t f = 0; f < hunt->definition->filters.items[group].filters; f++)
        wr_text_add(&text, "%s\"%.0f %%\"", f > 0 ? ", " : "", floor(100 * gsl_rng_uniform(hunt->rng)));
    wr_text_add(&text, "]");
    return wr_text_take(&text);
}

static bool reads_well(struct hunt *hunt, char *const *settings)
{
    struct wr_variant variant;
    size_t count = 0;
    while (count < WR_ROTA_AXES && settings[count] != NULL)
        count++;
    wr_variant_read(&variant, &hunt->base, (const char *const *)settings, count);
    const bool good = variant.is_allowed;
    wr_variant_fini(&variant);
    return good;
}

static void drop_start(char **settings)
{
    for (size_t i = 0; i < WR_ROTA_AXES; i++) {
        free(settings[i]);
        settings[i] = NULL;
    }
}

/* A start other than the scenario's own: beds at random, some days later where its dates allow that. */
static void add_random_start(struct hunt *hunt, size_t days_later)
{
    struct wr_rota_search *rota = hunt->rota;
    char **settings = hunt->starts[rota->starts], date[32];
    const size_t groups = hunt->definition->filters.count;
    size_t count = 0;
    if (groups + 3 > WR_ROTA_AXES)
        return;
    settings[count++] = text_of("/start_beds=%s", "{\"how\": \"given\"}");
    for (size_t g = 0; g < groups; g++)
        settings[count++] = random_shares(hunt, g, rota->starts);
    hunt->shift[rota->starts] = (double)days_later * DAY;
    settings[count] =
        text_of("/start=%s", wr_date_text(hunt->definition->start + (double)days_later * DAY, date, sizeof date));
    if (!reads_well(hunt, settings)) {
        free(settings[count]);
        settings[count] = NULL;
        hunt->shift[rota->starts] = 0;
    }
    if (reads_well(hunt, settings))
        rota->starts++;
    else
        drop_start(settings);
}

static void list_starts(struct hunt *hunt)
{
    struct wr_rota_search *rota = hunt->rota;
    rota->starts = 1;
    hunt->starts[1][0] = text_of("/start_beds=%s", "{\"how\": \"equal\"}");
    if (reads_well(hunt, hunt->starts[1]))
        rota->starts++;
    else
        drop_start(hunt->starts[1]);
    add_random_start(hunt, DAYS_LATER_2);
    add_random_start(hunt, DAYS_LATER_3);
}

/* Working tries
 * -------------------------------------------------------------------------------------------------------- */

static void read_job(struct hunt *hunt, struct wr_rota_job *job)
{
    struct wr_rota_search *rota = hunt->rota;
    const bool is_today = job->candidate == &rota->today;
    job->starts = rota->starts;
    job->end = WR_RUN_WHOLE;
    job->candidate->is_allowed = true;
    for (size_t s = 0; s < rota->starts; s++) {
        char *settings[2 * WR_ROTA_AXES];
        size_t count = 0;
        while (count < WR_ROTA_AXES && hunt->starts[s][count] != NULL) {
            settings[count] = hunt->starts[s][count];
            count++;
        }
        const size_t own =
            is_today ? 0 : list_settings(rota, job->candidate, hunt->definition, hunt->shift[s], &settings[count]);
        wr_variant_read(&job->variants[s], &hunt->base, (const char *const *)settings, count + own);
        if (!job->variants[s].is_allowed) {
            job->candidate->is_allowed = false;
            if (rota->refusal[0] == '\0')
                wr_variant_refusal(&job->variants[s], "", hunt->rota->refusal, sizeof hunt->rota->refusal);
        }
        for (size_t i = 0; i < own; i++)
            free(settings[count + i]);
    }
}

static void end_jobs(struct hunt *hunt, struct wr_rota_job *jobs, size_t count)
{
    struct wr_rota_search *rota = hunt->rota;
    for (size_t j = 0; j < count; j++) {
        if (jobs[j].end != WR_RUN_WHOLE && rota->end == WR_RUN_WHOLE) {
            rota->end = jobs[j].end;
            snprintf(rota->message, sizeof rota->message, "%s", jobs[j].message);
        }
        for (size_t s = 0; s < jobs[j].starts; s++)
            wr_variant_fini(&jobs[j].variants[s]);
    }
}

/* Works candidates; false when the search must end. Only those that are done count. */
static bool work(struct hunt *hunt, struct wr_rota_try **candidates, size_t count, bool with_firm, size_t *done)
{
    struct wr_rota_search *rota = hunt->rota;
    const size_t most = 8 * wr_workers_threads(hunt->workers);
    struct wr_rota_job *jobs = wr_items_new(most, sizeof *jobs);
    for (*done = 0; *done < count && rota->end == WR_RUN_WHOLE;) {
        const size_t here = count - *done < most ? count - *done : most;
        memset(jobs, 0, most * sizeof *jobs);
        for (size_t j = 0; j < here; j++) {
            jobs[j].candidate = candidates[*done + j];
            jobs[j].with_firm = with_firm;
            read_job(hunt, &jobs[j]);
        }
        const size_t worked = wr_workers_each(hunt->workers, here, wr_rota_work, jobs);
        end_jobs(hunt, jobs, here);
        *done += worked;
        if (worked < here && rota->end == WR_RUN_WHOLE) {
            rota->end = WR_RUN_STOPPED;
            snprintf(rota->message, sizeof rota->message, "the search was interrupted");
        }
    }
    free(jobs);
    return rota->end == WR_RUN_WHOLE;
}

/* Works the tries from `count` on, so many of them. */
static bool work_tries(struct hunt *hunt, size_t count)
{
    struct wr_rota_search *rota = hunt->rota;
    struct wr_rota_try **candidates = wr_items_new(count, sizeof *candidates);
    size_t done;
    for (size_t i = 0; i < count; i++)
        candidates[i] = &rota->tries[rota->count + i];
    const bool good = work(hunt, candidates, count, rota->for_firm, &done);
    rota->count += done;
    free(candidates);
    return good;
}

/* The grid
 * ------------------------------------------------------------------------------------------------------------- */

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

static void place_at_random(struct hunt *hunt, size_t number, struct wr_rota_try *candidate)
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

static bool try_grid(struct hunt *hunt)
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

/* Around the best
 * ------------------------------------------------------------------------------------------------------ */

static size_t find_best(const struct wr_rota_search *rota)
{
    size_t best = 0;
    for (size_t i = 1; i < rota->count; i++)
        if (is_better(rota, &rota->tries[i], &rota->tries[best]))
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

static void refine(struct hunt *hunt)
{
    struct wr_rota_search *rota = hunt->rota;
    double step = 0.5 / (LEVELS - 1);
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

/* The best
 * ------------------------------------------------------------------------------------------------------------- */

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
                (best == rota->count || is_better(rota, &rota->tries[i], &rota->tries[best])))
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
static void find_firm(struct hunt *hunt)
{
    struct wr_rota_search *rota = hunt->rota;
    struct wr_rota_try *candidates[WR_ROTA_BEST];
    size_t done;
    for (size_t b = 0; b < rota->best_count; b++)
        candidates[b] = &rota->tries[rota->best[b]];
    if (!rota->for_firm)
        work(hunt, candidates, rota->best_count, true, &done);
}

/* The question
 * --------------------------------------------------------------------------------------------------------- */

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

static bool read_bound(struct hunt *hunt, const struct wr_reading *reading, const char *text)
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
    else if (is_place(axis) ? wr_axis_is_known(axis, reading, fault, sizeof fault)
                            : is_time(axis, fault, sizeof fault)) {
        rota->smooth[rota->axis_count - 1] = axis->count == 0 && !axis->is_whole;
        if (axis->count == 0)
            wr_axis_divide(axis, axis->is_whole ? WR_AXIS_MOST : LEVELS);
        return true;
    }
    return is_wrong(rota, fault);
}

static bool read_bounds(struct hunt *hunt, const struct wr_rota_question *question)
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

static void search(struct hunt *hunt)
{
    struct wr_rota_search *rota = hunt->rota;
    struct wr_rota_try *today = &rota->today;
    size_t done;
    list_starts(hunt);
    if (hunt->workers != NULL)
        hunt->workers->expected = rota->most + 1 + WR_ROTA_BEST;
    bool good = work(hunt, &today, 1, true, &done) && try_grid(hunt);
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
    struct hunt hunt = {.rota = rota,
                        .workers = workers,
                        .base = {question->name, text},
                        .definition = &question->reading->definition,
                        .rng = gsl_rng_alloc(wr_rng_philox)};
    if (hunt.rng == NULL)
        rota->end = WR_RUN_NO_MEMORY;
    else if (read_bounds(&hunt, question))
        search(&hunt);
    for (size_t s = 0; s < WR_ROTA_STARTS; s++)
        drop_start(hunt.starts[s]);
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
