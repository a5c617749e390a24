/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "models/status.h"
#include "tests/support/check.h"

#include <string.h>

static void every_code_has_words_of_its_own(void **state)
{
    (void)state;
    for (int code = 0; code < WR_STATUS_COUNT; code++) {
        const char *text = wr_status_text((enum wr_status)code);
        check_true(strlen(text) > 3, "the code has words");
        check_true(strcmp(text, "unknown status") != 0, "the words are not those for no code");
        for (int other = 0; other < code; other++)
            check_true(strcmp(text, wr_status_text((enum wr_status)other)) != 0, "no two codes share words");
    }
}

static void words_stand_beside_their_code(void **state)
{
    (void)state;
    check_text(wr_status_text(WR_OK), "no fault", "words of WR_OK");
    check_holds(wr_status_text(WR_OUT_OF_RANGE), "range", "words of WR_OUT_OF_RANGE");
    check_holds(wr_status_text(WR_NO_LOAD), "solids", "words of WR_NO_LOAD");
}

static void number_that_is_no_code_is_unknown(void **state)
{
    (void)state;
    check_text(wr_status_text(WR_STATUS_COUNT), "unknown status", "words past the last code");
    check_text(wr_status_text((enum wr_status) - 1), "unknown status", "words before the first code");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_code_has_words_of_its_own),
        cmocka_unit_test(words_stand_beside_their_code),
        cmocka_unit_test(number_that_is_no_code_is_unknown),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
