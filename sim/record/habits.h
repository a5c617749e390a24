/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_RECORD_HABITS_H
#define WR_SIM_RECORD_HABITS_H

/* How filters and wells are run: steps in rate, idle filters, well starts, beds that no longer come clean, and which
 * trigger calls. None of it fails a run. */

#include "sim/record/record.h"

bool wr_habits_init(struct wr_habits *habits, const struct wr_plant *plant);
void wr_habits_fini(struct wr_habits *habits);

/* Looks at an instant. */
void wr_habits_instant(struct wr_record *record, const struct wr_simulation *simulation);

/* A wash has started, or ended. */
void wr_habits_wash_started(struct wr_record *record, const struct wr_simulation *simulation, size_t filter);
void wr_habits_wash_ended(struct wr_record *record, const struct wr_simulation *simulation, size_t filter);

/* The end of the run: idle filters, and which trigger called. */
void wr_habits_close(struct wr_record *record, const struct wr_simulation *simulation);

#endif
