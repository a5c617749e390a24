/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules of wells: levels apart, and flows that a well of its drive can give. */
#include "sim/scenario/rules.h"

static void check_levels(struct wr_reader *reader, const struct wr_well *well, size_t number)
{
    char pointer[WR_RULE_POINTER];
    char on[WR_RULE_TEXT];
    char off[WR_RULE_TEXT];

    if (well->on_below >= well->off_above)
        wr_complain_at(reader, wr_rule_pointer(pointer, "wells", number, "/off_above"),
                       "found %s; allowed: more than on_below, %s, or the well starts and stops without end",
                       wr_rule_show(reader, WR_QUANTITY_SHARE, well->off_above, off),
                       wr_rule_show(reader, WR_QUANTITY_SHARE, well->on_below, on));
}

static void check_least_flow(struct wr_reader *reader, const struct wr_well *well, size_t number)
{
    char pointer[WR_RULE_POINTER];
    char least[WR_RULE_TEXT];
    char flow[WR_RULE_TEXT];

    wr_rule_pointer(pointer, "wells", number, "/least_flow");
    wr_rule_show(reader, WR_QUANTITY_FLOW, well->least_flow, least);
    if (well->least_flow > 0.0 && well->drive == WR_DRIVE_FIXED)
        wr_complain_at(reader, pointer, "found %s; allowed: none where drive is \"fixed\"", least);
    else if (well->least_flow > well->flow)
        wr_complain_at(reader, pointer, "found %s; allowed: at most the well's flow, %s", least,
                       wr_rule_show(reader, WR_QUANTITY_FLOW, well->flow, flow));
}

/* True when a well can be throttled, or may be as far as could be read. */
static bool may_throttle(const struct wr_reader *reader)
{
    const struct wr_wells *wells = &reader->reading->definition.wells;

    for (size_t i = 0; i < wells->count; i++) {
        if (wells->items[i].drive != WR_DRIVE_FIXED)
            return true;
    }
    return wells->count == 0 || !wr_rule_is_read(reader, "/wells", wells->count);
}

void wr_rules_check_wells(struct wr_reader *reader)
{
    const struct wr_definition *definition = &reader->reading->definition;
    const struct wr_wells *wells = &definition->wells;

    for (size_t i = 0; i < wells->count; i++) {
        check_levels(reader, &wells->items[i], i);
        check_least_flow(reader, &wells->items[i], i);
    }
    if (definition->over_approved_rate == WR_OVER_THROTTLE && !may_throttle(reader))
        wr_complain_at(reader, "/over_approved_rate",
                       "found \"throttle\"; allowed: \"drop_well\" or \"rate_rises\", or a well whose drive is "
                       "\"variable\"");
}
