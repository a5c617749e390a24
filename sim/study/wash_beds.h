/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_STUDY_WASH_BEDS_H
#define WR_SIM_STUDY_WASH_BEDS_H

/* Whether the plant's own backwash lifts the beds of its filters and keeps them in, over the temperatures of its wash
 * water. */

#include "sim/plant/plant.h"
#include "sim/study/fluid_bed.h"

/* Expansion asked of a bed where nobody says another: common practice, no source. */
#define WR_WANTED_EXPANSION 0.4

/* Loss of a medium, share of its mass, above which a wash does not pass (chosen here, no source). */
#define WR_LOSS_MOST 0.001

/* Temperatures from 0 to 30 degrees Celsius over which beds are shown. */
enum { WR_BED_POINTS = 31 };

/* A bed at one temperature, the figures that a curve shows. */
struct wr_bed_point {
    double temperature, fluidising_rate;                     /* K, m/s */
    double expansion[WR_BED_LAWS], wanted_rate[WR_BED_LAWS]; /* as in struct wr_bed_lifted */
};

/* The beds of one group of filters. */
struct wr_wash_bed {
    struct wr_fluid_bed bed;
    bool is_answered;                 /* it has media of which all is known: */
    double clean_head[WR_BED_LAYERS]; /* m by layer, at the approved rate in raw water */
    struct wr_bed_lifted coldest, warmest;
    struct wr_bed_point points[WR_BED_POINTS];
    bool is_lifted;   /* at every temperature of the wash water the rate is at least the fluidising one */
    bool stays_in;    /* below its freeboard by both laws, where one is given */
    bool keeps_media; /* no medium loses more than WR_LOSS_MOST and no law has a slice carried off */
    bool does_well;   /* all three */
};

struct wr_wash_beds {
    const struct wr_definition *definition; /* borrowed */
    struct wr_plant plant;
    double rate;                                /* m/s of the backwash */
    double wanted;                              /* expansion */
    bool has_months;                            /* the wash water has temperatures of its own */
    size_t coldest, warmest;                    /* month from 0, where it has */
    double least_temperature, most_temperature; /* K */
    size_t count;
    struct wr_wash_bed *beds; /* one a group of filters */
    bool passes;              /* every bed that is answered does well */
    enum wr_status status;
};

/* Washes the beds of a plant and asks for a wanted expansion, a share above zero. What came is in status: other than
 * WR_OK nothing else holds; WR_NO_KNOWN_BED where no bed can be answered. wr_wash_beds_fini frees what it holds,
 * whatever came. */
void wr_wash_beds_make(struct wr_wash_beds *beds, const struct wr_definition *definition, double wanted);
void wr_wash_beds_fini(struct wr_wash_beds *beds);

#endif
