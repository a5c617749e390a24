/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rules of those who name units: outages, the rota, and how many filters must stay in service. */
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/nearest.h"
#include "sim/scenario/rules.h"

/* Names of filters, wells and tanks that a complaint lists. */
enum { NAMES_SHOWN = 12 };

/* What may be named: all units with a name, then the words for those without. */
struct known {
    struct wr_names names;
    size_t words; /* how many at the end are words */
};

static void add_name(struct known *known, const char *name)
{
    known->names.items[known->names.count++] = (char *)name;
}

static void add_word(struct known *known, const char *word)
{
    add_name(known, word);
    known->words++;
}

/* True when an outlet sends water back, or may do so as far as could be read. */
static bool may_recycle(const struct wr_reader *reader)
{
    const struct wr_outlets *outlets = &reader->reading->definition.spent_wash.outlets;

    for (size_t i = 0; i < outlets->count; i++) {
        if (outlets->items[i].kind < 0 || outlets->items[i].kind == WR_OUTLET_RECYCLE)
            return true;
    }
    return !wr_rule_is_read(reader, "/spent_wash/outlets", outlets->count);
}

/* True when a wash scours with air, or may do so as far as could be read. */
static bool may_have_air(const struct wr_reader *reader)
{
    const struct wr_wash *wash = &reader->reading->definition.wash;

    return !cJSON_IsObject(wr_tree_find(reader->reading->tree, "/wash")) || wash->sequence < 0 ||
           (wr_rule_drains(wash) && !(wash->air_time <= 0.0));
}

/* The plant's units. The names are borrowed, the list is the caller's to free. */
static struct known all_units(const struct wr_reader *reader, const struct wr_names *filters)
{
    const struct wr_definition *definition = &reader->reading->definition;
    const struct wr_wells *wells = &definition->wells;
    const struct wr_spent_tanks *tanks = &definition->spent_wash.tanks;
    struct known known = {.words = 0};

    known.names.items = wr_items_new(filters->count + wells->count + tanks->count + 3, sizeof(char *));
    for (size_t i = 0; i < filters->count; i++)
        add_name(&known, filters->items[i]);
    for (size_t i = 0; i < wells->count; i++)
        add_name(&known, wells->items[i].name);
    for (size_t i = 0; i < tanks->count; i++)
        add_name(&known, tanks->items[i].name);
    add_word(&known, "wash pump");
    if (may_have_air(reader))
        add_word(&known, "blower");
    if (may_recycle(reader))
        add_word(&known, "recycle pump");
    return known;
}

static void add_known(const struct known *known, struct wr_text *text)
{
    size_t named = known->names.count - known->words;

    for (size_t i = 0; i < known->names.count; i++) {
        if (i < NAMES_SHOWN || i >= named)
            wr_text_add(text, "%s\"%s\"", i == 0 ? "" : ", ", known->names.items[i]);
        else if (i == NAMES_SHOWN)
            wr_text_add(text, " and so on");
    }
}

/* Complains unless `name` is among those known, and suggests the nearest. */
static void check_name(struct wr_reader *reader, const struct known *known, const char *name, const char *pointer,
                       const char *what)
{
    struct wr_text text = {0};

    for (size_t i = 0; i < known->names.count; i++) {
        if (strcmp(name, known->names.items[i]) == 0)
            return;
    }
    add_known(known, &text);
    const char *nearest = wr_word_nearest(name, known->names.items, known->names.count);
    if (nearest != NULL)
        wr_text_add(&text, "; did you mean \"%s\"?", nearest);
    char *allowed = wr_text_take(&text);
    wr_complain_at(reader, pointer, "found \"%s\", which is %s; allowed: %s", name, what, allowed);
    free(allowed);
}

/* True when no name stands at a pointer but the one that was read. */
static bool is_name_read(const struct wr_reader *reader, const char *list, size_t item, const char *name)
{
    char pointer[WR_RULE_POINTER];
    const cJSON *written = wr_tree_find(reader->reading->tree, wr_rule_pointer(pointer, list, item, "/name"));

    return written == NULL || (cJSON_IsString(written) && strcmp(written->valuestring, name) == 0);
}

/* True when all units are known: whoever names one that could not be read is not wrong. */
static bool are_readable(const struct wr_reader *reader)
{
    const struct wr_wells *wells = &reader->reading->definition.wells;
    const struct wr_spent_tanks *tanks = &reader->reading->definition.spent_wash.tanks;
    const cJSON *spent = wr_tree_find(reader->reading->tree, "/spent_wash");
    bool readable = wells->count > 0 && wr_rule_is_read(reader, "/wells", wells->count) &&
                    (spent == NULL || cJSON_IsObject(spent)) &&
                    wr_rule_is_read(reader, "/spent_wash/tanks", tanks->count);

    for (size_t i = 0; i < wells->count; i++)
        readable = readable && is_name_read(reader, "wells", i, wells->items[i].name);
    for (size_t i = 0; i < tanks->count; i++)
        readable = readable && is_name_read(reader, "spent_wash/tanks", i, tanks->items[i].name);
    return readable;
}

static void check_outages(struct wr_reader *reader, const struct wr_names *filters)
{
    const struct wr_outages *outages = &reader->reading->definition.outages;
    struct known units = all_units(reader, filters);
    char pointer[WR_RULE_POINTER];

    for (size_t i = 0; i < outages->count; i++) {
        if (outages->items[i].unit != NULL)
            check_name(reader, &units, outages->items[i].unit, wr_rule_pointer(pointer, "outages", i, "/unit"),
                       "no unit of this plant");
    }
    free(units.names.items);
}

static void check_rota(struct wr_reader *reader, const struct wr_names *filters)
{
    const struct wr_rota *rota = &reader->reading->definition.wash.rota;
    const struct known known = {.names = *filters};
    char pointer[WR_RULE_POINTER];

    for (size_t i = 0; i < rota->count; i++) {
        if (rota->items[i].filter != NULL)
            check_name(reader, &known, rota->items[i].filter, wr_rule_pointer(pointer, "wash/rota", i, "/filter"),
                       "no filter");
    }
}

void wr_rules_check_units(struct wr_reader *reader, const struct wr_names *filters)
{
    size_t least = reader->reading->definition.wash.min_filters_in_service;

    if (are_readable(reader))
        check_outages(reader, filters);
    check_rota(reader, filters);
    if (least >= filters->count)
        wr_complain_at(reader, "/wash/min_filters_in_service",
                       "found %zu; allowed: less than the number of filters, %zu, or no wash ever starts", least,
                       filters->count);
}
