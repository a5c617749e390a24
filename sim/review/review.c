/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/review/review.h"

#include "sim/review/guidance.h"
#include "sim/review/table.h"
#include "sim/scenario/text.h"

#include <stdlib.h>

static const double SLACK = 1 + 1e-9; /* figures that should be equal are */

static bool is_met(const struct wr_review_line *line)
{
    const bool enough = !wr_is_given(line->least) || line->found * SLACK >= line->least;
    const bool not_too_much = !wr_is_given(line->most) || line->found <= line->most * SLACK;
    switch (line->row->holds) {
    case WR_HOLDS_LEAST:
        return enough;
    case WR_HOLDS_MOST:
        return not_too_much;
    default:
        return enough && not_too_much;
    }
}

static struct wr_review_line hold(const struct wr_reviewed *reviewed, const struct wr_review_row *row)
{
    const struct wr_guidance *guidance = &row->guidance;
    struct wr_found found = {.figure = WR_ABSENT, .least = guidance->least, .most = guidance->most};
    row->find(reviewed, &found);
    struct wr_review_line line = {.row = guidance,
                                  .group = reviewed->group,
                                  .found = found.figure,
                                  .least = found.least,
                                  .most = found.most,
                                  .why = found.why};
    if (wr_is_given(found.figure))
        line.state = is_met(&line) ? WR_REVIEW_MET : WR_REVIEW_NOT_MET;
    else
        line.state = found.applies ? WR_REVIEW_NOT_TOLD : WR_REVIEW_NOT_APPLICABLE;
    return line;
}

void wr_review_make(struct wr_review *review, const struct wr_plant *plant)
{
    const struct wr_outline outline = wr_outline_of(plant);
    *review =
        (struct wr_review){.lines = wr_items_new(wr_review_row_count * plant->group_count, sizeof *review->lines)};
    for (size_t r = 0; r < wr_review_row_count; r++) {
        const struct wr_review_row *row = &wr_review_rows[r];
        for (size_t g = 0; g < (row->guidance.by_group ? plant->group_count : 1); g++) {
            const struct wr_reviewed reviewed = {.plant = plant, .outline = &outline, .group = g};
            struct wr_review_line *line = &review->lines[review->count++];
            *line = hold(&reviewed, row);
            review->in_state[line->state]++;
        }
    }
}

void wr_review_fini(struct wr_review *review)
{
    free(review->lines);
    *review = (struct wr_review){0};
}

const struct wr_guidance *wr_guidance_at(size_t place)
{
    return place < wr_review_row_count ? &wr_review_rows[place].guidance : NULL;
}

const char *wr_review_state_key(enum wr_review_state state)
{
    static const char *const keys[WR_REVIEW_STATES] = {[WR_REVIEW_NOT_MET] = "not_met",
                                                       [WR_REVIEW_MET] = "met",
                                                       [WR_REVIEW_NOT_TOLD] = "not_told",
                                                       [WR_REVIEW_NOT_APPLICABLE] = "not_applicable"};
    return keys[state];
}
