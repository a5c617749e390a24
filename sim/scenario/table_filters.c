/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Filters, their media and how their headloss grows. */
#include "sim/scenario/table.h"

static const char *const at_available_head[] = {"flow_falls", "leaves_service", "alarm_only", NULL};
static const char *const hows[] = {"spread", "equal", "given", NULL};

/* One row a line, however long. */
/* clang-format off */
static const struct wr_parameter filter_group_rows[] = {
    {.key = "name", .kind = WR_IS_TEXT, .offset = offsetof(struct wr_filter_group, name), .default_text = "F", .least = "1", .most = "40", .meaning = "filters are called this and a number, numbered on through groups of one name", .source = WR_CHOSEN "; " WR_SANITY},
    {.key = "count", .kind = WR_IS_COUNT, .offset = offsetof(struct wr_filter_group, filters), .required = true, .least = "1", .most = "1000", .example = "3", .meaning = "how many filters", .source = "limit: 1000 filters in all"},
    {.key = "diameter", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_filter_group, diameter), .quantity = WR_QUANTITY_LENGTH, .when_absent = "area stands in its place", .above = "0 ft", .most = "100 ft", .meaning = "inside diameter of a round filter", .source = WR_SANITY},
    {.key = "area", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_filter_group, area), .quantity = WR_QUANTITY_AREA, .when_absent = "diameter stands in its place", .above = "0 ft2", .most = "10000 ft2", .meaning = "area of the bed of one filter, of any shape", .source = WR_SANITY},
    {.key = "media", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_filter_group, media), .block = &wr_block_media_layer, .when_absent = "clean headloss all from the observed run", .most = "20", .meaning = "layers of media, top first", .source = WR_SANITY},
    {.key = "freeboard", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_filter_group, freeboard), .quantity = WR_QUANTITY_DEPTH, .when_absent = "not looked at", .above = "0 in", .most = "30 ft", .example = "24 in", .meaning = "height from the top of the settled bed up to the edge over which wash water leaves", .source = WR_SANITY},
    {.key = "fittings_headloss", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_filter_group, fittings_headloss), .quantity = WR_QUANTITY_HEAD, .when_absent = "what the observed clean differential leaves, or none", .least = "0 psi", .most = "100 psi", .example = "0.5 psi", .meaning = "headloss of pipes and valves at the approved rate; it goes with the square of the rate", .source = WR_SANITY},
    {.key = "cells_per_vessel", .kind = WR_IS_COUNT, .offset = offsetof(struct wr_filter_group, cells), .default_text = "1", .least = "1", .most = "1000", .meaning = "filters that stand in one vessel and go out of service together", .source = WR_CHOSEN "; " WR_SANITY},
    {.key = "approved_rate", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_filter_group, approved_rate), .quantity = WR_QUANTITY_RATE, .required = true, .above = "0 m/h", .most = "100 m/h", .example = "3 gal/min/ft2", .meaning = "greatest filtration rate, counting raw water plus recycle", .source = WR_SANITY},
    {.key = "available_head", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_filter_group, available_head), .quantity = WR_QUANTITY_HEAD, .required = true, .above = "0 psi", .most = "150 psi", .example = "12 psi", .meaning = "greatest head that the plant can put across a filter", .source = WR_SANITY},
    {.key = "at_available_head", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_filter_group, at_available_head), .choices = at_available_head, .default_text = "flow_falls", .meaning = "what happens when a filter has come to its available head: flow_falls, flow falls off at constant head; leaves_service, the filter stops and waits for its wash; alarm_only, it runs on and that is noted", .source = WR_CHOSEN},
    {.key = "deposit", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_filter_group, deposit), .block = &wr_block_deposit, .required = true, .meaning = "how caught solids raise headloss"},
    {.key = "start_shares", .kind = WR_IS_NUMBER_LIST, .offset = offsetof(struct wr_filter_group, start_shares), .quantity = WR_QUANTITY_SHARE, .when_absent = "needed where /start_beds/how is given, and only there", .least = "0 %", .below = "100 %", .meaning = "share of its run that each filter has used at the start, in their order", .source = WR_BY_MEANING},
};

static const struct wr_parameter media_layer_rows[] = {
    {.key = "medium", .kind = WR_IS_TEXT, .offset = offsetof(struct wr_media_layer, medium), .required = true, .least = "1", .most = "60", .example = "anthracite", .meaning = "what it is: anthracite, manganese-coated sand, sand, greensand, gravel or glass beads; or another name, with constants of its own", .source = WR_SANITY},
    {.key = "depth", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_media_layer, depth), .quantity = WR_QUANTITY_DEPTH, .required = true, .above = "0 in", .most = "20 ft", .meaning = "depth of the layer", .source = WR_SANITY},
    {.key = "grain_size", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_media_layer, grain_size), .quantity = WR_QUANTITY_GRAIN, .when_absent = "sieves stand in its place", .above = "0 mm", .most = "100 mm", .meaning = "effective size of its grains: 10 % by mass is finer", .source = WR_SANITY},
    {.key = "uniformity", .kind = WR_IS_NUMBER, .offset = offsetof(struct wr_media_layer, uniformity), .when_absent = "what coarse_size gives, else the known medium's, or 1.5", .least = "1", .most = "10", .example = "1.5", .meaning = "size that 60 % by mass is finer than, over effective size; for the bed in a wash", .source = WR_BY_MEANING "; " WR_SANITY},
    {.key = "coarse_size", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_media_layer, coarse_size), .quantity = WR_QUANTITY_GRAIN, .when_absent = "worked out from uniformity or sieves", .above = "0 mm", .most = "100 mm", .example = "1.6 mm", .meaning = "size that 90 % by mass is finer than; for the bed in a wash", .source = WR_SANITY},
    {.key = "sieves", .kind = WR_IS_BLOCK_LIST, .offset = offsetof(struct wr_media_layer, sieves), .block = &wr_block_sieve, .when_absent = "grain_size stands in its place", .least = "2", .most = "40", .meaning = "sieve table of the medium, finest sieve first", .source = WR_SANITY},
    {.key = "specific_gravity", .kind = WR_IS_NUMBER, .offset = offsetof(struct wr_media_layer, specific_gravity), .when_absent = "the known medium's", .above = "1", .most = "10", .example = "1.6", .meaning = "density of its grains over that of water; for the bed in a wash", .source = WR_BY_MEANING "; " WR_SANITY},
    {.key = "sphericity", .kind = WR_IS_NUMBER, .offset = offsetof(struct wr_media_layer, sphericity), .when_absent = "the known medium's", .above = "0", .most = "1", .example = "0.75", .meaning = "area of the sphere of a grain's volume over the area of the grain; for the bed in a wash", .source = WR_BY_MEANING},
    {.key = "porosity", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_media_layer, porosity), .quantity = WR_QUANTITY_SHARE, .when_absent = "the known medium's", .above = "0 %", .below = "100 %", .example = "48 %", .meaning = "share of voids in the layer", .source = WR_BY_MEANING},
    {.key = "viscous_constant", .kind = WR_IS_NUMBER, .offset = offsetof(struct wr_media_layer, viscous_constant), .when_absent = "the known medium's", .above = "0", .most = "10000", .example = "150", .meaning = "first constant of the Ergun equation, which goes with the rate", .source = WR_SANITY},
    {.key = "inertial_constant", .kind = WR_IS_NUMBER, .offset = offsetof(struct wr_media_layer, inertial_constant), .when_absent = "the known medium's", .least = "0", .most = "1000", .example = "1.75", .meaning = "second constant of the Ergun equation, which goes with the square of the rate", .source = WR_SANITY},
};

static const struct wr_parameter sieve_rows[] = {
    {.key = "opening", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_sieve_row, opening), .quantity = WR_QUANTITY_GRAIN, .required = true, .above = "0 mm", .most = "100 mm", .meaning = "opening of the sieve", .source = WR_SANITY},
    {.key = "passing", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_sieve_row, passing), .quantity = WR_QUANTITY_SHARE, .required = true, .least = "0 %", .most = "100 %", .example = "9.9 %", .meaning = "share of the medium's mass that passes it", .source = WR_BY_MEANING},
};

static const struct wr_parameter deposit_rows[] = {
    {.key = "slope", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_deposit_definition, slope), .quantity = WR_QUANTITY_SLOPE, .when_absent = "observed_run stands in its place", .above = "0 m/(kg/m2)", .most = "1000 m/(kg/m2)", .meaning = "rise of headloss per load of dry solids, at the approved rate and the raw water's temperature", .source = WR_SANITY},
    {.key = "exponent", .kind = WR_IS_NUMBER, .offset = offsetof(struct wr_deposit_definition, exponent), .default_text = "1", .least = "1", .most = "10", .meaning = "power of the load with which headloss rises: 1, in a straight line; above, ever more steeply", .source = WR_CHOSEN "; " WR_SANITY},
    {.key = "reference_load", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_deposit_definition, reference_load), .quantity = WR_QUANTITY_LOAD, .when_absent = "the observed run's load", .above = "0 kg/m2", .most = "100 kg/m2", .meaning = "load at which a steepening rise has the slope that is given", .source = WR_SANITY},
    {.key = "observed_run", .kind = WR_IS_BLOCK, .offset = offsetof(struct wr_deposit_definition, observed_run), .block = &wr_block_observed_run, .has_presence = true, .presence = offsetof(struct wr_deposit_definition, has_observed_run), .when_absent = "slope stands in its place", .meaning = "one filter run as the plant has seen it, from which the slope is worked out"},
};

static const struct wr_parameter observed_run_rows[] = {
    {.key = "clean_differential", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_observed_run, clean_differential), .quantity = WR_QUANTITY_HEAD, .required = true, .above = "0 psi", .most = "150 psi", .example = "2.2 psi", .meaning = "differential across the filter just after a wash", .source = WR_SANITY},
    {.key = "dirty_differential", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_observed_run, dirty_differential), .quantity = WR_QUANTITY_HEAD, .required = true, .above = "0 psi", .most = "150 psi", .meaning = "differential at the end of the run, above the clean one", .source = WR_SANITY},
    {.key = "rate", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_observed_run, rate), .quantity = WR_QUANTITY_RATE, .when_absent = "flow stands in its place", .above = "0 m/h", .most = "100 m/h", .example = "3 gal/min/ft2", .meaning = "filtration rate in that run", .source = WR_SANITY},
    {.key = "flow", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_observed_run, flow), .quantity = WR_QUANTITY_FLOW, .when_absent = "rate stands in its place", .above = "0 gal/min", .most = "1e6 gal/min", .example = "150 gal/min", .meaning = "flow through the filter in that run", .source = WR_SANITY},
    {.key = "hours", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_observed_run, hours), .quantity = WR_QUANTITY_TIME, .when_absent = "volume stands in its place", .above = "0 h", .most = "3653 d", .example = "40 h", .meaning = "length of that run", .source = WR_SANITY},
    {.key = "volume", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_observed_run, volume), .quantity = WR_QUANTITY_RUN_VOLUME, .when_absent = "hours stands in its place", .above = "0 gal/ft2", .most = "1e6 gal/ft2", .meaning = "water per area of bed in that run", .source = WR_SANITY},
    {.key = "iron", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_observed_run, iron), .quantity = WR_QUANTITY_CONCENTRATION, .when_absent = "the raw water's", .least = "0 mg/L", .most = "1000 mg/L", .meaning = "iron of that run's water", .source = WR_SANITY},
    {.key = "manganese", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_observed_run, manganese), .quantity = WR_QUANTITY_CONCENTRATION, .when_absent = "the raw water's", .least = "0 mg/L", .most = "1000 mg/L", .example = "0.25 mg/L", .meaning = "manganese of that run's water", .source = WR_SANITY},
    {.key = "suspended_solids", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_observed_run, suspended_solids), .quantity = WR_QUANTITY_CONCENTRATION, .when_absent = "the raw water's, or worked out from iron and manganese", .least = "0 mg/L", .most = "10000 mg/L", .example = "6.4 mg/L", .meaning = "dry solids of that run's water", .source = WR_SANITY},
    {.key = "temperature", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_observed_run, temperature), .quantity = WR_QUANTITY_TEMPERATURE, .when_absent = "the raw water's", .least = "0 degC", .most = "40 degC", .meaning = "temperature of that run's water", .source = WR_SANITY},
};

static const struct wr_parameter start_beds_rows[] = {
    {.key = "how", .kind = WR_IS_CHOICE, .offset = offsetof(struct wr_start_bed_definition, how), .choices = hows, .default_text = "spread", .meaning = "how the beds start: spread, the k-th of n filters has used (k - 1)/n of its run; equal, all the same share; given, by the start_shares of each group", .source = WR_CHOSEN},
    {.key = "share", .kind = WR_IS_QUANTITY, .offset = offsetof(struct wr_start_bed_definition, share), .quantity = WR_QUANTITY_SHARE, .default_text = "0 %", .least = "0 %", .below = "100 %", .example = "50 %", .meaning = "share of its run that every filter has used, where how is equal", .source = WR_NONE_OF_IT "; " WR_BY_MEANING},
};
/* clang-format on */

/* What must hold between keys. */
static const char *const filter_group_rules[] = {
    "Exactly one of diameter and area is given.", "cells_per_vessel divides count.",
    "There are media or an observed run in deposit, or both: the clean headloss follows from them.",
    "start_shares has one share for each filter of the group. It is given where how in /start_beds is given, and only "
    "there.",
    NULL};

static const char *const media_layer_rules[] = {
    "A medium that is none of the six named has porosity, viscous_constant and inertial_constant of its own.",
    "Exactly one of grain_size and sieves is given; uniformity and coarse_size only beside grain_size, and coarse_size "
    "is above it.",
    "In sieves opening and passing rise from each to the next, from 5 % passing or less to 95 % or more.", NULL};

static const char *const deposit_rules[] = {"Exactly one of slope and observed_run is given.",
                                            "With slope and an exponent above 1, reference_load is given too.", NULL};

static const char *const observed_run_rules[] = {"Exactly one of rate and flow is given.",
                                                 "Exactly one of hours and volume is given.",
                                                 "dirty_differential is more than clean_differential.", NULL};

static const char *const start_beds_rules[] = {"share is given only where how is equal.", NULL};

const struct wr_block wr_block_filter_group = {"filter group", "Filters that are alike.",
                                               WR_BLOCK_ROWS(filter_group_rows), sizeof(struct wr_filter_group),
                                               filter_group_rules};

const struct wr_block wr_block_media_layer = {"media layer", "One layer of a filter bed.",
                                              WR_BLOCK_ROWS(media_layer_rows), sizeof(struct wr_media_layer),
                                              media_layer_rules};

const struct wr_block wr_block_sieve = {"sieve", "What one sieve lets pass of a medium.", WR_BLOCK_ROWS(sieve_rows),
                                        sizeof(struct wr_sieve_row), NULL};

const struct wr_block wr_block_deposit = {"deposit", "How caught solids raise headloss.", WR_BLOCK_ROWS(deposit_rows),
                                          sizeof(struct wr_deposit_definition), deposit_rules};

const struct wr_block wr_block_observed_run = {"observed run", "What a plant has seen of one filter run.",
                                               WR_BLOCK_ROWS(observed_run_rows), sizeof(struct wr_observed_run),
                                               observed_run_rules};

const struct wr_block wr_block_start_beds = {"start beds", "Where the beds stand when the run starts.",
                                             WR_BLOCK_ROWS(start_beds_rows), sizeof(struct wr_start_bed_definition),
                                             start_beds_rules};
