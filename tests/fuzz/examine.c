/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tests/fuzz/fuzz.h"

#include "sim/handles.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Long enough for a wash with its settling; a day would make a million inputs a matter of days. */
static const double LONGEST_RUN = 6 * 3600.0;

enum { INPUTS_REMEMBERED = 2000 };

void fuzz_fail(const char *what, const char *detail)
{
    fprintf(stderr, "fuzz: %s: %s\n", what, detail);
    abort();
}

void fuzz_count_input(void)
{
    static size_t inputs;
    if (++inputs % INPUTS_REMEMBERED == 0)
        wr_library_close();
}

char *fuzz_file(const char *path, size_t *size)
{
    FILE *file = fopen(path, "rb");
    if (file == NULL)
        fuzz_fail("no such file", path);
    fseek(file, 0, SEEK_END);
    *size = (size_t)ftell(file);
    rewind(file);
    char *bytes = malloc(*size + 1);
    if (bytes == NULL || fread(bytes, 1, *size, file) != *size)
        fuzz_fail("cannot be read", path);
    bytes[*size] = '\0';
    fclose(file);
    return bytes;
}

/* Takes an answer, writes what a reader would see of it, and closes it. */
static void read_answer(struct wr_answer *answer, const char *what)
{
    if (answer == NULL)
        fuzz_fail("no answer", what);
    if (wr_answer_outcome(answer) == WR_OUTCOME_FAULT)
        fuzz_fail(what, wr_answer_message(answer));
    char *text = wr_answer_text(answer, WR_SHOW_AS_WRITTEN);
    char *json = wr_answer_json(answer);
    if (wr_answer_outcome(answer) <= WR_OUTCOME_FAILS && (text == NULL || text[0] == '\0' || json == NULL))
        fuzz_fail("an answer without words", what);
    free(text);
    free(json);
    wr_answer_close(answer);
}

/* The scenario as it is written reads again to the same. */
static void read_again(const struct wr_scenario *scenario)
{
    const char *text = wr_scenario_text(scenario);
    struct wr_scenario *again = wr_scenario_open_text("again", text, strlen(text), NULL, 0);
    if (!wr_scenario_is_good(again))
        fuzz_fail("written again it is bad", wr_scenario_complaints(again));
    if (strcmp(wr_scenario_text(again), text) != 0)
        fuzz_fail("written again it is another", text);
    wr_scenario_close(again);
}

void fuzz_examine(struct wr_scenario *scenario)
{
    char *complaints = wr_scenario_complaints(scenario);
    if (wr_scenario_is_good(scenario) != (complaints[0] == '\0'))
        fuzz_fail("good with complaints, or bad without", complaints);
    free(complaints);
    if (wr_scenario_is_good(scenario)) {
        read_again(scenario);
        read_answer(wr_scenario_check(scenario), "check");
        /* By far the longest: some inputs in sixteen, always the same ones. */
        if (strlen(wr_scenario_text(scenario)) % 16 == 0)
            read_answer(wr_scenario_bed(scenario), "bed");
        double *horizon = &scenario->reading.definition.horizon;
        *horizon = *horizon < LONGEST_RUN ? *horizon : LONGEST_RUN;
        read_answer(wr_scenario_run(scenario), "run");
    }
    wr_scenario_close(scenario);
}
