/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

static struct wr_answer *ask(const struct wr_call *call, const struct wr_scenario *scenario)
{
    const struct wr_sweep_wish wish = {.axes = call->wishes,
                                       .axis_count = call->wish_count,
                                       .in_step = call->in_step,
                                       .of_firm = call->of_firm,
                                       .show = call->shown,
                                       .show_count = call->shown_count,
                                       .skip = call->skip};
    return wr_scenario_sweep(scenario, &wish);
}

static int carry_out(const struct wr_call *call)
{
    if (call->wish_count == 0) {
        wr_say_wrong("sweep wants an axis: --axis POINTER=VALUES, such as --axis '/filters/0/count=3 to 6'");
        return WR_EXIT_WRONG;
    }
    if (call->csv && call->json) {
        wr_say_wrong("--csv and --json both write on standard output: one of them");
        return WR_EXIT_WRONG;
    }
    return wr_call_study(call, ask);
}

const struct wr_command wr_command_sweep = {
    .name = "sweep",
    .operand = "FILE",
    .needs_operand = true,
    .summary = "the same question at many points: what moves with what?",
    .help = "Asks a run, or with --ask firm the firm capacity, at every combination of the values of its axes:\n"
            "washrota sweep FILE --axis '/raw_water/iron=1 mg/L to 5 mg/L in 9' --axis '/filters/0/count=3, 4'.\n"
            "An axis is a pointer into the scenario with a range or a list of values; --in-step moves axes\n"
            "together. --show picks figures of the answer by their JSON pointer, as often as wanted. The report\n"
            "is a table; --csv writes it for other programs; a run folder also gets a picture.\n"
            "\n"
            "It passes (0) when every point is allowed and passes. Otherwise it fails (1).\n",
    .carry_out = carry_out};
