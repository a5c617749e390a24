/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_SCENARIO_PARAMETER_H
#define WR_SIM_SCENARIO_PARAMETER_H

/* The parameter table: what a scenario may say, one row a key, one table a block. Reading, ranges, defaults,
 * suggestions, settings and the reference all work from it. A new parameter is a member of the definition and a row in
 * sim/scenario/table_*.c. Every block may also hold "note", a text that is kept with the scenario and not read. */

#include <stdbool.h>
#include <stddef.h>

#include "sim/plant/definition.h"
#include "sim/scenario/quantity.h"
#include "sim/scenario/text.h"

/* What a row reads, and the member that it fills. */
enum wr_parameter_kind {
    WR_IS_FORMAT,      /* the number 1, at the root; fills nothing */
    WR_IS_QUANTITY,    /* text with a unit; double in SI */
    WR_IS_NUMBER,      /* number; double */
    WR_IS_WHOLE,       /* whole number; double */
    WR_IS_COUNT,       /* whole number; size_t */
    WR_IS_CHOICE,      /* one of some words; int, the word's place among `choices` */
    WR_IS_TEXT,        /* text of `least` (or 0) to `most` bytes; char *, owned */
    WR_IS_FLAG,        /* true or false; bool */
    WR_IS_DATE,        /* date; double, seconds since 1970-01-01 */
    WR_IS_DATE_IN_RUN, /* date; double, seconds since the scenario's start */
    WR_IS_CLOCK,       /* time of the day; double, seconds since midnight */
    WR_IS_NUMBERS,     /* list of `length` numbers, or quantities; double[length] */
    WR_IS_NUMBER_LIST, /* list of any number of them; struct { double *items; size_t count; }, owned */
    WR_IS_BLOCK,       /* block; the nested struct, and a bool at `presence` where it has `has_presence` */
    WR_IS_BLOCK_LIST   /* list of blocks; struct { struct ... *items; size_t count; }, owned */
};

struct wr_block;

/* One key of a block. Limits and defaults are texts as an author writes them: "0.5 psi", "1", "cold". For lists of
 * numbers they hold for each item, for lists of blocks and for texts the limits count items and bytes. */
struct wr_parameter {
    const char *key;
    const char *meaning; /* a phrase for the reference */
    enum wr_parameter_kind kind;
    size_t offset;                /* of the member in the block's struct */
    enum wr_quantity quantity;    /* of a quantity or of a list of quantities */
    const struct wr_block *block; /* of a block or list of blocks */
    const char *const *choices;   /* words, NULL after the last */
    size_t length;                /* of a list of fixed length */
    bool has_presence;
    size_t presence;          /* offset of the flag that says whether an optional block is there */
    bool required;            /* in a block that is there */
    const char *default_text; /* NULL: absent when left out */
    const char *when_absent;  /* what holds then, a phrase for the reference; NULL: nothing does */
    const char *least;        /* at least; NULL: no limit */
    const char *above;        /* more than */
    const char *most;         /* at most */
    const char *below;        /* less than */
    const char *example;      /* NULL: the quantity's own */
    const char *source;       /* of the default and of limits, where there are any */
};

/* A block: the keys of one kind of JSON object and the struct they fill. */
struct wr_block {
    const char *name;                      /* as the reference calls it: "wash tank" */
    const char *meaning;                   /* a sentence for the reference */
    const struct wr_parameter *parameters; /* in the order of the reference */
    size_t count;
    size_t size;              /* bytes of its struct */
    const char *const *rules; /* what must hold between keys, sentences for the reference, NULL after the last; or NULL.
                                 Those in sim/scenario/rules_*.c hold the scenario to them. */
};

/* The whole scenario; every other block is reached through its rows. */
extern const struct wr_block wr_block_scenario;

/* The row of `key` in `block`, NULL when there is none. */
const struct wr_parameter *wr_block_find(const struct wr_block *block, const char *key);

/* The row that an RFC 6901 pointer such as "/filters/0/deposit/slope" leads to, NULL when it leads to none. Any number
 * or "-" stands for an item of a list; a pointer to an item gives the list's row. */
const struct wr_parameter *wr_table_find(const char *pointer);

/* What a table walk calls for each row, blocks before their own rows, in the order of the reference. `depth` counts the
 * blocks around the row; `block` holds it. */
typedef void wr_table_visitor(const struct wr_block *block, const struct wr_parameter *parameter, size_t depth,
                              void *context);

/* Visits every row reached from `block`. */
void wr_table_walk(const struct wr_block *block, wr_table_visitor *visit, void *context);

/* Bytes of the member that a row fills. */
size_t wr_parameter_size(const struct wr_parameter *parameter);

/* The number of a limit or default in the unit inside: SI for quantities. `text` must be one of the row's. */
double wr_parameter_limit(const struct wr_parameter *parameter, const char *text);

/* True when `number`, in the unit inside, is within the row's limits. */
bool wr_parameter_allows(const struct wr_parameter *parameter, double number);

/* Adds what a row allows, in words: `a share such as "72 %", at least 0 %, at most 100 %`. Limits and the row's own
 * example are told in a unit of `units`, limits rounded to the side that is allowed; NULL: as the table has them. */
void wr_parameter_allowed(const struct wr_parameter *parameter, const enum wr_units *units, struct wr_text *text);

#endif
