/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/json.h"
#include "sim/report/report.h"
#include "sim/report/say.h"
#include "sim/study/tank_sums.h"

#include <assert.h>
#include <cjson/cJSON.h>
#include <math.h>
#include <stdlib.h>

/* Accounts ------------------------------------------------------------------------------------------------------ */

static const char *const account_keys[WR_ACCOUNT_TANKS] = {
    [WR_ACCOUNT_WELLS] = "wells",       [WR_ACCOUNT_HEADER] = "header",       [WR_ACCOUNT_BEDS] = "beds",
    [WR_ACCOUNT_STORAGE] = "storage",   [WR_ACCOUNT_WASH_TANK] = "wash_tank", [WR_ACCOUNT_DEMAND] = "demand",
    [WR_ACCOUNT_OVERFLOW] = "overflow", [WR_ACCOUNT_SEWER] = "sewer",         [WR_ACCOUNT_SLUDGE] = "sludge",
    [WR_ACCOUNT_SPILL] = "spill",       [WR_ACCOUNT_FILTERS] = "filters",     [WR_ACCOUNT_POND] = "pond",
    [WR_ACCOUNT_HAUL] = "haul",         [WR_ACCOUNT_HOLDING] = "holding_tank"};

/* What an account held at the start and at the end, and what came and went between. */
struct turnover {
    struct wr_entry start, in, out, end;
};

static struct turnover turnover_of(const struct wr_run *run, size_t account)
{
    struct turnover t = {.start = run->record.opening[account]};
    wr_ledger_turnover(&run->plant, run->simulation.state, account, &t.in, &t.out);
    t.end = wr_ledger_stock(&run->plant, run->simulation.state, account);
    return t;
}

/* One kind of line, over all tanks and the places beyond them. */
static double line_water(const struct wr_run *run, enum wr_line kind)
{
    double water = 0;
    for (size_t tank = 0; tank < run->plant.tank_count + WR_BEYOND_TANKS; tank++)
        water += wr_ledger_line(&run->plant, run->simulation.state, kind, tank)->water;
    return water;
}

static double came_in(const struct wr_run *run, enum wr_account account, int constituent)
{
    const struct turnover t = turnover_of(run, account);
    return constituent < 0 ? t.in.water : t.in.mass[constituent];
}

/* Rinse water that a plant with tanks sends to the sewer, m3. */
static double rinse_past_tanks(const struct wr_run *run)
{
    const size_t sewer = run->plant.tank_count + WR_BEYOND_SEWER;
    return run->plant.tank_count > 0 ? wr_ledger_line(&run->plant, run->simulation.state, WR_LINE_RINSE, sewer)->water
                                     : 0;
}

static double regenerant_held(const struct wr_run *run)
{
    return wr_ledger_line(&run->plant, run->simulation.state, WR_LINE_REGENERANT, 0)->water;
}

static double received(const struct wr_run *run)
{
    return line_water(run, WR_LINE_BACKWASH) + line_water(run, WR_LINE_RINSE) + line_water(run, WR_LINE_DRAINED) +
           regenerant_held(run);
}

/* JSON ------------------------------------------------------------------------------------------------------------ */

/* How often an emergency outlet was used, and first when; null for another. */
static void add_uses(struct cJSON *block, const struct wr_run *run, size_t outlet)
{
    const bool emergency = run->plant.definition->spent_wash.outlets.items[outlet].emergency;
    const struct wr_emergency_sums sums = wr_emergency_sums_of(run, outlet);
    if (emergency)
        wr_json_count(block, "times_used", sums.times);
    else
        wr_json_null(block, "times_used");
    wr_json_number(block, "first_used_s", sums.first);
}

/* Each outlet's worst day, peak and time of flow: what an agreement with a sewer asks for. */
static void add_outlets(struct cJSON *spent, const struct wr_run *run)
{
    const struct wr_outlet_state *outlets = wr_state_outlets(&run->plant, run->simulation.state);
    struct cJSON *list = wr_json_list(spent, "outlets");
    for (size_t o = 0; o < run->plant.outlet_count; o++) {
        const struct wr_outlet *outlet = &run->plant.definition->spent_wash.outlets.items[o];
        struct cJSON *block = wr_json_block(list, NULL);
        wr_json_word(block, "kind", wr_outlet_key(outlet->kind));
        wr_json_flag(block, "emergency", outlet->emergency);
        wr_json_number(block, "given_m3", outlets[o].given);
        wr_json_number(block, "worst_day_m3", outlets[o].worst_day);
        wr_json_number(block, "peak_m3_per_s", outlets[o].peak);
        wr_json_number(block, "running_s", outlets[o].hours);
        add_uses(block, run, o);
    }
}

static void add_spent_wash(struct cJSON *document, const struct wr_run *run)
{
    const double all = received(run), recycled = line_water(run, WR_LINE_RECYCLE);
    const double there = all + wr_recovery_of(run).held; /* tanks may begin full */
    struct cJSON *spent = wr_json_block(document, "spent_wash");
    wr_json_number(spent, "received_m3", all);
    wr_json_number(spent, "recycled_m3", recycled);
    wr_json_number(spent, "sewer_m3", came_in(run, WR_ACCOUNT_SEWER, -1));
    wr_json_number(spent, "pond_m3", came_in(run, WR_ACCOUNT_POND, -1));
    wr_json_number(spent, "haul_m3", came_in(run, WR_ACCOUNT_HAUL, -1));
    wr_json_number(spent, "sludge_m3", came_in(run, WR_ACCOUNT_SLUDGE, -1));
    wr_json_number(spent, "spilled_m3", came_in(run, WR_ACCOUNT_SPILL, -1));
    wr_json_number(spent, "recovered_share", there > 0 ? recycled / there : WR_ABSENT);
    wr_json_number(spent, "highest_recycle_fraction", run->record.highest_recycle_share);
    wr_json_number(spent, "rinse_m3", line_water(run, WR_LINE_RINSE));
    wr_json_number(spent, "rinse_past_tanks_m3", rinse_past_tanks(run));
    add_outlets(spent, run);
    wr_report_tank_blocks(spent, run);
}

static void add_water(struct cJSON *block, const struct turnover *t)
{
    wr_json_number(block, "start_m3", t->start.water);
    wr_json_number(block, "in_m3", t->in.water);
    wr_json_number(block, "out_m3", t->out.water);
    wr_json_number(block, "end_m3", t->end.water);
}

static void add_solids(struct cJSON *block, const struct turnover *t)
{
    wr_json_number(block, "start_kg", t->start.mass[WR_SOLIDS]);
    wr_json_number(block, "in_kg", t->in.mass[WR_SOLIDS]);
    wr_json_number(block, "out_kg", t->out.mass[WR_SOLIDS]);
    wr_json_number(block, "end_kg", t->end.mass[WR_SOLIDS]);
}

/* One side of the ledger, water or solids, by account; tanks in a list of their own, since their names are free. */
static void add_ledger_side(struct cJSON *ledger, const char *key, const struct wr_run *run,
                            void (*add)(struct cJSON *, const struct turnover *))
{
    struct cJSON *side = wr_json_block(ledger, key);
    for (size_t a = 0; a < WR_ACCOUNT_TANKS; a++) {
        const struct turnover t = turnover_of(run, a);
        add(wr_json_block(side, account_keys[a]), &t);
    }
    struct cJSON *tanks = wr_json_list(side, "spent_wash_tanks");
    for (size_t i = 0; i < run->plant.tank_count; i++) {
        const struct turnover t = turnover_of(run, WR_ACCOUNT_TANKS + i);
        struct cJSON *tank = wr_json_block(tanks, NULL);
        wr_json_word(tank, "name", run->plant.definition->spent_wash.tanks.items[i].name);
        add(tank, &t);
    }
}

void wr_report_account_blocks(struct cJSON *document, const struct wr_run *run)
{
    add_spent_wash(document, run);
    struct cJSON *ledger = wr_json_block(document, "ledger");
    add_ledger_side(ledger, "water", run, add_water);
    add_ledger_side(ledger, "solids", run, add_solids);
    wr_json_number(ledger, "water_error_share", run->books.water_error_share);
    wr_json_number(ledger, "solids_error_share", run->books.solids_error_share);
    wr_json_number(ledger, "worst_stock_error_share", run->books.worst_stock_share);
}

/* Tables that add up ---------------------------------------------------------------------------------------------- */

enum { SIDE_ROWS = 12 };

/* One side of an account: what came, or where it went. Rows of no amount are left out of the table. */
struct side {
    const char *words[SIDE_ROWS];
    double amounts[SIDE_ROWS];
    size_t rows;
};

static void add_row(struct side *side, const char *words, double amount)
{
    if (amount <= 0)
        return;
    assert(side->rows < SIDE_ROWS);
    side->words[side->rows] = words;
    side->amounts[side->rows++] = amount;
}

/* A stock that grew has taken water, one that fell has given it. */
static void add_change(struct side *from, struct side *to, const char *given, const char *taken, double change)
{
    add_row(change > 0 ? to : from, change > 0 ? taken : given, fabs(change));
}

static double sum_of(const struct side *side)
{
    double sum = 0;
    for (size_t r = 0; r < side->rows; r++)
        sum += side->amounts[r];
    return sum;
}

/* Rounds the rows to whole numbers whose sum is `total`: each down, then up again by ones where most was cut off. Every
 * row stays within one of its amount, and what a reader adds up by hand is the sum that is printed. */
static void round_rows(struct side *side, double total)
{
    double cut[SIDE_ROWS], left = total;
    for (size_t r = 0; r < side->rows; r++) {
        cut[r] = side->amounts[r] - floor(side->amounts[r]);
        side->amounts[r] = floor(side->amounts[r]);
        left -= side->amounts[r];
    }
    for (; left > 0.5 && side->rows > 0; left--) {
        size_t most = 0;
        for (size_t r = 1; r < side->rows; r++)
            most = cut[r] > cut[most] ? r : most;
        side->amounts[most]++;
        cut[most] -= 1;
    }
}

/* Scale from SI to the last digit that is shown. */
struct scale {
    enum wr_quantity quantity;
    enum wr_units units;
    int decimals;
};

static double last_digits(const struct scale *scale, double amount)
{
    return wr_quantity_shown(scale->quantity, amount, scale->units) * (scale->decimals == 1 ? 10 : 1);
}

static void put_number(struct wr_grid *grid, const struct scale *scale, double digits)
{
    if (scale->decimals == 1)
        wr_grid_add(grid, "%s.%.0f", wr_say_whole(floor(digits / 10)).text, fmod(digits, 10));
    else
        wr_grid_add(grid, "%s", wr_say_whole(digits).text);
}

static void put_side(struct wr_grid *grid, const struct scale *scale, struct side *side, double total,
                     const char *sum_words)
{
    for (size_t r = 0; r < side->rows; r++)
        side->amounts[r] = last_digits(scale, side->amounts[r]);
    round_rows(side, total);
    for (size_t r = 0; r < side->rows; r++) {
        wr_grid_add(grid, "%s", side->words[r]);
        put_number(grid, scale, side->amounts[r]);
    }
    wr_grid_add(grid, "%s", sum_words);
    put_number(grid, scale, total);
}

/* Two sides, one above the other, each with its sum. */
static void put_account(struct wr_page *page, const char *heading, const struct scale *scale, struct side *from,
                        struct side *to)
{
    const double total = round(last_digits(scale, fmax(sum_of(from), sum_of(to))));
    struct wr_grid grid = {.align = "lr", .heads = 1};
    wr_grid_add(&grid, "%s", heading);
    wr_grid_add(&grid, "%s", wr_quantity_unit(scale->quantity, scale->units));
    put_side(&grid, scale, from, total, "= came in");
    put_side(&grid, scale, to, total, "= went out");
    wr_page_grid(page, &grid);
}

static double tank_change(const struct wr_run *run, int constituent)
{
    double change = 0;
    for (size_t i = 0; i < run->plant.tank_count; i++) {
        const struct turnover t = turnover_of(run, WR_ACCOUNT_TANKS + i);
        change += constituent < 0 ? t.end.water - t.start.water : t.end.mass[constituent] - t.start.mass[constituent];
    }
    return change;
}

static struct wr_entry stock_change(const struct wr_run *run, enum wr_account account)
{
    const struct turnover t = turnover_of(run, account);
    struct wr_entry change = {.water = t.end.water - t.start.water};
    for (int k = 0; k < WR_CONSTITUENTS; k++)
        change.mass[k] = t.end.mass[k] - t.start.mass[k];
    return change;
}

static struct scale scale_for(enum wr_quantity quantity, enum wr_units units)
{
    return (struct scale){
        .quantity = quantity, .units = units, .decimals = units == WR_UNITS_SI || quantity == WR_QUANTITY_MASS};
}

static void put_plant_water(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    const struct scale scale = scale_for(WR_QUANTITY_VOLUME, units);
    struct side from = {.rows = 0}, to = {.rows = 0};
    add_row(&from, "raw water from the wells", turnover_of(run, WR_ACCOUNT_WELLS).out.water);
    add_row(&to, "delivered to demand", came_in(run, WR_ACCOUNT_DEMAND, -1));
    add_row(&to, "finished water that overflowed storage", came_in(run, WR_ACCOUNT_OVERFLOW, -1));
    add_row(&to, "spent wash to the sewer", came_in(run, WR_ACCOUNT_SEWER, -1));
    add_row(&to, "spent wash to the pond", came_in(run, WR_ACCOUNT_POND, -1));
    add_row(&to, "spent wash hauled away", came_in(run, WR_ACCOUNT_HAUL, -1));
    add_row(&to, "spent wash left in sludge", came_in(run, WR_ACCOUNT_SLUDGE, -1));
    add_row(&to, "spent wash spilled", came_in(run, WR_ACCOUNT_SPILL, -1));
    add_change(&from, &to, "drawn down in storage", "gained in storage", stock_change(run, WR_ACCOUNT_STORAGE).water);
    add_change(&from, &to, "drawn down in the wash-water tank", "gained in the wash-water tank",
               stock_change(run, WR_ACCOUNT_WASH_TANK).water);
    add_change(&from, &to, "drawn down in the filters", "gained in the filters",
               stock_change(run, WR_ACCOUNT_FILTERS).water);
    add_change(&from, &to, "drawn down in spent-wash tanks", "gained in spent-wash tanks", tank_change(run, -1));
    add_change(&from, &to, "drawn down in the holding tank", "gained in the holding tank",
               stock_change(run, WR_ACCOUNT_HOLDING).water);
    put_account(page, "Water of the plant", &scale, &from, &to);
}

static void put_spent_wash(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    const struct scale scale = scale_for(WR_QUANTITY_VOLUME, units);
    struct side from = {.rows = 0}, to = {.rows = 0};
    add_row(&from, "backwash water", line_water(run, WR_LINE_BACKWASH));
    add_row(&from, "rinse water", line_water(run, WR_LINE_RINSE));
    add_row(&from, "drained out of the filters", line_water(run, WR_LINE_DRAINED));
    add_row(&from, "regenerant to the holding tank", regenerant_held(run));
    add_row(&to, "recycled to the filters", line_water(run, WR_LINE_RECYCLE));
    add_row(&to, "to the sewer", came_in(run, WR_ACCOUNT_SEWER, -1));
    add_row(&to, "to the pond", came_in(run, WR_ACCOUNT_POND, -1));
    add_row(&to, "hauled away", came_in(run, WR_ACCOUNT_HAUL, -1));
    add_row(&to, "left in sludge", came_in(run, WR_ACCOUNT_SLUDGE, -1));
    add_row(&to, "spilled", came_in(run, WR_ACCOUNT_SPILL, -1));
    add_change(&from, &to, "drawn down in the tanks", "gained in the tanks", tank_change(run, -1));
    add_change(&from, &to, "drawn down in the holding tank", "gained in the holding tank",
               stock_change(run, WR_ACCOUNT_HOLDING).water);
    put_account(page, "Spent wash water", &scale, &from, &to);
}

static void put_solids(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    const struct scale scale = scale_for(WR_QUANTITY_MASS, units);
    struct side from = {.rows = 0}, to = {.rows = 0};
    add_row(&from, "in raw water", turnover_of(run, WR_ACCOUNT_WELLS).out.mass[WR_SOLIDS]);
    add_row(&to, "to the sewer", came_in(run, WR_ACCOUNT_SEWER, WR_SOLIDS));
    add_row(&to, "to the pond", came_in(run, WR_ACCOUNT_POND, WR_SOLIDS));
    add_row(&to, "hauled away", came_in(run, WR_ACCOUNT_HAUL, WR_SOLIDS));
    add_row(&to, "in sludge", came_in(run, WR_ACCOUNT_SLUDGE, WR_SOLIDS));
    add_row(&to, "spilled", came_in(run, WR_ACCOUNT_SPILL, WR_SOLIDS));
    add_change(&from, &to, "drawn down in the beds", "gained in the beds",
               stock_change(run, WR_ACCOUNT_BEDS).mass[WR_SOLIDS]);
    add_change(&from, &to, "drawn down in spent-wash tanks", "gained in spent-wash tanks", tank_change(run, WR_SOLIDS));
    add_change(&from, &to, "drawn down in the holding tank", "gained in the holding tank",
               stock_change(run, WR_ACCOUNT_HOLDING).mass[WR_SOLIDS]);
    put_account(page, "Dry solids", &scale, &from, &to);
}

static void say_shares(struct wr_page *page, const struct wr_run *run)
{
    const double raw = turnover_of(run, WR_ACCOUNT_WELLS).out.water, all = received(run);
    struct wr_page s = {0};
    if (raw > 0)
        wr_page_add(&s, "Spent wash is %s of the raw water", wr_say_share(all / raw).text);
    if (raw > 0 && all > 0 && run->plant.has_recycle)
        wr_page_add(&s, "; %s of it was recycled, at no instant more than %s of the raw flow",
                    wr_say_share(line_water(run, WR_LINE_RECYCLE) / all).text,
                    wr_say_share(run->record.highest_recycle_share).text);
    wr_page_add(
        &s, "%sThe books close: what came in and what went out agree within %.0e of the water and %.0e of the solids.",
        raw > 0 ? ". " : "", run->books.water_error_share, run->books.solids_error_share);
    wr_page_flow_page(page, "  ", &s);
}

void wr_report_account_section(struct wr_page *page, const struct wr_run *run, enum wr_units units)
{
    wr_page_heading(page, "Where the water went");
    put_plant_water(page, run, units);
    wr_page_add(page, "\n");
    put_spent_wash(page, run, units);
    wr_page_add(page, "\n");
    put_solids(page, run, units);
    wr_page_add(page, "\n");
    say_shares(page, run);
}
