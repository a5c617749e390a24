/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each key of the table wrong in every way: of the wrong kind, without its unit, of another unit, missing, twice, out
 * of range on either side, misspelt. All complaints are compared with tests/input/each_key.txt, whose every line was
 * read before it was kept. `input_each_key write` writes that text to standard output, `input_each_key cases` the
 * scenarios themselves, one a line, for tests/input/agreement.py. */
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>

#include "sim/scenario/parameter.h"
#include "sim/scenario/quantity.h"
#include "tests/input/edit.h"
#include "tests/support/check.h"

/* One key of tests/input/plant.json, the first that its row reads. */
struct spot {
    const struct wr_parameter *row;
    cJSON *block;
    char pointer[96];
};

struct all_keys {
    cJSON *tree;
    struct wr_text text;
    size_t rows;
    const struct wr_parameter *done[256];
    bool writes_cases;
};

/* True for what can be seen without knowing units or reading a clock, and so by a schema too. */
static bool is_structural(const struct wr_parameter *row, const char *what)
{
    static const char *const kinds[] = {"wrong kind",   "bare number", "not whole",
                                        "wrong length", "misspelt",    "missing"};

    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        if (strcmp(what, kinds[i]) == 0)
            return true;
    }
    /* What is left is out of range, of another unit, or twice. */
    return strcmp(what, "twice") != 0 && row->quantity == WR_QUANTITY_NONE && row->kind != WR_IS_CLOCK;
}

/* One line: whether the scenario is wrong in its structure, what is wrong, and the scenario. */
static void write_case(const struct all_keys *all, const struct spot *spot, const char *what)
{
    char *text = cJSON_PrintUnformatted(all->tree);

    printf("%s\t%s, %s\t%s\n", is_structural(spot->row, what) ? "structure" : "other", spot->pointer, what, text);
    free(text);
}

/* Adds the complaints about the tree as it is now. */
static void record(struct all_keys *all, const struct spot *spot, const char *what)
{
    char *text = cJSON_Print(all->tree);
    char *complaints = wr_edit_complaints(text, NULL, 0);

    if (all->writes_cases)
        write_case(all, spot, what);
    check_true(complaints[0] != '\0', spot->pointer);
    check_holds(complaints, spot->row->key, what);
    wr_text_add(&all->text, "%s, %s\n", spot->pointer, what);
    for (char *line = strtok(complaints, "\n"); line != NULL; line = strtok(NULL, "\n"))
        wr_text_add(&all->text, "    %s\n", line);
    free(complaints);
    free(text);
}

static const char *key_of(const struct spot *spot)
{
    return spot->row->key;
}

/* Records the complaints with the value replaced, and puts the old one back. */
static void record_value(struct all_keys *all, const struct spot *spot, const char *what, cJSON *value)
{
    cJSON *old = cJSON_Duplicate(cJSON_GetObjectItemCaseSensitive(spot->block, key_of(spot)), 1);

    cJSON_ReplaceItemInObjectCaseSensitive(spot->block, key_of(spot), value);
    record(all, spot, what);
    cJSON_ReplaceItemInObjectCaseSensitive(spot->block, key_of(spot), old);
}

static void record_wrong_kinds(struct all_keys *all, const struct spot *spot)
{
    bool takes_unit = spot->row->kind == WR_IS_QUANTITY;

    record_value(all, spot, "wrong kind",
                 spot->row->kind == WR_IS_FLAG ? cJSON_CreateNumber(1) : cJSON_CreateBool(true));
    if (takes_unit)
        record_value(all, spot, "bare number", cJSON_CreateNumber(12));
    if (takes_unit)
        record_value(all, spot, "other unit", cJSON_CreateString("1 kg/s"));
    if (spot->row->kind == WR_IS_WHOLE || spot->row->kind == WR_IS_COUNT)
        record_value(all, spot, "not whole", cJSON_CreateNumber(1.5));
    if (spot->row->kind == WR_IS_NUMBERS)
        record_value(all, spot, "wrong length", cJSON_CreateArray());
}

/* A value as far beyond a limit as `by`, in the limit's unit. */
static cJSON *beyond(const struct wr_parameter *row, const char *limit, double by)
{
    char *unit = NULL;
    double number = strtod(limit, &unit) + by;
    char text[2048];
    cJSON *list;

    switch (row->kind) {
    case WR_IS_TEXT:
        memset(text, 'x', sizeof text);
        text[(size_t)number] = '\0';
        return cJSON_CreateString(text);
    case WR_IS_BLOCK_LIST:
        list = cJSON_CreateArray();
        for (int i = 0; i < (int)number; i++)
            cJSON_AddItemToArray(list, cJSON_CreateObject());
        return list;
    case WR_IS_NUMBERS:
    case WR_IS_NUMBER_LIST:
        list = cJSON_CreateArray();
        snprintf(text, sizeof text, "%.17g%s", number, unit);
        for (size_t i = 0; i < (row->length == 0 ? 2 : row->length); i++)
            cJSON_AddItemToArray(list,
                                 *unit == '\0' ? cJSON_CreateNumber(i == 1 ? number : 1) : cJSON_CreateString(text));
        return list;
    default:
        /* 2^53 and one more are the same double. */
        number = number > 1e15 ? number * 2 : number;
        snprintf(text, sizeof text, "%.17g%s", number, unit);
        return *unit == '\0' ? cJSON_CreateNumber(number) : cJSON_CreateString(text);
    }
}

static void record_out_of_range(struct all_keys *all, const struct spot *spot)
{
    const struct wr_parameter *row = spot->row;

    if (row->least != NULL)
        record_value(all, spot, "below its least", beyond(row, row->least, -1));
    if (row->above != NULL)
        record_value(all, spot, "at what it must be above", beyond(row, row->above, 0));
    if (row->most != NULL)
        record_value(all, spot, "above its most", beyond(row, row->most, 1));
    if (row->below != NULL)
        record_value(all, spot, "at what it must be below", beyond(row, row->below, 0));
}

/* Renames a key, which keeps its place. */
static void rename_key(cJSON *block, const char *from, const char *to)
{
    cJSON *item = cJSON_GetObjectItemCaseSensitive(block, from);
    size_t size = strlen(to) + 1;

    item->string = memcpy(realloc(item->string, size), to, size);
}

static void record_misspelt(struct all_keys *all, const struct spot *spot)
{
    char misspelt[64];
    size_t length = strlen(key_of(spot));

    snprintf(misspelt, sizeof misspelt, "%s", key_of(spot));
    misspelt[length - 2] = key_of(spot)[length - 1];
    misspelt[length - 1] = '\0';
    rename_key(spot->block, key_of(spot), misspelt);
    record(all, spot, "misspelt");
    rename_key(spot->block, misspelt, key_of(spot));
}

static void record_twice(struct all_keys *all, const struct spot *spot)
{
    cJSON *item = cJSON_GetObjectItemCaseSensitive(spot->block, key_of(spot));

    cJSON_AddItemToObject(spot->block, key_of(spot), cJSON_Duplicate(item, 1));
    record(all, spot, "twice");
    cJSON_Delete(cJSON_DetachItemViaPointer(spot->block, spot->block->child->prev));
}

/* Printing follows the links forward only, so an item can be stepped over and put back. */
static void record_missing(struct all_keys *all, const struct spot *spot)
{
    cJSON *item = cJSON_GetObjectItemCaseSensitive(spot->block, key_of(spot));
    cJSON **link = &spot->block->child;

    while (*link != item)
        link = &(*link)->next;
    *link = item->next;
    record(all, spot, "missing");
    *link = item;
}

static bool is_done(struct all_keys *all, const struct wr_parameter *row)
{
    for (size_t i = 0; i < all->rows; i++) {
        if (all->done[i] == row)
            return true;
    }
    all->done[all->rows++] = row;
    return false;
}

static void record_key(struct all_keys *all, const struct spot *spot)
{
    record_wrong_kinds(all, spot);
    record_out_of_range(all, spot);
    record_misspelt(all, spot);
    record_twice(all, spot);
    if (spot->row->required)
        record_missing(all, spot);
}

static void walk(struct all_keys *all, const struct wr_block *block, cJSON *object, const char *pointer)
{
    for (size_t i = 0; i < block->count; i++) {
        const struct wr_parameter *row = &block->parameters[i];
        struct spot spot = {.row = row, .block = object};
        cJSON *value = cJSON_GetObjectItemCaseSensitive(object, row->key);
        snprintf(spot.pointer, sizeof spot.pointer, "%s/%s", pointer, row->key);
        if (value != NULL && !is_done(all, row))
            record_key(all, &spot);
        value = cJSON_GetObjectItemCaseSensitive(object, row->key);
        if (value != NULL && row->kind == WR_IS_BLOCK)
            walk(all, row->block, value, spot.pointer);
        for (int k = 0; row->kind == WR_IS_BLOCK_LIST && k < cJSON_GetArraySize(value); k++) {
            char item[128];
            snprintf(item, sizeof item, "%s/%d", spot.pointer, k);
            walk(all, row->block, cJSON_GetArrayItem(value, k), item);
        }
    }
}

/* Counts each row once, however many lists hold its block. */
static void count_row(const struct wr_block *block, const struct wr_parameter *row, size_t depth, void *context)
{
    (void)block;
    (void)depth;
    is_done(context, row);
}

/* The template that holds its regenerant, and none of the steps of the others. */
static void exchange_template(cJSON *wash)
{
    static const char *const steps[] = {"drain_depth",       "drain_time",       "air_time", "fill_rate",
                                        "filter_down_depth", "filter_down_time", NULL};
    cJSON *holding = cJSON_AddObjectToObject(wash, "holding");

    cJSON_ReplaceItemInObject(wash, "template", cJSON_CreateString("batch_regeneration"));
    for (const char *const *step = steps; *step != NULL; step++)
        cJSON_DeleteItemFromObject(wash, *step);
    cJSON_ReplaceItemInObject(wash, "regenerant_depth", cJSON_CreateString("10 gal/ft2"));
    cJSON_ReplaceItemInObject(wash, "regenerate_time", cJSON_CreateString("20 min"));
    cJSON_AddStringToObject(holding, "volume", "3000 gal");
    cJSON_AddStringToObject(holding, "emptied_every", "7 d");
}

/* Another law of settling, with what it alone has. */
static void exchange_law(cJSON *tree, const char *law)
{
    cJSON *settling = cJSON_GetObjectItem(cJSON_GetObjectItem(tree, "spent_wash"), "settling");

    cJSON_DeleteItemFromObject(settling, "classes");
    cJSON_ReplaceItemInObject(settling, "law", cJSON_CreateString(law));
    if (strcmp(law, "classes") == 0)
        cJSON_AddItemToObject(settling, law, cJSON_Parse("[{ \"share\": \"100 %\", \"velocity\": \"0.8 m/h\" }]"));
    else
        cJSON_AddItemToObject(
            settling, law,
            cJSON_Parse("{ \"flux\": \"vesilind\", \"velocity\": \"3 m/h\", \"hindrance\": \"1 L/g\", "
                        "\"exponent\": 5, \"greatest_concentration\": \"18 g/L\" }"));
}

/* The keys that stand only where others do not: the observed run's other pair, the draw from the mains, and the tank
 * for spent regenerant. */
static void exchange_keys(cJSON *tree)
{
    cJSON *group = cJSON_GetArrayItem(cJSON_GetObjectItem(tree, "filters"), 1);
    cJSON *run = cJSON_GetObjectItem(cJSON_GetObjectItem(group, "deposit"), "observed_run");
    cJSON *water = cJSON_GetObjectItem(tree, "wash_water");

    cJSON_DeleteItemFromObject(run, "flow");
    cJSON_DeleteItemFromObject(run, "volume");
    cJSON_AddStringToObject(run, "rate", "3 gal/min/ft2");
    cJSON_AddStringToObject(run, "hours", "40 h");
    exchange_template(cJSON_GetObjectItem(tree, "wash"));
    cJSON_DeleteItemFromObject(water, "tank");
    cJSON_ReplaceItemInObject(water, "source", cJSON_CreateString("system"));
    cJSON_AddStringToObject(water, "draw_limit", "640 gal/min");
}

/* Complaints about every key of the plant, which names every row of the table. */
static char *all_complaints(bool writes_cases)
{
    struct all_keys all = {.writes_cases = writes_cases};
    struct all_keys table = {0};
    char *text = wr_edit_file("tests/input/plant.json");

    /* share stands only where how is "equal", so it has a plant of its own. */
    char *edited = wr_edit_replace(text, "{ \"how\": \"given\" }", "{ \"how\": \"equal\", \"share\": \"20 %\" }");
    char *without = wr_edit_replace(edited, "\"start_shares\": [\"0 %\", \"50 %\"]", "\"note\": \"none\"");
    char *equal = wr_edit_replace(without, "\"start_shares\": [\"10 %\"]", "\"note\": \"none\"");
    all.tree = cJSON_Parse(text);
    walk(&all, &wr_block_scenario, all.tree, "");
    cJSON_Delete(all.tree);
    all.tree = cJSON_Parse(equal);
    exchange_keys(all.tree);
    exchange_law(all.tree, "classes");
    walk(&all, &wr_block_scenario, all.tree, "");
    exchange_law(all.tree, "zone");
    walk(&all, &wr_block_scenario, all.tree, "");
    cJSON_Delete(all.tree);
    wr_table_walk(&wr_block_scenario, count_row, &table);
    check_count(all.rows, table.rows, "every row of the table has its complaints");
    free(text);
    free(edited);
    free(without);
    free(equal);
    return wr_text_take(&all.text);
}

static void test_each_key(void **state)
{
    char *text = all_complaints(false);

    (void)state;
    wr_edit_compare(text, "tests/input/each_key.txt");
    free(text);
    wr_quantities_free();
}

int main(int count, char **words)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_each_key)};

    if (count == 2) {
        bool writes_cases = strcmp(words[1], "cases") == 0;
        char *text = all_complaints(writes_cases);
        fputs(writes_cases ? "" : text, stdout);
        free(text);
        wr_quantities_free();
        return 0;
    }
    return cmocka_run_group_tests(tests, NULL, NULL);
}
