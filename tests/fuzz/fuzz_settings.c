/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Settings: an input is the number of a base, one digit, and then settings as `--set` takes them, one a line. */
#include "tests/fuzz/fuzz.h"

#include <stdlib.h>
#include <string.h>

enum { MOST_SETTINGS = 8 };

static const char *const bases[] = {
    "tests/input/plant.json",
    "tests/input/least.json",
    "tests/plant/plain.json",
    "scenarios/pressure-three.json",
    "scenarios/iron-four-particles.json",
    "scenarios/gravity-urgent.json",
    "scenarios/self-washing.json",
    "scenarios/small-unsettled.json",
};
enum { BASES = sizeof bases / sizeof bases[0] };

/* Cuts the text into lines, as many as there is room for; how many. */
static size_t cut(char *text, const char *lines[MOST_SETTINGS])
{
    size_t count = 0;
    char *rest = NULL;
    for (char *line = strtok_r(text, "\n", &rest); line && count < MOST_SETTINGS; line = strtok_r(NULL, "\n", &rest))
        lines[count++] = line;
    return count;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (size < 2)
        return 0;
    char *text = calloc(1, size);
    const char *settings[MOST_SETTINGS] = {NULL};
    if (text == NULL)
        fuzz_fail("memory", "none");
    memcpy(text, data + 1, size - 1);
    fuzz_count_input();
    fuzz_examine(wr_scenario_open(bases[data[0] % BASES], settings, cut(text, settings)));
    free(text);
    return 0;
}
