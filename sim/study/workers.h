/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_WORKERS_H
#define WR_SIM_STUDY_WORKERS_H

/* Many runs on all cores.
 *
 * A study is a list of items, each worked by one thread into a place of its own. Items are begun in their order and one
 * that was begun is ended, so that what is done is always the first so many, and no answer depends on the number of
 * threads. A definition is constant and may be shared; whatever reads scenarios or texts of units must not be called by
 * an item (sim/scenario/quantity.h). */

#include <signal.h>
#include <stdbool.h>
#include <stddef.h>

enum { WR_WORKERS_MOST = 256 };

struct wr_workers {
    size_t threads;                    /* 0: as many as there are cores */
    const volatile sig_atomic_t *stop; /* no further item is begun once it is not 0; NULL: never */
    size_t expected, done;             /* items of the whole study, as the study says and as they are counted */
    void (*tell)(const struct wr_workers *workers, void *context); /* in the calling thread after an item; NULL */
    void *context;
};

/* How many threads there will be. */
size_t wr_workers_threads(const struct wr_workers *workers);

/* True when no further item will be begun. */
bool wr_workers_stopped(const struct wr_workers *workers);

/* Calls `work` for the items 0 to count - 1, each once, from this thread and as many others as there are to be. Returns
 * how many of them are done: the first so many. NULL for workers is one thread. Where the system gives fewer threads
 * the work is done by those there are. */
size_t wr_workers_each(struct wr_workers *workers, size_t count, void (*work)(void *context, size_t item),
                       void *context);

#endif
