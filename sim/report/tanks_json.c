/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/json.h"
#include "sim/report/report.h"
#include "sim/study/tank_sums.h"

#include <math.h>

static double mean_of(double sum, size_t count)
{
    return count > 0 ? sum / (double)count : WR_ABSENT;
}

static void add_blanket(struct cJSON *tank, const struct wr_run *run, size_t t, const struct wr_tank_sums *sums)
{
    if (!run->plant.definition->spent_wash.has_blanket) {
        wr_json_null(tank, "blanket");
        return;
    }
    struct cJSON *blanket = wr_json_block(tank, "blanket");
    wr_json_number(blanket, "now_m3", sums->blanket);
    wr_json_number(blanket, "now_m", wr_tank_height(&run->plant, t, sums->blanket));
    wr_json_number(blanket, "highest_m3", sums->highest_blanket);
    wr_json_number(blanket, "highest_m", wr_tank_height(&run->plant, t, sums->highest_blanket));
    wr_json_number(blanket, "highest_s", sums->highest_at);
    wr_json_number(blanket, "mean_as_it_fills_m3", sums->left);
    wr_json_number(blanket, "highest_share_of_tank",
                   sums->highest_blanket / run->plant.definition->spent_wash.tanks.items[t].volume);
}

static void add_drawn(struct cJSON *block, const struct wr_tank_sums *sums)
{
    const struct wr_drawn *drawn = &sums->drawn;
    wr_json_count(block, "draws", drawn->draws);
    wr_json_number(block, "water_m3", drawn->water);
    wr_json_number(block, "dry_solids_kg", drawn->solids);
    wr_json_number(block, "for_room_m3", sums->for_room.water);
    wr_json_number(block, "first_s", drawn->first);
    wr_json_number(block, "last_s", drawn->last);
    wr_json_number(block, "mean_between_s",
                   mean_of(drawn->draws > 1 ? drawn->last - drawn->first : 0, drawn->draws > 1 ? drawn->draws - 1 : 0));
}

static void add_tank(struct cJSON *list, const struct wr_run *run, size_t t)
{
    const struct wr_tank_sums sums = wr_tank_sums_of(run, t);
    const struct wr_spent_tank *defined = &run->plant.definition->spent_wash.tanks.items[t];
    struct cJSON *tank = wr_json_block(list, NULL);
    wr_json_word(tank, "name", defined->name);
    wr_json_number(tank, "volume_m3", defined->volume);
    wr_json_count(tank, "decants", sums.decants);
    wr_json_count(tank, "held_by_time", sums.held_by_time);
    wr_json_count(tank, "held_by_clarity", sums.held_by_clarity);
    wr_json_count(tank, "drawn_off_unsettled", sums.unsettled);
    wr_json_count(tank, "spoiled_by_sludge", sums.spoiled);
    wr_json_flag(tank, "stands_unclear_at_end", sums.stands_unclear);
    wr_json_number(tank, "mean_standing_s", sums.standing);
    wr_json_number(tank, "waited_for_clarity_s", sums.waited_for_clarity);
    wr_json_number(tank, "longest_for_clarity_s", sums.longest_for_clarity);
    wr_json_number(tank, "most_solids_in_decant_kg_per_m3", sums.decants > 0 ? sums.most_solids : WR_ABSENT);
    wr_json_number(tank, "mean_solids_in_decant_kg_per_m3", sums.decanted_solids);
    add_blanket(tank, run, t, &sums);
    struct cJSON *sludge = wr_json_block(tank, "sludge");
    add_drawn(sludge, &sums);
    wr_json_number(sludge, "next_s", sums.next);
}

static void add_recovery(struct cJSON *spent, const struct wr_run *run)
{
    const struct wr_recovery r = wr_recovery_of(run);
    struct cJSON *recovery = wr_json_block(spent, "recovery");
    wr_json_number(recovery, "held_at_start_m3", r.held);
    wr_json_number(recovery, "received_by_tanks_m3", r.received);
    wr_json_number(recovery, "recycled_m3", r.recycled);
    wr_json_number(recovery, "recovered_share", r.share);
    wr_json_number(recovery, "received_solids_kg_per_m3", r.solids);
    wr_json_number(recovery, "sludge_solids_kg_per_m3", r.drawn_solids);
    wr_json_number(recovery, "best_share_at_fresh_sludge", r.fresh);
    wr_json_number(recovery, "best_share_at_thickened_sludge", r.thickened);
    wr_json_number(recovery, "best_share_at_sludge_as_drawn", r.as_drawn);
}

/* What held outlets back, each limit as often and as long as its spans say. */
static void add_held(struct cJSON *spent, const struct wr_run *run)
{
    struct cJSON *list = wr_json_list(spent, "outlets_held_by");
    for (int l = 0; l < WR_LIMITS; l++) {
        const struct wr_outlet_hold hold = wr_outlet_hold_of(run, (enum wr_limit)l);
        if (hold.times == 0 || wr_limit_row((enum wr_limit)l)->holds != WR_HOLDS_OUTLET)
            continue;
        struct cJSON *row = wr_json_block(list, NULL);
        wr_json_word(row, "limit", wr_limit_row((enum wr_limit)l)->key);
        wr_json_count(row, "times", hold.times);
        wr_json_number(row, "total_s", hold.total);
        wr_json_number(row, "longest_s", hold.longest);
    }
}

static void add_washout(struct cJSON *spent, const struct wr_run *run)
{
    const struct wr_washout_sums sums = wr_washout_sums_of(run);
    if (sums.washes == 0) {
        wr_json_null(spent, "end_of_backwash");
        return;
    }
    struct cJSON *block = wr_json_block(spent, "end_of_backwash");
    wr_json_count(block, "washes", sums.washes);
    wr_json_number(block, "most_kg_per_m3", sums.most);
    wr_json_number(block, "mean_kg_per_m3", sums.mean);
    wr_json_number(block, "wanted_kg_per_m3", run->plant.definition->wash.clear_at);
    wr_json_count(block, "not_clear", sums.not_clear);
}

void wr_report_tank_blocks(struct cJSON *spent, const struct wr_run *run)
{
    struct cJSON *list = wr_json_list(spent, "tanks");
    for (size_t t = 0; t < run->plant.tank_count && run->plant.has_settling; t++)
        add_tank(list, run, t);
    const struct wr_tank_sums all = wr_tank_sums_of(run, run->plant.tank_count);
    struct cJSON *sludge = wr_json_block(spent, "sludge");
    wr_json_word(sludge, "to", wr_draw_to_key(&run->plant));
    add_drawn(sludge, &all);
    add_recovery(spent, run);
    add_held(spent, run);
    add_washout(spent, run);
}
