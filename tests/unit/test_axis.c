/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Values that a study gives to one place of a scenario, as a caller writes them. */
#include "sim/scenario/axis.h"
#include "tests/support/check.h"

#include <stdlib.h>

static struct wr_axis axis;
static char fault[256];

static void read_axis(const char *text)
{
    check_true(wr_axis_read(&axis, text, fault, sizeof fault), text);
}

static void refuse(const char *text, const char *words)
{
    fault[0] = '\0';
    check_true(!wr_axis_read(&axis, text, fault, sizeof fault), text);
    check_holds(fault, words, text);
}

static void check_values(const char *const *values, size_t count)
{
    check_count(axis.count, count, "values");
    for (size_t i = 0; i < count; i++)
        check_text(axis.values[i], values[i], "a value");
    wr_axis_fini(&axis);
}

static void ranges_have_both_ends(void **state)
{
    (void)state;
    read_axis("/raw_water/iron=1 mg/L to 5 mg/L in 5");
    check_text(axis.pointer, "/raw_water/iron", "pointer");
    check_true(axis.is_range && !axis.is_whole, "a range");
    check_values((const char *const[]){"1 mg/L", "2 mg/L", "3 mg/L", "4 mg/L", "5 mg/L"}, 5);
    read_axis("/a= 0.1 to 0.3 h in 3");
    check_values((const char *const[]){"0.1 h", "0.2 h", "0.3 h"}, 3);
    read_axis("/a=90 % to 80 % in 3");
    check_values((const char *const[]){"90 %", "85 %", "80 %"}, 3);
    read_axis("/a=1 to 2 in 3");
    check_values((const char *const[]){"1", "2"}, 2);
    read_axis("/a=1.5 to 2.5 in 3");
    check_values((const char *const[]){"1.5", "2", "2.5"}, 3);
}

static void a_range_may_leave_open_how_many(void **state)
{
    (void)state;
    read_axis("/filters/0/count=3 to 6");
    check_count(axis.count, 0, "values before it is divided");
    check_true(axis.is_range && axis.is_whole, "a range of whole numbers");
    wr_axis_divide(&axis, 20);
    check_values((const char *const[]){"3", "4", "5", "6"}, 4);
    read_axis("/raw_water/iron");
    check_count(axis.count, 0, "values of a pointer alone");
    wr_axis_fini(&axis);
}

static void lists_are_parted_by_commas_outside_of_brackets(void **state)
{
    (void)state;
    read_axis("/wash/who_first=dirtiest, longest_waiting");
    check_values((const char *const[]){"dirtiest", "longest_waiting"}, 2);
    read_axis("/wash/window=[], [{\"days\": \"monday\", \"from\": \"07:00\"}]");
    check_values((const char *const[]){"[]", "[{\"days\": \"monday\", \"from\": \"07:00\"}]"}, 2);
    read_axis("/title=\"from 1 to 2\", \"a, b\"");
    check_values((const char *const[]){"\"from 1 to 2\"", "\"a, b\""}, 2);
    read_axis("/a=3 mg/L");
    check_values((const char *const[]){"3 mg/L"}, 1);
}

static void settings_are_as_set_takes_them(void **state)
{
    (void)state;
    read_axis("/a=1 h to 2 h in 2");
    char *setting = wr_axis_setting(&axis, axis.values[1]);
    check_text(setting, "/a=2 h", "setting");
    free(setting);
    wr_axis_fini(&axis);
}

static void what_is_no_axis_is_refused(void **state)
{
    (void)state;
    refuse("/a=1 mg/L to 5 h", "same unit");
    refuse("/a=1 mg/L to five", "two numbers");
    refuse("/a=1 to 5 in 1", "2 to");
    refuse("/a=1 to 5 in many", "2 to");
    refuse("/a=1,,2", "empty value");
    refuse("/a=", "empty value");
    refuse("/a=1,", "empty value");
}

static void figures_read_back(void **state)
{
    (void)state;
    char text[96], unit[WR_FIGURE_UNIT];
    double value;
    const double thirds[] = {1.0 / 3, 2.0 / 3 * 1e-9, 12.5, 1e22 / 7};
    for (size_t i = 0; i < 4; i++) {
        wr_figure_text(thirds[i], "gal/min", text, sizeof text);
        check_true(wr_figure_split(text, &value, unit), text);
        check(value, thirds[i], 0, "the same double");
        check_text(unit, "gal/min", "unit");
    }
    check_text(wr_figure_text(12.5, "%", text, sizeof text), "12.5 %", "as few digits as read back");
    check_true(!wr_figure_split("gal", &value, unit), "no number");
    check_true(!wr_figure_split("", &value, unit), "nothing");
    check_true(!wr_figure_split("nan", &value, unit), "nothing that is not a number");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ranges_have_both_ends),
        cmocka_unit_test(a_range_may_leave_open_how_many),
        cmocka_unit_test(lists_are_parted_by_commas_outside_of_brackets),
        cmocka_unit_test(settings_are_as_set_takes_them),
        cmocka_unit_test(what_is_no_axis_is_refused),
        cmocka_unit_test(figures_read_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
