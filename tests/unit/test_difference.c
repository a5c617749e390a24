/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was changed between two scenarios. Expected values are worked out by hand from the texts. */

#include "sim/scenario/difference.h"
#include "sim/scenario/quantity.h"
#include "tests/support/check.h"

#include <cjson/cJSON.h>

struct pair {
    cJSON *before, *after;
    struct wr_differences found;
};

static void find(struct pair *pair, const char *before, const char *after)
{
    pair->before = cJSON_Parse(before);
    pair->after = cJSON_Parse(after);
    check_true(pair->before != NULL && pair->after != NULL, "both texts are JSON");
    wr_differences_find(&pair->found, pair->before, pair->after);
}

static void forget(struct pair *pair)
{
    wr_differences_fini(&pair->found);
    cJSON_Delete(pair->before);
    cJSON_Delete(pair->after);
    wr_quantities_free();
}

static void check_same(const char *before, const char *after, const char *what)
{
    struct pair pair;
    find(&pair, before, after);
    check_count(pair.found.count, 0, what);
    forget(&pair);
}

static void no_difference(void **state)
{
    (void)state;
    check_same("{\"storage\":{\"volume\":\"1000 gal\"}}", "{\"storage\":{\"volume\":\"3.785411784 m3\"}}",
               "a volume in other units");
    check_same("{\"raw_water\":{\"temperature\":\"50 degF\"}}", "{\"raw_water\":{\"temperature\":\"10 degC\"}}",
               "a temperature in other units");
    check_same("{\"title\":\"a\",\"question\":\"b\",\"units\":\"us\",\"note\":\"c\",\"storage\":{}}",
               "{\"title\":\"d\",\"storage\":{\"note\":\"e\"}}", "words for readers");
    check_same("{}", "{\"horizon\":\"720 h\",\"seed\":1,\"start_beds\":{\"how\":\"spread\"}}", "defaults written out");
    check_same("{\"start\":\"2026-01-05\"}", "{\"start\":\"2026-01-05 00:00\"}", "a date with its clock");
    check_same("{\"filters\":[{\"count\":3}]}", "{\"filters\":[{\"count\":3.0}]}", "a number written otherwise");
}

static void a_value_changed(void **state)
{
    (void)state;
    struct pair pair;
    find(&pair, "{\"filters\":[{\"count\":3,\"diameter\":\"8 ft\"}],\"demand\":{\"maximum_day\":\"1 Mgal/d\"}}",
         "{\"filters\":[{\"count\":4,\"diameter\":\"96 in\"}],\"demand\":{\"maximum_day\":\"2 Mgal/d\"}}");
    check_count(pair.found.count, 2, "differences");
    check_text(pair.found.items[0].pointer, "/demand/maximum_day", "the first in the order of the table");
    check_true(pair.found.items[0].is_weather, "what the plant is asked");
    check_text(pair.found.items[1].pointer, "/filters/0/count", "the second");
    check_text(pair.found.items[1].before, "3", "as it was");
    check_text(pair.found.items[1].after, "4", "as it is");
    check_true(!pair.found.items[1].is_weather, "the plant itself");
    forget(&pair);
}

static void left_out(void **state)
{
    (void)state;
    struct pair pair;
    find(&pair, "{}", "{\"horizon\":\"7 d\",\"approved_capacity\":\"1 Mgal/d\"}");
    check_count(pair.found.count, 2, "differences");
    check_true(pair.found.items[0].before == NULL, "nothing was written");
    check_text(pair.found.items[0].default_text, "30 d", "but this held");
    check_true(pair.found.items[1].before == NULL && pair.found.items[1].default_text == NULL, "and here nothing");
    check_text(pair.found.items[1].after, "1 Mgal/d", "what is written now");
    forget(&pair);
}

static void a_well_in_the_middle(void **state)
{
    (void)state;
    struct pair pair;
    find(&pair, "{\"wells\":[{\"name\":\"a\",\"flow\":\"1 m3/h\"},{\"name\":\"c\",\"flow\":\"3 m3/h\"}]}",
         "{\"wells\":[{\"name\":\"a\",\"flow\":\"1 m3/h\"},{\"name\":\"b\",\"flow\":\"2 m3/h\"},"
         "{\"name\":\"c\",\"flow\":\"4 m3/h\"}]}");
    check_count(pair.found.count, 2, "one added, one changed");
    check_text(pair.found.items[0].pointer, "/wells/1", "the new one, where it stands now");
    check_text(pair.found.items[0].after, "b (flow 2 m3/h)", "in words");
    check_true(pair.found.items[0].earlier == NULL, "which was not there");
    check_text(pair.found.items[1].pointer, "/wells/2/flow", "the other, found by its name");
    check_text(pair.found.items[1].before, "3 m3/h", "as it was");
    forget(&pair);

    find(&pair, "{\"wells\":[{\"name\":\"a\"},{\"name\":\"b\"}]}", "{\"wells\":[{\"name\":\"b\"}]}");
    check_count(pair.found.count, 1, "one gone");
    check_text(pair.found.items[0].pointer, "/wells/0", "where it stood");
    check_true(pair.found.items[0].after == NULL, "and is no more");
    forget(&pair);
}

static void another_order(void **state)
{
    (void)state;
    struct pair pair;
    find(&pair, "{\"wells\":[{\"name\":\"a\"},{\"name\":\"b\"}]}", "{\"wells\":[{\"name\":\"b\"},{\"name\":\"a\"}]}");
    check_count(pair.found.count, 1, "one difference");
    check_text(pair.found.items[0].pointer, "/wells", "of the list");
    check_text(pair.found.items[0].meaning, "order of the list", "its meaning");
    forget(&pair);
}

/* The 24 factors of a day, of which the last is given. */
#define DAY(last) "{\"demand\":{\"hourly_factors\":[1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1," last "]}}"

static void lists_of_numbers(void **state)
{
    (void)state;
    struct pair pair;
    find(&pair, DAY("1"), DAY("2"));
    check_count(pair.found.count, 1, "the list as a whole");
    check_text(pair.found.items[0].pointer, "/demand/hourly_factors", "its place");
    check_text(pair.found.items[0].after, "[1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 2]",
               "in words");
    forget(&pair);
    check_same(DAY("1"), "{\"demand\":{}}", "the default written out");
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_difference),        cmocka_unit_test(a_value_changed), cmocka_unit_test(left_out),
        cmocka_unit_test(a_well_in_the_middle), cmocka_unit_test(another_order),   cmocka_unit_test(lists_of_numbers),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
