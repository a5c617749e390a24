/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"
#include "sim/cli/starters.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

static const char what_is_first[] =
    "Every block has a note that says where a plant finds its numbers. Replace these first, since the\n"
    "answers lean on them most:\n"
    "\n"
    "  1. the observed run      filters, deposit: the differential just after a wash and just before the\n"
    "                           next, and flow and hours between them\n"
    "  2. iron and manganese    raw_water: from the laboratory's sheets\n"
    "  3. the filters           how many, inside diameter or area as built, approved rate of the permit\n"
    "  4. the wells             the flow of each by its totaliser, the levels of its control\n"
    "  5. the wash              its rate by the wash-water totaliser, its times, what calls it\n"
    "\n";

static const char caution[] =
    "All figures in it are invented. A planning and teaching aid, not a design. Verify on the plant;\n"
    "local codes, the permitting authority and a licensed engineer decide.\n";

/* Templates -------------------------------------------------------------------------------------------------------- */

/* The first line says what the starter is, between its mark and its end. */
static const char *summary_of(const struct wr_starter *starter, int *length)
{
    static const char mark[] = "# ";
    const char *summary = starter->text + strlen(mark);
    *length = (int)strcspn(summary, "\n");
    return summary;
}

static void list_templates(FILE *stream)
{
    fputs("templates\n", stream);
    for (size_t i = 0; i < wr_starter_count; i++) {
        int length;
        const char *summary = summary_of(&wr_starters[i], &length);
        fprintf(stream, "  %-21s %.*s\n", wr_starters[i].name, length, summary);
    }
}

static void say_more(void)
{
    list_templates(stdout);
    fputc('\n', stdout);
}

static const struct wr_starter *starter_named(const char *name)
{
    for (size_t i = 0; i < wr_starter_count; i++)
        if (strcmp(wr_starters[i].name, name) == 0)
            return &wr_starters[i];
    return NULL;
}

/* A template and a file may have been given the wrong way round, or the template misspelt. */
static void say_unknown(const struct wr_call *call)
{
    const char *names[16] = {NULL};
    size_t count = 0;
    for (; count < wr_starter_count && count < sizeof names / sizeof *names; count++)
        names[count] = wr_starters[count].name;
    const char *near = wr_nearest(call->operand, names, count);
    if (call->place != NULL && starter_named(call->place) != NULL)
        wr_say_wrong("the template comes first: washrota new %s %s", call->place, call->operand);
    else if (near != NULL)
        wr_say_wrong("unknown template \"%s\"; did you mean %s?", call->operand, near);
    else
        wr_say_wrong("unknown template \"%s\"", call->operand);
    list_templates(stderr);
}

/* Writing ---------------------------------------------------------------------------------------------------------- */

/* The scenario of a starter in the units asked for: one of the two texts of each pair. */
static void write_scenario(const struct wr_starter *starter, enum wr_show show, FILE *stream)
{
    enum { BOTH, US, SI } within = BOTH;
    const int wanted = show == WR_SHOW_SI ? SI : US;
    for (const char *c = strchr(starter->text, '\n') + 1; *c != '\0'; c++)
        if (*c == '<')
            within = US;
        else if (*c == '|' && within == US)
            within = SI;
        else if (*c == '>')
            within = BOTH;
        else if (within == BOTH || (int)within == wanted)
            fputc(*c, stream);
}

static void say_next(const struct wr_starter *starter, const char *file)
{
    int length;
    const char *summary = summary_of(starter, &length);
    printf("%s is the whole scenario of an invented plant:\n%.*s.\n\n%s", file, length, summary, what_is_first);
    printf("Then\n\n"
           "  washrota check %s    is it complete, and is this your plant?\n"
           "  washrota run %s      does wash demand ever exceed supply?\n"
           "  washrota firm %s     what can it promise with its largest filter out?\n\n%s",
           file, file, file, caution);
}

/* A name that is taken or leads nowhere is the caller's slip; anything else is the machine's. */
static int say_not_opened(const char *file, int why)
{
    if (why == EEXIST)
        wr_say_wrong("%s is there already and stays as it is; choose another name", file);
    else
        wr_say_wrong("cannot write %s: %s", file, strerror(why));
    return why == EEXIST || why == ENOENT || why == ENOTDIR ? WR_EXIT_WRONG : WR_EXIT_FAULT;
}

/* Writes a file that was not there before; nothing is left of one that cannot be written whole. */
static int write_file(const struct wr_starter *starter, const struct wr_call *call)
{
    FILE *file = fopen(call->place, "wx");
    if (file == NULL)
        return say_not_opened(call->place, errno);
    write_scenario(starter, call->show, file);
    const int failed = ferror(file);
    if (fclose(file) != 0 || failed) {
        const int why = errno;
        remove(call->place);
        wr_say_wrong("cannot write %s: %s", call->place, strerror(why));
        return WR_EXIT_FAULT;
    }
    if (!call->quiet)
        say_next(starter, call->place);
    return WR_EXIT_PASSES;
}

static int carry_out(const struct wr_call *call)
{
    if (call->operand == NULL || (call->place == NULL && starter_named(call->operand) != NULL)) {
        wr_say_wrong("new wants a template and a file to write: washrota new TEMPLATE FILE");
        list_templates(stderr);
        return WR_EXIT_WRONG;
    }
    if (call->json || call->out != NULL || call->setting_count > 0) {
        wr_say_wrong("new takes --units and --quiet and no other option");
        return WR_EXIT_WRONG;
    }
    const struct wr_starter *starter = starter_named(call->operand);
    if (starter == NULL) {
        say_unknown(call);
        return WR_EXIT_WRONG;
    }
    if (strcmp(call->place, "-") != 0)
        return write_file(starter, call);
    write_scenario(starter, call->show, stdout);
    return WR_EXIT_PASSES;
}

const struct wr_command wr_command_new = {
    .name = "new",
    .operand = "TEMPLATE FILE",
    .takes_place = true,
    .summary = "a starter scenario, whose numbers are to be replaced by your plant's",
    .help = "Writes a whole scenario of an invented plant to FILE, - for standard output. It runs as it is, and\n"
            "every block has a note that says what its numbers are and where a plant finds them. With\n"
            "--units si it is written in SI units, else in US units. A file that is there already is never\n"
            "written over.\n"
            "\n"
            "It passes (0) when the file is written.\n",
    .help_more = say_more,
    .carry_out = carry_out};
