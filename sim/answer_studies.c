/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sim/handles.h"
#include "sim/report/json.h"

#include <cjson/cJSON.h>

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
