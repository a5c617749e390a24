/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/plant/properties.h"

#include "tests/plant/random_plant.h"

#include <stdio.h>
#include <stdlib.h>

/* Instants in a day that no plant of this size comes near unless a switch goes back and forth: a regression, the most
 * among 100,000 plants being less than half of it. Small tanks that are filled and drawn from at once have most. */
static const double MOST_BEATS_A_DAY = 30000.0;

static void add_spent(struct watch_seen *all, const struct watch_seen *seen)
{
    all->bound_blends += seen->bound_blends;
    all->emergencies += seen->emergencies;
    all->dumps += seen->dumps;
    all->turns += seen->turns;
    all->late += seen->late;
    all->zones += seen->zones;
    all->lifts += seen->lifts;
}

static void add_up(struct property_totals *totals, const struct watch *watch, const struct wr_state *state)
{
    totals->plants++;
    totals->beats += state->clock.beats;
    totals->washes += watch->starts;
    totals->waited += watch->waited > 0.0;
    totals->locked += state->locked;
    totals->overflowed += wr_ledger_line(watch->plant, state, WR_LINE_OVERFLOW, 0)->water > 0.0;
    totals->over_rate += watch->highest_rate > 1.0 + 1e-6;
    add_spent(&totals->spent, &watch->seen);
}

static void run(const struct wr_plant *plant, struct watch *watch, struct property_totals *totals)
{
    struct wr_simulation simulation;
    const double horizon = plant->definition->horizon;
    watch_init(watch, plant);
    const struct wr_observer observer = watch_observer(watch);
    if (!wr_simulation_init(&simulation, plant, &observer)) {
        snprintf(watch->breach, sizeof watch->breach, "out of memory");
        return;
    }
    watch_open(watch, &simulation);
    const enum wr_engine_status status = wr_simulation_run(&simulation, horizon);
    if (status != WR_ENGINE_OK)
        wr_simulation_explain(&simulation, status, watch->breach, sizeof watch->breach);
    else {
        wr_simulation_end(&simulation);
        watch_close(watch, &simulation);
    }
    if (plant->tank_count > 0)
        watch_answer(watch, plant->definition);
    const double beats_a_day = (double)simulation.state->clock.beats / horizon * 86400.0;
    if (beats_a_day > MOST_BEATS_A_DAY && watch->breach[0] == '\0')
        snprintf(watch->breach, sizeof watch->breach, "%.0f instants a day", beats_a_day);
    add_up(totals, watch, simulation.state);
    wr_simulation_fini(&simulation);
}

static void build_and_run(const struct wr_definition *definition, struct watch *watch, struct property_totals *totals)
{
    struct wr_plant plant;
    const enum wr_status status = wr_plant_init(&plant, definition);
    if (status != WR_OK) {
        snprintf(watch->breach, sizeof watch->breach, "%s", wr_status_text(status));
        return;
    }
    run(&plant, watch, totals);
    wr_plant_fini(&plant);
}

bool properties_hold(unsigned long long seed, struct property_totals *totals, char *breach, size_t size)
{
    struct wr_reading reading;
    struct watch watch = {.breach = ""};
    if (random_plant_read(&reading, seed))
        build_and_run(&reading.definition, &watch, totals);
    else {
        char *complaints = wr_reading_complaints_text(&reading);
        snprintf(watch.breach, sizeof watch.breach, "%s", complaints);
        free(complaints);
    }
    wr_reading_fini(&reading);
    snprintf(breach, size, "%s", watch.breach);
    return watch.breach[0] == '\0';
}

void property_totals_print(const struct property_totals *totals)
{
    printf("%llu plants: %llu instants, %llu washes; plants with waits %llu, locked %llu, with overflow %llu, over the "
           "approved rate %llu\n",
           totals->plants, totals->beats, totals->washes, totals->waited, totals->locked, totals->overflowed,
           totals->over_rate);
    const struct watch_seen *spent = &totals->spent;
    printf(
        "Spent wash: %zu instants with a blend at its bound, %zu with an emergency outlet; %zu tanks drawn off as they "
        "were, %zu settled: %zu held by clarity, %zu in zones, %zu that took sludge\n",
        spent->bound_blends, spent->emergencies, spent->dumps, spent->turns, spent->late, spent->zones, spent->lifts);
}
