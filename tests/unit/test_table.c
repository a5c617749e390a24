/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The parameter table: it covers the definition to the last byte, and its own texts can be read. */
#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/table.h"
#include "sim/scenario/whole.h"
#include "tests/support/check.h"

/* Clears the padding of a struct where the compiler can: gcc from version 11. */
#ifdef __has_builtin
#if __has_builtin(__builtin_clear_padding)
#define CAN_CLEAR_PADDING
#endif
#endif
#ifdef CAN_CLEAR_PADDING
#define STRUCT_OF(block, type)                                                                                         \
    static void clear_##block(unsigned char *bytes)                                                                    \
    {                                                                                                                  \
        struct type filled;                                                                                            \
        memset(&filled, 0xa5, sizeof filled);                                                                          \
        __builtin_clear_padding(&filled);                                                                              \
        memcpy(bytes, &filled, sizeof filled);                                                                         \
    }
#else
#define STRUCT_OF(block, type)
#endif

#define ALL_BLOCKS                                                                                                     \
    EACH(scenario, wr_definition)                                                                                      \
    EACH(demand, wr_demand)                                                                                            \
    EACH(storage, wr_storage)                                                                                          \
    EACH(well, wr_well)                                                                                                \
    EACH(raw_water, wr_raw_water)                                                                                      \
    EACH(filter_group, wr_filter_group)                                                                                \
    EACH(media_layer, wr_media_layer)                                                                                  \
    EACH(sieve, wr_sieve_row)                                                                                          \
    EACH(deposit, wr_deposit_definition)                                                                               \
    EACH(observed_run, wr_observed_run)                                                                                \
    EACH(start_beds, wr_start_bed_definition)                                                                          \
    EACH(wash, wr_wash)                                                                                                \
    EACH(triggers, wr_triggers)                                                                                        \
    EACH(hours, wr_hours)                                                                                              \
    EACH(holding, wr_holding)                                                                                          \
    EACH(rota_entry, wr_rota_entry)                                                                                    \
    EACH(wash_water, wr_wash_water)                                                                                    \
    EACH(wash_tank, wr_wash_tank)                                                                                      \
    EACH(spent_wash, wr_spent_wash)                                                                                    \
    EACH(spent_tank, wr_spent_tank)                                                                                    \
    EACH(settling, wr_settling)                                                                                        \
    EACH(particle_class, wr_particle_class)                                                                            \
    EACH(zone, wr_zone_definition)                                                                                     \
    EACH(sludge, wr_sludge_definition)                                                                                 \
    EACH(outlet, wr_outlet)                                                                                            \
    EACH(recycle, wr_recycle)                                                                                          \
    EACH(outage, wr_outage)                                                                                            \
    EACH(fails_if, wr_fails_if_entry)

#define EACH(block, type) STRUCT_OF(block, type)
ALL_BLOCKS
#undef EACH

struct known_block {
    const struct wr_block *block;
    size_t size;
    void (*fill)(unsigned char *bytes); /* a pattern, zero in the padding */
};

static const struct known_block known_blocks[] = {
#ifdef CAN_CLEAR_PADDING
#define EACH(block, type) {&wr_block_##block, sizeof(struct type), clear_##block},
#else
#define EACH(block, type) {&wr_block_##block, sizeof(struct type), NULL},
#endif
    ALL_BLOCKS
#undef EACH
};

enum { BLOCKS = sizeof known_blocks / sizeof known_blocks[0] };

/* Marks as covered what rows fill; a byte filled twice fails. */
static void cover(const struct wr_block *block, unsigned char *covered, size_t base)
{
    for (size_t i = 0; i < block->count; i++) {
        const struct wr_parameter *row = &block->parameters[i];
        if (row->has_presence)
            check_count(covered[base + row->presence]++, 0, row->key);
        if (row->kind == WR_IS_BLOCK)
            cover(row->block, covered, base + row->offset);
        for (size_t k = 0; row->kind != WR_IS_BLOCK && k < wr_parameter_size(row); k++)
            check_count(covered[base + row->offset + k]++, 0, row->key);
    }
}

static void test_rows_cover_every_byte(void **state)
{
    (void)state;
#ifdef CAN_CLEAR_PADDING
    for (size_t i = 0; i < BLOCKS; i++) {
        const struct known_block *known = &known_blocks[i];
        unsigned char *pattern = malloc(known->size);
        unsigned char *covered = calloc(known->size, 1);
        char what[96];
        check_count(known->block->size, known->size, known->block->name);
        known->fill(pattern);
        cover(known->block, covered, 0);
        for (size_t k = 0; k < known->size; k++) {
            snprintf(what, sizeof what, "byte %zu of %s: covered unless it is padding", k, known->block->name);
            check_count(covered[k], pattern[k] == 0 ? 0 : 1, what);
        }
        free(pattern);
        free(covered);
    }
#else
    skip();
#endif
}

/* Without the compiler's help: gaps between rows are smaller than what may follow them needs for its alignment. */
static void test_gaps_are_padding(void **state)
{
    (void)state;
    for (size_t i = 0; i < BLOCKS; i++) {
        unsigned char *covered = calloc(known_blocks[i].size, 1);
        size_t gap = 0;
        cover(known_blocks[i].block, covered, 0);
        for (size_t k = 0; k < known_blocks[i].size; k++) {
            gap = covered[k] ? 0 : gap + 1;
            check_true(gap < sizeof(double), known_blocks[i].block->name);
        }
        free(covered);
    }
}

static bool is_known(const struct wr_block *block)
{
    for (size_t i = 0; i < BLOCKS; i++) {
        if (known_blocks[i].block == block)
            return true;
    }
    return false;
}

/* A default and limits have a source, and what is not given has something in its place. */
static void check_words(const struct wr_parameter *row)
{
    bool has_limits = row->least != NULL || row->above != NULL || row->most != NULL || row->below != NULL;
    const char *source = row->source == NULL ? "" : row->source;

    check_true(row->default_text == NULL || strncmp(source, "default: ", 9) == 0, row->key);
    check_true(!has_limits || strstr(source, "limit") != NULL, row->key);
    check_true(row->required || row->block != NULL || row->default_text != NULL || row->when_absent != NULL, row->key);
}

/* Every text of a row that holds a value must be one that the reader takes. */
static void check_row(const struct wr_block *block, const struct wr_parameter *row, size_t depth, void *context)
{
    const char *const limits[] = {row->least, row->above, row->most, row->below};
    char found[256];
    double value;

    (*(size_t *)context)++;
    check_true(is_known(block), block->name);
    check_true(depth < 6, row->key);
    check_true(wr_block_find(block, row->key) == row, row->key); /* keys are unique */
    check_true(row->meaning != NULL && strlen(row->meaning) >= 7, row->key);
    check_words(row);
    for (const char *letter = row->key; *letter != '\0'; letter++)
        check_true(islower((unsigned char)*letter) || *letter == '_', row->key);
    check_true((row->kind == WR_IS_BLOCK || row->kind == WR_IS_BLOCK_LIST) == (row->block != NULL), row->key);
    check_true((row->kind == WR_IS_CHOICE) == (row->choices != NULL), row->key);
    check_true((row->kind == WR_IS_NUMBERS) == (row->length > 0), row->key);
    check_true(!(row->required && (row->default_text != NULL || row->when_absent != NULL)), row->key);
    check_true(row->kind != WR_IS_QUANTITY || row->quantity != WR_QUANTITY_NONE, row->key);
    check_true(row->kind != WR_IS_TEXT || row->most != NULL, row->key);
    check_true(row->above == NULL || row->least == NULL, row->key);
    check_true(row->below == NULL || row->most == NULL, row->key);
    for (size_t i = 0; i < 4 && row->quantity != WR_QUANTITY_NONE; i++)
        check_true(limits[i] == NULL || wr_quantity_read(row->quantity, limits[i], &value, found, sizeof found),
                   row->key);
    for (size_t i = 0; i < 4 && row->kind == WR_IS_CLOCK; i++)
        check_true(limits[i] == NULL || wr_clock_read(limits[i], &value), row->key);
    if (row->quantity != WR_QUANTITY_NONE && row->example != NULL)
        check_true(wr_quantity_read(row->quantity, row->example, &value, found, sizeof found) &&
                       wr_parameter_allows(row, value),
                   row->key);
    if (row->default_text != NULL && (row->quantity != WR_QUANTITY_NONE || row->kind == WR_IS_NUMBER ||
                                      row->kind == WR_IS_WHOLE || row->kind == WR_IS_COUNT))
        check_true(wr_parameter_allows(row, wr_parameter_limit(row, row->default_text)), row->key);
}

static void test_rows_are_sound(void **state)
{
    size_t rows = 0;

    (void)state;
    wr_table_walk(&wr_block_scenario, check_row, &rows);
    size_t expected = 0;
    for (size_t i = 0; i < BLOCKS; i++)
        expected += known_blocks[i].block->count;
    /* Hours stand in three lists: the window, attended hours and an outlet's. */
    expected += 2 * wr_block_hours.count;
    check_count(rows, expected, "rows walked, each block as often as it stands");
}

static void test_finds_rows(void **state)
{
    (void)state;
    check_text(wr_table_find("/horizon")->key, "horizon", "a key");
    check_text(wr_table_find("/wash/triggers/differential")->key, "differential", "a key of blocks within each other");
    check_text(wr_table_find("/filters/0/deposit/observed_run/iron")->key, "iron", "a key within a list");
    check_true(wr_table_find("/raw_water/iron") != wr_table_find("/filters/-/deposit/observed_run/iron"),
               "two of a name");
    check_true(wr_table_find("/wash/window/0/from") == wr_table_find("/spent_wash/outlets/3/hours/1/from"),
               "one of two places");
    check_text(wr_table_find("/filters/12")->key, "filters", "an item");
    check_text(wr_table_find("/demand/hourly_factors/3")->key, "hourly_factors", "an item of numbers");
    static const char *const none[] = {"",
                                       "horizon",
                                       "/horizons",
                                       "/horizon/0",
                                       "/filters/count",
                                       "/filters/",
                                       "/filters/0/count/1",
                                       "/",
                                       "/wash/",
                                       "/demand/hourly_factors/3/4"};
    for (size_t i = 0; i < sizeof none / sizeof none[0]; i++)
        check_true(wr_table_find(none[i]) == NULL, none[i]);
}

static void test_says_what_is_allowed(void **state)
{
    static const char *const expected[][2] = {
        {"/format", "1"},
        {"/title", "text of 0 to 200 bytes"},
        {"/start", "a date such as \"2026-01-05\" or \"2026-01-05 06:00\""},
        {"/wash/window/0/from", "a time of day such as \"07:00\", less than 24:00"},
        {"/wash/attended/0/until", "a time of day such as \"07:00\", at most 24:00"},
        {"/seed", "a whole number, at least 0, at most 9007199254740992"},
        {"/units", "\"us\" or \"si\""},
        {"/demand/hourly_factors", "a list of 24, each a number, at least 0, at most 100"},
        {"/storage/volume", "a volume such as \"250000 gal\", more than 0 gal, at most 1000 Mgal"},
        {"/wells", "a list of blocks [ { ... } ], at least 1, at most 1000"},
        {"/raw_water", "a block { ... }"},
        {"/filters/0/start_shares",
         "a list, each item a share such as \"72 %\" or \"10 %\", at least 0 %, less than 100 %"},
        {"/start_beds/how", "\"spread\", \"equal\" or \"given\""},
        {"/filters/0/deposit/exponent", "a number, at least 1, at most 10"},
    };

    (void)state;
    for (size_t i = 0; i < sizeof expected / sizeof expected[0]; i++) {
        struct wr_text text = {0};
        wr_parameter_allowed(wr_table_find(expected[i][0]), NULL, &text);
        char *allowed = wr_text_take(&text);
        check_text(allowed, expected[i][1], expected[i][0]);
        free(allowed);
    }
}

/* The same in the units of whoever reads it: what is already so stays as it is written. */
static void test_says_it_in_the_units_asked_for(void **state)
{
    static const char *const expected[][3] = {
        {"/storage/volume", "a volume such as \"250000 gal\", more than 0 gal, at most 1000 Mgal",
         "a volume such as \"946 m3\", more than 0 m3, at most 3785000 m3"},
        {"/wash/backwash_rate",
         "a flow per area such as \"12 gal/min/ft2\", more than 0 gal/min/ft2, at most 122.7 gal/min/ft2",
         "a flow per area such as \"29 m/h\", more than 0 m/h, at most 300 m/h"},
        {"/raw_water/temperature",
         "a temperature such as \"54 degF\" or \"12 degC\", at least 32 degF, at most 104 degF",
         "a temperature such as \"54 degF\" or \"12 degC\", at least 0 degC, at most 40 degC"},
        {"/horizon", "a time such as \"30 d\", more than 0 s, at most 3653 d",
         "a time such as \"30 d\", more than 0 s, at most 3653 d"},
    };

    (void)state;
    for (size_t i = 0; i < sizeof expected / sizeof expected[0]; i++) {
        for (enum wr_units units = WR_UNITS_US; units <= WR_UNITS_SI; units++) {
            struct wr_text text = {0};
            wr_parameter_allowed(wr_table_find(expected[i][0]), &units, &text);
            char *allowed = wr_text_take(&text);
            check_text(allowed, expected[i][1 + (int)units], expected[i][0]);
            free(allowed);
        }
    }
}

/* The quantity told after `words`, in SI; false where none is told. */
static bool find_told(const struct wr_parameter *row, const char *allowed, const char *words, double *value)
{
    const char *told = strstr(allowed, words);
    char text[64];
    char found[256];

    if (told == NULL)
        return false;
    told += strlen(words);
    snprintf(text, sizeof text, "%.*s", (int)strcspn(told, ",\""), told);
    check_true(wr_quantity_read(row->quantity, text, value, found, sizeof found), row->key);
    return true;
}

/* Whoever writes what a complaint told is not refused again, and loses little of what is allowed. */
static void check_told(const struct wr_block *block, const struct wr_parameter *row, size_t depth, void *context)
{
    static const char *const words[] = {"at least ", "at most ", "more than ", "less than "};
    const char *const limits[] = {row->least, row->most, row->above, row->below};

    (void)block;
    (void)depth;
    for (enum wr_units units = WR_UNITS_US; units <= WR_UNITS_SI && row->quantity != WR_QUANTITY_NONE; units++) {
        struct wr_text text = {0};
        double value = 0.0;
        wr_parameter_allowed(row, &units, &text);
        char *allowed = wr_text_take(&text);
        for (size_t i = 0; i < 4; i++) {
            const bool is_told = find_told(row, allowed, words[i], &value);
            check_true(is_told == (limits[i] != NULL), row->key);
            if (!is_told)
                continue;
            const double limit = wr_parameter_limit(row, limits[i]);
            const bool is_rounding = fabs(value - limit) <= 1e-14 * fabs(limit); /* which the reader lets pass */
            check_true(i > 1 || is_rounding || wr_parameter_allows(row, value), allowed);
            check(value, limit, 1e-3 * fabs(value), allowed);
            ++*(size_t *)context;
        }
        if (row->example != NULL && find_told(row, allowed, "such as \"", &value))
            check_true(wr_parameter_allows(row, value), allowed);
        free(allowed);
    }
}

static void test_what_is_told_is_allowed(void **state)
{
    size_t limits = 0;

    (void)state;
    wr_table_walk(&wr_block_scenario, check_told, &limits);
    check_true(limits > 200, "limits told");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_rows_cover_every_byte),   cmocka_unit_test(test_gaps_are_padding),
        cmocka_unit_test(test_rows_are_sound),          cmocka_unit_test(test_finds_rows),
        cmocka_unit_test(test_says_what_is_allowed),    cmocka_unit_test(test_says_it_in_the_units_asked_for),
        cmocka_unit_test(test_what_is_told_is_allowed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
