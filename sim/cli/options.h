/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_CLI_OPTIONS_H
#define WR_SIM_CLI_OPTIONS_H

/* The table of options, for those who read a call and for help. */

#include "sim/cli/cli.h"

/* One option: its name, what it takes, and what it does to a call. */
struct wr_option {
    const char *name;
    const char *value; /* as help shows it; NULL for one that takes none */
    const char *meaning;
    bool (*take)(struct wr_call *call, const char *value); /* false for a value that is wrong, which is said */
    const char *of; /* the commands that it belongs to, with blanks between; NULL for all */
};

extern const struct wr_option wr_options[];
extern const size_t wr_option_count;

#endif
