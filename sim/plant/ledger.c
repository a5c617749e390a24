/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/plant/ledger.h"

#include "sim/plant/bed.h"

#include <math.h>

/* Shares of throughput within which the books must close. */
static const double WATER_CLOSES = 1e-9;
static const double SOLIDS_CLOSE = 1e-6;

size_t wr_ledger_lines(const struct wr_plant *plant)
{
    return WR_LINE_TANK + (plant->tank_count + WR_BEYOND_TANKS) * WR_LINES_A_TANK;
}

size_t wr_ledger_account_count(const struct wr_plant *plant)
{
    return WR_ACCOUNT_TANKS + plant->tank_count;
}

double *wr_ledger_rounding(const struct wr_plant *plant, const struct wr_state *state)
{
    return wr_state_at(state, plant->layout.rounding);
}

/* Stands for the account of the plant's wash water in the table of lines. */
enum { WASH_WATER = WR_ACCOUNT_WASH_TANK };

/* Account that the plant's wash water comes from. Raw water and effluent pass the header; system pressure is fed by
 * storage. */
static size_t wash_water_account(const struct wr_plant *plant)
{
    switch (plant->definition->wash_water.source) {
    case WR_WATER_FROM_TANK:
        return WR_ACCOUNT_WASH_TANK;
    case WR_WATER_FROM_FILTERS:
    case WR_WATER_FROM_WELLS:
        return WR_ACCOUNT_HEADER;
    default:
        return WR_ACCOUNT_STORAGE;
    }
}

void wr_ledger_accounts(const struct wr_plant *plant, enum wr_line kind, size_t tank, size_t *from, size_t *to)
{
    static const struct {
        size_t from, to;
    } ends[WR_LINE_KINDS] = {
        [WR_LINE_RAW] = {WR_ACCOUNT_WELLS, WR_ACCOUNT_HEADER},
        [WR_LINE_CAUGHT] = {WR_ACCOUNT_HEADER, WR_ACCOUNT_BEDS},
        [WR_LINE_EFFLUENT] = {WR_ACCOUNT_HEADER, WR_ACCOUNT_STORAGE},
        [WR_LINE_REFILL] = {WR_ACCOUNT_HEADER, WR_ACCOUNT_WASH_TANK},
        [WR_LINE_DELIVERED] = {WR_ACCOUNT_STORAGE, WR_ACCOUNT_DEMAND},
        [WR_LINE_OVERFLOW] = {WR_ACCOUNT_STORAGE, WR_ACCOUNT_OVERFLOW},
        [WR_LINE_FILL] = {WASH_WATER, WR_ACCOUNT_FILTERS},
        [WR_LINE_DOWN] = {WR_ACCOUNT_FILTERS, WR_ACCOUNT_STORAGE},
        [WR_LINE_REGENERANT] = {WASH_WATER, WR_ACCOUNT_HOLDING},
        [WR_LINE_HOLDING_HAULED] = {WR_ACCOUNT_HOLDING, WR_ACCOUNT_HAUL},
        [WR_LINE_BACKWASH] = {WASH_WATER, WR_ACCOUNT_TANKS},
        [WR_LINE_RINSE] = {WR_ACCOUNT_HEADER, WR_ACCOUNT_TANKS},
        [WR_LINE_DRAINED] = {WR_ACCOUNT_FILTERS, WR_ACCOUNT_TANKS},
        [WR_LINE_RELEASED] = {WR_ACCOUNT_BEDS, WR_ACCOUNT_TANKS},
        [WR_LINE_RECYCLE] = {WR_ACCOUNT_TANKS, WR_ACCOUNT_HEADER},
        [WR_LINE_TO_SEWER] = {WR_ACCOUNT_TANKS, WR_ACCOUNT_SEWER},
        [WR_LINE_TO_POND] = {WR_ACCOUNT_TANKS, WR_ACCOUNT_POND},
        [WR_LINE_TO_HAUL] = {WR_ACCOUNT_TANKS, WR_ACCOUNT_HAUL},
        [WR_LINE_SLUDGE] = {WR_ACCOUNT_TANKS, WR_ACCOUNT_SLUDGE},
        [WR_LINE_SLUDGE_TO_SEWER] = {WR_ACCOUNT_TANKS, WR_ACCOUNT_SEWER},
        [WR_LINE_SLUDGE_TO_HAUL] = {WR_ACCOUNT_TANKS, WR_ACCOUNT_HAUL},
    };
    const size_t spent = tank < plant->tank_count                      ? WR_ACCOUNT_TANKS + tank
                         : tank - plant->tank_count == WR_BEYOND_SEWER ? WR_ACCOUNT_SEWER
                                                                       : WR_ACCOUNT_SPILL;
    const bool is_wash_water = ends[kind].from == WASH_WATER;
    *from = is_wash_water ? wash_water_account(plant) : ends[kind].from == WR_ACCOUNT_TANKS ? spent : ends[kind].from;
    *to = ends[kind].to == WR_ACCOUNT_TANKS ? spent : ends[kind].to;
}

static void entry_add(struct wr_entry *sum, const struct wr_entry *entry)
{
    sum->water += entry->water;
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        sum->mass[k] += entry->mass[k];
}

void wr_ledger_turnover(const struct wr_plant *plant, const struct wr_state *state, size_t account, struct wr_entry *in,
                        struct wr_entry *out)
{
    *in = (struct wr_entry){0};
    *out = (struct wr_entry){0};
    for (int number = 0; number < WR_LINE_KINDS; number++) {
        const enum wr_line kind = (enum wr_line)number;
        const size_t places = kind < WR_LINE_TANK ? 1 : plant->tank_count + WR_BEYOND_TANKS;
        for (size_t tank = 0; tank < places; tank++) {
            size_t from, to;
            wr_ledger_accounts(plant, kind, tank, &from, &to);
            const struct wr_entry *entry = wr_ledger_line(plant, state, kind, tank);
            if (from == account && to != account)
                entry_add(out, entry);
            if (to == account && from != account)
                entry_add(in, entry);
        }
    }
}

static struct wr_entry bed_stock(const struct wr_plant *plant, const struct wr_state *state)
{
    struct wr_entry stock = {0};
    for (size_t f = 0; f < plant->filter_count; f++) {
        const struct wr_bed bed = wr_bed_now(plant, state, f);
        for (int k = 0; k < WR_CONSTITUENTS; k++)
            stock.mass[k] += bed.load[k] * plant->groups[plant->group_of[f]].area;
    }
    return stock;
}

struct wr_entry wr_ledger_stock(const struct wr_plant *plant, const struct wr_state *state, size_t account)
{
    struct wr_entry stock = {0};
    if (account == WR_ACCOUNT_STORAGE)
        stock.water = state->storage.level;
    else if (account == WR_ACCOUNT_WASH_TANK)
        stock.water = state->wash_tank.level;
    else if (account == WR_ACCOUNT_HOLDING) {
        stock.water = state->holding.level;
        for (int k = 0; k < WR_CONSTITUENTS; k++)
            stock.mass[k] = state->holding.mass[k];
    } else if (account == WR_ACCOUNT_BEDS)
        stock = bed_stock(plant, state);
    else if (account == WR_ACCOUNT_FILTERS)
        for (size_t f = 0; f < plant->filter_count; f++)
            stock.water += wr_state_filters(plant, state)[f].water;
    else if (account >= WR_ACCOUNT_TANKS) {
        const struct wr_tank *tank = &wr_state_tanks(plant, state)[account - WR_ACCOUNT_TANKS];
        stock.water = tank->level;
        for (int k = 0; k < WR_CONSTITUENTS; k++)
            stock.mass[k] = tank->mass[k] + tank->blanket[k];
    }
    return stock;
}

/* Accounts that hold a stock, the header (which holds nothing) among them. */
static bool is_stock(size_t account)
{
    return account == WR_ACCOUNT_HEADER || account == WR_ACCOUNT_BEDS || account == WR_ACCOUNT_FILTERS ||
           account == WR_ACCOUNT_STORAGE || account == WR_ACCOUNT_WASH_TANK || account == WR_ACCOUNT_HOLDING ||
           account >= WR_ACCOUNT_TANKS;
}

static double share_of(double error, double throughput)
{
    return throughput > 0 ? error / throughput : error;
}

/* What an account's lines and its stock differ by. */
static struct wr_entry error_of(const struct wr_entry *opening, const struct wr_entry *in, const struct wr_entry *out,
                                const struct wr_entry *now)
{
    struct wr_entry error = {.water = fabs(now->water - opening->water - in->water + out->water)};
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        error.mass[k] = fabs(now->mass[k] - opening->mass[k] - in->mass[k] + out->mass[k]);
    return error;
}

struct wr_balance wr_ledger_close(const struct wr_plant *plant, const struct wr_state *state,
                                  const struct wr_entry *opening)
{
    struct wr_balance balance = {0};
    struct wr_entry errors = {0}, through = *wr_ledger_line(plant, state, WR_LINE_RAW, 0);
    for (size_t a = 0; a < wr_ledger_account_count(plant); a++) {
        if (!is_stock(a))
            continue;
        struct wr_entry in, out;
        wr_ledger_turnover(plant, state, a, &in, &out);
        const struct wr_entry now = wr_ledger_stock(plant, state, a);
        struct wr_entry error = error_of(&opening[a], &in, &out, &now);
        error.water += wr_ledger_rounding(plant, state)[a];
        entry_add(&errors, &error);
        entry_add(&through, &opening[a]);
        balance.worst_stock_share = fmax(balance.worst_stock_share, share_of(error.water, in.water + opening[a].water));
    }
    balance.water_error_share = share_of(errors.water, through.water);
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        balance.solids_error_share = fmax(balance.solids_error_share, share_of(errors.mass[k], through.mass[k]));
    balance.closes = balance.worst_stock_share <= WATER_CLOSES && balance.water_error_share <= WATER_CLOSES &&
                     balance.solids_error_share <= SOLIDS_CLOSE;
    return balance;
}
