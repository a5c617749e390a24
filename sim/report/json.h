/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_REPORT_JSON_H
#define WR_SIM_REPORT_JSON_H

/* Small words for building a JSON document with numbers that read back exactly. Where memory runs out the program ends.
 * The key may be NULL where `parent` is a list. */

#include <stdbool.h>
#include <stddef.h>

struct cJSON;

/* A document of its own; freed with cJSON_Delete. */
struct cJSON *wr_json_document(void);

/* Adds a block and returns it. */
struct cJSON *wr_json_block(struct cJSON *parent, const char *key);

/* Adds a list and returns it. */
struct cJSON *wr_json_list(struct cJSON *parent, const char *key);

/* Adds a number; null where it is not finite. */
void wr_json_number(struct cJSON *parent, const char *key, double value);

/* Adds a whole number. */
void wr_json_count(struct cJSON *parent, const char *key, size_t value);

/* Adds a text; null for NULL. */
void wr_json_word(struct cJSON *parent, const char *key, const char *value);

/* Adds true or false. */
void wr_json_flag(struct cJSON *parent, const char *key, bool value);

/* Adds null. */
void wr_json_null(struct cJSON *parent, const char *key);

/* The number of an item; NaN where it is none. */
double wr_json_number_of(const struct cJSON *item);

/* The item that an RFC 6901 pointer leads to; NULL where it leads to none. */
const struct cJSON *wr_json_find(const struct cJSON *document, const char *pointer);

/* The document as text with a line feed at its end; the caller frees it. */
char *wr_json_text(const struct cJSON *document);

#endif
