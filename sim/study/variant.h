/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_VARIANT_H
#define WR_SIM_STUDY_VARIANT_H

/* Variants of a scenario: settings written into its text, read again on the main thread, and then run by workers. */

#include "sim/scenario/axis.h"
#include "sim/study/trial.h"
#include "sim/study/workers.h"

/* What is varied. */
struct wr_base {
    const char *name; /* for complaints */
    const char *text; /* with the caller's settings applied */
};

/* The scenario's text for variants: settings applied, and what observed runs leave out written into them. There iron,
 * manganese, solids and temperature stand for those of the raw water; but what was observed stays as it was when a
 * study moves the raw water. The caller frees it. */
char *wr_base_text(const struct wr_reading *reading);

/* One variant, judged. */
struct wr_variant {
    struct wr_reading reading;
    bool is_allowed; /* the scenario reads well */
    struct wr_trial trial;
    struct wr_tried tried;
};

/* Reads the base with settings; looks at `is_allowed`. Main thread only. */
void wr_variant_read(struct wr_variant *variant, const struct wr_base *base, const char *const *settings, size_t count);

/* The first complaint about a variant that is not allowed, in the reader's words: what is allowed, where it is about
 * the value at `pointer`, else where the fault is and what it is. */
void wr_variant_refusal(const struct wr_variant *variant, const char *pointer, char *words, size_t size);

/* Judges variants that are allowed, by workers. Returns how many of them all are done, the first so many. */
size_t wr_variants_judge(struct wr_variant *const *variants, size_t count, enum wr_verdict verdict,
                         struct wr_workers *workers);

void wr_variant_fini(struct wr_variant *variant);

#endif
