/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules of spent wash water: it settles in a time, and has a way out that may run. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "sim/scenario/rules.h"

/* A key of the settling block that goes with one law. */
static void check_goes_with(struct wr_reader *reader, const char *key, int law, const char *example)
{
    const int chosen = reader->reading->definition.spent_wash.settling.law;
    char pointer[WR_RULE_POINTER];

    snprintf(pointer, sizeof pointer, "/spent_wash/settling/%s", key);
    const bool is_written = wr_rule_is_written(reader, pointer);
    if (chosen == law && !is_written)
        wr_complain_at(reader, pointer, "found nothing, but law is \"%s\"; allowed: %s",
                       wr_rule_choice("/spent_wash/settling/law", law), example);
    if (chosen >= 0 && chosen != law && is_written)
        wr_complain_at(reader, pointer, "found one, but law is \"%s\"; allowed: only where it is \"%s\"",
                       wr_rule_choice("/spent_wash/settling/law", chosen),
                       wr_rule_choice("/spent_wash/settling/law", law));
}

static void check_time(struct wr_reader *reader, const struct wr_settling *settling)
{
    const char *time = "/spent_wash/settling/time";

    if (settling->law != WR_SETTLING_CLOCK)
        return;
    if (!wr_rule_is_written(reader, time))
        wr_complain_at(reader, time, "found nothing, but law is \"clock\"; allowed: a time such as \"6 h\"");
    if (settling->time <= 0.0)
        wr_complain_at(reader, time, "found 0; allowed: more than 0, since law is \"clock\"");
}

static void check_classes(struct wr_reader *reader, const struct wr_particle_classes *classes)
{
    double sum = 0.0;

    for (size_t i = 0; i < classes->count; i++)
        sum += classes->items[i].share;
    if (classes->count > 0 && fabs(sum - 1.0) > 1e-6)
        wr_complain_at(reader, "/spent_wash/settling/classes", "found shares that add up to %.6g %%; allowed: 100 %%",
                       100.0 * sum);
}

static void check_zone(struct wr_reader *reader, const struct wr_zone_definition *zone)
{
    if (wr_rule_is_written(reader, "/spent_wash/settling/zone") && zone->flux == WR_ZONE_VESILIND &&
        !wr_rule_is_written(reader, "/spent_wash/settling/zone/hindrance"))
        wr_complain_at(reader, "/spent_wash/settling/zone/hindrance",
                       "found nothing, but flux is \"vesilind\"; allowed: a volume per mass such as \"1 L/g\"");
}

/* Laws that look at depths need that of each tank, and a fixed draw-off leaves room for a wash above it. */
static void check_depths(struct wr_reader *reader)
{
    const struct wr_spent_wash *spent = &reader->reading->definition.spent_wash;
    const struct wr_settling *settling = &spent->settling;
    const bool by_depth = settling->law == WR_SETTLING_CLASSES || settling->law == WR_SETTLING_ZONE;
    char pointer[WR_RULE_POINTER];

    for (size_t i = 0; i < spent->tanks.count; i++) {
        const bool fixed = settling->draw_off == WR_DRAW_FIXED && settling->draw_height > 0.0;
        wr_rule_pointer(pointer, "spent_wash/tanks", i, "/depth");
        if ((by_depth || fixed) && !wr_rule_is_written(reader, pointer))
            wr_complain_at(reader, pointer, "found nothing, but %s; allowed: a length such as \"8 ft\"",
                           by_depth ? "the law of settling looks at depths" : "the draw-off is at a height");
        if (fixed && settling->draw_height >= spent->tanks.items[i].depth)
            wr_complain_at(reader, "/spent_wash/settling/draw_height",
                           "found a height at or above the top of /spent_wash/tanks/%zu; allowed: less than its depth",
                           i);
    }
}

static void check_sludge(struct wr_reader *reader)
{
    const struct wr_spent_wash *spent = &reader->reading->definition.spent_wash;
    const struct wr_sludge_definition *sludge = &spent->sludge;

    if (!wr_rule_is_written(reader, "/spent_wash/sludge"))
        return;
    const cJSON *law = wr_tree_find(reader->reading->tree, "/spent_wash/settling/law");
    const bool settles_not = cJSON_IsString(law) && strcmp(law->valuestring, "none") == 0;
    if (settles_not || !wr_rule_is_written(reader, "/spent_wash/settling"))
        wr_complain_at(reader, "/spent_wash/sludge", "found one; allowed: only where spent wash water settles");
    if (sludge->thickened_solids < sludge->fresh_solids)
        wr_complain_at(reader, "/spent_wash/sludge/thickened_solids",
                       "found less than fresh_solids; allowed: at least as much");
    if (sludge->drawn == WR_SLUDGE_EACH_DECANT && !wr_rule_is_written(reader, "/spent_wash/sludge/volume"))
        wr_complain_at(reader, "/spent_wash/sludge/volume",
                       "found nothing, but drawn is \"each_decant\"; allowed: a volume such as \"300 gal\"");
    if (sludge->drawn == WR_SLUDGE_BY_CALENDAR && !wr_rule_is_written(reader, "/spent_wash/sludge/every"))
        wr_complain_at(reader, "/spent_wash/sludge/every",
                       "found nothing, but drawn is \"by_calendar\"; allowed: a time such as \"7 d\"");
}

static void check_settling(struct wr_reader *reader)
{
    const struct wr_settling *settling = &reader->reading->definition.spent_wash.settling;

    check_time(reader, settling);
    if (!wr_rule_is_written(reader, "/spent_wash/settling"))
        return;
    check_goes_with(reader, "classes", WR_SETTLING_CLASSES, "a list of blocks [ { ... } ]");
    check_goes_with(reader, "zone", WR_SETTLING_ZONE, "a block { ... }");
    check_classes(reader, &settling->classes);
    check_zone(reader, &settling->zone);
    check_depths(reader);
}

static void check_recycle(struct wr_reader *reader, size_t number, bool has_rate)
{
    char pointer[WR_RULE_POINTER];

    wr_rule_pointer(pointer, "spent_wash/outlets", number, "/rate");
    if (has_rate)
        wr_complain_at(reader, pointer, "found a rate; allowed: none for recycle, whose flow is /recycle/pump");
    const cJSON *recycle = wr_tree_find(reader->reading->tree, "/recycle");
    bool may_have_pump = recycle != NULL && !cJSON_IsObject(recycle);
    if (!may_have_pump && !wr_rule_is_written(reader, "/recycle/pump"))
        wr_complain_at(reader, "/recycle/pump",
                       "found nothing, but an outlet is \"recycle\"; allowed: a flow such as \"13.5 gal/min\"");
    if (reader->reading->definition.wash.sequence == WR_TEMPLATE_BATCH_REGENERATION)
        wr_complain_at(reader, wr_rule_pointer(pointer, "spent_wash/outlets", number, "/kind"),
                       "found \"recycle\"; allowed: another, since what a wash with template \"batch_regeneration\" "
                       "leaves never goes back");
}

static void check_outlet(struct wr_reader *reader, const struct wr_outlet *outlet, size_t number)
{
    char list[] = "spent_wash/outlets";
    char pointer[WR_RULE_POINTER];
    bool has_rate = wr_rule_is_written(reader, wr_rule_pointer(pointer, list, number, "/rate"));
    bool has_kind = wr_rule_is_written(reader, wr_rule_pointer(pointer, list, number, "/kind"));

    wr_rule_check_hours(reader, wr_rule_pointer(pointer, list, number, "/hours"), &outlet->hours);
    if (!has_kind || outlet->kind < 0)
        return;
    if (outlet->kind == WR_OUTLET_RECYCLE)
        check_recycle(reader, number, has_rate);
    else if (!has_rate && reader->reading->definition.spent_wash.tanks.count > 0)
        wr_complain_at(reader, wr_rule_pointer(pointer, list, number, "/rate"),
                       "found nothing, but kind is \"%s\"; allowed: a flow such as \"30 gal/min\"",
                       wr_rule_choice("/spent_wash/outlets/0/kind", outlet->kind));
}

void wr_rules_check_spent_wash(struct wr_reader *reader)
{
    const struct wr_spent_wash *spent = &reader->reading->definition.spent_wash;
    const cJSON *outlets = wr_tree_find(reader->reading->tree, "/spent_wash/outlets");
    bool has_none = outlets == NULL || (cJSON_IsArray(outlets) && outlets->child == NULL);

    check_settling(reader);
    check_sludge(reader);
    for (size_t i = 0; i < spent->outlets.count; i++)
        check_outlet(reader, &spent->outlets.items[i], i);
    if (spent->tanks.count > 0 && has_none)
        wr_complain_at(reader, "/spent_wash/outlets", "found no way out of the tanks; allowed: at least one outlet");
}
