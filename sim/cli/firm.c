/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

static int carry_out(const struct wr_call *call)
{
    return wr_call_ask(call, wr_scenario_firm);
}

const struct wr_command wr_command_firm = {
    .name = "firm",
    .operand = "FILE",
    .needs_operand = true,
    .summary = "what can the plant promise with its largest filter out, and why no more?",
    .help = "Searches the filter firm capacity: the most finished water a day that the plant as described\n"
            "delivers on every day of a repeated maximum day, with its largest filter out throughout. Runs of\n"
            "365 days; a demand passes when a run at it would (see \"washrota help run\") and storage comes\n"
            "back to where it started. The scenario's own horizon, outages and level of storage at the start\n"
            "play no part.\n"
            "\n"
            "It passes (0) when the firm capacity is at least the scenario's maximum day. Otherwise it fails\n"
            "(1). It is a simulation of the plant described, not an approved or guaranteed capacity.\n",
    .carry_out = carry_out};
