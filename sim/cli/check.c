/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

static int carry_out(const struct wr_call *call)
{
    return wr_call_ask(call, wr_scenario_check);
}

const struct wr_command wr_command_check = {
    .name = "check",
    .operand = "FILE",
    .needs_operand = true,
    .summary = "all that is wrong with a scenario, or the plant as understood and likely slips",
    .help = "Reads the scenario and says everything that is wrong with it at once: file, line, pointer, what\n"
            "was found and what is allowed. A scenario without fault is answered with the plant as understood, in\n"
            "plain sums, what follows for its filters (the slope of the headloss, the length of a run, the water\n"
            "of a wash), figures that are allowed and yet look like a slip, and the plant beside published\n"
            "guidance: what is not met, or with --all every row, each with whose rule it is.\n"
            "\n"
            "It passes (0) when the scenario can be run, and never fails (1): a scenario that cannot be run\n"
            "is 2.\n",
    .carry_out = carry_out};
