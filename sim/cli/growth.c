/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

static struct wr_answer *ask(const struct wr_call *call, const struct wr_scenario *scenario)
{
    double growth;
    return wr_call_growth(call, &growth) ? wr_scenario_growth(scenario, growth) : NULL;
}

static int carry_out(const struct wr_call *call)
{
    double growth;
    if (call->rate == NULL) {
        wr_say_wrong("growth wants to know how fast demand grows: --rate \"2 %%\", a share a year");
        return WR_EXIT_WRONG;
    }
    return wr_call_growth(call, &growth) ? wr_call_study(call, ask) : WR_EXIT_WRONG;
}

const struct wr_command wr_command_growth = {
    .name = "growth",
    .operand = "FILE",
    .needs_operand = true,
    .summary = "when does growing demand catch up with what the plant can promise?",
    .help = "Lets the maximum day grow by --rate a year, compound, from the year in which the scenario starts,\n"
            "and says in which year it reaches 75, 90 and 100 % of the filter firm, the plant firm and the\n"
            "approved capacity (see \"washrota help firm\"). Years to a mark are ln(mark / maximum day) over\n"
            "ln(1 + rate). How many years a change of the plant buys says compare --rate.\n"
            "\n"
            "It passes (0) when firm would: the filter firm capacity covers today's maximum day. Otherwise it\n"
            "fails (1). It is a simulation of the plant described, not an approved or guaranteed capacity.\n",
    .carry_out = carry_out};
