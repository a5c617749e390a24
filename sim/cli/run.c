/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

static struct wr_answer *ask(const struct wr_call *call, const struct wr_scenario *scenario)
{
    return wr_scenario_run_on(scenario, call->resume, call->save != NULL);
}

static int carry_out(const struct wr_call *call)
{
    if (call->save != NULL && call->until == NULL) {
        wr_say_wrong("--save wants --until: a run that has come to its horizon cannot go on");
        return WR_EXIT_WRONG;
    }
    return wr_call_ask_with(call, ask);
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
            "(1). Washes that wait briefly do not fail a run.\n"
            "\n"
            "With --until it answers for the run up to then. With --save such a run can be gone on with by\n"
            "--resume, by the same version of the program and with the same scenario and settings; in the\n"
            "end it answers what a run at one go does.\n",
    .carry_out = carry_out};
