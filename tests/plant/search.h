/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_PLANT_SEARCH_H
#define WR_TESTS_PLANT_SEARCH_H

/* A search for a firm capacity, looked at again from outside. */

#include "sim/study/ladder.h"

/* One demand tried by hand, m3/s: a year of it, storage starting at the lowest off level of the wells, a unit out or
 * NULL. True where it passes. */
bool search_by_hand(const struct wr_definition *definition, double demand, const char *unit_out);

/* Reads a search's ladder again, from the words of docs/answers.md, and tries both ends of its bracket by hand. */
void check_search_of(const struct wr_search *search, const struct wr_definition *definition, const char *unit_out);

#endif
