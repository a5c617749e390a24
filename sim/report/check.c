/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/report/json.h"
#include "sim/report/report.h"
#include "sim/report/say.h"

#include <cjson/cJSON.h>

struct cJSON *wr_report_check_document(const struct wr_subject *subject, const struct wr_plant *plant)
{
    struct cJSON *document = wr_report_document(subject);
    wr_json_flag(document, "good", true);
    wr_json_list(document, "complaints");
    wr_report_derived_block(document, plant);
    wr_report_review_block(document, plant);
    return document;
}

void wr_report_check_page(struct wr_page *page, const struct wr_subject *subject, const struct wr_plant *plant,
                          bool whole_review, enum wr_units units)
{
    wr_report_title(page, subject);
    wr_page_add(page, "\n");
    wr_page_flow(page, "", "The scenario can be run: %s, %s, %s.",
                 wr_say_count(plant->well_count, "well", "wells").text,
                 wr_say_count(plant->filter_count, "filter", "filters").text,
                 wr_say_count(plant->tank_count, "spent-wash tank", "spent-wash tanks").text);
    wr_report_outline_section(page, plant, units);
    wr_report_derived_section(page, plant, units);
    wr_report_doubt_section(page, plant, units);
    wr_report_review_section(page, plant, whole_review, units);
    wr_report_caution(page);
}
