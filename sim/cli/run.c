/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

static int carry_out(const struct wr_call *call)
{
    return wr_call_ask(call, wr_scenario_run);
}

const struct wr_command wr_command_run = {
    .name = "run",
    .operand = "FILE",
    .needs_operand = true,
    .summary = "does wash demand ever exceed supply, and does washing keep pace?",
    .help = "Runs the plant from its start to its horizon, event by event, and says whether wash demand ever\n"
            "exceeds supply (wash system, wash water, room for spent wash), whether washing keeps pace all\n"
            "the same, and whether demand is met.\n"
            "\n"
            "It passes (0) when demand is met throughout, the reserve in storage is not drawn on, no filter\n"
            "reaches its available head, no spent wash spills, and washing keeps pace. Otherwise it fails\n"
            "(1). Washes that wait briefly do not fail a run.\n",
    .carry_out = carry_out};
