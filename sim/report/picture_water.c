/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Pictures of water: storage and flows, tanks, recycle. */

#include "sim/report/picture.h"
#include "sim/report/say.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* A block of data: the day, then these columns of the series in units shown, each over a scale. */
struct column {
    size_t column;
    enum wr_quantity quantity;
    double per; /* what counts as 1; 1 where the figure itself is shown */
};

static void put_rows(struct wr_page *page, const struct wr_drawn *drawn, const struct column *columns, size_t count)
{
    const struct wr_series *series = drawn->series;
    wr_page_add(page, "$rows << EOD\n");
    for (size_t i = 0; i < series->count; i++) {
        const double *row = &series->rows[i * series->width];
        wr_picture_value(page, wr_picture_day(drawn->definition, row[WR_SERIES_TIME]));
        for (size_t c = 0; c < count; c++)
            wr_picture_value(
                page, wr_quantity_shown(columns[c].quantity, row[columns[c].column] / columns[c].per, drawn->units));
        wr_page_add(page, "\n");
    }
    wr_page_add(page, "EOD\n");
}

/* Storage --------------------------------------------------------------------------------------------------------- */

void wr_picture_put_storage(struct wr_page *page, const struct wr_drawn *drawn, size_t count)
{
    (void)count;
    const struct wr_storage *storage = &drawn->definition->storage;
    const struct column columns[] = {{WR_SERIES_STORAGE, WR_QUANTITY_SHARE, storage->volume},
                                     {WR_SERIES_DEMAND, WR_QUANTITY_FLOW, 1},
                                     {WR_SERIES_DELIVERED, WR_QUANTITY_FLOW, 1},
                                     {WR_SERIES_RAW, WR_QUANTITY_FLOW, 1}};
    wr_picture_text(page, "wr_unit", wr_quantity_unit(WR_QUANTITY_FLOW, drawn->units));
    wr_picture_text(page, "wr_volume", wr_say(WR_QUANTITY_VOLUME, storage->volume, drawn->units).text);
    wr_picture_number(page, "wr_reserve", 100 * storage->reserve);
    wr_picture_number(page, "wr_low_mark", 100 * storage->low_mark);
    size_t unmet = 0;
    for (size_t i = 0; i < drawn->series->count; i++) {
        const double *row = &drawn->series->rows[i * drawn->series->width];
        unmet += row[WR_SERIES_DELIVERED] < row[WR_SERIES_DEMAND] * (1 - 1e-9);
    }
    wr_page_add(page, "wr_unmet = %zu\n", unmet);
    put_rows(page, drawn, columns, sizeof columns / sizeof *columns);
}

/* Tanks ----------------------------------------------------------------------------------------------------------- */

/* Spent-wash tanks that a picture has room for. */
enum { MOST_TANKS = 6 };

/* Tanks of which more is known than that they settle for a time show what is in them. */
static bool has_layers(const struct wr_definition *definition)
{
    const struct wr_spent_wash *spent = &definition->spent_wash;
    return spent->tanks.count > 0 && (spent->has_blanket || spent->settling.law == WR_SETTLING_CLASSES ||
                                      spent->settling.law == WR_SETTLING_ZONE);
}

static void put_tank(struct wr_page *page, size_t place, const char *name, double volume, enum wr_units units)
{
    char variable[40];
    snprintf(variable, sizeof variable, "wr_tank[%zu]", place);
    wr_picture_text(page, variable, name);
    wr_page_add(page, "wr_volume[%zu] = ", place);
    wr_picture_value(page, wr_quantity_shown(WR_QUANTITY_VOLUME, volume, units));
    wr_page_add(page, "\n");
}

void wr_picture_put_tanks(struct wr_page *page, const struct wr_drawn *drawn, size_t count)
{
    (void)count;
    const struct wr_definition *definition = drawn->definition;
    const struct wr_spent_tanks *tanks = &definition->spent_wash.tanks;
    const bool has_wash_tank = definition->wash_water.source == WR_WATER_FROM_TANK;
    const size_t spent = tanks->count < MOST_TANKS ? tanks->count : MOST_TANKS, all = spent + has_wash_tank;
    struct column columns[3 * MOST_TANKS + 1];
    size_t place = 0;
    wr_page_add(page, "wr_wash_tanks = %d\nwr_tanks = %zu\nwr_tanks_all = %zu\n", has_wash_tank, all,
                tanks->count + has_wash_tank);
    wr_page_add(page, "array wr_tank[%zu]\narray wr_volume[%zu]\n", all, all);
    if (has_wash_tank) {
        columns[place++] = (struct column){WR_SERIES_WASH_TANK, WR_QUANTITY_VOLUME, 1};
        put_tank(page, place, "Wash water", definition->wash_water.tank.volume, drawn->units);
    }
    for (size_t t = 0; t < spent; t++) {
        columns[place++] = (struct column){wr_series_tank(t), WR_QUANTITY_VOLUME, 1};
        put_tank(page, place, tanks->items[t].name, tanks->items[t].volume, drawn->units);
    }
    for (size_t t = 0; t < spent && has_layers(definition); t++) {
        columns[place++] = (struct column){wr_series_blanket(drawn->series, t), WR_QUANTITY_VOLUME, 1};
        columns[place++] = (struct column){wr_series_clear(drawn->series, t), WR_QUANTITY_VOLUME, 1};
    }
    wr_page_add(page, "wr_layers = %d\n", has_layers(definition));
    wr_picture_text(page, "wr_unit", wr_quantity_unit(WR_QUANTITY_VOLUME, drawn->units));
    wr_picture_number(page, "wr_room",
                      wr_quantity_shown(WR_QUANTITY_VOLUME, drawn->run->plant.largest_room, drawn->units));
    put_rows(page, drawn, columns, place);
}

/* Recycle --------------------------------------------------------------------------------------------------------- */

/* True for a limit that held an outlet back in the stretch. */
static bool held_there(const struct wr_drawn *drawn, const struct wr_span *span, double *from, double *to)
{
    *from = fmax(span->from, drawn->series->from);
    *to = fmin(span->to, drawn->series->until);
    return wr_limit_row(span->limit)->holds == WR_HOLDS_OUTLET && *to > *from;
}

/* Rows for what held recycle: each limit that did, in the order of the table, with its bars. */
static void put_held(struct wr_page *page, const struct wr_drawn *drawn)
{
    const struct wr_record *record = &drawn->run->record;
    size_t rows_of[WR_LIMITS] = {0}, rows = 0;
    double from, to;
    for (int l = 0; l < WR_LIMITS; l++)
        for (size_t s = 0; s < record->span_count && rows_of[l] == 0; s++)
            if (record->spans[s].limit == (enum wr_limit)l && held_there(drawn, &record->spans[s], &from, &to))
                rows_of[l] = ++rows;
    wr_page_add(page, "wr_held = %zu\narray wr_limit[%zu]\n", rows, rows > 0 ? rows : 1);
    for (int l = 0; l < WR_LIMITS; l++)
        if (rows_of[l] > 0) {
            char variable[40];
            snprintf(variable, sizeof variable, "wr_limit[%zu]", rows_of[l]);
            wr_picture_text(page, variable, wr_limit_row((enum wr_limit)l)->words);
        }
    wr_page_add(page, "$held << EOD\n");
    for (size_t s = 0; s < record->span_count; s++)
        if (held_there(drawn, &record->spans[s], &from, &to)) {
            wr_picture_value(page, wr_picture_day(drawn->definition, from));
            wr_picture_value(page, wr_picture_day(drawn->definition, to));
            wr_page_add(page, "%zu\n", rows_of[record->spans[s].limit]);
        }
    wr_page_add(page, "EOD\n");
}

void wr_picture_put_recycle(struct wr_page *page, const struct wr_drawn *drawn, size_t count)
{
    (void)count;
    const struct wr_recycle *recycle = &drawn->definition->recycle;
    const struct column columns[] = {{WR_SERIES_RECYCLE, WR_QUANTITY_FLOW, 1},
                                     {WR_SERIES_RECYCLE_MOST, WR_QUANTITY_FLOW, 1},
                                     {WR_SERIES_BLEND, WR_QUANTITY_CONCENTRATION, 1},
                                     {WR_SERIES_EMERGENCY, WR_QUANTITY_FLOW, 1}};
    const double blend = recycle->max_blend_solids;
    wr_picture_text(page, "wr_unit", wr_quantity_unit(WR_QUANTITY_FLOW, drawn->units));
    wr_picture_number(page, "wr_pump", wr_quantity_shown(WR_QUANTITY_FLOW, recycle->pump, drawn->units));
    wr_picture_number(page, "wr_blend",
                      wr_is_given(blend) ? wr_quantity_shown(WR_QUANTITY_CONCENTRATION, blend, drawn->units) : blend);
    wr_picture_text(page, "wr_blend_unit", wr_quantity_unit(WR_QUANTITY_CONCENTRATION, drawn->units));
    wr_page_add(page, "wr_emergency = %d\n", drawn->run->plant.has_emergency);
    wr_picture_text(page, "wr_share", wr_say_share(recycle->max_fraction).text);
    put_held(page, drawn);
    put_rows(page, drawn, columns, sizeof columns / sizeof *columns);
}
