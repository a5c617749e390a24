/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules of a wash's steps: each template has those it needs, and nothing that it has no use for. */
#include <stdio.h>

#include "sim/scenario/rules.h"

/* One kind of step: an amount for each area in a time, or a time alone. */
struct part {
    const char *amount_key; /* NULL: a time alone */
    const char *time_key;
    double amount; /* m3/m2 */
    double time;   /* s */
    enum wr_quantity quantity;
    bool used;   /* by the template */
    bool needed; /* it makes no sense without */
};

/* Complains of a figure that the template does not use, or needs and has not. */
static void check_figure(struct wr_reader *reader, const struct part *part, const char *key, enum wr_quantity quantity,
                         double value)
{
    const char *sequence = wr_rule_choice("/wash/template", reader->reading->definition.wash.sequence);
    char pointer[WR_RULE_POINTER];
    char found[WR_RULE_TEXT];

    snprintf(pointer, sizeof pointer, "/wash/%s", key);
    if (!part->used && value > 0.0)
        wr_complain_at(reader, pointer, "found %s; allowed: none where template is \"%s\"",
                       wr_rule_show(reader, quantity, value, found), sequence);
    if (part->needed && value <= 0.0)
        wr_complain_at(reader, pointer, "found none; allowed: more than 0, which template \"%s\" needs", sequence);
}

static void check_pair(struct wr_reader *reader, const char *given, const char *missing)
{
    char pointer[WR_RULE_POINTER];

    snprintf(pointer, sizeof pointer, "/wash/%s", missing);
    wr_complain_at(reader, pointer, "found none, but there is %s; allowed: both or neither", given);
}

static void check_part(struct wr_reader *reader, const struct part *part)
{
    if (part->amount_key != NULL)
        check_figure(reader, part, part->amount_key, part->quantity, part->amount);
    check_figure(reader, part, part->time_key, WR_QUANTITY_TIME, part->time);
    if (part->amount_key == NULL || !part->used || part->needed)
        return;
    if (part->amount > 0.0 && part->time <= 0.0)
        check_pair(reader, part->amount_key, part->time_key);
    if (part->time > 0.0 && part->amount <= 0.0)
        check_pair(reader, part->time_key, part->amount_key);
}

static void check_fill_rate(struct wr_reader *reader, const struct wr_wash *wash)
{
    char found[WR_RULE_TEXT];

    if (wr_is_given(wash->fill_rate) && !wr_rule_drains(wash))
        wr_complain_at(reader, "/wash/fill_rate", "found %s; allowed: none where template is \"%s\"",
                       wr_rule_show(reader, WR_QUANTITY_RATE, wash->fill_rate, found),
                       wr_rule_choice("/wash/template", wash->sequence));
}

static void check_clear_at(struct wr_reader *reader, const struct wr_wash *wash)
{
    if (wr_is_given(wash->clear_at) && !wr_rule_is_written(reader, "/wash/washout_depth"))
        wr_complain_at(reader, "/wash/clear_at", "found one; allowed: only where washout_depth is given");
}

static void check_holding_belongs(struct wr_reader *reader, const struct wr_wash *wash)
{
    if (wash->sequence != WR_TEMPLATE_BATCH_REGENERATION && wr_rule_is_written(reader, "/wash/holding"))
        wr_complain_at(reader, "/wash/holding", "found one; allowed: only where template is \"batch_regeneration\"");
}

/* A rinse at the plant's start takes every filter, and with them the water of a wash that they feed. */
static void check_rinse_at_start(struct wr_reader *reader, const struct wr_wash *wash)
{
    char found[WR_RULE_TEXT];

    if (wash->rinse_at_start > 0.0 && reader->reading->definition.wash_water.source == WR_WATER_FROM_FILTERS)
        wr_complain_at(reader, "/wash/rinse_at_start",
                       "found %s; allowed: none where the source of wash water is \"filters\", which then make none",
                       wr_rule_show(reader, WR_QUANTITY_TIME, wash->rinse_at_start, found));
}

void wr_rules_check_steps(struct wr_reader *reader)
{
    const struct wr_wash *wash = &reader->reading->definition.wash;
    bool with_air = wash->sequence == WR_TEMPLATE_PRESSURE_AIR;
    bool gravity = wash->sequence == WR_TEMPLATE_GRAVITY;
    bool batch = wash->sequence == WR_TEMPLATE_BATCH_REGENERATION;
    const struct part parts[] = {
        {"drain_depth", "drain_time", wash->drain_depth, wash->drain_time, WR_QUANTITY_DEPTH, with_air || gravity,
         with_air},
        {NULL, "air_time", 0.0, wash->air_time, WR_QUANTITY_NONE, with_air || gravity, with_air},
        {"filter_down_depth", "filter_down_time", wash->filter_down_depth, wash->filter_down_time, WR_QUANTITY_DEPTH,
         gravity, false},
        {"regenerant_depth", "regenerate_time", wash->regenerant_depth, wash->regenerate_time, WR_QUANTITY_RUN_VOLUME,
         batch, batch},
    };

    if (wash->sequence < 0 || !cJSON_IsObject(wr_tree_find(reader->reading->tree, "/wash")))
        return;
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++)
        check_part(reader, &parts[i]);
    check_fill_rate(reader, wash);
    check_holding_belongs(reader, wash);
    check_rinse_at_start(reader, wash);
    check_clear_at(reader, wash);
}
