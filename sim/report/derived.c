/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/mean_run.h"
#include "sim/report/json.h"
#include "sim/report/report.h"
#include "sim/report/say.h"
#include "sim/study/outline.h"

#include <cjson/cJSON.h>
#include <math.h>

/* What follows from the figures of one group of filters; heads and slope at its approved rate and the plant's water. */
struct derived {
    double bed, fittings; /* m of a clean filter */
    double slope;         /* m per kg/m2 */
    double observed_load; /* kg/m2 that the observed run gathered; WR_ABSENT without one */
    double mean_rate;     /* m/s on the maximum day, all filters of the plant in service */
    double run_time;      /* s at that rate to the first trigger; INFINITY for none */
    double run_volume;    /* m3/m2 */
    double run_load;      /* kg/m2 */
};

static struct derived derive(const struct wr_plant *plant, size_t group)
{
    const struct wr_group *g = &plant->groups[group];
    const double v = g->approved_rate;
    struct derived d = {.bed = (g->clean_linear + g->clean_quadratic * v) * v,
                        .fittings = g->fittings_quadratic * v * v,
                        .mean_rate = fmin(wr_plant_mean_rate(plant), v)};
    d.slope = g->deposit.slope * (v / g->deposit.reference_rate) * (plant->viscosity / g->deposit.reference_viscosity);
    d.observed_load = wr_outline_observed_load(plant, group);
    d.run_time = wr_plant_run_time(plant, g, d.mean_rate, plant->raw[WR_SOLIDS]);
    d.run_volume = d.run_time * d.mean_rate;
    d.run_load = d.run_volume * plant->raw[WR_SOLIDS];
    return d;
}

void wr_report_derived_block(struct cJSON *document, const struct wr_plant *plant)
{
    struct cJSON *derived = wr_json_block(document, "derived");
    struct cJSON *list = wr_json_list(derived, "filter_groups");
    for (size_t i = 0; i < plant->group_count; i++) {
        const struct wr_group *g = &plant->groups[i];
        const struct derived d = derive(plant, i);
        struct cJSON *block = wr_json_block(list, NULL);
        wr_json_word(block, "name", plant->definition->filters.items[i].name);
        wr_json_count(block, "filters", g->count);
        wr_json_number(block, "area_m2", g->area);
        wr_json_number(block, "approved_flow_m3_per_s", g->area * g->approved_rate);
        wr_json_number(block, "clean_bed_head_m", d.bed);
        wr_json_number(block, "fittings_head_m", d.fittings);
        wr_json_number(block, "slope_m_per_kg_per_m2", d.slope);
        wr_json_number(block, "observed_run_load_kg_per_m2", d.observed_load);
        wr_json_number(block, "raw_solids_kg_per_m3", plant->raw[WR_SOLIDS]);
        wr_json_number(block, "run_at_mean_rate_s", d.run_time);
        wr_json_number(block, "run_at_mean_rate_m", d.run_volume);
        wr_json_number(block, "run_at_mean_rate_kg_per_m2", d.run_load);
        wr_json_number(block, "wash_water_per_wash_m3", g->wash_volume);
        wr_json_number(block, "spent_wash_per_wash_m3", g->room);
        wr_json_number(block, "off_line_per_wash_s", g->off_line);
    }
    wr_report_outline_block(derived, plant);
    wr_report_doubt_list(derived, plant);
}

static void say_slope(struct wr_page *s, const struct wr_plant *plant, size_t group, const struct derived *d,
                      enum wr_units units)
{
    const struct wr_filter_group *definition = &plant->definition->filters.items[group];
    const double v = plant->groups[group].approved_rate;
    if (definition->deposit.has_observed_run)
        wr_page_add(s,
                    "The observed run, at %s, caught %s of dry solids, which gives a slope of %s (%.3g m of head per "
                    "kg/m2) at the "
                    "approved rate of %s. ",
                    wr_say(WR_QUANTITY_RATE, plant->groups[group].deposit.reference_rate, units).text,
                    wr_say(WR_QUANTITY_LOAD, d->observed_load, units).text,
                    wr_say(WR_QUANTITY_SLOPE, d->slope, units).text, d->slope, wr_say(WR_QUANTITY_RATE, v, units).text);
    else
        wr_page_add(s, "The slope as given is %s (%.3g m of head per kg/m2) at the approved rate of %s. ",
                    wr_say(WR_QUANTITY_SLOPE, d->slope, units).text, d->slope, wr_say(WR_QUANTITY_RATE, v, units).text);
}

/* Where the clean headloss comes from: media by the Ergun equation, fittings given or what an observed run leaves. */
static void say_clean_head(struct wr_page *s, const struct wr_plant *plant, size_t group, const struct derived *d,
                           enum wr_units units)
{
    const struct wr_filter_group *definition = &plant->definition->filters.items[group];
    const bool has_media = definition->media.count > 0;
    wr_page_add(s, "A clean filter loses %s at that rate: %s in the %s and %s in pipes and valves%s. ",
                wr_say_head(d->bed + d->fittings, units).text, wr_say_head(d->bed, units).text,
                has_media ? "media, by the Ergun equation," : "bed", wr_say_head(d->fittings, units).text,
                wr_is_given(definition->fittings_headloss) ? " as given"
                : definition->deposit.has_observed_run && has_media
                    ? ", which is what the observed clean differential leaves"
                    : "");
}

static void say_run(struct wr_page *s, const struct wr_plant *plant, const struct derived *d, enum wr_units units)
{
    wr_page_add(s, "Raw water brings %s of dry solids. ",
                wr_say(WR_QUANTITY_CONCENTRATION, plant->raw[WR_SOLIDS], units).text);
    if (isfinite(d->run_time))
        wr_page_add(s, "At the maximum day's mean rate of %s a run lasts %s to its first trigger: %s, %s. ",
                    wr_say(WR_QUANTITY_RATE, d->mean_rate, units).text, wr_say_duration(d->run_time).text,
                    wr_say(WR_QUANTITY_RUN_VOLUME, d->run_volume, units).text,
                    wr_say(WR_QUANTITY_LOAD, d->run_load, units).text);
    else
        wr_page_add(s, "At the maximum day's mean rate of %s no trigger is ever met. ",
                    wr_say(WR_QUANTITY_RATE, d->mean_rate, units).text);
}

static void say_wash(struct wr_page *s, const struct wr_group *g, enum wr_units units)
{
    wr_page_add(
        s,
        "A wash takes %s of wash water, sends %s to spent wash with its rinse, and keeps the filter off line for %s.",
        wr_say(WR_QUANTITY_VOLUME, g->wash_volume, units).text, wr_say(WR_QUANTITY_VOLUME, g->room, units).text,
        wr_say_duration(g->off_line).text);
}

/* Filters of a group by their first and last names, and what they are. */
static void say_filters(struct wr_page *s, const struct wr_plant *plant, size_t group, enum wr_units units)
{
    const struct wr_group *g = &plant->groups[group];
    wr_report_group(s, plant, group);
    wr_page_add(s, ": %s of %s%s, approved for %s%s. ", wr_say_count(g->count, "filter", "filters").text,
                wr_say(WR_QUANTITY_AREA, g->area, units).text, g->count > 1 ? " each" : "",
                wr_say(WR_QUANTITY_FLOW, g->area * g->approved_rate, units).text, g->count > 1 ? " each" : "");
}

void wr_report_derived_section(struct wr_page *page, const struct wr_plant *plant, enum wr_units units)
{
    wr_page_heading(page, "What follows from the figures given");
    for (size_t i = 0; i < plant->group_count; i++) {
        const struct derived d = derive(plant, i);
        struct wr_page sentences = {0};
        say_filters(&sentences, plant, i, units);
        say_slope(&sentences, plant, i, &d, units);
        say_clean_head(&sentences, plant, i, &d, units);
        say_run(&sentences, plant, &d, units);
        say_wash(&sentences, &plant->groups[i], units);
        wr_page_flow_page(page, "  ", &sentences);
    }
}
