/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Documents: numbers that read back exactly, null for what is not a number, and items found by their pointers. */

#include "sim/report/json.h"
#include "tests/support/check.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdlib.h>

static struct cJSON *sample(void)
{
    struct cJSON *document = wr_json_document();
    wr_json_number(document, "third", 1.0 / 3);
    wr_json_number(document, "nan", (double)NAN);
    wr_json_number(document, "infinity", (double)INFINITY);
    wr_json_count(document, "count", 18446744073709551615U);
    wr_json_word(document, "word", "a \"b\" \\ \x01 \xC3\xBC");
    wr_json_word(document, "none", NULL);
    wr_json_flag(document, "yes", true);
    struct cJSON *list = wr_json_list(document, "list");
    wr_json_number(list, NULL, 2.5);
    wr_json_word(wr_json_block(list, NULL), "a/b~c", "deep");
    wr_json_number(document, "", 7);
    return document;
}

static void text_reads_back(void **state)
{
    (void)state;
    struct cJSON *document = sample();
    char *text = wr_json_text(document);
    struct cJSON *again = cJSON_Parse(text);
    check_true(again != NULL, "the text is JSON");
    check(cJSON_GetObjectItem(again, "third")->valuedouble, 1.0 / 3, 0, "1/3 to the last bit");
    check_true(cJSON_IsNull(cJSON_GetObjectItem(again, "nan")), "NaN is null");
    check_true(cJSON_IsNull(cJSON_GetObjectItem(again, "infinity")), "infinity is null");
    check_true(cJSON_IsNull(cJSON_GetObjectItem(again, "none")), "no word is null");
    check_text(cJSON_GetStringValue(cJSON_GetObjectItem(again, "word")), "a \"b\" \\ \x01 \xC3\xBC", "a word escaped");
    check_holds(text, "18446744073709551615", "a whole number beyond a double's");
    check_holds(text, "}\n", "a line feed at the end");
    cJSON_Delete(again);
    free(text);
    cJSON_Delete(document);
}

/* By RFC 6901: ~1 is a slash, ~0 a tilde, a number an item of a list, "" the whole, "/" the empty key. */
static void pointers(void **state)
{
    (void)state;
    struct cJSON *document = sample();
    check(wr_json_number_of(wr_json_find(document, "/third")), 1.0 / 3, 0, "a key");
    check(wr_json_number_of(wr_json_find(document, "/list/0")), 2.5, 0, "an item");
    check_text(cJSON_GetStringValue(wr_json_find(document, "/list/1/a~1b~0c")), "deep", "escapes");
    check(wr_json_number_of(wr_json_find(document, "/")), 7, 0, "the empty key");
    check_true(wr_json_find(document, "") == document, "the whole");
    const char *nowhere[] = {"/nothing", "/list/2", "/list/00",       "/list/-",
                             "/third/a", "third",   "/list/1/a~1b~0", "/list/"};
    for (size_t i = 0; i < sizeof nowhere / sizeof *nowhere; i++)
        check_true(wr_json_find(document, nowhere[i]) == NULL, nowhere[i]);
    check_true(isnan(wr_json_number_of(wr_json_find(document, "/word"))), "a word is no number");
    check_true(isnan(wr_json_number_of(NULL)), "nothing is no number");
    cJSON_Delete(document);
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(text_reads_back), cmocka_unit_test(pointers)};
    return cmocka_run_group_tests(tests, NULL, NULL);
}
