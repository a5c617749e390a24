/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_RULES_H
#define WR_SIM_SCENARIO_RULES_H

/* What must hold between parameters. Inside sim/scenario/ only. */

#include "sim/scenario/reader.h"

/* Names of units, in plant order. */
struct wr_names {
    char **items;
    size_t count;
};

/* Fills in what follows from other parameters where it is absent: the low mark, names of wells and tanks. */
void wr_rules_fill_in(struct wr_definition *definition);

/* Complains of whatever does not fit together in the reading's definition. Silent about values that could not be read:
 * those have been complained of, and as NaN or empty they compare with nothing. */
void wr_rules_check(struct wr_reader *reader);

/* Parts of wr_rules_check. */
void wr_rules_check_filters(struct wr_reader *reader);
void wr_rules_check_names(struct wr_reader *reader);
void wr_rules_check_wells(struct wr_reader *reader);
void wr_rules_check_washes(struct wr_reader *reader);
void wr_rules_check_steps(struct wr_reader *reader);
void wr_rules_check_wash_water(struct wr_reader *reader);
void wr_rules_check_spent_wash(struct wr_reader *reader);
void wr_rules_check_units(struct wr_reader *reader, const struct wr_names *filters);

/* Room for any pointer that a rule writes, and for any quantity that it shows. */
enum { WR_RULE_POINTER = 96, WR_RULE_TEXT = 64 };

/* Writes the pointer to a key of an item of a list at the root, "/wells/0/on_below", and returns `buffer`. */
const char *wr_rule_pointer(char buffer[WR_RULE_POINTER], const char *list, size_t item, const char *rest);

/* True when something is written at the pointer, right or wrong. */
bool wr_rule_is_written(const struct wr_reader *reader, const char *pointer);

/* True when the list of blocks at the pointer was left out, or was read to its last item. */
bool wr_rule_is_read(const struct wr_reader *reader, const char *pointer, size_t count);

/* Complains unless exactly one of two keys is written in the block at `pointer`. */
void wr_rule_exactly_one(struct wr_reader *reader, const char *pointer, const char *first, const char *second);

/* Complains of hours, a list at `pointer`, that begin and end at one time. */
void wr_rule_check_hours(struct wr_reader *reader, const char *pointer, const struct wr_hours_list *hours);

/* `value` in the units of the scenario's report; returns `buffer`. */
const char *wr_rule_show(const struct wr_reader *reader, enum wr_quantity quantity, double value,
                         char buffer[WR_RULE_TEXT]);

/* The word that the scenario's row at a pointer has for a choice; NULL for one that could not be read. */
const char *wr_rule_choice(const char *pointer, int choice);

/* True when a wash drains its filter before its air or backwash. */
bool wr_rule_drains(const struct wr_wash *wash);

/* Area of one filter of a group, m2; NaN when it could not be read. */
double wr_rule_area(const struct wr_filter_group *group);

#endif
