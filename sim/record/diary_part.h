/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_RECORD_DIARY_PART_H
#define WR_SIM_RECORD_DIARY_PART_H

/* What the files of the diary share; nobody else includes this. */

#include "sim/record/diary.h"

/* Adds an item of `size` bytes and returns its place + 1; 0 without memory, which the diary notes. */
size_t wr_diary_add(struct wr_diary *diary, struct wr_diary_list *list, const void *item, size_t size);

/* The wash of a filter that is open, from its call to its end; NULL for none. */
static inline struct wr_diary_wash *wr_diary_open_wash(const struct wr_diary *diary, size_t filter)
{
    const size_t place = diary->open_wash[filter];
    return place > 0 ? &((struct wr_diary_wash *)diary->washes.items)[place - 1] : NULL;
}

/* Its step; NULL for none. */
static inline struct wr_diary_step *wr_diary_open_step(const struct wr_diary *diary, size_t filter)
{
    const size_t place = diary->open_step[filter];
    return place > 0 ? &((struct wr_diary_step *)diary->steps.items)[place - 1] : NULL;
}

/* The day that is counted. */
static inline struct wr_diary_day *wr_diary_today(const struct wr_diary *diary)
{
    return &((struct wr_diary_day *)diary->days.items)[diary->days.count - 1];
}

/* What happens to washes: calls, starts, steps and ends. */
void wr_diary_wash_event(struct wr_diary *diary, const struct wr_simulation *simulation, const struct wr_event *event);

/* What filters in service take while others are washed. */
void wr_diary_follow_washes(struct wr_diary *diary, const struct wr_simulation *simulation);

/* How the plant stands now. */
struct wr_standing wr_diary_stand(const struct wr_diary *diary, const struct wr_simulation *simulation);

/* What each tank is doing: at first, then what has changed since, and at the end. */
void wr_diary_tanks_begin(struct wr_diary *diary, const struct wr_simulation *simulation);
void wr_diary_tanks(struct wr_diary *diary, const struct wr_simulation *simulation);
void wr_diary_tanks_end(struct wr_diary *diary, double now);

#endif
