/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_LIFT_H
#define WR_SIM_STUDY_LIFT_H

/* A plant with one limit lifted: what could it promise then, and what would limit it next? */

#include "sim/plant/limits.h"
#include "sim/plant/plant.h"

/* A definition with a limit lifted. It borrows from the original and owns the lists it had to change. */
struct wr_lifted {
    struct wr_definition definition;
    void *owned[3];
    size_t owned_count;
};

/* Copies a definition with a limit lifted, generously: a rule is dropped, wash systems, water and room are there
 * without end, wells are four times as many or fit exactly, heads and capacities do not bind. False for a limit that
 * nothing here lifts, or without memory; then there is nothing to free. */
bool wr_lift(struct wr_lifted *lifted, const struct wr_plant *plant, enum wr_limit limit);

void wr_lifted_fini(struct wr_lifted *lifted);

#endif
