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
    .summary = "what can the plant promise with its largest filter out, and what limits it?",
    .help = "Searches the filter firm capacity: the most finished water a day that the plant as described delivers on\n"
            "every day of a repeated maximum day, with its largest filter out throughout. Runs of 365 days; a demand\n"
            "passes when a run at it would (see \"washrota help run\") and storage comes back to where it started.\n"
            "The scenario's own horizon, outages and level of storage at the start play no part.\n"
            "\n"
            "It passes (0) when the firm capacity is at least the scenario's maximum day. Otherwise it fails (1).\n"
            "It is a simulation of the plant described, not an approved or guaranteed capacity.\n",
    .carry_out = carry_out};
