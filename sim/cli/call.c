/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a call: the command, its options and its operands. */
#include "sim/cli/options.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void wr_say_wrong(const char *format, ...)
{
    va_list arguments;
    fputs("washrota: ", stderr);
    va_start(arguments, format);
    vfprintf(stderr, format, arguments);
    va_end(arguments);
    fputc('\n', stderr);
}

enum { OPTIONS_MOST = 64 };

static void say_unknown(const char *argument, size_t length)
{
    const char *names[OPTIONS_MOST];
    char word[64];
    assert(wr_option_count <= OPTIONS_MOST);
    for (size_t i = 0; i < wr_option_count; i++)
        names[i] = wr_options[i].name;
    snprintf(word, sizeof word, "%.*s", (int)(length < sizeof word ? length : sizeof word - 1), argument);
    const char *near = wr_nearest(word, names, wr_option_count);
    if (near != NULL)
        wr_say_wrong("unknown option \"%s\"; did you mean %s?", word, near);
    else
        wr_say_wrong("unknown option \"%s\"; \"washrota help\" lists the options", word);
}

/* An option is its name alone, or with "=VALUE", or its value is the next argument. */
static bool take_option(struct wr_call *call, int count, char **arguments, int *place)
{
    const char *argument = arguments[*place];
    const size_t length = strcspn(argument, "=");
    const char *value = argument[length] == '=' ? argument + length + 1 : NULL;
    size_t i = 0;
    while (i < wr_option_count &&
           (strlen(wr_options[i].name) != length || strncmp(wr_options[i].name, argument, length) != 0))
        i++;
    if (i == wr_option_count) {
        say_unknown(argument, length);
        return false;
    }
    if (wr_options[i].value == NULL && value != NULL) {
        wr_say_wrong("%s takes no value", wr_options[i].name);
        return false;
    }
    if (wr_options[i].value != NULL && value == NULL) {
        if (*place + 1 >= count) {
            wr_say_wrong("%s wants a value: %s %s", wr_options[i].name, wr_options[i].name, wr_options[i].value);
            return false;
        }
        value = arguments[++*place];
    }
    if (wr_options[i].of != NULL)
        call->owned[call->owned_count++] = (struct wr_owned_option){wr_options[i].name, wr_options[i].of};
    return wr_options[i].take(call, value);
}

static void take_operand(struct wr_call *call, const char *argument)
{
    if (call->command == NULL) {
        call->command = argument;
        return;
    }
    if (call->operand_count == 0)
        call->operand = argument;
    else if (call->operand_count == 1)
        call->place = argument;
    call->operands[call->operand_count++] = argument;
}

/* Lists as long as there are arguments. */
static void make_lists(struct wr_call *call, int count)
{
    const size_t most = (size_t)count + 1;
    *call = (struct wr_call){.settings = calloc(most, sizeof *call->settings),
                             .operands = calloc(most, sizeof *call->operands),
                             .pictures = calloc(most, sizeof *call->pictures),
                             .wishes = calloc(most, sizeof *call->wishes),
                             .shown = calloc(most, sizeof *call->shown),
                             .variants = calloc(most, sizeof *call->variants),
                             .owned = calloc(most, sizeof *call->owned)};
    if (call->settings != NULL && call->operands != NULL && call->pictures != NULL && call->wishes != NULL &&
        call->shown != NULL && call->variants != NULL && call->owned != NULL)
        return;
    wr_say_wrong("out of memory");
    exit(WR_EXIT_FAULT);
}

bool wr_call_read(struct wr_call *call, int count, char **arguments)
{
    bool only_operands = false, good = true;
    make_lists(call, count);
    for (int place = 1; place < count && good; place++) {
        const char *argument = arguments[place];
        if (!only_operands && strcmp(argument, "--") == 0)
            only_operands = true;
        else if (!only_operands && argument[0] == '-' && argument[1] != '\0')
            good = take_option(call, count, arguments, &place);
        else
            take_operand(call, argument);
    }
    return good;
}

void wr_call_fini(struct wr_call *call)
{
    free(call->settings);
    free(call->operands);
    free(call->pictures);
    free(call->wishes);
    free(call->shown);
    free(call->variants);
    free(call->owned);
    *call = (struct wr_call){0};
}
