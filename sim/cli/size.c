/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

static struct wr_answer *ask(const struct wr_call *call, const struct wr_scenario *scenario)
{
    const struct wr_size_wish wish = {.flow = call->wanted_flow,
                                      .fewest = call->fewest > 0 ? call->fewest : 2,
                                      .most = call->fewest > 0 ? call->most : 8,
                                      .simulate = call->simulate};
    return wr_scenario_size(scenario, &wish);
}

static int carry_out(const struct wr_call *call)
{
    if (call->wanted_flow == NULL) {
        wr_say_wrong("size wants to know the flow: --firm \"0.5 Mgal/d\", or \"90 m3/h\"");
        return WR_EXIT_WRONG;
    }
    return wr_call_study(call, ask);
}

const struct wr_command wr_command_size = {
    .name = "size",
    .operand = "FILE",
    .needs_operand = true,
    .summary = "which filters would give a wanted flow with one of them out?",
    .help = "Lists, for each number of filters, the smallest vessel or cell that gives --firm with one out at the\n"
            "approved rate, net of the water of washes: areas, rates, backwash flow, wash volume, room for one\n"
            "and two washes, and whether the others can supply a wash. Bed, rate, wash and triggers are those of\n"
            "the scenario; \"washrota new\" writes one to begin with. These are sums of steady averages. --simulate\n"
            "then searches the firm capacity of each, with tanks made to hold its washes, and says what stops it.\n"
            "\n"
            "It passes (0) when a row gives the flow, by simulation where that was wanted. Otherwise it fails (1).\n"
            "It chooses no filter for you: verify on the plant; a licensed engineer decides.\n",
    .carry_out = carry_out};
