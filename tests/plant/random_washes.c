/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Washes drawn at random: triggers, steps and rules. */
#include "tests/plant/draw.h"

#include <math.h>

static void draw_rota(struct at wash, bool must)
{
    struct draft *draft = wash.draft;
    const size_t count = must || draw_one_in(draft, 4) ? draw_pick(draft, 1, 4) : 0;
    for (size_t i = 0; i < count; i++) {
        const struct at entry = at_item(wash, "rota");
        at_put_text(entry, "filter", draft->names[draw_pick(draft, 0, draft->filters - 1)]);
        at_put(entry, "first", draw_round(draft, -day, draft->horizon, 0.5 * hour));
        at_may_put(entry, "every", draw_round(draft, 12.0 * hour, 7.0 * day, hour));
    }
}

static void draw_triggers(struct at wash)
{
    struct draft *draft = wash.draft;
    const struct at triggers = at_block(wash, "triggers");
    const size_t which = draw_pick(draft, 0, 7);
    double level = draft->clean_head;
    draw_rota(wash, which == 0);
    if (which & 1)
        level = at_put(triggers, "differential",
                       fmin(draft->least_head, draft->clean_head + draw_between(draft, 0.1, 4.0)));
    at_choose(triggers, "differential_as");
    at_choose(triggers, "across");
    at_may_put(triggers, "persistence", draw_one_in(draft, 2) ? 0.0 : draw_round(draft, 30.0, 1800.0, 30.0));
    if (which & 2)
        at_put(triggers, "run_hours", draw_round(draft, 6.0 * hour, 72.0 * hour, hour));
    if (which & 4)
        at_put(triggers, "volume", draw_round(draft, 20.0, 250.0, 5.0));
    if (draw_one_in(draft, 3))
        at_put(triggers, "urgent_differential", fmin(draft->least_head, level + draw_between(draft, 0.0, 2.0)));
}

/* Steps ----------------------------------------------------------------------------------------------------------- */

/* The steps that count for what a wash needs. */
struct steps {
    double backwash_rate, fill_rate, rinse_rate;       /* m/s; the last absent: approved rate */
    double backwash_time, rinse_time, regenerate_time; /* s */
    double drain_depth, down_depth, regenerant_depth;  /* m3/m2 */
    double most;                                       /* m/s of wash water that its source gives */
};

/* Filters that wash each other pass no more than their approved rates while one is away. */
static double most_rate(const struct draft *draft)
{
    double most = HUGE_VAL;
    for (size_t i = 0; i < draft->group_count && draft->source == WR_WATER_FROM_FILTERS; i++)
        most = fmin(most, draft->capacity / draft->groups[i].area - draft->groups[i].rate);
    return most;
}

static void draw_air(struct at wash, struct steps *steps, bool must)
{
    struct draft *draft = wash.draft;
    if (must || draw_one_in(draft, 2)) {
        steps->drain_depth = at_put(wash, "drain_depth", draw_round(draft, 0.1, 1.0, 0.05));
        at_put(wash, "drain_time", draw_round(draft, 2.0 * minute, 15.0 * minute, minute));
    }
    draft->air = must || draw_one_in(draft, 2);
    if (draft->air)
        at_put(wash, "air_time", draw_round(draft, minute, 8.0 * minute, minute));
    const double fill_rate = fmin(steps->most, draw_round(draft, 4.0, 20.0, 1.0) / hour);
    const double filled = at_may_put(wash, "fill_rate", fill_rate);
    steps->fill_rate = wr_is_given(filled) ? filled : steps->backwash_rate / 2.0;
}

static void draw_filter_down(struct at wash, struct steps *steps)
{
    struct draft *draft = wash.draft;
    if (draw_one_in(draft, 3))
        return;
    steps->down_depth = at_put(wash, "filter_down_depth", draw_round(draft, 0.1, 1.0, 0.05));
    at_put(wash, "filter_down_time", draw_round(draft, 2.0 * minute, 30.0 * minute, minute));
}

static void draw_regenerant(struct at wash, struct steps *steps)
{
    struct draft *draft = wash.draft;
    steps->regenerate_time = at_put(wash, "regenerate_time", draw_round(draft, 10.0 * minute, hour, 5.0 * minute));
    steps->regenerant_depth = at_put(
        wash, "regenerant_depth", fmin(0.9 * steps->most * steps->regenerate_time, draw_round(draft, 0.1, 1.0, 0.1)));
    if (draw_one_in(draft, 3))
        return;
    const struct at holding = at_block(wash, "holding");
    at_put(holding, "volume", steps->regenerant_depth * draft->largest_area * draw_between(draft, 1.0, 4.0));
    at_put(holding, "emptied_every", draw_round(draft, 12.0 * hour, 7.0 * day, 12.0 * hour));
}

static void draw_steps(struct at wash, struct steps *steps)
{
    struct draft *draft = wash.draft;
    draft->sequence = at_choose(wash, "template");
    steps->most = most_rate(draft);
    steps->backwash_rate =
        at_put(wash, "backwash_rate", fmin(0.95 * steps->most, draw_round(draft, 20.0, 50.0, 1.0) / hour));
    const double ramp =
        at_may_put(wash, "ramp_time", draw_one_in(draft, 3) ? 0.0 : draw_round(draft, 10.0, 90.0, 10.0));
    const double backwash =
        draw_one_in(draft, 10) ? fmax(10.0, ramp) : draw_round(draft, 4.0 * minute, 15.0 * minute, 30.0);
    steps->backwash_time = at_may_put(wash, "backwash_time", fmax(backwash, ramp));
    at_may_put(wash, "bed_settle", draw_one_in(draft, 3) ? 0.0 : draw_round(draft, minute, 10.0 * minute, minute));
    steps->rinse_rate = draw_one_in(draft, 2)
                            ? WR_ABSENT
                            : at_put(wash, "rinse_rate", draw_between(draft, 0.3, 1.0) * draft->least_rate);
    steps->rinse_time =
        at_may_put(wash, "rinse_time", draw_one_in(draft, 4) ? 0.0 : draw_round(draft, minute, 20.0 * minute, minute));
    if (at_choose(wash, "rinse_to") == WR_RINSE_TO_SEWER)
        steps->rinse_time = 0.0; /* no tank sees it */
    if (draw_one_in(draft, 3)) {
        at_put(wash, "washout_depth", draw_round(draft, 0.5, 4.0, 0.5));
        at_may_put(wash, "clear_at", draw_round(draft, 5e-3, 0.1, 5e-3));
    }
    at_may_put(wash, "valve_travel", draw_one_in(draft, 4) ? 0.0 : draw_round(draft, 15.0, 120.0, 15.0));
    if (draft->sequence == WR_TEMPLATE_PRESSURE_AIR || draft->sequence == WR_TEMPLATE_GRAVITY)
        draw_air(wash, steps, draft->sequence == WR_TEMPLATE_PRESSURE_AIR);
    if (draft->sequence == WR_TEMPLATE_GRAVITY)
        draw_filter_down(wash, steps);
    if (draft->sequence == WR_TEMPLATE_BATCH_REGENERATION)
        draw_regenerant(wash, steps);
    if (draft->source != WR_WATER_FROM_FILTERS && draw_one_in(draft, 3))
        at_put(wash, "rinse_at_start", draw_round(draft, minute, 15.0 * minute, minute));
}

/* What the largest wash takes and sends away. */
static void take_needs(struct draft *draft, const struct steps *steps)
{
    const double filled = steps->drain_depth + steps->down_depth;
    double rate = fmax(steps->backwash_rate, filled > 0.0 ? steps->fill_rate : 0.0);
    if (steps->regenerate_time > 0.0)
        rate = fmax(rate, steps->regenerant_depth / steps->regenerate_time);
    const double backwash = steps->backwash_rate * steps->backwash_time;
    draft->peak = rate * draft->largest_area;
    draft->water = (backwash + filled + steps->regenerant_depth) * draft->largest_area;
    for (size_t i = 0; i < draft->group_count; i++) {
        const struct draft_group *group = &draft->groups[i];
        const double rinse_rate = wr_is_given(steps->rinse_rate) ? steps->rinse_rate : group->rate;
        draft->room = fmax(draft->room, (backwash + steps->drain_depth + rinse_rate * steps->rinse_time) * group->area);
    }
}

static void draw_rules(struct at wash)
{
    struct draft *draft = wash.draft;
    at_may_put(wash, "max_simultaneous", (double)draw_pick(draft, 1, 3));
    at_may_put(wash, "min_between_starts", draw_one_in(draft, 2) ? 0.0 : draw_round(draft, minute, 6.0 * hour, minute));
    at_choose(wash, "who_first");
    at_may_put_hours(wash, "window", 4);
    if (draw_one_in(draft, 3))
        at_put(wash, "min_filters_in_service", (double)draw_pick(draft, 0, draft->filters - 1));
    if (draw_one_in(draft, 3))
        at_put(wash, "storage_lockout", draw_round(draft, 0.0, 0.7, 0.05));
    at_may_put(wash, "blowers", (double)draw_pick(draft, 1, 2));
    at_choose(wash, "when_plant_stopped");
    at_choose(wash, "on_interrupt");
    at_may_put_hours(wash, "attended", 3);
}

void draw_washes(struct at root)
{
    const struct at wash = at_block(root, "wash");
    struct steps steps = {0};
    draw_triggers(wash);
    draw_steps(wash, &steps);
    take_needs(root.draft, &steps);
    draw_rules(wash);
}
