/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/report.h"
#include "sim/report/say.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const months[] = {"January", "February", "March",     "April",   "May",      "June",
                                     "July",    "August",   "September", "October", "November", "December"};

static struct wr_phrase say_rate(double rate, enum wr_units units)
{
    return wr_say(WR_QUANTITY_RATE, rate, units);
}

static struct wr_phrase say_warmth(double temperature, enum wr_units units)
{
    return wr_say(WR_QUANTITY_TEMPERATURE, temperature, units);
}

/* "41.0 degF in January", or of the raw water where the wash water has no temperatures of its own. */
static struct wr_phrase say_season(const struct wr_wash_beds *beds, bool warmest, enum wr_units units)
{
    struct wr_phrase phrase;
    const double temperature = warmest ? beds->most_temperature : beds->least_temperature;
    snprintf(phrase.text, sizeof phrase.text, beds->has_months ? "%.40s in %.20s" : "%.40s",
             say_warmth(temperature, units).text, months[warmest ? beds->warmest : beds->coldest]);
    return phrase;
}

/* The answer ------------------------------------------------------------------------------------------------------ */

static void say_lift(struct wr_page *s, const struct wr_wash_beds *beds, const struct wr_wash_bed *bed,
                     enum wr_units units)
{
    const double cold = bed->coldest.fluidising_rate, warm = bed->warmest.fluidising_rate;
    if (bed->is_lifted)
        wr_page_add(s, "The backwash of %s lifts all of the media; ", say_rate(beds->rate, units).text);
    else if (beds->rate >= cold)
        wr_page_add(s, "The backwash of %s lifts all of the media in the coldest wash water but not in the warmest; ",
                    say_rate(beds->rate, units).text);
    else
        wr_page_add(s, "The backwash of %s leaves the coarsest grains lying, even in the coldest wash water; ",
                    say_rate(beds->rate, units).text);
    wr_page_add(s, "that takes %s at %s", say_rate(cold, units).text, say_season(beds, false, units).text);
    if (beds->has_months)
        wr_page_add(s, " and %s at %s", say_rate(warm, units).text, say_season(beds, true, units).text);
    wr_page_add(s, ". The rule is to wash at 1.3 times that: %s%s. ",
                say_rate(WR_WASH_OVER_FLUIDISING * warm, units).text, beds->has_months ? " in the warmest" : "");
}

/* By how much the laws let a bed expand; false where by one of them it carries grains off. */
static bool range_of_expansion(const struct wr_bed_lifted *lifted, double *least, double *most)
{
    *least = HUGE_VAL;
    *most = -HUGE_VAL;
    for (int law = 0; law < WR_BED_LAWS; law++) {
        if (!wr_is_given(lifted->expansion[law]))
            return false;
        *least = fmin(*least, lifted->expansion[law]);
        *most = fmax(*most, lifted->expansion[law]);
    }
    return true;
}

static void say_expansion(struct wr_page *s, const struct wr_wash_beds *beds, const struct wr_wash_bed *bed)
{
    double least, most;
    if (!range_of_expansion(&bed->coldest, &least, &most)) {
        wr_page_add(s, "It carries whole slices of fine grains off. ");
        return;
    }
    wr_page_add(s, "Depending on the law, media expand by %s to %s", wr_say_share(least).text, wr_say_share(most).text);
    if (beds->has_months && range_of_expansion(&bed->warmest, &least, &most))
        wr_page_add(s, " in the coldest wash water and by %s to %s in the warmest", wr_say_share(least).text,
                    wr_say_share(most).text);
    wr_page_add(s, ". ");
}

static void say_freeboard(struct wr_page *s, const struct wr_wash_beds *beds, size_t group, enum wr_units units)
{
    const struct wr_wash_bed *bed = &beds->beds[group];
    const double freeboard = beds->definition->filters.items[group].freeboard;
    double highest = 0;
    for (int law = 0; law < WR_BED_LAWS; law++)
        highest = fmax(highest, wr_is_given(bed->coldest.expansion[law]) ? bed->coldest.expansion[law] : 0);
    if (!wr_is_given(freeboard))
        wr_page_add(s, "No freeboard is given: the bed rises by up to %s. ",
                    wr_say(WR_QUANTITY_DEPTH, highest * bed->bed.settled, units).text);
    else
        wr_page_add(s, "The bed rises by up to %s and %s its freeboard of %s. ",
                    wr_say(WR_QUANTITY_DEPTH, highest * bed->bed.settled, units).text,
                    bed->stays_in ? "stays within" : "RISES ABOVE", wr_say(WR_QUANTITY_DEPTH, freeboard, units).text);
}

static void say_losses(struct wr_page *s, const struct wr_wash_bed *bed, enum wr_units units)
{
    for (size_t i = 0; i < bed->bed.count; i++) {
        const struct wr_layer_lifted *layer = &bed->coldest.layers[i];
        if (bed->bed.layers[i].figures.is_support)
            continue;
        wr_page_add(s, "Of the %s, grains below %s settle more slowly than the water rises and are lost: ",
                    bed->bed.layers[i].medium, wr_say(WR_QUANTITY_GRAIN, layer->lost_size, units).text);
        if (layer->lost_share < WR_LOSS_MOST)
            wr_page_add(s, "next to none. ");
        else
            wr_page_add(s, "%s of its mass. ", wr_say_share(layer->lost_share).text);
    }
}

static void say_mixing(struct wr_page *s, const struct wr_wash_bed *bed)
{
    for (size_t i = 0; i + 1 < bed->bed.count; i++) {
        const struct wr_layer_lifted *layer = &bed->coldest.layers[i];
        size_t below = i + 1;
        while (below < bed->bed.count && bed->bed.layers[below].figures.is_support)
            below++;
        if (bed->bed.layers[i].figures.is_support || below == bed->bed.count)
            continue;
        const int laws = layer->mixes[WR_BED_ERGUN] + layer->mixes[WR_BED_DHARMARAJAH_CLEASBY];
        wr_page_add(s, "%s and %s %s by their bulk densities in the wash%s. ",
                    wr_say_first(bed->bed.layers[i].medium).text, bed->bed.layers[below].medium,
                    laws > 0 ? "mix" : "part again", laws == 1 ? ", by one of the two laws" : "");
    }
}

static void answer_group(struct wr_page *page, const struct wr_wash_beds *beds, size_t group, enum wr_units units)
{
    const struct wr_wash_bed *bed = &beds->beds[group];
    struct wr_page s = {0};
    wr_report_group(&s, &beds->plant, group);
    wr_page_add(&s, ": ");
    if (bed->bed.count == 0)
        wr_page_add(&s, "no answer, since the scenario gives no media.");
    else if (!bed->is_answered && bed->bed.unknown != NULL)
        wr_page_add(&s, "no answer, since weight or shape of %s is not known: give specific_gravity and sphericity.",
                    bed->bed.unknown);
    else if (!bed->is_answered)
        wr_page_add(&s, "no answer, since there is nothing but gravel.");
    else {
        wr_page_add(&s, "%s ", bed->does_well ? "Yes." : "No.");
        say_lift(&s, beds, bed, units);
        say_expansion(&s, beds, bed);
        say_freeboard(&s, beds, group, units);
    }
    wr_page_flow_page(page, "  ", &s);
    if (!bed->is_answered)
        return;
    say_losses(&s, bed, units);
    say_mixing(&s, bed);
    wr_page_add(&s, "It takes %s to hold the media up, besides underdrain and pipes.",
                wr_say_head(bed->coldest.head, units).text);
    wr_page_flow_page(page, "  ", &s);
}

/* Tables ---------------------------------------------------------------------------------------------------------- */

/* A share held still by the laws: "none", "30 %", or "0 to 30 %". */
static struct wr_phrase say_held(const struct wr_layer_lifted *layer)
{
    struct wr_phrase phrase;
    const double a = layer->by[0].held, b = layer->by[1].held, least = fmin(a, b), most = fmax(a, b);
    if (most <= 0)
        snprintf(phrase.text, sizeof phrase.text, "none");
    else if (most - least < 0.01)
        snprintf(phrase.text, sizeof phrase.text, "%.0f %%", 100 * most);
    else
        snprintf(phrase.text, sizeof phrase.text, "%.0f to %.0f %%", 100 * least, 100 * most);
    return phrase;
}

static void put_layer(struct wr_grid *grid, const struct wr_wash_bed *bed, size_t i, bool has_months,
                      enum wr_units units)
{
    const struct wr_medium_figures *f = &bed->bed.layers[i].figures;
    wr_grid_add(grid, "%s", bed->bed.layers[i].medium);
    wr_grid_add(grid, "%s", wr_say(WR_QUANTITY_DEPTH, f->layer.depth, units).text);
    wr_grid_add(grid, "%s", wr_say_bare(WR_QUANTITY_GRAIN, f->layer.grain_size, units).text);
    wr_grid_add(grid, "%s", wr_say_bare(WR_QUANTITY_GRAIN, f->d90, units).text);
    wr_grid_add(grid, "%s", wr_say(WR_QUANTITY_HEAD, bed->clean_head[i], units).text);
    if (!bed->is_answered)
        return;
    wr_grid_add(grid, "%s", wr_say_bare(WR_QUANTITY_RATE, bed->coldest.layers[i].fluidising_rate, units).text);
    if (has_months)
        wr_grid_add(grid, "%s", wr_say_bare(WR_QUANTITY_RATE, bed->warmest.layers[i].fluidising_rate, units).text);
    wr_grid_add(grid, "%s", f->is_support ? "carries the media" : say_held(&bed->warmest.layers[i]).text);
}

/* What lifts a layer and what lies still is known of a bed with an answer, and twice where wash water has months. */
static void put_layers(struct wr_page *page, const struct wr_wash_bed *bed, bool has_months, enum wr_units units)
{
    static const char *const sizes[] = {"layer", "depth", "d10", "d90", "clean", "", "", "mm", "mm", "head"};
    static const char *const lifts[] = {"lifts at", "lifts at", "lies still", "coldest", "warmest", "in warmest"};
    struct wr_grid grid = {.align = !bed->is_answered ? "lrrrr" : has_months ? "lrrrrrrr" : "lrrrrrr", .heads = 2};
    for (size_t row = 0; row < 2; row++) {
        for (size_t c = 0; c < 5; c++)
            wr_grid_add(&grid, "%s", sizes[5 * row + c]);
        for (size_t c = has_months ? 0 : 1; c < 3 && bed->is_answered; c++)
            wr_grid_add(&grid, "%s", has_months || row == 0 ? lifts[3 * row + c] : "");
    }
    for (size_t i = 0; i < bed->bed.count; i++)
        put_layer(&grid, bed, i, has_months, units);
    wr_page_grid(page, &grid);
}

static void put_share(struct wr_grid *grid, double share)
{
    wr_grid_add(grid, "%s", wr_is_given(share) ? wr_say_share(share).text : "carried off");
}

static void put_rate(struct wr_grid *grid, double rate, enum wr_units units)
{
    wr_grid_add(grid, "%s", wr_is_given(rate) ? wr_say_bare(WR_QUANTITY_RATE, rate, units).text : "carried off");
}

/* A row each five degrees. */
static void put_points(struct wr_page *page, const struct wr_wash_beds *beds, const struct wr_wash_bed *bed,
                       enum wr_units units)
{
    struct wr_grid grid = {.align = "rrrrrrr", .heads = 2};
    char wanted[32];
    snprintf(wanted, sizeof wanted, "rate for %.0f %%", 100 * beds->wanted);
    const char *const heads[] = {wr_quantity_unit(WR_QUANTITY_TEMPERATURE, units),
                                 "lifts at",
                                 "expands",
                                 "expands",
                                 wanted,
                                 wanted,
                                 "spread",
                                 "",
                                 "",
                                 "Ergun",
                                 "D. and C.",
                                 "Ergun",
                                 "D. and C.",
                                 ""};
    for (size_t c = 0; c < sizeof heads / sizeof *heads; c++)
        wr_grid_add(&grid, "%s", heads[c]);
    for (size_t p = 0; p < WR_BED_POINTS; p += 5) {
        const struct wr_bed_point *point = &bed->points[p];
        const double spread = point->wanted_rate[WR_BED_ERGUN] / point->wanted_rate[WR_BED_DHARMARAJAH_CLEASBY] - 1;
        wr_grid_add(&grid, "%.0f", wr_quantity_shown(WR_QUANTITY_TEMPERATURE, point->temperature, units));
        put_rate(&grid, point->fluidising_rate, units);
        put_share(&grid, point->expansion[WR_BED_ERGUN]);
        put_share(&grid, point->expansion[WR_BED_DHARMARAJAH_CLEASBY]);
        put_rate(&grid, point->wanted_rate[WR_BED_ERGUN], units);
        put_rate(&grid, point->wanted_rate[WR_BED_DHARMARAJAH_CLEASBY], units);
        if (wr_is_given(spread))
            wr_grid_add(&grid, "%+.0f %%", 100 * spread);
        else
            wr_grid_add(&grid, "%s", "none");
    }
    wr_page_grid(page, &grid);
}

static void put_group(struct wr_page *page, const struct wr_wash_beds *beds, size_t group, enum wr_units units)
{
    const struct wr_wash_bed *bed = &beds->beds[group];
    struct wr_page heading = {0};
    if (bed->bed.count == 0)
        return;
    wr_report_group(&heading, &beds->plant, group);
    wr_page_add(&heading, ": layers, top first");
    if (bed->is_answered)
        wr_page_add(&heading, ", and the bed over temperature (rates in %s)",
                    wr_quantity_unit(WR_QUANTITY_RATE, units));
    char *words = wr_page_take(&heading);
    wr_page_heading(page, words);
    free(words);
    put_layers(page, bed, beds->has_months, units);
    if (!bed->is_answered)
        return;
    wr_page_add(page, "\n");
    put_points(page, beds, bed, units);
}

static void put_method(struct wr_page *page, const struct wr_wash_beds *beds)
{
    wr_page_heading(page, "How these figures come about");
    wr_page_flow(
        page, "  ",
        "Clean head: Ergun, at the approved rate in raw water. Lifts at: Wen and Yu, for the size d90 that 90 "
        "%% of a medium is finer than. Expansion: %d slices of each medium, those that the water does not lift "
        "held as they lie, by two laws that differ from each other and from Wen and Yu's: Ergun's headloss set to the "
        "buoyant weight of the grains, "
        "and Dharmarajah and Cleasby's. Loss: Haider and Levenspiel's drag. Expansion is of media, not of "
        "gravel. What the scenario does not say of grains is taken from a table of media.",
        WR_BED_SLICES);
    if (!beds->has_months)
        wr_page_flow(page, "  ",
                     "The wash water is taken to be as warm as the raw water, since the scenario gives it "
                     "no temperatures of its own (wash_water, temperature).");
}

void wr_report_beds_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_wash_beds *beds,
                         enum wr_units units)
{
    wr_report_title(page, subject);
    wr_page_heading(page, "Does the wash lift the bed, and keep it in?");
    for (size_t i = 0; i < beds->count; i++)
        answer_group(page, beds, i, units);
    for (size_t i = 0; i < beds->count; i++)
        put_group(page, beds, i, units);
    put_method(page, beds);
    wr_report_caution(page);
}
