/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/study/workers.h"

#include <pthread.h>
#include <unistd.h>

/* Items of one call, handed out in order. */
struct pile {
    pthread_mutex_t lock;
    struct wr_workers *workers; /* NULL: one thread that nobody stops */
    size_t next, count, done;
    void (*work)(void *context, size_t item);
    void *context;
};

size_t wr_workers_threads(const struct wr_workers *workers)
{
    size_t threads = workers != NULL ? workers->threads : 1;
    if (threads == 0) {
        const long cores = sysconf(_SC_NPROCESSORS_ONLN);
        threads = cores > 0 ? (size_t)cores : 1;
    }
    return threads < WR_WORKERS_MOST ? threads : WR_WORKERS_MOST;
}

bool wr_workers_stopped(const struct wr_workers *workers)
{
    return workers != NULL && workers->stop != NULL && *workers->stop != 0;
}

/* The next item to begin; `count` when there is none. */
static size_t take(struct pile *pile)
{
    pthread_mutex_lock(&pile->lock);
    const size_t item = wr_workers_stopped(pile->workers) ? pile->count : pile->next;
    if (item < pile->count)
        pile->next++;
    pthread_mutex_unlock(&pile->lock);
    return item;
}

static void note_done(struct pile *pile)
{
    pthread_mutex_lock(&pile->lock);
    pile->done++;
    if (pile->workers != NULL)
        pile->workers->done++;
    pthread_mutex_unlock(&pile->lock);
}

/* How the study stands, for whoever watches; others go on counting meanwhile. */
static void tell(struct pile *pile)
{
    if (pile->workers == NULL || pile->workers->tell == NULL)
        return;
    pthread_mutex_lock(&pile->lock);
    const struct wr_workers now = *pile->workers;
    pthread_mutex_unlock(&pile->lock);
    now.tell(&now, now.context);
}

static void work_on(struct pile *pile, bool tells)
{
    for (size_t item; (item = take(pile)) < pile->count;) {
        pile->work(pile->context, item);
        note_done(pile);
        if (tells)
            tell(pile);
    }
}

static void *help(void *pile)
{
    work_on(pile, false);
    return NULL;
}

size_t wr_workers_each(struct wr_workers *workers, size_t count, void (*work)(void *context, size_t item),
                       void *context)
{
    struct pile pile = {.workers = workers, .count = count, .work = work, .context = context};
    pthread_t helpers[WR_WORKERS_MOST];
    size_t helping = 0;
    const size_t threads = wr_workers_threads(workers);
    pthread_mutex_init(&pile.lock, NULL);
    while (helping + 1 < threads && helping + 1 < count && pthread_create(&helpers[helping], NULL, help, &pile) == 0)
        helping++;
    work_on(&pile, true);
    for (size_t h = 0; h < helping; h++)
        pthread_join(helpers[h], NULL);
    pthread_mutex_destroy(&pile.lock);
    return pile.done;
}
