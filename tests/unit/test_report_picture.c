/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What gnuplot is told: text that stays text whatever it holds, names of files, moments, the stretch that shows most.
 */
#include "tests/support/check.h"

#include "sim/report/picture.h"
#include "sim/washrota.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char plant[] = WR_ROOT "/scenarios/iron-four.json";

static void text_cannot_leave_its_quotes(void **state)
{
    (void)state;
    struct wr_page page = {0};
    wr_picture_text(&page, "wr_x", "o'clock `date` \"a\" \\ \n@b\x7f");
    char *text = wr_page_take(&page);
    check_text(text, "wr_x = 'o''clock `date` \"a\" \\  @b '\n", "a variable: quotes doubled, no control character");
    free(text);
    wr_picture_field(&page, "o'clock `date` \"a\" \\ \n@b");
    text = wr_page_take(&page);
    check_text(text, "\"o'clock `date` 'a' /  @b\" ", "a field: neither its quote nor a backslash");
    free(text);
}

static void numbers_read_back_and_none_is_nan(void **state)
{
    (void)state;
    struct wr_page page = {0};
    wr_picture_number(&page, "wr_x", 0.1);
    wr_picture_number(&page, "wr_y", (double)NAN);
    wr_picture_number(&page, "wr_z", HUGE_VAL);
    char *text = wr_page_take(&page);
    check_text(text, "wr_x = 0.1 \nwr_y = NaN \nwr_z = NaN \n", "numbers");
    free(text);
}

static void files_of_pictures_are_known(void **state)
{
    (void)state;
    check_true(wr_picture_is_file("filters.png") && wr_picture_is_file("ladder.svg"), "files of pictures");
    check_true(!wr_picture_is_file("filters.gif") && !wr_picture_is_file("filters") &&
                   !wr_picture_is_file("my-filters.png") && !wr_picture_is_file("filters.png.old"),
               "other files");
}

static void check_moment(const struct wr_scenario *scenario, const char *text, double expected)
{
    double seconds = (double)NAN;
    check_true(wr_scenario_moment(scenario, text, &seconds), text);
    check(seconds, expected, 0, "a moment, s from a start at 06:00 of day 1");
}

static void moments_are_read_in_the_words_of_the_report(void **state)
{
    (void)state;
    static const char *const six[] = {"/start=2026-01-05 06:00"};
    static const char *const none[] = {
        "",           "day", "day x", "days 3",   "day 3 at", "3.5", "day 3 at 25:00", "day 3 at 06:00 ",
        "day 3 at 6", " 3",  "-3",    "tomorrow", "day -1"};
    struct wr_scenario *scenario = wr_scenario_open(plant, six, 1);
    check_moment(scenario, "day 1 at 06:00", 0);
    check_moment(scenario, "day 2", 18 * 3600);
    check_moment(scenario, "2", 18 * 3600);
    check_moment(scenario, "day 3 at 18:20", (24 + 36) * 3600 + 20 * 60);
    check_moment(scenario, "day 1", -6 * 3600);
    for (size_t i = 0; i < sizeof none / sizeof *none; i++) {
        double untouched = 7;
        check_true(!wr_scenario_moment(scenario, none[i], &untouched), none[i]);
        check(untouched, 7, 0, "left alone");
    }
    wr_scenario_close(scenario);
}

static void pictures_belong_to_answers_that_have_them(void **state)
{
    (void)state;
    static const char *const dry[] = {"/spent_wash/outlets=[{\"kind\":\"sewer\",\"rate\":\"50 gal/min\"}]"};
    struct wr_scenario *scenario = wr_scenario_open(plant, NULL, 0);
    struct wr_answer *watched = wr_scenario_watch(scenario, (double)NAN, HUGE_VAL), *run = wr_scenario_run(scenario);
    check_true(wr_answer_has_picture(watched, "filters") && wr_answer_has_picture(watched, "recycle"), "of a run");
    check_true(!wr_answer_has_picture(watched, "ladder"), "that of a firm capacity is not of a run");
    check_true(!wr_answer_has_picture(watched, "sunset"), "no such picture");
    check_true(!wr_answer_has_picture(run, "filters"), "a run that was not watched has none");
    wr_answer_close(run);
    wr_answer_close(watched);
    wr_scenario_close(scenario);
    scenario = wr_scenario_open(plant, dry, 1);
    watched = wr_scenario_watch(scenario, (double)NAN, HUGE_VAL);
    check_true(wr_answer_has_picture(watched, "tanks") && !wr_answer_has_picture(watched, "recycle"),
               "a plant that recycles nothing has no picture of it");
    wr_answer_close(watched);
    wr_scenario_close(scenario);
}

/* The answer is the same whether it was watched or not. */
static void watching_changes_nothing(void **state)
{
    (void)state;
    struct wr_scenario *scenario = wr_scenario_open(plant, NULL, 0);
    struct wr_answer *watched = wr_scenario_watch(scenario, 0, 86400), *run = wr_scenario_run(scenario);
    char *one = wr_answer_json(watched), *other = wr_answer_json(run);
    check_text(one, other, "the document");
    free(one);
    free(other);
    wr_answer_close(run);
    wr_answer_close(watched);
    wr_scenario_close(scenario);
}

/* A number that the text of a picture sets. */
static double set_to(const char *text, const char *name)
{
    const char *line = strstr(text, name);
    check_true(line != NULL, name);
    return strtod(line + strlen(name), NULL);
}

static void the_stretch_shown_has_the_longest_wait(void **state)
{
    (void)state;
    struct wr_scenario *scenario = wr_scenario_open(plant, NULL, 0);
    struct wr_answer *run = wr_scenario_run(scenario), *watched = wr_scenario_watch(scenario, (double)NAN, HUGE_VAL);
    double longest = 0;
    check_true(wr_answer_number(run, "/answers/wash_balance/longest_wait_for_resource_s", &longest), "a longest wait");
    char *text = wr_answers_picture((const struct wr_answer *const[]){watched}, 1, "filters", WR_SHOW_SI);
    const double from = set_to(text, "wr_from = "), until = set_to(text, "wr_until = ");
    check(from, floor(from), 0, "it begins at a midnight");
    check_between(until - from, 3, 7, "days of it");
    double drawn = 0;
    char *at = strstr(text, "$room << EOD\n");
    check_true(at != NULL, "bars of waits for room");
    for (at = strchr(at, '\n') + 1; strncmp(at, "EOD", 3) != 0; at = strchr(at, '\n') + 1) {
        char *rest;
        const double begins = strtod(at, &rest), ends = strtod(rest, NULL);
        check_true(begins >= from && ends <= until, "a bar within the stretch");
        drawn = fmax(drawn, ends - begins);
    }
    check(drawn * 86400, longest, 1e-3, "longest bar of a wait, s: the answer's longest wait");
    free(text);
    wr_answer_close(run);
    wr_answer_close(watched);
    wr_scenario_close(scenario);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(text_cannot_leave_its_quotes),
        cmocka_unit_test(numbers_read_back_and_none_is_nan),
        cmocka_unit_test(files_of_pictures_are_known),
        cmocka_unit_test(moments_are_read_in_the_words_of_the_report),
        cmocka_unit_test(pictures_belong_to_answers_that_have_them),
        cmocka_unit_test(watching_changes_nothing),
        cmocka_unit_test(the_stretch_shown_has_the_longest_wait),
    };
    wr_library_open();
    const int failed = cmocka_run_group_tests(tests, NULL, NULL);
    wr_library_close();
    return failed;
}
