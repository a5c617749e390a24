/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>

#include <cjson/cJSON.h>

#include "sim/scenario/quantity_kind.h"
#include "tests/input/reference.h"
#include "tests/support/check.h"

/* A number as JSON has it, and a unit of letters, digits and signs; sim/scenario/units.c knows which are units. */
static const char quantity_pattern[] =
    "^ *-?(0|[1-9][0-9]*)([.][0-9]+)?([eE][-+]?[0-9]+)? *[A-Za-z%][A-Za-z0-9%/^*(). -]*$";
static const char date_pattern[] =
    "^(19|20|21)[0-9][0-9]-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])( ([01][0-9]|2[0-3]):[0-5][0-9])?$";
static const char clock_pattern[] = "^(([01][0-9]|2[0-3]):[0-5][0-9]|24:00)$";

static cJSON *block_schema(const struct wr_block *block, const char *description);

static void set_type(cJSON *schema, const char *type)
{
    cJSON_AddStringToObject(schema, "type", type);
}

static void set_text(cJSON *schema, const char *pattern)
{
    set_type(schema, "string");
    cJSON_AddStringToObject(schema, "pattern", pattern);
}

/* Adds a limit of the row, where it has one, under the schema's word for it. */
static void set_limit(cJSON *schema, const char *word, const struct wr_parameter *row, const char *limit)
{
    if (limit != NULL)
        cJSON_AddNumberToObject(schema, word, wr_parameter_limit(row, limit));
}

static void set_number(cJSON *schema, const char *type, const struct wr_parameter *row)
{
    set_type(schema, type);
    set_limit(schema, "minimum", row, row->least);
    set_limit(schema, "exclusiveMinimum", row, row->above);
    set_limit(schema, "maximum", row, row->most);
    set_limit(schema, "exclusiveMaximum", row, row->below);
}

/* Examples only where the author's text stands as it is. */
static void set_quantity(cJSON *schema, const struct wr_parameter *row)
{
    const struct wr_quantity_kind *kind = &wr_quantity_kinds[row->quantity];
    cJSON *examples;

    set_text(schema, quantity_pattern);
    examples = cJSON_AddArrayToObject(schema, "examples");
    cJSON_AddItemToArray(examples, cJSON_CreateString(row->example != NULL ? row->example : kind->us_example));
    if (row->example == NULL && strcmp(kind->us_example, kind->si_example) != 0)
        cJSON_AddItemToArray(examples, cJSON_CreateString(kind->si_example));
}

static void set_choices(cJSON *schema, const struct wr_parameter *row)
{
    cJSON *words = cJSON_AddArrayToObject(schema, "enum");

    for (size_t i = 0; row->choices[i] != NULL; i++)
        cJSON_AddItemToArray(words, cJSON_CreateString(row->choices[i]));
}

/* Limits of texts are in bytes and the schema counts characters, of which there are no more. */
static void set_free_text(cJSON *schema, const struct wr_parameter *row)
{
    set_type(schema, "string");
    if (row->least != NULL)
        cJSON_AddNumberToObject(schema, "minLength", 1);
    set_limit(schema, "maxLength", row, row->most);
}

static void set_numbers(cJSON *schema, const struct wr_parameter *row)
{
    cJSON *items;

    set_type(schema, "array");
    if (row->kind == WR_IS_NUMBERS) {
        cJSON_AddNumberToObject(schema, "minItems", (double)row->length);
        cJSON_AddNumberToObject(schema, "maxItems", (double)row->length);
    }
    items = cJSON_AddObjectToObject(schema, "items");
    if (row->quantity == WR_QUANTITY_NONE)
        set_number(items, "number", row);
    else
        set_quantity(items, row);
}

static void set_blocks(cJSON *schema, const struct wr_parameter *row)
{
    set_type(schema, "array");
    set_limit(schema, "minItems", row, row->least);
    set_limit(schema, "maxItems", row, row->most);
    cJSON_AddItemToObject(schema, "items", block_schema(row->block, row->block->meaning));
}

/* The default as JSON: numbers and flags bare, lists whole, all else as text. */
static void set_default(cJSON *schema, const struct wr_parameter *row)
{
    cJSON *value;
    bool is_bare = row->kind == WR_IS_NUMBER || row->kind == WR_IS_WHOLE || row->kind == WR_IS_COUNT ||
                   row->kind == WR_IS_FLAG || row->kind == WR_IS_NUMBERS;

    if (row->default_text == NULL)
        return;
    value = is_bare ? cJSON_Parse(row->default_text) : cJSON_CreateString(row->default_text);
    if (row->kind == WR_IS_NUMBERS) {
        cJSON *list = cJSON_CreateArray();
        for (size_t i = 0; i < row->length; i++)
            cJSON_AddItemToArray(list, cJSON_Duplicate(value, 1));
        cJSON_Delete(value);
        value = list;
    }
    cJSON_AddItemToObject(schema, "default", value);
}

static void set_kind(cJSON *schema, const struct wr_parameter *row)
{
    switch (row->kind) {
    case WR_IS_FORMAT:
        cJSON_AddNumberToObject(schema, "const", 1);
        break;
    case WR_IS_QUANTITY:
        set_quantity(schema, row);
        break;
    case WR_IS_NUMBER:
        set_number(schema, "number", row);
        break;
    case WR_IS_WHOLE:
    case WR_IS_COUNT:
        set_number(schema, "integer", row);
        break;
    case WR_IS_CHOICE:
        set_choices(schema, row);
        break;
    case WR_IS_TEXT:
        set_free_text(schema, row);
        break;
    case WR_IS_FLAG:
        set_type(schema, "boolean");
        break;
    case WR_IS_DATE:
    case WR_IS_DATE_IN_RUN:
        set_text(schema, date_pattern);
        break;
    case WR_IS_CLOCK:
        set_text(schema, clock_pattern);
        break;
    case WR_IS_NUMBERS:
    case WR_IS_NUMBER_LIST:
        set_numbers(schema, row);
        break;
    case WR_IS_BLOCK: /* its schema is that of the block */
        break;
    case WR_IS_BLOCK_LIST:
        set_blocks(schema, row);
        break;
    }
}

static cJSON *row_schema(const struct wr_parameter *row)
{
    struct wr_text text = {0};

    wr_text_add(&text, "%s. Allowed: ", row->meaning);
    wr_reference_allowed(row, &text);
    wr_text_add(&text, row->required ? ". It " : ". Left out: ");
    wr_reference_left_out(row, &text);
    wr_text_add(&text, ".");
    char *description = wr_text_take(&text);
    cJSON *schema = row->kind == WR_IS_BLOCK ? block_schema(row->block, description) : cJSON_CreateObject();
    if (row->kind != WR_IS_BLOCK)
        cJSON_AddStringToObject(schema, "description", description);
    set_kind(schema, row);
    set_default(schema, row);
    free(description);
    return schema;
}

static cJSON *note_schema(void)
{
    cJSON *schema = cJSON_CreateObject();

    cJSON_AddStringToObject(schema, "description", "a text that is kept with the scenario and not read");
    set_type(schema, "string");
    return schema;
}

static cJSON *block_schema(const struct wr_block *block, const char *description)
{
    cJSON *schema = cJSON_CreateObject();
    cJSON *required = cJSON_CreateArray();

    cJSON_AddStringToObject(schema, "description", description);
    set_type(schema, "object");
    cJSON *properties = cJSON_AddObjectToObject(schema, "properties");
    for (size_t i = 0; i < block->count; i++) {
        const struct wr_parameter *row = &block->parameters[i];
        cJSON_AddItemToObject(properties, row->key, row_schema(row));
        if (row->required)
            cJSON_AddItemToArray(required, cJSON_CreateString(row->key));
    }
    cJSON_AddItemToObject(properties, "note", note_schema());
    cJSON_AddItemToObject(schema, "required", required);
    cJSON_AddFalseToObject(schema, "additionalProperties");
    return schema;
}

/* cJSON lays text out with tabs; two blanks a level, and one after a colon, are kinder to a reader. */
static char *without_tabs(const char *text)
{
    struct wr_text tidy = {0};

    for (const char *at = text; *at != '\0'; at++) {
        if (*at != '\t')
            wr_text_add(&tidy, "%c", *at);
        else
            wr_text_add(&tidy, at > text && at[-1] == ':' ? " " : "  ");
    }
    wr_text_add(&tidy, "\n");
    return wr_text_take(&tidy);
}

char *wr_schema_text(void)
{
    cJSON *schema = cJSON_CreateObject();

    cJSON_AddStringToObject(schema, "$schema", "http://json-schema.org/draft-07/schema#");
    cJSON_AddStringToObject(schema, "title", "A scenario of washrota");
    cJSON *root = block_schema(&wr_block_scenario, "The plant and its run; docs/scenario.md explains each key.");
    while (root->child != NULL) {
        cJSON *member = cJSON_DetachItemViaPointer(root, root->child);
        cJSON_AddItemToObject(schema, member->string, member);
    }
    char *printed = cJSON_Print(schema);
    char *text = without_tabs(printed);
    cJSON_Delete(root);
    cJSON_Delete(schema);
    free(printed);
    return text;
}
