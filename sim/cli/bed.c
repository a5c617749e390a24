/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/cli/cli.h"

static int carry_out(const struct wr_call *call)
{
    return wr_call_ask(call, wr_scenario_bed);
}

const struct wr_command wr_command_bed = {
    .name = "bed",
    .operand = "FILE",
    .needs_operand = true,
    .summary = "does the wash lift the bed and keep it in, and which rate expands it?",
    .help = "Says of the bed of each group of filters, in the coldest and the warmest wash water, whether the\n"
            "scenario's backwash lifts it, how far it expands by two laws that differ, and what it loses;\n"
            "clean head by layer; and over temperature the rate for a wanted expansion, --expand \"50 %\".\n"
            "\n"
            "It passes (0) when every bed whose media are known is lifted to its coarse grains throughout,\n"
            "rises by no more than its freeboard where one is given, and loses no more than 0.1 % of a\n"
            "medium. Otherwise it fails (1). It is worked out from media, not seen on the plant.\n",
    .carry_out = carry_out};
