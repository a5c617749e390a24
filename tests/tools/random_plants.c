/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plants drawn at random, in any number.
 *
 *     random_plants --count 100000 --seed 1      runs plants 1 to 100,000 under watch, says what each breaks
 *     random_plants --seed 4711 --write          prints plant 4711 as a scenario
 *
 * Ends with 1 where a plant breaks a rule. */
#include "tests/plant/properties.h"
#include "tests/plant/random_plant.h"

#include "sim/washrota.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct asked {
    unsigned long long count, seed;
    bool writes;
};

static bool read_number(const char *text, unsigned long long *number)
{
    char *end;
    if (text == NULL)
        return false;
    *number = strtoull(text, &end, 10);
    return *text >= '0' && *text <= '9' && *end == '\0';
}

static bool read_call(int count, char **words, struct asked *asked)
{
    *asked = (struct asked){.count = 1, .seed = 1};
    for (int i = 1; i < count; i++) {
        const bool counts = strcmp(words[i], "--count") == 0, seeds = strcmp(words[i], "--seed") == 0;
        if (strcmp(words[i], "--write") == 0)
            asked->writes = true;
        else if ((!counts && !seeds) ||
                 !read_number(i + 1 < count ? words[++i] : NULL, counts ? &asked->count : &asked->seed))
            return false;
    }
    return true;
}

static void write_plants(const struct asked *asked)
{
    for (unsigned long long i = 0; i < asked->count; i++) {
        char *text = random_plant_text(asked->seed + i);
        puts(text);
        free(text);
    }
}

static unsigned long long watch_plants(const struct asked *asked)
{
    struct property_totals totals = {0};
    unsigned long long bad = 0;
    for (unsigned long long i = 0; i < asked->count; i++) {
        char breach[256];
        if (properties_hold(asked->seed + i, &totals, breach, sizeof breach))
            continue;
        printf("seed %llu: %s\n", asked->seed + i, breach);
        fflush(stdout);
        bad++;
    }
    property_totals_print(&totals);
    printf("%llu plants break a rule\n", bad);
    return bad;
}

int main(int count, char **words)
{
    struct asked asked;
    if (!read_call(count, words, &asked)) {
        fputs("usage: random_plants [--count N] [--seed FIRST] [--write]\n", stderr);
        return 2;
    }
    wr_library_open();
    unsigned long long bad = 0;
    if (asked.writes)
        write_plants(&asked);
    else
        bad = watch_plants(&asked);
    wr_library_close();
    return bad > 0;
}
