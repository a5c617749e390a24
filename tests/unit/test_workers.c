/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Workers: each item once, whatever the number of threads, and what is done is the first so many. */
#include "sim/study/workers.h"
#include "tests/support/check.h"

enum { ITEMS = 1000 };

struct sums {
    long long squares[ITEMS];
    size_t calls[ITEMS];
    size_t stop_at;
    volatile sig_atomic_t stop;
};

static void square(void *context, size_t item)
{
    struct sums *sums = context;
    sums->squares[item] = (long long)(item * item);
    sums->calls[item]++;
    if (item == sums->stop_at)
        sums->stop = 1;
}

static void each_item_once(void **state)
{
    (void)state;
    for (size_t threads = 0; threads <= 5; threads++) {
        struct sums sums = {.stop_at = ITEMS};
        struct wr_workers workers = {.threads = threads, .expected = ITEMS};
        check_count(wr_workers_each(&workers, ITEMS, square, &sums), ITEMS, "items done");
        check_count(workers.done, ITEMS, "items counted");
        for (size_t i = 0; i < ITEMS; i++) {
            check_count(sums.calls[i], 1, "calls for an item");
            check_count(sums.squares[i], i * i, "its square");
        }
    }
}

static void nobody_is_one_thread(void **state)
{
    (void)state;
    struct sums sums = {.stop_at = ITEMS};
    check_count(wr_workers_threads(NULL), 1, "threads of no workers");
    check_count(wr_workers_each(NULL, ITEMS, square, &sums), ITEMS, "items done without workers");
    check_count(wr_workers_each(NULL, 0, square, &sums), 0, "no items");
}

/* With a stop at item 300 the first so many are done, 301 at least. More where other threads went on before the stop
 * was set. */
static void what_is_done_is_the_first_so_many(void **state)
{
    (void)state;
    for (size_t threads = 1; threads <= 4; threads++) {
        struct sums sums = {.stop_at = 300};
        struct wr_workers workers = {.threads = threads, .stop = &sums.stop};
        const size_t done = wr_workers_each(&workers, ITEMS, square, &sums);
        check_true(done >= 301 && (threads > 1 || done == 301), "items done before the stop was seen");
        check_true(wr_workers_stopped(&workers), "it stays stopped");
        for (size_t i = 0; i < ITEMS; i++)
            check_count(sums.calls[i], i < done ? 1 : 0, "calls for an item");
        check_count(wr_workers_each(&workers, ITEMS, square, &sums), 0, "nothing more is begun");
    }
}

static void count_told(const struct wr_workers *workers, void *context)
{
    size_t *told = context;
    check_count(workers->expected, ITEMS, "what is told is of the whole");
    check_true(workers->done >= ++*told, "and grows");
}

static void progress_is_told(void **state)
{
    (void)state;
    struct sums sums = {.stop_at = ITEMS};
    size_t told = 0;
    struct wr_workers workers = {.threads = 1, .expected = ITEMS, .tell = count_told, .context = &told};
    wr_workers_each(&workers, ITEMS, square, &sums);
    check_count(told, ITEMS, "told after each item");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(each_item_once),
        cmocka_unit_test(nobody_is_one_thread),
        cmocka_unit_test(what_is_done_is_the_first_so_many),
        cmocka_unit_test(progress_is_told),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
