/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* One option: its name, what it takes, and what it does to a call. */
struct option {
    const char *name;
    const char *value; /* as help shows it; NULL for one that takes none */
    const char *meaning;
    bool (*take)(struct wr_call *call, const char *value);
};

void wr_say_wrong(const char *format, ...)
{
    va_list arguments;
    fputs("washrota: ", stderr);
    va_start(arguments, format);
    vfprintf(stderr, format, arguments);
    va_end(arguments);
    fputc('\n', stderr);
}

/* What each does --------------------------------------------------------------------------------------------------- */

static bool take_json(struct wr_call *call, const char *value)
{
    (void)value;
    call->json = true;
    return true;
}

static bool take_quiet(struct wr_call *call, const char *value)
{
    (void)value;
    call->quiet = true;
    return true;
}

static bool take_help(struct wr_call *call, const char *value)
{
    (void)value;
    call->help = true;
    return true;
}

static bool take_version(struct wr_call *call, const char *value)
{
    (void)value;
    call->version = true;
    return true;
}

static bool take_out(struct wr_call *call, const char *value)
{
    if (call->out != NULL) {
        wr_say_wrong("--out is given twice: one run folder a call");
        return false;
    }
    call->out = value;
    return true;
}

static bool take_units(struct wr_call *call, const char *value)
{
    static const char *const words[] = {"us", "si"};
    for (size_t i = 0; i < 2; i++)
        if (strcmp(value, words[i]) == 0) {
            call->show = i == 0 ? WR_SHOW_US : WR_SHOW_SI;
            return true;
        }
    wr_say_wrong("--units is us or si, not \"%s\"", value);
    return false;
}

/* There are never more settings than arguments, for which there is room. */
static bool take_set(struct wr_call *call, const char *value)
{
    call->settings[call->setting_count++] = value;
    return true;
}

static const struct option options[] = {
    {"--json", NULL, "write the answer as one JSON document, in SI, and nothing else", take_json},
    {"--out", "DIR", "write a run folder; without it nothing is written", take_out},
    {"--set", "POINTER=VALUE", "change the scenario first: \"/horizon=365 d\"; as often as wanted", take_set},
    {"--units", "us|si", "units of the report; else those that the scenario asks for", take_units},
    {"--quiet", NULL, "no report: the exit status speaks", take_quiet},
    {"--help", NULL, "this help, or that of a command", take_help},
    {"--version", NULL, "the version", take_version},
};

enum { OPTIONS = sizeof options / sizeof *options };

void wr_call_list_options(void)
{
    for (size_t i = 0; i < OPTIONS; i++) {
        char name[40];
        snprintf(name, sizeof name, "%s %s", options[i].name, options[i].value != NULL ? options[i].value : "");
        printf("  %-21s %s\n", name, options[i].meaning);
    }
}

/* Reading ---------------------------------------------------------------------------------------------------------- */

static void say_unknown(const char *argument, size_t length)
{
    const char *names[OPTIONS];
    char word[64];
    for (size_t i = 0; i < OPTIONS; i++)
        names[i] = options[i].name;
    snprintf(word, sizeof word, "%.*s", (int)(length < sizeof word ? length : sizeof word - 1), argument);
    const char *near = wr_nearest(word, names, OPTIONS);
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
    while (i < OPTIONS && (strlen(options[i].name) != length || strncmp(options[i].name, argument, length) != 0))
        i++;
    if (i == OPTIONS) {
        say_unknown(argument, length);
        return false;
    }
    if (options[i].value == NULL && value != NULL) {
        wr_say_wrong("%s takes no value", options[i].name);
        return false;
    }
    if (options[i].value != NULL && value == NULL) {
        if (*place + 1 >= count) {
            wr_say_wrong("%s wants a value: %s %s", options[i].name, options[i].name, options[i].value);
            return false;
        }
        value = arguments[++*place];
    }
    return options[i].take(call, value);
}

static bool take_operand(struct wr_call *call, const char *argument)
{
    if (call->command == NULL)
        call->command = argument;
    else if (call->operand == NULL)
        call->operand = argument;
    else if (call->place == NULL)
        call->place = argument;
    else {
        wr_say_wrong("\"%s\" is one argument too many", argument);
        return false;
    }
    return true;
}

bool wr_call_read(struct wr_call *call, int count, char **arguments)
{
    bool only_operands = false, good = true;
    *call = (struct wr_call){.settings = calloc((size_t)count + 1, sizeof *call->settings)};
    if (call->settings == NULL) {
        wr_say_wrong("out of memory");
        exit(WR_EXIT_FAULT);
    }
    for (int place = 1; place < count && good; place++) {
        const char *argument = arguments[place];
        if (!only_operands && strcmp(argument, "--") == 0)
            only_operands = true;
        else if (!only_operands && argument[0] == '-' && argument[1] != '\0')
            good = take_option(call, count, arguments, &place);
        else
            good = take_operand(call, argument);
    }
    return good;
}

void wr_call_fini(struct wr_call *call)
{
    free(call->settings);
    *call = (struct wr_call){0};
}
