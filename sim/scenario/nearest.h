/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_NEAREST_H
#define WR_SIM_SCENARIO_NEAREST_H

/* How far a misspelt word is from one that is known. */

#include <stddef.h>

/* No distance at all: too far to be meant. */
#define WR_TOO_FAR ((size_t)-1)

/* How many letters to add, drop, change or swap with their neighbour to turn `word` into `known`; a change of case
 * alone counts nothing. WR_TOO_FAR when that is more than a third of the longer one's letters, but one is always
 * allowed in words of two letters or more, or when a word is longer than 63 bytes. Optimal string alignment distance:
 * R. Lowrance and R. A. Wagner, "An extension of the string-to-string correction problem", Journal of the ACM 22
 * (1975), in the form where no stretch is edited twice. */
size_t wr_word_distance(const char *word, const char *known);

/* The first of `count` known words that is nearest to `word`; NULL when none is near. */
const char *wr_word_nearest(const char *word, char *const *known, size_t count);

#endif
