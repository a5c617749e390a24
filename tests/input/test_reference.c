/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pages that are written from the parameter table are what the table gives now. `input_reference reference` and
 * `input_reference schema` write them to standard output. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "sim/scenario/quantity.h"
#include "tests/input/edit.h"
#include "tests/input/reference.h"
#include "tests/support/check.h"

static void test_reference(void **state)
{
    char *text = wr_reference_text();

    (void)state;
    wr_edit_compare(text, "docs/scenario.md");
    free(text);
}

static void test_schema(void **state)
{
    char *text = wr_schema_text();

    (void)state;
    wr_edit_compare(text, "scenarios/scenario.schema.json");
    free(text);
}

static int write_page(const char *which)
{
    char *text = strcmp(which, "schema") == 0 ? wr_schema_text() : wr_reference_text();

    fputs(text, stdout);
    free(text);
    wr_quantities_free();
    return 0;
}

int main(int count, char **words)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(test_reference), cmocka_unit_test(test_schema)};

    if (count == 2)
        return write_page(words[1]);
    int failed = cmocka_run_group_tests(tests, NULL, NULL);
    wr_quantities_free();
    return failed;
}
