/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

static struct wr_answer *ask(const struct wr_call *call, const struct wr_scenario *scenario)
{
    const struct wr_margin_wish wish = {
        .of = call->wishes, .count = call->wish_count, .judged = call->judged, .map = call->map};
    return wr_scenario_margin(scenario, &wish);
}

static int carry_out(const struct wr_call *call)
{
    if (call->wish_count == 0) {
        wr_say_wrong("margin wants a number: --of POINTER, such as --of /raw_water/iron");
        return WR_EXIT_WRONG;
    }
    return wr_call_study(call, ask);
}

const struct wr_command wr_command_margin = {
    .name = "margin",
    .operand = "FILE",
    .needs_operand = true,
    .summary = "how bad may a number get before the plant no longer passes?",
    .help = "Moves a number of the scenario up and down, everything else as written, to where the plant stops\n"
            "passing, and says what stops it there: washrota margin FILE --of /raw_water/iron. It looks to ten\n"
            "times the value and to a tenth of it, or as far as said: --of '/raw_water/iron=1 mg/L to 20 mg/L'.\n"
            "Several --of are ranked by how near their limit is. With --map two numbers are moved together.\n"
            "\n"
            "A value is judged by the maximum day on every day of a year with the largest filter out, as firm\n"
            "tries a demand; --judged all-in leaves every filter in, --judged run takes the scenario's own run.\n"
            "\n"
            "It passes (0) when the plant as it stands does. Otherwise it fails (1).\n",
    .carry_out = carry_out};
