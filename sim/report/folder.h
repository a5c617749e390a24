/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_REPORT_FOLDER_H
#define WR_SIM_REPORT_FOLDER_H

/* Run folders: whole or not there.
 *
 * A folder is written under a name of its own beside the place it is meant for and renamed when everything is on it, so
 * an interruption leaves at most a folder "NAME.partial-XXXXXX". An older run folder in that place is moved aside
 * before and removed after. */

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

/* One file of a folder; `write` puts it out from `what`. */
struct wr_folder_file {
    const char *name;
    void (*write)(FILE *out, const void *what);
    const void *what;
};

enum wr_folder_status { WR_FOLDER_WRITTEN, WR_FOLDER_REFUSED, WR_FOLDER_FAILED };

/* Writes `count` files to `folder`, whose parents are made where they are missing. One of the files must be
 * "about.json", by which a run folder is known. Refuses a place that holds anything but an empty folder or an older run
 * folder with nothing else in it. What is wrong is written to `fault`, at most `size` bytes. */
enum wr_folder_status wr_folder_write(const char *folder, const struct wr_folder_file *files, size_t count, char *fault,
                                      size_t size);

#endif
