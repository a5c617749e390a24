/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_LEDGER_H
#define WR_SIM_PLANT_LEDGER_H

/* Double entry for water and what it carries.
 *
 * Every movement is one line from an account to another. Stocks count their own level as they fill and empty; the
 * ledger counts the lines. The two are kept apart on purpose: when they no longer agree, a booking was lost. What is
 * lost or won by setting a stock exactly to a threshold is booked as rounding and counts as error. */

#include "sim/plant/state.h"

/* Accounts. Spent-wash tanks follow WR_ACCOUNT_TANKS, one each. */
enum wr_account {
    WR_ACCOUNT_WELLS,
    WR_ACCOUNT_HEADER,  /* raw and recycle on the way to the filters: holds nothing */
    WR_ACCOUNT_BEDS,    /* what the filters have caught: no water */
    WR_ACCOUNT_FILTERS, /* water in the filters, counted from full */
    WR_ACCOUNT_STORAGE,
    WR_ACCOUNT_WASH_TANK,
    WR_ACCOUNT_HOLDING, /* spent regenerant */
    WR_ACCOUNT_DEMAND,
    WR_ACCOUNT_OVERFLOW,
    WR_ACCOUNT_SEWER,
    WR_ACCOUNT_POND,
    WR_ACCOUNT_HAUL,
    WR_ACCOUNT_SLUDGE,
    WR_ACCOUNT_SPILL,
    WR_ACCOUNT_TANKS
};

/* Kinds of lines; from WR_LINE_TANK on one of each kind for every tank and each place beyond the tanks: the sewer
 * without a tank, and the ground where it spills. */
enum wr_line {
    WR_LINE_RAW,            /* wells to header */
    WR_LINE_CAUGHT,         /* header to beds */
    WR_LINE_EFFLUENT,       /* header to storage */
    WR_LINE_REFILL,         /* header to wash-water tank */
    WR_LINE_DELIVERED,      /* storage to demand */
    WR_LINE_OVERFLOW,       /* storage to overflow */
    WR_LINE_FILL,           /* wash water into a drained filter */
    WR_LINE_DOWN,           /* filters that filter down, to storage */
    WR_LINE_REGENERANT,     /* wash water to the holding tank */
    WR_LINE_HOLDING_HAULED, /* the holding tank's content, hauled away */
    WR_LINE_TANK,
    WR_LINE_BACKWASH = WR_LINE_TANK, /* wash water to spent wash */
    WR_LINE_RINSE,                   /* header to spent wash */
    WR_LINE_DRAINED,                 /* filters' own water to spent wash */
    WR_LINE_RELEASED,                /* beds to spent wash */
    WR_LINE_RECYCLE,                 /* spent wash to header */
    WR_LINE_TO_SEWER,                /* spent wash to each outlet */
    WR_LINE_TO_POND,
    WR_LINE_TO_HAUL,
    WR_LINE_SLUDGE, /* sludge, dropped or drawn, on the plant */
    WR_LINE_SLUDGE_TO_SEWER,
    WR_LINE_SLUDGE_TO_HAUL,
    WR_LINE_KINDS
};

enum { WR_LINES_A_TANK = WR_LINE_KINDS - WR_LINE_TANK };

/* Water and constituents of one line: m3 and kg since the run began. */
struct wr_entry {
    double water;
    double mass[WR_CONSTITUENTS];
};

/* How well the books close. */
struct wr_balance {
    double water_error_share;  /* of throughput: lines against levels, rounding included */
    double solids_error_share; /* the worst of solids, iron and manganese, each of its own throughput */
    double worst_stock_share;  /* the worst single stock, of its own throughput */
    bool closes;               /* within 1e-9 for water and 1e-6 for solids */
};

/* Number of lines a plant's ledger has. */
size_t wr_ledger_lines(const struct wr_plant *plant);

/* Line of a kind: tank is the tank's number, or a place beyond the tanks, ignored before WR_LINE_TANK. */
static inline struct wr_entry *wr_ledger_line(const struct wr_plant *plant, const struct wr_state *state,
                                              enum wr_line kind, size_t tank)
{
    struct wr_entry *lines = wr_state_at(state, plant->layout.lines);
    return kind < WR_LINE_TANK ? &lines[kind] : &lines[kind + tank * WR_LINES_A_TANK];
}

/* Accounts that a line of this kind moves between. */
void wr_ledger_accounts(const struct wr_plant *plant, enum wr_line kind, size_t tank, size_t *from, size_t *to);

/* Number of accounts: WR_ACCOUNT_TANKS and one a tank. */
size_t wr_ledger_account_count(const struct wr_plant *plant);

/* Rounding booked on each account, m3, as absolute amounts. */
double *wr_ledger_rounding(const struct wr_plant *plant, const struct wr_state *state);

/* What came into and went out of an account since the run began. */
void wr_ledger_turnover(const struct wr_plant *plant, const struct wr_state *state, size_t account, struct wr_entry *in,
                        struct wr_entry *out);

/* What an account holds now, by the plant's own stocks: m3 and kg. */
struct wr_entry wr_ledger_stock(const struct wr_plant *plant, const struct wr_state *state, size_t account);

/* Closes the books against the stocks at the start, one entry an account as wr_ledger_stock gave them. */
struct wr_balance wr_ledger_close(const struct wr_plant *plant, const struct wr_state *state,
                                  const struct wr_entry *opening);

#endif
