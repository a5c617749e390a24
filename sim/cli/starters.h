/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_CLI_STARTERS_H
#define WR_SIM_CLI_STARTERS_H

/* The starters of scenarios/starters/, which the build puts into the program.
 *
 * A starter's first line is "# " and what it is, in a few words. The rest is a scenario for readers of US and of SI
 * units in one: where the two differ it has "<as in US units|as in SI units>". It is plain ASCII. */

#include <stddef.h>

struct wr_starter {
    const char *name; /* the template's: that of the file */
    const char *text;
};

extern const struct wr_starter wr_starters[];
extern const size_t wr_starter_count;

#endif
