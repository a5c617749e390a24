/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Picture of beds in their wash, over temperature. */

#include "sim/report/picture.h"
#include "sim/report/say.h"

#include <stdio.h>
#include <stdlib.h>

/* Groups of filters that there is room for. */
enum { GROUPS_SHOWN = 3 };

static double shown_rate(double rate, enum wr_units units)
{
    return wr_is_given(rate) ? wr_quantity_shown(WR_QUANTITY_RATE, rate, units) : WR_ABSENT;
}

static double shown_warmth(double temperature, enum wr_units units)
{
    return wr_quantity_shown(WR_QUANTITY_TEMPERATURE, temperature, units);
}

/* A row: temperature, the rate that lifts the bed, rates for the wanted expansion, expansions in percent. */
static void put_point(struct wr_page *page, const struct wr_bed_point *point, enum wr_units units)
{
    wr_picture_value(page, shown_warmth(point->temperature, units));
    wr_picture_value(page, shown_rate(point->fluidising_rate, units));
    for (int law = 0; law < WR_BED_LAWS; law++)
        wr_picture_value(page, shown_rate(point->wanted_rate[law], units));
    for (int law = 0; law < WR_BED_LAWS; law++)
        wr_picture_value(page, 100 * point->expansion[law]);
    wr_page_add(page, "\n");
}

/* Two blank lines part blocks. */
static void put_points(struct wr_page *page, const struct wr_wash_bed *bed, enum wr_units units)
{
    for (size_t p = 0; p < WR_BED_POINTS; p++)
        put_point(page, &bed->points[p], units);
    wr_page_add(page, "\n\n");
}

static void name_group(struct wr_page *page, const struct wr_wash_beds *beds, size_t group, size_t place)
{
    char variable[40];
    struct wr_page name = {0};
    wr_report_group(&name, &beds->plant, group);
    char *words = wr_page_take(&name);
    snprintf(variable, sizeof variable, "wr_group[%zu]", place);
    wr_picture_text(page, variable, words);
    free(words);
}

void wr_picture_put_bed(struct wr_page *page, const struct wr_drawn *drawn, size_t count)
{
    (void)count;
    const struct wr_wash_beds *beds = drawn->beds;
    size_t place = 0, shown[GROUPS_SHOWN];
    wr_page_add(page, "array wr_group[%d]\n", GROUPS_SHOWN);
    for (size_t i = 0; i < beds->count && place < GROUPS_SHOWN; i++)
        if (beds->beds[i].is_answered)
            shown[place++] = i;
    for (size_t p = 0; p < place; p++)
        name_group(page, beds, shown[p], p + 1);
    wr_page_add(page, "wr_groups = %zu\n$bed << EOD\n", place);
    for (size_t p = 0; p < place; p++)
        put_points(page, &beds->beds[shown[p]], drawn->units);
    wr_page_add(page, "EOD\n");
    wr_picture_number(page, "wr_wanted", 100 * beds->wanted);
    wr_picture_number(page, "wr_rate", shown_rate(beds->rate, drawn->units));
    wr_picture_number(page, "wr_coldest", shown_warmth(beds->least_temperature, drawn->units));
    wr_picture_number(page, "wr_warmest", shown_warmth(beds->most_temperature, drawn->units));
    wr_picture_text(page, "wr_rate_text", wr_say(WR_QUANTITY_RATE, beds->rate, drawn->units).text);
    wr_picture_text(page, "wr_rate_unit", wr_quantity_unit(WR_QUANTITY_RATE, drawn->units));
    wr_picture_text(page, "wr_warmth_unit", wr_quantity_unit(WR_QUANTITY_TEMPERATURE, drawn->units));
}
