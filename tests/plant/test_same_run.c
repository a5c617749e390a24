/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The same plant runs the same way: twice over, cut into pieces, and carried on from a copy of its bytes. */
#include "tests/plant/scene.h"
#include "tests/support/check.h"
#include "tests/support/plant_case.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A simulation with all that it told. */
struct piecewise {
    struct wr_plant plant;
    struct wr_simulation simulation;
    struct plant_told told;
};

static void begin(struct piecewise *p, const struct wr_definition *definition)
{
    *p = (struct piecewise){0};
    check_count(wr_plant_init(&p->plant, definition), WR_OK, "status of the plant's models");
    const struct wr_observer observer = plant_told_observer(&p->told);
    check_true(wr_simulation_init(&p->simulation, &p->plant, &observer), "memory for the state");
}

static void run_to(struct piecewise *p, double until)
{
    check_count(wr_simulation_run(&p->simulation, until), WR_ENGINE_OK, "status of the engine");
}

static void end(struct piecewise *p)
{
    wr_simulation_end(&p->simulation);
}

static void fini(struct piecewise *p)
{
    wr_simulation_fini(&p->simulation);
    wr_plant_fini(&p->plant);
    plant_told_fini(&p->told);
}

/* Events are compared member by member, since their bytes have padding; times as numbers, which must be equal. */
static bool is_same_event(const struct wr_event *a, const struct wr_event *b)
{
    return a->kind == b->kind && a->time == b->time && a->where == b->where && a->limit == b->limit &&
           a->from == b->from;
}

static void check_same(const struct piecewise *a, const struct piecewise *b)
{
    check_count(a->told.event_count, b->told.event_count, "events told");
    for (size_t i = 0; i < a->told.event_count; i++)
        if (!is_same_event(&a->told.events[i], &b->told.events[i]))
            fail_msg("event %zu differs: kind %d at %.17g s and kind %d at %.17g s", i, (int)a->told.events[i].kind,
                     a->told.events[i].time, (int)b->told.events[i].kind, b->told.events[i].time);
    check_count(a->plant.layout.size, b->plant.layout.size, "bytes of the state");
    check_count(memcmp(a->simulation.state, b->simulation.state, a->plant.layout.size), 0,
                "difference of the states' bytes");
}

/* Runs whole, runs whole again, and runs in pieces; all are one run. */
static void check_definition(const struct wr_definition *definition)
{
    const double horizon = definition->horizon;
    struct piecewise whole, again, cut;
    begin(&whole, definition);
    run_to(&whole, horizon);
    end(&whole);
    check_true(whole.told.event_count > 0, "something happened");

    begin(&again, definition);
    run_to(&again, horizon);
    end(&again);
    check_same(&whole, &again);

    /* Cuts at round times, at times of events and just beside them. */
    begin(&cut, definition);
    run_to(&cut, horizon * 0.1);
    for (size_t i = 0; i < whole.told.event_count; i += 1 + whole.told.event_count / 40) {
        const double time = whole.told.events[i].time;
        if (time >= horizon)
            continue;
        run_to(&cut, nextafter(time, 0));
        run_to(&cut, time);
        run_to(&cut, nextafter(time, horizon));
    }
    run_to(&cut, horizon / 2);
    run_to(&cut, horizon);
    end(&cut);
    check_same(&whole, &cut);
    fini(&whole);
    fini(&again);
    fini(&cut);
}

static void scenarios_run_the_same(void **state)
{
    (void)state;
    struct plant_files files;
    plant_files_find(&files);
    for (size_t i = 0; i < files.count; i++) {
        struct plant_case c;
        plant_case_read(&c, files.paths[i], NULL);
        check_definition(&c.reading.definition);
        plant_case_fini(&c);
    }
    plant_files_fini(&files);
}

static void random_plants_run_the_same(void **state)
{
    (void)state;
    static struct scene scene;
    for (uint64_t seed = 1; seed <= 150; seed++) {
        scene_random(&scene, seed);
        check_definition(&scene.definition);
    }
}

/* Saving is writing the block: a run goes on from a copy of its bytes as if nothing had been. */
static void a_copy_of_the_bytes_runs_on(void **state)
{
    (void)state;
    struct plant_case c;
    plant_case_read(&c, WR_ROOT "/scenarios/pressure-four.json", NULL);
    struct piecewise whole, saved, loaded;
    begin(&whole, &c.reading.definition);
    run_to(&whole, c.reading.definition.horizon);
    begin(&saved, &c.reading.definition);
    run_to(&saved, c.reading.definition.horizon / 3);
    begin(&loaded, &c.reading.definition);
    memcpy(loaded.simulation.state, saved.simulation.state, saved.plant.layout.size);
    plant_told_fini(&loaded.told);
    run_to(&loaded, c.reading.definition.horizon);
    check_count(saved.told.event_count + loaded.told.event_count, whole.told.event_count, "events before and after");
    check_count(memcmp(loaded.simulation.state, whole.simulation.state, whole.plant.layout.size), 0,
                "difference of the states' bytes");
    fini(&whole);
    fini(&saved);
    fini(&loaded);
    plant_case_fini(&c);
}

/* What a run tells does not depend on who listens. */
static void listening_changes_nothing(void **state)
{
    (void)state;
    struct plant_case quiet, lists;
    plant_case_read(&quiet, WR_ROOT "/scenarios/pressure-three.json", NULL);
    plant_case_read(&lists, WR_ROOT "/scenarios/pressure-three.json", NULL);
    wr_run_make(&quiet.run, &quiet.reading.definition, &(struct wr_run_options){0});
    quiet.has_run = true;
    plant_case_run_with(&lists, (struct wr_run_options){.keeps_lists = true});
    check_count(memcmp(quiet.run.simulation.state, lists.run.simulation.state, quiet.run.plant.layout.size), 0,
                "difference of the states' bytes");
    check_count(quiet.run.record.balance.washes, lists.run.record.wash_count, "washes");
    plant_case_fini(&quiet);
    plant_case_fini(&lists);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(scenarios_run_the_same),
        cmocka_unit_test(random_plants_run_the_same),
        cmocka_unit_test(a_copy_of_the_bytes_runs_on),
        cmocka_unit_test(listening_changes_nothing),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
