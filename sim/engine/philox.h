/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * Philox4x32-10 as a generator of the GNU Scientific Library.
 *
 * A counter-based generator: the n-th draw of a stream is a function of the seed, the stream and n alone. So the same
 * draws come whatever the order of work and the number of threads, and adding a component moves no other's draws.
 *
 * A draw is 64 bits, half a block: gsl_rng_get gives its upper 32 bits, gsl_rng_uniform its upper 53 as a number in
 * [0, 1), a multiple of 2^-53. Either moves on by one draw.
 *
 * Source: J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw, "Parallel random numbers: as easy as 1, 2, 3", SC11
 * (2011). The block's key is the seed; its counter words are the block number, component, purpose and
 * replication.
 */
#ifndef WR_ENGINE_PHILOX_H
#define WR_ENGINE_PHILOX_H

#include <gsl/gsl_rng.h>
#include <stdint.h>

/* Draws in a stream: two for each of 2^32 block numbers. */
#define WR_PHILOX_DRAWS ((uint64_t)1 << 33)

/* What names a stream: who draws, for what, in which replication. Streams that differ in any word do not overlap. */
struct wr_stream {
    uint64_t seed;
    uint32_t component, purpose, replication;
};

/* State of a generator: plain bytes without gaps, copied by gsl_rng_memcpy and gsl_rng_clone. */
struct wr_philox {
    uint64_t draw;       /* number of the next draw */
    uint64_t half[2];    /* both draws of the block last worked out */
    uint32_t key[2];     /* the seed, lower half first */
    uint32_t counter[4]; /* number of the block last worked out, component, purpose, replication */
};

/* The generator's type, for gsl_rng_alloc. gsl_rng_set takes all 64 bits of the seed, 0 as good as any, and opens the
 * stream of component, purpose and replication 0. */
extern const gsl_rng_type *const wr_rng_philox;

/* Opens a stream at its first draw, on a generator of type wr_rng_philox. */
void wr_philox_open(gsl_rng *rng, struct wr_stream stream);

/* Goes to a draw of the open stream, forth or back: 0 is the first, below WR_PHILOX_DRAWS. */
void wr_philox_jump(gsl_rng *rng, uint64_t draw);

/* Number of the draw that comes next. */
uint64_t wr_philox_draw(const gsl_rng *rng);

/* One block: ten rounds of Philox4x32 over a counter under a key. */
void wr_philox_block(const uint32_t counter[4], const uint32_t key[2], uint32_t block[4]);

#endif
