/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

#include <errno.h>
#include <fcntl.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

/* A standard stream that the caller closed is opened on nothing, the wrong way round, so that no file gets its number
 * and writing to it fails as it should. */
static void guard_streams(void)
{
    for (int number = 0; number <= 2; number++)
        if (fcntl(number, F_GETFD) == -1 && errno == EBADF)
            (void)!open("/dev/null", number == 0 ? O_WRONLY : O_RDONLY);
}

/* A call for help is a call of the command help. */
static void turn_to_help(struct wr_call *call)
{
    if (!call->help)
        return;
    call->operand = call->command;
    call->place = NULL;
    call->owned_count = 0;
    call->operand_count = 1;
    call->command = wr_command_help.name;
}

static int say_usage(void)
{
    fputs("usage: washrota COMMAND FILE [options]\n\"washrota help\" lists commands and options.\n", stderr);
    return WR_EXIT_WRONG;
}

/* True when a command takes as many arguments and the options that a call has; else the fault is said. */
static bool takes_arguments(const struct wr_command *command, const struct wr_call *call)
{
    const size_t most = command->takes_place ? 2 : 1;
    if (call->operand_count > most && !command->takes_many) {
        wr_say_wrong("\"%s\" is one argument too many%s", call->operands[most],
                     command->takes_place ? "" : ": one scenario a call");
        return false;
    }
    for (size_t i = 0; i < call->owned_count; i++)
        if (!wr_is_among(command->name, call->owned[i].commands)) {
            const char *commands = call->owned[i].commands;
            const int first = (int)strcspn(commands, " ");
            wr_say_wrong("%s is an option of %.*s%s%s", call->owned[i].option, first, commands,
                         commands[first] != '\0' ? " and" : "", commands + first);
            return false;
        }
    return true;
}

static int carry_out(struct wr_call *call)
{
    if (call->version) {
        printf("washrota %s\n", wr_version());
        return WR_EXIT_PASSES;
    }
    turn_to_help(call);
    if (call->command == NULL)
        return say_usage();
    const struct wr_command *command = wr_command_named(call->command);
    if (command == NULL)
        return WR_EXIT_WRONG;
    if (command->needs_operand && call->operand == NULL) {
        wr_say_wrong("%s wants a scenario: washrota %s %s", command->name, command->name, command->operand);
        return WR_EXIT_WRONG;
    }
    return takes_arguments(command, call) ? command->carry_out(call) : WR_EXIT_WRONG;
}

/* A reader that has seen enough and closed the pipe is no fault. */
static int finish_output(int status)
{
    const bool failed = ferror(stdout) != 0;
    if (fflush(stdout) == 0 && !failed)
        return status;
    if (errno == EPIPE)
        return status;
    wr_say_wrong("cannot write to standard output: %s", strerror(errno));
    return WR_EXIT_FAULT;
}

int main(int count, char **arguments)
{
    struct wr_call call;
    guard_streams();
    signal(SIGPIPE, SIG_IGN);
    wr_library_open();
    int status = WR_EXIT_WRONG;
    if (wr_call_read(&call, count, arguments))
        status = carry_out(&call);
    wr_call_fini(&call);
    wr_library_close();
    return finish_output(status);
}
