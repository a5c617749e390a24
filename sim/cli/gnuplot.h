/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_CLI_GNUPLOT_H
#define WR_SIM_CLI_GNUPLOT_H

/* gnuplot, run without a shell: it is told a text, loads a script, and what it draws becomes a file. */

#include <stdbool.h>
#include <stdio.h>

/* What is to be drawn. */
struct wr_drawing {
    const char *text; /* variables and data of the picture */
    const char *name; /* of its script: NAME.gp */
    const char *term; /* "png", "svg" or "dumb" */
};

/* Draws to the file at `path`, which is there whole or not at all; one that was there is replaced. Returns an exit
 * status; what is wrong is said on standard error. */
int wr_gnuplot_file(const struct wr_drawing *drawing, const char *path);

/* Draws to a stream. */
int wr_gnuplot_stream(const struct wr_drawing *drawing, FILE *stream);

/* The folder of the scripts, with its name written to `folder`: that of WASHROTA_PLOTS, else beside the installed
 * program, else in the tree from which it was built. False where there is none, which is then said. */
bool wr_gnuplot_find_scripts(char *folder, size_t size);

#endif
