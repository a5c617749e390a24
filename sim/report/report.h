/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_REPORT_REPORT_H
#define WR_SIM_REPORT_REPORT_H

/* Reports on results: as a JSON document with the keys of docs/answers.md, and as a page of text for readers.
 *
 * Documents are in SI with the unit in the key. All documents begin with format, program and scenario. A run or firm
 * search that did not end well is reported as far as it went, with a `fault` that says why. */

#include "sim/report/page.h"
#include "sim/study/firm.h"
#include "sim/study/margin.h"
#include "sim/study/rota.h"
#include "sim/study/run.h"
#include "sim/study/size.h"
#include "sim/study/sweep.h"
#include "sim/study/wash_beds.h"

struct cJSON;

/* What is reported on. */
struct wr_subject {
    const struct wr_definition *definition; /* NULL for a scenario that could not be read */
    double whole_horizon; /* s, as the scenario has it, where its runs are made to end before; 0 where they are not */
    const char *sha256;   /* of the scenario's text; NULL for one that is not JSON */
};

/* The document's head; freed with cJSON_Delete, as are those below. */
struct cJSON *wr_report_document(const struct wr_subject *subject);

/* A scenario that reads without complaint, and what follows from its figures. */
struct cJSON *wr_report_check_document(const struct wr_subject *subject, const struct wr_plant *plant);

/* The same as text, in the units asked for; with the whole review, or only what is not met. */
void wr_report_check_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_plant *plant,
                          bool whole_review, enum wr_units units);

/* A run and both answers. */
struct cJSON *wr_report_run_document(const struct wr_subject *subject, const struct wr_run *run);

/* The same as text. */
void wr_report_run_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_run *run,
                        enum wr_units units);

/* A firm capacity. */
struct cJSON *wr_report_firm_document(const struct wr_subject *subject, const struct wr_firm *firm);

/* The same as text. */
void wr_report_firm_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_firm *firm,
                         enum wr_units units);

/* Numbers and sizes of filters for a wanted flow. */
struct cJSON *wr_report_size_document(const struct wr_subject *subject, const struct wr_size *size);

/* The same as text. */
void wr_report_size_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_size *size,
                         enum wr_units units);

/* Beds in their wash. */
struct cJSON *wr_report_beds_document(const struct wr_subject *subject, const struct wr_wash_beds *beds);

/* The same as text. */
void wr_report_beds_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_wash_beds *beds,
                         enum wr_units units);

/* Margins. */
struct cJSON *wr_report_margins_document(const struct wr_subject *subject, const struct wr_margins *margins);

/* The same as text. */
void wr_report_margins_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_margins *margins,
                            enum wr_units units);

/* Takes the figures of a sweep from the document of what was made at a point. */
void wr_report_sweep_take(const struct wr_sweep *sweep, struct wr_sweep_point *point, const struct wr_sweep_made *made);

/* False for a figure that no answer of a sweep had. */
bool wr_report_sweep_has(const struct wr_sweep *sweep, size_t figure);

/* True for a sweep of which every point that was done is answered and passes. */
bool wr_report_sweep_passes(const struct wr_sweep *sweep);

/* A sweep. */
struct cJSON *wr_report_sweep_document(const struct wr_subject *subject, const struct wr_sweep *sweep);

/* The same as text. */
void wr_report_sweep_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_sweep *sweep,
                          enum wr_units units);

/* A search for a rota. */
struct cJSON *wr_report_rota_document(const struct wr_subject *subject, const struct wr_rota_search *rota);

/* The same as text. */
void wr_report_rota_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_rota_search *rota,
                         enum wr_units units);

/* True where the best that was found fails from no start. */
bool wr_report_rota_passes(const struct wr_rota_search *rota);

/* Both answers of a run in plain sentences, and the verdict. */
void wr_report_run_answers(struct wr_page *page, const struct wr_run *run, enum wr_units units);

/* Parts of the above -------------------------------------------------------------------------------------------- */

/* What follows from a scenario's figures, as block `derived`, with `plant` and `doubts` within. */
void wr_report_derived_block(struct cJSON *document, const struct wr_plant *plant);

/* The same as a section of text. */
void wr_report_derived_section(struct wr_page *page, const struct wr_plant *plant, enum wr_units units);

/* The plant as understood, as block `plant`. */
void wr_report_outline_block(struct cJSON *derived, const struct wr_plant *plant);

/* The same as a section of text. */
void wr_report_outline_section(struct wr_page *page, const struct wr_plant *plant, enum wr_units units);

/* Figures that look like a slip, as list `doubts`. */
void wr_report_doubt_list(struct cJSON *derived, const struct wr_plant *plant);

/* The same as a section of text. */
void wr_report_doubt_section(struct wr_page *page, const struct wr_plant *plant, enum wr_units units);

/* The scenario beside published guidance, as block `review`. */
void wr_report_review_block(struct cJSON *document, const struct wr_plant *plant);

/* The same as a section of text: what is not met, or all rows. */
void wr_report_review_section(struct wr_page *page, const struct wr_plant *plant, bool whole, enum wr_units units);

/* The water and solids that came and went, as blocks `spent_wash` and `ledger`. */
void wr_report_account_blocks(struct cJSON *document, const struct wr_run *run);

/* The same as a section of two tables. */
void wr_report_account_section(struct wr_page *page, const struct wr_run *run, enum wr_units units);

/* What the spent-wash tanks did, in the block `spent_wash` of a run's document. */
void wr_report_tank_blocks(struct cJSON *spent_wash, const struct wr_run *run);

/* The same as a section of text. */
void wr_report_tank_section(struct wr_page *page, const struct wr_run *run, enum wr_units units);

/* One finding, into its block. */
void wr_report_put_finding(struct cJSON *block, const struct wr_run *run, const struct wr_finding *finding);

/* The findings, as list `findings`. */
void wr_report_finding_list(struct cJSON *document, const struct wr_run *run);

/* The same as a section, a sentence each. */
void wr_report_finding_section(struct wr_page *page, const struct wr_run *run, enum wr_units units);

/* One finding in a sentence or two. */
void wr_report_say_finding(struct wr_page *sentences, const struct wr_run *run, const struct wr_finding *finding,
                           enum wr_units units);

/* By which run something is judged, to go on from "judged by ". */
void wr_report_verdict(struct wr_page *sentences, enum wr_verdict verdict, const struct wr_plant *plant);

/* What went wrong first and what stops it there, to the end of the sentence. */
void wr_report_failure(struct wr_page *sentences, const struct wr_plant *plant, const struct wr_rung *rung);

/* That a study was interrupted, and how to go on. */
void wr_report_interrupted(struct wr_page *page, size_t done, size_t asked, const char *how_to_go_on);

/* Key of a verdict. */
const char *wr_report_verdict_key(enum wr_verdict verdict);

/* Title, question and scenario. */
void wr_report_title(struct wr_page *page, const struct wr_subject *subject);

/* The caution under every report. */
void wr_report_caution(struct wr_page *page);

/* Key of a limit, NULL for none. */
const char *wr_report_limit_key(enum wr_limit limit);

/* Name of a filter, NULL for nowhere. */
const char *wr_report_where(const struct wr_plant *plant, size_t where);

/* The filters of a group by their first and last names: "Filter 1 to Filter 3". */
void wr_report_group(struct wr_page *sentences, const struct wr_plant *plant, size_t group);

/* Key of a trigger. */
const char *wr_report_trigger_key(enum wr_trigger trigger);

/* Washes that waited for a resource. */
struct wr_waits {
    size_t washes;
    double longest; /* s, of one wash */
    double total;   /* s */
};

/* The waits of a run, start-up left out, those that still waited at the end among them. */
struct wr_waits wr_report_waits(const struct wr_run *run);

/* Demand that was not delivered, m3; what the doubles lose on the way is none. */
double wr_report_unmet(const struct wr_run *run);

#endif
