/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules of what one wash needs: a source that can give its water at its rate, and room for what it sends away. A wash
 * that no state of the plant could let start is told of here and not waited for. */
#include <math.h>
#include <stdio.h>

#include "sim/scenario/rules.h"

/* A wash counts as fitting when it does within a rounding error. */
static const double slack = 1e-9;

/* What one wash of a filter needs, as the plant's steps add up in sim/plant/build_wash.c. */
struct need {
    double peak;  /* m3/s of wash water at most */
    double water; /* m3 of wash water */
    double room;  /* m3 drained, backwashed and rinsed into one spent-wash tank */
    double held;  /* m3 of regenerant */
};

/* A filter that was drained is filled again with wash water, a gravity filter also with what was filtered down. */
static void add_filling(const struct wr_wash *wash, double area, struct need *need)
{
    bool gravity = wash->sequence == WR_TEMPLATE_GRAVITY;
    double depth = wash->drain_depth + (gravity ? wash->filter_down_depth : 0.0);
    double rate = wr_is_given(wash->fill_rate) ? wash->fill_rate : wash->backwash_rate / 2.0;

    need->room += wash->drain_depth * area;
    need->water += depth * area;
    if (depth > 0.0)
        need->peak = fmax(need->peak, rate * area);
}

static void add_regenerant(const struct wr_wash *wash, double area, struct need *need)
{
    need->held = wash->regenerant_depth * area;
    need->water += need->held;
    if (wash->regenerate_time > 0.0)
        need->peak = fmax(need->peak, wash->regenerant_depth * area / wash->regenerate_time);
}

static struct need need_of(const struct wr_wash *wash, const struct wr_filter_group *group)
{
    double area = wr_rule_area(group);
    double full = area * wash->backwash_rate;
    double rinse_rate = wr_is_given(wash->rinse_rate) ? wash->rinse_rate : group->approved_rate;
    /* Ramps alone run at half rate. */
    bool is_all_ramps = wash->backwash_time <= wash->ramp_time;
    struct need need = {.peak = is_all_ramps ? full / 2.0 : full, .water = full * wash->backwash_time};

    need.room = need.water + (wash->rinse_to == WR_RINSE_TO_SEWER ? 0.0 : area * rinse_rate * wash->rinse_time);
    if (wr_rule_drains(wash))
        add_filling(wash, area, &need);
    if (wash->sequence == WR_TEMPLATE_BATCH_REGENERATION)
        add_regenerant(wash, area, &need);
    return need;
}

/* A greatest need of all groups, and whose it is; NaN when there is none. */
struct greatest {
    double value;
    size_t group;
};

static void take_greater(struct greatest *greatest, double value, size_t group)
{
    if (value > greatest->value || isnan(greatest->value))
        *greatest = (struct greatest){value, group};
}

/* The greatest of each need. */
struct needs {
    struct greatest peak;
    struct greatest water;
    struct greatest room;
    struct greatest held;
};

static struct needs greatest_needs(const struct wr_definition *definition)
{
    struct needs needs = {{WR_ABSENT, 0}, {WR_ABSENT, 0}, {WR_ABSENT, 0}, {WR_ABSENT, 0}};

    for (size_t i = 0; i < definition->filters.count; i++) {
        struct need need = need_of(&definition->wash, &definition->filters.items[i]);
        take_greater(&needs.peak, need.peak, i);
        take_greater(&needs.water, need.water, i);
        take_greater(&needs.room, need.room, i);
        take_greater(&needs.held, need.held, i);
    }
    return needs;
}

static bool is_short(double has, double need)
{
    return has * (1.0 + slack) < need;
}

/* Source --------------------------------------------------------------------------------------------------------- */

/* A block or figure that belongs to one source stands with it, and with no other. */
static void check_belongs(struct wr_reader *reader, const char *pointer, int belongs_to, const char *example)
{
    int source = reader->reading->definition.wash_water.source;
    bool is_written = wr_rule_is_written(reader, pointer);

    if (source == belongs_to && !is_written)
        wr_complain_at(reader, pointer, "found nothing, but source is \"%s\"; allowed: %s",
                       wr_rule_choice("/wash_water/source", source), example);
    if (source >= 0 && source != belongs_to && is_written)
        wr_complain_at(reader, pointer, "found one, but source is \"%s\"; allowed: only where it is \"%s\"",
                       wr_rule_choice("/wash_water/source", source), wr_rule_choice("/wash_water/source", belongs_to));
}

/* Flows that a wash must not exceed, by key. */
static void check_limit(struct wr_reader *reader, const char *pointer, double has, const struct greatest *need)
{
    char has_text[WR_RULE_TEXT];
    char need_text[WR_RULE_TEXT];

    if (is_short(has, need->value))
        wr_complain_at(reader, pointer,
                       "found %s; allowed: at least %s, or a wash of /filters/%zu never reaches its rate",
                       wr_rule_show(reader, WR_QUANTITY_FLOW, has, has_text),
                       wr_rule_show(reader, WR_QUANTITY_FLOW, need->value, need_text), need->group);
}

static void check_tank(struct wr_reader *reader, const struct greatest *need)
{
    double has = reader->reading->definition.wash_water.tank.volume;
    char has_text[WR_RULE_TEXT];
    char need_text[WR_RULE_TEXT];

    if (is_short(has, need->value))
        wr_complain_at(reader, "/wash_water/tank/volume",
                       "found %s; allowed: at least %s, the water of one wash of /filters/%zu",
                       wr_rule_show(reader, WR_QUANTITY_VOLUME, has, has_text),
                       wr_rule_show(reader, WR_QUANTITY_VOLUME, need->value, need_text), need->group);
}

static void check_storage(struct wr_reader *reader, const struct greatest *need)
{
    const struct wr_storage *storage = &reader->reading->definition.storage;
    double has = storage->volume * (1.0 - storage->reserve);
    char has_text[WR_RULE_TEXT];
    char need_text[WR_RULE_TEXT];

    if (is_short(has, need->value))
        wr_complain_at(reader, "/storage/volume",
                       "found %s above the reserve; allowed: at least %s there, the water of one wash of /filters/%zu, "
                       "since it comes from storage",
                       wr_rule_show(reader, WR_QUANTITY_VOLUME, has, has_text),
                       wr_rule_show(reader, WR_QUANTITY_VOLUME, need->value, need_text), need->group);
}

/* Raw water at most, m3/s: all wells together, within what the authority allows; NaN when a well could not be read. */
static double raw_water_at_most(const struct wr_definition *definition)
{
    double flow = definition->wells.count == 0 ? WR_ABSENT : 0.0;

    for (size_t i = 0; i < definition->wells.count; i++)
        flow += definition->wells.items[i].flow;
    return flow > definition->approved_capacity ? definition->approved_capacity : flow;
}

static void check_raw_water(struct wr_reader *reader, const struct greatest *need)
{
    const struct wr_definition *definition = &reader->reading->definition;
    double has = raw_water_at_most(definition);
    char has_text[WR_RULE_TEXT];
    char need_text[WR_RULE_TEXT];

    if (is_short(has, need->value))
        wr_complain_at(reader, "/wash_water/source",
                       "found \"%s\", with raw water of %s at most; allowed: a source of at least %s, or a wash of "
                       "/filters/%zu never reaches its rate",
                       wr_rule_choice("/wash_water/source", definition->wash_water.source),
                       wr_rule_show(reader, WR_QUANTITY_FLOW, has, has_text),
                       wr_rule_show(reader, WR_QUANTITY_FLOW, need->value, need_text), need->group);
}

/* What all filters take at their approved rates, m3/s; NaN when one could not be read. */
static double approved_flow(const struct wr_filter_groups *groups)
{
    double flow = 0.0;

    for (size_t i = 0; i < groups->count; i++) {
        const struct wr_filter_group *group = &groups->items[i];
        double filters = group->filters == 0 ? WR_ABSENT : (double)group->filters;
        flow += filters * wr_rule_area(group) * group->approved_rate;
    }
    return flow;
}

/* While a filter is washed by the others, these make what it takes within their approved rates: unless these may be
 * exceeded. The group that lacks most is told of. */
static void check_other_filters(struct wr_reader *reader)
{
    const struct wr_definition *definition = &reader->reading->definition;
    const struct wr_filter_groups *groups = &definition->filters;
    double all = approved_flow(groups);
    struct greatest lack = {WR_ABSENT, 0};
    char has_text[WR_RULE_TEXT];
    char need_text[WR_RULE_TEXT];

    for (size_t i = 0; i < groups->count; i++) {
        double others = all - wr_rule_area(&groups->items[i]) * groups->items[i].approved_rate;
        take_greater(&lack, need_of(&definition->wash, &groups->items[i]).peak - others, i);
    }
    if (definition->over_approved_rate == WR_OVER_RATE_RISES || groups->count == 0)
        return;
    double peak = need_of(&definition->wash, &groups->items[lack.group]).peak;
    double others = peak - lack.value;
    if (is_short(others, peak))
        wr_complain_at(reader, "/wash_water/source",
                       "found \"filters\", of which the others pass %s at most while one of /filters/%zu is washed; "
                       "allowed: a source of at least %s, or that wash never reaches its rate",
                       wr_rule_show(reader, WR_QUANTITY_FLOW, others, has_text), lack.group,
                       wr_rule_show(reader, WR_QUANTITY_FLOW, peak, need_text));
}

static void check_source(struct wr_reader *reader, const struct needs *needs)
{
    const struct wr_wash_water *water = &reader->reading->definition.wash_water;

    check_limit(reader, "/wash_water/max_flow", water->max_flow, &needs->peak);
    switch (water->source) {
    case WR_WATER_FROM_TANK:
        check_tank(reader, &needs->water);
        break;
    case WR_WATER_FROM_STORAGE:
        check_storage(reader, &needs->water);
        break;
    case WR_WATER_FROM_FILTERS:
        check_other_filters(reader);
        check_raw_water(reader, &needs->peak);
        break;
    case WR_WATER_FROM_WELLS:
        check_raw_water(reader, &needs->peak);
        break;
    case WR_WATER_FROM_SYSTEM:
        check_limit(reader, "/wash_water/draw_limit", water->draw_limit, &needs->peak);
        break;
    default: /* it could not be read */
        break;
    }
}

/* Room ----------------------------------------------------------------------------------------------------------- */

/* Room for a wash in a tank, m3: above the pipe of a fixed draw-off. */
static double room_of(const struct wr_spent_tank *tank, const struct wr_settling *settling)
{
    double dead =
        settling->draw_off == WR_DRAW_FIXED && settling->draw_height > 0.0 ? settling->draw_height / tank->depth : 0.0;

    return tank->volume * (1.0 - dead);
}

/* Room of the largest spent-wash tank, m3; NaN when there is none or one could not be read. */
static double largest_tank(const struct wr_spent_wash *spent)
{
    const struct wr_spent_tanks *tanks = &spent->tanks;
    double largest = tanks->count == 0 ? WR_ABSENT : room_of(&tanks->items[0], &spent->settling);

    for (size_t i = 1; i < tanks->count; i++) {
        double volume = room_of(&tanks->items[i], &spent->settling);
        largest = volume > largest || isnan(volume) ? volume : largest;
    }
    return largest;
}

static void check_room(struct wr_reader *reader, const struct greatest *need)
{
    const struct wr_definition *definition = &reader->reading->definition;
    double has = largest_tank(&definition->spent_wash);
    char has_text[WR_RULE_TEXT];
    char need_text[WR_RULE_TEXT];

    if (is_short(has, need->value))
        wr_complain_at(reader, "/spent_wash/tanks",
                       "found room for at most %s in a tank; allowed: one with room for at least %s, the %sbackwash%s "
                       "of one wash of "
                       "/filters/%zu",
                       wr_rule_show(reader, WR_QUANTITY_VOLUME, has, has_text),
                       wr_rule_show(reader, WR_QUANTITY_VOLUME, need->value, need_text),
                       wr_rule_drains(&definition->wash) ? "drained water and " : "",
                       definition->wash.rinse_to == WR_RINSE_TO_SEWER ? "" : " and rinse", need->group);
}

static void check_holding(struct wr_reader *reader, const struct greatest *need)
{
    double has = reader->reading->definition.wash.holding.volume;
    char has_text[WR_RULE_TEXT];
    char need_text[WR_RULE_TEXT];

    if (is_short(has, need->value))
        wr_complain_at(reader, "/wash/holding/volume",
                       "found %s; allowed: at least %s, the regenerant of one wash of /filters/%zu",
                       wr_rule_show(reader, WR_QUANTITY_VOLUME, has, has_text),
                       wr_rule_show(reader, WR_QUANTITY_VOLUME, need->value, need_text), need->group);
}

void wr_rules_check_wash_water(struct wr_reader *reader)
{
    struct needs needs = greatest_needs(&reader->reading->definition);

    if (cJSON_IsObject(wr_tree_find(reader->reading->tree, "/wash_water"))) {
        check_belongs(reader, "/wash_water/tank", WR_WATER_FROM_TANK, "a block { ... }");
        check_belongs(reader, "/wash_water/draw_limit", WR_WATER_FROM_SYSTEM, "a flow such as \"650 gal/min\"");
    }
    check_source(reader, &needs);
    check_room(reader, &needs.room);
    check_holding(reader, &needs.held);
}
