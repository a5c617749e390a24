/* SPDX-License-Identifier: GPL-3.0-or-later */
#ifndef WR_SIM_REPORT_COMPARE_H
#define WR_SIM_REPORT_COMPARE_H

/* Reports on plants side by side, and on demand that grows. Plants are called by letters, A the first. */

#include "sim/report/report.h"
#include "sim/report/say.h"
#include "sim/study/compare.h"
#include "sim/study/growth.h"

/* The letter of a plant. */
static inline char wr_compared_letter(size_t number)
{
    return (char)('A' + (char)number);
}

/* A flow of a whole plant to as many digits as in sentences, without its unit; "not given" where it is absent. */
struct wr_phrase wr_say_flow_figure(double flow, enum wr_units units);

/* Plants side by side; freed with cJSON_Delete. */
struct cJSON *wr_report_compare_document(const struct wr_comparison *comparison);

/* The same as text: what each changes in sentences, then the table, then what was changed between the scenarios. */
void wr_report_compare_page(struct wr_page *page, const struct wr_comparison *comparison, enum wr_units units);

/* The table and the list of changes, which that page holds. */
void wr_report_compare_table(struct wr_page *page, const struct wr_comparison *comparison, enum wr_units units);
void wr_report_change_section(struct wr_page *page, const struct wr_comparison *comparison);

/* When growing demand catches up with the capacities of a plant. */
struct cJSON *wr_report_growth_document(const struct wr_subject *subject, const struct wr_firm *firm,
                                        const struct wr_growth *growth);

/* The same as text. */
void wr_report_growth_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_firm *firm,
                           const struct wr_growth *growth, enum wr_units units);

#endif
