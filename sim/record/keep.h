/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_RECORD_KEEP_H
#define WR_SIM_RECORD_KEEP_H

/* What must be kept of a record so that a run which is saved can go on: its parts as stretches of bytes, none of which
 * holds a pointer. One list serves for writing and for reading, so the two cannot part. */

#include "sim/record/record.h"

/* Bytes that belong to a record. */
struct wr_part {
    void *bytes;
    size_t size;
};

enum { WR_RECORD_PARTS = 56 };

/* Lists of a record, whose lengths differ from run to run. */
enum wr_record_list {
    WR_LIST_WASHES,
    WR_LIST_SPANS,
    WR_LIST_TURNS,
    WR_LIST_DRAWS,
    WR_LIST_EMERGENCIES,
    WR_RECORD_LISTS
};

/* Lists the parts of a record that has been opened, which keep their order; returns how many. Its lists come last, in
 * the order of enum wr_record_list. */
size_t wr_record_parts(struct wr_record *record, struct wr_part parts[WR_RECORD_PARTS]);

/* How many items each list has, and how large one is in bytes. */
void wr_record_counts(const struct wr_record *record, uint64_t counts[WR_RECORD_LISTS]);
size_t wr_record_item_size(enum wr_record_list list);

/* Makes room for so many items in the lists of a record that has none yet, for their parts to be read into. False
 * without memory. */
bool wr_record_expect(struct wr_record *record, const uint64_t counts[WR_RECORD_LISTS]);

/* True for a record whose parts were read from somewhere and that may be told on: numbers that stand for places are
 * such, words are of their kind. The simulation's state must be sound. */
bool wr_record_is_sound(const struct wr_record *record, const struct wr_simulation *simulation);

#endif
