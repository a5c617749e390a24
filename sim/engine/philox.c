/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/engine/philox.h"

#include <assert.h>

/* Multipliers of the rounds and steps of the key, after Salmon et al. (2011): written from memory and pinned by the
 * known answers in tests/unit/test_philox.c. */
enum { ROUNDS = 10 };
static const uint32_t multiplier[2] = {0xD2511F53U, 0xCD9E8D57U};
static const uint32_t key_step[2] = {0x9E3779B9U, 0xBB67AE85U};

void wr_philox_block(const uint32_t counter[4], const uint32_t key[2], uint32_t block[4])
{
    uint32_t a = counter[0], b = counter[1], c = counter[2], d = counter[3];
    uint32_t k = key[0], l = key[1];
    for (int round = 0; round < ROUNDS; round++) {
        const uint64_t p = (uint64_t)multiplier[0] * a;
        const uint64_t q = (uint64_t)multiplier[1] * c;
        a = (uint32_t)(q >> 32) ^ b ^ k;
        b = (uint32_t)q;
        c = (uint32_t)(p >> 32) ^ d ^ l;
        d = (uint32_t)p;
        k += key_step[0];
        l += key_step[1];
    }
    block[0] = a;
    block[1] = b;
    block[2] = c;
    block[3] = d;
}

/* Works out the block of the next draw. */
static void fill(struct wr_philox *state)
{
    state->counter[0] = (uint32_t)(state->draw / 2);
    uint32_t block[4];
    wr_philox_block(state->counter, state->key, block);
    state->half[0] = (uint64_t)block[1] << 32 | block[0];
    state->half[1] = (uint64_t)block[3] << 32 | block[2];
}

static void open_stream(struct wr_philox *state, struct wr_stream stream)
{
    *state = (struct wr_philox){
        .key = {(uint32_t)stream.seed, (uint32_t)(stream.seed >> 32)},
        .counter = {0, stream.component, stream.purpose, stream.replication},
    };
}

/* The next 64 bits. The block is worked out at its first half and kept for its second. */
static uint64_t draw_bits(struct wr_philox *state)
{
    assert(state->draw < WR_PHILOX_DRAWS);
    const size_t half = state->draw & 1;
    if (half == 0) {
        fill(state);
    }
    state->draw++;
    return state->half[half];
}

static void set(void *state, unsigned long seed)
{
    open_stream(state, (struct wr_stream){.seed = seed});
}

static unsigned long get(void *state)
{
    return (unsigned long)(draw_bits(state) >> 32);
}

static double get_double(void *state)
{
    return (double)(draw_bits(state) >> 11) * 0x1.0p-53;
}

static const gsl_rng_type philox_type = {
    .name = "philox4x32-10",
    .max = 0xFFFFFFFFUL,
    .min = 0,
    .size = sizeof(struct wr_philox),
    .set = set,
    .get = get,
    .get_double = get_double,
};

const gsl_rng_type *const wr_rng_philox = &philox_type;

/* The state of a generator that must be of our type. */
static struct wr_philox *state_of(const gsl_rng *rng)
{
    assert(rng && rng->type == wr_rng_philox);
    return rng->state;
}

void wr_philox_open(gsl_rng *rng, struct wr_stream stream)
{
    open_stream(state_of(rng), stream);
}

void wr_philox_jump(gsl_rng *rng, uint64_t draw)
{
    struct wr_philox *state = state_of(rng);
    assert(draw < WR_PHILOX_DRAWS);
    state->draw = draw;
    if (draw & 1) {
        fill(state);
    }
}

uint64_t wr_philox_draw(const gsl_rng *rng)
{
    return state_of(rng)->draw;
}
