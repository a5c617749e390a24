/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The draws of random plants against the parameter table: all that a scenario may say occurs, each key that may be left
 * out is also left out, and every plant drawn is one. A new row without a draw fails here. */
#include "sim/plant/plant.h"
#include "sim/scenario/parameter.h"
#include "tests/plant/random_plant.h"
#include "tests/support/check.h"

#include <cjson/cJSON.h>
#include <stdlib.h>
#include <string.h>

enum { PLANTS = 1000, ROWS = 400, WORDS = 12 };

/* How often a row of the table was given and left out, and each of its words. */
struct tally {
    const struct wr_block *block;
    const struct wr_parameter *row;
    size_t given, left_out, words[WORDS];
};

struct tallies {
    struct tally rows[ROWS];
    size_t count;
};

/* Hours and the like stand at several places: each is counted for itself only where its block is another. */
static void add_row(const struct wr_block *block, const struct wr_parameter *row, size_t depth, void *context)
{
    struct tallies *all = context;
    (void)depth;
    for (size_t i = 0; i < all->count; i++)
        if (all->rows[i].row == row)
            return;
    assert_true(all->count < ROWS);
    all->rows[all->count++] = (struct tally){.block = block, .row = row};
}

static struct tally *tally_of(struct tallies *all, const struct wr_parameter *row)
{
    for (size_t i = 0; i < all->count; i++)
        if (all->rows[i].row == row)
            return &all->rows[i];
    fail_msg("no row %s", row->key);
    return NULL;
}

static void count_word(struct tally *tally, const char *word)
{
    for (size_t i = 0; tally->row->choices[i] != NULL; i++) {
        assert_true(i < WORDS);
        tally->words[i] += strcmp(tally->row->choices[i], word) == 0;
    }
}

static void count_block(struct tallies *all, const struct wr_block *block, const cJSON *json)
{
    for (size_t i = 0; i < block->count; i++) {
        const struct wr_parameter *row = &block->parameters[i];
        struct tally *tally = tally_of(all, row);
        const cJSON *value = cJSON_GetObjectItemCaseSensitive(json, row->key), *item;
        tally->given += value != NULL;
        tally->left_out += value == NULL;
        if (value == NULL)
            continue;
        if (row->kind == WR_IS_CHOICE)
            count_word(tally, value->valuestring);
        if (row->kind == WR_IS_BLOCK)
            count_block(all, row->block, value);
        if (row->kind == WR_IS_BLOCK_LIST)
            cJSON_ArrayForEach(item, value)
            {
                count_block(all, row->block, item);
            }
    }
}

static void test_all_that_a_scenario_may_say_occurs(void **context)
{
    (void)context;
    static struct tallies all;
    size_t missing = 0;
    wr_table_walk(&wr_block_scenario, add_row, &all);
    for (unsigned seed = 1; seed <= PLANTS; seed++) {
        char *text = random_plant_text(seed);
        cJSON *json = cJSON_Parse(text);
        count_block(&all, &wr_block_scenario, json);
        cJSON_Delete(json);
        free(text);
    }
    for (size_t i = 0; i < all.count; i++) {
        const struct tally *tally = &all.rows[i];
        if (tally->given == 0 || (tally->left_out == 0) != tally->row->required) {
            print_error("%s of %s: given %zu times, left out %zu times\n", tally->row->key, tally->block->name,
                        tally->given, tally->left_out);
            missing++;
        }
        for (size_t w = 0; tally->row->kind == WR_IS_CHOICE && tally->row->choices[w] != NULL; w++)
            if (tally->words[w] == 0) {
                print_error("%s of %s: never \"%s\"\n", tally->row->key, tally->block->name, tally->row->choices[w]);
                missing++;
            }
    }
    check_true(all.count > 120, "rows of the table");
    check_count(missing, 0, "keys and words that never occur, or always");
}

/* Each plant passes the reader and its models can be worked out. */
static void test_every_plant_drawn_is_one(void **context)
{
    (void)context;
    size_t bad = 0;
    for (unsigned seed = 1; seed <= PLANTS && bad < 5; seed++) {
        struct wr_reading reading;
        if (!random_plant_read(&reading, seed)) {
            char *complaints = wr_reading_complaints_text(&reading);
            print_error("%s", complaints);
            free(complaints);
            bad++;
        } else {
            struct wr_plant plant;
            const enum wr_status status = wr_plant_init(&plant, &reading.definition);
            if (status == WR_OK)
                wr_plant_fini(&plant);
            else
                print_error("seed %u: %s\n", seed, wr_status_text(status));
            bad += status != WR_OK;
        }
        wr_reading_fini(&reading);
    }
    check_count(bad, 0, "plants that do not pass");
}

static void test_the_same_seed_draws_the_same_plant(void **context)
{
    (void)context;
    char *one = random_plant_text(7), *again = random_plant_text(7), *other = random_plant_text(8);
    assert_string_equal(one, again);
    assert_string_not_equal(one, other);
    free(one);
    free(again);
    free(other);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_all_that_a_scenario_may_say_occurs),
        cmocka_unit_test(test_every_plant_drawn_is_one),
        cmocka_unit_test(test_the_same_seed_draws_the_same_plant),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
