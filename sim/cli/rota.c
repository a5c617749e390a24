/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

static struct wr_answer *ask(const struct wr_call *call, const struct wr_scenario *scenario)
{
    const struct wr_rota_wish wish = {
        .may = call->wishes, .may_count = call->wish_count, .tries = call->tries, .for_firm = call->for_firm};
    return wr_scenario_rota(scenario, &wish);
}

static int carry_out(const struct wr_call *call)
{
    if (call->wish_count == 0) {
        wr_say_wrong("rota wants bounds: --may POINTER=VALUES, such as --may '/wash/min_between_starts=0 h to 4 h'");
        return WR_EXIT_WRONG;
    }
    return wr_call_study(call, ask);
}

const struct wr_command wr_command_rota = {
    .name = "rota",
    .operand = "FILE",
    .needs_operand = true,
    .summary = "which rota of washes leaves most room, within bounds that you give?",
    .help = "Searches settings of the washes within the bounds of --may: gaps, hours, order, triggers, each a\n"
            "pointer into the scenario with a range or a list of values; and a dated rota by every= and first=:\n"
            "washrota rota FILE --may '/wash/min_between_starts=0 h to 4 h' --may 'every=24 h to 72 h'.\n"
            "Each is run from several starts. Most room is, in this order: nothing that fails a run, no wait,\n"
            "little reserve used, wash water and tank room in hand, few washes. --for firm puts the filter firm\n"
            "capacity first. It shows today's rota beside the best and the setpoints, to be verified on the plant.\n"
            "\n"
            "It passes (0) when the best that was found fails from no start and keeps pace. Otherwise it fails (1).\n",
    .carry_out = carry_out};
