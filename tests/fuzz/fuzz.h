/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_FUZZ_FUZZ_H
#define WR_TESTS_FUZZ_FUZZ_H

/* Hostile input: what reads text from outside is given bytes that nobody would write, and must neither crash nor hang,
 * leak, accept without an answer or refuse without a complaint.
 *
 * Each fuzz_NAME.c is one target: the function that libFuzzer calls, on one input. In the usual build drive.c calls it
 * on its corpus and on spoilt copies of that; with WR_FUZZER libFuzzer does, led by what each input reaches. */

#include "sim/washrota.h"

#include <stddef.h>
#include <stdint.h>

/* One input of a target. Always 0; ends the program where the input shows a fault. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

/* What an opened scenario is asked: its complaints where it is bad; else that it reads again the same, its check, now
 * and then its beds, and a run of some hours, each with its texts. Closes it. Ends the program where one is not as it
 * must be. */
void fuzz_examine(struct wr_scenario *scenario);

/* Ends the program with a line on what is wrong, as a sanitizer would. */
void fuzz_fail(const char *what, const char *detail) __attribute__((noreturn));

/* Counts an input, and now and then has the library forget the units it met. */
void fuzz_count_input(void);

/* Words that a scenario may hold, from the parameter table: keys, choices, limits and values beside them, pointers,
 * and some that no table has. As they stand in JSON. */
struct fuzz_words {
    char **items;
    size_t count;
};

void fuzz_words_init(struct fuzz_words *words);
void fuzz_words_fini(struct fuzz_words *words);

/* Bytes of a file, zero-ended; `*size` without the zero. Ends the program where there is none. The caller frees. */
char *fuzz_file(const char *path, size_t *size);

#endif
