/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_RECORD_PACE_H
#define WR_SIM_RECORD_PACE_H

/* Whether washing keeps pace: the two measures of waiting, and the grade they make. Defined in docs/answers.md.
 *
 * Waits before a filter's first wash are start-up and count in none of this. */

#include "sim/record/record.h"

/* A wash starts: its wait enters the measures. */
void wr_pace_wash(struct wr_record *record, const struct wr_simulation *simulation, size_t filter);

/* An instant: true at the one at which washing is first seen not to keep pace. */
bool wr_pace_instant(struct wr_record *record, const struct wr_simulation *simulation);

/* The end: waits still open count, and so does the last week; true when only now washing is seen not to keep pace. */
bool wr_pace_close(struct wr_record *record, const struct wr_simulation *simulation);

/* Works out the grade from measures and findings; the limits are what washes waited for longest. */
void wr_pace_grade(struct wr_record *record, const struct wr_simulation *simulation, enum wr_limit resource,
                   enum wr_limit any);

#endif
