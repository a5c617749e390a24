/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_UNITS_H
#define WR_SIM_SCENARIO_UNITS_H

/* The units of the trade, on UDUNITS. Main thread only. */

#include <stdbool.h>
#include <stddef.h>

#include <udunits2.h>

/* Longest text of a unit, in bytes. */
enum { WR_UNIT_LONGEST = 63 };

/* The unit that `text` writes; the caller frees it with ut_free. NULL when it writes none: then `fault` says why, to go
 * on from what was found ("with the unknown unit ...").
 * Grammar, stricter than that of UDUNITS, which reads "12 in" as a unit of 12 inches and "ft2.5" as half a square foot:
 *     unit   = factor { ("/" | "*" | ".") factor }
 *     factor = word [ ["^"] ["-"] digit ] | "%" | "(" unit ")"
 * with blanks around any of them, and each word one of the table. */
ut_unit *wr_unit_read(const char *text, char *fault, size_t size);

/* The unit of bare numbers; the caller frees it. */
ut_unit *wr_unit_one(void);

/* True when the units measure the same; UDUNITS itself also calls reciprocal units convertible. */
bool wr_units_are_alike(const ut_unit *a, const ut_unit *b);

/* The name of the known unit nearest to a `word` that is none, NULL when none is near; static text. */
const char *wr_unit_nearest(const char *word);

/* The known unit of a number from 0 on, by the word that writes it, NULL past the last; static text. */
const char *wr_unit_word(size_t number);

/* Frees the table; it is built again when needed. */
void wr_units_free(void);

#endif
