/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/engine/timers.h"

/* Leaves of the tree over `count` timers. */
static size_t leaves_for(size_t count)
{
    assert(count >= 1 && count <= (size_t)1 << 31);
    size_t leaves = 2;
    while (leaves < count) {
        leaves *= 2;
    }
    return leaves;
}

size_t wr_timers_size(size_t count)
{
    const size_t leaves = leaves_for(count);
    const size_t bytes = leaves * (sizeof(int64_t) + sizeof(uint32_t));
    return (bytes + 15) / 16 * 16;
}

void wr_timers_attach(struct wr_timers *timers, size_t count, void *memory)
{
    assert(timers && memory && (uintptr_t)memory % _Alignof(int64_t) == 0);
    timers->count = count;
    timers->leaves = leaves_for(count);
    timers->ranks = memory;
    timers->winners = (uint32_t *)(timers->ranks + timers->leaves);
}

void wr_timers_init(struct wr_timers *timers, size_t count, void *memory)
{
    memset(memory, 0, wr_timers_size(count)); /* the bytes beyond the last node are saved with the rest */
    wr_timers_attach(timers, count, memory);
    for (size_t leaf = 0; leaf < timers->leaves; leaf++) {
        timers->ranks[leaf] = wr_timers_rank(WR_NEVER);
    }
    for (size_t node = timers->leaves - 1; node > 0; node--) {
        const size_t left = 2 * node;
        timers->winners[node] = left < timers->leaves ? timers->winners[left] : (uint32_t)(left - timers->leaves);
    }
}

/* The winner of two timers: the right one, of higher number, only if it is due before the left. Without a jump, as in
 * wr_timers_replay. */
static uint32_t play(const int64_t *ranks, uint32_t left, uint32_t right)
{
    return ranks[right] < ranks[left] ? right : left;
}

void wr_timers_set_range(struct wr_timers *timers, size_t first, size_t count, const double *times)
{
    assert(first <= timers->count && count <= timers->count - first);
    if (count == 0) {
        return;
    }
    for (size_t i = 0; i < count; i++) {
        assert(!isnan(times[i]));
        timers->ranks[first + i] = wr_timers_rank(times[i] + 0.0); /* no minus zero, as in wr_timers_set */
    }
    uint32_t *winners = timers->winners;
    size_t low = (timers->leaves + first) / 2, high = (timers->leaves + first + count - 1) / 2;
    for (size_t node = low; node <= high; node++) {
        const uint32_t left = (uint32_t)(2 * node - timers->leaves);
        winners[node] = play(timers->ranks, left, left + 1);
    }
    for (low /= 2, high /= 2; low > 0; low /= 2, high /= 2) {
        for (size_t node = low; node <= high; node++) {
            winners[node] = play(timers->ranks, winners[2 * node], winners[2 * node + 1]);
        }
    }
}
