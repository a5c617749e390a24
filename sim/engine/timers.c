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
    const size_t bytes = leaves * (sizeof(double) + sizeof(uint32_t));
    return (bytes + 15) / 16 * 16;
}

void wr_timers_attach(struct wr_timers *timers, size_t count, void *memory)
{
    assert(timers && memory && (uintptr_t)memory % _Alignof(double) == 0);
    timers->count = count;
    timers->leaves = leaves_for(count);
    timers->times = memory;
    timers->winners = (uint32_t *)(timers->times + timers->leaves);
}

void wr_timers_init(struct wr_timers *timers, size_t count, void *memory)
{
    memset(memory, 0, wr_timers_size(count)); /* the bytes beyond the last node are saved with the rest */
    wr_timers_attach(timers, count, memory);
    for (size_t leaf = 0; leaf < timers->leaves; leaf++) {
        timers->times[leaf] = WR_NEVER;
    }
    for (size_t node = timers->leaves - 1; node > 0; node--) {
        const size_t left = 2 * node;
        timers->winners[node] = left < timers->leaves ? timers->winners[left] : (uint32_t)(left - timers->leaves);
    }
}
