/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_TESTS_INPUT_REFERENCE_H
#define WR_TESTS_INPUT_REFERENCE_H

/* The pages for authors of scenarios, written from the parameter table. */

#include "sim/scenario/parameter.h"

/* The scenario reference, docs/scenario.md. The caller frees it. */
char *wr_reference_text(void);

/* The JSON Schema of a scenario, draft 7, scenarios/scenario.schema.json. It knows kinds, keys, words of choices, and
 * limits of numbers, texts and lists; not what a quantity's unit measures, nor what must hold between keys. The caller
 * frees it. */
char *wr_schema_text(void);

/* Adds what a row allows, as wr_parameter_allowed does, with examples in US and in SI units. */
void wr_reference_allowed(const struct wr_parameter *row, struct wr_text *text);

/* Adds what holds when the key is left out. */
void wr_reference_left_out(const struct wr_parameter *row, struct wr_text *text);

#endif
