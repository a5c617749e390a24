/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STATE_FILE_H
#define WR_SIM_STATE_FILE_H

/* Files that hold saved runs. */

#include "sim/study/resume.h"

/* Reads a file to `*bytes`, which is empty; of one that is no saved run only the beginning. False where it cannot be
 * read; then the reason is written to `fault`, of `size` bytes. The caller frees the bytes either way. */
bool wr_state_file_read(const char *path, struct wr_bytes *bytes, char *fault, size_t size);

#endif
