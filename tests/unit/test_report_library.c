/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The library from outside, by its one public header alone. */

#include "sim/washrota.h"
#include "tests/support/check.h"

#include <stdlib.h>
#include <string.h>

#define PLANT WR_ROOT "/tests/cli/plant.json"

static int open_library(void **state)
{
    (void)state;
    wr_library_open();
    return 0;
}

static int close_library(void **state)
{
    (void)state;
    wr_library_close();
    return 0;
}

static double number(const struct wr_answer *answer, const char *pointer)
{
    double value = 0;
    check_true(wr_answer_number(answer, pointer, &value), pointer);
    return value;
}

static void a_good_scenario(void **state)
{
    (void)state;
    const char *settings[] = {"/title=Changed", "/horizon=7 d"};
    struct wr_scenario *scenario = wr_scenario_open(PLANT, settings, 2);
    check_true(wr_scenario_is_good(scenario), "the fixture reads");
    check_text(wr_scenario_title(scenario), "Changed", "a setting is applied");
    check_count(strlen(wr_scenario_sha256(scenario)), 64, "digits of its hash");
    char *complaints = wr_scenario_complaints(scenario);
    check_text(complaints, "", "nothing to complain of");
    free(complaints);

    /* The text gives the same scenario again, its settings in it. */
    const char *text = wr_scenario_text(scenario);
    struct wr_scenario *again = wr_scenario_open_text("again", text, strlen(text), NULL, 0);
    check_text(wr_scenario_text(again), text, "the text of the text");
    check_text(wr_scenario_sha256(again), wr_scenario_sha256(scenario), "and its hash");
    wr_scenario_close(again);
    wr_scenario_close(scenario);
}

static void a_run(void **state)
{
    (void)state;
    struct wr_scenario *scenario = wr_scenario_open(PLANT, NULL, 0);
    struct wr_answer *answer = wr_scenario_run(scenario);
    check_count(wr_answer_outcome(answer), WR_OUTCOME_PASSES, "the fixture passes");
    check_text(wr_answer_message(answer), "", "without a message");
    check_share(number(answer, "/answers/demand/asked_m3"), 18200, 1e-12, "1300 m3/d over 14 d, by hand");
    check(number(answer, "/seed"), 7, 0, "the seed as written");
    const char *word = NULL;
    check_true(wr_answer_word(answer, "/filters/2/name", &word), "a word");
    check_text(word, "F3", "the third filter");
    bool flag = false;
    check_true(wr_answer_flag(answer, "/answers/passes", &flag) && flag, "a flag");
    double value = 12;
    check_true(!wr_answer_number(answer, "/answers/passes", &value) && value == 12, "a flag is no number");
    check_true(!wr_answer_word(answer, "/seed", &word), "a number is no word");
    check_true(!wr_answer_flag(answer, "/no/such", &flag), "what is not there is none");

    char *si = wr_answer_text(answer, WR_SHOW_SI), *written = wr_answer_text(answer, WR_SHOW_AS_WRITTEN);
    char *us = wr_answer_text(answer, WR_SHOW_US);
    check_text(written, si, "the fixture asks for SI");
    check_true(strcmp(us, si) != 0, "US units differ");
    free(si);
    free(written);
    free(us);
    wr_answer_close(answer);
    wr_scenario_close(scenario);
}

/* The same question gives the same bytes, also after others were asked in between. */
static void answers_repeat(void **state)
{
    (void)state;
    struct wr_scenario *scenario = wr_scenario_open(PLANT, NULL, 0);
    struct wr_answer *first = wr_scenario_run(scenario);
    struct wr_answer *between = wr_scenario_firm(scenario);
    struct wr_answer *second = wr_scenario_run(scenario);
    char *one = wr_answer_json(first), *two = wr_answer_json(second);
    check_text(two, one, "two answers to one question");
    check_share(number(between, "/share_used") * number(between, "/filter_firm_m3_per_s"), 1300.0 / 86400, 1e-12,
                "share used of firm capacity is the maximum day");
    free(one);
    free(two);
    wr_answer_close(first);
    wr_answer_close(between);
    wr_answer_close(second);
    wr_scenario_close(scenario);
}

static void a_bad_scenario(void **state)
{
    (void)state;
    static const char text[] = "{\"format\": 1, \"titel\": \"x\"}";
    struct wr_scenario *scenario = wr_scenario_open_text("bad.json", text, strlen(text), NULL, 0);
    check_true(!wr_scenario_is_good(scenario), "it has complaints");
    check_true(wr_scenario_title(scenario) == NULL, "and no title");
    char *complaints = wr_scenario_complaints(scenario);
    check_holds(complaints, "bad.json:1:", "file and line");
    check_holds(complaints, "did you mean \"title\"", "the nearest key");
    struct wr_answer *(*const questions[])(const struct wr_scenario *) = {wr_scenario_check, wr_scenario_run,
                                                                          wr_scenario_firm};
    for (size_t i = 0; i < sizeof questions / sizeof *questions; i++) {
        struct wr_answer *answer = questions[i](scenario);
        char fault[128];
        check_count(wr_answer_outcome(answer), WR_OUTCOME_BAD_SCENARIO, "no answer");
        check_true(wr_answer_message(answer)[0] != '\0', "a message");
        char *report = wr_answer_text(answer, WR_SHOW_US);
        check_text(report, complaints, "its text are the complaints");
        free(report);
        const char *message = NULL;
        check_true(wr_answer_word(answer, "/complaints/0/message", &message), "its document has them too");
        check_count(wr_answer_save(answer, "not-made", WR_SHOW_US, fault, sizeof fault), WR_SAVE_REFUSED,
                    "nothing to save");
        wr_answer_close(answer);
    }
    free(complaints);
    wr_scenario_close(scenario);
}

static void not_even_json(void **state)
{
    (void)state;
    struct wr_scenario *scenario = wr_scenario_open_text("none", "", 0, NULL, 0);
    check_true(!wr_scenario_is_good(scenario), "nothing is no scenario");
    check_true(wr_scenario_text(scenario) == NULL && wr_scenario_sha256(scenario) == NULL, "no text, no hash");
    struct wr_answer *answer = wr_scenario_run(scenario);
    check_count(wr_answer_outcome(answer), WR_OUTCOME_BAD_SCENARIO, "no answer");
    wr_answer_close(answer);
    wr_scenario_close(scenario);
    wr_answer_close(NULL);
    wr_scenario_close(NULL);
}

/* Neither a file that is not there nor one that is no saved run is gone on from; every text then says so. */
static void a_run_that_cannot_go_on(void **state)
{
    (void)state;
    static const char *const files[] = {WR_ROOT "/tests/cli/none", PLANT};
    struct wr_scenario *scenario = wr_scenario_open(PLANT, NULL, 0);
    for (size_t i = 0; i < 2; i++) {
        char fault[256] = "";
        struct wr_answer *answer = wr_scenario_run_on(scenario, files[i], true);
        check_count(wr_answer_outcome(answer), WR_OUTCOME_BAD_SCENARIO, "no answer");
        check_holds(wr_answer_message(answer), "cannot go on from", "its message");
        char *text = wr_answer_text(answer, WR_SHOW_SI), *document = wr_answer_json(answer);
        check_holds(text, "There is no answer: cannot go on from", "the report");
        check_holds(document, "cannot go on from", "the document");
        check_count(wr_answer_save_state(answer, "none", fault, sizeof fault), WR_SAVE_REFUSED, "nothing to save");
        check_holds(fault, "there is no run to save", "why");
        free(text);
        free(document);
        wr_answer_close(answer);
    }
    check_true(!wr_scenario_end_at(scenario, 0) && !wr_scenario_end_at(scenario, -1) &&
                   !wr_scenario_end_at(scenario, 1e12),
               "no end outside the run");
    wr_scenario_close(scenario);
}

static void the_version(void **state)
{
    (void)state;
    check_text(wr_version(), WR_VERSION, "as in CMakeLists.txt");
}

int main(void)
{
    const struct CMUnitTest tests[] = {cmocka_unit_test(a_good_scenario),        cmocka_unit_test(a_run),
                                       cmocka_unit_test(answers_repeat),         cmocka_unit_test(a_bad_scenario),
                                       cmocka_unit_test(not_even_json),          cmocka_unit_test(the_version),
                                       cmocka_unit_test(a_run_that_cannot_go_on)};
    return cmocka_run_group_tests(tests, open_library, close_library);
}
