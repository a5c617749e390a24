/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/handles.h"
#include "sim/report/compare.h"
#include "sim/report/json.h"
#include "sim/report/picture.h"
#include "sim/state_file.h"

#include <cjson/cJSON.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* Making answers -------------------------------------------------------------------------------------------------- */

static void set_message(struct wr_answer *answer, enum wr_outcome outcome, const char *message)
{
    answer->outcome = outcome;
    snprintf(answer->message, sizeof answer->message, "%s", message);
}

/* An answer about a scenario that cannot be read: its complaints. */
static void answer_with_complaints(struct wr_answer *answer)
{
    const struct wr_reading *reading = &answer->scenario->reading;
    const struct wr_subject subject = wr_scenario_subject(answer->scenario);
    set_message(answer, WR_OUTCOME_BAD_SCENARIO, "there are complaints about the scenario");
    answer->document = wr_report_document(&subject);
    wr_json_flag(answer->document, "good", false);
    struct cJSON *list = wr_json_list(answer->document, "complaints");
    for (size_t c = 0; c < reading->complaint_count; c++) {
        const struct wr_complaint *complaint = &reading->complaints[c];
        struct cJSON *block = wr_json_block(list, NULL);
        wr_json_word(block, "file", complaint->setting == NULL ? reading->file : NULL);
        wr_json_word(block, "setting", complaint->setting);
        wr_json_count(block, "line", complaint->line);
        wr_json_count(block, "column", complaint->column);
        wr_json_word(block, "pointer", complaint->pointer);
        wr_json_word(block, "message", complaint->message);
    }
    wr_json_count(answer->document, "complaints_left_out", reading->complaints_left_out);
}

struct wr_answer *wr_answer_begin(const struct wr_scenario *scenario, enum wr_question question)
{
    struct wr_answer *answer = calloc(1, sizeof *answer);
    if (answer == NULL)
        return NULL;
    answer->question = question;
    answer->scenario = scenario;
    answer->worked = scenario->reading.good;
    if (!answer->worked)
        answer_with_complaints(answer);
    return answer;
}

void wr_answer_end(struct wr_answer *answer, enum wr_run_end end, const char *message, bool passes)
{
    if (end == WR_RUN_WHOLE || end == WR_RUN_STOPPED)
        answer->outcome = passes ? WR_OUTCOME_PASSES : WR_OUTCOME_FAILS;
    else
        set_message(answer,
                    end == WR_RUN_BAD_PLANT || end == WR_RUN_BAD_RESUME ? WR_OUTCOME_BAD_SCENARIO : WR_OUTCOME_FAULT,
                    message);
}

struct wr_answer *wr_scenario_check(const struct wr_scenario *scenario)
{
    struct wr_answer *answer = wr_answer_begin(scenario, WR_QUESTION_CHECK);
    if (answer == NULL || !answer->worked)
        return answer;
    const struct wr_subject subject = wr_scenario_subject(scenario);
    const enum wr_status status = wr_plant_init(&answer->plant, subject.definition);
    if (status == WR_OK) {
        answer->document = wr_report_check_document(&subject, &answer->plant);
        return answer;
    }
    answer->worked = false;
    set_message(answer, status == WR_NO_MEMORY ? WR_OUTCOME_FAULT : WR_OUTCOME_BAD_SCENARIO, wr_status_text(status));
    answer->document = wr_report_document(&subject);
    wr_json_flag(answer->document, "good", false);
    wr_json_word(answer->document, "fault", answer->message);
    return answer;
}

/* Makes the run of an answer, with its series where it has one. */
static void make_run(struct wr_answer *answer)
{
    const struct wr_subject subject = wr_scenario_subject(answer->scenario);
    struct wr_series *series = answer->has_series ? &answer->series : NULL;
    wr_run_make(&answer->run, subject.definition, &(struct wr_run_options){.keeps_lists = true, .series = series});
    wr_answer_end(answer, answer->run.end, answer->run.message, answer->run.passes);
    answer->document = wr_report_run_document(&subject, &answer->run);
}

struct wr_answer *wr_scenario_run(const struct wr_scenario *scenario)
{
    struct wr_answer *answer = wr_answer_begin(scenario, WR_QUESTION_RUN);
    if (answer != NULL && answer->worked)
        make_run(answer);
    return answer;
}

/* A saved run that cannot be gone on with. */
static void refuse_resume(struct wr_answer *answer, const char *from, const char *why)
{
    const struct wr_subject subject = wr_scenario_subject(answer->scenario);
    char message[sizeof answer->message];
    snprintf(message, sizeof message, "cannot go on from %s: %s", from, why);
    set_message(answer, WR_OUTCOME_BAD_SCENARIO, message);
    answer->document = wr_report_document(&subject);
    wr_json_word(answer->document, "fault", message);
}

static void make_run_on(struct wr_answer *answer, const char *from, const struct wr_bytes *saved, bool keeps)
{
    const struct wr_subject subject = wr_scenario_subject(answer->scenario);
    wr_run_make(&answer->run, subject.definition,
                &(struct wr_run_options){.keeps_lists = true,
                                         .resume = from != NULL ? saved : NULL,
                                         .save = keeps ? &answer->state : NULL,
                                         .stamp = {.version = WR_VERSION, .sha256 = subject.sha256}});
    wr_answer_end(answer, answer->run.end, answer->run.message, answer->run.passes);
    if (answer->run.end == WR_RUN_BAD_RESUME)
        refuse_resume(answer, from, answer->run.message);
    else
        answer->document = wr_report_run_document(&subject, &answer->run);
}

struct wr_answer *wr_scenario_run_on(const struct wr_scenario *scenario, const char *from, bool keeps)
{
    struct wr_answer *answer = wr_answer_begin(scenario, WR_QUESTION_RUN);
    struct wr_bytes saved = {0};
    char fault[256];
    if (answer == NULL || !answer->worked)
        return answer;
    if (from == NULL || wr_state_file_read(from, &saved, fault, sizeof fault))
        make_run_on(answer, from, &saved, keeps);
    else {
        answer->worked = false;
        answer->run.end = WR_RUN_BAD_RESUME;
        refuse_resume(answer, from, fault);
    }
    free(saved.data);
    return answer;
}

/* The stretch that shows most is known only after a run. */
static bool choose_stretch(struct wr_series *series, const struct wr_definition *definition)
{
    struct wr_run run;
    wr_run_make(&run, definition, &(struct wr_run_options){.keeps_lists = true});
    const bool whole = run.end == WR_RUN_WHOLE;
    if (whole)
        wr_picture_stretch(&run, &series->from, &series->until);
    wr_run_fini(&run);
    return whole;
}

struct wr_answer *wr_scenario_watch(const struct wr_scenario *scenario, double from, double until)
{
    struct wr_answer *answer = wr_answer_begin(scenario, WR_QUESTION_RUN);
    if (answer == NULL || !answer->worked)
        return answer;
    const struct wr_definition *definition = wr_scenario_subject(scenario).definition;
    answer->series = (struct wr_series){.from = fmax(from, 0), .until = fmin(until, definition->horizon)};
    answer->has_series = !isnan(from) && answer->series.from < answer->series.until;
    if (!answer->has_series)
        answer->has_series = choose_stretch(&answer->series, definition);
    make_run(answer);
    return answer;
}

struct wr_answer *wr_scenario_firm(const struct wr_scenario *scenario)
{
    struct wr_answer *answer = wr_answer_begin(scenario, WR_QUESTION_FIRM);
    if (answer == NULL || !answer->worked)
        return answer;
    const struct wr_subject subject = wr_scenario_subject(scenario);
    struct wr_workers workers = wr_scenario_workers(scenario);
    wr_firm_make(&answer->firm, subject.definition, &workers);
    wr_answer_end(answer, answer->firm.end, answer->firm.message, answer->firm.passes);
    answer->document = wr_report_firm_document(&subject, &answer->firm);
    return answer;
}

struct wr_answer *wr_scenario_bed(const struct wr_scenario *scenario)
{
    struct wr_answer *answer = wr_answer_begin(scenario, WR_QUESTION_BED);
    if (answer == NULL || !answer->worked)
        return answer;
    const struct wr_subject subject = wr_scenario_subject(scenario);
    const double wanted = scenario->wanted_expansion;
    wr_wash_beds_make(&answer->beds, subject.definition, wanted > 0 ? wanted : WR_WANTED_EXPANSION);
    answer->document = wr_report_beds_document(&subject, &answer->beds);
    const enum wr_status status = answer->beds.status;
    if (status == WR_OK) {
        answer->outcome = answer->beds.passes ? WR_OUTCOME_PASSES : WR_OUTCOME_FAILS;
        return answer;
    }
    set_message(answer, status == WR_NO_MEMORY ? WR_OUTCOME_FAULT : WR_OUTCOME_BAD_SCENARIO, wr_status_text(status));
    wr_json_word(answer->document, "fault", answer->message);
    return answer;
}

void wr_answer_close(struct wr_answer *answer)
{
    if (answer == NULL)
        return;
    if (answer->worked && answer->question == WR_QUESTION_CHECK)
        wr_plant_fini(&answer->plant);
    if (answer->worked && (answer->question == WR_QUESTION_RUN || answer->question == WR_QUESTION_EXPLAIN))
        wr_run_fini(&answer->run);
    if (answer->worked && (answer->question == WR_QUESTION_FIRM || answer->question == WR_QUESTION_GROWTH))
        wr_firm_fini(&answer->firm);
    if (answer->worked && answer->question == WR_QUESTION_BED)
        wr_wash_beds_fini(&answer->beds);
    if (answer->worked && answer->question == WR_QUESTION_MARGIN)
        wr_margins_fini(&answer->margins);
    if (answer->worked && answer->question == WR_QUESTION_SWEEP)
        wr_sweep_fini(&answer->sweep);
    if (answer->worked && answer->question == WR_QUESTION_ROTA)
        wr_rota_fini(&answer->rota);
    free(answer->figures);
    if (answer->worked && answer->question == WR_QUESTION_COMPARE)
        wr_comparison_fini(&answer->comparison);
    for (size_t i = 0; i < answer->run_as_count; i++)
        wr_scenario_close(answer->run_as[i]);
    free(answer->run_as);
    wr_series_fini(&answer->series);
    wr_diary_fini(&answer->diary);
    free(answer->state.data);
    cJSON_Delete(answer->document);
    cJSON_Delete(answer->asked);
    for (size_t i = 0; i < WR_COMPARED_SCENARIOS; i++)
        wr_scenario_close(answer->further[i]);
    cJSON_Delete(answer->about);
    free(answer);
}

/* Reading answers -------------------------------------------------------------------------------------------------- */

enum wr_outcome wr_answer_outcome(const struct wr_answer *answer)
{
    return answer->outcome;
}

const char *wr_answer_message(const struct wr_answer *answer)
{
    return answer->message;
}

char *wr_answer_json(const struct wr_answer *answer)
{
    return wr_json_text(answer->document);
}

enum wr_units wr_answer_units(const struct wr_answer *answer, enum wr_show show)
{
    if (show != WR_SHOW_AS_WRITTEN)
        return show == WR_SHOW_SI ? WR_UNITS_SI : WR_UNITS_US;
    return (enum wr_units)answer->scenario->reading.definition.units;
}

/* A scenario that reads well and yet cannot be run. */
static void put_message(struct wr_page *page, const struct wr_answer *answer)
{
    const struct wr_subject subject = wr_scenario_subject(answer->scenario);
    wr_report_title(page, &subject);
    wr_page_add(page, "\n");
    wr_page_flow(page, "", "There is no answer: %s.", answer->message);
}

/* True when plant, run or search stand so far that they can be reported on. */
static bool is_reported(const struct wr_answer *answer)
{
    if (answer->question != WR_QUESTION_RUN)
        return answer->outcome <= WR_OUTCOME_FAILS;
    return answer->run.end != WR_RUN_BAD_PLANT && answer->run.end != WR_RUN_NO_MEMORY &&
           answer->run.end != WR_RUN_BAD_RESUME;
}

static void put_page(struct wr_page *page, const struct wr_answer *answer, enum wr_units units)
{
    const struct wr_subject subject = wr_scenario_subject(answer->scenario);
    const struct wr_teller teller = {.run = &answer->run, .diary = &answer->diary, .units = units};
    switch (answer->question) {
    case WR_QUESTION_CHECK:
        wr_report_check_page(page, &subject, &answer->plant, answer->scenario->wants_whole_review, units);
        break;
    case WR_QUESTION_RUN:
        wr_report_run_page(page, &subject, &answer->run, units);
        break;
    case WR_QUESTION_FIRM:
        wr_report_firm_page(page, &subject, &answer->firm, units);
        break;
    case WR_QUESTION_COMPARE:
        wr_report_compare_page(page, &answer->comparison, units);
        break;
    case WR_QUESTION_GROWTH:
        wr_report_growth_page(page, &subject, &answer->firm, &answer->growth, units);
        break;
    case WR_QUESTION_EXPLAIN:
        wr_report_explain_page(page, &subject, &teller, &answer->stories);
        break;
    case WR_QUESTION_BED:
        wr_report_beds_page(page, &subject, &answer->beds, units);
        break;
    case WR_QUESTION_MARGIN:
        wr_report_margins_page(page, &subject, &answer->margins, units);
        break;
    case WR_QUESTION_SWEEP:
        wr_report_sweep_page(page, &subject, &answer->sweep, units);
        break;
    case WR_QUESTION_ROTA:
        wr_report_rota_page(page, &subject, &answer->rota, units);
        break;
    case WR_QUESTION_SIZE:
        wr_report_size_page(page, &subject, &answer->size, units);
        break;
    }
}

char *wr_answer_text(const struct wr_answer *answer, enum wr_show show)
{
    const struct wr_subject subject = wr_scenario_subject(answer->scenario);
    struct wr_page page = {0};
    if (subject.definition == NULL)
        return wr_scenario_complaints(answer->scenario);
    const enum wr_units units = wr_answer_units(answer, show);
    if (!is_reported(answer))
        put_message(&page, answer);
    else
        put_page(&page, answer, units);
    return wr_page_take(&page);
}

bool wr_answer_number(const struct wr_answer *answer, const char *pointer, double *value)
{
    const double number = wr_json_number_of(wr_json_find(answer->document, pointer));
    if (!wr_is_given(number))
        return false;
    *value = number;
    return true;
}

bool wr_answer_word(const struct wr_answer *answer, const char *pointer, const char **value)
{
    const char *word = cJSON_GetStringValue(wr_json_find(answer->document, pointer));
    if (word == NULL)
        return false;
    *value = word;
    return true;
}

bool wr_answer_flag(const struct wr_answer *answer, const char *pointer, bool *value)
{
    const struct cJSON *item = wr_json_find(answer->document, pointer);
    if (!cJSON_IsBool(item))
        return false;
    *value = cJSON_IsTrue(item);
    return true;
}
