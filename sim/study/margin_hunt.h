/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_MARGIN_HUNT_H
#define WR_SIM_STUDY_MARGIN_HUNT_H

/* A search for margins under way. For margin.c and margin_map.c alone. */

#include "sim/study/margin.h"
#include "sim/study/variant.h"

/* One number asked about, and how far to look. */
struct wr_ask {
    struct wr_margin *margin;
    bool has_range;
    double least, most; /* in the figure's unit */
};

struct wr_hunt {
    struct wr_margins *margins;
    struct wr_workers *workers;
    const struct wr_reading *reading;
    struct wr_base base;
};

/* One value tried, and for whom. */
struct wr_probe {
    struct wr_variant variant;
    struct wr_margin *margin;
    struct wr_margin_side *side;
    double value;
};

/* Reads the scenario with a number moved, and a second one where there is one. */
void wr_probe_read(struct wr_hunt *hunt, struct wr_probe *probe, const struct wr_margin *first, double value,
                   const struct wr_margin *second, double other);

/* Judges probes that were read. False when the search must end. */
bool wr_probes_judge(struct wr_hunt *hunt, struct wr_probe *probes, size_t count);

/* Ends the search. */
void wr_hunt_fault(struct wr_hunt *hunt, enum wr_run_end end, const char *message);

/* The map of two numbers. */
void wr_map_make(struct wr_hunt *hunt, const struct wr_ask asks[2]);

#endif
