/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules of spent wash water: it settles in a time, and has a way out that may run. */
#include <stdio.h>

#include "sim/scenario/rules.h"

static void check_settling(struct wr_reader *reader)
{
    const struct wr_settling *settling = &reader->reading->definition.spent_wash.settling;
    const char *time = "/spent_wash/settling/time";

    if (settling->law != WR_SETTLING_CLOCK)
        return;
    if (!wr_rule_is_written(reader, time))
        wr_complain_at(reader, time, "found nothing, but law is \"clock\"; allowed: a time such as \"6 h\"");
    if (settling->time <= 0.0)
        wr_complain_at(reader, time, "found 0; allowed: more than 0, since law is \"clock\"");
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
    for (size_t i = 0; i < spent->outlets.count; i++)
        check_outlet(reader, &spent->outlets.items[i], i);
    if (spent->tanks.count > 0 && has_none)
        wr_complain_at(reader, "/spent_wash/outlets", "found no way out of the tanks; allowed: at least one outlet");
}
