/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules of what calls a wash and when one may start. */
#include <math.h>

#include "sim/scenario/rules.h"

static bool has_items(const struct wr_reader *reader, const char *pointer)
{
    const cJSON *list = wr_tree_find(reader->reading->tree, pointer);

    return list != NULL && !(cJSON_IsArray(list) && list->child == NULL);
}

static void check_triggers(struct wr_reader *reader)
{
    bool has_any = wr_rule_is_written(reader, "/wash/triggers/differential") ||
                   wr_rule_is_written(reader, "/wash/triggers/run_hours") ||
                   wr_rule_is_written(reader, "/wash/triggers/volume") || has_items(reader, "/wash/rota");

    if (!has_any && cJSON_IsObject(wr_tree_find(reader->reading->tree, "/wash/triggers")))
        wr_complain_at(reader, "/wash/triggers",
                       "found nothing that calls a wash; allowed: at least one of differential, run_hours and volume, "
                       "or a rota");
}

/* Available head cuts the differential off: a level above the least of all groups is never reached there. */
static void check_differential(struct wr_reader *reader, const char *pointer, double level)
{
    const struct wr_definition *definition = &reader->reading->definition;
    double least = (double)INFINITY;
    size_t group = 0;
    char found[WR_RULE_TEXT];
    char head[WR_RULE_TEXT];

    for (size_t i = 0; i < definition->filters.count; i++) {
        if (definition->filters.items[i].available_head < least) {
            least = definition->filters.items[i].available_head;
            group = i;
        }
    }
    if (level > least)
        wr_complain_at(reader, pointer,
                       "found %s; allowed: at most the available head of /filters/%zu, %s, or it never calls",
                       wr_rule_show(reader, WR_QUANTITY_HEAD, level, found), group,
                       wr_rule_show(reader, WR_QUANTITY_HEAD, least, head));
}

static void check_urgent(struct wr_reader *reader)
{
    const struct wr_triggers *triggers = &reader->reading->definition.wash.triggers;
    char found[WR_RULE_TEXT];
    char differential[WR_RULE_TEXT];

    if (triggers->urgent_differential < triggers->differential)
        wr_complain_at(reader, "/wash/triggers/urgent_differential", "found %s; allowed: at least differential, %s",
                       wr_rule_show(reader, WR_QUANTITY_HEAD, triggers->urgent_differential, found),
                       wr_rule_show(reader, WR_QUANTITY_HEAD, triggers->differential, differential));
}

static void check_backwash(struct wr_reader *reader)
{
    const struct wr_wash *wash = &reader->reading->definition.wash;
    char time[WR_RULE_TEXT];
    char ramp[WR_RULE_TEXT];

    if (wash->backwash_time < wash->ramp_time)
        wr_complain_at(reader, "/wash/backwash_time",
                       "found %s; allowed: at least ramp_time, %s, which the two ramps at half rate stand for",
                       wr_rule_show(reader, WR_QUANTITY_TIME, wash->backwash_time, time),
                       wr_rule_show(reader, WR_QUANTITY_TIME, wash->ramp_time, ramp));
}

void wr_rules_check_washes(struct wr_reader *reader)
{
    const struct wr_wash *wash = &reader->reading->definition.wash;

    check_triggers(reader);
    check_differential(reader, "/wash/triggers/differential", wash->triggers.differential);
    check_differential(reader, "/wash/triggers/urgent_differential", wash->triggers.urgent_differential);
    check_urgent(reader);
    check_backwash(reader);
    wr_rule_check_hours(reader, "/wash/window", &wash->window);
    wr_rule_check_hours(reader, "/wash/attended", &wash->attended);
}
