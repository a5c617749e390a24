/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/input/reference.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/quantity_kind.h"
#include "sim/scenario/units.h"
#include "tests/support/check.h"

static const char head[] =
    "# The scenario, key by key\n"
    "\n"
    "A scenario is one JSON file that describes a plant and its run. This page is written by the program's own table "
    "of keys, and\n"
    "so are its complaints: what is not here cannot be said. `scenarios/` has whole plants to start from, and "
    "`washrota check\n"
    "FILE` says everything that is wrong with one at once.\n"
    "\n"
    "What washrota makes of it is a planning and teaching aid, not a design. Verify on the plant; local codes, the "
    "permitting\n"
    "authority and a licensed engineer decide. Do not change setpoints on its word alone.\n"
    "\n"
    "## How it is written\n"
    "\n"
    "- **Quantities** are texts with a number and its unit, `\"12 gal/min/ft2\"` or `\"30 m/h\"`; a bare number is "
    "refused. Any unit\n"
    "  that measures the right thing will do, whatever the rest of the scenario is written in.\n"
    "- **Blocks** are `{ ... }`, **lists** `[ ... ]`. Each key stands at most once in its block. An unknown key is "
    "refused.\n"
    "- **`note`** may stand in every block: a text that is kept with the scenario and not read.\n"
    "- **Dates** are local standard time without daylight saving, from 1900 to 2199. **Times of day** run from "
    "`\"00:00\"` to\n"
    "  `\"24:00\"`.\n"
    "- **Where a block stands** is told by a pointer such as `/wells/0`, where 0 is the first of a list; `--set` takes "
    "the same.\n"
    "- A key that must be given says so under *left out*; every other has there what holds without it.\n"
    "- *Source* says where a default and the limits come from. Limits for sanity only keep slips of the pen out; they "
    "are no\n"
    "  advice.\n"
    "\n"
    "An editor that knows JSON Schema completes keys and marks slips while you write, with "
    "`scenarios/scenario.schema.json`\n"
    "assigned to your scenarios. It cannot know what a unit measures or what must hold between keys: `check` has the "
    "last word.\n"
    "\n";

static const char quantities_head[] =
    "## Quantities and units\n"
    "\n"
    "Heads and slopes of headloss may be lengths of water or pressures, which convert by 1000 kg/m3 and 9.80665 m/s2.\n"
    "\n"
    "| what | shown in US units | shown in SI units | as an author writes it |\n"
    "|---|---|---|---|\n";

/* The value of an example in the SI unit in which its kind is shown, written so that it can be read again. */
static void add_in_si(const struct wr_parameter *row, struct wr_text *text)
{
    char found[256];
    double value = 0.0;

    check_true(wr_quantity_read(row->quantity, row->example, &value, found, sizeof found), row->key);
    double shown = wr_quantity_shown(row->quantity, value, WR_UNITS_SI);
    wr_text_add(text, shown >= 100.0 ? "%.0f %s" : "%.3g %s", shown, wr_quantity_unit(row->quantity, WR_UNITS_SI));
}

/* The row, whose own example is in US units, is shown with that and its like in SI. */
void wr_reference_allowed(const struct wr_parameter *row, struct wr_text *text)
{
    struct wr_parameter both = *row;
    struct wr_text example = {0};
    const char *const *shown = wr_quantity_kinds[row->quantity].shown;
    bool has_two = row->quantity != WR_QUANTITY_NONE && row->quantity != WR_QUANTITY_TIME && row->example != NULL &&
                   strcmp(shown[0], shown[1]) != 0;

    if (has_two) {
        wr_text_add(&example, "%s\" or \"", row->example);
        add_in_si(row, &example);
    }
    char *words = wr_text_take(&example);
    both.example = has_two ? words : row->example;
    wr_parameter_allowed(&both, NULL, text);
    free(words);
}

void wr_reference_left_out(const struct wr_parameter *row, struct wr_text *text)
{
    bool is_list = row->kind == WR_IS_NUMBERS || row->kind == WR_IS_NUMBER_LIST;

    if (row->required)
        wr_text_add(text, "must be given");
    else if (row->default_text != NULL)
        wr_text_add(text, "%s%s", row->default_text, is_list ? " each" : "");
    else
        wr_text_add(text, "%s", row->when_absent != NULL ? row->when_absent : "as its own keys say");
}

/* A link to the section of a block. */
static void add_link(const struct wr_block *block, struct wr_text *text)
{
    wr_text_add(text, "[%s](#", block->name);
    for (const char *letter = block->name; *letter != '\0'; letter++)
        wr_text_add(text, "%c", *letter == ' ' ? '-' : *letter);
    wr_text_add(text, ")");
}

static void add_row(const struct wr_parameter *row, struct wr_text *text)
{
    wr_text_add(text, "| `%s` | %s | ", row->key, row->meaning);
    wr_reference_allowed(row, text);
    if (row->block != NULL) {
        wr_text_add(text, ": ");
        add_link(row->block, text);
    }
    wr_text_add(text, " | ");
    wr_reference_left_out(row, text);
    wr_text_add(text, " | %s |\n", row->source == NULL ? "" : row->source);
}

static void add_rules(const struct wr_block *block, struct wr_text *text)
{
    if (block->rules == NULL)
        return;
    wr_text_add(text, "\nWhat must hold besides:\n\n");
    for (size_t i = 0; block->rules[i] != NULL; i++)
        wr_text_add(text, "- %s\n", block->rules[i]);
}

/* Adds every place of a block, by the pointers to it: "`/wash/window/0`, `/wash/attended/0`". */
static void add_places(const struct wr_block *wanted, const struct wr_block *block, const char *pointer,
                       struct wr_text *text)
{
    char inner[160];

    for (size_t i = 0; i < block->count; i++) {
        const struct wr_parameter *row = &block->parameters[i];
        if (row->block == NULL)
            continue;
        snprintf(inner, sizeof inner, "%s/%s%s", pointer, row->key, row->kind == WR_IS_BLOCK_LIST ? "/0" : "");
        if (row->block == wanted)
            wr_text_add(text, "%s`%s`", text->length == 0 ? "" : ", ", inner);
        add_places(wanted, row->block, inner, text);
    }
}

static void add_block(const struct wr_block *block, struct wr_text *text)
{
    struct wr_text places = {0};

    add_places(block, &wr_block_scenario, "", &places);
    char *where = wr_text_take(&places);
    wr_text_add(text, "## %s\n\n%s Stands at %s.\n\n", block->name, block->meaning,
                *where == '\0' ? "the top of the file" : where);
    wr_text_add(text, "| key | meaning | allowed | left out | source |\n|---|---|---|---|---|\n");
    for (size_t i = 0; i < block->count; i++)
        add_row(&block->parameters[i], text);
    add_rules(block, text);
    wr_text_add(text, "\n");
    free(where);
}

/* Blocks that have their section, since some stand in several places. */
struct page {
    struct wr_text text;
    const struct wr_block *done[64];
    size_t count;
};

static void visit(const struct wr_block *outer, const struct wr_parameter *row, size_t depth, void *context)
{
    struct page *page = context;

    (void)outer;
    (void)depth;
    for (size_t i = 0; i < page->count; i++) {
        if (page->done[i] == row->block)
            return;
    }
    if (row->block == NULL)
        return;
    check_true(page->count < sizeof page->done / sizeof page->done[0], "room for every block");
    page->done[page->count++] = row->block;
    add_block(row->block, &page->text);
}

static void add_quantities(struct wr_text *text)
{
    static const char times[] = "s, min, h or d, by size";

    wr_text_add(text, "%s", quantities_head);
    for (size_t i = 1; i < WR_QUANTITY_COUNT; i++) {
        const struct wr_quantity_kind *kind = &wr_quantity_kinds[i];
        bool is_time = i == WR_QUANTITY_TIME;
        wr_text_add(text, "| %s | %s | %s | `%s`", kind->name, is_time ? times : kind->shown[0],
                    is_time ? times : kind->shown[1], kind->us_example);
        wr_text_add(text, strcmp(kind->us_example, kind->si_example) == 0 ? " |\n" : ", `%s` |\n", kind->si_example);
    }
    wr_text_add(text, "\nUnits are put together from these words with `/` and `*`, brackets and exponents such as "
                      "`ft2` or `s^-1`:\n\n");
    for (size_t i = 0; wr_unit_word(i) != NULL; i++)
        wr_text_add(text, "%s`%s`", i == 0 ? "" : i % 20 == 0 ? ",\n" : ", ", wr_unit_word(i));
    wr_text_add(text,
                ". `kgal` is a thousand gallons,\n`Mgal` a million; `year` is 365 days; `gal` is the US gallon.\n");
}

char *wr_reference_text(void)
{
    struct page page = {.count = 0};

    wr_text_add(&page.text, "%s", head);
    add_block(&wr_block_scenario, &page.text);
    wr_table_walk(&wr_block_scenario, visit, &page);
    add_quantities(&page.text);
    return wr_text_take(&page.text);
}
