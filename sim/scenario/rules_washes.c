/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules of washes: something calls them, their water and room can be had, spent wash water has a way out. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "sim/scenario/rules.h"

/* A wash counts as fitting when it does within a rounding error. */
static const double slack = 1e-9;

/* What one wash of a filter needs. */
enum need {
    NEED_FLOW,  /* m3/s of backwash at its full rate */
    NEED_WATER, /* m3 from the wash tank */
    NEED_ROOM   /* m3 of backwash and rinse, to one spent-wash tank */
};

static double need_of(const struct wr_wash *wash, const struct wr_filter_group *group, enum need need)
{
    double area = wr_rule_area(group);
    double rinse_rate = wr_is_given(wash->rinse_rate) ? wash->rinse_rate : group->approved_rate;
    double flow = area * wash->backwash_rate;
    double water = flow * wash->backwash_time;

    return need == NEED_FLOW ? flow : need == NEED_WATER ? water : water + area * rinse_rate * wash->rinse_time;
}

/* The greatest need of any group, and whose it is; NaN when there is none. */
static double greatest_need(const struct wr_definition *definition, enum need need, size_t *group)
{
    double greatest = WR_ABSENT;

    for (size_t i = 0; i < definition->filters.count; i++) {
        double value = need_of(&definition->wash, &definition->filters.items[i], need);
        if (value > greatest || isnan(greatest)) {
            greatest = value;
            *group = i;
        }
    }
    return greatest;
}

static const char *show(const struct wr_reader *reader, enum wr_quantity quantity, double value, char *buffer)
{
    enum wr_units units = (enum wr_units)reader->reading->definition.units;

    return wr_quantity_text(quantity, value, units, buffer, WR_RULE_TEXT);
}

static void check_triggers(struct wr_reader *reader)
{
    bool has_any = wr_rule_is_written(reader, "/wash/triggers/differential") ||
                   wr_rule_is_written(reader, "/wash/triggers/run_hours") ||
                   wr_rule_is_written(reader, "/wash/triggers/volume");

    if (!has_any && cJSON_IsObject(wr_tree_find(reader->reading->tree, "/wash/triggers")))
        wr_complain_at(reader, "/wash/triggers",
                       "found nothing that calls a wash; allowed: at least one of differential, run_hours and volume");
}

/* Available head cuts the differential off: a trigger above the least of all groups never calls there. */
static void check_differential(struct wr_reader *reader)
{
    const struct wr_definition *definition = &reader->reading->definition;
    double trigger = definition->wash.triggers.differential;
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
    if (trigger > least)
        wr_complain_at(reader, "/wash/triggers/differential",
                       "found %s; allowed: at most the available head of /filters/%zu, %s, or it never calls",
                       show(reader, WR_QUANTITY_HEAD, trigger, found), group,
                       show(reader, WR_QUANTITY_HEAD, least, head));
}

static void check_sequence(struct wr_reader *reader)
{
    const struct wr_wash *wash = &reader->reading->definition.wash;
    char time[WR_RULE_TEXT];
    char ramp[WR_RULE_TEXT];

    if (wash->backwash_time < wash->ramp_time)
        wr_complain_at(reader, "/wash/backwash_time",
                       "found %s; allowed: at least ramp_time, %s, which the two ramps at half rate stand for",
                       show(reader, WR_QUANTITY_TIME, wash->backwash_time, time),
                       show(reader, WR_QUANTITY_TIME, wash->ramp_time, ramp));
}

static void check_pump(struct wr_reader *reader)
{
    const struct wr_definition *definition = &reader->reading->definition;
    size_t group = 0;
    double need = greatest_need(definition, NEED_FLOW, &group);
    double has = definition->wash_water.max_flow;
    char has_text[WR_RULE_TEXT];
    char need_text[WR_RULE_TEXT];

    if (has * (1.0 + slack) < need)
        wr_complain_at(reader, "/wash_water/max_flow",
                       "found %s; allowed: at least %s, or a wash of /filters/%zu never reaches its rate",
                       show(reader, WR_QUANTITY_FLOW, has, has_text), show(reader, WR_QUANTITY_FLOW, need, need_text),
                       group);
}

static void check_wash_tank(struct wr_reader *reader)
{
    const struct wr_definition *definition = &reader->reading->definition;
    size_t group = 0;
    double need = greatest_need(definition, NEED_WATER, &group);
    double has = definition->wash_water.tank.volume;
    char has_text[WR_RULE_TEXT];
    char need_text[WR_RULE_TEXT];

    if (has * (1.0 + slack) < need)
        wr_complain_at(
            reader, "/wash_water/tank/volume", "found %s; allowed: at least %s, the water of one wash of /filters/%zu",
            show(reader, WR_QUANTITY_VOLUME, has, has_text), show(reader, WR_QUANTITY_VOLUME, need, need_text), group);
}

/* The volume of the largest spent-wash tank, m3; NaN when there is none or one could not be read. */
static double largest_tank(const struct wr_spent_tanks *tanks)
{
    double largest = tanks->count == 0 ? WR_ABSENT : tanks->items[0].volume;

    for (size_t i = 1; i < tanks->count; i++) {
        double volume = tanks->items[i].volume;
        largest = volume > largest || isnan(volume) ? volume : largest;
    }
    return largest;
}

static void check_room(struct wr_reader *reader)
{
    const struct wr_definition *definition = &reader->reading->definition;
    size_t group = 0;
    double need = greatest_need(definition, NEED_ROOM, &group);
    double has = largest_tank(&definition->spent_wash.tanks);
    char has_text[WR_RULE_TEXT];
    char need_text[WR_RULE_TEXT];

    if (has * (1.0 + slack) < need)
        wr_complain_at(reader, "/spent_wash/tanks",
                       "found tanks of at most %s; allowed: one of at least %s, the backwash and rinse of one wash of "
                       "/filters/%zu",
                       show(reader, WR_QUANTITY_VOLUME, has, has_text),
                       show(reader, WR_QUANTITY_VOLUME, need, need_text), group);
}

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

static void check_outlet(struct wr_reader *reader, const struct wr_outlet *outlet, size_t number)
{
    char list[] = "spent_wash/outlets";
    char pointer[WR_RULE_POINTER];
    bool has_rate = wr_rule_is_written(reader, wr_rule_pointer(pointer, list, number, "/rate"));
    bool has_kind = wr_rule_is_written(reader, wr_rule_pointer(pointer, list, number, "/kind"));
    bool is_recycle = has_kind && outlet->kind == WR_OUTLET_RECYCLE;

    wr_rule_pointer(pointer, list, number, "/rate");
    if (is_recycle && has_rate)
        wr_complain_at(reader, pointer, "found a rate; allowed: none for recycle, whose flow is /recycle/pump");
    if (has_kind && outlet->kind == WR_OUTLET_SEWER && !has_rate &&
        reader->reading->definition.spent_wash.tanks.count > 0)
        wr_complain_at(reader, pointer, "found nothing; allowed: the flow to the sewer, such as \"30 gal/min\"");
    const cJSON *recycle = wr_tree_find(reader->reading->tree, "/recycle");
    bool may_have_pump = recycle != NULL && !cJSON_IsObject(recycle);
    if (is_recycle && !may_have_pump && !wr_rule_is_written(reader, "/recycle/pump"))
        wr_complain_at(reader, "/recycle/pump",
                       "found nothing, but an outlet is \"recycle\"; allowed: a flow such as \"13.5 gal/min\"");
}

static void check_outlets(struct wr_reader *reader)
{
    const struct wr_spent_wash *spent = &reader->reading->definition.spent_wash;
    const cJSON *outlets = wr_tree_find(reader->reading->tree, "/spent_wash/outlets");
    bool has_none = outlets == NULL || (cJSON_IsArray(outlets) && outlets->child == NULL);

    for (size_t i = 0; i < spent->outlets.count; i++)
        check_outlet(reader, &spent->outlets.items[i], i);
    if (spent->tanks.count > 0 && has_none)
        wr_complain_at(reader, "/spent_wash/outlets", "found no way out of the tanks; allowed: at least one outlet");
}

void wr_rules_check_washes(struct wr_reader *reader)
{
    check_triggers(reader);
    check_differential(reader);
    check_sequence(reader);
    check_pump(reader);
    check_wash_tank(reader);
    check_room(reader);
    check_settling(reader);
    check_outlets(reader);
}
