/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_RECORD_RECORD_H
#define WR_SIM_RECORD_RECORD_H

/* What happened in a run: the one outlet of the plant.
 *
 * A record is told events and instants by a simulation, keeps tallies, and at the end gives the wash balance and the
 * findings. On request it also keeps every wash and every span. SI doubles; times in s since the start. */

#include "sim/plant/simulation.h"
#include "sim/record/finding.h"
#include "sim/record/room.h"
#include "sim/record/tanks.h"

/* How wash demand and supply stand; the words are defined in docs/answers.md. */
enum wr_grade { WR_GRADE_CLEAR, WR_GRADE_QUEUES, WR_GRADE_PACED, WR_GRADE_OVERRUN };

/* One wash. */
struct wr_wash_record {
    size_t filter;
    enum wr_trigger trigger;
    double called_at, started_at, ended_at; /* ended_at is WR_NEVER for one under way at the end */
    double waited, waited_for_resource;     /* s */
    double load, run_hours, run_volume;     /* at its start: kg/m2, s, m3/m2 */
    double differential;                    /* m at its start, as measured */
    size_t tank;                            /* the number of tanks for the sewer */
    double last_of_wash; /* kg/m3 at the end of its backwash, where it is known how it washes out; else absent */
    bool start_up;       /* the filter's first */
};

struct wr_span {
    enum wr_limit limit;
    size_t where; /* filter, or WR_NOWHERE for a flow */
    double from, to;
};

/* One filter's tallies. Means are over complete runs: those that began with a wash in this run. */
struct wr_filter_record {
    size_t washes, runs;
    double run_hours, shortest_run, run_volume; /* sums over runs; the shortest is WR_NEVER without one */
    double differential;                        /* sum over washes */
    double waited, start_up_wait;               /* s */
    double run_began_at;
    double last_of_wash; /* kg/m3, the most solids at the end of a backwash, where it is known how it washes out */
};

/* The wash balance. */
struct wr_wash_balance {
    enum wr_grade grade;
    bool ever_exceeds_supply, keeps_pace;
    enum wr_limit paced_by; /* the resource most waited for where washing is paced; else WR_LIMIT_NONE */
    enum wr_limit cause;    /* of an overrun: what the washes waited for most, a rule perhaps */
    size_t washes, washes_that_waited;
    double longest_wait, total_wait, start_up_wait;
    double worst_reserve_used; /* share */
    double extra_load;         /* share, over the whole run */
    double worst_week_extra_load;
    size_t most_waiting_together;
    double first_exceeded; /* s; WR_NEVER */
};

/* A wash pump out of service: how long the plant lasts without washing. */
struct wr_unwashed {
    double since; /* s, of the last such outage; WR_NEVER where there is none */
    double until; /* s; WR_NEVER where it lasts to the end */
    double lasts; /* s from since to the first filter at its available head; WR_NEVER for none in the run */
};

/* Kept by the record. The thresholds of these findings stand in habits.c; they are illustrative. */
struct wr_habits {
    double *rates;        /* by group: m/s at the last instant */
    double *idle_since;   /* by group: s; WR_NEVER while there is flow */
    double *clean_heads;  /* by filter: m at the approved rate after its first wash; absent before */
    double *hour;         /* by well: the hour of the run in which starts are counted */
    uint32_t *starts;     /* by well: in that hour */
    uint32_t *counted;    /* by well: all starts so far */
    uint32_t all_counted; /* the same of all wells */
    size_t calls[WR_TRIGGER_KINDS];
};

enum { WR_WEEK = 7 };

struct wr_record {
    const struct wr_plant *plant;
    bool keeps_lists; /* washes, spans and what tanks did */
    bool must_return; /* storage must come back to its start in the second half of the horizon */
    double horizon;
    struct wr_filter_record *filters;
    struct wr_wash_record *washes;
    size_t wash_count, wash_room;
    size_t *open_wash; /* by filter: its last wash in the list */
    struct wr_span *spans;
    size_t span_count, span_room;
    struct wr_entry *opening;                               /* by account */
    struct wr_finding findings[WR_FINDINGS][WR_LIMITS + 1]; /* the last for no limit; times 0 where there is none */
    uint32_t conditions;                                    /* set of the kinds of findings that last just now */
    double condition_since[WR_FINDINGS];                    /* s, of these */
    double least_storage, highest_recycle_share;
    /* Of the second half, and what held raw water when storage last stood where it started. */
    double start_level, second_half_highest, last_at_start;
    double holds_at_start[WR_LIMITS];
    /* Waiting. */
    struct wr_wash_balance balance;
    double gathered, load_at_call;
    double week_gathered[WR_WEEK], week_load[WR_WEEK];
    uint32_t day; /* of the run, whose place in the ring is its rest by seven */
    double someone_waits_since;
    double last_level, last_time;
    struct wr_habits habits;
    struct wr_room room;
    struct wr_tank_lists tanks;
    struct wr_unwashed unwashed;
    /* The first failing finding. */
    bool failed;
    enum wr_finding_kind failed_kind;
    enum wr_limit failed_limit;
    size_t failed_where;
    double failed_at;
    bool out_of_memory;
};

/* Prepares a record for a plant; keeps_lists and must_return may be set afterwards. False without
 * memory. */
bool wr_record_init(struct wr_record *record, const struct wr_plant *plant, double horizon);

/* The observer that tells this record. */
struct wr_observer wr_record_observer(struct wr_record *record);

/* Takes the opening stocks of a simulation that has just been made. */
void wr_record_open(struct wr_record *record, const struct wr_simulation *simulation);

/* After wr_simulation_end: closes conditions and open waits, and works out grade and findings. */
void wr_record_close(struct wr_record *record, const struct wr_simulation *simulation);

void wr_record_fini(struct wr_record *record);

/* An occurrence of a finding, for the record's own files: the first makes it, later ones add to it. */
struct wr_finding *wr_record_found(struct wr_record *record, const struct wr_simulation *simulation,
                                   enum wr_finding_kind kind, enum wr_limit limit, size_t where, double start);

/* True for a kind of finding that fails this plant's runs: by itself, or since the scenario says so. */
bool wr_record_fails(const struct wr_record *record, enum wr_finding_kind kind);

/* Walks the findings that occurred, in order of the table: pass 0 first and what it returned after; NULL at the end. */
const struct wr_finding *wr_record_finding(const struct wr_record *record, const struct wr_finding *after);

/* Key of a grade, as in results. */
const char *wr_grade_key(enum wr_grade grade);

#endif
