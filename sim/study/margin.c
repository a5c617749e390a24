/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/margin.h"

#include "sim/scenario/quantity_kind.h"
#include "sim/scenario/text.h"
#include "sim/study/margin_hunt.h"

#include <float.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Without a range the ladder ends at ten times the value, and at a tenth of it. */
static const double TENFOLD = 10;

/* Width of the final bracket, as a share of its larger end. */
static const double BRACKET = 1e-7;

enum { HALVINGS_MOST = 80 };

/* Trying values ---------------------------------------------------------------------------------------------------- */

void wr_hunt_fault(struct wr_hunt *hunt, enum wr_run_end end, const char *message)
{
    if (hunt->margins->end == WR_RUN_WHOLE) {
        hunt->margins->end = end;
        snprintf(hunt->margins->message, sizeof hunt->margins->message, "%s", message);
    }
}

void wr_probe_read(struct wr_hunt *hunt, struct wr_probe *probe, const struct wr_margin *first, double value,
                   const struct wr_margin *second, double other)
{
    char texts[2][96], *settings[2];
    const struct wr_margin *const moved[] = {first, second};
    const double values[] = {value, other};
    const size_t count = second != NULL ? 2 : 1;
    for (size_t i = 0; i < count; i++) {
        struct wr_text setting = {0};
        wr_text_add(&setting, "%s=%s", moved[i]->pointer,
                    wr_figure_text(values[i], moved[i]->figure.unit, texts[i], sizeof texts[i]));
        settings[i] = wr_text_take(&setting);
    }
    wr_variant_read(&probe->variant, &hunt->base, (const char *const *)settings, count);
    for (size_t i = 0; i < count; i++)
        free(settings[i]);
}

bool wr_probes_judge(struct wr_hunt *hunt, struct wr_probe *probes, size_t count)
{
    struct wr_variant **variants = wr_items_new(count, sizeof *variants);
    for (size_t i = 0; i < count; i++)
        variants[i] = &probes[i].variant;
    const size_t done = wr_variants_judge(variants, count, hunt->margins->verdict, hunt->workers);
    if (done < count)
        wr_hunt_fault(hunt, WR_RUN_STOPPED, "the study was interrupted");
    hunt->margins->runs += done;
    for (size_t i = 0; i < done; i++) {
        const struct wr_tried *tried = &probes[i].variant.tried;
        if (probes[i].variant.is_allowed && tried->end != WR_RUN_WHOLE && tried->end != WR_RUN_BAD_PLANT)
            wr_hunt_fault(hunt, tried->end, tried->message);
        if (tried->end == WR_RUN_BAD_PLANT)
            probes[i].variant.is_allowed = false;
    }
    free(variants);
    return hunt->margins->end == WR_RUN_WHOLE;
}

/* Ladders -----------------------------------------------------------------------------------------------------------
 */

/* A ladder's values outwards from the value of now, in even steps to an end that was asked for or by even factors. */
static size_t list_rungs(const struct wr_ask *ask, bool up, double values[WR_MARGIN_RUNGS])
{
    const struct wr_figure *figure = &ask->margin->figure;
    const double now = figure->value, end = up ? ask->most : ask->least;
    size_t count = 0;
    if (ask->has_range && (up ? end <= now : end >= now))
        return 0;
    for (size_t r = 1; r <= WR_MARGIN_RUNGS; r++) {
        const double share = (double)r / WR_MARGIN_RUNGS;
        double value;
        if (ask->has_range)
            value = now + (end - now) * share;
        else if (figure->is_whole)
            value = now + (up ? (double)r : -(double)r);
        else
            value = now * exp((up ? 1 : -1) * share * log(TENFOLD));
        if (figure->is_whole)
            value = up ? floor(value) : ceil(value);
        const double last = count > 0 ? values[count - 1] : now;
        if (value < last || value > last)
            values[count++] = value;
    }
    return count;
}

/* A rounder number a hair further that is allowed as well, where there is one: the reader's own bound, mostly. */
static double rounded(struct wr_hunt *hunt, const struct wr_margin *margin, double value, double bad)
{
    struct wr_probe probe;
    char text[40];
    snprintf(text, sizeof text, "%.6g", value);
    const double candidate = strtod(text, NULL);
    if (bad > value ? candidate <= value : candidate >= value)
        return value;
    wr_probe_read(hunt, &probe, margin, candidate, NULL, 0);
    if (probe.variant.is_allowed)
        value = candidate;
    wr_variant_fini(&probe.variant);
    return value;
}

/* The value nearest to `bad` that the scenario allows, from a good one on. */
static double find_bound(struct wr_hunt *hunt, const struct wr_margin *margin, double good, double bad)
{
    const double least = margin->figure.is_whole ? 1 : 1e-10 * fmax(fabs(good), fabs(bad));
    for (size_t i = 0; i < HALVINGS_MOST && fabs(bad - good) > least; i++) {
        struct wr_probe probe;
        double middle = (good + bad) / 2;
        if (margin->figure.is_whole)
            middle = good < bad ? floor(middle) : ceil(middle);
        wr_probe_read(hunt, &probe, margin, middle, NULL, 0);
        if (probe.variant.is_allowed)
            good = middle;
        else
            bad = middle;
        wr_variant_fini(&probe.variant);
    }
    return margin->figure.is_whole ? good : rounded(hunt, margin, good, bad);
}

/* Reads the rungs of one ladder into probes, up to the reader's bound. Returns how many. */
static size_t read_ladder(struct wr_hunt *hunt, struct wr_ask *ask, bool up, struct wr_probe *probes)
{
    struct wr_margin *margin = ask->margin;
    struct wr_margin_side *side = up ? &margin->up : &margin->down;
    double values[WR_MARGIN_RUNGS], last = margin->figure.value;
    const size_t count = list_rungs(ask, up, values);
    for (side->rungs = 0; side->rungs < count && !side->is_bound; side->rungs++) {
        struct wr_probe *probe = &probes[side->rungs];
        wr_probe_read(hunt, probe, margin, values[side->rungs], NULL, 0);
        if (!probe->variant.is_allowed) {
            side->is_bound = true;
            wr_variant_refusal(&probe->variant, margin->pointer, side->refusal, sizeof side->refusal);
            wr_variant_fini(&probe->variant);
            const double bound = find_bound(hunt, margin, last, values[side->rungs]);
            if (fabs(bound - last) <= 1e-9 * fabs(last))
                break;
            values[side->rungs] = bound;
            wr_probe_read(hunt, probe, margin, bound, NULL, 0);
        }
        last = side->ladder[side->rungs].value = values[side->rungs];
    }
    return side->rungs;
}

static void take_mark(struct wr_mark_tried *mark, const struct wr_variant *variant)
{
    mark->rung = variant->tried.rung;
    mark->passes = variant->is_allowed && variant->tried.rung.passes;
}

/* Where the verdict changes along a ladder, and how often again beyond. */
static void read_changes(struct wr_margin *margin, struct wr_margin_side *side)
{
    const struct wr_mark_tried *last = &margin->now;
    for (size_t r = 0; r < side->rungs; last = &side->ladder[r++]) {
        if (side->ladder[r].passes == last->passes)
            continue;
        if (side->changes)
            side->returns++;
        else {
            side->changes = true;
            side->near = last->value;
            side->far = side->ladder[r].value;
            side->failing = last->passes ? side->ladder[r].rung : last->rung;
        }
    }
}

static bool climb(struct wr_hunt *hunt, struct wr_ask *asks, size_t count)
{
    enum { PROBES = 2 * WR_MARGIN_RUNGS };
    struct wr_probe *probes = wr_items_new(count * PROBES, sizeof *probes);
    size_t used = 0;
    for (size_t i = 0; i < count; i++) {
        used += read_ladder(hunt, &asks[i], true, &probes[used]);
        used += read_ladder(hunt, &asks[i], false, &probes[used]);
    }
    const bool good = wr_probes_judge(hunt, probes, used);
    size_t next = 0;
    for (size_t i = 0; i < count; i++) {
        struct wr_margin *margin = asks[i].margin;
        struct wr_margin_side *const sides[] = {&margin->up, &margin->down};
        for (size_t s = 0; s < 2; s++) {
            for (size_t r = 0; r < sides[s]->rungs; r++)
                take_mark(&sides[s]->ladder[r], &probes[next++].variant);
            read_changes(margin, sides[s]);
        }
    }
    for (size_t i = 0; i < used; i++)
        wr_variant_fini(&probes[i].variant);
    free(probes);
    return good;
}

/* Halving ------------------------------------------------------------------------------------------------------------
 */

/* True where the gap of a change is to be halved once more, and the value to try. */
static bool has_middle(const struct wr_margin *margin, const struct wr_margin_side *side, double *middle)
{
    *middle = (side->near + side->far) / 2;
    if (margin->figure.is_whole) {
        *middle = floor(*middle);
        return side->changes && fabs(side->far - side->near) > 1;
    }
    return side->changes && fabs(side->far - side->near) > BRACKET * fmax(fabs(side->near), fabs(side->far)) &&
           fabs(side->far - side->near) > DBL_MIN;
}

static void take_middle(const struct wr_margin *margin, struct wr_margin_side *side, double middle,
                        const struct wr_tried *tried)
{
    const bool as_now = tried->rung.passes == margin->now.passes;
    if (as_now)
        side->near = middle;
    else
        side->far = middle;
    if (!tried->rung.passes)
        side->failing = tried->rung;
}

/* One halving of every gap that wants it. False when none does, or something went wrong. */
static bool halve(struct wr_hunt *hunt, struct wr_ask *asks, size_t count)
{
    struct wr_probe *probes = wr_items_new(2 * count, sizeof *probes);
    size_t used = 0;
    for (size_t i = 0; i < 2 * count; i++) {
        struct wr_margin *margin = asks[i / 2].margin;
        struct wr_margin_side *side = i % 2 == 0 ? &margin->up : &margin->down;
        struct wr_probe *probe = &probes[used];
        if (!has_middle(margin, side, &probe->value))
            continue;
        probe->margin = margin;
        probe->side = side;
        wr_probe_read(hunt, probe, margin, probe->value, NULL, 0);
        used++;
    }
    const bool good = used > 0 && wr_probes_judge(hunt, probes, used);
    for (size_t i = 0; i < used; i++) {
        if (good)
            take_middle(probes[i].margin, probes[i].side, probes[i].value, &probes[i].variant.tried);
        wr_variant_fini(&probes[i].variant);
    }
    free(probes);
    return good;
}

/* The question -------------------------------------------------------------------------------------------------------
 */

static bool is_wrong(struct wr_margins *margins, const char *fault)
{
    margins->is_wrong = true;
    margins->end = WR_RUN_BAD_PLANT;
    snprintf(margins->message, sizeof margins->message, "%s", fault);
    return false;
}

/* Turns the value of now into the unit of the range that was asked for. */
static bool take_unit(struct wr_figure *figure, const struct wr_axis *axis, char *fault, size_t size)
{
    const enum wr_quantity quantity = (enum wr_quantity)figure->quantity;
    char why[200] = "";
    if (strcmp(figure->unit, axis->unit) == 0)
        return true;
    double least = axis->from;
    if (axis->unit[0] == '\0' || figure->unit[0] == '\0' ||
        !wr_quantity_to_si(quantity, axis->unit, &least, why, sizeof why)) {
        snprintf(fault, size, "%s is in \"%s\", and its range in \"%s\"%s", axis->pointer, figure->unit, axis->unit,
                 why);
        return false;
    }
    figure->value = wr_figure_si(figure, figure->value);
    wr_quantity_from_si(quantity, axis->unit, &figure->value);
    memcpy(figure->unit, axis->unit, sizeof figure->unit);
    return true;
}

/* One thing asked: a number, and how far to look. */
static bool read_ask(struct wr_hunt *hunt, const char *of, struct wr_ask *ask)
{
    struct wr_axis axis;
    char fault[WR_AXIS_FAULT];
    struct wr_figure *figure = &ask->margin->figure;
    if (!wr_axis_read(&axis, of, fault, sizeof fault))
        return is_wrong(hunt->margins, fault);
    bool good = wr_figure_find(figure, hunt->reading, axis.pointer, fault, sizeof fault);
    ask->has_range = strchr(of, '=') != NULL;
    if (good && ask->has_range && (!axis.is_range || axis.count > 0)) {
        snprintf(fault, sizeof fault, "%s: how far to look is written LEAST to MOST", axis.pointer);
        good = false;
    }
    if (good && ask->has_range)
        good = take_unit(figure, &axis, fault, sizeof fault);
    if (good && !ask->has_range && !figure->is_whole && figure->value <= 0) {
        snprintf(fault, sizeof fault, "%s is 0 now: say how far to look, %s=LEAST to MOST", axis.pointer, axis.pointer);
        good = false;
    }
    ask->least = fmin(axis.from, axis.to);
    ask->most = fmax(axis.from, axis.to);
    ask->margin->pointer = wr_text_copy(axis.pointer);
    ask->margin->nearest = WR_NEVER;
    ask->margin->now.value = figure->value;
    wr_axis_fini(&axis);
    return good || is_wrong(hunt->margins, fault);
}

/* The verdict on the scenario as it stands, which all ladders begin from. */
static bool judge_now(struct wr_hunt *hunt, struct wr_mark_tried *now)
{
    struct wr_probe probe;
    wr_variant_read(&probe.variant, &hunt->base, NULL, 0);
    const bool good = wr_probes_judge(hunt, &probe, 1);
    take_mark(now, &probe.variant);
    if (good && !probe.variant.is_allowed)
        wr_hunt_fault(hunt, WR_RUN_BAD_PLANT, probe.variant.tried.message);
    wr_variant_fini(&probe.variant);
    return good && hunt->margins->end == WR_RUN_WHOLE;
}

/* Ranking ------------------------------------------------------------------------------------------------------------
 */

static void find_nearest(struct wr_margin *margin)
{
    const struct wr_margin_side *const sides[] = {&margin->up, &margin->down};
    const double now = margin->figure.value;
    for (size_t s = 0; s < 2; s++)
        if (sides[s]->changes) {
            const double end = margin->now.passes ? sides[s]->near : sides[s]->far;
            const double scale = now != 0 ? fabs(now) : fabs(end);
            margin->nearest = fmin(margin->nearest, scale > 0 ? fabs(end - now) / scale : 0);
        }
}

static void rank(struct wr_margins *margins)
{
    for (size_t i = 0; i < margins->count; i++) {
        size_t place = i;
        find_nearest(&margins->items[i]);
        for (; place > 0 && margins->items[margins->ranked[place - 1]].nearest > margins->items[i].nearest; place--)
            margins->ranked[place] = margins->ranked[place - 1];
        margins->ranked[place] = i;
    }
}

/* Numbers are worked so many at a time that every thread has a gap to halve, so that an interruption leaves the first
 * ones done. */
static void hunt_all(struct wr_hunt *hunt, struct wr_ask *asks)
{
    struct wr_margins *margins = hunt->margins;
    const size_t together = (wr_workers_threads(hunt->workers) + 1) / 2;
    for (size_t first = 0; first < margins->asked; first += together) {
        const size_t count = first + together < margins->asked ? together : margins->asked - first;
        bool good = climb(hunt, &asks[first], count);
        for (size_t i = 0; good && i < HALVINGS_MOST && halve(hunt, &asks[first], count); i++)
            continue;
        if (margins->end != WR_RUN_WHOLE)
            return;
        margins->count = first + count;
    }
}

void wr_margins_make(struct wr_margins *margins, const struct wr_margin_question *question, struct wr_workers *workers)
{
    *margins = (struct wr_margins){.end = WR_RUN_WHOLE,
                                   .verdict = question->verdict,
                                   .asked = question->count,
                                   .items = wr_items_new(question->count, sizeof *margins->items),
                                   .ranked = wr_items_new(question->count, sizeof *margins->ranked)};
    char *text = wr_base_text(question->reading);
    struct wr_hunt hunt = {
        .margins = margins, .workers = workers, .reading = question->reading, .base = {question->name, text}};
    struct wr_ask *asks = wr_items_new(question->count, sizeof *asks);
    struct wr_mark_tried now = {0};
    bool good = question->count > 0 || is_wrong(margins, "say which number: --of POINTER");
    if (good && question->map && question->count != 2)
        good = is_wrong(margins, "a map is of two numbers: --of twice");
    for (size_t i = 0; good && i < question->count; i++) {
        asks[i].margin = &margins->items[i];
        good = read_ask(&hunt, question->of[i], &asks[i]);
    }
    if (good && workers != NULL)
        workers->expected = question->count * (2 * WR_MARGIN_RUNGS + 2 * 20) +
                            (question->map ? WR_MAP_COLUMNS * WR_MAP_ROWS * 3 / 2 : 0);
    if (good && wr_plant_init(&margins->plant, &question->reading->definition) == WR_OK)
        margins->has_plant = true;
    if (good && judge_now(&hunt, &now)) {
        margins->passes = now.passes;
        for (size_t i = 0; i < question->count; i++) {
            now.value = margins->items[i].figure.value;
            margins->items[i].now = now;
        }
        hunt_all(&hunt, asks);
        rank(margins);
        if (question->map && margins->end == WR_RUN_WHOLE)
            wr_map_make(&hunt, asks);
    }
    free(asks);
    free(text);
}

void wr_margins_fini(struct wr_margins *margins)
{
    for (size_t i = 0; i < margins->asked; i++)
        free(margins->items[i].pointer);
    free(margins->items);
    free(margins->ranked);
    free(margins->map.boundary);
    if (margins->has_plant)
        wr_plant_fini(&margins->plant);
    *margins = (struct wr_margins){0};
}
