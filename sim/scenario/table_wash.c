/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The wash: what calls it, its steps and the rules by which washes start. */
#include "sim/scenario/table.h"

static const char *const differentials_as[] = {"measured", "corrected", NULL};
static const char *const acrosses[] = {"filter", "bed", NULL};
static const char *const templates[] = {"pressure", "pressure_air", "gravity", "batch_regeneration", NULL};
static const char *const when_plant_stopped[] = {"start_well", "wait", "rinse_at_next_start", NULL};
static const char *const on_interrupt[] = {"finish_weak", "hold", NULL};
static const char *const rinses_to[] = {"spent_wash", "sewer", NULL};
static const char *const days[] = {"every_day", "weekdays", "weekends", "monday", "tuesday", "wednesday",
                                   "thursday",  "friday",   "saturday", "sunday", NULL};
static const char *const who_first[] = {"longest_waiting", "dirtiest", NULL};

/* One row a line, however long. */
/* clang-format off */
static const struct wr_parameter wash_rows[] = {
    {.key = "triggers", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_wash, triggers), .block = &wr_block_triggers, .required = true, .meaning = "what calls a wash, whichever comes first"},
    {.key = "template", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_wash, sequence), .choices = templates, .default_text = "pressure", .meaning = "sequence of steps: pressure, a pressure filter without air; pressure_air, one that is drained, scoured with air and refilled slowly; gravity, filtered down, dumped, scoured with air where air_time says so and refilled from below; batch_regeneration, regenerant after the backwash", .source = WR_CHOSEN},
    {.key = "backwash_rate", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, backwash_rate), .quantity = WR_QUANTITY_RATE, .required = true, .above = "0 m/h", .most = "300 m/h", .example = "12 gal/min/ft2", .meaning = "rate of the backwash", .source = WR_SANITY},
    {.key = "backwash_time", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, backwash_time), .quantity = WR_QUANTITY_TIME, .default_text = "10 min", .above = "0 s", .most = "1 d", .example = "10 min", .meaning = "length of the backwash at its full rate, ramps counted by their volume", .source = "default: " WR_PRACTICE "; " WR_SANITY},
    {.key = "ramp_time", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, ramp_time), .quantity = WR_QUANTITY_TIME, .default_text = "1 min", .least = "0 s", .most = "1 h", .example = "1 min", .meaning = "length of the slow start and of the slow stop, each at half the rate", .source = "default: " WR_PRACTICE "; " WR_SANITY},
    {.key = "bed_settle", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, bed_settle), .quantity = WR_QUANTITY_TIME, .default_text = "2 min", .least = "0 s", .most = "1 d", .example = "2 min", .meaning = "stillness after the backwash", .source = "default: " WR_PRACTICE "; " WR_SANITY},
    {.key = "rinse_rate", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, rinse_rate), .quantity = WR_QUANTITY_RATE, .when_absent = "the approved rate", .above = "0 m/h", .most = "100 m/h", .example = "3 gal/min/ft2", .meaning = "rate of the rinse, in the service direction to waste", .source = WR_SANITY},
    {.key = "rinse_time", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, rinse_time), .quantity = WR_QUANTITY_TIME, .default_text = "3 min", .least = "0 s", .most = "1 d", .example = "3 min", .meaning = "length of the rinse at that rate", .source = "default: " WR_PRACTICE "; " WR_SANITY},
    {.key = "rinse_to", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_wash, rinse_to), .choices = rinses_to, .default_text = "spent_wash", .meaning = "where the rinse goes: spent_wash, with the backwash; sewer", .source = WR_CHOSEN},
    {.key = "washout_depth", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, washout_depth), .quantity = WR_QUANTITY_RUN_VOLUME, .when_absent = "a whole wash leaves nothing in the bed", .above = "0 gal/ft2", .most = "1000 gal/ft2", .example = "25 gal/ft2", .meaning = "backwash water for each area of filter in which what a bed still holds falls to 1/e", .source = WR_SANITY},
    {.key = "clear_at", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, clear_at), .quantity = WR_QUANTITY_CONCENTRATION, .when_absent = "not judged", .above = "0 mg/L", .most = "1e5 mg/L", .example = "30 mg/L", .meaning = "suspended solids at the waste sample tap at which the end of a backwash counts as clear, where washout_depth is given", .source = WR_SANITY},
    {.key = "valve_travel", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, valve_travel), .quantity = WR_QUANTITY_TIME, .default_text = "1 min", .least = "0 s", .most = "1 h", .example = "1 min", .meaning = "time for valves to turn: before the backwash, before the rinse and before service", .source = "default: " WR_PRACTICE "; " WR_SANITY},
    {.key = "drain_depth", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, drain_depth), .quantity = WR_QUANTITY_DEPTH, .default_text = "0 in", .least = "0 in", .most = "20 ft", .example = "12 in", .meaning = "water above the media that goes to waste before air or backwash, where template is pressure_air or gravity", .source = WR_NONE_OF_IT "; " WR_SANITY},
    {.key = "drain_time", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, drain_time), .quantity = WR_QUANTITY_TIME, .default_text = "0 min", .least = "0 s", .most = "1 d", .example = "5 min", .meaning = "time that draining takes", .source = WR_NONE_OF_IT "; " WR_SANITY},
    {.key = "air_time", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, air_time), .quantity = WR_QUANTITY_TIME, .default_text = "0 min", .least = "0 s", .most = "1 d", .example = "4 min", .meaning = "length of the air scour, where template is pressure_air or gravity", .source = WR_NONE_OF_IT "; " WR_SANITY},
    {.key = "fill_rate", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, fill_rate), .quantity = WR_QUANTITY_RATE, .when_absent = "half the backwash rate", .above = "0 m/h", .most = "300 m/h", .example = "4 gal/min/ft2", .meaning = "rate at which wash water refills what was drained or filtered down", .source = WR_SANITY},
    {.key = "filter_down_depth", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, filter_down_depth), .quantity = WR_QUANTITY_DEPTH, .default_text = "0 in", .least = "0 in", .most = "20 ft", .example = "24 in", .meaning = "water above the media that is still filtered, inlet shut, before the rest is dumped, where template is gravity", .source = WR_NONE_OF_IT "; " WR_SANITY},
    {.key = "filter_down_time", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, filter_down_time), .quantity = WR_QUANTITY_TIME, .default_text = "0 min", .least = "0 s", .most = "1 d", .example = "10 min", .meaning = "time that filtering down takes", .source = WR_NONE_OF_IT "; " WR_SANITY},
    {.key = "regenerant_depth", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, regenerant_depth), .quantity = WR_QUANTITY_RUN_VOLUME, .default_text = "0 gal/ft2", .least = "0 gal/ft2", .most = "1000 gal/ft2", .example = "10 gal/ft2", .meaning = "regenerant for each area of filter, made up with wash water, where template is batch_regeneration", .source = WR_NONE_OF_IT "; " WR_SANITY},
    {.key = "regenerate_time", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, regenerate_time), .quantity = WR_QUANTITY_TIME, .default_text = "0 min", .least = "0 s", .most = "1 d", .example = "20 min", .meaning = "time that the regenerant takes", .source = WR_NONE_OF_IT "; " WR_SANITY},
    {.key = "holding", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_wash, holding), .block = &wr_block_holding, .when_absent = "spent regenerant goes to the sewer", .meaning = "tank for spent regenerant, which never goes to recycle; where template is batch_regeneration"},
    {.key = "rinse_at_start", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, rinse_at_start), .quantity = WR_QUANTITY_TIME, .default_text = "0 min", .least = "0 s", .most = "1 d", .example = "5 min", .meaning = "time for which filters run to waste whenever wells start after the plant has stood still; what no spent-wash tank has room for spills", .source = WR_NONE_OF_IT "; " WR_SANITY},
    {.key = "max_simultaneous", .kind = WR_IS_COUNT, .offset = offsetof(struct wr_wash, max_simultaneous), .default_text = "1", .least = "1", .most = "1000", .meaning = "filters that may be off line for a wash at one time", .source = WR_CHOSEN "; " WR_SANITY},
    {.key = "min_between_starts", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, min_between_starts), .quantity = WR_QUANTITY_TIME, .default_text = "0 min", .least = "0 s", .most = "365 d", .example = "30 min", .meaning = "least time from the start of one wash to that of the next", .source = WR_NONE_OF_IT "; " WR_SANITY},
    {.key = "who_first", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_wash, who_first), .choices = who_first, .default_text = "longest_waiting", .meaning = "which of the filters that wait goes first: longest_waiting, the one that called first; dirtiest, the one with the greatest load", .source = WR_CHOSEN},
    {.key = "window", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_wash, window), .block = &wr_block_hours, .when_absent = "always", .most = "100", .meaning = "hours in which washes may start", .source = WR_SANITY},
    {.key = "rota", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_wash, rota), .block = &wr_block_rota_entry, .when_absent = "none", .most = "1000", .meaning = "dated calls for a wash, beside the triggers or in their place", .source = WR_SANITY},
    {.key = "min_filters_in_service", .kind = WR_IS_COUNT, .offset = offsetof(struct wr_wash, min_filters_in_service), .default_text = "0", .least = "0", .most = "999", .meaning = "other filters that must be in service when a wash starts", .source = WR_NONE_OF_IT "; " WR_SANITY},
    {.key = "storage_lockout", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_wash, storage_lockout), .quantity = WR_QUANTITY_SHARE, .default_text = "0 %", .least = "0 %", .below = "100 %", .example = "50 %", .meaning = "storage level below which no wash starts", .source = WR_NONE_OF_IT "; " WR_BY_MEANING},
    {.key = "blowers", .kind = WR_IS_COUNT, .offset = offsetof(struct wr_wash, blowers), .default_text = "1", .least = "1", .most = "1000", .meaning = "filters that can be in a wash with air at one time", .source = WR_CHOSEN "; " WR_SANITY},
    {.key = "when_plant_stopped", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_wash, when_plant_stopped), .choices = when_plant_stopped, .default_text = "start_well", .meaning = "a wash while no well is called: start_well, a well runs for its rinse; wait, no wash starts; rinse_at_next_start, the filter waits with its rinse until a well runs", .source = WR_CHOSEN},
    {.key = "on_interrupt", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_wash, on_interrupt), .choices = on_interrupt, .default_text = "finish_weak", .meaning = "a wash whose water is cut off: finish_weak, it goes on without and the filter goes back less clean; hold, the filter stays out until it has been washed anew", .source = WR_CHOSEN},
    {.key = "attended", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_wash, attended), .block = &wr_block_hours, .when_absent = "always", .most = "100", .meaning = "hours in which somebody can release a filter that is held", .source = WR_SANITY},
};

static const struct wr_parameter hours_rows[] = {
    {.key = "days", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_hours, days), .choices = days, .default_text = "every_day", .meaning = "days on which the hours begin: every day, Monday to Friday, Saturday and Sunday, or one day of the week", .source = WR_CHOSEN},
    {.key = "from", .kind = WR_IS_CLOCK, .offset = offsetof(struct wr_hours, from), .required = true, .below = "24:00", .example = "07:00", .meaning = "when the hours begin", .source = WR_BY_MEANING},
    {.key = "until", .kind = WR_IS_CLOCK, .offset = offsetof(struct wr_hours, until), .required = true, .most = "24:00", .example = "16:00", .meaning = "when the hours end; if not after from, on the next day", .source = WR_BY_MEANING},
};

static const struct wr_parameter holding_rows[] = {
    {.key = "volume", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_holding, volume), .quantity = WR_QUANTITY_VOLUME, .required = true, .above = "0 gal", .most = "100 Mgal", .example = "3000 gal", .meaning = "volume of the tank; it is empty when the run starts", .source = WR_SANITY},
    {.key = "emptied_every", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_holding, emptied_every), .quantity = WR_QUANTITY_TIME, .required = true, .above = "0 s", .most = "3653 d", .example = "7 d", .meaning = "time from the start of the run, and from one hauling to the next, after which its content is hauled away", .source = WR_SANITY},
};

static const struct wr_parameter rota_rows[] = {
    {.key = "filter", .kind = WR_IS_TEXT, .offset = offsetof(struct wr_rota_entry, filter), .required = true, .least = "1", .most = "80", .example = "F1", .meaning = "name of the filter that is to be washed", .source = WR_SANITY},
    {.key = "first", .kind = WR_IS_DATE_IN_RUN, .offset = offsetof(struct wr_rota_entry, first), .required = true, .meaning = "when it is first called"},
    {.key = "every", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_rota_entry, every), .quantity = WR_QUANTITY_TIME, .when_absent = "once only", .above = "0 s", .most = "3653 d", .example = "3 d", .meaning = "time from one call to the next", .source = WR_SANITY},
};

static const struct wr_parameter triggers_rows[] = {
    {.key = "differential", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_triggers, differential), .quantity = WR_QUANTITY_HEAD, .when_absent = "it never calls", .above = "0 psi", .most = "150 psi", .meaning = "differential that calls a wash", .source = WR_SANITY},
    {.key = "differential_as", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_triggers, differential_as), .choices = differentials_as, .default_text = "corrected", .meaning = "how the differential is taken: measured, as it is; corrected, times approved rate over the rate of the instant, as a controller would", .source = WR_CHOSEN},
    {.key = "across", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_triggers, across), .choices = acrosses, .default_text = "filter", .meaning = "what the differential is measured across: filter, bed and fittings; bed, the bed alone", .source = WR_CHOSEN},
    {.key = "persistence", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_triggers, persistence), .quantity = WR_QUANTITY_TIME, .default_text = "2 min", .least = "0 s", .most = "1 d", .example = "2 min", .meaning = "how long the differential must stay at or above its trigger", .source = "default: " WR_PRACTICE "; " WR_SANITY},
    {.key = "run_hours", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_triggers, run_hours), .quantity = WR_QUANTITY_TIME, .when_absent = "it never calls", .above = "0 h", .most = "365 d", .example = "72 h", .meaning = "time with flow since the last wash that calls one", .source = WR_SANITY},
    {.key = "volume", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_triggers, volume), .quantity = WR_QUANTITY_RUN_VOLUME, .when_absent = "it never calls", .above = "0 gal/ft2", .most = "1e6 gal/ft2", .meaning = "water per area since the last wash that calls one", .source = WR_SANITY},
    {.key = "urgent_differential", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_triggers, urgent_differential), .quantity = WR_QUANTITY_HEAD, .when_absent = "nothing is urgent", .above = "0 psi", .most = "150 psi", .example = "10 psi", .meaning = "differential, taken as the other is, from which a filter goes first and need not wait for the window", .source = WR_SANITY},
};
/* clang-format on */

/* What must hold between keys. */
static const char *const wash_rules[] = {
    "backwash_time is at least ramp_time, since the two ramps at half rate stand for as much water.",
    "drain_depth, drain_time and air_time go with template pressure_air, which needs all three, and with gravity; "
    "filter_down_depth and filter_down_time go with gravity alone; fill_rate goes with pressure_air and gravity. "
    "regenerant_depth and "
    "regenerate_time go with batch_regeneration, which needs both; holding goes with it alone.",
    "rinse_at_start does not go with wash water from the filters, which make none while all of them rinse.",
    "clear_at is given only where washout_depth is.",
    "With gravity, a depth and its time are both given or neither is.",
    "min_filters_in_service is less than the number of filters.",
    NULL};

static const char *const triggers_rules[] = {
    "At least one of differential, run_hours and volume is given, or a rota in /wash.",
    "differential and urgent_differential are at most the least available_head of all filter groups.",
    "urgent_differential is at least differential.", NULL};

static const char *const holding_rules[] = {"volume holds at least the regenerant of the largest filter's wash.", NULL};

static const char *const hours_rules[] = {
    "from and until are not the same time; a whole day is \"00:00\" to \"24:00\".", NULL};

static const char *const rota_entry_rules[] = {"filter is the name of a filter.", NULL};

const struct wr_block wr_block_wash = {"wash", "The wash sequence and the rules by which washes start.",
                                       WR_BLOCK_ROWS(wash_rows), sizeof(struct wr_wash), wash_rules};

const struct wr_block wr_block_triggers = {"triggers", "What calls a wash; whichever comes first.",
                                           WR_BLOCK_ROWS(triggers_rows), sizeof(struct wr_triggers), triggers_rules};

const struct wr_block wr_block_holding = {"holding", "The tank that keeps spent regenerant until it is hauled away.",
                                          WR_BLOCK_ROWS(holding_rows), sizeof(struct wr_holding), holding_rules};

const struct wr_block wr_block_hours = {"hours", "Hours of some days of the week.", WR_BLOCK_ROWS(hours_rows),
                                        sizeof(struct wr_hours), hours_rules};

const struct wr_block wr_block_rota_entry = {"rota entry",
                                             "A filter's dated calls for a wash, once or again and again.",
                                             WR_BLOCK_ROWS(rota_rows), sizeof(struct wr_rota_entry), rota_entry_rules};
