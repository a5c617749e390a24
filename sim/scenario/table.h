/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_TABLE_H
#define WR_SIM_SCENARIO_TABLE_H

/* The blocks of a scenario, each in the file of its part of the plant. */

#include "sim/scenario/parameter.h"

/* Sources that many rows share. A row with a default says where it comes from, and one with limits where these do. */
#define WR_PRACTICE "common practice, no source"
#define WR_CHOSEN "default: chosen here, no source"
#define WR_NONE_OF_IT "default: none of it"
#define WR_SANITY "limits: sanity, no source"    /* they only keep slips of the pen out */
#define WR_BY_MEANING "limits: by what it means" /* nothing else makes sense */

#define WR_BLOCK_ROWS(rows) (rows), sizeof(rows) / sizeof(rows)[0]

extern const struct wr_block wr_block_demand;
extern const struct wr_block wr_block_storage;
extern const struct wr_block wr_block_well;
extern const struct wr_block wr_block_raw_water;
extern const struct wr_block wr_block_filter_group;
extern const struct wr_block wr_block_media_layer;
extern const struct wr_block wr_block_sieve;
extern const struct wr_block wr_block_deposit;
extern const struct wr_block wr_block_observed_run;
extern const struct wr_block wr_block_start_beds;
extern const struct wr_block wr_block_wash;
extern const struct wr_block wr_block_triggers;
extern const struct wr_block wr_block_hours;
extern const struct wr_block wr_block_rota_entry;
extern const struct wr_block wr_block_holding;
extern const struct wr_block wr_block_wash_water;
extern const struct wr_block wr_block_wash_tank;
extern const struct wr_block wr_block_spent_wash;
extern const struct wr_block wr_block_spent_tank;
extern const struct wr_block wr_block_settling;
extern const struct wr_block wr_block_particle_class;
extern const struct wr_block wr_block_zone;
extern const struct wr_block wr_block_sludge;
extern const struct wr_block wr_block_outlet;
extern const struct wr_block wr_block_recycle;
extern const struct wr_block wr_block_fails_if;
extern const struct wr_block wr_block_outage;

#endif
