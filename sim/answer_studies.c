/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/handles.h"
#include "sim/report/json.h"

#include <cjson/cJSON.h>
#include <stdio.h>
#include <stdlib.h>

/* Texts of a wish, as a list of what was asked. */
static void note_texts(struct cJSON *asked, const char *key, const char *const *texts, size_t count)
{
    struct cJSON *list = wr_json_list(asked, key);
    for (size_t i = 0; i < count; i++)
        wr_json_word(list, NULL, texts[i]);
}

/* An answer that there cannot be: the wish was wrong. */
static struct wr_answer *refuse(struct wr_answer *answer, const char *message)
{
    const struct wr_subject subject = wr_scenario_subject(answer->scenario);
    wr_answer_end(answer, WR_RUN_BAD_PLANT, message, false);
    answer->document = wr_report_document(&subject);
    wr_json_word(answer->document, "fault", answer->message);
    return answer;
}

struct wr_answer *wr_scenario_margin(const struct wr_scenario *scenario, const struct wr_margin_wish *wish)
{
    struct wr_answer *answer = wr_answer_begin(scenario, WR_QUESTION_MARGIN);
    if (answer == NULL || !answer->worked)
        return answer;
    const struct wr_subject subject = wr_scenario_subject(scenario);
    struct wr_workers workers = wr_scenario_workers(scenario);
    struct wr_margins *margins = &answer->margins;
    wr_margins_make(margins,
                    &(struct wr_margin_question){.name = scenario->reading.file,
                                                 .reading = &scenario->reading,
                                                 .of = wish->of,
                                                 .count = wish->count,
                                                 .verdict = (enum wr_verdict)wish->judged,
                                                 .map = wish->map},
                    &workers);
    if (margins->is_wrong)
        return refuse(answer, margins->message);
    answer->asked = wr_json_document();
    note_texts(answer->asked, "of", wish->of, wish->count);
    wr_json_word(answer->asked, "judged", wr_report_verdict_key(margins->verdict));
    wr_json_flag(answer->asked, "map", wish->map);
    wr_answer_end(answer, margins->end, margins->message, margins->passes);
    answer->document = wr_report_margins_document(&subject, margins);
    return answer;
}

/* Figures that a sweep shows when none are asked for. */
static const char *const run_figures[] = {"/answers/wash_balance/grade", "/answers/wash_balance/longest_wait_s",
                                          "/answers/wash_balance/total_wait_s", "/answers/demand/unmet_m3",
                                          "/answers/demand/least_storage_m3"};
static const char *const firm_figures[] = {"/filter_firm_m3_per_s", "/limiting/limit", "/plant_firm_m3_per_s"};

/* Copies the list, which must live as long as the answer; the texts are the caller's. */
static size_t choose_figures(struct wr_answer *answer, const struct wr_sweep_wish *wish)
{
    const bool of_firm = wish->of_firm;
    const char *const *from = wish->show_count > 0 ? wish->show : of_firm ? firm_figures : run_figures;
    const size_t count = wish->show_count > 0 ? wish->show_count
                         : of_firm            ? sizeof firm_figures / sizeof *firm_figures
                                              : sizeof run_figures / sizeof *run_figures;
    answer->figures = calloc(count, sizeof *answer->figures);
    for (size_t i = 0; answer->figures != NULL && i < count; i++)
        answer->figures[i] = from[i];
    return answer->figures != NULL ? count : 0;
}

/* True when every figure that was asked for was in some answer; else says which was not. */
static bool has_figures(const struct wr_sweep *sweep, char *fault, size_t size)
{
    for (size_t f = 0; f < sweep->figure_count; f++)
        if (!wr_report_sweep_has(sweep, f)) {
            snprintf(fault, size, "no answer has a figure %s; \"--json\" shows what an answer has", sweep->figures[f]);
            return false;
        }
    return true;
}

struct wr_answer *wr_scenario_sweep(const struct wr_scenario *scenario, const struct wr_sweep_wish *wish)
{
    struct wr_answer *answer = wr_answer_begin(scenario, WR_QUESTION_SWEEP);
    if (answer == NULL || !answer->worked)
        return answer;
    const struct wr_subject subject = wr_scenario_subject(scenario);
    struct wr_workers workers = wr_scenario_workers(scenario);
    struct wr_sweep *sweep = &answer->sweep;
    const size_t figures = choose_figures(answer, wish);
    char fault[400];
    wr_sweep_make(sweep,
                  &(struct wr_sweep_question){.name = scenario->reading.file,
                                              .reading = &scenario->reading,
                                              .axes = wish->axes,
                                              .axis_count = wish->axis_count,
                                              .in_step = wish->in_step,
                                              .ask = wish->of_firm ? WR_SWEEP_FIRM : WR_SWEEP_RUN,
                                              .figures = answer->figures,
                                              .figure_count = figures,
                                              .skip = wish->skip},
                  wr_report_sweep_take, &workers);
    if (sweep->is_wrong)
        return refuse(answer, sweep->message);
    if (wish->show_count > 0 && !has_figures(sweep, fault, sizeof fault))
        return refuse(answer, fault);
    answer->asked = wr_json_document();
    note_texts(answer->asked, "axes", wish->axes, wish->axis_count);
    note_texts(answer->asked, "show", answer->figures, figures);
    wr_json_word(answer->asked, "ask", wish->of_firm ? "firm" : "run");
    wr_json_flag(answer->asked, "in_step", wish->in_step);
    wr_json_count(answer->asked, "skip", wish->skip);
    wr_answer_end(answer, sweep->end, sweep->message, wr_report_sweep_passes(sweep));
    answer->document = wr_report_sweep_document(&subject, sweep);
    return answer;
}

struct wr_answer *wr_scenario_rota(const struct wr_scenario *scenario, const struct wr_rota_wish *wish)
{
    struct wr_answer *answer = wr_answer_begin(scenario, WR_QUESTION_ROTA);
    if (answer == NULL || !answer->worked)
        return answer;
    const struct wr_subject subject = wr_scenario_subject(scenario);
    struct wr_workers workers = wr_scenario_workers(scenario);
    struct wr_rota_search *rota = &answer->rota;
    wr_rota_make(rota,
                 &(struct wr_rota_question){.name = scenario->reading.file,
                                            .reading = &scenario->reading,
                                            .bounds = wish->may,
                                            .bound_count = wish->may_count,
                                            .tries = wish->tries,
                                            .for_firm = wish->for_firm},
                 &workers);
    if (rota->is_wrong)
        return refuse(answer, rota->message);
    answer->asked = wr_json_document();
    note_texts(answer->asked, "may", wish->may, wish->may_count);
    wr_json_word(answer->asked, "for", wish->for_firm ? "firm" : "room");
    wr_json_count(answer->asked, "tries", rota->most);
    wr_answer_end(answer, rota->end, rota->message, wr_report_rota_passes(rota));
    answer->document = wr_report_rota_document(&subject, rota);
    return answer;
}

struct wr_answer *wr_scenario_size(const struct wr_scenario *scenario, const struct wr_size_wish *wish)
{
    struct wr_answer *answer = wr_answer_begin(scenario, WR_QUESTION_SIZE);
    if (answer == NULL || !answer->worked)
        return answer;
    const struct wr_subject subject = wr_scenario_subject(scenario);
    struct wr_workers workers = wr_scenario_workers(scenario);
    struct wr_size *size = &answer->size;
    wr_size_make(size,
                 &(struct wr_size_question){.name = scenario->reading.file,
                                            .reading = &scenario->reading,
                                            .flow = wish->flow,
                                            .fewest = wish->fewest,
                                            .most = wish->most,
                                            .simulate = wish->simulate},
                 &workers);
    if (size->is_wrong)
        return refuse(answer, size->message);
    answer->asked = wr_json_document();
    wr_json_word(answer->asked, "firm", wish->flow);
    wr_json_count(answer->asked, "fewest", wish->fewest);
    wr_json_count(answer->asked, "most", wish->most);
    wr_json_flag(answer->asked, "simulate", wish->simulate);
    wr_answer_end(answer, size->end, size->message, wr_size_passes(size));
    answer->document = wr_report_size_document(&subject, size);
    return answer;
}
