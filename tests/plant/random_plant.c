/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/plant/random_plant.h"

#include "tests/plant/draw.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* How a run is told, and its time. */
static void draw_head(struct at root, uint64_t seed)
{
    struct draft *draft = root.draft;
    char title[64];
    cJSON_AddNumberToObject(root.json, "format", 1);
    if (!draw_one_in(draft, 4))
        at_put_text(root, "note", "An invented plant, drawn at random; no real place.");
    snprintf(title, sizeof title, "Plant drawn from seed %llu", (unsigned long long)seed);
    if (!draw_one_in(draft, 4))
        at_put_text(root, "title", title);
    if (draw_one_in(draft, 4))
        at_put_text(root, "question", "Does it keep the rules?");
    draft->start = at_left_out(root, "start");
    if (!draw_one_in(draft, 4))
        draft->start = at_put(root, "start", draft->start + draw_round(draft, 0.0, 365.0 * day, hour));
    draft->horizon = at_left_out(root, "horizon");
    if (!draw_one_in(draft, 12))
        draft->horizon = at_put(root, "horizon", draw_round(draft, 5.0 * day, 20.0 * day, hour));
    at_may_put(root, "seed", (double)draw_pick(draft, 0, 1000));
    at_choose(root, "units");
    at_choose(root, "flow_split");
}

static void draw_outage(struct at root)
{
    struct draft *draft = root.draft;
    const struct at outage = at_item(root, "outages");
    const char *units[DRAFT_FILTERS + DRAFT_WELLS + DRAFT_TANKS + 3];
    size_t count = 0;
    /* As often a filter as anything else. */
    const bool others = draw_one_in(draft, 2);
    for (size_t i = 0; i < draft->filters && !others; i++)
        units[count++] = draft->names[i];
    for (size_t i = 0; i < draft->well_count && others; i++)
        units[count++] = draft->wells[i];
    for (size_t i = 0; i < draft->tank_count && others; i++)
        units[count++] = draft->tanks[i];
    if (others)
        units[count++] = "wash pump";
    if (others && draft->air)
        units[count++] = "blower";
    if (others && draft->recycles)
        units[count++] = "recycle pump";
    at_put_text(outage, "unit", units[draw_pick(draft, 0, count - 1)]);
    const double from = draw_one_in(draft, 3) ? 0.0 : draw_round(draft, -day, draft->horizon, 10.0 * minute);
    at_put(outage, "from", from);
    if (!draw_one_in(draft, 4))
        at_put(outage, "until", from + draw_round(draft, 10.0 * minute, 4.0 * day, 10.0 * minute));
}

void draw_outages(struct at root)
{
    const size_t count = draw_one_in(root.draft, 2) ? 0 : draw_pick(root.draft, 1, 4);
    for (size_t i = 0; i < count; i++)
        draw_outage(root);
}

static void draw_fails_if(struct at root)
{
    const size_t count = draw_one_in(root.draft, 2) ? 0 : draw_pick(root.draft, 1, 3);
    for (size_t i = 0; i < count; i++)
        at_choose(at_item(root, "fails_if"), "finding");
}

char *random_plant_text(uint64_t seed)
{
    struct draft draft = {.rng = {.type = wr_rng_philox}};
    draft.rng.state = &draft.philox;
    wr_philox_open(&draft.rng, (struct wr_stream){.seed = seed});
    draft.writing = (int)draw_pick(&draft, 0, DRAFT_WRITINGS - 1);
    const struct at root = {&draft, cJSON_CreateObject(), &wr_block_scenario};
    draw_head(root, seed);
    draw_filters(root);
    draw_washes(root);
    draw_supply(root);
    draw_wash_water(root);
    draw_spent_wash(root);
    draw_outages(root);
    draw_fails_if(root);
    char *text = cJSON_Print(root.json);
    cJSON_Delete(root.json);
    return text;
}

bool random_plant_read(struct wr_reading *reading, uint64_t seed)
{
    char name[40];
    char *text = random_plant_text(seed);
    snprintf(name, sizeof name, "seed %llu", (unsigned long long)seed);
    wr_reading_text(reading, name, text, strlen(text), NULL, 0);
    free(text);
    return reading->good;
}
