/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spent wash water and its ways out. */
#include "sim/scenario/table.h"

static const char *const laws[] = {"none", "clock", "classes", "zone", NULL};
static const char *const draw_offs[] = {"floating", "fixed", NULL};
static const char *const fluxes[] = {"vesilind", "richardson_zaki", NULL};
static const char *const sludge_drawn[] = {"each_decant", "by_level", "by_calendar", NULL};
static const char *const sludge_to[] = {"drying_bed", "sewer", "haul", NULL};
static const char *const outlets[] = {"recycle", "sewer", "pond", "haul", NULL};
static const char *const controls[] = {"fixed", "ratio", NULL};

/* One row a line, however long. */
/* clang-format off */
static const struct wr_parameter spent_wash_rows[] = {
    {.key = "tanks", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_spent_wash, tanks), .block = &wr_block_spent_tank, .when_absent = "to the sewer as it comes", .most = "100", .meaning = "tanks that take spent wash water, each wash whole into one", .source = WR_SANITY},
    {.key = "settling", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_spent_wash, settling), .block = &wr_block_settling, .when_absent = "it does not", .meaning = "how spent wash water settles in the tanks"},
    {.key = "sludge", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_spent_wash, sludge), .block = &wr_block_sludge, .has_presence = true, .presence = offsetof(struct wr_spent_wash, has_blanket), .when_absent = "what has settled is dropped at the end of each decant", .meaning = "blanket of sludge that stays in the tanks over many washes"},
    {.key = "outlets", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_spent_wash, outlets), .block = &wr_block_outlet, .when_absent = "none", .most = "20", .meaning = "ways out of the tanks in order of preference: one runs only while those before it cannot", .source = WR_SANITY},
};

static const struct wr_parameter spent_tank_rows[] = {
    {.key = "name", .kind = WR_IS_TEXT, .offset = offsetof(struct wr_spent_tank, name), .when_absent = "T and its number in the list", .least = "1", .most = "40", .example = "T1", .meaning = "what the report calls the tank", .source = WR_SANITY},
    {.key = "volume", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_spent_tank, volume), .quantity = WR_QUANTITY_VOLUME, .required = true, .above = "0 gal", .most = "100 Mgal", .meaning = "volume of the tank", .source = WR_SANITY},
    {.key = "start_level", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_spent_tank, start_level), .quantity = WR_QUANTITY_SHARE, .default_text = "0 %", .least = "0 %", .most = "100 %", .example = "0 %", .meaning = "level of clear water when the run starts, of the volume", .source = WR_NONE_OF_IT "; " WR_BY_MEANING},
    {.key = "depth", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_spent_tank, depth), .quantity = WR_QUANTITY_LENGTH, .when_absent = "needed where law is classes or zone, or draw_off is fixed", .above = "0 ft", .most = "100 ft", .example = "8 ft", .meaning = "depth of water when it is full, with upright walls", .source = WR_SANITY},
};

static const struct wr_parameter class_rows[] = {
    {.key = "share", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_particle_class, share), .quantity = WR_QUANTITY_SHARE, .required = true, .above = "0 %", .most = "100 %", .example = "70 %", .meaning = "share of the suspended solids", .source = WR_BY_MEANING},
    {.key = "velocity", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_particle_class, velocity), .quantity = WR_QUANTITY_RATE, .required = true, .least = "0 m/h", .most = "100 m/h", .example = "0.8 m/h", .meaning = "velocity at which these particles settle in still water; no measured one is published for iron plants, so a jar or column test of the plant gives it", .source = WR_SANITY},
};

static const struct wr_parameter zone_rows[] = {
    {.key = "flux", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_zone_definition, flux), .choices = fluxes, .default_text = "vesilind", .meaning = "law of the settling velocity v at a concentration C: vesilind, v0 exp(-n C); richardson_zaki, v0 (1 - C/greatest)^exponent", .source = WR_CHOSEN},
    {.key = "velocity", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_zone_definition, velocity), .quantity = WR_QUANTITY_RATE, .required = true, .above = "0 m/h", .most = "100 m/h", .example = "3 m/h", .meaning = "settling velocity v0 of one particle alone", .source = WR_SANITY},
    {.key = "hindrance", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_zone_definition, hindrance), .quantity = WR_QUANTITY_HINDRANCE, .when_absent = "needed where flux is vesilind", .above = "0 m3/kg", .most = "100 m3/kg", .example = "1 m3/kg", .meaning = "n of Vesilind's law", .source = WR_SANITY},
    {.key = "exponent", .kind = WR_IS_NUMBER, .offset = offsetof(struct wr_zone_definition, exponent), .default_text = "4.65", .least = "2", .most = "10", .meaning = "exponent of the law of Richardson and Zaki", .source = "default: Richardson and Zaki 1954, for small particles, from memory; " WR_SANITY},
    {.key = "greatest_concentration", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_zone_definition, concentration), .quantity = WR_QUANTITY_CONCENTRATION, .required = true, .above = "0 mg/L", .most = "1e6 mg/L", .example = "18000 mg/L", .meaning = "concentration of a bed that settles no further", .source = WR_SANITY},
};

static const struct wr_parameter sludge_rows[] = {
    {.key = "fresh_solids", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_sludge_definition, fresh_solids), .quantity = WR_QUANTITY_SHARE, .default_text = "0.18 %", .above = "0 %", .most = "50 %", .example = "0.18 %", .meaning = "dry solids of sludge as it settles, by mass", .source = "default: as drawn from iron plants 0.16 to 0.20 %, Water Sci. Technol. 64(2) 361; " WR_BY_MEANING},
    {.key = "thickened_solids", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_sludge_definition, thickened_solids), .quantity = WR_QUANTITY_SHARE, .default_text = "1 %", .above = "0 %", .most = "50 %", .example = "1 %", .meaning = "dry solids that it thickens to", .source = "default: illustrative; " WR_BY_MEANING},
    {.key = "thickening_time", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_sludge_definition, thickening_time), .quantity = WR_QUANTITY_TIME, .default_text = "3 d", .above = "0 s", .most = "3653 d", .example = "3 d", .meaning = "time in which what it has still to shrink falls to 1/e", .source = "default: illustrative; " WR_SANITY},
    {.key = "drawn", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_sludge_definition, drawn), .choices = sludge_drawn, .default_text = "by_level", .meaning = "when it is drawn: each_decant, a volume at the end of each; by_level, all of it at the end of a decant that finds the blanket at its level; by_calendar, all of it at set times. Whatever the rule, so much is drawn at the end of a decant that the plant's largest wash fits", .source = WR_CHOSEN},
    {.key = "volume", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_sludge_definition, volume), .quantity = WR_QUANTITY_VOLUME, .when_absent = "needed where drawn is each_decant", .above = "0 gal", .most = "100 Mgal", .example = "300 gal", .meaning = "volume drawn at the end of each decant", .source = WR_SANITY},
    {.key = "level", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_sludge_definition, level), .quantity = WR_QUANTITY_SHARE, .default_text = "20 %", .above = "0 %", .most = "100 %", .example = "20 %", .meaning = "height of the blanket, as a share of the tank, at which it is drawn", .source = "default: illustrative; " WR_BY_MEANING},
    {.key = "every", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_sludge_definition, every), .quantity = WR_QUANTITY_TIME, .when_absent = "needed where drawn is by_calendar", .above = "0 s", .most = "3653 d", .example = "7 d", .meaning = "time from the start of the run, and from one draw to the next", .source = WR_SANITY},
    {.key = "to", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_sludge_definition, to), .choices = sludge_to, .default_text = "drying_bed", .meaning = "where it goes: drying_bed, on the plant; sewer or haul, off it", .source = WR_CHOSEN},
};

static const struct wr_parameter settling_rows[] = {
    {.key = "law", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_settling, law), .choices = laws, .required = true, .meaning = "law by which it settles: none, it leaves as it came; clock, after a time all solids are in the sludge; classes, particles settle each at its own velocity; zone, solids so thick that they settle together"},
    {.key = "time", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_settling, time), .quantity = WR_QUANTITY_TIME, .when_absent = "needed where law is clock; else what clear_at asks for", .least = "0 s", .most = "365 d", .example = "6 h", .meaning = "time without inflow until it may be drawn off, where clear_at allows it too", .source = WR_SANITY},
    {.key = "start_after", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_settling, start_after), .quantity = WR_QUANTITY_TIME, .default_text = "2 h", .least = "0 s", .most = "365 d", .example = "2 h", .meaning = "time after its last wash at which a part-full tank starts to settle", .source = "default: illustrative; " WR_SANITY},
    {.key = "sludge_share", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_settling, sludge_share), .quantity = WR_QUANTITY_SHARE, .default_text = "15 %", .least = "0 %", .below = "100 %", .example = "15 %", .meaning = "share of the content that is sludge when settling ends, where no blanket is kept", .source = "default: the settled part cuts waste by about 85 %, " WR_PRACTICE "; " WR_BY_MEANING},
    {.key = "classes", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_settling, classes), .block = &wr_block_particle_class, .when_absent = "needed where law is classes", .least = "1", .most = "20", .meaning = "particles by their settling velocity; their shares add up to 100 %", .source = WR_SANITY},
    {.key = "polymer_factor", .kind = WR_IS_NUMBER, .offset = offsetof(struct wr_settling, polymer_factor), .default_text = "1", .least = "1", .most = "10", .meaning = "factor by which a polymer speeds these velocities; two to five is published for anionic ones", .source = "default: no polymer; two to five from an AWWA conference abstract; " WR_SANITY},
    {.key = "zone", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_settling, zone), .block = &wr_block_zone, .when_absent = "needed where law is zone", .meaning = "how thick wash water settles"},
    {.key = "clear_at", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_settling, clear_at), .quantity = WR_QUANTITY_CONCENTRATION, .when_absent = "time alone decides", .above = "0 mg/L", .most = "1e5 mg/L", .example = "15 mg/L", .meaning = "mean suspended solids in what would be drawn off at which that may begin, where law is classes; in zones all above the interface is clear", .source = WR_SANITY},
    {.key = "draw_off", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_settling, draw_off), .choices = draw_offs, .default_text = "floating", .meaning = "how clear water is drawn: floating, from the top down to the sludge; fixed, down to a pipe at draw_height, sludge that stands above it included", .source = WR_CHOSEN},
    {.key = "draw_height", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_settling, draw_height), .quantity = WR_QUANTITY_LENGTH, .default_text = "0 ft", .least = "0 ft", .most = "100 ft", .example = "1.5 ft", .meaning = "height of that pipe above the floor", .source = WR_NONE_OF_IT "; " WR_SANITY},
};

static const struct wr_parameter outlet_rows[] = {
    {.key = "kind", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_outlet, kind), .choices = outlets, .required = true, .meaning = "where it leads: recycle, by the recycle pump to the head of the filters; sewer, pond or haul, off the plant, each booked apart"},
    {.key = "rate", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_outlet, rate), .quantity = WR_QUANTITY_FLOW, .when_absent = "the recycle pump's, for recycle", .above = "0 gal/min", .most = "1e6 gal/min", .example = "30 gal/min", .meaning = "flow while it runs", .source = WR_SANITY},
    {.key = "hours", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_outlet, hours), .block = &wr_block_hours, .when_absent = "always", .most = "100", .meaning = "hours in which it may run", .source = WR_SANITY},
    {.key = "emergency", .kind = WR_IS_FLAG, .offset = offsetof(struct wr_outlet, emergency), .meaning = "true: it runs only while a wash waits for room in the tanks, and takes from one that still settles where none has clear water", .default_text = "false", .source = WR_CHOSEN},
    {.key = "daily_volume", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_outlet, daily_volume), .quantity = WR_QUANTITY_VOLUME, .when_absent = "no bound", .above = "0 gal", .most = "1000 Mgal", .meaning = "greatest volume a day, from midnight to midnight", .source = WR_SANITY},
};

static const struct wr_parameter recycle_rows[] = {
    {.key = "pump", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_recycle, pump), .quantity = WR_QUANTITY_FLOW, .when_absent = "needed where an outlet is recycle", .above = "0 gal/min", .most = "1e6 gal/min", .example = "13.5 gal/min", .meaning = "flow of the recycle pump", .source = WR_SANITY},
    {.key = "control", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_recycle, control), .choices = controls, .default_text = "fixed", .meaning = "how the pump keeps within its limits: fixed, it runs whole or waits; ratio, it gives as much as they allow", .source = WR_CHOSEN},
    {.key = "max_fraction", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_recycle, max_fraction), .quantity = WR_QUANTITY_SHARE, .default_text = "10 %", .above = "0 %", .most = "100 %", .meaning = "greatest share that recycle may be of the raw flow of the instant", .source = "default: " WR_PRACTICE "; " WR_BY_MEANING},
    {.key = "max_blend_solids", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_recycle, max_blend_solids), .quantity = WR_QUANTITY_CONCENTRATION, .when_absent = "no bound", .above = "0 mg/L", .most = "1e5 mg/L", .example = "20 mg/L", .meaning = "greatest dry solids in raw water and recycle together", .source = WR_SANITY},
};
/* clang-format on */

/* What must hold between keys. */
static const char *const spent_wash_rules[] = {
    "Tanks have at least one outlet.",
    "The largest tank holds all that one wash sends to it: its backwash, its rinse and, where the template drains the "
    "filter, the drained water.",
    NULL};

static const char *const settling_rules[] = {"time is given where law is clock, and is more than 0.",
                                             "classes is given where law is classes, zone where it is zone, and "
                                             "neither elsewhere; with zone, hindrance is given "
                                             "where flux is vesilind.",
                                             "With law classes, classes add up to 100 %.",
                                             "With law classes or zone, and with draw_off fixed, every tank has a "
                                             "depth, and draw_height leaves room above it for the largest wash.",
                                             NULL};

static const char *const sludge_rules[] = {"It is kept only where law is not none.",
                                           "thickened_solids is at least fresh_solids; volume is given where drawn is "
                                           "each_decant, every where it is by_calendar.",
                                           NULL};

static const char *const outlet_rules[] = {
    "rate is given where there are tanks, but never for recycle, whose flow is the pump in /recycle.",
    "With template batch_regeneration nothing is recycled.", NULL};

static const char *const recycle_rules[] = {"pump is given where an outlet is recycle.", NULL};

const struct wr_block wr_block_spent_wash = {"spent wash", "Where spent wash water goes.",
                                             WR_BLOCK_ROWS(spent_wash_rows), sizeof(struct wr_spent_wash),
                                             spent_wash_rules};

const struct wr_block wr_block_spent_tank = {"spent-wash tank", "A tank that takes spent wash water.",
                                             WR_BLOCK_ROWS(spent_tank_rows), sizeof(struct wr_spent_tank), NULL};

const struct wr_block wr_block_particle_class = {"particle class", "Particles that settle alike.",
                                                 WR_BLOCK_ROWS(class_rows), sizeof(struct wr_particle_class), NULL};

const struct wr_block wr_block_zone = {"zone", "Solids so thick that they settle together.", WR_BLOCK_ROWS(zone_rows),
                                       sizeof(struct wr_zone_definition), NULL};

const struct wr_block wr_block_sludge = {"sludge", "The blanket of sludge in the spent-wash tanks.",
                                         WR_BLOCK_ROWS(sludge_rows), sizeof(struct wr_sludge_definition), sludge_rules};

const struct wr_block wr_block_settling = {"settling", "How spent wash water settles in its tanks.",
                                           WR_BLOCK_ROWS(settling_rows), sizeof(struct wr_settling), settling_rules};

const struct wr_block wr_block_outlet = {"outlet", "A way out of the spent-wash tanks.", WR_BLOCK_ROWS(outlet_rows),
                                         sizeof(struct wr_outlet), outlet_rules};

const struct wr_block wr_block_recycle = {"recycle", "Sending spent wash water back to the head of the filters.",
                                          WR_BLOCK_ROWS(recycle_rows), sizeof(struct wr_recycle), recycle_rules};
