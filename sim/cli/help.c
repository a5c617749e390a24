/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

#include <stdio.h>

static const char exit_help[] = "exit status\n"
                                "  0  answered, and it passes\n"
                                "  1  answered, and it fails\n"
                                "  2  the call or the scenario was wrong\n"
                                "  3  a fault of the program or the machine\n";

static void help_all(void)
{
    printf("washrota %s: simulates a plant of filters that must be washed in turn, event by event\n\n"
           "usage: washrota COMMAND FILE [options]        FILE is a scenario, - for standard input\n"
           "       washrota new TEMPLATE FILE             writes one to begin with\n\n"
           "commands\n",
           wr_version());
    for (size_t i = 0; wr_command_at(i) != NULL; i++) {
        char call[40];
        snprintf(call, sizeof call, "%s %s", wr_command_at(i)->name, wr_command_at(i)->operand);
        printf("  %-21s %s\n", call, wr_command_at(i)->summary);
    }
    printf("\noptions, and those of one command by \"washrota help COMMAND\"\n");
    wr_call_list_options(NULL);
    printf("\n%s\n"
           "A planning and teaching aid, not a design. Verify on the plant; local codes, the permitting\n"
           "authority and a licensed engineer decide.\n",
           exit_help);
}

static void help_command(const struct wr_command *command)
{
    printf("usage: washrota %s %s [options]\n\n%s\n", command->name, command->operand, command->help);
    if (command->help_more != NULL)
        command->help_more();
    fputs("options\n", stdout);
    wr_call_list_options(command->name);
    printf("\n%s", exit_help);
}

static int carry_out(const struct wr_call *call)
{
    if (call->operand == NULL) {
        help_all();
        return WR_EXIT_PASSES;
    }
    const struct wr_command *command = wr_command_named(call->operand);
    if (command == NULL)
        return WR_EXIT_WRONG;
    help_command(command);
    return WR_EXIT_PASSES;
}

const struct wr_command wr_command_help = {.name = "help",
                                           .operand = "[COMMAND]",
                                           .summary = "this help, or that of a command",
                                           .help = "Says what a command does and what passing means for it.\n",
                                           .carry_out = carry_out};
