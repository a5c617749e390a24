/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/support/plant_case.h"

#include "tests/support/check.h"

#include <stdlib.h>
#include <string.h>

/* What is told ---------------------------------------------------------------------------------------------------- */

/* Room for one more item. */
static void *grow(void *items, size_t count, size_t *room, size_t size)
{
    if (count < *room)
        return items;
    *room = *room == 0 ? 1024 : 2 * *room;
    items = realloc(items, *room * size);
    if (items == NULL)
        abort();
    return items;
}

static void add_event(void *context, const struct wr_simulation *simulation, const struct wr_event *event)
{
    struct plant_told *told = context;
    (void)simulation;
    told->events = grow(told->events, told->event_count, &told->event_room, sizeof *told->events);
    told->events[told->event_count++] = *event;
}

static void add_sample(void *context, const struct wr_simulation *simulation)
{
    struct plant_told *told = context;
    const struct wr_state *state = simulation->state;
    struct plant_sample sample = {.time = state->clock.now,
                                  .flows = state->flows,
                                  .storage = state->storage.level,
                                  .wash_level = state->wash_tank.level,
                                  .wash_free = state->wash_tank.free};
    for (size_t t = 0; t < simulation->plant->tank_count && t < PLANT_SAMPLE_TANKS; t++) {
        const struct wr_tank *tank = &wr_state_tanks(simulation->plant, state)[t];
        sample.tanks[t].mode = tank->mode;
        sample.tanks[t].level = tank->level;
        sample.tanks[t].free = tank->free;
    }
    told->samples = grow(told->samples, told->sample_count, &told->sample_room, sizeof *told->samples);
    told->samples[told->sample_count++] = sample;
}

struct wr_observer plant_told_observer(struct plant_told *told)
{
    return (struct wr_observer){.context = told, .event = add_event, .instant = add_sample};
}

void plant_told_fini(struct plant_told *told)
{
    free(told->events);
    free(told->samples);
    *told = (struct plant_told){0};
}

/* Cases ----------------------------------------------------------------------------------------------------------- */

static size_t count_settings(const char *const *settings)
{
    size_t count = 0;
    while (settings != NULL && settings[count] != NULL)
        count++;
    return count;
}

void plant_files_find(struct plant_files *files)
{
    *files = (struct plant_files){.count = 0};
    check_count(glob(WR_ROOT "/scenarios/*.json", 0, NULL, &files->found), 0, "looking for scenarios");
    for (size_t i = 0; i < files->found.gl_pathc; i++) {
        const char *path = files->found.gl_pathv[i];
        check_true(files->count < sizeof files->paths / sizeof files->paths[0], "room for every scenario");
        if (strstr(path, ".schema.json") == NULL)
            files->paths[files->count++] = path;
    }
    check_true(files->count > 0, "there are scenarios");
}

void plant_files_fini(struct plant_files *files)
{
    globfree(&files->found);
}

void plant_case_read(struct plant_case *c, const char *path, const char *const *settings)
{
    *c = (struct plant_case){0};
    wr_reading_file(&c->reading, path, settings, count_settings(settings));
    if (c->reading.good)
        return;
    char *complaints = wr_reading_complaints_text(&c->reading);
    print_error("%s", complaints);
    free(complaints);
    fail_msg("the scenario %s is not good", path);
}

/* A run tells of no instant before something happens. */
static void add_first_sample(struct plant_case *c)
{
    struct wr_plant plant;
    struct wr_simulation simulation;
    if (wr_plant_init(&plant, &c->reading.definition) != WR_OK)
        return;
    if (wr_simulation_init(&simulation, &plant, NULL))
        add_sample(&c->told, &simulation);
    wr_simulation_fini(&simulation);
    wr_plant_fini(&plant);
}

void plant_case_run_with(struct plant_case *c, struct wr_run_options options)
{
    add_first_sample(c);
    options.also = plant_told_observer(&c->told);
    wr_run_make(&c->run, &c->reading.definition, &options);
    c->has_run = true;
}

void plant_case_run(struct plant_case *c, const char *path, const char *const *settings)
{
    plant_case_read(c, path, settings);
    plant_case_run_with(c, (struct wr_run_options){.keeps_lists = true});
    if (c->run.end != WR_RUN_WHOLE)
        fail_msg("the run of %s did not end whole: %s", path, c->run.message);
    for (size_t i = 0; i < c->run.record.span_count; i++)
        if (!(c->run.record.spans[i].to > c->run.record.spans[i].from))
            fail_msg("a span at %g s has no length", c->run.record.spans[i].from);
}

void plant_case_fini(struct plant_case *c)
{
    if (c->has_run)
        wr_run_fini(&c->run);
    plant_told_fini(&c->told);
    wr_reading_fini(&c->reading);
}

/* What happened --------------------------------------------------------------------------------------------------- */

const struct plant_sample *plant_case_at(const struct plant_case *c, double time)
{
    size_t low = 0, high = c->told.sample_count;
    while (high - low > 1) {
        const size_t middle = (low + high) / 2;
        if (c->told.samples[middle].time <= time)
            low = middle;
        else
            high = middle;
    }
    if (high == 0 || c->told.samples[low].time > time)
        fail_msg("nothing was told up to %g s", time);
    return &c->told.samples[low];
}

double plant_case_time(const struct plant_case *c, enum wr_event_kind kind, size_t where, size_t nth)
{
    for (size_t i = 0; i < c->told.event_count; i++) {
        const struct wr_event *event = &c->told.events[i];
        if (event->kind == kind && event->where == where && nth-- == 0)
            return event->time;
    }
    return WR_NEVER;
}

size_t plant_case_count(const struct plant_case *c, enum wr_event_kind kind, size_t where)
{
    size_t count = 0;
    for (size_t i = 0; i < c->told.event_count; i++)
        count += c->told.events[i].kind == kind && c->told.events[i].where == where;
    return count;
}

const struct wr_wash_record *plant_case_wash(const struct plant_case *c, size_t filter, size_t nth)
{
    const size_t asked = nth;
    for (size_t i = 0; i < c->run.record.wash_count; i++)
        if (c->run.record.washes[i].filter == filter && nth-- == 0)
            return &c->run.record.washes[i];
    fail_msg("filter %zu has no wash number %zu", filter, asked);
    return NULL;
}

const struct wr_span *plant_case_span(const struct plant_case *c, enum wr_limit limit, size_t where, size_t nth)
{
    for (size_t i = 0; i < c->run.record.span_count; i++) {
        const struct wr_span *span = &c->run.record.spans[i];
        if (span->limit == limit && span->where == where && nth-- == 0)
            return span;
    }
    return NULL;
}

double plant_case_held(const struct plant_case *c, enum wr_limit limit)
{
    double length = 0;
    for (size_t i = 0; i < c->run.record.span_count; i++)
        if (c->run.record.spans[i].limit == limit)
            length += c->run.record.spans[i].to - c->run.record.spans[i].from;
    return length;
}

const struct wr_finding *plant_case_finding(const struct plant_case *c, enum wr_finding_kind kind)
{
    const struct wr_finding *finding = NULL;
    while ((finding = wr_record_finding(&c->run.record, finding)) != NULL)
        if (finding->kind == kind)
            return finding;
    return NULL;
}

double plant_case_water(const struct plant_case *c, enum wr_line kind)
{
    double water = 0;
    for (size_t tank = 0; tank < (kind < WR_LINE_TANK ? 1 : c->run.plant.tank_count + WR_BEYOND_TANKS); tank++)
        water += wr_ledger_line(&c->run.plant, c->run.simulation.state, kind, tank)->water;
    return water;
}

const struct wr_state *plant_case_state(const struct plant_case *c)
{
    return c->run.simulation.state;
}

const struct wr_filter *plant_case_filter(const struct plant_case *c, size_t filter)
{
    return &wr_state_filters(&c->run.plant, c->run.simulation.state)[filter];
}
