/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"
#include "sim/scenario/nearest.h"

#include <string.h>

static const struct wr_command *const commands[] = {
    &wr_command_new,    &wr_command_check, &wr_command_run,     &wr_command_firm,  &wr_command_compare,
    &wr_command_growth, &wr_command_size,  &wr_command_margin,  &wr_command_sweep, &wr_command_rota,
    &wr_command_bed,    &wr_command_plot,  &wr_command_explain, &wr_command_help};

enum { COMMANDS = sizeof commands / sizeof *commands };

const struct wr_command *wr_command_at(size_t place)
{
    return place < COMMANDS ? commands[place] : NULL;
}

const char *wr_nearest(const char *word, const char *const *words, size_t count)
{
    const char *nearest = NULL;
    size_t least = WR_TOO_FAR;
    for (size_t i = 0; i < count; i++) {
        const size_t distance = wr_word_distance(word, words[i]);
        if (distance < least) {
            least = distance;
            nearest = words[i];
        }
    }
    return nearest;
}

const struct wr_command *wr_command_named(const char *name)
{
    const char *names[COMMANDS];
    for (size_t i = 0; i < COMMANDS; i++) {
        if (strcmp(commands[i]->name, name) == 0)
            return commands[i];
        names[i] = commands[i]->name;
    }
    const char *near = wr_nearest(name, names, COMMANDS);
    if (near != NULL)
        wr_say_wrong("unknown command \"%s\"; did you mean %s?", name, near);
    else
        wr_say_wrong("unknown command \"%s\"; \"washrota help\" lists the commands", name);
    return NULL;
}
