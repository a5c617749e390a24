/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_BLOCK_H
#define WR_SIM_SCENARIO_BLOCK_H

/* Filling structs from JSON by the table. Inside sim/scenario/ only. */

#include "sim/scenario/reader.h"

/* Fills the struct of a block as if nothing were written in it: defaults, else absent, zero or empty. */
void wr_block_default(const struct wr_block *block, void *base);

/* Fills the struct at `base`, which holds its defaults, from the object that the reader stands on, and complains of all
 * that is wrong in it. What could not be read is as absent: NaN, zero, NULL or empty; a choice is -1. */
void wr_block_read(struct wr_reader *reader, const struct wr_block *block, const cJSON *object, void *base);

/* Fills the member of a row from `value`, on which the reader stands; the member holds its default. */
void wr_member_read(struct wr_reader *reader, const struct wr_parameter *row, const cJSON *value, void *member);

#endif
