/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_PUBLISHED_VOICE_H
#define WR_TESTS_PUBLISHED_VOICE_H

/* An outside voice: a library of somebody else's that works out the same figures, run by a small Python script.
 *
 * The script's first line names the library and its version, or reads "missing"; every further line is a row of numbers
 * with blanks between. */

#include <stdio.h>

/* Starts a script, its path from the root of the tree, with Debian's own Python, and prints who speaks.
 * Returns: the stream after its first line, for wr_voice_end; NULL, having printed why, when Python or the library is
 * not installed. Any other failure of the script fails the test. */
FILE *wr_voice_begin(const char *script);

/* Ends what wr_voice_begin started; a script that failed half way fails the test. */
void wr_voice_end(FILE *voice);

#endif
