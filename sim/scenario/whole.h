/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_WHOLE_H
#define WR_SIM_SCENARIO_WHOLE_H

/* A plant's definition as a whole, by the parameter table: freed, copied, compared. */

#include <stdbool.h>
#include <stddef.h>

#include "sim/plant/definition.h"

/* Frees what a definition owns and empties it. */
void wr_definition_fini(struct wr_definition *definition);

/* Makes `*copy`, which holds nothing yet, a definition that owns its own texts and lists. Free with wr_definition_fini.
 */
void wr_definition_copy(const struct wr_definition *definition, struct wr_definition *copy);

/* True when every parameter is the same: numbers to the last bit, absent with absent. */
bool wr_definition_equal(const struct wr_definition *a, const struct wr_definition *b);

/* The items and count of a list, a member of any struct { T *items; size_t count; }, whatever its T. */
void *wr_list_items(const void *list);
size_t wr_list_count(const void *list);
void wr_list_set(void *list, void *items, size_t count);

#endif
