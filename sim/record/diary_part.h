/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_RECORD_DIARY_PART_H
#define WR_SIM_RECORD_DIARY_PART_H

/* What the files of the diary share; nobody else includes this. */

#include "sim/record/diary.h"

/* Adds an item of `size` bytes and returns its place + 1; 0 without memory, which the diary notes. */
size_t wr_diary_add(struct wr_diary *diary, struct wr_diary_list *list, const void *item, size_t size);

/* How the plant stands now. */
struct wr_standing wr_diary_stand(const struct wr_diary *diary, const struct wr_simulation *simulation);

/* What each tank is doing: at first, then what has changed since, and at the end. */
void wr_diary_tanks_begin(struct wr_diary *diary, const struct wr_simulation *simulation);
void wr_diary_tanks(struct wr_diary *diary, const struct wr_simulation *simulation);
void wr_diary_tanks_end(struct wr_diary *diary, double now);

#endif
