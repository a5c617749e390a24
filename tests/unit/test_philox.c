/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Philox streams: the published blocks, how the generator reads them, and that its numbers are spread evenly. */
#include "sim/engine/philox.h"
#include "tests/support/check.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

struct known {
    uint32_t counter[4], key[2], block[4];
};

/* Known answers that the authors of Salmon et al. (2011) publish with their own implementation. */
static const struct known published[] = {
    {{0, 0, 0, 0}, {0, 0}, {0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}},
    {{0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff},
     {0xffffffff, 0xffffffff},
     {0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}},
    {{0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344},
     {0xa4093822, 0x299f31d0},
     {0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}},
};
enum { PUBLISHED = sizeof published / sizeof *published };

static gsl_rng *make(struct wr_stream stream)
{
    gsl_rng *rng = gsl_rng_alloc(wr_rng_philox);
    assert_non_null(rng);
    wr_philox_open(rng, stream);
    return rng;
}

static void test_published_blocks(void **state)
{
    (void)state;
    for (size_t i = 0; i < PUBLISHED; i++) {
        uint32_t block[4];
        wr_philox_block(published[i].counter, published[i].key, block);
        for (size_t j = 0; j < 4; j++) {
            check_count(block[j], published[i].block[j], "word of a block, published by the authors");
        }
    }
}

/* The same blocks through the generator: key = seed, counter = block number, component, purpose, replication; of each
 * block first the lower then the upper pair, of each pair the second word on top. */
static void test_generator_gives_the_published_blocks(void **state)
{
    (void)state;
    for (size_t i = 0; i < PUBLISHED; i++) {
        const struct known *known = &published[i];
        gsl_rng *rng = make((struct wr_stream){(uint64_t)known->key[1] << 32 | known->key[0], known->counter[1],
                                               known->counter[2], known->counter[3]});
        const uint64_t first = 2 * (uint64_t)known->counter[0];
        for (uint64_t half = 0; half < 2; half++) {
            const uint32_t top = known->block[2 * half + 1], bottom = known->block[2 * half];
            wr_philox_jump(rng, first + half);
            check_count(gsl_rng_get(rng), top, "upper 32 bits of a draw, published by the authors");
            wr_philox_jump(rng, first + half);
            check(gsl_rng_uniform(rng), top * 0x1p-32 + (bottom >> 11) * 0x1p-53, 0.0,
                  "upper 53 bits of a draw as a number, published by the authors");
        }
        gsl_rng_free(rng);
    }
}

static void test_seed_takes_64_bits_and_zero(void **state)
{
    (void)state;
    gsl_rng *rng = gsl_rng_alloc(wr_rng_philox);
    gsl_rng_set(rng, 0);
    check_count(gsl_rng_get(rng), published[0].block[1], "first draw of seed 0, published by the authors");
    gsl_rng_set(rng, 1UL << 40);
    const unsigned long high = gsl_rng_get(rng);
    check_true(high != published[0].block[1], "a seed's upper bits count");
    gsl_rng *opened = make((struct wr_stream){.seed = (uint64_t)1 << 40});
    check_count(gsl_rng_get(opened), high, "set against open with the same seed");
    gsl_rng_free(opened);
    gsl_rng_free(rng);
}

/* Setting the seed of a used generator starts it anew, whatever was open and half used before. */
static void test_setting_starts_anew(void **state)
{
    (void)state;
    gsl_rng *rng = make((struct wr_stream){5, 6, 7, 8});
    gsl_rng_get(rng);
    gsl_rng_set(rng, 0);
    check_count(wr_philox_draw(rng), 0, "number of the next draw after a set");
    check_count(gsl_rng_get(rng), published[0].block[1], "first draw of seed 0, published by the authors");
    gsl_rng_free(rng);
}

static void test_jump_gives_what_drawing_gives(void **state)
{
    (void)state;
    enum { LENGTH = 200 };
    gsl_rng *rng = make((struct wr_stream){42, 3, 1, 9});
    double drawn[LENGTH];
    for (size_t i = 0; i < LENGTH; i++) {
        check_count(wr_philox_draw(rng), i, "number of the next draw");
        drawn[i] = gsl_rng_uniform(rng);
    }
    for (size_t i = 0; i < LENGTH; i++) {
        const size_t to = i * 77 % LENGTH; /* forth and back, to each once */
        wr_philox_jump(rng, to);
        check(gsl_rng_uniform(rng), drawn[to], 0.0, "draw after a jump");
        if (to + 1 < LENGTH) {
            check(gsl_rng_uniform(rng), drawn[to + 1], 0.0, "second draw after a jump");
        }
    }
    wr_philox_jump(rng, WR_PHILOX_DRAWS - 1);
    const double last = gsl_rng_uniform(rng);
    check_between(last, 0.0, 1.0 - 0x1p-53, "last draw of a stream");
    check_count(wr_philox_draw(rng), WR_PHILOX_DRAWS, "number after the last draw");
    gsl_rng_free(rng);
}

/* Whole numbers and fractions move on alike, so a stream's draws keep their numbers whichever are asked for. */
static void test_either_kind_moves_by_one(void **state)
{
    (void)state;
    gsl_rng *whole = make((struct wr_stream){.seed = 11}), *mixed = make((struct wr_stream){.seed = 11});
    for (size_t i = 0; i < 100; i++) {
        const unsigned long expected = gsl_rng_get(whole);
        if (i % 3) {
            check(floor(gsl_rng_uniform(mixed) * 0x1p32), (double)expected, 0.0, "upper 32 bits of a fraction");
        } else {
            check_count(gsl_rng_get(mixed), expected, "whole draw between fractions");
        }
    }
    gsl_rng_free(whole);
    gsl_rng_free(mixed);
}

static void test_copies_go_on_alike(void **state)
{
    (void)state;
    gsl_rng *rng = make((struct wr_stream){1, 2, 3, 4}), *other = gsl_rng_alloc(wr_rng_philox);
    gsl_rng_get(rng); /* leaves half a block over */
    gsl_rng *clone = gsl_rng_clone(rng);
    gsl_rng_memcpy(other, rng);
    for (size_t i = 0; i < 5; i++) {
        const unsigned long expected = gsl_rng_get(rng);
        check_count(gsl_rng_get(clone), expected, "draw of a clone");
        check_count(gsl_rng_get(other), expected, "draw of a copy");
    }
    gsl_rng_free(clone);
    gsl_rng_free(other);
    gsl_rng_free(rng);
}

/* Streams that differ in one word only share none of their first draws. Of 6 x 1000 draws of 53 bits two are alike by
 * chance with a probability of 6000^2 / 2 / 2^53 = 2e-9; the seed is fixed. */
static void test_streams_are_distinct(void **state)
{
    (void)state;
    enum { STREAMS = 6, LENGTH = 1000 };
    const struct wr_stream streams[STREAMS] = {{7, 0, 0, 0}, {8, 0, 0, 0}, {7 + ((uint64_t)1 << 32), 0, 0, 0},
                                               {7, 1, 0, 0}, {7, 0, 1, 0}, {7, 0, 0, 1}};
    static double drawn[STREAMS * LENGTH];
    for (size_t i = 0; i < STREAMS; i++) {
        gsl_rng *rng = make(streams[i]);
        for (size_t j = 0; j < LENGTH; j++) {
            drawn[i * LENGTH + j] = gsl_rng_uniform(rng);
        }
        gsl_rng_free(rng);
    }
    size_t alike = 0;
    for (size_t i = 0; i < STREAMS * LENGTH; i++) {
        for (size_t j = 0; j < i; j++) {
            alike += drawn[i] == drawn[j];
        }
    }
    check_count(alike, 0, "pairs of equal draws among six streams");
}

/* Chi-square of counts that should all be alike. */
static double chi_square(const size_t *counts, size_t cells, size_t draws)
{
    const double expected = (double)draws / (double)cells;
    double sum = 0.0;
    for (size_t i = 0; i < cells; i++) {
        const double off = (double)counts[i] - expected;
        sum += off * off / expected;
    }
    return sum;
}

/* Chi-square lies between its quantiles of 0.0005 and 0.9995: a false alarm once in a thousand seeds; this one is
 * fixed. */
static void check_even(const size_t *counts, size_t cells, size_t draws, const char *what)
{
    const double freedom = (double)(cells - 1);
    check_between(chi_square(counts, cells, draws), gsl_cdf_chisq_Pinv(0.0005, freedom),
                  gsl_cdf_chisq_Qinv(0.0005, freedom), what);
}

static void test_fractions_are_uniform(void **state)
{
    (void)state;
    enum { CELLS = 1000, DRAWS = 1000000 };
    size_t counts[CELLS] = {0};
    gsl_rng *rng = make((struct wr_stream){20, 1, 0, 0});
    for (size_t i = 0; i < DRAWS; i++) {
        counts[(size_t)(gsl_rng_uniform(rng) * CELLS)]++;
    }
    gsl_rng_free(rng);
    check_even(counts, CELLS, DRAWS, "chi-square of 1000 cells");
}

/* Neighbours in a stream, and draws of the same number in neighbouring streams, fill the square evenly. */
static void test_pairs_are_uniform(void **state)
{
    (void)state;
    enum { SIDE = 32, CELLS = SIDE * SIDE, DRAWS = 1000000 };
    size_t within[CELLS] = {0}, across[CELLS] = {0};
    gsl_rng *rng = make((struct wr_stream){20, 2, 0, 0}), *beside = make((struct wr_stream){20, 3, 0, 0});
    for (size_t i = 0; i < DRAWS; i++) {
        const size_t first = (size_t)(gsl_rng_uniform(rng) * SIDE), second = (size_t)(gsl_rng_uniform(rng) * SIDE);
        within[first * SIDE + second]++;
        wr_philox_jump(beside, 2 * i);
        across[first * SIDE + (size_t)(gsl_rng_uniform(beside) * SIDE)]++;
    }
    gsl_rng_free(rng);
    gsl_rng_free(beside);
    check_even(within, CELLS, DRAWS, "chi-square of pairs in one stream");
    check_even(across, CELLS, DRAWS, "chi-square of pairs in two streams");
}

/* Each of the 53 bits of a fraction is one half of the time; bound 5 standard deviations, false alarm 53 x 6e-7. */
static void test_each_bit_is_fair(void **state)
{
    (void)state;
    enum { DRAWS = 100000, BITS = 53 };
    size_t ones[BITS] = {0};
    gsl_rng *rng = make((struct wr_stream){20, 4, 0, 0});
    for (size_t i = 0; i < DRAWS; i++) {
        const uint64_t bits = (uint64_t)(gsl_rng_uniform(rng) * 0x1p53);
        for (size_t j = 0; j < BITS; j++) {
            ones[j] += bits >> j & 1;
        }
    }
    gsl_rng_free(rng);
    for (size_t j = 0; j < BITS; j++) {
        check((double)ones[j], DRAWS / 2.0, 5.0 * sqrt(DRAWS / 4.0), "ones of a bit");
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(test_published_blocks),
        cmocka_unit_test(test_generator_gives_the_published_blocks),
        cmocka_unit_test(test_seed_takes_64_bits_and_zero),
        cmocka_unit_test(test_setting_starts_anew),
        cmocka_unit_test(test_jump_gives_what_drawing_gives),
        cmocka_unit_test(test_either_kind_moves_by_one),
        cmocka_unit_test(test_copies_go_on_alike),
        cmocka_unit_test(test_streams_are_distinct),
        cmocka_unit_test(test_fractions_are_uniform),
        cmocka_unit_test(test_pairs_are_uniform),
        cmocka_unit_test(test_each_bit_is_fair),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
