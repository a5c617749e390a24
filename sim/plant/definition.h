/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_PLANT_DEFINITION_H
#define WR_SIM_PLANT_DEFINITION_H

/* The plant as its scenario describes it: what an author wrote, in SI, with defaults filled in.
 *
 * Constant once read, shared by threads. Every byte but padding is covered by a row of the parameter table in
 * sim/scenario/, so a new parameter is a member here and a row there. What follows from these figures (slopes, wash
 * volumes, timers) is worked out once in sim/plant/plant.h and is not stored here.
 *
 * Quantities are SI doubles: m, m2, m3, m3/s, m/s, s, kg/m3, kelvin; heads in metres of water; shares run from 0 to 1.
 * A quantity that may be left out is NaN when it was. Lists own their items; texts are owned and may be NULL. */

#include <math.h>
#include <stdbool.h>
#include <stddef.h>

/* Marks an optional quantity that the author left out. */
#define WR_ABSENT ((double)NAN)

/* True when an optional quantity was given. */
static inline bool wr_is_given(double quantity)
{
    return !isnan(quantity);
}

enum wr_units { WR_UNITS_US, WR_UNITS_SI };
enum wr_flow_split { WR_SPLIT_RATE_CONTROLLED };
enum wr_measured_across { WR_ACROSS_FILTER, WR_ACROSS_BED };
enum wr_differential_as { WR_AS_MEASURED, WR_AS_CORRECTED };
enum wr_at_available_head { WR_HEAD_FLOW_FALLS, WR_HEAD_LEAVES_SERVICE, WR_HEAD_ALARM_ONLY };
enum wr_drive { WR_DRIVE_FIXED, WR_DRIVE_VARIABLE };
enum wr_over_approved_rate { WR_OVER_DROP_WELL, WR_OVER_THROTTLE, WR_OVER_RATE_RISES };
enum wr_start_beds { WR_START_SPREAD, WR_START_EQUAL, WR_START_GIVEN };
enum wr_template {
    WR_TEMPLATE_PRESSURE,
    WR_TEMPLATE_PRESSURE_AIR,
    WR_TEMPLATE_GRAVITY,
    WR_TEMPLATE_BATCH_REGENERATION
};
enum wr_days {
    WR_DAYS_EVERY_DAY,
    WR_DAYS_WEEKDAYS,
    WR_DAYS_WEEKENDS,
    WR_DAYS_MONDAY,
    WR_DAYS_TUESDAY,
    WR_DAYS_WEDNESDAY,
    WR_DAYS_THURSDAY,
    WR_DAYS_FRIDAY,
    WR_DAYS_SATURDAY,
    WR_DAYS_SUNDAY
};
enum wr_when_plant_stopped { WR_STOPPED_START_WELL, WR_STOPPED_WAIT, WR_STOPPED_RINSE_AT_NEXT_START };
enum wr_on_interrupt { WR_INTERRUPT_FINISH_WEAK, WR_INTERRUPT_HOLD };
enum wr_who_first { WR_FIRST_LONGEST_WAITING, WR_FIRST_DIRTIEST };
enum wr_water_source {
    WR_WATER_FROM_TANK,
    WR_WATER_FROM_STORAGE,
    WR_WATER_FROM_FILTERS,
    WR_WATER_FROM_WELLS,
    WR_WATER_FROM_SYSTEM
};
enum wr_settling_law { WR_SETTLING_NONE, WR_SETTLING_CLOCK, WR_SETTLING_CLASSES, WR_SETTLING_ZONE };
enum wr_draw_off { WR_DRAW_FLOATING, WR_DRAW_FIXED };
enum wr_zone_flux { WR_ZONE_VESILIND, WR_ZONE_RICHARDSON_ZAKI };
enum wr_sludge_drawn { WR_SLUDGE_EACH_DECANT, WR_SLUDGE_BY_LEVEL, WR_SLUDGE_BY_CALENDAR };
enum wr_sludge_to { WR_SLUDGE_TO_BED, WR_SLUDGE_TO_SEWER, WR_SLUDGE_TO_HAUL };
enum wr_rinse_to { WR_RINSE_TO_SPENT, WR_RINSE_TO_SEWER };
enum wr_outlet_kind { WR_OUTLET_RECYCLE, WR_OUTLET_SEWER, WR_OUTLET_POND, WR_OUTLET_HAUL, WR_OUTLET_KINDS };
enum wr_recycle_control { WR_RECYCLE_FIXED, WR_RECYCLE_RATIO };

/* Demand on the finished water. */
struct wr_demand {
    double maximum_day;        /* mean flow of the maximum day, m3/s */
    double hourly_factors[24]; /* of the day's mean, midnight first; normalised to mean 1 when the plant is built */
};

/* Finished-water storage; levels are shares of its volume. */
struct wr_storage {
    double volume;      /* m3 */
    double start_level; /* share */
    double reserve;     /* share kept for fire, contact and emergency: no wash may draw it */
    double low_mark;    /* share at which low storage is noted, at or above the reserve */
};

/* Hours of the week. Hours that end at or before they begin run over midnight and belong to the day they begin on. */
struct wr_hours {
    int days;     /* enum wr_days */
    double from;  /* s of the day */
    double until; /* s of the day */
};

struct wr_hours_list {
    struct wr_hours *items;
    size_t count;
};

/* A well, on and off by the level in storage. */
struct wr_well {
    char *name;
    double flow;         /* m3/s, at full speed */
    int drive;           /* enum wr_drive */
    double least_flow;   /* m3/s a variable-speed well gives at least */
    double on_below;     /* share of storage below which it is called */
    double off_above;    /* share of storage above which it stops, above on_below */
    double minimum_run;  /* s it runs once started, unless its flow no longer fits */
    double minimum_rest; /* s it stands once stopped */
    double iron;         /* kg/m3; the raw water's when absent */
    double manganese;    /* kg/m3; the raw water's when absent */
};

struct wr_wells {
    struct wr_well *items;
    size_t count;
};

/* Raw water of all wells together; in oxidised, dry form where it says solids. */
struct wr_raw_water {
    double temperature;              /* K */
    double iron;                     /* kg/m3 */
    double manganese;                /* kg/m3 */
    double suspended_solids;         /* kg/m3 dry, in place of those derived from iron and manganese; optional */
    double dry_solids_per_iron;      /* kg/kg */
    double dry_solids_per_manganese; /* kg/kg */
};

/* What a sieve lets pass of a medium. */
struct wr_sieve_row {
    double opening; /* m */
    double passing; /* share of the mass */
};

struct wr_sieve_rows {
    struct wr_sieve_row *items;
    size_t count;
};

/* One layer of media, top first. */
struct wr_media_layer {
    char *medium;                /* "anthracite", "manganese-coated sand", ... free text */
    double depth;                /* m */
    double grain_size;           /* m, effective size; exactly one of it and sieves */
    double uniformity;           /* size that 60 % is finer than, over effective size; optional */
    double coarse_size;          /* m that 90 % is finer than; optional, only beside grain_size */
    struct wr_sieve_rows sieves; /* finest first */
    double specific_gravity;     /* density over 1000 kg/m3; optional */
    double sphericity;           /* optional */
    double porosity;             /* share */
    double viscous_constant;     /* of the Ergun equation */
    double inertial_constant;    /* of the Ergun equation */
};

struct wr_media {
    struct wr_media_layer *items;
    size_t count;
};

/* What a plant has seen of one filter run, from which the slope of its headloss is derived. */
struct wr_observed_run {
    double clean_differential; /* m, across the filter just after a wash */
    double dirty_differential; /* m, at the end of the run */
    double rate;               /* m/s through the filter; exactly one of rate and flow */
    double flow;               /* m3/s through the filter */
    double hours;              /* s of run; exactly one of hours and volume */
    double volume;             /* m3 of water per m2 of filter */
    double iron;               /* kg/m3 in that run's water; the raw water's when absent */
    double manganese;          /* kg/m3; the raw water's when absent */
    double suspended_solids;   /* kg/m3 dry; the raw water's when absent */
    double temperature;        /* K; the raw water's when absent */
};

/* How captured solids raise headloss. */
struct wr_deposit_definition {
    double slope;          /* m of head per kg/m2 at the approved rate and raw water's temperature; or observed_run */
    double exponent;       /* 1: straight; above: steepening with load */
    double reference_load; /* kg/m2 at which a steepening law meets its slope; the observed run's when absent */
    bool has_observed_run;
    struct wr_observed_run observed_run;
};

/* Shares of a run used at the start, one a filter. */
struct wr_numbers {
    double *items;
    size_t count;
};

/* Filters that are alike. */
struct wr_filter_group {
    char *name;      /* filters are called name and number: "F1", "F2", numbered on through groups of one name */
    size_t filters;  /* how many; key "count" */
    double diameter; /* m; exactly one of diameter and area */
    double area;     /* m2 */
    struct wr_media media;
    double freeboard;         /* m from the settled bed up to where media would leave with the wash water; optional */
    double fittings_headloss; /* m at the approved rate, quadratic; what the observed clean differential leaves when
                                 absent */
    size_t cells;             /* filters that share a vessel and go out together; key "cells_per_vessel" */
    double approved_rate;     /* m/s, counts raw plus recycle */
    double available_head;    /* m across the filter */
    int at_available_head;    /* enum wr_at_available_head */
    struct wr_deposit_definition deposit;
    struct wr_numbers start_shares; /* where start_beds is "given" */
};

struct wr_filter_groups {
    struct wr_filter_group *items;
    size_t count;
};

/* Where the beds stand when a run begins. */
struct wr_start_bed_definition {
    int how;      /* enum wr_start_beds */
    double share; /* of a run used, by every filter where how is "equal" */
};

/* What calls a wash; whichever comes first. Absent ones never call. */
struct wr_triggers {
    double differential;        /* m */
    int differential_as;        /* enum wr_differential_as */
    int across;                 /* enum wr_measured_across */
    double persistence;         /* s for which the differential must stay at or above its trigger */
    double run_hours;           /* s with flow since the last wash */
    double volume;              /* m3/m2 since the last wash */
    double urgent_differential; /* m, taken as the differential is: overrides the window */
};

/* A dated start for one filter, once or again and again. */
struct wr_rota_entry {
    char *filter;
    double first; /* s since the start; a date in the scenario */
    double every; /* s; once only when absent */
};

struct wr_rota {
    struct wr_rota_entry *items;
    size_t count;
};

/* A tank that keeps spent regenerant until it is hauled away. */
struct wr_holding {
    double volume;        /* m3; without a tank absent */
    double emptied_every; /* s from the start of the run on */
};

/* The wash sequence and the rules by which washes start. */
struct wr_wash {
    struct wr_triggers triggers;
    int sequence;            /* enum wr_template; key "template" */
    double backwash_rate;    /* m/s */
    double backwash_time;    /* s, ramps counted by their volume */
    double ramp_time;        /* s of half rate before and after the full rate */
    double bed_settle;       /* s of stillness after the backwash */
    double rinse_rate;       /* m/s; the approved rate when absent */
    double rinse_time;       /* s at that rate */
    int rinse_to;            /* enum wr_rinse_to */
    double washout_depth;    /* m3/m2 of backwash in which what a bed still holds falls to 1/e; all goes when absent */
    double clear_at;         /* kg/m3 at which the last of the spent wash counts as clear; not judged when absent */
    double valve_travel;     /* s before the backwash, before the rinse and before service */
    size_t max_simultaneous; /* filters off line for a wash at one time */
    double min_between_starts;   /* s */
    int who_first;               /* enum wr_who_first */
    double drain_depth;          /* m3/m2 of water drained or dumped to waste before air or backwash */
    double drain_time;           /* s */
    double air_time;             /* s of air scour */
    double fill_rate;            /* m/s of slow refill with wash water after draining */
    double filter_down_depth;    /* m3/m2 of water above the bed that a gravity filter passes on before it is dumped */
    double filter_down_time;     /* s */
    double regenerant_depth;     /* m3/m2 of regenerant made up with wash water */
    double regenerate_time;      /* s */
    struct wr_holding holding;   /* where it goes; the sewer when absent, and never to recycle */
    double rinse_at_start;       /* s for which filters run to waste whenever the plant has stood still and starts */
    struct wr_hours_list window; /* when washes may start; always when empty */
    struct wr_rota rota;
    size_t min_filters_in_service; /* that must stay so when a wash starts */
    double storage_lockout;        /* share of storage below which no wash starts */
    size_t blowers;                /* filters in an air wash at one time */
    int when_plant_stopped;        /* enum wr_when_plant_stopped */
    int on_interrupt;              /* enum wr_on_interrupt */
    struct wr_hours_list attended; /* when a filter held by an interrupted wash may be released; always when empty */
};

/* The tank that gives backwash water. */
struct wr_wash_tank {
    double volume;          /* m3 */
    double start_level;     /* share */
    double refill_rate;     /* m3/s from the effluent */
    double refill_on_below; /* share below which refilling starts; it stops when full */
};

struct wr_wash_water {
    int source;             /* enum wr_water_source */
    double max_flow;        /* m3/s the source can give; optional */
    double draw_limit;      /* m3/s that may be drawn from system pressure; needed there */
    double temperature[12]; /* K, by month, January first; the raw water's when absent */
    struct wr_wash_tank tank;
};

struct wr_spent_tank {
    char *name;
    double volume;      /* m3 */
    double start_level; /* share, of clear water */
    double depth;       /* m of water when full, walls upright; needed by settling laws other than the clock */
};

struct wr_spent_tanks {
    struct wr_spent_tank *items;
    size_t count;
};

/* Particles that settle alike. */
struct wr_particle_class {
    double share;    /* of the suspended solids */
    double velocity; /* m/s in still water */
};

struct wr_particle_classes {
    struct wr_particle_class *items;
    size_t count;
};

/* Solids so thick that they settle together. */
struct wr_zone_definition {
    int flux;             /* enum wr_zone_flux */
    double velocity;      /* m/s of one particle alone */
    double hindrance;     /* m3/kg: of Vesilind's law */
    double exponent;      /* of the law of Richardson and Zaki */
    double concentration; /* kg/m3 of a bed that settles no further */
};

struct wr_settling {
    int law;             /* enum wr_settling_law */
    double time;         /* s of stillness, at least where the law says more */
    double start_after;  /* s after its last wash at which a part-full tank starts to settle */
    double sludge_share; /* of the tank's content when settling ends, where no blanket is kept */
    struct wr_particle_classes classes;
    double polymer_factor; /* by which a polymer multiplies their velocities */
    struct wr_zone_definition zone;
    double clear_at;    /* kg/m3 of suspended solids at which the tank may be drawn off; time alone when absent */
    int draw_off;       /* enum wr_draw_off */
    double draw_height; /* m above the floor below which nothing is drawn off, where it is fixed */
};

/* A blanket of sludge that is kept in the tanks and drawn now and then. */
struct wr_sludge_definition {
    double fresh_solids;     /* share of dry solids by mass as it settles */
    double thickened_solids; /* share that it tends to */
    double thickening_time;  /* s in which the difference falls to 1/e */
    int drawn;               /* enum wr_sludge_drawn */
    double volume;           /* m3 drawn after each decant */
    double level;            /* share of the tank at which all is drawn */
    double every;            /* s between draws of all, from the start of the run */
    int to;                  /* enum wr_sludge_to */
};

struct wr_outlet {
    int kind;                   /* enum wr_outlet_kind */
    double rate;                /* m3/s; the recycle pump's for recycle */
    struct wr_hours_list hours; /* when it may run; always when empty */
    double daily_volume;        /* m3 a day from midnight; no bound when absent */
    bool emergency;             /* runs only while a wash waits for room */
};

struct wr_outlets {
    struct wr_outlet *items;
    size_t count;
};

/* Where spent wash water goes. Without tanks it leaves to the sewer as it comes. */
struct wr_spent_wash {
    struct wr_spent_tanks tanks;
    struct wr_settling settling;
    bool has_blanket;
    struct wr_sludge_definition sludge;
    struct wr_outlets outlets; /* in order of preference: one runs only while those before it cannot */
};

struct wr_recycle {
    double pump;             /* m3/s; needed where an outlet is "recycle" */
    int control;             /* enum wr_recycle_control */
    double max_fraction;     /* of the raw flow at that instant */
    double max_blend_solids; /* kg/m3 of dry solids in raw water and recycle together; no bound when absent */
};

/* A finding that fails a run though by itself it would not. */
enum wr_fails_if {
    WR_FAILS_IF_WASHES_WAITED,
    WR_FAILS_IF_DEFERRED_BY_RULE,
    WR_FAILS_IF_STORAGE_LOW,
    WR_FAILS_IF_RINSE_SHORT,
    WR_FAILS_IF_RECYCLE_HELD,
    WR_FAILS_IF_OVERFLOWED,
    WR_FAILS_IF_APPROVED_RATE_EXCEEDED,
    WR_FAILS_IF_CLEAN_HEAD_RISING
};

struct wr_fails_if_entry {
    int finding; /* enum wr_fails_if */
};

struct wr_fails_if_list {
    struct wr_fails_if_entry *items;
    size_t count;
};

/* A unit out of service from one date to another, in seconds from the start of the run. */
struct wr_outage {
    char *unit;   /* name of a filter, well or spent-wash tank, or "wash pump", "blower" or "recycle pump" */
    double from;  /* s since the start; a date in the scenario */
    double until; /* s since the start; never when absent */
};

struct wr_outages {
    struct wr_outage *items;
    size_t count;
};

struct wr_definition {
    char *title;
    char *question;
    double start;   /* s since 1970-01-01 00:00 by local standard time; a date in the scenario */
    double horizon; /* s */
    double seed;    /* whole number from 0 to 2^53 */
    int units;      /* enum wr_units, of the text report */
    struct wr_demand demand;
    struct wr_storage storage;
    struct wr_wells wells;
    struct wr_raw_water raw_water;
    struct wr_filter_groups filters;
    struct wr_start_bed_definition start_beds;
    int flow_split;         /* enum wr_flow_split */
    int over_approved_rate; /* enum wr_over_approved_rate */
    struct wr_wash wash;
    struct wr_wash_water wash_water;
    struct wr_spent_wash spent_wash;
    struct wr_recycle recycle;
    struct wr_outages outages;
    double approved_capacity;         /* m3/s of raw plus recycle that the authority allows; optional */
    struct wr_fails_if_list fails_if; /* added to what fails a run by itself */
};

#endif
