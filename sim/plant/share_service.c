/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/share_part.h"

#include "sim/plant/extreme.h"

#include <assert.h>

/* One taker of service flow: a pack, or a filter apart. */
struct taker {
    double area, limit; /* m2, 0 for one that has come to its limit; m/s */
    double *flow;       /* per taker's area for a pack, whole for a filter apart */
    bool is_pack;
};

/* Equal rates to all, less where a taker's limit is below: what it leaves goes to the others. */
static void fill_takers(struct taker *takers, size_t count, double flow)
{
    double area = 0;
    for (size_t i = 0; i < count; i++)
        area += takers[i].area;
    for (bool again = true; again && area > 0;) {
        again = false;
        const double rate = flow / area;
        for (size_t i = 0; i < count; i++) {
            struct taker *t = &takers[i];
            if (t->area <= 0 || wr_share_fits(rate, t->limit))
                continue;
            again = true;
            *t->flow = t->is_pack ? t->limit : t->limit * t->area;
            flow -= t->limit * t->area;
            area -= t->area;
            t->area = 0;
        }
        for (size_t i = 0; i < count && !again; i++)
            if (takers[i].area > 0)
                *takers[i].flow = takers[i].is_pack ? rate : rate * takers[i].area;
    }
}

/* The takers stand in the state's scratch space, one a pack and lone filter. */
void wr_share_service(const struct wr_plant *plant, struct wr_state *state, const struct wr_flows *flows)
{
    struct wr_pack *packs = wr_state_packs(plant, state);
    struct wr_filter *filters = wr_state_filters(plant, state);
    const uint32_t *lone = wr_state_lone(plant, state);
    const bool rises = wr_share_rises(plant);
    struct taker few[16];
    struct taker *takers = few;
    assert(sizeof(struct taker) <= WR_TAKER_BYTES);
    if (plant->group_count + state->lone > sizeof few / sizeof *few)
        takers = wr_state_at(state, plant->layout.takers);
    size_t count = 0;
    for (size_t g = 0; g < plant->group_count; g++) {
        packs[g].rate = 0;
        if (packs[g].members > 0)
            takers[count++] = (struct taker){.area = packs[g].members * plant->groups[g].area,
                                             .limit = rises ? WR_NEVER : plant->groups[g].approved_rate,
                                             .flow = &packs[g].rate,
                                             .is_pack = true};
    }
    for (uint32_t i = 0; i < state->lone; i++) {
        struct wr_filter *f = &filters[lone[i]];
        const struct wr_group *g = &plant->groups[plant->group_of[lone[i]]];
        if (f->mode == WR_MODE_SERVICE)
            takers[count++] =
                (struct taker){.area = g->area,
                               .limit = rises ? f->limit_rate : wr_lesser(f->limit_rate, g->approved_rate),
                               .flow = &f->flow};
    }
    fill_takers(takers, count, flows->service);
}
