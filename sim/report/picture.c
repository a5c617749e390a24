/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/picture.h"

#include "sim/report/number.h"
#include "sim/report/say.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double DAY = 86400;

/* The table ------------------------------------------------------------------------------------------------------- */

static bool has_tanks(const struct wr_drawn *drawn)
{
    return drawn->run->plant.tank_count > 0 || drawn->definition->wash_water.source == WR_WATER_FROM_TANK;
}

static bool has_recycle(const struct wr_drawn *drawn)
{
    return drawn->run->plant.has_recycle;
}

/* Capacities are shown as shares of the nameplate, which a plant of one filter has none of. */
static bool has_nameplate(const struct wr_drawn *drawn)
{
    return drawn->firm->nameplate > 0;
}

static bool has_map(const struct wr_drawn *drawn)
{
    return drawn->margins->has_map && drawn->margins->map.columns > 0;
}

static bool has_points(const struct wr_drawn *drawn)
{
    return wr_picture_of_sweep(drawn->sweep);
}

static const struct wr_picture_row rows[] = {
    {.name = "filters",
     .meaning = "what each filter was doing, waits drawn as waits",
     .of = "run",
     .put = wr_picture_put_filters},
    {.name = "differential",
     .meaning = "differential of each filter, its trigger and available head",
     .of = "run",
     .put = wr_picture_put_differential},
    {.name = "storage",
     .meaning = "storage and its reserve, demand and raw water",
     .of = "run",
     .put = wr_picture_put_storage},
    {.name = "tanks",
     .meaning = "wash-water tank and spent-wash tanks",
     .of = "run",
     .applies = has_tanks,
     .put = wr_picture_put_tanks},
    {.name = "recycle",
     .meaning = "recycle against its limit, and what held it",
     .of = "run",
     .applies = has_recycle,
     .put = wr_picture_put_recycle},
    {.name = "ladder", .of = "firm", .meaning = "demands tried, and what failed each", .put = wr_picture_put_ladder},
    {.name = "capacities",
     .meaning = "firm capacities beside nameplate and maximum day, of one plant or of several",
     .of = "firm",
     .takes_several = true,
     .applies = has_nameplate,
     .put = wr_picture_put_capacities},
    {.name = "bed",
     .meaning = "over temperature what lifts the bed, what expands it as wanted, how far the wash does",
     .of = "bed",
     .put = wr_picture_put_bed},
    {.name = "map",
     .meaning = "with --map: which of two numbers together pass, and the boundary",
     .of = "margin",
     .with_folder = true,
     .applies = has_map,
     .put = wr_picture_put_map},
    {.name = "sweep",
     .meaning = "figures of the answers over the values of an axis",
     .of = "sweep",
     .with_folder = true,
     .applies = has_points,
     .put = wr_picture_put_sweep},
    {.name = "compare",
     .meaning = "firm capacities of plants side by side, and what limits each",
     .of = "compare",
     .with_folder = true,
     .put = wr_picture_put_compare},
};

enum { ROWS = sizeof rows / sizeof *rows };

const struct wr_picture_row *wr_picture_row(size_t place)
{
    return place < ROWS ? &rows[place] : NULL;
}

const struct wr_picture_row *wr_picture_named(const char *name)
{
    for (size_t i = 0; i < ROWS; i++)
        if (strcmp(rows[i].name, name) == 0)
            return &rows[i];
    return NULL;
}

bool wr_picture_is_file(const char *file)
{
    static const char *const kinds[] = {".png", ".svg"};
    for (size_t i = 0; i < ROWS; i++)
        for (size_t k = 0; k < sizeof kinds / sizeof *kinds; k++) {
            const size_t length = strlen(rows[i].name);
            if (strncmp(file, rows[i].name, length) == 0 && strcmp(file + length, kinds[k]) == 0)
                return true;
        }
    return false;
}

/* Words of gnuplot ------------------------------------------------------------------------------------------------ */

/* Adds text with control characters as blanks, and one kind of character as another text: what would end a quote. */
static void put_safely(struct wr_page *page, const char *text, char kind, const char *instead)
{
    for (; *text != '\0'; text++) {
        const unsigned char byte = (unsigned char)*text;
        if (*text == kind)
            wr_page_add(page, "%s", instead);
        else
            wr_page_add(page, "%c", byte < ' ' || byte == 0x7f ? ' ' : *text);
    }
}

void wr_picture_text(struct wr_page *page, const char *name, const char *text)
{
    wr_page_add(page, "%s = '", name);
    put_safely(page, text, '\'', "''");
    wr_page_add(page, "'\n");
}

void wr_picture_value(struct wr_page *page, double value)
{
    wr_page_add(page, "%s ", isfinite(value) ? wr_number_text(value).text : "NaN");
}

void wr_picture_number(struct wr_page *page, const char *name, double value)
{
    wr_page_add(page, "%s = ", name);
    wr_picture_value(page, value);
    wr_page_add(page, "\n");
}

/* In a block of data a backslash would be read with what follows it. */
void wr_picture_field(struct wr_page *page, const char *text)
{
    struct wr_page plain = {0};
    wr_page_add(page, "\"");
    put_safely(&plain, text, '\\', "/");
    char *bytes = wr_page_take(&plain);
    put_safely(page, bytes, '"', "'");
    free(bytes);
    wr_page_add(page, "\" ");
}

/* What every picture is told -------------------------------------------------------------------------------------- */

double wr_picture_day(const struct wr_definition *definition, double time)
{
    return 1 + (fmod(definition->start, DAY) + time) / DAY;
}

/* "day 3 to day 7" where both ends are midnights, else with the clock. */
static void put_stretch(struct wr_page *page, const struct wr_drawn *drawn)
{
    const double from = wr_picture_day(drawn->definition, drawn->series->from);
    const double until = wr_picture_day(drawn->definition, drawn->series->until);
    struct wr_page words = {0};
    if (from != floor(from) || until != floor(until))
        wr_page_add(&words, "%s to %s", wr_say_moment(drawn->definition->start, drawn->series->from).text,
                    wr_say_moment(drawn->definition->start, drawn->series->until).text);
    else if (until - from == 1)
        wr_page_add(&words, "day %.0f", from);
    else
        wr_page_add(&words, "days %.0f to %.0f", from, until - 1);
    char *text = wr_page_take(&words), date[32];
    wr_picture_text(page, "wr_stretch", text);
    free(text);
    wr_picture_number(page, "wr_from", from);
    wr_picture_number(page, "wr_until", until);
    wr_date_text(drawn->definition->start, date, sizeof date);
    date[strlen("2026-01-05")] = '\0';
    wr_picture_text(page, "wr_first_day", date);
}

void wr_picture_head(struct wr_page *page, const struct wr_drawn *drawn)
{
    const char *title = drawn->definition->title;
    wr_picture_text(page, "wr_plant", title != NULL ? title : "A plant without a title");
    wr_picture_text(page, "wr_caution",
                    "washrota " WR_VERSION ": a simulation, for planning and teaching; not a design. Verify on the "
                    "plant. Do not change setpoints on its word alone.");
    if (drawn->series != NULL)
        put_stretch(page, drawn);
}

/* The stretch that shows most ------------------------------------------------------------------------------------- */

/* The wash that waited longest, by resources if any did; NULL when none waited. */
static const struct wr_wash_record *worst_wait(const struct wr_record *record)
{
    const struct wr_wash_record *worst = NULL;
    for (size_t w = 0; w < record->wash_count; w++) {
        const struct wr_wash_record *wash = &record->washes[w];
        if (wash->start_up || wash->waited <= 0)
            continue;
        if (worst == NULL || wash->waited_for_resource > worst->waited_for_resource ||
            (wash->waited_for_resource == worst->waited_for_resource && wash->waited > worst->waited))
            worst = wash;
    }
    return worst;
}

void wr_picture_stretch(const struct wr_run *run, double *from, double *until)
{
    /* So many washes can be told apart; a day or two before the wait shows how it came about. */
    static const double washes_shown = 16, least_days = 3, most_days = 7, lead = 0.4;
    const struct wr_definition *definition = run->plant.definition;
    const double horizon = definition->horizon, into_day = fmod(definition->start, DAY);
    const double a_day = (double)run->record.wash_count / (horizon / DAY);
    const double days = fmin(most_days, fmax(least_days, round(washes_shown / fmax(a_day, 1e-9))));
    const struct wr_wash_record *worst = worst_wait(&run->record);
    const double called = worst != NULL ? worst->called_at : 0;
    const double first_day = floor((called + into_day) / DAY - lead * days);
    *from = fmax(0, fmin(first_day * DAY - into_day, horizon - days * DAY));
    *until = fmin(horizon, *from + days * DAY);
}
