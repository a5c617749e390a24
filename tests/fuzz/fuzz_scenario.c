/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The reader of scenarios: an input is the text of a scenario. */
#include "tests/fuzz/fuzz.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    fuzz_count_input();
    fuzz_examine(wr_scenario_open_text("hostile.json", (const char *)data, size, NULL, 0));
    return 0;
}
